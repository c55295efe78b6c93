"""Removing what is chosen, whatever it is, in one step."""

from __future__ import annotations

from tests import small
from tests.edits.checking import assert_sound
from wedgework.bench import Bench
from wedgework.bench.removing import edits_removing
from wedgework.edits import decode_plain


def removed(project, *things):
    bench = Bench(project)
    edits = edits_removing(project, things)
    assert edits
    bench.do(*edits)
    assert len(bench.history) == 1
    assert_sound(bench.project)
    return bench.project


def test_everything_that_can_be_chosen_goes_in_one_step():
    project = small.with_everything()
    pin = decode_plain({"edit": "pin_measure", "kind": "distance", "anchors": ["a.c2", "n1"]})
    after = removed(pin.apply(project), "a.l1", "a.t1", "waist", "s", "n1", "o1", "pin1")
    assert (len(after.pins), len(after.notches), len(after.holes)) == (0, 1, 0)
    assert (len(after.seams), len(after.levels)) == (0, 0)
    assert [line.id for line in after.pieces["a"].lines] == ["a.l3"]


def test_a_piece_goes_with_all_that_is_chosen_on_it():
    after = removed(small.with_everything(), "a", "a.l1", "a.t1", "s", "n1", "n2", "waist")
    assert list(after.pieces) == ["b"]


def test_a_dart_goes_with_its_piece_and_is_filled_without_it():
    project = small.darted_front()
    assert not removed(project, "p", "d1").pieces
    after = removed(project, "d1")
    assert not after.seams
    assert len(after.pieces["p"].edges) == 4


def test_corners_and_edges_belong_to_their_piece_and_stay():
    assert edits_removing(small.square(), ["p.c1", "p.e1"]) == ()
