"""On a small screen no word is cut off and nothing scrolls sideways, in steps and in drafting."""

from __future__ import annotations

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLabel, QScrollArea, QWidget

from wedgework.bench import STEPS
from wedgework.drafting import KINDS
from wedgework.edits import EDITS
from wedgework.resources import demo_path
from wedgework.window.panels.short import ShortLabel

LEAST_SHORT_PX = 64
"""Words that may be cut short, with the whole of them in the tip, still tell what they are."""


@pytest.fixture(params=["light", "dark"])
def at_demo(make, request):
    """The window with the shaped suit, in both schemes."""
    window = make(request.param)
    window.filing.open(demo_path("kingfisher_shaped.wedge"))
    QTest.qWait(100)
    return window


def cut_off(top: QWidget) -> list[str]:
    """Words and buttons that are smaller than what they say."""
    shown = [
        one
        for kind in (QLabel, QAbstractButton)
        for one in top.findChildren(kind)
        if one.isVisible()
    ]
    return [f"{one.objectName()}: {one.text()}" for one in shown if is_cut(one)]


def is_cut(one: QLabel | QAbstractButton) -> bool:
    """Whether a label or a button has less room than it needs."""
    hint = one.sizeHint()
    if isinstance(one, ShortLabel):
        return one.width() < min(hint.width(), LEAST_SHORT_PX)
    if isinstance(one, QLabel) and one.wordWrap():
        return one.height() < one.heightForWidth(one.width())
    return one.width() < hint.width() or one.height() < hint.height()


def sideways(top: QWidget) -> list[str]:
    """Scrolled spaces whose contents are wider than they are."""
    spaces = [one for one in top.findChildren(QScrollArea) if one.isVisible() and one.widget()]
    return [one.objectName() for one in spaces if one.widget().width() > one.viewport().width()]


def things(project):
    """One of each kind of thing, nothing, and several."""
    piece = project.pieces["front.1"]
    ones = [piece.id, piece.edges[2].id, piece.edges[2].corner, "crotch", "side_seam"]
    return [[], *([one] for one in (*ones, next(iter(project.notches)))), list(project.pieces)]


@pytest.mark.parametrize("step", STEPS)
def test_no_word_is_cut_off_whatever_is_chosen_in_a_step(at_demo, step):
    at_demo.bench.go_to_step(step)
    for chosen in things(at_demo.bench.project):
        at_demo.bench.choose(chosen)
        QTest.qWait(20)
        assert (chosen, cut_off(at_demo), sideways(at_demo)) == (chosen, [], [])


@pytest.mark.parametrize("kind", [kind.name for kind in KINDS])
def test_no_word_is_cut_off_while_drafting_and_the_panels_come_back(make, qtbot, kind):
    window = make()
    window.filing.open(demo_path("kingfisher_shaped.wedge"))
    QTest.qWait(50)
    before = window.panels["Card"].width()
    window.drafting.start(kind)
    QTest.qWait(300)
    assert (cut_off(window), sideways(window)) == ([], [])
    window.start_form(next(row for row in EDITS if row.name == "add_dart"))
    qtbot.waitUntil(lambda: abs(window.panels["Card"].width() - before) <= 2)
    assert not window.panels["Ledger"].is_folded
