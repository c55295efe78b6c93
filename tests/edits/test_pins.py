"""Pinned measurements: made, set, carried by other edits, and gone with what they hang on."""

from __future__ import annotations

import math

import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits import decode_plain
from wedgework.pattern.document import Spot
from wedgework.pattern.pins import pin_value


def edit(kind_of_edit, **fields):
    return decode_plain({"edit": kind_of_edit, **fields})


def pinned(project, kind, *anchors, **more):
    return check_edit(edit("pin_measure", kind=kind, anchors=list(anchors), **more), project)


def place(own, at_mm):
    return {"edge": own, "at_mm": at_mm}


def now(project, own="pin1"):
    return pin_value(project, project.pins[own])


def test_a_pin_keeps_what_is_wanted_of_an_angle_in_radians():
    after = pinned(small.square(), "angle", "p.c1", wanted=85, allowed=1, name="crotch")
    pin = after.pins["pin1"]
    assert (pin.name, pin.wanted) == ("crotch", math.radians(85))
    assert pin.allowed == math.radians(1)


def test_what_cannot_be_measured_is_not_pinned():
    refused(edit("pin_measure", kind="along", anchors=["a.c1", "b.c1"]), small.two_panels())
    refused(edit("pin_measure", kind="girth", anchors=["a.c1"]), small.two_panels())


def test_a_place_off_the_end_of_its_edge_is_not_pinned():
    anchors = ["p.c1", place("p.e1", 100.02)]
    refused(edit("pin_measure", kind="distance", anchors=anchors), small.square())


def test_a_pin_is_set_and_taken_away():
    project = pinned(small.square(), "distance", "p.c1", "p.c3")
    after = check_edit(edit("set_pin", pin="pin1", wanted=140.0, allowed=2, name="cross"), project)
    assert (after.pins["pin1"].wanted, after.pins["pin1"].allowed) == (140.0, 2.0)
    bare = check_edit(edit("set_pin", pin="pin1", wanted=None), after)
    assert (bare.pins["pin1"].wanted, bare.pins["pin1"].name) == (None, "cross")
    assert not check_edit(edit("unpin", pins=["pin1"]), bare).pins
    refused(edit("unpin", pins=["pin9"]), bare)
    refused(edit("set_pin", pin="pin9", wanted=1), bare)


def test_setting_what_is_so_already_changes_nothing():
    project = pinned(small.square(), "distance", "p.c1", "p.c3")
    assert edit("set_pin", pin="pin1", wanted=None).apply(project) is project


def test_a_pin_follows_the_corner_that_it_hangs_on():
    project = pinned(small.square(), "distance", "p.c1", "p.c2")
    after = check_edit(edit("move_corner", corner="p.c2", by_mm=[25, 0]), project)
    assert now(after) == pytest.approx(125.0)


def test_a_place_on_an_edge_goes_with_the_part_that_it_lies_on():
    project = pinned(small.square(), "along", "p.c1", place("p.e1", 70))
    after = check_edit(edit("split_edge", edge="p.e1", at_mm=50), project)
    assert after.pins["pin1"].anchors[1].at_mm == pytest.approx(20.0)
    assert now(after) == pytest.approx(70.0)


def test_a_place_keeps_its_share_of_an_edge_that_is_reshaped():
    project = pinned(small.square(), "along", "p.c1", place("p.e1", 50))
    after = check_edit(edit("move_corner", corner="p.c2", by_mm=[20, 0]), project)
    assert now(after) == pytest.approx(60.0)


def test_a_slash_opens_what_is_measured_across_it():
    project = pinned(small.square(), "distance", "p.c1", "p.c2")
    slash = {"from": place("p.e1", 50), "to": place("p.e3", 50), "open_mm": 12, "open_to_mm": 12}
    after = check_edit(edit("slash_spread", piece="p", **slash), project)
    assert now(after) == pytest.approx(112.0)


def test_a_pin_goes_with_the_anchor_that_vanishes():
    project = pinned(small.two_panels(), "distance", "a.c1", "b.c1")
    project = pinned(project, "distance", "a.c1", "a.c3")
    after = check_edit(edit("remove_piece", piece="b"), project)
    assert list(after.pins) == ["pin2"]


def test_a_pin_goes_with_its_notch_and_with_its_level():
    project = pinned(small.with_everything(), "distance", "a.c2", "n1")
    project = pinned(project, "girth", "waist")
    assert list(check_edit(edit("remove_marks", marks=["n1"]), project).pins) == ["pin2"]
    assert list(check_edit(edit("remove_level", level="waist"), project).pins) == ["pin1"]


def test_a_way_that_a_cut_has_parted_goes():
    project = pinned(small.square(), "along", place("p.e1", 20), place("p.e1", 80))
    cut = {"from": place("p.e1", 50), "to": place("p.e3", 50)}
    assert not check_edit(edit("cut_piece", piece="p", **cut), project).pins


def test_a_pin_can_be_renamed():
    project = pinned(small.square(), "angle", "p.c1")
    after = check_edit(edit("rename", id="pin1", name="neck"), project)
    assert after.pins["pin1"].name == "neck"


def test_an_anchor_on_an_edge_is_a_place_of_the_document():
    project = pinned(small.square(), "along", "p.c1", place("p.e1", 50))
    assert project.pins["pin1"].anchors == ("p.c1", Spot("p.e1", 50.0))


def test_a_pin_hangs_on_the_bare_table_and_stays_there():
    project = pinned(small.two_panels(), "distance", "a.c1", [0.0, -40.0])
    assert now(project) == pytest.approx(40.0)
    moved = check_edit(edit("move_piece", piece="b", by_mm=[30, 0]), project)
    assert moved.pins["pin1"] is project.pins["pin1"]
    nearer = check_edit(edit("move_corner", corner="a.c1", by_mm=[0, -10]), project)
    assert now(nearer) == pytest.approx(30.0)


@pytest.mark.parametrize(
    "motion",
    [
        {"edit": "move_piece", "piece": "p", "by_mm": [30, 20]},
        {"edit": "turn_piece", "piece": "p", "turn_deg": 33},
        {"edit": "flip_pieces", "pieces": ["p"]},
    ],
)
def test_a_bare_place_inside_a_piece_goes_with_it(motion):
    project = pinned(small.curved_square(), "angle", "p.c1", [30.0, 60.0], "p.c3")
    after = check_edit(decode_plain(motion), project)
    assert now(after) == pytest.approx(now(project), abs=1e-9)
    assert after.pins["pin1"].anchors[1] != (30.0, 60.0)


def test_a_bare_place_stays_where_its_piece_only_changes_its_shape():
    project = pinned(small.square(), "distance", "p.c1", [30.0, 60.0])
    after = check_edit(edit("move_corner", corner="p.c3", by_mm=[9, 4]), project)
    assert after.pins["pin1"].anchors[1] == (30.0, 60.0)


def test_no_way_along_an_edge_leads_to_a_bare_place():
    refused(edit("pin_measure", kind="along", anchors=["p.c1", [5.0, 5.0]]), small.square())
    refused(edit("pin_measure", kind="angle", anchors=[[5.0, 5.0]]), small.square())
    refused(edit("pin_measure", kind="girth", anchors=[[5.0, 5.0]]), small.square())
