"""Choosing and dragging with the hand."""

from __future__ import annotations

import pytest

from tests import small
from tests.bench.hands import click, drag, hand_on, move, play, press, release
from wedgework.bench import Cancel, Enter, Nudge, Typed
from wedgework.bench.tools.choose import Dragging, Idle, Nudging, Pressed
from wedgework.edits.move import BendEdge, MoveCorner, MovePiece, PullEdge
from wedgework.edits.moving import MoveThings


def last_edit(hand):
    return hand.bench.history[-1].edits[0]


def test_a_press_without_a_drag_chooses_and_changes_nothing():
    hand = click(hand_on(small.square()), 100, 0)
    assert hand.bench.chosen == ("p.c2",)
    assert hand.bench.history == ()


def test_a_drag_commits_one_edit_with_the_whole_shift():
    hand = drag(hand_on(small.square()), (100, 0), (110, 5), (120, 5))
    assert isinstance(hand.state, Idle)
    assert last_edit(hand) == MoveCorner(corner="p.c2", by_mm=(20.0, 5.0))
    assert len(hand.bench.history) == 1


def test_a_press_beside_a_corner_keeps_that_distance():
    hand = drag(hand_on(small.square()), (101, -1), (111, -1))
    assert last_edit(hand) == MoveCorner(corner="p.c2", by_mm=(10.0, 0.0))


def test_a_hand_that_trembles_drags_nothing():
    hand = drag(hand_on(small.square()), (100, 0), (101, 0))
    assert hand.bench.history == ()
    assert hand.bench.chosen == ("p.c2",)


def test_a_drag_shows_the_edit_before_it_is_kept():
    hand = play(hand_on(small.square()), press(100, 0), move(120, 0))
    assert isinstance(hand.state, Dragging)
    assert hand.bench.shown.pieces["p"].edges[1].curve.start.tolist() == [120, 0]
    assert hand.bench.history == ()


def test_escape_in_a_drag_loses_that_drag_alone():
    hand = drag(hand_on(small.square()), (100, 0), (120, 0))
    play(hand, press(120, 0), move(150, 0), Cancel())
    assert len(hand.bench.history) == 1
    assert not hand.bench.is_previewing


def test_corners_are_taken_before_edges_and_edges_before_pieces():
    assert click(hand_on(small.square()), 3, 0).bench.chosen == ("p.c1",)
    assert click(hand_on(small.square()), 50, 2).bench.chosen == ("p.e1",)
    assert click(hand_on(small.square()), 50, 50).bench.chosen == ("p",)


def test_the_second_press_at_one_place_takes_the_next_below_and_comes_round():
    hand = hand_on(small.square())
    taken = [click(hand, 99, 1).bench.chosen[0] for _ in range(5)]
    assert taken[0] == "p.c2"
    assert set(taken[1:3]) == {"p.e1", "p.e2"}
    assert taken[3:] == ["p", "p.c2"]


def test_a_drag_from_the_same_place_moves_what_is_chosen():
    hand = click(click(hand_on(small.square()), 50, 1), 50, 1)
    assert hand.bench.chosen == ("p",)
    drag(hand, (50, 1), (60, 1))
    assert last_edit(hand) == MovePiece(piece="p", by_mm=(10.0, 0.0))


def test_a_press_on_the_empty_table_chooses_nothing():
    hand = click(click(hand_on(small.square()), 100, 0), 500, 500)
    assert hand.bench.chosen == ()


def test_shift_adds_to_what_is_chosen_and_takes_out_again():
    hand = click(click(hand_on(small.square()), 100, 0), 50, 0, shift=True)
    assert hand.bench.chosen == ("p.c2", "p.e1")
    click(hand, 100, 0, shift=True)
    assert hand.bench.chosen == ("p.e1",)


def test_dragging_an_edge_pulls_it_where_it_was_taken():
    hand = drag(hand_on(small.square()), (50, 0), (50, -10))
    assert last_edit(hand) == PullEdge(edge="p.e1", at_mm=pytest.approx(50.0), by_mm=(0.0, -10.0))


