"""The program as a whole: exit codes, help, faults in a sentence, pipes that break, Ctrl-C."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests import small
from tests.cli.program import command, names_in, program, saved
from wedgework import cli
from wedgework.commands import COMMANDS


@pytest.fixture
def square(tmp_path):
    return saved(tmp_path / "square.wedge", small.square())


def test_help_names_every_command(capsys):
    answer = command(capsys, "--help")
    assert answer.code == 0
    assert all(f"  {row.name} " in answer.out for row in COMMANDS)


@pytest.mark.parametrize("name", [row.name for row in COMMANDS])
def test_every_command_has_help_of_its_own(capsys, name):
    answer = command(capsys, name, "--help")
    assert answer.code == 0
    assert answer.out.startswith("usage: wedgework " + name) or "not there yet" in answer.out


def test_the_version_is_told(capsys):
    assert command(capsys, "--version").out.startswith("Wedgework ")


@pytest.mark.parametrize(
    "words",
    [
        ["info"],
        ["info", "a", "b"],
        ["info", "--what"],
        ["edit", "x.wedge"],
        ["nonsense"],
        ["--nonsense"],
        ["nonsense.wedge", "more"],
        ["new", "x.wedge", "--from", "x.svg", "--unit", "yard"],
        ["new", "x.wedge", "--from", "x.svg", "--corner", "0"],
        ["new", "x.wedge", "--from", "x.svg", "--corner", "blunt"],
        ["new", "x.wedge", "--from", "x.svg", "--line", "middle"],
        ["new", "x.wedge", "--from", "x.svg", "--line", "cut:-3"],
        ["new", "x.wedge", "--from", "x.wedge"],
        ["new", "x.svg", "--from", "y.svg"],
        ["export", "x.wedge", "y.pdf", "--paper", "napkin"],
        ["export", "x.wedge", "y.wedge"],
        ["draft", "collar", "--numbers", "n.json", "--save", "x.wedge", "--json"],
        ["form", "x.wedge"],
        ["lay", "x.wedge", "--seconds", "3", "--save", "y.wedge"],
        ["order", "x.wedge", "--json"],
        ["", ""],
        ["info", ""],
        ["info", "\0"],
    ],
)
def test_a_fault_of_usage_is_told_in_a_line_or_three(capsys, words):
    answer = command(capsys, *words)
    assert answer.is_told_as_it_should_be
    assert answer.out == ""


def test_a_command_with_a_slip_is_answered_with_the_nearest(capsys):
    assert "“check”" in command(capsys, "chekc").err


def test_a_fault_of_ours_is_a_sentence_too(capsys, square, monkeypatch):
    def broken(_words):
        raise RuntimeError("a wheel\nis loose")

    monkeypatch.setattr(cli, "_run", broken)
    answer = command(capsys, "info", square)
    assert answer.is_told_as_it_should_be
    assert "a wheel is loose" in answer.err


def test_a_fault_of_ours_shows_where_it_happened_if_asked(capsys, monkeypatch):
    def broken(_words):
        raise RuntimeError("a wheel is loose")

    monkeypatch.setattr(cli, "_run", broken)
    monkeypatch.setenv(cli.SHOW_TRACEBACK, "1")
    assert "Traceback" in command(capsys, "info").err


def test_a_reader_that_goes_early_is_no_fault(square):
    # The reader closes its end before a single byte is written.
    read, write = os.pipe()
    os.close(read)
    words = [sys.executable, "-m", "wedgework", "info", square, "--json"]
    done = subprocess.run(words, stdout=write, stderr=subprocess.PIPE, check=False)
    os.close(write)
    assert (done.returncode, done.stderr) == (0, b"")


def test_a_reader_that_goes_early_changes_no_exit_code(tmp_path):
    apart = saved(tmp_path / "apart.wedge", small.two_panels(100, 97))
    read, write = os.pipe()
    os.close(read)
    words = [sys.executable, "-m", "wedgework", "check", apart]
    done = subprocess.run(words, stdout=write, stderr=subprocess.PIPE, check=False)
    os.close(write)
    assert (done.returncode, done.stderr) == (1, b"")


def test_a_full_disk_behind_stdout_is_told(square):
    if not Path("/dev/full").exists():
        return
    with open("/dev/full", "wb") as full:  # noqa: PTH123
        words = [sys.executable, "-m", "wedgework", "info", square]
        done = subprocess.run(words, stdout=full, stderr=subprocess.PIPE, check=False)
    assert done.returncode == 2
    assert b"cannot be written" in done.stderr
    assert b"Traceback" not in done.stderr
    assert b"Exception ignored" not in done.stderr


def test_a_terminal_of_another_alphabet_gets_no_error(square):
    environment = os.environ | {"PYTHONIOENCODING": "ascii"}
    answer = program("info", square, env=environment)
    assert answer.code == 0
    assert "area cm?" in answer.out


def test_stdout_and_stderr_may_be_closed(square):
    line = f'exec "{sys.executable}" -m wedgework info "{square}" >&- 2>&-'
    assert subprocess.run(["sh", "-c", line], check=False).returncode == 0


def test_ctrl_c_ends_with_130_and_leaves_nothing(square, tmp_path):
    # It waits for edits from a pipe, which never come; opening that lets both sides go on.
    pipe = tmp_path / "edits"
    os.mkfifo(pipe)
    words = [sys.executable, "-m", "wedgework", "edit", square, "--do", pipe, "--save",
        tmp_path / "out.wedge"]  # fmt: skip
    running = subprocess.Popen(words, stdin=subprocess.DEVNULL, stderr=subprocess.PIPE)
    with pipe.open("wb"):
        running.send_signal(signal.SIGINT)
        _, told = running.communicate(timeout=20)
    assert running.returncode == 130
    assert b"Traceback" not in told
    assert names_in(tmp_path) == ["edits", "square.wedge"]


def test_ctrl_c_while_it_starts_ends_with_130_too(square):
    codes = set()
    for pause in (0.05, 0.08, 0.12, 0.16):
        words = [sys.executable, "-m", "wedgework", "info", square]
        running = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        time.sleep(pause)
        running.send_signal(signal.SIGINT)
        _, told = running.communicate(timeout=20)
        codes.add(running.returncode)
        # Before our own first line runs, Python itself is what Ctrl-C ends.
        assert b"wedgework/commands" not in told
    assert codes <= {0, 130, -signal.SIGINT, 1}
