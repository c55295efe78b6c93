"""`new` and `export`: drawings in, drawings out, and back again."""

from __future__ import annotations

import json
import re

import pytest

from tests import small
from tests.cli.program import command, edits_file, loaded, names_in, program, saved

SQUARE = '<path id="front" d="M10,10 h100 v100 h-100 z"/>'


def drawing(path, body=SQUARE, size='width="200mm" height="200mm" viewBox="0 0 200 200"'):
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{body}</svg>')
    return path


@pytest.fixture
def svg(tmp_path):
    return drawing(tmp_path / "suit.svg")


def new(capsys, svg, *more):
    out = svg.with_name("suit.wedge")
    return command(capsys, "new", out, "--from", svg, *more), out


def test_the_real_program_goes_the_whole_way(tmp_path):
    body = SQUARE + '<path id="side" d="M120,10 h50 v98 h-50 z"/>'
    svg = drawing(tmp_path / "suit.svg", body)
    wedge, mended, out = (tmp_path / name for name in ("suit.wedge", "mended.wedge", "out.svg"))
    assert program("new", wedge, "--from", svg).code == 0
    told = program("info", wedge, "--json").json
    right = next(e for e in told["pieces"][0]["edges"] if e["start_mm"][0] == e["end_mm"][0] == 110)
    left = next(e for e in told["pieces"][1]["edges"] if e["start_mm"][0] == e["end_mm"][0] == 120)
    join = {"edit": "join", "name": "side", "a": [right["id"]], "b": ["-" + left["id"]]}
    do = edits_file(tmp_path / "edits.json", join)
    made = program("edit", wedge, "--do", do, "--save", wedge, "--json").json["made"][0]
    true = edits_file(tmp_path / "true.json", {"edit": "true_seam", "seam": made[0], "change": "b"})
    assert program("edit", wedge, "--do", true, "--save", mended).code == 0
    (seam,) = program("info", mended, "--json").json["seams"]
    assert seam["difference_mm"] == pytest.approx(0, abs=1e-6)
    assert program("export", mended, out).code == 0
    assert 'id="front"' in out.read_text()


def test_a_drawing_at_true_size_becomes_a_project(capsys, svg):
    answer, out = new(capsys, svg)
    assert answer.code == 0
    assert list(loaded(out).pieces) == ["front"]
    assert loaded(out).name == "suit"


def test_the_answer_as_json_names_pieces_and_problems(capsys, svg):
    answer, _ = new(capsys, svg, "--json")
    assert answer.json["pieces"] == ["front"]
    assert isinstance(answer.json["problems"], list)


def test_a_drawing_without_a_size_asks_for_the_unit(capsys, tmp_path):
    answer, out = new(capsys, drawing(tmp_path / "suit.svg", size='width="200" height="200"'))
    assert answer.is_told_as_it_should_be
    assert "--unit" in answer.err
    assert not out.exists()


@pytest.mark.parametrize(("unit", "mm"), [("mm", 1), ("cm", 10), ("in", 25.4), ("px", 25.4 / 96)])
def test_the_unit_that_is_said_is_taken(capsys, tmp_path, unit, mm):
    svg = drawing(tmp_path / "suit.svg", size="")
    _, out = new(capsys, svg, "--unit", unit)
    told = command(capsys, "info", out, "--json").json
    assert told["pieces"][0]["perimeter_mm"] == pytest.approx(400 * mm, rel=1e-9)


def test_the_drawn_line_may_be_the_cut_line(capsys, svg):
    _, out = new(capsys, svg, "--line", "cut:1 cm")
    told = command(capsys, "info", out, "--json").json
    assert told["pieces"][0]["perimeter_mm"] == pytest.approx(4 * 80, abs=0.01)


def test_a_drawing_that_is_not_there_is_named(capsys, tmp_path):
    answer, _ = new(capsys, tmp_path / "nowhere.svg")
    assert answer.is_told_as_it_should_be
    assert "nowhere.svg" in answer.err


@pytest.mark.parametrize("name", ["suit.txt", "suit", "suit.pdf"])
def test_what_is_no_drawing_is_refused(capsys, tmp_path, name):
    source = tmp_path / name
    source.write_text("pieces")
    answer, out = new(capsys, source)
    assert answer.is_told_as_it_should_be
    assert not out.exists()


