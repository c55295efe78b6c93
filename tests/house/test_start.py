"""The door for someone who knows no Python."""

from __future__ import annotations

import ast
import importlib.util
import runpy
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from tests.house.source import TOP
from wedgework.files.wedge import read_wedge
from wedgework.pattern.seams import measure_seam

START = TOP / "desktop" / "start.py"


@pytest.fixture
def door(tmp_path, monkeypatch):
    """The module, looking at an empty folder instead of the project, noting what it would do."""
    spec = importlib.util.spec_from_file_location("door", START)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    monkeypatch.setattr(module, "TOP", tmp_path)
    monkeypatch.setattr(module, "ENVIRONMENT", tmp_path / ".venv")
    monkeypatch.setattr(module, "PYTHON", tmp_path / ".venv" / "python")
    monkeypatch.setattr(module, "STAMP", tmp_path / ".venv" / "stamp.json")
    module.done = []
    monkeypatch.setattr(module, "make_environment", lambda: pretend_to_make(module))
    monkeypatch.setattr(module, "environment_lives", module.PYTHON.exists)
    monkeypatch.setattr(module, "subprocess", SimpleNamespace(run=lambda *a, **_: ran(module, a)))
    (tmp_path / "pyproject.toml").write_text("first", encoding="utf-8")
    return module


def pretend_to_make(module):
    module.done.append("make")
    module.ENVIRONMENT.mkdir(exist_ok=True)
    module.PYTHON.write_text("", encoding="utf-8")


def ran(module, arguments):
    module.done.append(arguments[0][-1])
    return SimpleNamespace(returncode=0)


def test_help_names_what_can_be_asked():
    command = [sys.executable, START, "--help"]
    answer = subprocess.run(command, check=True, capture_output=True, text=True)
    assert all(word in answer.stdout for word in ("test", "speed", "slow", "check FILE"))


def test_the_first_start_opens_the_suit_that_the_readme_walks_on(door, monkeypatch):
    monkeypatch.setattr(door, "TOP", TOP)
    (path,) = door.first_demo()
    project = read_wedge(Path(path).read_bytes())
    (chest,) = (one for one in project.seams.values() if one.name == "chest seam")
    assert measure_seam(project, chest).shaping_rad == pytest.approx(0.0, abs=1e-9)


def test_an_older_python_can_read_the_door():
    assert ast.parse(START.read_text(encoding="utf-8"), feature_version=(3, 7))


def test_an_older_python_is_told_so_in_one_line(monkeypatch, capsys):
    monkeypatch.setattr(sys, "version_info", (3, 9, 2, "final", 0))
    with pytest.raises(SystemExit) as end:
        runpy.run_path(str(START))
    assert end.value.code == 2
    assert capsys.readouterr().err == "Wedgework needs Python 3.11 or newer, and this is 3.9.\n"


def test_a_first_start_makes_the_environment_and_installs(door):
    door.prepare()
    assert door.done == ["make", str(door.TOP)]


def test_a_second_start_runs_nothing(door):
    door.prepare()
    door.prepare()
    assert door.done == ["make", str(door.TOP)]


def test_asking_for_the_tests_later_adds_what_they_need(door):
    door.prepare()
    door.prepare("test")
    assert door.done[2:] == [f"{door.TOP}[test]"]


def test_a_start_after_the_tests_keeps_what_they_need(door):
    door.prepare("test")
    door.prepare()
    assert door.done == ["make", f"{door.TOP}[test]"]


def test_a_changed_project_file_installs_again_with_all_there_was(door):
    door.prepare("test")
    (door.TOP / "pyproject.toml").write_text("second", encoding="utf-8")
    door.prepare()
    assert door.done[2:] == [f"{door.TOP}[test]"]


def test_a_broken_stamp_installs_again(door):
    door.prepare()
    door.STAMP.write_text("{", encoding="utf-8")
    door.prepare()
    assert door.done == ["make", str(door.TOP), str(door.TOP)]


def test_an_installation_that_fails_leaves_no_stamp(door, monkeypatch):
    monkeypatch.setattr(door.subprocess, "run", lambda *_a, **_k: SimpleNamespace(returncode=1))
    with pytest.raises(door.CannotStart, match="did not finish"):
        door.prepare()
    assert not door.STAMP.exists()


def test_a_missing_library_is_named_with_the_line_that_installs_it(door, monkeypatch):
    monkeypatch.setattr(door, "LIBRARIES", {"libnot-here.so.9": "libnot-here9"})
    monkeypatch.setattr(door, "is_debian", lambda: True)
    monkeypatch.setattr(door.sys, "platform", "linux")
    with pytest.raises(door.CannotStart, match=r"\n  sudo apt install libnot-here9$"):
        door.look_for_libraries()


def test_on_another_system_a_missing_library_is_named_in_words(door, monkeypatch):
    monkeypatch.setattr(door, "LIBRARIES", {"libnot-here.so.9": "libnot-here9"})
    monkeypatch.setattr(door, "is_debian", lambda: False)
    monkeypatch.setattr(door.sys, "platform", "linux")
    with pytest.raises(door.CannotStart, match=r"libnot-here\.so\.9.*package manager"):
        door.look_for_libraries()


def test_a_window_without_a_screen_is_refused_before_anything_is_installed(door, monkeypatch):
    monkeypatch.setattr(door.sys, "platform", "linux")
    monkeypatch.setattr(door, "LIBRARIES", {})
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    assert door.main(["suit.wedge"]) == 2
    assert door.done == []


def test_the_steps_pass_on_the_first_bad_exit_code(door, monkeypatch):
    codes = iter([0, 3, 5])
    run = lambda *_a, **_k: SimpleNamespace(returncode=next(codes))  # noqa: E731
    monkeypatch.setattr(door.subprocess, "run", run)
    assert door.run_steps([["a"], ["b"], ["c"]]) == 3
