"""Arguments that no maker means: refused in words, or done to a sound document, never a fall."""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.edits.any_edit import kinds_for, plain_edit
from tests.edits.any_fields import KINDS
from tests.edits.any_project import with_full_tables
from tests.edits.checking import assert_sound, described
from wedgework.edits import decode_edits, edit_name
from wedgework.files.wedge import write_wedge
from wedgework.pattern.errors import EditRefused

HOSTILE = [
    math.nan, math.inf, -math.inf, 1e300, 1e6, -1e6, -1.0, 0.0, 1e-12, 10**40, True, None, "",
    "none", "-", "~b", "🪡", "x" * 500, "\0", [], {}, [[]], ["none"], {"edge": "none"},
]  # fmt: skip


def paths_of(value, path=()):
    """The way to an edit, to every value inside it, and to the whole of each list and struct."""
    yield path
    if isinstance(value, dict | list):
        for key, one in value.items() if isinstance(value, dict) else enumerate(value):
            if key != "edit":
                yield from paths_of(one, (*path, key))


def with_value(value, path, new):
    """A copy of plain data with another value at the end of a path."""
    if not path:
        return new
    copy = value.copy()
    copy[path[0]] = with_value(value[path[0]], path[1:], new)
    return copy


def done_or_refused(data, project):
    """The project after edits of JSON text, or None where they are refused with a sentence."""
    try:
        (edit,) = decode_edits(data)
        return edit.apply(project)
    except EditRefused as refusal:
        sentence = refusal.sentence
    assert len(sentence) > 10
    return None


def spoil(data, kind, project):
    edit = plain_edit(data.draw, project, kind)
    path = data.draw(st.sampled_from(list(paths_of(edit))))
    new = data.draw(st.sampled_from(HOSTILE))
    before = described(project)
    text = json.dumps([with_value(edit, path, new)]).encode()
    after = done_or_refused(text, project)
    assert described(project) == before
    if isinstance(new, float) and not math.isfinite(new):
        assert after is None
    if after is not None:
        assert_sound(after)
        write_wedge(after)


def test_there_is_something_of_everything_for_the_edits_to_be_about():
    assert set(kinds_for(with_full_tables())) == set(KINDS)


@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_what_no_maker_means_is_refused_in_words(data):
    spoil(data, data.draw(st.sampled_from(list(KINDS))), with_full_tables())


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_no_argument_of_an_edit_makes_it_fall(kind):
    project = with_full_tables()

    @settings(max_examples=200, deadline=None, suppress_health_check=list(HealthCheck))
    @given(st.data())
    def spoiled(data):
        spoil(data, kind, project)

    spoiled()


@settings(max_examples=3, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_every_edit_is_drawn(data):
    project = with_full_tables()
    for kind in KINDS:
        text = json.dumps([plain_edit(data.draw, project, kind)])
        assert [edit_name(edit) for edit in decode_edits(text.encode())] == [kind]
