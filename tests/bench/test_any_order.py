"""Edits, undo, redo, saves and crashes in any order: the project is always where it should be."""

from __future__ import annotations

import tempfile
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from tests import small
from tests.edits.checking import described
from wedgework.bench import Bench
from wedgework.bench.journal import beside
from wedgework.edits import decode_plain
from wedgework.files.wedge import read_wedge, write_wedge

HEIGHTS = st.sampled_from([0.1, 1 / 3, 2.0, 7.5])


class AtTheBench(RuleBasedStateMachine):
    """Beside the bench runs a list of what the project must be after each step."""

    def __init__(self):
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.path = Path(self.folder.name) / "suit.wedge"
        self.path.write_bytes(write_wedge(small.square()))
        self.bench = self.opened()
        self.states, self.at = [described(self.bench.project)], 0
        self.saved = self.states[0]

    def opened(self, recovery="ask"):
        bench = Bench(state_folder=Path(self.folder.name) / "state")
        bench.open(self.path, recovery)
        return bench

    @rule(by=HEIGHTS, corner=st.sampled_from(["p.c1", "p.c2", "p.c3"]))
    def edit(self, by, corner):
        edit = {"edit": "move_corner", "corner": corner, "by_mm": [0.0, by]}
        if self.bench.do(decode_plain(edit)):
            self.at += 1
            self.states[self.at :] = [described(self.bench.project)]

    @rule()
    def undo(self):
        assert self.bench.undo() == (self.at > 0)
        self.at = max(self.at - 1, 0)

    @rule()
    def redo(self):
        assert self.bench.redo() == (self.at < len(self.states) - 1)
        self.at = min(self.at + 1, len(self.states) - 1)

    @rule(by=HEIGHTS)
    def preview(self, by):
        edit = {"edit": "move_corner", "corner": "p.c4", "by_mm": [by, 0.0]}
        assert self.bench.preview(decode_plain(edit))

    @rule()
    def drop(self):
        self.bench.drop_preview()
        assert self.bench.shown is self.bench.project

    @rule()
    def save(self):
        self.bench.save()
        self.saved = self.states[self.at]
        assert described(read_wedge(self.path.read_bytes())) == self.saved

    @rule()
    def crash(self):
        self.bench._keeper._journal.close(remove=False)
        self.bench = self.opened("take")
        # What came before the last save, or before a step back beyond it, cannot be undone.
        done, undone = len(self.bench.history), len(self.bench.undone)
        self.states = self.states[self.at - done : self.at + undone + 1]
        self.at = done

    @precondition(lambda self: self.bench.is_dirty)
    @rule()
    def give_up(self):
        self.bench.close()
        assert not beside(self.path).exists()
        self.bench = self.opened()
        self.states, self.at = [self.saved], 0

    @invariant()
    def the_project_is_where_it_should_be(self):
        assert described(self.bench.project) == self.states[self.at]
        assert len(self.bench.history) == self.at
        assert len(self.bench.undone) == len(self.states) - 1 - self.at

    @invariant()
    def what_the_file_does_not_hold_makes_it_dirty(self):
        if self.states[self.at] != self.saved:
            assert self.bench.is_dirty

    def teardown(self):
        self.bench.close()
        self.folder.cleanup()


TestAtTheBench = AtTheBench.TestCase
TestAtTheBench.settings = settings(max_examples=7, stateful_step_count=20, deadline=None)