def test_a_project_of_a_newer_version_is_not_overwritten_by_a_new_one(capsys, svg):
    out = svg.with_name("suit.wedge")
    out.write_text('{"format": "wedgework", "version": 999}')
    answer, _ = new(capsys, svg)
    assert answer.is_told_as_it_should_be
    assert "999" in out.read_text()


def test_what_was_repaired_is_told_and_kept(capsys, tmp_path):
    body = SQUARE + '<path id="thread" d="M150,150 h20"/>'
    answer, out = new(capsys, drawing(tmp_path / "suit.svg", body))
    assert "thread" in answer.out
    assert any("thread" in problem for problem in loaded(out).problems)


@pytest.mark.parametrize("name", ["out.svg", "out.pdf", "out.plt", "out.csv", "OUT.SVG"])
def test_every_format_that_is_there_is_written(capsys, tmp_path, name):
    wedge = saved(tmp_path / "a.wedge", small.two_panels())
    assert command(capsys, "export", wedge, tmp_path / name).code == 0
    assert (tmp_path / name).stat().st_size > 50


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter", "500x700", "roll:900"])
def test_a_paper_pattern_comes_on_the_paper_that_is_asked_for(capsys, tmp_path, paper):
    wedge = saved(tmp_path / "a.wedge", small.two_panels())
    assert command(capsys, "export", wedge, tmp_path / "out.pdf", "--paper", paper).code == 0
    assert (tmp_path / "out.pdf").read_bytes().startswith(b"%PDF")


def test_words_on_the_pieces_can_be_left_out(capsys, tmp_path):
    file, out = saved(tmp_path / "suit.wedge", small.two_panels()), tmp_path / "suit.svg"
    command(capsys, "export", file, out)
    assert "this side up" in out.read_text()
    command(capsys, "export", file, out, "--no-words")
    assert "<text" not in out.read_text()


@pytest.mark.parametrize("name", ["out.xyz", "out", "nowhere/out.svg", "folder.svg"])
def test_what_cannot_be_written_is_refused_and_leaves_nothing(capsys, tmp_path, name):
    wedge = saved(tmp_path / "a.wedge", small.two_panels())
    (tmp_path / "folder.svg").mkdir()
    assert command(capsys, "export", wedge, tmp_path / name).is_told_as_it_should_be
    assert names_in(tmp_path) == ["a.wedge", "folder.svg"]


def test_an_empty_project_leaves_an_old_export_as_it_was(capsys, tmp_path):
    wedge = saved(tmp_path / "a.wedge", small.new_project())
    old = tmp_path / "out.svg"
    old.write_text("old")
    assert command(capsys, "export", wedge, old).is_told_as_it_should_be
    assert old.read_text() == "old"


def test_a_drawing_can_be_looked_at_without_making_a_project(capsys, svg):
    assert command(capsys, "info", svg, "--json").json["pieces"][0]["id"] == "front"


def test_what_was_exported_comes_back_with_its_ids(capsys, tmp_path):
    wedge = saved(tmp_path / "a.wedge", small.two_panels())
    command(capsys, "export", wedge, tmp_path / "suit.svg")
    _, out = new(capsys, tmp_path / "suit.svg")
    before, after = (command(capsys, "info", path, "--json").json for path in (wedge, out))
    ids = [[piece["id"] for piece in told["pieces"]] for told in (before, after)]
    areas = [[piece["area_mm2"] for piece in told["pieces"]] for told in (before, after)]
    assert ids[0] == ids[1]
    assert areas[0] == pytest.approx(areas[1], rel=1e-6)


def test_json_holds_plain_ascii_whatever_the_names_are(capsys, tmp_path):
    wedge = saved(tmp_path / "a.wedge", small.square())
    rename = edits_file(tmp_path / "e.json", {"edit": "rename", "id": "p", "name": "Vorderteil 前"})
    command(capsys, "edit", wedge, "--do", rename, "--save", wedge)
    answer = command(capsys, "info", wedge, "--json")
    assert re.fullmatch(r"[\x00-\x7f]*", answer.out)
    assert json.loads(answer.out)["pieces"][0]["name"] == "Vorderteil 前"
