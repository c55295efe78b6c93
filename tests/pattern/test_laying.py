"""Which open edge follows which round the garment, and pieces laid together at their seams."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests import small
from wedgework.geometry.turning import angle_between, end_tangent, start_tangent
from wedgework.pattern.boundary import Side
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Project, Run, parse_ref
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.laying import laid_together, line_through
from wedgework.pattern.round_corner import joint_after, side_before


def run(*texts: str) -> Run:
    return tuple(parse_ref(text) for text in texts)


def line(project: Project, edge: str) -> list[str]:
    return [str(ref) for ref in line_through(project, edge)]


@pytest.mark.parametrize("edge", ["f.e1", "g.e1", "b.e1"])
def test_a_hem_is_found_from_any_of_its_edges(edge):
    assert line(small.panelled_hem(), edge) == ["f.e1", "g.e1", "b.e1"]


def test_a_joined_edge_is_a_line_of_none():
    assert line(small.panelled_hem(), "f.e2") == []


def test_a_line_goes_once_round_a_ring_and_ends():
    assert line(small.ring_of_panels(), "p2.e1") == ["p2.e1", "p3.e1", "p4.e1", "p1.e1"]


def test_a_line_ends_at_a_corner_of_its_own_piece():
    assert line(small.two_panels(), "a.e1") == ["a.e1", "b.e1"]


def test_what_follows_a_side_has_it_before():
    project = small.panelled_hem()
    for name in ("f.e1", "g.e1"):
        joint = joint_after(project, Side(name, mirrored=False))
        assert side_before(project, joint.side) == Side(name, mirrored=False)


def test_over_a_fold_its_own_mirror_image_follows():
    project = small.panelled_hem()
    assert joint_after(project, Side("b.e1", mirrored=False)).side == Side("b.e1", mirrored=True)
    assert side_before(project, Side("f.e1", mirrored=False)) == Side("f.e1", mirrored=True)


def test_ends_of_seams_meet_and_their_directions_agree():
    project = small.panelled_hem()
    f, g, b = laid_together(project, run("f.e1", "g.e1", "b.e1"))
    assert f.curve.end == pytest.approx(g.curve.start, abs=1e-9)
    assert g.curve.end == pytest.approx(b.curve.start, abs=1e-9)
    seam = g.motion.linear @ start_tangent(g.piece.edges[1].curve)
    mate = b.motion.linear @ -end_tangent(b.piece.edges[3].curve)
    assert seam == pytest.approx(mate, abs=1e-12)


def test_the_first_edge_named_stands_where_it_is_drawn():
    project = small.panelled_hem()
    laid = laid_together(project, run("-b.e1", "-g.e1", "-f.e1"))
    assert laid[-1].curve.start == pytest.approx([400, 0], abs=1e-9)
    assert laid[0].side.edge == "f.e1"


def test_angles_of_all_pieces_at_a_corner_are_summed():
    joint = joint_after(small.meeting_at_an_opening(), Side("p.e1", mirrored=False))
    assert joint.side.edge == "q.e1"
    assert joint.corners == ("p.c2", "w.c1", "q.c1")
    assert math.degrees(joint.angle_rad) == pytest.approx(150.0)


def test_a_wedge_between_two_pieces_keeps_them_apart_by_its_angle():
    project = small.meeting_at_an_opening()
    p, q = laid_together(project, run("p.e1", "q.e1"))
    turn = angle_between(end_tangent(p.curve), start_tangent(q.curve))
    assert math.degrees(turn) == pytest.approx(30.0)


def test_the_mirror_image_of_a_pair_is_laid_turned_over():
    half = replace(small.rectangle("p", 100, 200), cutting="pair")
    project = new_project(half, seams=[small.seam("back", "p.e2", "~p.e2")])
    joint = joint_after(project, Side("p.e1", mirrored=False))
    assert joint.side == Side("p.e1", mirrored=True)
    assert line(project, "p.e1") == ["p.e1"]


def test_a_dart_is_closed_where_a_line_runs_over_its_mouth():
    project = small.darted_front()
    first, second = laid_together(project, run("p.e1", "p.e4"))
    assert first.curve.end == pytest.approx(second.curve.start, abs=1e-9)
    turn = np.degrees(np.arctan2(second.motion.linear[1, 0], second.motion.linear[0, 0]))
    assert turn == pytest.approx(-np.degrees(2 * np.arctan2(15, 90)))


@pytest.mark.parametrize(
    "edges",
    [("f.e1", "b.e1"), ("f.e1", "f.e2"), ("f.e1", "~f.e1"), ("f.e1", "g.e3")],
)
def test_edges_that_are_no_line_are_refused(edges):
    with pytest.raises(EditRefused):
        laid_together(small.panelled_hem(), run(*edges))


def test_a_line_goes_on_over_an_edge_that_lies_in_two_seams():
    """A pair `f` is joined to a single `b` by one seam, and its mirror image by another."""
    f = replace(small.rectangle("f", 100, 200), cutting="pair")
    seams = [small.seam("left", "f.e2", "-b.e4"), small.seam("right", "~f.e2", "b.e2")]
    project = new_project(f, small.rectangle("b", 60, 200, x=200), seams=seams)
    joint = joint_after(project, Side("b.e1", mirrored=False))
    assert joint.side == Side("f.e1", mirrored=True)
    assert side_before(project, Side("b.e1", mirrored=False)) == Side("f.e1", mirrored=False)
