"""Openings: what passes them, and how a closing that runs out into their ring opens them."""

import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits.closings import CloseSeam
from wedgework.edits.openings import MarkOpening, SetOpening
from wedgework.pattern.openings import measure_opening, ring_mm

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
