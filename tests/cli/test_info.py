"""`info`: every key of the contract, with numbers that can be worked out by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests import small
from tests.cli.program import command, program, saved
from wedgework.pattern.document import Sheet
from wedgework.pattern.table import Table

PIECE_KEYS = {"id", "name", "cutting", "area_mm2", "perimeter_mm", "bounds_mm", "sheet", "quantity",
    "edges", "corners", "lines", "cutouts", "notches", "holes", "labels"}  # fmt: skip
EDGE_KEYS = {"id", "name", "length_mm", "turning_deg", "finish", "allowance_mm", "start_mm",
    "end_mm", "start_corner", "end_corner"}  # fmt: skip
SEAM_KEYS = {"id", "name", "a", "b", "length_a_mm", "length_b_mm", "wanted_mm", "difference_mm",
    "allowed_mm", "shaping_deg", "dome_deg", "hollow_deg", "join", "lap_mm", "over",
    "state", "hold"}  # fmt: skip
DART_KEYS = {"id", "piece", "apex_mm", "angle_deg", "intake_mm", "leg_a_mm", "leg_b_mm"}
SHEET_KEYS = {"id", "name", "width_mm", "length_mm", "thickness_mm", "colour"}
TOP_KEYS = {"name", "pieces", "seams", "darts", "sheets", "levels", "body", "problems"}


def info(tmp_path, capsys, project):
    answer = command(capsys, "info", saved(tmp_path / "a.wedge", project), "--json")
    assert (answer.code, answer.err) == (0, "")
    return answer.json


def test_the_real_program_answers_with_one_json_value_and_nothing_else(tmp_path):
    answer = program("info", saved(tmp_path / "a.wedge", small.with_everything()), "--json")
    assert (answer.code, answer.err) == (0, "")
    assert answer.json.keys() >= TOP_KEYS


def test_every_key_is_there(tmp_path, capsys):
    project = small.with_everything()
    sheet = Sheet(id="r", name="red", width_mm=1000.0)
    told = info(tmp_path, capsys, replace(project, sheets=Table({"r": sheet})))
    piece = told["pieces"][0]
    assert piece.keys() >= PIECE_KEYS
    assert piece["edges"][0].keys() >= EDGE_KEYS
    assert piece["corners"][0].keys() >= {"id", "at_mm", "angle_deg"}
    assert piece["lines"][0].keys() >= {"id", "kind", "length_mm"}
    assert piece["cutouts"][0].keys() >= {"id", "area_mm2"}
    assert piece["notches"][0].keys() >= {"id", "edge", "at_mm"}
    assert piece["holes"][0].keys() >= {"id", "edge", "at_mm", "inset_mm", "diameter_mm"}
    assert told["seams"][0].keys() >= SEAM_KEYS
    assert told["sheets"][0].keys() >= SHEET_KEYS
    assert told["levels"][0].keys() >= {"id", "name", "flat_girth_mm", "body_girth_mm"}


def test_a_square_measures_what_a_square_measures(tmp_path, capsys):
    (piece,) = info(tmp_path, capsys, small.square(100))["pieces"]
    assert piece["area_mm2"] == pytest.approx(10_000)
    assert piece["perimeter_mm"] == pytest.approx(400)
    assert piece["bounds_mm"] == [0, 0, 100, 100]
    assert [edge["length_mm"] for edge in piece["edges"]] == pytest.approx([100] * 4)
    assert [corner["angle_deg"] for corner in piece["corners"]] == pytest.approx([90] * 4)


def test_edges_say_where_they_start_and_end(tmp_path, capsys):
    (piece,) = info(tmp_path, capsys, small.square(100))["pieces"]
    right = piece["edges"][1]
    assert (right["start_mm"], right["end_mm"]) == ([100, 0], [100, 100])
    assert (right["start_corner"], right["end_corner"]) == ("p.c2", "p.c3")
    assert piece["corners"][1] == {"id": "p.c2", "at_mm": [100, 0], "angle_deg": pytest.approx(90)}


def test_the_last_edge_ends_in_the_first_corner(tmp_path, capsys):
    (piece,) = info(tmp_path, capsys, small.square(100))["pieces"]
    assert piece["edges"][-1]["end_corner"] == piece["edges"][0]["start_corner"]


def test_a_disc_turns_once_round(tmp_path, capsys):
    (piece,) = info(tmp_path, capsys, small.disc(50))["pieces"]
    assert piece["edges"][0]["turning_deg"] == pytest.approx(360)
    assert piece["corners"][0]["angle_deg"] == pytest.approx(180)


def test_cut_outs_are_no_part_of_the_area(tmp_path, capsys):
    piece = info(tmp_path, capsys, small.with_everything())["pieces"][0]
    assert piece["area_mm2"] == pytest.approx(10_000 - 100)
    assert piece["cutouts"][0]["area_mm2"] == pytest.approx(100)


def test_an_edge_in_a_seam_is_joined_of_itself(tmp_path, capsys):
    left, right = info(tmp_path, capsys, small.two_panels())["pieces"]
    assert [edge["finish"] for edge in left["edges"]] == ["open", "joined", "open", "open"]
    assert [edge["finish"] for edge in right["edges"]] == ["open", "open", "open", "joined"]


def test_a_notch_stands_on_both_sides_of_its_seam(tmp_path, capsys):
    left, right = info(tmp_path, capsys, small.with_everything())["pieces"]
    assert {"id": "n1", "edge": "a.e2", "at_mm": 40} in left["notches"]
    assert right["notches"] == [{"id": "n1", "edge": "b.e4", "at_mm": 60}]


def test_a_seam_says_both_lengths_and_which_side_is_longer(tmp_path, capsys):
    (seam,) = info(tmp_path, capsys, small.two_panels(100, 97))["seams"]
    assert (seam["a"], seam["b"]) == (["a.e2"], ["-b.e4"])
    assert seam["length_a_mm"] == pytest.approx(100)
    assert seam["length_b_mm"] == pytest.approx(97)
    assert seam["difference_mm"] == pytest.approx(3)
    assert seam["state"] == "a_longer"


def test_what_is_wanted_is_no_difference(tmp_path, capsys):
    project = small.two_panels(100, 97)
    wanted = replace(project.seams["s"], wanted_mm=3.0)
    (seam,) = info(tmp_path, capsys, replace(project, seams=Table({"s": wanted})))["seams"]
    assert seam["difference_mm"] == pytest.approx(0)
    assert seam["state"] == "agrees"


def test_edges_that_bulge_towards_each_other_put_shaping_in(tmp_path, capsys):
    told = info(tmp_path, capsys, small.two_panels(bulge=0.1))
    turned = told["pieces"][0]["edges"][1]["turning_deg"]
    assert told["seams"][0]["shaping_deg"] == pytest.approx(2 * turned)
    assert told["seams"][0]["dome_deg"] == pytest.approx(2 * turned)
    assert told["seams"][0]["hollow_deg"] == 0


def test_a_dart_is_no_seam_and_a_cone(tmp_path, capsys):
    told = info(tmp_path, capsys, small.darted_front(intake_mm=30, depth_mm=90))
    (dart,) = told["darts"]
    assert told["seams"] == []
    assert dart.keys() >= DART_KEYS
    assert dart["angle_deg"] == pytest.approx(2 * math.degrees(math.atan2(15, 90)))
    assert dart["intake_mm"] == pytest.approx(30)
    assert dart["leg_a_mm"] == pytest.approx(math.hypot(15, 90))


def test_a_dart_wedge_is_no_part_of_the_area(tmp_path, capsys):
    (piece,) = info(tmp_path, capsys, small.darted_front(intake_mm=30, depth_mm=90))["pieces"]
    assert piece["area_mm2"] == pytest.approx(200 * 300 - 30 * 90 / 2)


def test_a_fold_piece_counts_twice_in_a_girth_and_once_in_its_area(tmp_path, capsys):
    (piece,) = info(tmp_path, capsys, small.fold_front())["pieces"]
    assert piece["cutting"] == "fold"
    assert piece["area_mm2"] == pytest.approx(100 * 200)


def test_a_person_reads_aligned_columns_with_the_unit_in_the_heading(tmp_path, capsys):
    path = saved(tmp_path / "a.wedge", small.two_panels(100, 97))
    lines = command(capsys, "info", path).out.splitlines()
    heading = next(line for line in lines if line.strip().startswith("seam"))
    row = lines[lines.index(heading) + 1]
    assert "difference mm" in heading
    end = heading.index("difference mm") + len("difference mm")
    assert row[:end].endswith("+3.0")
    assert "A is longer" in row


def test_what_is_no_project_is_refused_by_name(tmp_path, capsys):
    path = tmp_path / "letter.wedge"
    path.write_text("Dear river,")
    answer = command(capsys, "info", path)
    assert answer.is_told_as_it_should_be
    assert "letter.wedge" in answer.err


def test_a_seam_says_how_it_is_held(tmp_path, capsys):
    holds = [
        info(tmp_path, capsys, project)["seams"][0]["hold"]
        for project in (
            small.two_panels(),
            small.held(small.two_panels()),
            small.held(small.two_panels(), "shape"),
        )
    ]
    assert holds == [None, "length", "shape"]
