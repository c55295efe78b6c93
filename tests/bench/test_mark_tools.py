"""The tools of the Mark step: notches, rows of holes, labels, grain lines."""

from __future__ import annotations

import math

import pytest

from tests import small
from tests.bench.hands import click, drag, hand_on, move, play, press, release
from wedgework.bench import Cancel, Enter, Nudge, Typed
from wedgework.bench.removing import edits_removing
from wedgework.bench.wishes import Ask
from wedgework.pattern.rows import punch_row


def row_of(hand, own="s.r1"):
    return punch_row(hand.bench.project, own)


def test_shift_makes_a_notch_double():
    hand = click(hand_on(small.two_panels(), "notch"), 100, 30, shift=True)
    (notch,) = hand.bench.project.notches.values()
    assert notch.double


def test_a_press_on_a_seam_punches_a_row_through_both_sides():
    row = row_of(click(hand_on(small.two_panels(), "punch"), 100, 47))
    assert row.stations_mm == pytest.approx((10, 30, 50, 70, 90))
    assert all(hole.mate is not None and hole.through for hole in row.holes)


def test_a_row_drawn_along_a_seam_has_its_first_hole_and_pitch_as_drawn():
    hand = drag(hand_on(small.two_panels(), "punch"), (100, 12), (100, 25), (100, 37))
    assert row_of(hand).stations_mm == pytest.approx((12, 37, 62, 87))


def test_a_row_drawn_back_ends_where_it_was_pressed():
    hand = drag(hand_on(small.two_panels(), "punch"), (100, 88), (100, 58))
    assert row_of(hand).stations_mm == pytest.approx((28, 58, 88))


def test_a_row_drawn_on_side_b_counts_along_a():
    hand = drag(hand_on(small.two_panels(), "punch"), (200, 12), (200, 37))
    assert row_of(hand).stations_mm == pytest.approx((12, 37, 62, 87))


def test_the_pitch_and_the_inset_of_a_row_can_be_typed_while_it_is_shown():
    hand = play(hand_on(small.two_panels(), "punch"), press(100, 47), Typed((30.0, 3.0)))
    assert len(hand.bench.shown.holes) == 3
    assert not hand.bench.project.holes
    row = row_of(play(hand, Enter()))
    assert row.pitch_mm == pytest.approx(30.0)
    assert row.holes[0].inset_mm == 3.0


def test_a_row_on_an_open_edge_stands_on_that_edge_alone():
    row = row_of(click(hand_on(small.square(), "punch"), 50, 0), "p.e1.r1")
    assert (row.seam, row.edge, row.holes[0].inset_mm) == (None, "p.e1", 6.0)


def test_a_label_is_chosen_so_that_its_text_can_be_typed():
    hand = click(hand_on(small.square(), "label"), 30, 40)
    (label,) = hand.bench.project.pieces["p"].labels
    assert hand.bench.chosen == (label.id,)
    assert hand.asked == Ask("words")
    assert (label.at_mm.tolist(), label.angle_rad) == ([30.0, 40.0], 0.0)


def test_a_label_runs_where_the_hand_goes_and_takes_a_typed_height():
    hand = hand_on(small.square(), "label")
    play(hand, press(30, 20), move(30, 60), Typed((8.0,)), release(30, 60))
    (label,) = hand.bench.project.pieces["p"].labels
    assert math.degrees(label.angle_rad) == pytest.approx(90)
    assert label.height_mm == 8.0


def grain_of(hand):
    (line,) = hand.bench.project.pieces["p"].lines
    assert line.kind == "grain"
    return [*line.curve.start.tolist(), *line.curve.end.tolist()]


def test_a_grain_line_that_is_only_pressed_stands_upright_about_the_press():
    hand = click(hand_on(small.square(), "grain"), 50, 50)
    assert grain_of(hand) == pytest.approx([50, 30, 50, 70])


def test_a_grain_line_is_drawn_in_its_direction_in_steps_with_shift():
    hand = drag(hand_on(small.square(), "grain"), (20, 20), (61, 60), shift=True)
    x0, y0, x1, y1 = grain_of(hand)
    assert (x0, y0) == (20, 20)
    assert math.degrees(math.atan2(y1 - y0, x1 - x0)) == pytest.approx(45)


