from dataclasses import replace

import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits.body import Accept, AddLevel, AddSheet, LevelPoint, SetBody, SetSheet
from wedgework.pattern.body import MEASURES
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Cutout
from wedgework.pattern.levels import flat_girth_mm


def level(*points, name="waist", measure=None):
    rows = tuple(LevelPoint(piece, y_mm) for piece, y_mm in points)
    return AddLevel(name=name, points=rows, measure=measure)


def test_measures_are_written_down_and_others_stay():
    first = check_edit(SetBody(measures={"bust_girth_mm": 920}), small.square())
    after = check_edit(SetBody(measures={"waist_girth_mm": 720, "bust_girth_mm": 930}), first)
    assert dict(after.body) == {"bust_girth_mm": 930, "waist_girth_mm": 720}
    gone = check_edit(SetBody(measures={"bust_girth_mm": None}), after)
    assert dict(gone.body) == {"waist_girth_mm": 720}


def test_measures_of_the_contract_are_known():
    names = ["shoulder", "head", "neck", "upper_arm", "hand", "calf", "foot", "bust", "under_bust",
        "waist", "hip", "neck_base", "thigh"]  # fmt: skip
    assert all(f"{name}_girth_mm" in MEASURES for name in names)
    assert {"shoulder_length_mm", "back_waist_length_mm", "torso_loop_mm"} <= set(MEASURES)


def test_a_measure_that_is_not_known_or_not_a_length_is_refused():
    assert (
        "bust_girth_mm" in refused(SetBody(measures={"bust_girth": 900}), small.square()).sentence
    )
    refused(SetBody(measures={"bust_girth_mm": 0}), small.square())
    refused(SetBody(measures={"bust_girth_mm": float("inf")}), small.square())


def test_a_level_is_drawn_across_every_piece_that_it_crosses():
    after = check_edit(level(("a", 40), ("b", 50), measure="waist_girth_mm"), small.two_panels())
    assert after.levels["waist"].measure == "waist_girth_mm"
    (line,) = after.pieces["a"].lines
    assert (line.kind, line.level) == ("level", "waist")
    assert line.curve.segments[..., 1] == pytest.approx(40)
    assert flat_girth_mm(after, "waist") == pytest.approx(200)


def test_a_level_is_drawn_only_inside_the_piece():
    horseshoe = small.piece_of_points(
        "u", (0, 0), (100, 0), (100, 100), (70, 100), (70, 30), (30, 30), (30, 100), (0, 100)
    )
    hole = small.piece_of_points("h", (10, 40), (10, 60), (20, 60), (20, 40)).edges
    piece = replace(horseshoe, cutouts=(Cutout(id="k", edges=hole),))
    after = check_edit(level(("u", 50)), new_project(piece))
    spans = [(li.curve.start[0], li.curve.end[0]) for li in after.pieces["u"].lines]
    assert spans == [
        pytest.approx((0, 10)), pytest.approx((20, 30)), pytest.approx((70, 100))
    ]  # fmt: skip


def test_a_level_that_misses_its_piece_is_refused():
    assert refused(level(("a", 150)), small.two_panels()).culprit == "a"
    refused(level(("a", 40), ("a", 50)), small.two_panels())
    refused(level(("zz", 40)), small.two_panels())
    refused(level(("a", 40), measure="waist"), small.two_panels())


def test_a_level_along_a_straight_edge_has_its_width():
    after = check_edit(level(("a", 0)), small.two_panels())
    assert flat_girth_mm(after, "waist") == pytest.approx(100)


def test_an_accepted_finding_takes_the_place_of_the_one_before():
    accept = Accept(code="seam_length", where=("s",), reason="tried on", measured=2.0)
    first = check_edit(accept, small.two_panels())
    assert accept.apply(first) is first
    after = check_edit(
        Accept(code="seam_length", where=("s",), reason="tried again", measured=2.5), first
    )
    assert [(row.reason, row.measured) for row in after.accepted] == [("tried again", 2.5)]


def test_a_finding_about_what_is_not_there_is_not_accepted():
    refused(Accept(code="seam_length", where=("zz",), reason=""), small.two_panels())


def test_a_sheet_is_added_with_what_a_sheet_has_at_first():
    after = check_edit(AddSheet(name="black", width_mm=1000), small.square())
    sheet = after.sheets["black"]
    assert (sheet.length_mm, sheet.thickness_mm, sheet.spacing_mm) == (None, 0.4, 5.0)


def test_a_sheet_that_is_all_margin_is_refused():
    refused(AddSheet(name="x", width_mm=10), small.square())
    refused(AddSheet(name="x", width_mm=0), small.square())


def test_a_sheet_is_set_and_what_is_not_said_stays():
    project = AddSheet(name="cloth", width_mm=1400, length_mm=3000).apply(small.square())
    after = check_edit(SetSheet(sheet="cloth", length_mm=None, marking="slit"), project)
    cloth = after.sheets["cloth"]
    assert (cloth.width_mm, cloth.length_mm, cloth.marking) == (1400, None, "slit")
    assert SetSheet(sheet="cloth", width_mm=1400).apply(project) is project


def test_the_material_of_a_sheet_is_said_and_is_rubber_without_it():
    project = AddSheet(name="hide", width_mm=1400, material="leather").apply(small.square())
    assert project.sheets["hide"].material == "leather"
    after = check_edit(SetSheet(sheet="hide", material="stretch_cloth"), project)
    assert after.sheets["hide"].material == "stretch_cloth"
    plain = AddSheet(name="teal", width_mm=1000).apply(small.square())
    assert plain.sheets["teal"].material == "rubber"


def test_margins_that_leave_nothing_of_a_sheet_are_refused_when_it_is_set():
    project = AddSheet(name="cloth", width_mm=1400).apply(small.square())
    refused(SetSheet(sheet="cloth", margin_mm=700), project)
    refused(SetSheet(sheet="none", margin_mm=7), project)
