"""What the status line says once a tool is done, or has given up."""

from __future__ import annotations

import pytest

from tests import small
from tests.bench.hands import hand_on, move, play, press, release
from wedgework.bench import Cancel, Enter, Typed
from wedgework.units.scale import Unit

SLASH = (press(30, 0), release(30, 0), press(50, 100), release(50, 100))


@pytest.mark.parametrize("end", [[Typed((5.0,)), Enter()], [Cancel()]])
def test_what_is_done_or_given_up_leaves_no_hint_of_how_to_go_on(end):
    hand = play(hand_on(small.two_panels(), "slash"), *SLASH)
    assert "Draw it open" in hand.hint
    play(hand, *end)
    assert hand.is_idle
    assert hand.hint == hand.tool.hint


def test_undo_in_the_middle_of_a_slash_leaves_no_hint_of_how_to_go_on():
    hand = play(hand_on(small.two_panels(), "slash"), *SLASH, Typed((5.0,)), Enter(), *SLASH[:2])
    hand.bench.undo()
    assert hand.hint == hand.tool.hint


def test_lengths_are_said_in_the_unit_of_the_hand():
    hand = hand_on(small.two_panels(), "notch")
    hand.unit = Unit.IN
    play(hand, move(100.0, 50.8))
    assert "2.00\N{NO-BREAK SPACE}in along" in hand.hint
