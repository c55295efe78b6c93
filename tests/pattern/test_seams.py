"""Seams, measured: lengths over runs, matching stations, shaping with dome and hollow."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given

from tests import small
from wedgework.edits.drafted import DraftPieces
from wedgework.edits.drawn import AddLine
from wedgework.edits.holds import HoldSeam
from wedgework.edits.seams import JoinEdges
from wedgework.geometry.curve import reversed_curve
from wedgework.pattern.changes import new_project, with_pieces, with_seams
from wedgework.pattern.document import Notch, Piece, Project, Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.seams import SeamMeasure, measure_seam
from wedgework.pattern.table import Table


def measured(project: Project, seam: str = "s") -> SeamMeasure:
    return measure_seam(project, the_seam(project, seam))


def sliced(widths: dict[float, float]) -> Project:
    """Two panels with a straight-sided slice between them, half from each: height -> width."""
    heights = sorted(widths)
    right = [(100 - widths[y] / 2, y) for y in heights]
    left = [(200 + widths[y] / 2, y) for y in reversed(heights)]
    a = small.piece_of_points("a", (0, heights[0]), *right, (0, heights[-1]))
    b = small.piece_of_points("b", (300, heights[0]), (300, heights[-1]), *left)
    joints = len(heights)
    run_a = " ".join(f"a.e{i + 2}" for i in range(joints - 1))
    run_b = " ".join(f"-b.e{1 + joints - i}" for i in range(joints - 1))
    return new_project(a, b, seams=[small.seam("s", run_a, run_b)])


def test_edges_of_one_length_agree():
    found = measured(small.two_panels())
    assert (found.difference_mm, found.state) == (0.0, "agrees")


def test_the_longer_side_is_named():
    assert measured(small.two_panels(left_mm=101)).state == "a_longer"
    assert measured(small.two_panels(right_mm=101)).state == "b_longer"


def test_a_wanted_difference_is_taken_off():
    project = small.two_panels(left_mm=103)
    seam = replace(the_seam(project, "s"), wanted_mm=3.0)
    assert measured(with_seams(project, seam)).difference_mm == pytest.approx(0.0, abs=1e-12)


def test_a_run_over_two_pieces_is_as_long_as_both():
    found = measured(small.yoke_over_two())
    assert (found.a.length_mm, found.b.length_mm) == pytest.approx((200.0, 200.0))


@given(curve=small.garment_curves())
def test_both_edges_cut_from_one_line_shape_nothing(curve):
    start, end = curve.start, curve.end
    a, b = small.edge("a.e1", "a.c1", start, end), small.edge("b.e1", "b.c1", end, start)
    back_a, back_b = small.edge("a.e2", "a.c2", end, start), small.edge("b.e2", "b.c2", start, end)
    a, b = replace(a, curve=curve), replace(b, curve=reversed_curve(curve))
    project = new_project(
        Piece(id="a", name="a", edges=(a, back_a)),
        Piece(id="b", name="b", edges=(b, back_b)),
        seams=[small.seam("s", "a.e1", "-b.e1")],
    )
    found = measured(project)
    assert found.shaping_rad == pytest.approx(0.0, abs=1e-9)
    assert found.dome_rad + found.hollow_rad == pytest.approx(0.0, abs=1e-9)


def test_a_dome_and_a_hollow_of_one_seam_are_told_apart():
    found = measured(sliced({0: 0, 100: 0, 170: 40, 270: 44}))
    assert math.degrees(found.dome_rad) == pytest.approx(31.890792, abs=1e-5)
    assert math.degrees(found.hollow_rad) == pytest.approx(29.599266, abs=1e-5)
    assert found.shaping_rad == pytest.approx(found.dome_rad - found.hollow_rad, abs=1e-12)


def test_shaping_sits_where_the_slice_begins():
    found = measured(sliced({0: 0, 100: 0, 170: 40, 270: 44}))
    assert found.shaping_between(0, 99) == pytest.approx(0.0, abs=1e-12)
    assert math.degrees(found.shaping_between(99, 120)) == pytest.approx(31.890792, abs=1e-5)


def test_a_joint_over_two_pieces_counts_what_their_corners_miss():
    project = small.yoke_over_two()
    right = small.piece_of_points("right", (150, 0), (250, 0), (250, 100), (140, 100))
    leaning = math.atan2(10, 100)  # by which the corner of `right` is short of square
    found = measured(with_pieces(project, right))
    assert found.shaping_rad == pytest.approx(leaning, abs=1e-12)


def test_stations_match_at_the_same_fraction_between_mates():
    project = small.two_panels(left_mm=100, right_mm=110)
    notch = Notch(id="n", at=Spot("a.e2", 40.0), mate=Spot("b.e4", 70.0))
    found = measured(replace(project, notches=Table({"n": notch})))
    assert found.matches == pytest.approx(np.array([[0, 0], [40, 40], [100, 110]]))
    assert found.b_of(70.0) == pytest.approx(75.0)
    assert found.a_of(75.0) == pytest.approx(70.0)


def test_a_mate_that_stands_against_the_walk_is_left_out():
    project = small.two_panels()
    first = Notch(id="m", at=Spot("a.e2", 40.0), mate=Spot("b.e4", 60.0))
    crossed = Notch(id="n", at=Spot("a.e2", 60.0), mate=Spot("b.e4", 90.0))
    found = measured(replace(project, notches=Table({"m": first, "n": crossed})))
    assert found.matches[:, 0] == pytest.approx([0.0, 40.0, 100.0])


def test_a_seam_is_measured_again_only_when_something_it_reads_has_changed():
    project = small.two_panels()
    far = with_pieces(project, small.rectangle("far", 10, 10, x=500))
    assert measured(far) is measured(project)
    moved = with_pieces(project, small.rectangle("a", 100, 90))
    assert measured(moved) is not measured(project)


def test_other_tables_of_the_same_pieces_and_notches_change_no_measure():
    project = small.two_panels()
    first = measured(project)
    again = replace(project, pieces=Table(project.pieces), notches=Table(project.notches))
    assert measured(again) is first
    assert measured(project) is first


def test_a_mate_put_on_a_seam_is_read_though_no_piece_has_changed():
    project = small.two_panels()
    assert len(measured(project).matches) == 2
    notch = Notch(id="m", at=Spot("a.e2", 40.0), mate=Spot("b.e4", 60.0))
    assert len(measured(replace(project, notches=Table({"m": notch}))).matches) == 3


def test_what_is_laid_on_may_be_joined_to_lines_and_no_hold_follows_them():
    """The walk over internal lines is as long as they are, and goes straight on between pieces."""
    project = small.two_panels()
    for piece in ("a", "b"):
        box = [edge.curve.start for edge in project.pieces[piece].edges]
        low = [float(min(point[axis] for point in box)) for axis in (0, 1)]
        points = ((low[0], low[1] + 5.0), (low[0] + 30.0, low[1] + 5.0))
        project = AddLine(piece=piece, kind="placement", points_mm=points).apply(project)
    strip = DraftPieces(kind="strip", numbers={"length_mm": 75, "width_mm": 20}).apply(project)
    run = ("-a.l1", "-b.l1")
    join = JoinEdges(name="hung", a=("strip.long",), b=run, laid_on=True, wanted_mm=15)
    hung = join.apply(strip)
    measure = measure_seam(hung, hung.seams["hung"])
    assert measure.b.length_mm == pytest.approx(60)
    assert measure.state == "agrees"
    assert [turning for _, turning in measure.b.joint_turnings()] == [0.0]
    with pytest.raises(EditRefused, match=r"a\.l1"):
        HoldSeam(seam="hung").apply(hung)
