"""The status line: a refusal stays while it holds, and goes after a while where it is over."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLabel

from tests import small
from tests.bench.hands import click, hand_on, move, play
from wedgework.bench import Cancel
from wedgework.edits import decode_plain
from wedgework.edits.names import Rename
from wedgework.window import status
from wedgework.window.preferences import Wishes

SHORT_MS = 30


@pytest.fixture
def line(window, monkeypatch):
    """A status line whose messages are over soon, and what stands in it."""
    monkeypatch.setattr(status, "REFUSED_MS", SHORT_MS)
    bar = window.statusBar()
    shown = status.Status(bar, Wishes())
    return shown, shown._hint.text


def slash_to_the_fold():
    """A hand that draws a slash open whose hinge lies on a fold, which is refused."""
    hand = hand_on(small.fold_front(), "slash")
    click(hand, 100, 50)
    click(hand, 0, 50)
    return play(hand, move(50, 70))


def test_a_refusal_stays_as_long_as_the_hand_rests_on_it(line, qtbot):
    shown, text = line
    hand = slash_to_the_fold()
    shown.show_hint(hand)
    qtbot.wait(4 * SHORT_MS)
    assert "is the fold of piece" in text()
    play(hand, Cancel())
    shown.show_hint(hand)
    assert "is the fold of piece" not in text()


def test_a_refusal_of_what_is_over_goes_after_a_while(line, qtbot):
    shown, text = line
    shown.show_hint(hand_on(small.fold_front(), "slash"))
    shown.refuse("Choose a seam first.")
    qtbot.waitUntil(lambda: "Choose a seam" not in text())


def test_what_was_said_of_a_step_goes_when_it_is_taken_back(window):
    bench = window.bench
    bench.new(small.two_panels())
    bench.do(Rename(id="a", name="wing"))
    window.status.say("Drafted. Ctrl+Z takes it back.")
    bench.undo()
    assert "Drafted" not in window.status._hint.text()


def test_a_refusal_of_a_forms_letter_goes_with_the_next_one_that_can_be_done(window):
    window.bench.new(small.square())
    say = window.statusBar().findChildren(QLabel)[0].text
    too_far = decode_plain({"edit": "split_edge", "edge": "p.e1", "at_mm": 1000.0})
    window.bench.preview(too_far)
    assert say().startswith("⊘")
    window.bench.preview(decode_plain({"edit": "split_edge", "edge": "p.e1", "at_mm": 10.0}))
    assert not say().startswith("⊘")