def test_length_and_turn_of_a_grain_line_can_be_typed():
    hand = play(hand_on(small.square(), "grain"), press(50, 50), Typed((40.0, 0.0)), Enter())
    assert grain_of(hand) == pytest.approx([30, 50, 70, 50])


@pytest.mark.parametrize("tool", ["punch", "label", "grain"])
def test_a_press_on_the_bare_table_sets_nothing(tool):
    hand = click(hand_on(small.square(), tool), 300, 300)
    assert not hand.bench.history


def punched():
    return click(hand_on(small.two_panels(), "punch"), 100, 47).bench.project


def test_a_hole_is_taken_where_it_is_punched_on_either_side():
    for x in (96, 196):
        hand = click(hand_on(punched()), x, 30)
        assert hand.bench.chosen == ("s.r1.o2",)


def test_a_dragged_hole_takes_its_whole_row_along_on_both_sides():
    hand = drag(hand_on(punched()), (96, 30), (96, 33), (96, 37))
    assert row_of(hand).stations_mm == pytest.approx((17, 37, 57, 77, 97))
    hand = drag(hand_on(punched()), (196, 30), (196, 33), (196, 26))
    assert row_of(hand).stations_mm == pytest.approx((6, 26, 46, 66, 86))


def test_a_dragged_row_stops_at_the_end_of_its_seam():
    hand = drag(hand_on(punched()), (96, 30), (96, 40), (96, 70))
    assert row_of(hand).last_mm == pytest.approx(0.0)


def test_a_hole_is_removed_with_its_whole_row():
    project = punched()
    (edit,) = edits_removing(project, ["s.r1.o1", "s.r1.o3"])
    assert not edit.apply(project).holes


def said(hand):
    return {one.words: one.value for one in hand.overlay.figures}


def test_a_notch_that_slides_says_how_far_it_is_from_both_ends():
    hand = play(hand_on(small.two_panels(), "notch"), press(100, 30), move(100, 40))
    assert said(hand) == {"from the start": pytest.approx(40), "to the end": pytest.approx(60)}
    assert said(play(hand, Cancel())) == {}


def test_a_notch_is_typed_from_the_end_of_its_edge_by_a_negative_number():
    hand = play(hand_on(small.two_panels(), "notch"), press(100, 30), Typed((-12.5,)), Enter())
    (notch,) = hand.bench.project.notches.values()
    assert notch.at.at_mm == pytest.approx(87.5)


def test_arrow_keys_slide_a_notch_no_further_than_its_edge():
    hand = play(hand_on(small.two_panels(), "notch"), press(100, 30), Nudge((0.0, 10.0)))
    assert said(hand)["from the start"] == pytest.approx(40)
    play(hand, Nudge((0.0, 90.0)), Enter())
    (notch,) = hand.bench.project.notches.values()
    assert notch.at.at_mm == pytest.approx(100)


def test_the_first_figure_of_a_pitch_tries_no_row_of_it():
    hand = play(hand_on(small.two_panels(), "punch"), press(100, 12), move(100, 37), Typed((2.0,)))
    assert len(hand.bench.shown.holes) == 4
    play(hand, Enter())
    assert "tear into one" in hand.refusal
    assert not hand.is_idle
    play(hand, Typed((20.0,)))
    assert said(hand) == {"pitch": 20.0, "holes": 4, "first at": pytest.approx(12)}
    play(hand, Enter())
    assert row_of(hand).stations_mm == pytest.approx((12, 32, 52, 72))


def test_a_level_that_is_set_says_its_height_and_the_girth_there():
    hand = play(hand_on(small.two_panels(), "level"), press(50, 30), move(50, 40))
    assert said(hand) == {"height": 40.0, "flat girth": pytest.approx(200)}


def test_arrow_keys_move_a_whole_row_as_a_drag_does():
    hand = click(hand_on(small.two_panels(), "punch"), 100, 47)
    hand.take("choose")
    hand.bench.choose(["s.r1.o1", "s.r1.o2"])
    play(hand, Nudge((0.0, 4.0)), Enter())
    assert row_of(hand).stations_mm == pytest.approx((14, 34, 54, 74, 94))
    assert len(hand.bench.history[-1].edits) == 1
