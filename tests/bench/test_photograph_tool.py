"""Placing a photograph with the hand: moving, turning, marks, true sizes."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from tests.bench.hands import click, drag, gestures, hand_on, move, play, press, release
from tests.edits.test_pictures import png
from wedgework.bench import Back, Bench, Cancel, Enter, Hand, Press, Typed
from wedgework.edits.pictures import AddPicture
from wedgework.geometry.projective import mapped
from wedgework.pattern.document import Project
from wedgework.pattern.pictures import placing_of

# 400 by 300 pixels, a millimetre each, its middle at (0, 0).
LAID = AddPicture(name="pike", data=png(), width_mm=400).apply(Project())
CORNERS = ((-150, 100), (150, 120), (130, -100), (-120, -90))


def hand() -> Hand:
    return hand_on(LAID, "photograph")


def lies_at(hand, pixel):
    return mapped(placing_of(hand.bench.project.pictures["pike"]), pixel)


def test_a_drag_moves_it_in_one_step():
    held = drag(hand(), (10, 10), (20, 20), (40, 5))
    assert lies_at(held, [200, 150]).tolist() == pytest.approx([30, -5])
    assert len(held.bench.history) == 1
    assert held.bench.chosen == ("pike",)


def test_with_shift_it_turns_about_its_middle():
    held = drag(hand(), (100, 0), (70, 70), (0, 100), shift=True)
    assert lies_at(held, [400, 150]).tolist() == pytest.approx([0, 200])
    held = drag(hand(), (100, 0), (90, 30), (97, 29), shift=True, alt=True)
    assert held.bench.history[-1].edits[0].turn_deg == 15.0


def test_two_marks_and_a_typed_distance_scale_it():
    held = hand()
    click(held, -100, 0)
    click(held, 100, 0)
    play(held, Typed((100.0,)))
    assert held.bench.is_previewing
    play(held, Enter())
    assert held.is_idle
    assert np.ptp(lies_at(held, [[0, 0], [400, 0]])[:, 0]) == pytest.approx(200)


@pytest.mark.parametrize("order", [(0, 1, 2, 3), (2, 0, 3, 1), (3, 2, 1, 0)])
def test_four_marks_in_any_order_square_it_up(order):
    held = hand()
    pixels = [[x + 200, 150 - y] for x, y in CORNERS]
    for index in order:
        click(held, *CORNERS[index])
    play(held, Typed((210.0, 150.0)), Enter())
    found = lies_at(held, pixels)
    assert np.ptp(found, axis=0).tolist() == pytest.approx([210, 150])
    # The upper left mark is the upper left corner still.
    assert found[0].tolist() == pytest.approx([found[:, 0].min(), found[:, 1].max()])


def test_a_mark_can_be_dragged_to_where_it_belongs():
    held = click(hand(), 50, 0)
    drag(held, (50, 0), (60, 5), (70, 5))
    assert held.state.marks == ((pytest.approx(270.0), pytest.approx(145.0)),)
    assert not held.bench.history


def test_marks_go_with_the_photograph():
    held = click(hand(), 50, 0)
    drag(held, (-100, -50), (-90, -50), (-60, -50))
    play(held, move(0, 0))
    assert held.trace.marks == (((pytest.approx(90.0), pytest.approx(0.0)), True),)


def test_enter_asks_for_what_is_not_typed():
    held = hand()
    click(held, -100, 0)
    click(held, 100, 0)
    play(held, Enter())
    assert (held.asked.question, held.asked.seen_mm) == ("distance", (pytest.approx(200.0),))
    held.answer(None)
    assert held.asked is None
    for at in ((100, 100), (-100, 100)):
        click(held, *at)
    play(held, Enter())
    assert held.asked.question == "rectangle"
    assert held.asked.seen_mm == pytest.approx((200.0, 100.0))
    held.answer((50.0, 25.0))
    assert held.bench.next_undo == "Square photograph pike up"


def test_crossed_corners_cannot_be_made_and_flat_ones_are_refused():
    held = hand()
    for at in ((-100, 0), (0, 0), (100, 0), (0, 50)):
        click(held, *at)
    play(held, Typed((210.0, 150.0)), Enter())
    assert "line" in held.refusal
    assert held.bench.project is LAID


def test_marks_are_taken_back_one_by_one():
    held = hand()
    click(held, -100, 0)
    click(held, 100, 0)
    assert len(play(held, Back()).state.marks) == 1
    assert play(held, Back()).is_idle


def test_beside_every_photograph_nothing_is_marked():
    held = click(hand(), 500, 500)
    assert held.is_idle
    assert "Drag a photograph" in held.hint
    assert "Lay a photograph" in click(hand_on(small.square(), "photograph"), 5, 5).hint


def test_a_photograph_that_is_undone_under_the_hand_lets_go():
    bench = Bench(Project())
    held = Hand(bench)
    bench.do(AddPicture(name="pike", data=png(), width_mm=400))
    held.take("photograph")
    play(held, press(0, 0), release(0, 0))
    bench.undo()
    play(held, move(5, 5), press(0, 0), Cancel())
    assert held.is_idle


near = st.tuples(small.millimetres(-220, 220), small.millimetres(-170, 170))


@pytest.mark.parametrize("tool", ["photograph", "trace"])
@settings(max_examples=60)
@given(played=st.lists(gestures(near), max_size=25))
def test_any_gestures_over_a_photograph_end_idle_and_can_be_undone(tool, played):
    held = hand_on(LAID, tool)
    for gesture in (*played, Cancel()):
        held.does(gesture)
    assert held.is_idle
    assert not held.bench.is_previewing
    assert held.trace.points_mm == ()
    assert len(held.bench.history) <= sum(isinstance(one, Press) for one in played)
    while held.bench.undo():
        pass
    assert held.bench.project is LAID
