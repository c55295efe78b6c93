"""Any edits, one after another, from any small project: a sound document or a refusal in words."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from tests.edits.any_edit import edits_for
from tests.edits.any_project import STARTS
from tests.edits.checking import assert_sound, check_or_refuse, described
from tests.edits.kept import assert_contract_kept
from wedgework.bench import Bench
from wedgework.bench.filling import filled
from wedgework.checks import check
from wedgework.edits import decode_edits, encode_edit
from wedgework.files.wedge import write_wedge
from wedgework.geometry.crossing import crosses_itself
from wedgework.pattern.errors import EditRefused

SHARDS = 40
SEQUENCES = int(os.environ.get("WEDGEWORK_SEQUENCES", "20000"))


def play(data, steps):
    """A random sequence of edits; each leaves a sound document or is refused in words."""
    start = data.draw(st.sampled_from(STARTS))
    project = start()
    before = described(project)
    first = project
    for _ in range(steps):
        edit = data.draw(edits_for(project), label="edit")
        after = check_or_refuse(edit, project)
        if after is not None:
            assert_contract_kept(edit, project, after)
            project = after
    assert described(first) == before


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_any_edits_one_after_another_leave_a_sound_document(data):
    play(data, steps=6)


def done_at_a_bench(data, steps):
    """The bench after a random sequence, the edits that it took, and the first project."""
    bench = Bench(data.draw(st.sampled_from(STARTS))())
    first, done = bench.project, []
    for _ in range(steps):
        edit = data.draw(edits_for(bench.project), label="edit")
        before = bench.project
        if taken(bench, edit):
            assert_sound(bench.project)
            assert_contract_kept(edit, before, bench.project)
            done.append(filled(before, edit))
        else:
            assert bench.project is before
    return bench, done, first


def taken(bench, edit):
    """Whether the bench did an edit and it changed anything; a refusal has a sentence."""
    before = bench.project
    try:
        bench.do(edit)
    except EditRefused as refusal:
        sentence = refusal.sentence
    else:
        return bench.project is not before
    assert len(sentence) > 10
    return False


def assert_told_where_it_crosses(project):
    """Every outline is simple, or a finding says that it is not and where."""
    found = {
        one.where[0] for one in check(project) if one.code in {"outline_crosses", "darts_meet"}
    }
    for piece in project.pieces.values():
        if crosses_itself([edge.curve for edge in piece.edges]):
            assert piece.id in found


@pytest.mark.slow
@pytest.mark.parametrize("shard", range(SHARDS))
def test_sequences_stay_sound_are_undone_and_replay(shard):
    @seed(shard)
    @settings(
        max_examples=max(SEQUENCES // SHARDS, 1), deadline=None, database=None,
        phases=[Phase.generate, Phase.shrink], suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(st.data())
    def sequences(data):
        bench, done, first = done_at_a_bench(data, steps=(3, 5, 8)[shard % 3])
        project = bench.project
        assert_told_where_it_crosses(project)
        again = first
        for edit in decode_edits(b"[" + b",".join(map(encode_edit, done)) + b"]"):
            again = edit.apply(again)
        assert write_wedge(again) == write_wedge(project)
        for _ in done:
            bench.undo()
        assert bench.project is first

    sequences()
