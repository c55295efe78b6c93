"""Drafting from the command line: numbers and calculation told, recipes read, refusals in words."""

from __future__ import annotations

import json

import pytest

from tests.cli.program import command, edits_file, loaded, saved
from tests.drafting.making import BODY, block
from wedgework.drafting import KINDS, drafted
from wedgework.pattern.document import Project

SKIRT = {"waist_mm": 700, "length_mm": 300, "visible_mm": 33}
COLLAR = {
    "edit": "draft",
    "kind": "collar",
    "numbers": {"neckline": ["-front.neck", "-back.neck"], "width_mm": 60},
}


def numbers_file(folder, numbers):
    path = folder / "numbers.json"
    path.write_text(numbers if isinstance(numbers, str) else json.dumps(numbers))
    return path


def drafting(capsys, folder, kind, numbers, *more):
    numbers = numbers_file(folder, numbers)
    return command(
        capsys, "draft", kind, "--numbers", numbers, "--save", folder / "out.wedge", *more
    )


def test_drafting_prints_every_line_of_the_calculation(capsys, tmp_path):
    said = drafting(capsys, tmp_path, "pleated_skirt", SKIRT).out
    _, draft = drafted(Project(), "pleated_skirt", SKIRT)
    assert draft.steps
    assert all(line in said for line in draft.steps)


def test_drafting_pleats_prints_what_other_numbers_of_them_would_give(capsys, tmp_path):
    said = drafting(capsys, tmp_path, "pleated_skirt", SKIRT).out
    rows = [line.split() for line in said[said.index("Other numbers") :].splitlines()[2:]]
    assert [row[0] for row in rows] == [str(count) for count in range(17, 26)]
    # 700 / 25 = 28 and 3 x 700 = 2100.
    assert rows[-1] == ["25", "28.00", "2100.0", "3"]


def test_drafting_answers_as_plain_data_with_what_was_made_and_its_numbers(capsys, tmp_path):
    answer = drafting(capsys, tmp_path, "pleated_skirt", SKIRT, "--json").json
    assert set(answer) == {"made", "numbers"}
    assert answer["numbers"]["pleats"] == 21
    assert answer["made"] == list(loaded(tmp_path / "out.wedge").pieces)


@pytest.mark.parametrize(
    "numbers",
    ["[]", "{", '{"waist_mm": "wide", "length_mm": 3}', '{"waist_mm": NaN, "length_mm": 3}',
     '{"waist_mm": 700, "length_mm": 300, "pleats": 0}', '{"waist": 700}',
     '{"waist_mm": 1e400, "length_mm": 300, "pleats": 4}'],
)  # fmt: skip
def test_numbers_that_cannot_be_are_refused_in_words(capsys, tmp_path, numbers):
    answer = drafting(capsys, tmp_path, "pleated_skirt", numbers)
    assert answer.is_told_as_it_should_be
    assert not (tmp_path / "out.wedge").exists()


def test_numbers_may_be_typed_with_their_units_and_go_over_those_of_the_file(capsys, tmp_path):
    out = tmp_path / "out.wedge"
    typed = ("--set", "waist=28 in - 11.2", "--set", "length=30cm", "--set", "pleats=20")
    alone = command(capsys, "draft", "pleated_skirt", *typed, "--save", out, "--json").json
    assert alone["numbers"]["waist_mm"] == pytest.approx(700.0)
    assert alone["numbers"]["back_length_mm"] == 300.0
    file = {"waist_mm": 700, "length_mm": 1, "hem_mm": 9}
    typed = ("--set", "length=30cm", "--set", "hem_mm=1500", "--json")
    over = drafting(capsys, tmp_path, "flared_skirt", file, *typed).json
    assert over["numbers"]["hem_mm"] == pytest.approx(1500)
    tube = ("--set", "opening=front.armhole, back.armhole", "--set", "diameter=12",
        "--set", "cut_longer=yes", "--set", "core=14")  # fmt: skip
    suit = saved(tmp_path / "suit.wedge", block())
    told = command(capsys, "draft", "tube", *tube, "--into", suit, "--json").json["numbers"]
    assert told["cut_length_mm"] == pytest.approx(told["strip_length_mm"])


@pytest.mark.parametrize(
    ("setting", "why"),
    [
        ("waist", "says no number"),
        ("waste=700", "Did you mean “waist”"),
        ("waist=wide", "wide"),
        ("waist=0", "above 0"),
        ("pleats=7.5", "whole number"),
        ("style=sunray", "box, inverted, knife"),
    ],
)
def test_settings_that_say_no_number_are_refused_in_words(capsys, tmp_path, setting, why):
    typed = ("--set", "length=300", "--set", "waist=700", "--set", "pleats=20", "--set", setting)
    answer = command(capsys, "draft", "pleated_skirt", *typed, "--save", tmp_path / "out.wedge")
    assert answer.is_told_as_it_should_be
    assert why in answer.err
    assert not (tmp_path / "out.wedge").exists()


def test_every_kind_is_listed_with_its_numbers(capsys):
    listed = command(capsys, "drafts", "--json").json
    assert [row["kind"] for row in listed] == [kind.name for kind in KINDS]
    said = command(capsys, "drafts", "collar").out
    assert all(one["name"] in said for one in listed[1]["numbers"])


def test_info_tells_recipe_sources_and_what_was_changed_by_hand(capsys, tmp_path):
    file = saved(tmp_path / "suit.wedge", block())
    lower = {"edit": "move_corner", "corner": "front.c7", "by_mm": [0, -15]}
    by_hand = {"edit": "set_allowance", "edges": ["collar.outer"], "mm": 6}
    edits = edits_file(tmp_path / "e.json", COLLAR, by_hand, lower)
    assert command(capsys, "edit", file, "--do", edits, "--save", file).code == 0
    pieces = {row["id"]: row for row in command(capsys, "info", file, "--json").json["pieces"]}
    recipe = pieces["collar"]["recipe"]
    assert recipe["kind"] == "collar"
    assert recipe["numbers"].items() >= COLLAR["numbers"].items()
    assert recipe["hand_edits"] == ["set_allowance"]
    by_mm = sum(one["now_mm"] - one["then_mm"] for one in recipe["sources"])
    assert recipe["out_of_date_mm"] == pytest.approx(by_mm)
    assert by_mm > 5
    again = edits_file(tmp_path / "a.json", {"edit": "draft_again", "piece": "collar"})
    assert command(capsys, "edit", file, "--do", again, "--save", file).code == 0
    rows = command(capsys, "info", file, "--json").json["pieces"]
    now = next(row["recipe"] for row in rows if row["id"] == "collar")
    assert now["out_of_date_mm"] == pytest.approx(0.0, abs=1e-9)
    assert now["hand_edits"] == ["set_allowance"]
    assert now["refused"] == []


def test_a_block_is_drafted_into_a_project_and_its_body_is_kept(capsys, tmp_path):
    assert drafting(capsys, tmp_path, "body_block", BODY).code == 0
    assert dict(loaded(tmp_path / "out.wedge").body) == BODY
