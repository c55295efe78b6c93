"""`body`: measures in and out, and what is likely."""

from __future__ import annotations

from tests import small
from tests.cli.program import command, loaded, program, saved
from wedgework.edits.body import SetBody


def measured(tmp_path, **measures):
    edit = SetBody(measures=measures or {"bust_girth_mm": 920.0, "hip_girth_mm": 980.0})
    return saved(tmp_path / "a.wedge", edit.apply(small.two_panels()))


def test_a_list_is_read_into_the_project_and_written_out_again(capsys, tmp_path):
    path = saved(tmp_path / "a.wedge", small.two_panels())
    source, out = tmp_path / "in.csv", tmp_path / "out.csv"
    source.write_text("measure;value;unit\nbust girth;36 1/4;in\nthigh girth left;57,1;cm\n")
    answer = command(capsys, "body", path, "--csv", source, "--save", path, "--save-csv", out,
                     "--unit", "cm")  # fmt: skip
    assert (answer.code, answer.err) == (0, "")
    assert dict(loaded(path).body) == {"bust_girth_mm": 920.75, "thigh_girth_left_mm": 571.0}
    assert out.read_text().splitlines() == [
        "measure,value,unit", "bust_girth,92.075,cm", "thigh_girth_left,57.1,cm"
    ]  # fmt: skip


def test_a_changed_project_needs_a_place_to_go(capsys, tmp_path):
    path = measured(tmp_path)
    answer = command(capsys, "body", path, "--add", "Pike")
    assert answer.is_told_as_it_should_be
    assert "--save" in answer.err


def test_bodies_are_added_and_worn(capsys, tmp_path):
    path = measured(tmp_path)
    assert command(capsys, "body", path, "--add", "Pike", "--save", path).code == 0
    assert set(loaded(path).bodies) == {"Unnamed", "Pike"}
    told = command(capsys, "body", path, "--wear", "Unnamed", "--save", path, "--json").json
    assert told["wearer"] == "Unnamed"
    assert told["measures"]["bust_girth_mm"] == 920.0


def test_what_is_unlikely_is_told_and_nothing_is_refused(capsys, tmp_path):
    path = measured(tmp_path, neck_base_girth_mm=500.0, calf_girth_mm=360.0)
    both = command(capsys, "body", path, "--json").json
    assert both["doubts"] == []
    assert set(both["ranges"]) == {"neck_base_girth_mm"}
    women = command(capsys, "body", path, "--compare", "women")
    assert women.code == 0
    assert "Look again" in women.out


def test_reduction_and_stretch_stand_beside_each_other(capsys, tmp_path):
    told = command(capsys, "body", measured(tmp_path), "--json").json["reductions"]
    assert told["girth"]["reduction"] == 0.08
    assert round(told["girth"]["stretch_percent"], 2) == 8.70
    lines = command(capsys, "body", measured(tmp_path)).out.splitlines()
    (girth,) = (line.split() for line in lines if line.split()[:1] == ["girth"])
    assert girth[1:3] == ["8.0", "8.70"]


def test_a_list_that_is_none_changes_nothing(tmp_path):
    path, source = measured(tmp_path), tmp_path / "in.csv"
    before = path.read_bytes()
    source.write_bytes(b"\x89PNG\r\n\x1a\n\0")
    answer = program("body", path, "--csv", source, "--save", path)
    assert answer.is_told_as_it_should_be
    assert path.read_bytes() == before


def test_an_added_body_may_begin_as_a_copy(capsys, tmp_path):
    path = measured(tmp_path)
    assert command(capsys, "body", path, "--add", "Pike", "--copy", "--save", path).code == 0
    assert dict(loaded(path).body) == {"bust_girth_mm": 920.0, "hip_girth_mm": 980.0}
    assert set(loaded(path).bodies) == {"Unnamed", "Pike"}
    assert "--add NAME" in command(capsys, "body", path, "--copy").err
