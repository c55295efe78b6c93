from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits.move import BendEdge, MoveCorner, MovePiece, PullEdge, TurnPiece
from wedgework.geometry.curve import Curve, is_straight
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.nearest import nearest
from wedgework.geometry.turning import joint_turnings_rad
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Spot
from wedgework.pattern.lookup import the_edge


def curve(project, edge):
    return the_edge(project, edge).curve


def test_a_moved_corner_keeps_straight_edges_straight():
    after = check_edit(MoveCorner(corner="p.c2", by_mm=(20, -10)), small.square())
    assert is_straight(curve(after, "p.e1"), 1e-9)
    assert length_mm(curve(after, "p.e1")) == pytest.approx(np.hypot(120, 10), abs=1e-9)
    assert length_mm(curve(after, "p.e2")) == pytest.approx(np.hypot(20, 110), abs=1e-9)


def test_a_moved_corner_takes_the_handle_of_a_curved_edge_along():
    project = small.curved_square()
    after = check_edit(MoveCorner(corner="p.c2", by_mm=(7, 3)), project)
    old, new = curve(project, "p.e2").segments, curve(after, "p.e2").segments
    assert new[0, :2] - old[0, :2] == pytest.approx(np.array([[7, 3], [7, 3]]))
    assert np.array_equal(new[0, 2:], old[0, 2:])


def test_a_corner_of_a_round_piece_moves_with_both_handles():
    after = check_edit(MoveCorner(corner="p.c1", by_mm=(5, 0)), small.disc())
    assert curve(after, "p.e1").start == pytest.approx([55, 0])


def test_a_shift_of_nothing_gives_the_same_project():
    project = small.square()
    assert MoveCorner(corner="p.c1", by_mm=(0, 0)).apply(project) is project


def test_a_corner_does_not_land_on_its_neighbour():
    error = refused(MoveCorner(corner="p.c2", by_mm=(-100, 0)), small.square())
    assert error.culprit == "p.e1"


def test_marks_keep_their_fraction_on_a_reshaped_edge_and_their_place_elsewhere():
    after = check_edit(MoveCorner(corner="a.c3", by_mm=(0, 100)), small.with_everything())
    assert after.notches["n1"].at == Spot("a.e2", pytest.approx(80.0))
    assert after.notches["n1"].mate == Spot("b.e4", 60.0)
    assert after.notches["n2"].at == Spot("a.e1", 25.0)


@given(small.blobs(), st.integers(1, 5), small.millimetres(-20, 20), small.millimetres(-20, 20))
def test_a_corner_moved_there_and_back_gives_the_outline_back(project, number, x, y):
    there = check_edit(MoveCorner(corner=f"p.c{number}", by_mm=(x, y)), project)
    back = MoveCorner(corner=f"p.c{number}", by_mm=(-x, -y)).apply(there)
    for edge in project.pieces["p"].edges:
        assert curve(back, edge.id).segments == pytest.approx(edge.curve.segments, abs=1e-9)


def test_a_bent_edge_moves_one_handle():
    project = small.square()
    after = check_edit(BendEdge(edge="p.e1", handle="first", by_mm=(0, -20)), project)
    moved = curve(after, "p.e1").segments - curve(project, "p.e1").segments
    assert moved[0] == pytest.approx(np.array([[0, 0], [0, -20], [0, 0], [0, 0]]))


def test_a_bent_chain_stays_smooth_at_its_joints():
    after = check_edit(BendEdge(edge="p.e1", cubic=1, handle="first", by_mm=(9, 4)), small.disc())
    assert joint_turnings_rad(curve(after, "p.e1"))[0] == pytest.approx(0, abs=1e-9)


def test_an_edge_has_no_cubic_beyond_its_last():
    refused(BendEdge(edge="p.e1", cubic=1, handle="first", by_mm=(1, 0)), small.square())


@given(small.blobs(), st.integers(1, 5), small.inner_ratios(), small.millimetres(-15, 15))
def test_a_pulled_edge_passes_where_its_point_was_put(project, number, ratio, by):
    edge = the_edge(project, f"p.e{number}")
    at_mm = ratio * length_mm(edge.curve)
    wanted = point_at(edge.curve, at_mm) + np.array([by, by / 2])
    after = check_edit(PullEdge(edge=edge.id, at_mm=at_mm, by_mm=(by, by / 2)), project)
    assert nearest(curve(after, edge.id), wanted).distance_mm < 1e-6
    assert np.array_equal(curve(after, edge.id).start, edge.curve.start)


def test_pulling_a_smooth_chain_keeps_it_smooth():
    after = check_edit(PullEdge(edge="p.e1", at_mm=130.0, by_mm=(8, -3)), small.disc())
    assert joint_turnings_rad(curve(after, "p.e1")) == pytest.approx(np.zeros(3), abs=1e-9)


def test_an_edge_is_not_pulled_at_its_corner():
    refused(PullEdge(edge="p.e1", at_mm=0.0, by_mm=(1, 1)), small.square())
    refused(PullEdge(edge="p.e1", at_mm=99.9, by_mm=(1, 1)), small.square())


def test_a_straight_edge_written_without_handles_is_pulled_like_any_other():
    project = small.square()
    piece = project.pieces["p"]
    bare = Curve(piece.edges[0].curve.segments[:, [0, 0, 3, 3]])
    edges = (replace(piece.edges[0], curve=bare), *piece.edges[1:])
    pull = PullEdge(edge="p.e1", at_mm=30.0, by_mm=(4.0, -9.0))
    after = check_edit(pull, new_project(replace(piece, edges=edges)))
    assert curve(after, "p.e1").segments == pytest.approx(
        curve(pull.apply(project), "p.e1").segments, abs=1e-9
    )


def test_a_moved_piece_takes_all_that_is_in_it():
    project = small.with_everything()
    after = check_edit(MovePiece(piece="a", by_mm=(10, 5)), project)
    assert after.pieces["a"].labels[0].at_mm == pytest.approx([80, 55])
    assert after.pieces["a"].lines[0].curve.start == pytest.approx([10, 65])
    assert after.pieces["a"].cutouts[0].edges[0].curve.start == pytest.approx([30, 25])
    assert after.pieces["b"] is project.pieces["b"]


@given(small.blobs(), small.degrees())
def test_a_turned_piece_keeps_its_lengths_and_its_area(project, turn_deg):
    after = check_edit(TurnPiece(piece="p", turn_deg=turn_deg), project)
    for edge in project.pieces["p"].edges:
        assert length_mm(curve(after, edge.id)) == pytest.approx(length_mm(edge.curve), abs=1e-9)
    areas = [ring_area_mm2([e.curve for e in p.pieces["p"].edges]) for p in (project, after)]
    assert areas[0] == pytest.approx(areas[1], abs=1e-6)


def test_numbers_that_are_not_finite_are_refused_before_anything():
    refused(MoveCorner(corner="p.c1", by_mm=(float("nan"), 0)), small.square())
    refused(MoveCorner(corner="p.c1", by_mm=(float("inf"), 0)), small.square())
    refused(MoveCorner(corner="p.c1", by_mm=(1e300, 0)), small.square())
