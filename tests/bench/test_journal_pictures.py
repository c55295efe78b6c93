"""A photograph stands in the journal once, whatever is done and undone after it."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from tests import small
from tests.edits.checking import described
from tests.edits.test_pictures import png
from wedgework.bench import Bench
from wedgework.bench.journal import beside, whole, with_pictures
from wedgework.edits.pictures import AddPicture, MovePicture, RemovePicture
from wedgework.files.wedge import read_wedge

# A picture of many bytes: what follows its end is kept, and does not pack.
DATA = png() + np.random.default_rng(3).bytes(300_000)
ADD = AddPicture(name="pike", data=DATA)


@pytest.fixture
def bench(tmp_path):
    made = Bench(small.square(), state_folder=tmp_path / "state")
    made.save(tmp_path / "suit.wedge")
    return made


def step(number):
    return MovePicture(picture="pike", by_mm=(1.0 + number, 0.0))


def journal_size(bench):
    return beside(bench.path).stat().st_size


def crashed(bench):
    """What another start of the program finds."""
    bench._keeper._journal.close(remove=False)
    after = Bench(state_folder=bench.state_folder)
    after.open(bench.path, "take")
    return after


def test_moves_and_undos_do_not_write_it_again(bench):
    bench.do(ADD)
    once = journal_size(bench)
    for number in range(5):
        bench.do(step(number))
    for _ in range(3):
        bench.undo()
    assert journal_size(bench) - once < 4000
    expected = described(bench.project)
    after = crashed(bench)
    assert described(after.project) == expected
    after.close()


def test_steps_back_beyond_a_save_name_it_only(bench):
    bench.do(ADD)
    for number in range(5):
        bench.do(step(number))
    bench.save()
    for _ in range(4):
        bench.undo()
    assert journal_size(bench) < len(DATA) / 5
    expected = described(bench.project)
    after = crashed(bench)
    assert described(after.project) == expected
    assert after.project.pictures["pike"].data == DATA
    after.close()


def test_one_that_the_file_no_longer_holds_is_written_once(bench):
    bench.do(ADD)
    bench.do(step(1))
    bench.do(RemovePicture(picture="pike"))
    bench.save()
    for _ in range(2):
        bench.undo()
    assert len(DATA) < journal_size(bench) < 2 * len(DATA)
    after = crashed(bench)
    assert after.project.pictures["pike"].data == DATA
    after.close()


def test_one_whose_bytes_are_nowhere_is_left_out():
    project = ADD.apply(small.square())
    entry = json.loads(whole(project, {"other"}))
    assert entry["pictures"] == {}
    bare = replace(project, pictures=project.pictures.with_rows(
        {"pike": replace(project.pictures["pike"], data=b"")}))  # fmt: skip
    assert not with_pictures(bare, {"pike": "gone"}, {}).pictures
    assert read_wedge(entry["whole"].encode()).pictures["pike"].data == DATA
