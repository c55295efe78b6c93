"""Truing: both sides of a seam become as long as they are meant to be, and little else moves."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refused
from wedgework.edits.marks import AddNotches
from wedgework.edits.move import PullEdge
from wedgework.edits.true import TrueSeam
from wedgework.geometry.curve import is_straight
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.turning import joint_turnings_rad
from wedgework.pattern.changes import new_project, with_pieces, with_seams
from wedgework.pattern.document import Project
from wedgework.pattern.lookup import the_edge, the_seam
from wedgework.pattern.seams import SeamMeasure, measure_seam


def measured(project: Project, seam: str = "s") -> SeamMeasure:
    return measure_seam(project, the_seam(project, seam))


def length(project: Project, edge: str) -> float:
    return length_mm(the_edge(project, edge).curve)


def true(change: str, seam: str = "s") -> TrueSeam:
    return TrueSeam(seam=seam, sides=change)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("change", "a", "b"), [("a", 100, 100), ("b", 104, 104), ("both", 102, 102)]
)
def test_the_side_that_was_named_changes(change, a, b):
    after = check_edit(true(change), small.two_panels(left_mm=104, right_mm=100))
    assert length(after, "a.e2") == pytest.approx(a, abs=1e-9)
    assert length(after, "b.e4") == pytest.approx(b, abs=1e-9)
    assert measured(after).difference_mm == pytest.approx(0.0, abs=1e-9)


def test_a_side_that_is_not_named_stays_as_it_is():
    project = small.two_panels(left_mm=104, right_mm=100)
    assert check_edit(true("a"), project).pieces["b"] is project.pieces["b"]


def test_straight_edges_stay_straight_and_the_walk_keeps_its_start():
    project = small.two_panels(left_mm=104, right_mm=100)
    after = check_edit(true("a"), project)
    assert is_straight(the_edge(after, "a.e2").curve, 1e-9)
    assert is_straight(the_edge(after, "a.e3").curve, 1e-9)
    assert the_edge(after, "a.e1") is the_edge(project, "a.e1")


def test_a_curved_edge_keeps_its_shape_and_is_cut_off_or_carried_on():
    project = small.two_panels(left_mm=104, right_mm=100, bulge=0.15)
    for change, edge in (("a", "a.e2"), ("b", "b.e4")):
        after = check_edit(true(change), project)
        old, new = the_edge(project, edge).curve, the_edge(after, edge).curve
        shift = 0.0 if edge == "a.e2" else length_mm(new) - length_mm(old)
        for at in (10.0, 40.0, 80.0):
            assert point_at(new, at + shift) == pytest.approx(point_at(old, at), abs=1e-6)


def test_carried_on_and_cut_off_again_gives_the_curve_back():
    project = small.two_panels(left_mm=104, right_mm=100, bulge=0.15)
    longer = check_edit(true("b"), project)
    seam = replace(the_seam(longer, "s"), wanted_mm=measured(project).difference_mm)
    back = check_edit(true("b"), with_seams(longer, seam))
    old, new = the_edge(project, "b.e4").curve, the_edge(back, "b.e4").curve
    assert new.segments == pytest.approx(old.segments, abs=1e-6)


def test_the_wanted_difference_is_left():
    project = small.two_panels(left_mm=104, right_mm=100)
    seam = replace(the_seam(project, "s"), wanted_mm=1.5)
    after = check_edit(true("a"), with_seams(project, seam))
    assert length(after, "a.e2") == pytest.approx(101.5, abs=1e-9)


def test_a_seam_that_agrees_is_left_alone():
    project = small.two_panels()
    assert true("both").apply(project) is project


def test_a_dart_is_trued_at_its_mouth():
    project = small.darted_front()
    p = small.piece_of_points(
        "p", (0, 0), (85, 0), (100, 90), (115, 3), (200, 0), (200, 300), (0, 300)
    )
    project = with_seams(new_project(p), *project.seams.values())
    after = check_edit(true("a", "d1"), project)
    assert measured(after, "d1").difference_mm == pytest.approx(0.0, abs=1e-9)
    assert the_edge(after, "p.e2").curve.end.tolist() == [100, 90]


def test_a_run_over_several_pieces_changes_where_it_ends():
    project = small.yoke_over_two()
    right = small.piece_of_points("right", (150, 0), (253, 0), (253, 100), (150, 100))
    project = new_project(
        project.pieces["yoke"], project.pieces["left"], right, seams=project.seams.values()
    )
    after = check_edit(true("b"), project)
    assert after.pieces["left"] is project.pieces["left"]
    assert length(after, "right.e3") == pytest.approx(100.0, abs=1e-9)


def tube_with_a_long_panel() -> Project:
    """Four panels round; the first is 3 mm higher on its right than all others."""
    project = small.ring_of_panels()
    high = small.piece_of_points("p1", (0, 0), (60, 0), (60, 103), (0, 100))
    return new_project(high, *list(project.pieces.values())[1:], seams=project.seams.values())


def test_truing_a_seam_moves_no_notch_of_another_seam():
    project = check_edit(AddNotches(seam="s2", at_mm=(30.0, 70.0)), tube_with_a_long_panel())
    project = check_edit(AddNotches(seam="s4", at_mm=(30.0, 70.0)), project)
    after = check_edit(TrueSeam(seam="s1", sides="both"), project)
    for name, notch in project.notches.items():
        assert after.notches[name] is notch


def test_truing_a_seam_leaves_the_lengths_of_others():
    project = tube_with_a_long_panel()
    after = check_edit(TrueSeam(seam="s1", sides="a"), project)
    for seam in ("s2", "s3", "s4"):
        assert measured(after, seam).difference_mm == pytest.approx(0.0, abs=1e-9)


def test_the_end_is_moved_that_harms_no_other_seam():
    # The walk's far end hangs on a seam that leans; its near end on a free edge.
    a = small.piece_of_points("a", (0, 0), (100, 0), (100, 104), (40, 160), (0, 160))
    b = small.rectangle("b", 100, 100, x=200)
    c = small.piece_of_points("c", (0, 300), (82.073, 300), (82.073, 400), (0, 400))
    project = new_project(
        a, b, c, seams=[small.seam("s", "a.e2", "-b.e4"), small.seam("lid", "a.e3", "-c.e1")]
    )
    before = measured(project, "lid").difference_mm
    after = check_edit(true("a"), project)
    assert measured(after, "lid").difference_mm == before


def test_mates_come_back_to_one_station():
    project = small.two_panels(left_mm=104, right_mm=100)
    project = check_edit(AddNotches(seam="s", at_mm=(52.0, 78.0)), project)
    found = measured(check_edit(true("a"), project))
    assert found.matches[:, 0] == pytest.approx(found.matches[:, 1], abs=1e-6)


def test_sides_of_one_outline_cannot_differ():
    project = small.fold_front()
    front = replace(project.pieces["p"], cutting="pair", fold_edge=None)
    seam = replace(small.seam("s", "p.e2", "~p.e2"), wanted_mm=2.0)
    refused(true("a"), new_project(front, seams=[seam]))


def test_an_edge_that_closes_in_itself_has_no_end_to_move():
    disc = small.disc(50).pieces["p"]
    strip = small.rectangle("q", 300, 20, x=200)
    project = new_project(disc, strip, seams=[small.seam("s", "p.e1", "-q.e3")])
    refused(true("a"), project)
    assert measured(check_edit(true("b"), project)).difference_mm == pytest.approx(0, abs=1e-9)


def test_more_than_an_edge_has_is_not_taken_off():
    project = small.two_panels(left_mm=40, right_mm=100)
    seam = replace(the_seam(project, "s"), wanted_mm=-130.0)
    refused(true("a"), with_seams(project, seam))


@given(
    st.floats(60, 140),
    st.floats(60, 140),
    small.bulges(0.2),
    st.sampled_from(["a", "b", "both"]),
)
def test_any_seam_ends_with_no_difference(left, right, bulge, change):
    project = small.two_panels(left_mm=left, right_mm=right, bulge=bulge)
    after = check_or_refuse(true(change), project)
    if after is not None:
        assert measured(after).difference_mm == pytest.approx(0.0, abs=1e-6)
    assert after is not None or abs(left - right) > 15


def test_lengths_to_a_micrometre_over_runs_of_chains():
    project = small.two_panels(left_mm=104.321, right_mm=100, bulge=0.1)
    after = check_edit(true("both"), project)
    assert np.isclose(length(after, "a.e2"), length(after, "b.e4"), atol=1e-9, rtol=0)


def hood(longer_mm: float = 0.0) -> Project:
    """A pair of sides with a crown between, and a band along its neck: one run, its ends twins."""
    side = replace(small.rectangle("side", 200, 300), cutting="pair")
    crown = small.rectangle("crown", 100, 300 + longer_mm, x=300)
    band = small.rectangle("band", 504, 30, y=500)
    seams = [
        small.seam("left", "side.e2", "-crown.e4"),
        small.seam("right", "crown.e2", "~side.e2"),
        small.seam("neck", "side.e1 crown.e1 -~side.e1", "-band.e3"),
    ]
    return new_project(side, crown, band, seams=seams)


def test_an_edge_that_a_run_walks_twice_gives_half_each_time():
    after = check_edit(true("a", "neck"), hood())
    assert length(after, "side.e1") == pytest.approx(202.0, abs=1e-9)
    assert measured(after, "neck").difference_mm == pytest.approx(0.0, abs=1e-9)


def test_an_end_whose_edge_is_in_another_seam_is_not_the_one_that_moves():
    project = hood(longer_mm=2.0)
    facing = small.rectangle("facing", 20, 300, x=900)
    laid_on = replace(small.seam("t", "side.e4", "-facing.e2"), laid_on=True)
    project = with_seams(
        new_project(*project.pieces.values(), facing, seams=project.seams.values()), laid_on
    )
    after = check_edit(true("b", "left"), project)
    assert the_edge(after, "side.e2") is the_edge(project, "side.e2")
    assert measured(after, "left").difference_mm == pytest.approx(0.0, abs=1e-9)


def test_what_hangs_on_a_line_is_no_hindrance():
    project = small.with_everything()
    skirt = small.rectangle("k", 120, 80, x=500)
    hung = replace(small.seam("t", "a.l1 a.e3", "k.e3"), laid_on=True)
    long = replace(the_seam(project, "s"), wanted_mm=2.0)
    project = with_seams(with_pieces(project, skirt), long, hung)
    after = check_edit(true("a"), project)
    assert measured(after).difference_mm == pytest.approx(0.0, abs=1e-9)


# Between the corners


def along(change: str, seam: str = "s") -> TrueSeam:
    return TrueSeam(seam=seam, sides=change, by="edge")  # type: ignore[arg-type]


def corners(project: Project) -> list[list[float]]:
    edges = (edge for piece in project.pieces.values() for edge in piece.all_edges())
    return [edge.curve.start.tolist() for edge in edges]


@pytest.mark.parametrize(("change", "length_mm"), [("a", 100.0), ("b", 104.0)])
def test_along_the_edge_corners_stay_and_the_edge_bulges(change, length_mm):
    project = small.two_panels(left_mm=100, right_mm=104)
    if change == "a":
        project = small.two_panels(left_mm=96, right_mm=100)
    after = check_edit(along("a"), project)
    assert corners(after) == corners(project)
    assert length(after, "a.e2") == pytest.approx(length_mm, abs=2e-9)


def test_a_straight_edge_bulges_out_of_its_piece():
    project = small.two_panels(left_mm=96, right_mm=100)
    after = check_edit(along("a"), project)
    assert point_at(the_edge(after, "a.e2").curve, 50)[0] > 105


def test_a_curved_edge_is_scaled_between_its_corners():
    project = small.two_panels(left_mm=100, right_mm=104, bulge=0.15)
    after = check_edit(along("both"), project)
    assert measured(after).difference_mm == pytest.approx(0.0, abs=2e-9)
    assert corners(after) == corners(project)
    old, new = the_edge(project, "a.e2").curve, the_edge(after, "a.e2").curve
    share = (new.segments[0, 1:3, 0] - 100) / (old.segments[0, 1:3, 0] - 100)
    assert share == pytest.approx([share[0]] * 2)
    assert new.segments[..., 1] == pytest.approx(old.segments[..., 1])


def test_no_edge_gets_shorter_than_the_way_between_its_corners():
    error = refused(along("b"), small.two_panels(left_mm=96, right_mm=100))
    assert "100.00 mm apart" in error.sentence


def test_along_a_run_of_edges_each_takes_its_share():
    project = small.yoke_over_two()
    seam = replace(the_seam(project, "s"), wanted_mm=-6.0)
    after = check_edit(along("b"), with_seams(project, seam))
    assert length(after, "left.e3") == pytest.approx(103.0, abs=2e-9)
    assert length(after, "right.e3") == pytest.approx(103.0, abs=2e-9)


@pytest.mark.parametrize("kept_share", [0.5, 0.0])
def test_what_one_edge_of_a_run_cannot_give_the_others_give_as_well(kept_share):
    bent = PullEdge(edge="right.e3", at_mm=50.0, by_mm=(0.0, 12.0)).apply(small.yoke_over_two())
    surplus_mm = length(bent, "right.e3") - 100.0
    seam = replace(the_seam(bent, "s"), wanted_mm=-kept_share * surplus_mm)
    after = check_edit(along("b"), with_seams(bent, seam))
    assert measured(after).difference_mm == pytest.approx(0.0, abs=2e-9)
    assert length(after, "left.e3") == pytest.approx(100.0, abs=2e-9)
    assert is_straight(the_edge(after, "left.e3").curve, 1e-9)


def test_more_than_all_edges_of_a_run_can_give_is_refused():
    seam = replace(the_seam(small.yoke_over_two(), "s"), wanted_mm=3.0)
    refused(along("b"), with_seams(small.yoke_over_two(), seam))


def notched(bulge: float = 0.0, right_mm: float = 104.0) -> Project:
    project = small.two_panels(left_mm=100, right_mm=right_mm, bulge=bulge)
    return check_edit(AddNotches(seam="s", at_mm=(20.0, 50.0, 70.0)), project)


def between(project: Project, change: str) -> TrueSeam:
    first, _, last = project.notches
    return TrueSeam(seam="s", sides=change, by="notches", between=(first, last))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("change", "bulge", "right_mm"),
    [("a", 0.0, 104.0), ("a", 0.12, 104.0), ("both", 0.3, 100.05), ("b", 0.3, 100.05)],
)
def test_ease_goes_between_two_notches_and_nowhere_else(change, bulge, right_mm):
    project = notched(bulge, right_mm)
    after = check_edit(between(project, change), project)
    assert measured(after).difference_mm == pytest.approx(0.0, abs=2e-9)
    old, new = the_edge(project, "a.e2").curve, the_edge(after, "a.e2").curve
    for at in (5.0, 15.0, 20.0):
        assert point_at(new, at) == pytest.approx(point_at(old, at), abs=1e-8)
    for at in (5.0, 20.0):
        places = [point_at(curve, length_mm(curve) - at) for curve in (old, new)]
        assert places[0] == pytest.approx(places[1], abs=1e-6)


def test_what_is_straight_between_notches_gets_no_shorter():
    refused(between(notched(), "b"), notched())


def test_between_notches_the_edge_runs_on_smoothly():
    project = notched()
    curve = the_edge(check_edit(between(project, "a"), project), "a.e2").curve
    assert np.abs(joint_turnings_rad(curve)).max() < 1e-6


def test_notches_at_both_ends_of_the_ease_stay_on_the_sheet():
    project = notched()
    after = check_edit(between(project, "a"), project)
    first, _, last = project.notches
    for name in (first, last):
        places = [
            point_at(the_edge(found, "a.e2").curve, found.notches[name].at.at_mm)
            for found in (project, after)
        ]
        assert places[0] == pytest.approx(places[1], abs=1e-6)


@pytest.mark.parametrize("names", [(), ("s.n1",), ("s.n1", "s.n1"), ("s.n1", "other")])
def test_two_notches_of_the_seam_are_needed(names):
    project = notched()
    refused(TrueSeam(seam="s", sides="a", by="notches", between=names), project)


def test_notches_are_named_for_that_alone():
    project = notched()
    refused(TrueSeam(seam="s", sides="a", between=tuple(project.notches)[:2]), project)


@given(st.floats(90, 112), small.bulges(0.25), st.sampled_from(["a", "b", "both"]))
def test_any_seam_is_trued_along_its_edges(right, bulge, change):
    project = small.two_panels(left_mm=100, right_mm=right, bulge=bulge)
    after = check_or_refuse(along(change), project)
    if after is not None:
        assert measured(after).difference_mm == pytest.approx(0.0, abs=4e-9)
        assert corners(after) == corners(project)
