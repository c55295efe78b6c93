"""`edit` and `edits`: all or nothing, and what was made."""

from __future__ import annotations

import json
import stat
import subprocess
import sys

import pytest

from tests import small
from tests.cli.program import command, edits_file, loaded, may_do_anything, names_in, program, saved

SPLIT = {"edit": "split_edge", "edge": "p.e1", "at_mm": 40}
RENAME = {"edit": "rename", "id": "p", "name": "front"}
UNKNOWN = {"edit": "split_edge", "edge": "nowhere", "at_mm": 40}


@pytest.fixture
def square(tmp_path):
    return saved(tmp_path / "square.wedge", small.square())


def edit(capsys, square, *edits, save="out.wedge", more=()):
    do = edits_file(square.with_name("edits.json"), *edits)
    return command(capsys, "edit", square, "--do", do, "--save", square.parent / save, *more)


def test_the_real_program_edits_and_answers_what_was_made(square, tmp_path):
    do = edits_file(tmp_path / "edits.json", SPLIT, RENAME)
    out = tmp_path / "out.wedge"
    answer = program("edit", square, "--do", do, "--save", out, "--json")
    made = answer.json["made"]
    assert answer.code == 0
    assert answer.json["removed"] == [["p.e1"], []]
    assert len(made) == 2
    assert set(made[0]) <= set(loaded(out).owners)
    assert loaded(out).pieces["p"].name == "front"


def test_edits_come_from_stdin_too(square, tmp_path):
    out = tmp_path / "out.wedge"
    answer = program("edit", square, "--do", "-", "--save", out, stdin=json.dumps([RENAME]))
    assert answer.code == 0
    assert loaded(out).pieces["p"].name == "front"


def test_one_bad_edit_saves_nothing(capsys, square):
    answer = edit(capsys, square, RENAME, UNKNOWN)
    assert answer.is_told_as_it_should_be
    assert "Edit 2 (split_edge): " in answer.err
    assert "nowhere" in answer.err
    assert not square.with_name("out.wedge").exists()


def test_a_refused_edit_leaves_an_existing_target_as_it_was(capsys, square):
    before = square.read_bytes()
    answer = edit(capsys, square, UNKNOWN, save=square.name)
    assert answer.code == 2
    assert square.read_bytes() == before


def test_the_input_file_may_be_the_target(capsys, square):
    assert edit(capsys, square, RENAME, save=square.name).code == 0
    assert loaded(square).pieces["p"].name == "front"


def test_saving_keeps_the_mode_of_the_file(capsys, square):
    square.chmod(0o640)
    edit(capsys, square, RENAME, save=square.name)
    assert stat.S_IMODE(square.stat().st_mode) == 0o640


def test_no_edits_are_a_copy(capsys, square):
    assert edit(capsys, square).code == 0
    assert square.with_name("out.wedge").read_bytes() == square.read_bytes()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "JSON"),
        ('{"edit": "rename"}', "list"),
        ('[{"edit": "renam", "id": "p", "name": "x"}]', "rename"),
        ('[{"edit": "rename", "id": "p", "name": "x", "colour": "red"}]', "colour"),
        ('[{"edit": "rename", "id": 7, "name": "x"}]', "id"),
        ('[{"edit": "move_corner", "corner": "p.c1", "by_mm": [NaN, 0]}]', "NaN"),
        ('[{"edit": "move_corner", "corner": "p.c1", "by_mm": [1e999, 0]}]', "by_mm"),
        ('[{"edit": "move_corner", "corner": "p.c1"}]', "by_mm"),
        ("[" * 100_000, "deep"),
        ("", "JSON"),
    ],
)
def test_what_is_no_list_of_edits_is_refused_by_name(capsys, square, text, said):
    do = square.with_name("edits.json")
    do.write_text(text)
    answer = command(capsys, "edit", square, "--do", do, "--save", square.with_name("out.wedge"))
    assert answer.is_told_as_it_should_be
    assert said in answer.err
    assert not square.with_name("out.wedge").exists()


