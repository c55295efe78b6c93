"""Panels are shown in turn while a hand moves, and none is left behind."""

from __future__ import annotations

import pytest

from wedgework.bench import Change
from wedgework.window.turns import Turns


@pytest.fixture
def shown():
    """What each of three panels was shown: its number and the change."""
    return []


@pytest.fixture
def turns(qapp, shown):
    made = Turns([lambda change, n=n: shown.append((n, change)) for n in range(3)], qapp)
    yield made
    made.setParent(None)


def previewed(*seams):
    return Change(kind="previewed", seams=frozenset(seams))


def test_each_panel_has_a_turn_of_its_own(qtbot, turns, shown):
    turns.wait(previewed("s"))
    assert shown == []
    with qtbot.waitSignal(turns._beat.timeout):
        pass
    assert [number for number, _ in shown] == [0]
    qtbot.waitUntil(lambda: len(shown) == 3)
    assert [number for number, _ in shown] == [0, 1, 2]


def test_a_panel_is_shown_in_one_go_what_came_since_its_last_turn(qtbot, turns, shown):
    turns.wait(previewed("s"))
    turns.wait(previewed("t"))
    qtbot.waitUntil(lambda: len(shown) == 3)
    assert [change.seams for _, change in shown] == [frozenset("st")] * 3


def test_what_waits_is_shown_at_once_when_it_is_asked_for(turns, shown):
    turns.wait(previewed("s"))
    turns.show_now()
    assert [number for number, _ in shown] == [0, 1, 2]
    turns.show_now()
    assert len(shown) == 3
