"""Tails, combs, unrolled seams, and the numbers beside the pointer."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from wedgework.bench.changes import change_between
from wedgework.bench.readouts import (
    MOST_NUMBERS,
    comb_of,
    numbers_of_drag,
    tail_of,
    unrolled,
)
from wedgework.edits.move import MoveCorner
from wedgework.edits.seams import JoinEdges
from wedgework.geometry.length import length_mm
from wedgework.pattern.changes import new_project
from wedgework.pattern.seams import measure_seam


def seam_of(project):
    return project.seams["s"]


def test_a_tail_is_just_as_long_as_the_surplus():
    project = small.two_panels(100, 97, bulge=0.1)
    tail = tail_of(project, seam_of(project))
    lengths = [length_mm(curve) for curve in tail.curves]
    surplus = measure_seam(project, seam_of(project)).difference_mm
    assert sum(lengths) == pytest.approx(surplus, abs=1e-3)
    assert tail.surplus_mm == pytest.approx(surplus, abs=1e-9)


@given(allowed_mm=st.floats(0.0, 1e-5), by_mm=st.floats(1e-10, 1e-4))
def test_a_surplus_too_short_to_be_seen_is_no_fault(allowed_mm, by_mm):
    project = small.two_panels(100, 100 - by_mm)
    tail = tail_of(project, replace(seam_of(project), allowed_mm=allowed_mm))
    assert tail is None or sum(map(length_mm, tail.curves)) == pytest.approx(by_mm, abs=1e-6)


def test_a_tail_lies_on_the_longer_side_at_the_end_of_the_walk():
    project = small.two_panels(96, 100)
    tail = tail_of(project, seam_of(project))
    assert tail.side == "b"
    assert tail.curves[0].start.tolist() == pytest.approx([200, 100])
    assert tail.curves[0].end.tolist() == pytest.approx([200, 96])
    assert tail.outward.tolist() == pytest.approx([-1, 0])


def test_a_tail_may_reach_over_several_edges():
    project = small.yoke_over_two()
    shorter = MoveCorner(corner="yoke.c2", by_mm=(-120.0, 0.0)).apply(project)
    tail = tail_of(shorter, seam_of(shorter))
    assert len(tail.curves) == 2
    assert sum(map(length_mm, tail.curves)) == pytest.approx(120)


def test_sides_that_agree_have_no_tail():
    project = small.two_panels()
    assert tail_of(project, seam_of(project)) is None


@settings(max_examples=30)
@given(tooth_mm=st.floats(1.0, 80.0), bulge=st.floats(-0.2, 0.3))
def test_all_teeth_of_a_comb_together_are_the_shaping_of_the_seam(tooth_mm, bulge):
    project = small.two_panels(bulge=bulge)
    comb = comb_of(project, seam_of(project), tooth_mm)
    whole = math.degrees(measure_seam(project, seam_of(project)).shaping_rad)
    assert comb.shaping_deg.sum() == pytest.approx(whole, abs=1e-9)


def test_a_comb_is_made_once_for_a_seam_that_stays_as_it_is():
    project = small.two_panels()
    comb = comb_of(project, seam_of(project))
    assert comb_of(project, seam_of(project)) is comb
    assert comb_of(project, seam_of(project), 2.0) is not comb
    moved = MoveCorner(corner="a.c2", by_mm=(3.0, 0.0)).apply(project)
    assert comb_of(moved, seam_of(moved)) is not comb


def test_teeth_stand_on_side_a_and_point_out_of_the_piece():
    project = small.two_panels()
    comb = comb_of(project, seam_of(project))
    assert np.allclose(comb.points_mm[:, 0], 100)
    assert np.allclose(comb.points_mm[:, 1], comb.stations_mm)
    assert np.allclose(comb.outward, [1, 0])


def test_a_comb_begins_anew_on_the_next_piece_and_goes_on_along_one():
    assert comb_of(small.two_panels(), seam_of(small.two_panels())).begins == []
    seam = JoinEdges(name="hem", a=("p.e1", "q.e1"), b=("-r.e3",))
    pieces = (small.rectangle("p", 100, 50), small.rectangle("q", 60, 50, x=300),
              small.rectangle("r", 160, 50, y=-200))  # fmt: skip
    joined = seam.apply(new_project(*pieces))
    comb = comb_of(joined, next(iter(joined.seams.values())), 10.0)
    assert comb.begins == [int((comb.stations_mm < 100).sum())]


def test_a_comb_stands_on_a_run_over_several_edges_too():
    project = small.yoke_over_two()
    comb = comb_of(project, seam_of(project))
    assert np.allclose(comb.points_mm[:, 1], 200)
    assert np.allclose(comb.outward, [0, -1])


def test_an_unrolled_seam_has_its_notches_on_both_rulers():
    project = small.with_everything()
    rulers = unrolled(project, seam_of(project))
    assert rulers.notches == ((40.0, pytest.approx(40.0)),)
    assert rulers.joints_a == ()


def test_an_unrolled_run_says_where_its_edges_meet():
    project = small.yoke_over_two()
    assert unrolled(project, seam_of(project)).joints_b == (pytest.approx(100.0),)


def test_the_numbers_beside_the_pointer_are_those_that_change():
    before = small.two_panels()
    shown = MoveCorner(corner="a.c3", by_mm=(0.0, 6.0)).apply(before)
    told = numbers_of_drag(before, shown, change_between("previewed", before, shown))
    assert told[0].words == "s"
    assert told[0].signed
    assert told[0].now_mm == pytest.approx(6)
    assert {number.words for number in told[1:]} == {"a.e2", "a.e3"}


def seams_changed(before, corner):
    shown = MoveCorner(corner=corner, by_mm=(0.0, 6.0)).apply(before)
    return change_between("previewed", before, shown).seams


def test_a_seam_counts_as_changed_where_one_of_its_edges_has():
    project = small.two_panels()
    assert seams_changed(project, "a.c3") == {"s"}
    assert seams_changed(project, "a.c1") == frozenset()


def test_a_run_over_several_edges_counts_as_changed_with_the_pieces_that_it_walks():
    assert seams_changed(small.yoke_over_two(), "left.c1") == {"s"}


def test_what_does_not_change_is_not_told():
    before = small.two_panels()
    change = change_between("previewed", before, before)
    assert numbers_of_drag(before, before, change) == ()


def test_no_more_numbers_than_can_be_read():
    before = small.ring_of_panels(3)
    shown = before
    for corner in ("p1.c1", "p1.c2", "p1.c3", "p2.c1", "p2.c2", "p3.c1"):
        shown = MoveCorner(corner=corner, by_mm=(3.0, 7.0)).apply(shown)
    change = change_between("previewed", before, shown)
    assert len(numbers_of_drag(before, shown, change)) == MOST_NUMBERS


def readouts_of(before, edit):
    shown = edit.apply(before)
    return numbers_of_drag(before, shown, change_between("previewed", before, shown))


def test_of_a_held_seam_the_length_of_both_sides_is_told():
    told = readouts_of(small.held(small.two_panels()), MoveCorner(corner="a.c3", by_mm=(0, 12)))
    assert (told[0].words, told[0].note) == ("s", "held")
    assert (told[0].before_mm, told[0].now_mm) == pytest.approx((100, 112))


def test_a_hold_that_is_let_go_is_told_with_its_difference():
    told = readouts_of(small.cap_and_ring(), MoveCorner(corner="strip.c2", by_mm=(9, 0)))
    assert (told[0].words, told[0].note) == ("cap", "let go")
    assert told[0].now_mm == pytest.approx(9, abs=0.01)