@pytest.mark.parametrize("name", ["out.svg", "out", ".wedge.txt"])
def test_a_project_is_saved_under_its_own_suffix_only(capsys, square, name):
    assert edit(capsys, square, RENAME, save=name).is_told_as_it_should_be


def test_a_folder_is_no_target(capsys, square):
    square.with_name("folder.wedge").mkdir()
    assert edit(capsys, square, RENAME, save="folder.wedge").is_told_as_it_should_be


def test_a_folder_that_is_not_there_is_no_target(capsys, square):
    assert edit(capsys, square, RENAME, save="nowhere/out.wedge").is_told_as_it_should_be


def test_a_project_of_a_newer_version_is_not_overwritten(capsys, square):
    newer = square.with_name("newer.wedge")
    newer.write_text('{"format": "wedgework", "version": 999, "pieces": []}')
    answer = edit(capsys, square, RENAME, save="newer.wedge")
    assert answer.is_told_as_it_should_be
    assert "newer" in answer.err
    assert "999" in newer.read_text()


def test_a_write_protected_file_is_not_overwritten(capsys, square):
    protected = square.with_name("out.wedge")
    protected.write_bytes(square.read_bytes())
    protected.chmod(0o444)
    answer = edit(capsys, square, RENAME)
    if may_do_anything():  # no mode stops this user: then it is written, and whole
        assert loaded(protected).pieces["p"].name == "front"
    else:
        assert answer.is_told_as_it_should_be


def test_a_full_disk_leaves_the_target_as_it_was(square, tmp_path):
    out = saved(tmp_path / "out.wedge", small.square(50))
    before = out.read_bytes()
    limit = "import resource, signal, sys; signal.signal(signal.SIGXFSZ, signal.SIG_IGN); " \
        "resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100)); " \
        "from wedgework.cli import main; sys.exit(main(sys.argv[1:]))"  # fmt: skip
    do = edits_file(tmp_path / "edits.json", RENAME)
    words = [sys.executable, "-B", "-c", limit, "edit", square, "--do", do, "--save", out]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert out.read_bytes() == before
    assert names_in(tmp_path) == ["edits.json", "out.wedge", "square.wedge"]


def test_edits_lists_every_edit_with_its_arguments(capsys):
    rows = {row["edit"]: row for row in command(capsys, "edits", "--json").json}
    move = {one["name"]: one for one in rows["move_corner"]["arguments"]}
    assert rows["move_corner"]["meaning"]
    assert move["by_mm"]["unit"] == "mm"
    assert move["by_mm"]["needed"]


def test_one_edit_can_be_asked_for(capsys):
    assert command(capsys, "edits", "join").out.startswith("join (Join)")


def test_an_edit_that_is_not_there_is_refused_with_the_nearest(capsys):
    answer = command(capsys, "edits", "joim")
    assert answer.is_told_as_it_should_be
    assert "“join”" in answer.err


def test_each_edit_tells_its_subject_its_key_and_an_example_that_replays(capsys):
    rows = command(capsys, "edits", "pivot_dart", "--json").json
    assert rows[0]["subject"] == "Darts"
    assert rows[0]["example"][-1]["edit"] == "pivot_dart"


def test_a_hold_that_an_edit_cannot_keep_is_told(capsys, tmp_path):
    cap = saved(tmp_path / "square.wedge", small.cap_and_ring())
    drag = {"edit": "move_corner", "corner": "strip.c2", "by_mm": [9, 0]}
    answer = edit(capsys, cap, RENAME, drag, more=("--json",))
    assert answer.json["let_go"] == [[], ["cap.hold"]]
    assert answer.json["removed"] == [[], ["cap.hold"]]
    assert "Edit 2: The hold on “cap” was let go." in edit(capsys, cap, RENAME, drag).out