def test_dragging_a_piece_moves_it():
    hand = drag(hand_on(small.square()), (50, 50), (80, 50))
    assert last_edit(hand) == MovePiece(piece="p", by_mm=(30.0, 0.0))


def test_handles_can_be_taken_when_their_edge_is_chosen():
    hand = hand_on(small.square())
    hand.bench.choose(["p.e1"])
    drag(hand, (100 / 3, 0), (100 / 3, -20))
    assert isinstance(last_edit(hand), BendEdge)
    assert last_edit(hand).handle == "first"


def test_a_notch_slides_along_its_edge():
    hand = drag(hand_on(small.with_everything()), (100, 40), (90, 55))
    assert hand.bench.project.notches["n1"].at.at_mm == pytest.approx(55)


def test_a_mate_that_is_dragged_takes_its_datum_along():
    hand = drag(hand_on(small.with_everything()), (200, 40), (190, 55))
    notch = hand.bench.project.notches["n1"]
    assert notch.mate.at_mm == pytest.approx(45)
    assert notch.at.at_mm == pytest.approx(55)


def test_numbers_that_are_typed_replace_the_pointer():
    hand = play(hand_on(small.square()), press(100, 0), move(110, 0), Typed((7.5, -2.0)))
    play(hand, move(200, 90), release(200, 90))
    assert last_edit(hand) == MoveCorner(corner="p.c2", by_mm=(7.5, -2.0))


def test_one_typed_number_goes_in_the_direction_of_the_drag():
    hand = play(hand_on(small.square()), press(100, 0), move(103, 4), Typed((10.0,)), Enter())
    assert last_edit(hand).by_mm == pytest.approx((6.0, 8.0))


def test_shift_keeps_a_drag_to_one_direction():
    hand = drag(hand_on(small.square()), (100, 0), (120, 5), shift=True)
    assert last_edit(hand) == MoveCorner(corner="p.c2", by_mm=(20.0, 0.0))


def test_the_status_line_names_what_would_be_taken_and_what_lies_below():
    hand = play(hand_on(small.square()), move(100, 0))
    assert "corner p.c2" in hand.hint
    assert "a second press takes edge" in hand.hint
    assert hand.hovered == "p.c2"


def test_an_edit_that_cannot_be_done_is_told_and_nothing_is_lost():
    hand = drag(hand_on(small.square()), (100, 0), (50, 0), (0, 0))
    assert hand.bench.history == ()
    assert not hand.bench.is_previewing
    assert "no length left" in hand.refusal


def test_a_dragged_corner_comes_level_with_another_and_says_so():
    hand = play(hand_on(small.two_panels(100, 130), snap=True), press(100, 100), move(90, 128))
    assert "level with corner b.c" in hand.hint
    assert hand.bench.shown.pieces["a"].edges[2].curve.start.tolist() == [90, 130]


def test_alt_lets_go_of_snapping():
    hand = play(hand_on(small.two_panels(100, 130), snap=True), press(100, 100))
    play(hand, move(90, 128, alt=True))
    assert hand.bench.shown.pieces["a"].edges[2].curve.start.tolist() == [90, 128]


def test_a_press_alone_is_pressed_and_nothing_more():
    assert isinstance(play(hand_on(small.square()), press(100, 0)).state, Pressed)


def test_a_rectangle_over_the_empty_table_chooses_the_pieces_in_it():
    hand = play(hand_on(small.two_panels()), press(-20, -20), move(150, 150))
    assert hand.trace.closed
    play(hand, release(150, 150))
    assert hand.bench.chosen == ("a",)
    assert hand.trace.points_mm == ()
    drag(hand, (190, -20), (320, 150), shift=True)
    assert hand.bench.chosen == ("b",)


