"""Walking a seam with the hand."""

from __future__ import annotations

import pytest

from tests import small
from tests.bench.hands import click, drag, hand_on, move, play, press, release
from wedgework.bench import Cancel, Enter, Nudge, Typed
from wedgework.bench.tools.walk import Idle, Walking
from wedgework.edits.marks import AddNotches
from wedgework.edits.seams import Unjoin


def walking(project=None, at=(200, 40)):
    """Side b of seam `s` taken up by a press at its own edge."""
    return click(hand_on(project or small.two_panels(100, 96), "walk"), *at)


def figures(hand):
    return {one.words: one.value for one in hand.overlay.figures}


def last(hand):
    return hand.bench.history[-1].edits[0]


def test_a_press_takes_the_seam_up_where_it_was_pressed():
    hand = walking()
    assert isinstance(hand.state, Walking)
    assert (hand.state.rolling, hand.state.at_mm) == ("b", pytest.approx(40.0))
    assert hand.overlay.ghosts[0].piece.id == "b"
    assert hand.overlay.places_mm[0] == pytest.approx((100.0, 40.0))
    assert hand.bench.history == ()


def test_a_press_on_the_other_side_rolls_that_one():
    hand = walking(at=(100, 40))
    assert (hand.state.rolling, hand.overlay.ghosts[0].piece.id) == ("a", "a")


def test_a_drag_rolls_on_along_either_line_and_changes_nothing():
    hand = walking()
    drag(hand, (200, 40), (203, 70))
    assert hand.state.at_mm == pytest.approx(70.0)
    drag(hand, (100, 60), (101, 85))
    assert hand.state.at_mm == pytest.approx(85.0)
    assert hand.bench.history == ()
    assert not hand.bench.is_previewing


def test_the_surplus_grows_with_the_walk():
    hand = walking()
    play(hand, Typed((50.0,)))
    assert figures(hand)["A less B so far"] == pytest.approx(2.0)
    play(hand, Typed((100.0,)))
    assert figures(hand)["A less B so far"] == pytest.approx(4.0)


def test_enter_marks_a_notch_at_the_same_length_on_both_sides():
    hand = play(walking(), Typed((50.0,)), Enter())
    assert last(hand) == AddNotches(seam="s", at_mm=(50.0,), walked=True)
    (notch,) = hand.bench.project.notches.values()
    assert (notch.at.at_mm, notch.mate.at_mm) == pytest.approx((50.0, 96.0 - 50.0))
    assert isinstance(hand.state, Walking)
    assert figures(hand)["A less B so far"] == pytest.approx(2.0)


def test_a_press_that_does_not_drag_marks_a_notch_once():
    hand = play(walking(), Typed((50.0,)))
    click(hand, 100, 50)
    assert len(hand.bench.project.notches) == 1
    click(hand, 100, 50)
    assert len(hand.bench.project.notches) == 1


def test_what_is_gained_is_told_at_the_notch_that_was_passed():
    hand = walking(small.with_everything())
    play(hand, Typed((55.0,)))
    assert figures(hand)["at notch 1"] == pytest.approx(0.0)


def test_arrow_keys_step_and_the_ends_are_kept():
    hand = play(walking(), Nudge((1.0, 0.0)), Nudge((0.0, -0.1)))
    assert hand.state.at_mm == pytest.approx(40.9)
    play(hand, Typed((500.0,)))
    assert hand.state.at_mm == pytest.approx(100.0)


def test_beyond_the_shorter_side_no_notch_can_be_marked():
    hand = play(walking(), Typed((99.0,)), Enter())
    assert hand.bench.history == ()
    assert "ended" in hand.refusal


def test_escape_takes_the_rolled_piece_away():
    hand = play(walking(), Cancel())
    assert isinstance(hand.state, Idle)
    assert hand.overlay.ghosts == ()


def test_a_press_on_another_seam_walks_that():
    hand = click(hand_on(small.ring_of_panels(), "walk"), 60, 40)
    click(hand, 160, 30)
    assert hand.state.seam == "s2"
    assert hand.bench.history == ()


def test_a_dart_and_a_run_over_two_pieces_can_be_walked():
    dart = play(hand_on(small.darted_front(), "walk"), press(92, 30), move(94, 50), release(94, 50))
    assert dart.state.seam == "d1"
    run = click(hand_on(small.yoke_over_two(), "walk"), 180, 100)
    assert run.overlay.ghosts[0].piece.id == "right"
    play(run, Typed((20.0,)))
    assert run.overlay.ghosts[0].piece.id == "left"


def test_where_no_seam_is_nothing_is_walked():
    hand = click(hand_on(small.square(), "walk"), 50, 0)
    assert isinstance(hand.state, Idle)


def test_the_walk_goes_on_where_it_stood_after_undo():
    hand = play(walking(), Typed((50.0,)), Enter())
    said = []
    hand.bench.subscribe(lambda change: said.append(hand.hint) if change.kind == "hint" else None)
    hand.bench.undo()
    assert "drag or use arrow keys" in said[-1]
    assert (hand.state.seam, hand.state.at_mm) == ("s", pytest.approx(50.0))
    assert figures(hand)["A less B so far"] == pytest.approx(2.0)
    play(hand, Enter())
    assert [one.at.at_mm for one in hand.bench.project.notches.values()] == [pytest.approx(50.0)]


def test_the_walk_ends_where_its_seam_is_gone():
    hand = walking()
    hand.bench.do(Unjoin(seam="s"))
    assert hand.state == Idle()
    assert not hand.overlay.ghosts
