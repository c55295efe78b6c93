"""Outlines that cross, spikes, darts that meet, laps and sheets."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests import small
from tests.checks.mending import assert_mends, codes, mended, the
from wedgework.edits import decode_plain
from wedgework.edits.body import AddSheet
from wedgework.edits.pieces import CutFrom
from wedgework.geometry.length import length_mm
from wedgework.pattern.changes import new_project, with_pieces, with_seams
from wedgework.pattern.document import Cutout, Project
from wedgework.pattern.lookup import the_seam


def test_an_outline_that_crosses_itself_stops_cutting():
    bow = small.piece_of_points("p", (0, 0), (120, 0), (0, 80), (100, 100), (50, -40))
    found = the("outline_crosses", new_project(bow))
    assert (found.grave, found.where[0]) == ("stops_cutting", "p")
    assert found.at_mm is not None


def test_a_cut_out_that_runs_over_the_edge_stops_cutting():
    ring = small.piece_of_points("h", (80, 20), (80, 50), (120, 50), (120, 20)).edges
    piece = replace(small.rectangle("p", 100, 100), cutouts=(Cutout(id="p.k1", edges=ring),))
    assert the("outline_crosses", new_project(piece)).where == ("p", "p.k1")


def test_sound_outlines_say_nothing():
    for project in (small.curved_square(), small.disc(), small.with_everything()):
        assert not {"outline_crosses", "outline_spike"} & set(codes(project))


def test_a_spike_is_looked_at_again():
    piece = small.piece_of_points("p", (0, 0), (200, 0), (0, 20))
    found = the("outline_spike", new_project(piece))
    assert (found.grave, found.where) == ("look_again", ("p", "p.c2"))
    assert found.measured == pytest.approx(math.degrees(math.atan(0.1)))


def meeting_darts() -> Project:
    p = small.piece_of_points(
        "p", (0, 0), (80, 0), (100, 90), (95, 0), (105, 0), (100, 90), (120, 0), (200, 0),
        (200, 300), (0, 300),
    )  # fmt: skip
    seams = [
        small.seam("d1", "p.e2", "-p.e3", apex="p.c3"),
        small.seam("d2", "p.e5", "-p.e6", apex="p.c6"),
    ]
    return new_project(p, seams=seams)


def test_darts_that_share_an_apex_are_set_back():
    project = meeting_darts()
    found = the("darts_meet", project)
    assert (found.grave, found.where) == ("stops_cutting", ("d1", "d2"))
    assert_mends(project, found)
    assert "darts_meet" not in codes(mended(project, found.mends[0]))


def test_a_dart_alone_meets_none():
    assert "darts_meet" not in codes(small.darted_front())


def bulging(bulge: float, lap_mm: float = 8.0) -> Project:
    project = small.two_panels(bulge=bulge)
    return with_seams(project, replace(the_seam(project, "s"), lap_mm=lap_mm))


def test_the_lap_of_a_dome_that_puckers_is_looked_at_again():
    project = bulging(0.15)
    found = the("lap_too_curved", project)
    assert (found.grave, found.where) == ("look_again", ("s",))
    assert found.measured > found.wanted == pytest.approx(3.0)
    assert_mends(project, found)


def test_the_numbers_of_the_trade_for_a_lap_on_a_shaped_seam():
    # 31.9 degrees over 60 mm, lap 8: 7.4 %; lap 5: 4.6 %.
    project = small.two_panels(left_mm=170, right_mm=170)
    intake = [{"at_mm": 100, "width_mm": 0}, {"at_mm": 170, "width_mm": 40}]
    edit = {"edit": "shape_seam", "seam": "s", "intake": intake, "round_mm": 60.0}
    project = decode_plain(edit).apply(project)
    assert the("lap_too_curved", project).measured == pytest.approx(7.4, abs=0.4)
    narrow = with_seams(project, replace(the_seam(project, "s"), lap_mm=5.0))
    assert the("lap_too_curved", narrow).measured == pytest.approx(4.6, abs=0.3)


def test_a_lap_says_how_tightly_it_bends_where_and_which_one_would_lie():
    project = with_seams(small.two_panels(170, 170), replace(small.seam("s", "a.e2", "-b.e4")))
    intake = [{"at_mm": 100, "width_mm": 0}, {"at_mm": 170, "width_mm": 40}]
    edit = {"edit": "shape_seam", "seam": "s", "intake": intake, "round_mm": 60.0}
    project = decode_plain(edit).apply(project)
    found = the("lap_too_curved", project)
    (stretch,) = found.curves
    assert length_mm(stretch) == pytest.approx(60.0, abs=8.0)
    assert f"wants {8 / 0.03:.0f}" in found.message
    assert "4.45 mm longer" in found.message
    assert [mend.label for mend in found.mends][-1].endswith("tape them inside, 12 mm wide")


def test_a_hollow_may_be_stretched_twice_as_far():
    assert "lap_too_curved" not in codes(bulging(-0.03))
    found = the("lap_too_curved", bulging(-0.2))
    assert found.measured < found.wanted == pytest.approx(-6.0)


def test_flat_butted_and_laid_on_seams_have_no_lap_to_pucker():
    assert "lap_too_curved" not in codes(small.two_panels())
    project = bulging(0.15)
    seam = the_seam(project, "s")
    assert "lap_too_curved" not in codes(with_seams(project, replace(seam, join="butted")))
    assert "lap_too_curved" not in codes(with_seams(project, replace(seam, laid_on=True)))


def on_sheet(width_mm: float, length_mm: float | None = None) -> Project:
    project = new_project(small.rectangle("p", 400, 900))
    sheet = AddSheet(name="black", width_mm=width_mm, length_mm=length_mm)
    return CutFrom(pieces=("p",), sheet="black").apply(sheet.apply(project))


def test_a_piece_wider_than_its_sheet_stops_cutting():
    found = the("piece_too_large", on_sheet(width_mm=405))
    assert (found.grave, found.where) == ("stops_cutting", ("p", "black"))
    assert (found.measured, found.wanted) == pytest.approx((400.0, 395.0))


def test_a_piece_that_fits_in_some_turn_says_nothing():
    assert "piece_too_large" not in codes(on_sheet(width_mm=410))
    assert "piece_too_large" not in codes(on_sheet(width_mm=920, length_mm=420))
    assert "piece_too_large" in codes(on_sheet(width_mm=700, length_mm=700))


def test_a_piece_cut_on_the_fold_needs_its_whole_width():
    half = replace(
        small.with_finish(small.rectangle("p", 300, 900), "p.e4", "fold"),
        cutting="fold",
        fold_edge="p.e4",
    )
    project = with_pieces(on_sheet(width_mm=500), replace(half, sheet="black"))
    assert the("piece_too_large", project).measured == pytest.approx(600.0)


def test_sheets_that_stain_each_other_are_looked_at_again():
    project = AddSheet(name="red", width_mm=1000, colour="red", stains=("white",)).apply(
        AddSheet(name="white", width_mm=1000, colour="white").apply(small.two_panels())
    )
    project = CutFrom(pieces=("a",), sheet="white").apply(project)
    project = CutFrom(pieces=("b",), sheet="red").apply(project)
    found = the("sheet_stains", project)
    assert (found.grave, found.where) == ("look_again", ("s", "red", "white"))
