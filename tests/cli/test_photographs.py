"""Photographs by the command line: laid, placed, told, and out of every export."""

from __future__ import annotations

import json
from base64 import b64encode

import pytest

from tests import small
from tests.edits.test_pictures import png
from wedgework.cli import main
from wedgework.files.wedge import write_wedge


@pytest.fixture
def saved(tmp_path):
    path = tmp_path / "suit.wedge"
    path.write_bytes(write_wedge(small.square()))
    return path


def edited(path, *rows):
    steps = path.with_name("steps.json")
    steps.write_text(json.dumps(rows))
    return main(["edit", str(path), "--do", str(steps), "--save", str(path), "--json"])


ADD = {"edit": "add_picture", "name": "pike", "data": b64encode(png()).decode(), "width_mm": 400}


def test_a_photograph_is_laid_and_told_without_its_bytes(saved, capsys):
    corners = [[50, 50], [350, 30], [330, 250], [80, 240]]
    square = {"edit": "square_picture", "picture": "pike", "corners_px": corners,
              "width_mm": 297, "height_mm": 210}  # fmt: skip
    assert edited(saved, ADD, square) == 0
    assert json.loads(capsys.readouterr().out)["made"] == [["pike"], []]
    assert main(["info", str(saved), "--json"]) == 0
    (row,) = json.loads(capsys.readouterr().out)["pictures"]
    assert {"id", "name", "size_px", "placing", "shown", "strength_ratio"} == set(row)
    assert row["size_px"] == [400, 300]
    assert main(["info", str(saved)]) == 0
    assert "pike" in capsys.readouterr().out


def test_what_is_no_base64_is_refused_in_a_sentence(saved, capsys):
    before = saved.read_bytes()
    assert edited(saved, ADD | {"data": "no picture!"}) == 2
    said = capsys.readouterr().err
    assert "data" in said
    assert len(said.splitlines()) <= 3
    assert saved.read_bytes() == before


@pytest.mark.parametrize("suffix", [".svg", ".pdf", ".plt", ".csv"])
def test_exports_leave_photographs_out(saved, tmp_path, suffix):
    one, other = tmp_path / f"one{suffix}", tmp_path / f"other{suffix}"
    assert main(["export", str(saved), str(one)]) == 0
    assert edited(saved, ADD) == 0
    assert main(["export", str(saved), str(other)]) == 0
    assert other.read_bytes() == one.read_bytes()


def test_help_says_that_the_bytes_come_in_base64(capsys):
    assert main(["edits", "add_picture"]) == 0
    said = capsys.readouterr().out
    assert "bytes in base64" in said
    assert len(said) < 4000
