"""The tools that swing darts, run them out into lines, and cut them inside a piece."""

import math

import pytest

from tests import small
from tests.bench.hands import click, drag, hand_on, move, play, press, release
from tests.edits.test_dart_seam import bust_darts, two_darts
from wedgework.bench import Cancel, Enter, Typed
from wedgework.bench.tools import dart_line, dart_swing
from wedgework.edits.dart_apex import MoveApex
from wedgework.edits.dart_double import AddDoubleDart
from wedgework.edits.dart_seam import DartsToSeam, DartToSeam
from wedgework.edits.pivot import PivotDart
from wedgework.pattern.darts import darts_of, measure_dart


def last_edit(hand):
    return hand.bench.history[-1].edits[0]


LEG = (92.5, 45.0)  # on the leg p.e2 of `small.darted_front()`


def test_a_dragged_apex_takes_its_legs_along():
    hand = drag(hand_on(small.darted_front()), (100, 90), (105, 100), (110, 120))
    assert last_edit(hand) == MoveApex(dart="d1", by_mm=(10.0, 30.0))


def test_a_mouth_is_drawn_round_the_outline_live():
    hand = play(hand_on(small.darted_front(), "swing"), press(*LEG), move(180, 150))
    shown = hand.bench.shown
    assert measure_dart(shown, shown.seams["d1"]).mouth_a[0] > 150
    assert len(hand.bench.history) == 0
    play(hand, move(205, 150), release(205, 150))
    assert last_edit(hand) == PivotDart(dart="d1", to=last_edit(hand).to)
    assert (last_edit(hand).to.edge, last_edit(hand).to.at_mm) == ("p.e5", pytest.approx(150))


def test_two_presses_swing_a_dart_as_well():
    hand = hand_on(small.darted_front(), "swing")
    click(hand, *LEG)
    play(hand, move(60, 290))
    click(hand, 60, 301)
    assert last_edit(hand).to.edge == "p.e6"


def test_near_a_corner_the_mouth_opens_in_the_corner():
    hand = drag(hand_on(small.darted_front(), "swing"), LEG, (190, 200), (197, 303))
    assert last_edit(hand).to.at_mm in (0.0, pytest.approx(300.0))


def test_typed_degrees_say_how_much_swings():
    hand = play(hand_on(small.darted_front(), "swing"), press(*LEG), move(200, 150))
    play(hand, Typed((5.0,)), Enter())
    angles = [math.degrees(measure_dart(hand.bench.project, one).angle_rad) for one in
              darts_of(hand.bench.project)]  # fmt: skip
    assert angles[1] == pytest.approx(5.0, abs=1e-9)


def test_shift_swings_half():
    hand = hand_on(small.darted_front(), "swing")
    drag(hand, LEG, (190, 150), (200, 150), shift=True)
    assert last_edit(hand).share == 0.5


def test_more_degrees_than_there_are_are_refused_and_the_dart_stays_in_the_hand():
    hand = play(hand_on(small.darted_front(), "swing"), press(*LEG), move(200, 150))
    play(hand, Typed((90.0,)), Enter())
    assert "type that or less" in hand.hint
    assert hand.bench.shown is hand.bench.project
    assert not hand.bench.history
    assert last_edit(play(hand, Typed((5.0,)), Enter())).share < 1.0


def test_the_angle_as_it_is_said_swings_the_whole_dart():
    hand = play(hand_on(small.darted_front(), "swing"), press(*LEG), move(200, 150))
    said_deg = round(hand.state.angle_deg, 1)
    assert last_edit(play(hand, Typed((said_deg,)), Enter())).share == 1.0


def test_a_swing_is_let_go_without_a_trace():
    hand = play(hand_on(small.darted_front(), "swing"), press(*LEG), move(200, 150), Cancel())
    assert hand.bench.shown is hand.bench.project
    assert hand.state == dart_swing.Idle()
    assert hand.trace.points_mm == ()


def test_nothing_is_swung_where_there_is_no_dart():
    hand = play(hand_on(small.darted_front(), "swing"), press(0, 150), move(50, 150), release(0, 0))
    assert hand.state == dart_swing.Idle()
    assert not hand.bench.history


def test_a_line_runs_from_a_dart_through_points_to_the_outline():
    hand = hand_on(small.darted_front(), "style_line")
    click(hand, *LEG)
    click(hand, 115, 190)
    play(hand, move(120, 300))
    assert len(hand.bench.shown.pieces) == 2
    click(hand, 120, 300)
    edit = last_edit(hand)
    assert isinstance(edit, DartToSeam)
    assert edit.via_mm == ((115.0, 190.0),)
    assert (edit.to.edge, edit.to.at_mm) == ("p.e6", pytest.approx(80))


def test_a_line_ends_in_another_dart():
    project = two_darts()
    other = measure_dart(project, project.seams["p.d1"])
    middle = (other.mouth_a + other.apex_mm) / 2
    hand = hand_on(project, "style_line")
    click(hand, *LEG)
    click(hand, *middle)
    assert list(hand.bench.project.seams) == ["d1"]
    assert len(hand.bench.project.pieces) == 2


def test_darts_of_one_apex_are_taken_into_one_seam():
    project = bust_darts()
    other = measure_dart(project, project.seams["p.d1"])
    hand = hand_on(project, "style_line")
    own = measure_dart(project, project.seams["d1"])
    click(hand, *((own.mouth_a * 2 + own.apex_mm) / 3))
    click(hand, *((other.mouth_a * 2 + other.apex_mm) / 3))
    assert last_edit(hand) == DartsToSeam(darts=("d1", "p.d1"))


def test_a_line_is_let_go():
    hand = hand_on(small.darted_front(), "style_line")
    click(hand, *LEG)
    play(hand, move(120, 300), Cancel())
    assert hand.state == dart_line.Idle()
    assert hand.bench.shown is hand.bench.project


def test_enter_ends_a_line_where_it_was_shown():
    hand = hand_on(small.darted_front(), "style_line")
    click(hand, *LEG)
    play(hand, move(120, 300), Enter())
    assert isinstance(last_edit(hand), DartToSeam)


def test_a_press_inside_a_piece_begins_a_dart_with_two_points():
    hand = hand_on(small.square(), "dart")
    click(hand, 50, 20)
    click(hand, 50, 80)
    play(hand, move(57, 45), press(57, 45), release(57, 45))
    edit = last_edit(hand)
    assert edit == AddDoubleDart(
        piece="p", tip_mm=(50, 20), apex_mm=(50, 80), intake_mm=14, widest_mm=25
    )


def test_the_intake_of_a_dart_with_two_points_is_typed():
    hand = drag(hand_on(small.square(), "dart"), (50, 20), (50, 50), (50, 80))
    play(hand, move(57, 50), Typed((9.0,)), Enter())
    assert last_edit(hand).intake_mm == 9
    assert hand.bench.project.pieces["p"].cutouts != ()


def test_a_dart_with_two_points_is_let_go():
    hand = drag(hand_on(small.square(), "dart"), (50, 20), (50, 50), (50, 80))
    play(hand, move(57, 50), Cancel())
    assert hand.bench.shown is hand.bench.project
    assert hand.is_idle


def test_a_dart_is_chosen_once_it_is_made():
    hand = hand_on(small.square(), "dart")
    click(hand, 50, 0)
    click(hand, 50, 60)
    play(hand, move(60, 0), Typed((20.0,)), Enter())
    assert hand.bench.chosen == ("p.d1",)
    click(hand, 20, 70)
    click(hand, 20, 90)
    play(hand, move(25, 80), Typed((6.0,)), Enter())
    assert hand.bench.chosen == ("p.d2",)
