import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refs_of, refused
from tests.edits.measuring import area_mm2, curve, edge_ids, edge_mm, total_area_mm2
from wedgework.edits import Place
from wedgework.edits.darts import AddDart, RemoveDart
from wedgework.pattern.changes import new_project
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.document import Spot


def dart(edge, at_mm, apex, intake_mm, piece="p"):
    return AddDart(piece=piece, at=Place(edge, at_mm), apex_mm=apex, intake_mm=intake_mm)


def measured(project, own="p.d1"):
    return measure_dart(project, project.seams[own])


def test_a_dart_takes_a_wedge_out_of_its_edge():
    after = check_edit(dart("p.e1", 50, (50, 60), 20), small.square())
    assert area_mm2(after.pieces["p"]) == pytest.approx(10000 - 600, abs=1e-6)
    assert edge_ids(after.pieces["p"]) == [
        "p.e1.1", "p.d1.a", "p.d1.b", "p.e1.2", "p.e2", "p.e3", "p.e4"
    ]  # fmt: skip
    assert measured(after).intake_mm == pytest.approx(20, abs=1e-9)
    assert measured(after).angle_rad == pytest.approx(2 * math.atan(10 / 60), abs=1e-9)


def test_the_legs_of_a_slanting_dart_differ():
    after = check_edit(dart("p.e1", 50, (65, 60), 20), small.square())
    assert measured(after).leg_a_mm == pytest.approx(np.hypot(25, 60), abs=1e-9)
    assert measured(after).leg_b_mm == pytest.approx(np.hypot(5, 60), abs=1e-9)


def test_a_seam_walks_on_past_the_mouth():
    after = check_edit(dart("a.e2", 50, (60, 50), 20, "a"), small.two_panels())
    assert refs_of(after, "s")[0] == ["a.e2.1", "a.e2.2"]


def test_a_mouth_on_a_curved_edge_has_the_chord_that_was_asked_for():
    project = small.curved_square()
    middle = edge_mm(project, "p.e1") * 0.4
    after = check_edit(dart("p.e1", middle, (45, 50), 24), project)
    assert measured(after).intake_mm == pytest.approx(24, abs=1e-8)
    ends = edge_mm(after, "p.e1.1"), edge_mm(project, "p.e1") - edge_mm(after, "p.e1.2")
    assert middle - ends[0] == pytest.approx(ends[1] - middle, abs=1e-8)


def test_a_dart_wider_than_its_edge_is_refused():
    assert refused(dart("p.e1", 50, (50, 60), 101), small.square()).culprit == "p.e1"
    refused(dart("p.e1", 10, (50, 60), 21), small.square())
    refused(dart("p.e1", 100, (50, 60), 2), small.square())


def test_a_mouth_may_reach_to_a_corner():
    after = check_edit(dart("p.e1", 10, (50, 60), 20), small.square())
    assert "p.e1.1" in edge_ids(after.pieces["p"])
    assert np.array_equal(curve(after, "p.d1.a").start, [0, 0])


def test_an_apex_outside_or_on_the_outline_is_refused():
    refused(dart("p.e1", 50, (50, -10), 20), small.square())
    refused(dart("p.e1", 50, (50, 100), 20), small.square())
    refused(dart("p.e1", 50, (50, 0), 20), small.square())


def test_legs_that_would_leave_the_piece_are_refused():
    hook = small.piece_of_points(
        "p", (0, 0), (100, 0), (100, 100), (60, 100), (60, 40), (40, 40), (40, 100), (0, 100)
    )
    refused(dart("p.e2", 80, (20, 80), 20), new_project(hook))


def test_a_dart_does_not_cut_into_a_fold():
    refused(dart("p.e4", 80, (50, 100), 20), small.fold_front())


def test_what_is_drawn_across_the_wedge_is_cut():
    after = check_edit(dart("a.e3", 50, (50, 50), 20, "a"), small.with_everything())
    lines = [line.id for line in after.pieces["a"].lines]
    assert lines == ["a.l3", "a.l1.1", "a.l1.2", "a.l2.1", "a.l2.2"]
    assert len(after.pieces["a"].labels) == 1


def test_marks_stay_where_they_are_beside_a_dart():
    after = check_edit(dart("a.e2", 55, (60, 55), 10, "a"), small.with_everything())
    assert after.notches["n1"].at == Spot("a.e2.1", pytest.approx(40.0))
    assert after.holes["o1"].at == Spot("a.e2.2", pytest.approx(10.0))


def test_a_removed_dart_gives_a_straight_edge_back_as_one_edge():
    project = small.square()
    there = dart("p.e1", 50, (40, 60), 20).apply(project)
    back = check_edit(RemoveDart(dart="p.d1"), there)
    assert edge_ids(back.pieces["p"]) == ["p.e1.1", "p.e2", "p.e3", "p.e4"]
    assert curve(back, "p.e1.1").segments == pytest.approx(curve(project, "p.e1").segments)
    assert not back.seams


def test_a_removed_dart_gives_a_curved_edge_back():
    project = small.curved_square()
    there = dart("p.e1", 40, (45, 50), 24).apply(project)
    back = check_edit(RemoveDart(dart="p.d1"), there)
    whole = curve(back, "p.e1.1").segments
    assert whole == pytest.approx(curve(project, "p.e1").segments, abs=1e-6)
    assert total_area_mm2(back) == pytest.approx(total_area_mm2(project), abs=1e-6)


def test_a_drawn_dart_is_filled_straight():
    back = check_edit(RemoveDart(dart="d1"), small.darted_front(intake_mm=30))
    assert total_area_mm2(back) == pytest.approx(200 * 300, abs=1e-6)
    assert edge_ids(back.pieces["p"]) == ["p.e1", "p.e5", "p.e6", "p.e7"]


def test_a_filled_mouth_stays_in_the_run():
    there = dart("a.e2", 50, (60, 50), 20, "a").apply(small.two_panels())
    back = check_edit(RemoveDart(dart="a.d1"), there)
    assert refs_of(back, "s")[0] == ["a.e2.1"]
    assert edge_mm(back, "a.e2.1") == pytest.approx(100, abs=1e-9)


def test_a_mouth_between_edges_that_meet_in_a_corner_gets_an_edge_of_its_own():
    there = dart("p.e1", 10, (50, 60), 20).apply(small.square())
    back = check_edit(RemoveDart(dart="p.d1"), there)
    assert total_area_mm2(back) == pytest.approx(10000, abs=1e-6)
    assert "p.d1.fill" in edge_ids(back.pieces["p"])


def test_only_a_dart_is_removed_as_a_dart():
    assert refused(RemoveDart(dart="s"), small.two_panels()).culprit == "s"


@settings(max_examples=40)
@given(
    small.blobs(),
    st.integers(1, 5),
    small.inner_ratios(),
    st.tuples(small.millimetres(-40, 40), small.millimetres(-40, 40)),
    small.millimetres(2, 40),
)
def test_a_dart_added_and_removed_gives_the_area_back(project, number, ratio, apex, intake_mm):
    at_mm = ratio * edge_mm(project, f"p.e{number}")
    there = check_or_refuse(dart(f"p.e{number}", at_mm, apex, intake_mm), project)
    if there is not None:
        assert measured(there).intake_mm == pytest.approx(intake_mm, abs=1e-6)
        back = check_edit(RemoveDart(dart="p.d1"), there)
        assert total_area_mm2(back) == pytest.approx(total_area_mm2(project), abs=1e-6)
