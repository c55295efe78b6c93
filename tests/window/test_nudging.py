"""Arrow keys on the table, with the window's own keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests import small
from wedgework.edits.move import MoveCorner
from wedgework.window.table.hands import SETTLE_AFTER_MS

SHIFT, ALT = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.AltModifier


@pytest.fixture
def bench(window):
    window.bench.new(small.two_panels())
    window.bench.choose(["a.c2"])
    window.table.setFocus()
    return window.bench


def last(bench):
    return bench.history[-1].edits[0]


def arrow(window, key, held=Qt.KeyboardModifier.NoModifier):
    QTest.keyClick(window.table, key, held)


def test_arrow_keys_move_by_one_ten_or_a_tenth_and_make_one_step(window, bench, qtbot):
    arrow(window, Qt.Key.Key_Right)
    arrow(window, Qt.Key.Key_Right, SHIFT)
    arrow(window, Qt.Key.Key_Down, ALT)
    assert bench.history == ()
    qtbot.waitUntil(lambda: len(bench.history) == 1, timeout=4 * SETTLE_AFTER_MS)
    assert last(bench) == MoveCorner(corner="a.c2", by_mm=(11.0, -0.1))


def test_a_pair_typed_after_an_arrow_is_across_and_up(window, bench):
    arrow(window, Qt.Key.Key_Right)
    QTest.keyClicks(window.table, "12 -5")
    QTest.keyClick(window.table, Qt.Key.Key_Return)
    assert last(bench) == MoveCorner(corner="a.c2", by_mm=(12.0, -5.0))


def test_undo_takes_back_what_was_just_nudged_and_no_more(window, bench):
    bench.do(MoveCorner(corner="b.c1", by_mm=(2.0, 0.0)))
    first = bench.project
    arrow(window, Qt.Key.Key_Up)
    window.actions_by_name["undo"].trigger()
    assert bench.project is first
    assert len(bench.undone) == 1


def test_looking_elsewhere_keeps_what_was_nudged(window, bench):
    arrow(window, Qt.Key.Key_Up)
    window.card.setFocus()
    assert last(bench) == MoveCorner(corner="a.c2", by_mm=(0.0, 1.0))


def test_delete_takes_all_that_is_chosen_in_one_step(window, bench):
    bench.choose(["s", "b"])
    window.actions_by_name["delete"].trigger()
    assert list(bench.project.pieces) == ["a"]
    assert len(bench.history) == 1


def test_a_number_after_an_arrow_may_be_typed_slowly(window, bench, qtbot):
    arrow(window, Qt.Key.Key_Right)
    QTest.keyClicks(window.table, "12")
    qtbot.wait(SETTLE_AFTER_MS + 200)
    assert bench.history == ()
    QTest.keyClicks(window.table, ".5 0")
    QTest.keyClick(window.table, Qt.Key.Key_Return)
    assert last(bench) == MoveCorner(corner="a.c2", by_mm=(12.5, 0.0))