def test_shift_keeps_what_is_chosen_already_in_a_rectangle():
    hand = hand_on(small.two_panels())
    hand.bench.choose(["a"])
    play(hand, press(190, -20, shift=True), move(320, 150), release(320, 150))
    assert hand.bench.chosen == ("a", "b")


def test_chosen_pieces_move_together():
    hand = hand_on(small.two_panels())
    hand.bench.choose(["a", "b"])
    drag(hand, (50, 50), (60, 50))
    assert last_edit(hand).things == ("a", "b")
    assert len(hand.bench.history[-1].edits) == 1
    assert hand.bench.chosen == ("a", "b")


def test_chosen_corners_move_together():
    hand = hand_on(small.two_panels())
    hand.bench.choose(["a.c2", "b.c1"])
    drag(hand, (100, 0), (100, -8))
    assert last_edit(hand) == MoveThings(things=("a.c2", "b.c1"), by_mm=(0.0, -8.0))


def test_with_alt_a_rectangle_takes_corners_even_over_a_piece():
    hand = hand_on(small.two_panels())
    play(hand, press(50, 50, alt=True), move(220, 120, alt=True), release(220, 120, alt=True))
    assert hand.bench.chosen == ("a.c3", "b.c4")
    assert hand.bench.history == ()


def nudged(hand, *ways):
    return play(hand, *(Nudge(way) for way in ways))


def test_arrow_keys_gather_to_one_step():
    hand = click(hand_on(small.square()), 100, 0)
    nudged(hand, (1.0, 0.0), (1.0, 0.0), (0.0, -10.0))
    assert isinstance(hand.state, Nudging)
    assert hand.bench.history == ()
    play(hand, Enter())
    assert last_edit(hand) == MoveCorner(corner="p.c2", by_mm=(2.0, -10.0))
    assert len(hand.bench.history) == 1


@pytest.mark.parametrize(
    "then",
    [
        lambda hand: hand.take("join"),
        lambda hand: click(hand, 300, 300),
        lambda hand: hand.settle(),
        lambda hand: hand.bench.choose(["p.c1"]),
    ],
)
def test_what_arrow_keys_moved_is_kept_when_anything_else_is_done(then):
    hand = click(hand_on(small.square()), 50, 50)
    nudged(hand, (0.1, 0.0))
    then(hand)
    assert last_edit(hand) == MovePiece(piece="p", by_mm=(0.1, 0.0))


def test_escape_takes_back_what_arrow_keys_moved():
    hand = nudged(click(hand_on(small.square()), 100, 0), (1.0, 0.0))
    play(hand, Cancel())
    assert hand.bench.history == ()
    assert not hand.bench.is_previewing


def test_numbers_typed_after_an_arrow_key_say_how_far():
    hand = nudged(click(hand_on(small.square()), 100, 0), (0.0, -1.0))
    play(hand, Typed((12.5,)), Enter())
    assert last_edit(hand) == MoveCorner(corner="p.c2", by_mm=(0.0, -12.5))


def test_arrow_keys_move_what_is_held_in_a_drag():
    hand = play(hand_on(small.square()), press(100, 0), move(120, 0), Nudge((0.1, 0.0)), Enter())
    assert last_edit(hand) == MoveCorner(corner="p.c2", by_mm=(20.1, 0.0))


def test_a_chosen_edge_goes_with_both_corners_and_a_mark_slides_along_its_own():
    hand = hand_on(small.with_everything())
    hand.bench.choose(["a.e4", "n1"])
    play(nudged(hand, (0.0, 1.0)), Enter())
    thing, mark = hand.bench.history[-1].edits
    assert thing == MoveThings(things=("a.e4",), by_mm=(0.0, 1.0))
    assert (mark.mark, mark.at_mm) == ("n1", pytest.approx(41.0))


def test_arrow_keys_move_no_seam():
    hand = hand_on(small.two_panels())
    hand.bench.choose(["s"])
    play(nudged(hand, (0.0, 1.0)), Enter())
    assert hand.is_idle
    assert hand.bench.history == ()
