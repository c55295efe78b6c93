"""The tools that cut, open, join, mark and measure."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests import small
from tests.bench.hands import click, drag, hand_on, move, play, press, release
from wedgework.bench import Change, Enter, Typed
from wedgework.bench.readouts import numbers_of_drag
from wedgework.edits import edit_name
from wedgework.edits.drawn import AddLine


def last_edit(hand):
    return hand.bench.history[-1].edits[0]


def test_a_drag_across_a_piece_cuts_it_in_two():
    hand = drag(hand_on(small.square(), "cut"), (30, 0), (30, 50), (30, 100))
    assert len(hand.bench.project.pieces) == 2
    assert len(hand.bench.project.seams) == 1


def test_presses_inside_are_points_that_the_cut_passes():
    hand = hand_on(small.square(), "cut")
    for point in ((30, 0), (40, 50), (30, 100)):
        click(hand, *point)
    assert last_edit(hand).via_mm == ((40.0, 50.0),)


def test_a_press_on_a_drawn_line_cuts_along_it():
    project = AddLine(piece="p", kind="style", points_mm=((20, 60), (70, 60))).apply(small.square())
    hand = play(hand_on(project, "cut"), move(45, 60))
    assert hand.hovered == "p.l1"
    click(hand, 45, 60)
    assert len(hand.bench.project.pieces) == 2
    assert edit_name(last_edit(hand)) == "cut_along_line"


def test_alt_draws_the_edges_of_a_slash_smooth():
    hand = hand_on(small.square(), "slash")
    click(hand, 50, 0)
    click(hand, 50, 100)
    play(hand, move(62, 40, alt=True), press(62, 40, alt=True))
    assert last_edit(hand).fair_ends
    assert [edge.id for edge in hand.bench.project.pieces["p"].edges] == [
        "p.e1", "p.e2", "p.e3", "p.e4"
    ]  # fmt: skip


def test_a_cut_near_a_corner_begins_in_the_corner():
    hand = drag(hand_on(small.square(), "cut"), (1, 0), (50, 50), (100, 99))
    cut = last_edit(hand)
    assert (cut.from_.at_mm, cut.to.edge) == (0.0, "p.e2")
    assert cut.to.at_mm == pytest.approx(100.0)


def test_the_cut_is_shown_before_it_is_made():
    hand = play(hand_on(small.square(), "cut"), press(30, 0), release(30, 0), move(30, 100))
    assert len(hand.bench.shown.pieces) == 2
    assert len(hand.bench.project.pieces) == 1
    assert hand.trace.points_mm[0] == pytest.approx((30.0, 0.0))


def test_a_slash_opens_as_far_as_it_is_drawn():
    hand = hand_on(small.square(), "slash")
    click(hand, 50, 0)
    click(hand, 50, 100)
    play(hand, move(62, 40), press(62, 40), release(62, 40))
    assert last_edit(hand).open_mm == pytest.approx(12)
    assert last_edit(hand).open_to_mm == 0


def test_a_slash_let_go_off_the_outline_says_so_and_goes_on():
    hand = drag(hand_on(small.square(), "slash"), (50, 0), (50, 40), (50, 60))
    assert hand.hint.startswith("No outline lies there.")
    click(hand, 50, 100)
    play(hand, Typed((10.0,)), Enter())
    assert last_edit(hand).open_mm == 10


def test_a_press_where_a_slash_begins_tells_of_its_end_only():
    hand = click(hand_on(small.square(), "slash"), 50, 0)
    assert hand.hint.startswith("Press on its outline where it ends")


def test_the_gap_of_a_slash_can_be_typed_at_both_ends():
    hand = hand_on(small.square(), "slash")
    click(hand, 50, 0)
    click(hand, 50, 100)
    play(hand, Typed((10.0, 4.0)), Enter())
    assert (last_edit(hand).open_mm, last_edit(hand).open_to_mm) == (10, 4)


def test_shift_gathers_slashes_that_open_together():
    hand = hand_on(small.square(), "slash")
    for x in (30, 50):
        click(hand, x, 0)
        click(hand, x, 100, shift=True)
    click(hand, 70, 0)
    click(hand, 70, 100)
    play(hand, move(85, 40))
    assert "5.0\N{NO-BREAK SPACE}mm each" in hand.hint
    assert len(hand.trace.lines_mm) == 2
    play(hand, press(85, 40))
    edit = last_edit(hand)
    assert [slash.from_mm for slash in edit.slashes] == pytest.approx([30, 50, 70])
    assert edit.open_mm == pytest.approx(5)
    assert len(hand.bench.project.pieces["p"].edges) == 4 + 3 * 2 + 3


def test_gathered_slashes_open_as_far_as_is_typed():
    hand = hand_on(small.square(), "slash")
    for x in (30, 60):
        click(hand, x, 0)
        click(hand, x, 100, shift=True)
    play(hand, Enter(), Typed((8.0,)), Enter())
    assert last_edit(hand).open_mm == 8
    assert len(last_edit(hand).slashes) == 2


def test_the_numbers_beside_a_slash_tell_the_whole_edge_that_opens():
    hand = hand_on(small.square(), "slash")
    click(hand, 50, 0)
    click(hand, 50, 100)
    play(hand, move(62, 40))
    bench = hand.bench
    change = Change(kind="previewed", pieces=frozenset({"p"}))
    whole, gap = numbers_of_drag(bench.project, bench.shown, change)
    assert (whole.before_mm, whole.now_mm) == pytest.approx((100, 112))
    assert (gap.words, gap.now_mm) == ("gap", pytest.approx(12))


def test_a_dart_is_pressed_pointed_and_drawn_open():
    hand = hand_on(small.square(200), "dart")
    click(hand, 100, 0)
    click(hand, 100, 90)
    play(hand, move(112, 0), press(112, 0))
    (dart,) = hand.bench.project.seams.values()
    assert dart.is_dart
    assert last_edit(hand).intake_mm == pytest.approx(24)


def test_a_drag_from_the_edge_to_the_apex_begins_a_dart_too():
    hand = drag(hand_on(small.square(200), "dart"), (100, 0), (100, 50), (100, 90))
    play(hand, Typed((30.0,)), Enter())
    assert last_edit(hand).apex_mm == (100.0, 90.0)
    assert last_edit(hand).intake_mm == 30


def test_two_presses_join_two_edges_on_their_right_sides():
    hand = hand_on(small.two_panels(joined=False), "join")
    click(hand, 100, 50)
    click(hand, 200, 50)
    (seam,) = hand.bench.project.seams.values()
    assert [str(ref) for ref in (*seam.a, *seam.b)] == ["a.e2", "-b.e4"]


def test_shift_gathers_a_run_over_two_pieces():
    project = small.yoke_over_two()
    hand = hand_on(small.new_project(*project.pieces.values()), "join")
    click(hand, 30, 200)
    play(hand, Enter())
    click(hand, 50, 100, shift=True)
    click(hand, 200, 100, shift=True)
    play(hand, Enter())
    (seam,) = hand.bench.project.seams.values()
    assert [str(ref) for ref in seam.a] == ["yoke.e1"]
    assert [str(ref) for ref in seam.b] == ["-left.e3", "-right.e3"]


def two_halves():
    """Halves of a front and a back, both with their side at the right, as a block has them."""
    project = small.two_panels(joined=False)
    pairs = [replace(piece, cutting="pair") for piece in project.pieces.values()]
    return small.new_project(*pairs)


def test_halves_drawn_on_one_side_are_joined_in_the_mirror_image_of_one():
    hand = hand_on(two_halves(), "join")
    click(hand, 100, 50)
    play(hand, move(300, 50))
    assert "in its mirror image" in hand.hint
    click(hand, 300, 50)
    (seam,) = hand.bench.project.seams.values()
    assert [str(ref) for ref in (*seam.a, *seam.b)] == ["a.e2", "~b.e2"]


def test_halves_that_lie_side_by_side_are_joined_as_they_lie_and_alt_takes_the_other_way():
    for alt, mate in ((False, "-b.e4"), (True, "~b.e4")):
        hand = hand_on(two_halves(), "join")
        click(hand, 100, 50)
        play(hand, move(200, 50, alt=alt), press(200, 50, alt=alt), release(200, 50))
        (seam,) = hand.bench.project.seams.values()
        assert [str(ref) for ref in (*seam.a, *seam.b)] == ["a.e2", mate]


def test_the_same_edge_twice_joins_a_piece_to_its_mirror_image():
    project = small.pair_and_fold()
    hand = hand_on(small.new_project(*project.pieces.values()), "join")
    click(hand, 210, 100)
    click(hand, 210, 100)
    (seam,) = hand.bench.project.seams.values()
    assert [str(ref) for ref in (*seam.a, *seam.b)] == ["g.e2", "~g.e2"]


def test_an_edge_that_is_joined_is_not_joined_again():
    hand = click(hand_on(small.two_panels(), "join"), 100, 50)
    assert hand.is_idle
    play(hand, move(100, 50))
    assert "joined already" in hand.hint


def test_a_notch_on_a_seam_has_its_mate():
    hand = click(hand_on(small.two_panels(), "notch"), 100, 30)
    (notch,) = hand.bench.project.notches.values()
    assert notch.at.at_mm == pytest.approx(30)
    assert notch.mate.at_mm == pytest.approx(70)


def test_a_notch_set_on_side_b_counts_along_a():
    hand = click(hand_on(small.two_panels(), "notch"), 200, 30)
    assert last_edit(hand).at_mm == pytest.approx((30.0,))


def test_a_notch_on_an_edge_without_a_seam_stands_alone():
    hand = click(hand_on(small.two_panels(), "notch"), 40, 0)
    (notch,) = hand.bench.project.notches.values()
    assert notch.mate is None


def test_a_piece_turns_about_its_middle_in_steps_with_shift():
    hand = drag(hand_on(small.square(), "turn"), (90, 50), (80, 88), shift=True)
    assert edit_name(last_edit(hand)) == "turn_piece"
    assert last_edit(hand).turn_deg == 45
    assert last_edit(hand).about_mm == (50.0, 50.0)


def test_degrees_can_be_typed():
    hand = play(hand_on(small.square(), "turn"), press(90, 50), move(90, 60), Typed((30.0,)))
    play(hand, Enter())
    assert last_edit(hand).turn_deg == 30


def test_intake_puts_the_edge_under_the_pointer():
    hand = drag(hand_on(small.two_panels(), "intake"), (100, 50), (95, 50))
    assert hand.bench.is_previewing
    assert hand.bench.history == ()
    edge = hand.bench.shown.pieces["a"].edges[1].curve
    assert edge.segments[:, :, 0].min() == pytest.approx(95, abs=0.05)


def test_enter_keeps_all_stations_as_one_step():
    hand = drag(hand_on(small.two_panels(), "intake"), (100, 30), (96, 30))
    drag(hand, (100, 70), (98, 70))
    play(hand, Enter())
    assert len(hand.bench.history) == 1
    assert [round(row.width_mm, 6) for row in last_edit(hand).intake] == [0, 8, 4, 0]


def test_the_width_of_a_station_can_be_typed():
    hand = play(hand_on(small.two_panels(), "intake"), press(100, 50), Typed((20.0,)))
    play(hand, release(100, 50), Enter())
    assert [row.width_mm for row in last_edit(hand).intake] == [0, 20, 0]


def test_shift_takes_a_station_out_again():
    hand = drag(hand_on(small.two_panels(), "intake"), (100, 50), (95, 50))
    play(hand, press(100, 50, shift=True), release(100, 50, shift=True))
    assert not hand.bench.is_previewing


def test_a_new_piece_is_drawn_corner_by_corner_and_closed_at_the_first():
    hand = hand_on(small.square(), "piece")
    for point in ((200, 0), (200, 80), (300, 80), (201, 1)):  # clockwise, as hands often go
        click(hand, *point)
    piece = hand.bench.project.pieces["piece_2"]
    assert len(piece.edges) == 3
    assert piece.name == "piece 2"


def test_the_length_of_an_edge_can_be_typed_while_it_is_drawn():
    hand = click(hand_on(small.square(), "piece"), 200, 0)
    play(hand, move(230, 0), Typed((75.0,)), Enter(), move(275, 30), Typed((40.0,)), Enter())
    play(hand, Enter())
    lengths = [edge.curve.end - edge.curve.start for edge in _new_piece(hand).edges]
    assert [math.hypot(*way) for way in lengths][:2] == pytest.approx([75, 40])


def _new_piece(hand):
    return list(hand.bench.project.pieces.values())[-1]


def test_an_internal_line_is_drawn_point_by_point():
    hand = hand_on(small.square(), "draw")
    for point in ((20, 20), (50, 60), (80, 20)):
        click(hand, *point)
    play(hand, Enter())
    (line,) = hand.bench.project.pieces["p"].lines
    assert line.kind == "style"
    assert line.curve.end.tolist() == [80, 20]


def test_a_second_press_at_the_last_point_ends_a_line_smooth_with_shift():
    hand = hand_on(small.square(), "draw")
    for point in ((20, 20), (50, 60), (80, 20)):
        click(hand, *point)
    click(hand, 80, 20, shift=True)
    assert last_edit(hand).smooth


def test_a_level_lies_on_every_piece_at_its_height():
    hand = click(hand_on(small.two_panels(100, 50), "level"), 10, 70)
    (level,) = hand.bench.project.levels.values()
    assert (level.name, level.measure) == ("bust", "bust_girth_mm")
    assert [point.piece for point in last_edit(hand).points] == ["a"]
    click(hand, 10, 30)
    assert list(hand.bench.project.levels.values())[1].measure == "under_bust_girth_mm"
    assert [point.piece for point in last_edit(hand).points] == ["a", "b"]


def test_a_level_may_lie_at_another_height_on_each_piece():
    hand = hand_on(small.two_panels(), "level")
    click(hand, 10, 70, shift=True)
    click(hand, 210, 40, shift=True)
    play(hand, Enter())
    assert [(one.piece, one.y_mm) for one in last_edit(hand).points] == [("a", 70), ("b", 40)]


def test_a_typed_length_says_where_along_its_edge_a_cut_ends():
    hand = click(hand_on(small.square(), "cut"), 40, 0)
    play(hand, move(52, 100), Typed((45.0,)), move(10, 100), Enter())
    (edit,) = hand.bench.history[-1].edits
    assert (edit.to.edge, edit.to.at_mm) == ("p.e3", 45.0)


def test_across_and_up_typed_from_the_last_point_is_what_a_cut_passes():
    hand = click(hand_on(small.square(), "cut"), 40, 0)
    play(hand, move(50, 50), Typed((10.0, 50.0)), Enter(), move(52, 100), press(52, 100))
    (edit,) = hand.bench.history[-1].edits
    assert edit.via_mm[0] == pytest.approx((50.0, 50.0))


def test_points_of_a_line_are_typed_from_the_last_one():
    hand = click(hand_on(small.square(), "draw"), 20, 20)
    play(hand, Typed((30.0, 10.0)), Enter(), move(60, 60), Typed((10.0,)), Enter(), Enter())
    (edit,) = hand.bench.history[-1].edits
    first, second, third = edit.points_mm
    assert second == (first[0] + 30.0, first[1] + 10.0)
    assert third[0] - second[0] == pytest.approx(10.0 / math.sqrt(10.0))
