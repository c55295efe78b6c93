"""The tools that fair an edge and draw a line across pieces."""

from __future__ import annotations

import numpy as np
import pytest

from tests import small
from tests.bench.hands import click, drag, hand_on, move, play, press, release
from wedgework.bench import Cancel, Enter, Typed
from wedgework.bench.bends import bend_comb
from wedgework.bench.joined import line_of
from wedgework.bench.tools import across, fair
from wedgework.edits.across import DrawAcross, TrueAcross
from wedgework.edits.fair import FairEdge
from wedgework.geometry.nearest import nearest
from wedgework.pattern.lookup import the_edge


def last_edit(hand):
    return hand.bench.history[-1].edits[0]


# Fair


def test_the_way_drawn_from_an_edge_says_which_waves_go():
    hand = drag(hand_on(small.curved_square(), "fair"), (107.5, 50), (120, 50), (137.5, 50))
    assert last_edit(hand) == FairEdge(edge="p.e2", over_mm=pytest.approx(30.0))
    assert hand.bench.chosen == ("p.e2",)


def test_shift_keeps_the_length_as_well():
    hand = drag(hand_on(small.curved_square(), "fair"), (111, 50), (140, 50), shift=True)
    assert last_edit(hand).keep == "both"


def test_a_press_waits_for_a_typed_number():
    hand = click(hand_on(small.curved_square(), "fair"), 111, 50)
    assert hand.bench.is_previewing
    play(hand, Typed((45.0,)), Enter())
    assert last_edit(hand).over_mm == 45.0
    assert hand.state == fair.Idle()


def test_escape_leaves_the_edge_as_it_was():
    hand = click(hand_on(small.curved_square(), "fair"), 111, 50)
    play(hand, Cancel())
    assert not hand.bench.is_previewing
    assert len(hand.bench.history) == 0


def test_a_comb_stands_out_of_a_round_piece():
    comb = bend_comb(the_edge(small.disc(50.0), "p.e1").curve)
    assert comb.curvatures == pytest.approx(1 / 50, rel=3e-2)
    assert comb.outward == pytest.approx(comb.points_mm / 50, abs=5e-3)


# Across


def test_a_press_on_a_hem_lays_its_pieces_together():
    hand = click(hand_on(small.panelled_hem(), "across"), 50, 2)
    assert hand.state.edges == ("f.e1", "g.e1", "b.e1")
    assert "f, g, b" in hand.hint


def test_points_are_drawn_in_the_place_of_the_piece_that_was_pressed():
    hand = click(hand_on(small.panelled_hem(), "across"), 450, 1.5)
    for point in ((500, 6), (455, 5), (360, 8)):
        click(hand, *point)
    play(hand, Enter())
    edit = last_edit(hand)
    assert isinstance(edit, DrawAcross)
    curve = the_edge(hand.bench.project, "b.e1").curve
    assert nearest(curve, (455, 5)).distance_mm < 0.5
    assert curve.end == pytest.approx([500, 6], abs=1e-6)


def test_ends_of_the_line_stay_where_no_point_is_set_for_them():
    hand = click(hand_on(small.panelled_hem(), "across"), 50, 2)
    click(hand, 60, -4)
    play(hand, Enter())
    assert the_edge(hand.bench.project, "f.e1").curve.start.tolist() == [0, 0]
    assert nearest(the_edge(hand.bench.project, "f.e1").curve, (60, -4)).distance_mm < 1e-6


def test_the_line_itself_can_be_drawn():
    hand = click(hand_on(small.panelled_hem(), "across"), 50, 2)
    drag(hand, (50, 2), (50, -4), (50, -10))
    edit = last_edit(hand)
    assert isinstance(edit, TrueAcross)
    assert edit.by_mm == pytest.approx((0, -12))
    assert isinstance(hand.state, across.Laying)


def test_enter_alone_draws_the_line_through():
    hand = click(hand_on(small.panelled_hem(), "across"), 50, 2)
    play(hand, Enter())
    assert last_edit(hand) == TrueAcross(edges=("f.e1", "g.e1", "b.e1"))


def test_a_point_is_drawn_elsewhere_and_taken_out():
    hand = click(hand_on(small.panelled_hem(), "across"), 50, 2)
    click(hand, 60, -4)
    drag(hand, (60, -4), (62, -8))
    assert hand.state.points_mm == ((62.0, -8.0),)
    play(hand, press(62, -8, shift=True), release(62, -8, shift=True))
    assert hand.state.points_mm == ()
    assert not hand.bench.is_previewing


def test_a_typed_pull_takes_the_place_of_the_pointer():
    hand = click(hand_on(small.panelled_hem(), "across"), 50, 2)
    play(hand, press(50, 2), move(50, -6), Typed((0.0, -9.0)), release(50, -6))
    assert last_edit(hand).by_mm == (0.0, -9.0)


def test_a_joined_edge_lays_nothing_together():
    hand = click(hand_on(small.panelled_hem(), "across"), 98, 100)
    assert isinstance(hand.state, across.Idle | across.Laying)
    hand = click(hand_on(small.square(), "across"), 500, 500)
    assert hand.state == across.Idle()


def test_a_seam_lays_the_pieces_of_the_line_at_its_end_together():
    joined = line_of(small.panelled_hem(), "s2")
    assert {piece.id for piece, _ in joined.pieces} == {"f", "b"}
    assert joined.frame == "g.e3"


def test_what_is_laid_together_meets_the_piece_that_was_pressed():
    joined = line_of(small.panelled_hem(), "g.e1")
    (_, front), (_, back) = joined.pieces
    assert front.points((100, 4)) == pytest.approx([200, 0], abs=1e-9)
    assert back.points((400, 0)) == pytest.approx([260, -6], abs=1e-9)
    assert np.linalg.det(front.linear) == pytest.approx(1.0)


def test_pieces_stay_laid_together_after_undo():
    hand = click(hand_on(small.panelled_hem(), "across"), 50, 2)
    drag(hand, (50, 2), (50, -4), (50, -10))
    hand.bench.undo()
    assert hand.state == across.Laying(edges=("f.e1", "g.e1", "b.e1"), frame="f.e1")
    assert "f, g, b" in hand.hint


def test_points_that_cannot_be_kept_stay_in_the_hand():
    hand = click(hand_on(small.panelled_hem(), "across"), 50, 2)
    click(hand, 60, -900)
    play(hand, Enter())
    assert hand.refusal
    assert hand.state.points_mm == ((60, -900),)
    assert hand.bench.history == ()
