"""Drawing and tracing outlines point by point."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests import small
from tests.bench.hands import click, drag, hand_on, move, play, press, release
from wedgework.bench import Back, Cancel, Enter, Swap, Typed
from wedgework.bench.wishes import Figure
from wedgework.geometry.length import length_mm
from wedgework.geometry.turning import turning_rad
from wedgework.pattern.document import Project


def traced(*points, shift=()):
    """A hand that has pressed points; those of the numbers in `shift` with Shift held."""
    hand = hand_on(Project(), "trace")
    for number, point in enumerate(points):
        click(hand, *point, shift=number in shift)
    return hand


def piece_of(hand):
    return list(hand.bench.project.pieces.values())[-1]


def test_corners_make_straight_edges_and_enter_closes():
    hand = play(traced((0, 0), (100, 0), (100, 50)), Enter())
    piece = piece_of(hand)
    assert [length_mm(edge.curve) for edge in piece.edges] == pytest.approx(
        [100, 50, 111.803398875]
    )
    assert hand.is_idle
    assert hand.bench.chosen == (piece.id,)


def test_a_point_with_shift_is_passed_smoothly():
    hand = play(traced((100, 0), (70.71067811865476, 70.71067811865476), (0, 100), (0, 0),
                       shift={1}), Enter())  # fmt: skip
    piece = piece_of(hand)
    assert len(piece.edges) == 3
    assert length_mm(piece.edges[0].curve) == pytest.approx(50 * math.pi, abs=0.05)


def test_a_press_on_the_first_point_closes():
    hand = traced((0, 0), (100, 0), (100, 50), (1, 1))
    assert len(piece_of(hand).edges) == 3


def test_shift_on_the_first_point_makes_half_a_piece_on_the_fold():
    for ring in (((0, 0), (60, 0), (60, 80), (0, 80)), ((0, 80), (60, 80), (60, 0), (0, 0))):
        piece = piece_of(click(traced(*ring), *ring[0], shift=True))
        fold = next(edge for edge in piece.edges if edge.id == piece.fold_edge)
        assert piece.cutting == "fold"
        assert fold.curve.start[0] == fold.curve.end[0] == 0


def test_a_press_on_the_drawn_line_bends_it():
    hand = traced((0, 0), (100, 0), (100, 100))
    drag(hand, (50, 0), (50, -10), (50, -20))
    piece = piece_of(play(hand, Enter()))
    assert len(piece.edges) == 3
    assert length_mm(piece.edges[0].curve) > 105
    assert piece.edges[0].curve.segments[1, 0].tolist() == [50, -20]


def test_a_point_that_is_set_can_be_dragged_elsewhere():
    hand = drag(traced((0, 0), (100, 0), (100, 100)), (100, 0), (110, 0), (120, 5))
    assert piece_of(play(hand, Enter())).edges[0].curve.end.tolist() == [120, 5]


def test_a_new_point_follows_the_hand_until_it_lets_go():
    hand = play(traced((0, 0)), press(90, 0), move(100, 3), release(100, 3))
    assert hand.state.points[-1].at_mm == (100, 3)


def test_the_last_point_becomes_smooth_and_a_corner_again():
    hand = play(traced((0, 0), (50, 10), (100, 0), (100, 90)), Back(), Swap(), Swap())
    assert [point.is_corner for point in hand.state.points] == [True, True, True]
    click(hand, 50, 10)
    assert [point.is_corner for point in hand.state.points] == [True, False, True]


def test_backspace_takes_points_back_one_after_another():
    hand = traced((0, 0), (50, 10), (100, 0))
    for left in (2, 1):
        play(hand, Back())
        assert len(hand.state.points) == left
    assert play(hand, Back()).is_idle
    assert hand.trace.points_mm == ()


def test_two_points_hold_no_piece():
    hand = play(traced((0, 0), (50, 10)), Enter())
    assert not hand.bench.project.pieces
    assert not play(traced((0, 0), (50, 0), (100, 0)), Enter()).bench.project.pieces


def test_cancel_drops_all_of_it():
    hand = play(traced((0, 0), (50, 10), (100, 0)), Cancel())
    assert hand.is_idle
    assert not hand.bench.history


def test_tracing_is_drawn_in_by_nothing_and_drawing_by_corners():
    for tool, at in (("trace", [0.5, 99.0]), ("piece", [0.0, 100.0])):
        hand = hand_on(small.square(), tool, snap=True)
        click(hand, 0.5, 99)
        assert list(hand.state.points[0].at_mm) == at


def test_length_and_direction_are_typed():
    hand = click(hand_on(Project(), "piece"), 0, 0)
    for typed in ((100.0, 0.0), (50.0, 90.0), (30.0, 150.0)):
        play(hand, Typed(typed), Enter())
    ends = [point.at_mm for point in hand.state.points]
    at = [(0, 0), (100, 0), (100, 50), (100 - 30 * math.cos(math.pi / 6), 65)]
    assert np.array(ends) == pytest.approx(np.array(at))


@pytest.mark.parametrize("turn_deg", [90.0, -140.0, 20.0, 300.0, 0.0])
def test_an_arc_is_typed_by_length_direction_and_turn(turn_deg):
    hand = play(click(hand_on(Project(), "piece"), 0, 0), Typed((120.0, 30.0, turn_deg)))
    edge = next((row for row in hand.trace.says if row.words == "edge"), hand.trace.says[0])
    assert edge.value == pytest.approx(120.0, abs=1e-3)
    play(hand, Enter(), Typed((200.0, -60.0)), Enter(), Enter())
    ring = piece_of(hand).edges
    arc = next(one for one in ring if length_mm(one.curve) == pytest.approx(120.0, abs=1e-3))
    assert len(ring) == 3
    chord = abs(complex(*(arc.curve.end - arc.curve.start)))
    half = math.radians(abs(turn_deg)) / 2
    assert chord == pytest.approx(120.0 * (math.sin(half) / half if half else 1.0))
    assert abs(math.degrees(turning_rad(arc.curve))) == pytest.approx(abs(turn_deg), abs=0.01)


def test_what_turns_all_round_is_no_edge():
    hand = play(click(hand_on(Project(), "piece"), 0, 0), Typed((120.0, 30.0, 360.0)))
    assert hand.state.typed == ()


def test_a_typed_length_goes_where_the_pointer_is():
    hand = click(hand_on(Project(), "piece"), 0, 0)
    play(hand, move(0, 10), Typed((75.0,)))
    assert hand.trace.points_mm[-1] == pytest.approx((0, 75))
    assert hand.trace.says[0] == Figure("length", pytest.approx(75.0))
    play(hand, press(0, 11), release(0, 11))
    assert hand.state.points[-1].at_mm == pytest.approx((0, 75))


def test_length_and_angle_stand_beside_the_pointer():
    hand = play(traced((0, 0)), move(30, 40))
    assert hand.trace.says == (
        Figure("length", pytest.approx(50.0)),
        Figure("angle", pytest.approx(53.130102), "angle"),
    )
