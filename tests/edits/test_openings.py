"""Openings: what passes them, and how a closing that runs out into their ring opens them."""

import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits.body import AddLevel, LevelPoint, SetBody
from wedgework.edits.closings import CloseSeam
from wedgework.edits.edge_length import FitOpening
from wedgework.edits.openings import MarkOpening, SetOpening
from wedgework.pattern.levels import flat_girth_mm
from wedgework.pattern.openings import edge_fit, measure_opening, ring_mm, seams_into
from wedgework.pattern.seams import measure_seam

TOP = ("p1.e3", "p2.e3", "p3.e3", "p4.e3")


def tube():
    """Four rectangles 60 wide and 100 high in a ring, its upper ring marked."""
    opening = MarkOpening(name="top", edges=TOP, measure="head_girth_mm", rise_mm=3.0)
    return opening.apply(small.ring_of_panels(4))


def test_an_opening_is_said_anew():
    project = tube()
    after = check_edit(
        SetOpening(opening="top", measure="thigh_girth_mm", rise_mm=80.0, allowed_stretch=0.2),
        project,
    )
    row = after.openings["top"]
    assert (row.measure, row.rise_mm, row.allowed_stretch) == ("thigh_girth_mm", 80, 0.2)
    assert SetOpening(opening="top", rise_mm=3.0).apply(project) is project
    refused(SetOpening(opening="none", rise_mm=3.0), project)
    assert "head_girth_mm" in str(refused(SetOpening(opening="top", measure="head_girth"), project))


@pytest.mark.parametrize(
    ("part", "opens_mm"),
    [
        ({}, 200),
        ({"to_mm": 40.0}, 0),
        ({"from_mm": 40.0}, 120),
        ({"from_mm": 20.0, "to_mm": 60.0}, 0),
    ],
)
def test_a_slit_that_runs_out_into_the_ring_opens_it_by_twice_its_length(part, opens_mm):
    after = CloseSeam(seam="s1", kind="zip", **part).apply(tube())
    opening = after.openings["top"]
    assert measure_opening(after, opening).length_mm == pytest.approx(240 + opens_mm)
    assert ring_mm(after, opening) == pytest.approx(240)


def test_closings_that_go_on_from_each_other_open_it_together():
    upper = CloseSeam(seam="s1", kind="zip", from_mm=60.0).apply(tube())
    both = CloseSeam(seam="s1.1", kind="lacing", from_mm=20.0).apply(upper)
    assert measure_opening(both, both.openings["top"]).length_mm == pytest.approx(240 + 160)


@pytest.mark.parametrize("length_mm", [210.0, 240.0, 265.0])
def test_an_edge_is_cut_to_a_length_by_all_seams_that_run_out_into_it(length_mm):
    project = tube()
    after = check_edit(FitOpening(opening="top", length_mm=length_mm), project)
    assert ring_mm(after, after.openings["top"]) == pytest.approx(length_mm, abs=2e-3)
    for seam in after.seams.values():
        assert measure_seam(after, seam).difference_mm == pytest.approx(0.0, abs=1e-6)
    assert all(piece.edges[0].curve.end[0] - piece.edges[0].curve.start[0] == pytest.approx(60.0)
               for piece in after.pieces.values())  # fmt: skip


def test_an_edge_round_a_limb_is_cut_to_its_way_and_no_level_loses_its_girth():
    project = SetBody(measures={"thigh_girth_mm": 230.0}).apply(tube())
    project = SetOpening(opening="top", measure="thigh_girth_mm", rise_mm=0.0).apply(project)
    points = tuple(LevelPoint(piece=f"p{i}", y_mm=55.0) for i in range(1, 5))
    project = AddLevel(name="hip", points=points).apply(project)
    after = check_edit(FitOpening(opening="top"), project)
    assert edge_fit(after, after.openings["top"]).over_mm == pytest.approx(0.0, abs=2e-3)
    assert flat_girth_mm(after, "hip") == pytest.approx(240.0, abs=1e-6)


def test_an_edge_that_no_seam_can_reach_is_left_as_it_is():
    project = tube()
    assert "Say a length" in str(refused(FitOpening(opening="top"), project))
    near = tuple(LevelPoint(piece=f"p{i}", y_mm=80.0) for i in range(1, 5))
    tight = AddLevel(name="hip", points=near).apply(project)
    assert seams_into(tight, tight.openings["top"]) == ()
    assert "No seam" in str(refused(FitOpening(opening="top", length_mm=230.0), tight))
    refused(FitOpening(opening="none"), project)
