"""Findings kept up with the bench are those of a full check, whatever was done."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from wedgework.bench import Bench
from wedgework.bench.mends import with_mends_that_do
from wedgework.bench.watch import Left, Watch
from wedgework.checks import check
from wedgework.edits import decode_plain
from wedgework.files.wedge import read_wedge
from wedgework.pattern.errors import EditRefused
from wedgework.resources import demo_path


def told(findings):
    rows = [
        (one.code, one.grave, one.where, one.measured, one.accepted, [m.label for m in one.mends])
        for one in findings
    ]
    return sorted(map(repr, rows))


@pytest.fixture
def bench():
    return Bench(small.two_panels(100, 97))


def do(bench, **edit):
    bench.do(decode_plain(edit))


def move(bench, corner, x, y):
    do(bench, edit="move_corner", corner=corner, by_mm=[x, y])


def test_what_is_open_is_checked(bench):
    watch = Watch(bench)
    assert told(watch.findings) == told(check(bench.project))
    assert not watch.is_ready


def test_a_finding_that_was_mended_is_gone(bench):
    watch = Watch(bench)
    assert watch.findings
    do(bench, edit="true_seam", seam="s", change="both")
    assert watch.is_ready


def test_undo_brings_it_back(bench):
    watch = Watch(bench)
    do(bench, edit="true_seam", seam="s", change="both")
    bench.undo()
    assert not watch.is_ready


def test_a_seam_that_was_taken_apart_has_no_findings(bench):
    watch = Watch(bench)
    assert watch.findings
    do(bench, edit="unjoin", seam="s")
    assert watch.findings == ()


def test_a_preview_is_not_checked(bench):
    watch = Watch(bench)
    before = watch.findings
    bench.preview(decode_plain({"edit": "move_corner", "corner": "a.c3", "by_mm": [0.0, 5.0]}))
    assert watch.findings is before


def test_each_step_says_what_is_left_in_it(bench):
    watch = Watch(bench)
    assert watch.left["Join"] == Left(1, stops=True)
    assert watch.left["Measure"] == Left()


def test_what_is_accepted_is_left_no_longer(bench):
    watch = Watch(bench)
    assert watch.findings
    do(bench, edit="accept", code="seam_length", where=["s"], reason="eased")
    assert watch.is_ready
    assert watch.left["Join"] == Left()
    assert any(finding.accepted for finding in watch.findings)


def test_only_what_an_edit_touched_is_looked_at(monkeypatch):
    bench = Bench(small.ring_of_panels(30))
    watch = Watch(bench)
    assert watch.findings
    asked = []

    def noting(_, ids):
        asked.append(set(ids))
        return ()

    monkeypatch.setattr("wedgework.bench.watch.findings_touching", noting)
    move(bench, "p1.c2", 0.0, -3.0)
    assert watch.findings
    assert asked == [{"p1", "s1", "s30", "p2", "p30", "s2", "s29"}]


@st.composite
def edits(draw):
    """Edits on a tube of panels that change lengths, seams, marks, or how pieces are cut."""
    number = draw(st.integers(1, 5))
    seam, by = f"s{number}", draw(st.sampled_from([-6.0, 2.0, 9.0]))
    corner = f"p{number}.c{draw(st.integers(1, 4))}"
    return draw(
        st.sampled_from(
            [
                {"edit": "move_corner", "corner": corner, "by_mm": [by, by]},
                {"edit": "unjoin", "seam": seam},
                {"edit": "set_seam", "seam": seam, "wanted_mm": by},
                {"edit": "true_seam", "seam": seam, "change": "both"},
                {"edit": "add_notches", "seam": seam, "at_mm": [20.0 + by]},
                {"edit": "add_notches", "edge": f"p{number}.e2", "at_mm": [30.0]},
                {"edit": "set_cutting", "piece": f"p{number}", "cutting": "pair"},
                {"edit": "remove_piece", "piece": f"p{number}"},
            ]
        )
    )


def played_and_compared(bench, played):
    watch = Watch(bench)
    for edit in played:
        try:
            do(bench, **edit)
        except EditRefused:
            continue
        every = with_mends_that_do(bench.project, check(bench.project))
        assert told(watch.findings) == told(every)
    return watch


@settings(max_examples=25)
@given(played=st.lists(edits(), min_size=1, max_size=6), undone=st.integers(0, 3))
def test_findings_kept_up_are_those_of_a_full_check(played, undone):
    bench = Bench(small.ring_of_panels(5))
    watch = played_and_compared(bench, played)
    for _ in range(undone):
        bench.undo()
    assert told(watch.findings) == told(check(bench.project))


def test_findings_of_a_whole_suit_are_kept_up_too():
    bench = Bench(read_wedge(demo_path("kingfisher_flat.wedge").read_bytes()))
    corner = bench.project.pieces["front.1"].edges[0].corner
    played = (
        {"edit": "set_body", "measures": {"waist_girth_mm": 660.0}},
        {"edit": "move_corner", "corner": corner, "by_mm": [4.0, 4.0]},
        {"edit": "unjoin", "seam": "side_seam"},
        {"edit": "remove_piece", "piece": list(bench.project.pieces)[-1]},
    )
    played_and_compared(bench, played)
    assert len(bench.history) == len(played)


@settings(max_examples=20, deadline=None)
@given(st.data())
def test_what_follows_by_a_hold_is_looked_at_too(data):
    start = small.held_ring()
    bench = Bench(start)
    watch = Watch(bench)
    told(watch.findings)
    corners = [edge.corner for piece in start.pieces.values() for edge in piece.edges]
    for _ in range(3):
        corner, by = data.draw(st.sampled_from(corners)), data.draw(st.integers(-30, 30))
        bench.do(decode_plain({"edit": "move_corner", "corner": corner, "by_mm": [by, 7]}))
        assert told(watch.findings) == told(check(bench.project))
