"""Kill -9 at the worst moments, in a real process: nothing that was kept is lost."""

from __future__ import annotations

import signal
import subprocess
import sys

import pytest

from tests import small
from tests.edits.checking import described
from wedgework.bench import Bench, NotSaved
from wedgework.bench.journal import beside
from wedgework.edits import decode_plain
from wedgework.files.wedge import read_wedge, write_wedge

BEGIN = """
import os, signal, sys
from pathlib import Path
from wedgework.bench import Bench, Hand, Move, Press, Release
from wedgework.edits import decode_plain
from wedgework.files import atomic

def die(*_):
    os.kill(os.getpid(), signal.SIGKILL)

def move(x):
    return decode_plain({"edit": "move_corner", "corner": "p.c2", "by_mm": [x, 0.0]})

bench = Bench(state_folder=Path(sys.argv[2]))
bench.open(Path(sys.argv[1]))
bench.do(move(10.0))
bench.do(move(20.0))
"""
BETWEEN_TWO_EDITS = "die()"
DURING_A_DRAG = """
hand = Hand(bench)
hand.does(Press((130.0, 0.0), 0.5))
hand.does(Move((150.0, 5.0), 0.5))
assert bench.is_previewing
die()
"""
BEFORE_THE_RENAME = """
Path.replace = die
bench.save()
"""
WHILE_THE_FILE_IS_WRITTEN = """
atomic.os.fsync = die
bench._keeper._append = lambda _: None
bench.save()
"""
AFTER_THE_RENAME = """
replace = Path.replace
def then_die(*paths):
    replace(*paths)
    die()
Path.replace = then_die
bench.save()
"""
IN_A_LINE_OF_THE_JOURNAL = """
from wedgework.bench import journal
def half(handle, line):
    os.write(handle, line[: len(line) // 2])
    die()
journal._write_all = half
bench.do(move(40.0))
"""


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "suit.wedge"
    path.write_bytes(write_wedge(small.square()))
    return path


def kill(path, moment):
    script = BEGIN + moment
    words = [sys.executable, "-c", script, path, path.parent / "state"]
    done = subprocess.run(words, capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == -signal.SIGKILL, done.stderr


def moved(*steps):
    project = small.square()
    for x in steps:
        edit = decode_plain({"edit": "move_corner", "corner": "p.c2", "by_mm": [x, 0.0]})
        project = edit.apply(project)
    return described(project)


@pytest.mark.parametrize(
    "moment",
    [
        BETWEEN_TWO_EDITS,
        DURING_A_DRAG,
        BEFORE_THE_RENAME,
        WHILE_THE_FILE_IS_WRITTEN,
        IN_A_LINE_OF_THE_JOURNAL,
    ],
    ids=["between two edits", "drag", "before the rename", "while writing", "in a line"],
)
def test_the_saved_file_is_whole_and_the_steps_come_back(path, moment):
    before = path.read_bytes()
    kill(path, moment)
    assert path.read_bytes() == before
    bench = Bench(state_folder=path.parent / "state")
    with pytest.raises(NotSaved):
        bench.open(path)
    assert bench.open(path, "take") is None
    assert described(bench.project) == moved(10.0, 20.0)


def test_killed_between_the_rename_and_the_new_journal_all_is_saved(path):
    kill(path, AFTER_THE_RENAME)
    assert described(read_wedge(path.read_bytes())) == moved(10.0, 20.0)
    bench = Bench(state_folder=path.parent / "state")
    bench.open(path)
    assert bench.history == ()
    assert not bench.is_dirty


def test_a_program_that_was_killed_holds_no_lock(path):
    kill(path, BETWEEN_TWO_EDITS)
    bench = Bench(state_folder=path.parent / "state")
    bench.open(path, "drop")
    bench.close()
    assert not beside(path).exists()
