"""Measuring with the hand, and pinning what was measured."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from tests import small
from tests.bench.hands import click, drag, hand_on, move, play, press, release
from wedgework.bench import Cancel, Enter, Swap, Typed
from wedgework.bench.picking import under
from wedgework.bench.pinning import edit_pinning, placed_pins
from wedgework.bench.tools.measure import Idle, Told
from wedgework.edits import decode_plain
from wedgework.pattern.document import Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.pins import pin_value


def measuring(project=None):
    return hand_on(project or small.square(), "measure")


def told(hand):
    return {one.words: one.value for one in hand.overlay.figures}


def pinned(hand):
    (pin,) = hand.bench.project.pins.values()
    return pin


def test_a_distance_follows_the_pointer_while_it_moves():
    hand = play(measuring(), press(0, 0), release(0, 0), move(30, -40))
    assert told(hand) == {"straight": 50.0, "across": 30.0, "up": -40.0}
    play(hand, move(60, -80))
    assert told(hand)["straight"] == 100.0
    assert not hand.bench.is_previewing


def test_a_drag_from_corner_to_corner_is_told_and_enter_pins_it():
    hand = drag(measuring(), (1, 1), (50, 50), (100, 99))
    assert told(hand)["straight"] == pytest.approx(100 * math.sqrt(2))
    play(hand, Enter())
    assert (pinned(hand).kind, pinned(hand).anchors) == ("distance", ("p.c1", "p.c3"))
    assert hand.bench.chosen == ("pin1",)
    assert isinstance(hand.state, Idle)


def test_shift_measures_along_the_edges_the_short_way_and_c_straightens_it():
    hand = play(measuring(), press(50, 0), release(50, 0), press(100, 30, shift=True))
    assert told(hand)["along"] == pytest.approx(80.0)
    play(hand, Swap())
    assert told(hand)["straight"] == pytest.approx(math.hypot(50, 30))
    play(hand, Swap(), Enter())
    assert pinned(hand).kind == "along"
    assert all(isinstance(anchor, Spot) for anchor in pinned(hand).anchors)


def test_there_is_no_way_along_to_a_bare_place():
    hand = play(measuring(), press(0, 0), release(0, 0), press(30, -40, alt=True), Swap())
    assert told(hand)["straight"] == pytest.approx(50.0)


def test_between_two_pieces_there_is_no_way_along():
    hand = play(measuring(small.two_panels()), press(0, 0), release(0, 0))
    play(hand, press(300, 0, shift=True))
    assert told(hand)["straight"] == pytest.approx(300.0)


def test_the_same_corner_twice_tells_its_angle_and_pins_it():
    hand = click(click(measuring(), 100, 0), 100, 0)
    assert told(hand) == {"angle": pytest.approx(90.0)}
    play(hand, Enter())
    assert (pinned(hand).kind, pinned(hand).anchors) == ("angle", ("p.c2",))


def test_a_third_press_with_shift_tells_the_angle_at_the_second_place():
    hand = play(measuring(), press(100, 0), release(100, 0), press(0, 0), release(0, 0))
    play(hand, press(100, 100, shift=True))
    assert told(hand)["angle"] == pytest.approx(45.0)
    play(hand, Enter())
    assert pin_value(hand.bench.project, pinned(hand)) == pytest.approx(math.pi / 4)


def test_a_press_on_a_level_tells_its_girth_over_all_instances():
    hand = play(measuring(small.with_everything()), press(60, 80))
    assert told(hand) == {"girth": pytest.approx(100.0)}
    play(hand, Enter())
    assert (pinned(hand).kind, pinned(hand).anchors) == ("girth", ("waist",))


def test_what_is_typed_before_pinning_is_what_it_should_be():
    hand = drag(measuring(), (0, 0), (50, 0), (100, 0))
    play(hand, Typed((103.0,)), Enter())
    assert pinned(hand).wanted == 103.0


def test_a_measure_to_a_free_place_is_pinned_where_it_lies():
    hand = drag(measuring(), (0, 0), (30, -20), (30, -40))
    assert told(hand)["straight"] == 50.0
    play(hand, Enter())
    assert pinned(hand).anchors == ("p.c1", (30.0, -40.0))
    assert pin_value(hand.bench.project, pinned(hand)) == 50.0


def test_a_free_place_is_not_measured_along_an_outline():
    hand = drag(measuring(), (0, 0), (20, 20), (50, 50))
    play(hand, Swap())
    assert told(hand)["straight"] == pytest.approx(50 * math.sqrt(2))
    assert hand.hint.startswith("Along an outline")


def test_a_notch_is_measured_on_the_side_that_was_pressed():
    project = small.with_everything()
    for start, notch in (((100, 0), (100, 40)), ((200, 0), (200, 40))):
        hand = drag(measuring(project), start, (150, 20), notch)
        play(hand, Enter())
        assert pin_value(hand.bench.project, pinned(hand)) == pytest.approx(40.0)


def test_escape_takes_the_measure_away():
    hand = drag(measuring(), (0, 0), (50, 0), (100, 0))
    assert isinstance(hand.state, Told)
    play(hand, Cancel())
    assert isinstance(hand.state, Idle)
    assert (hand.overlay.figures, hand.trace.points_mm) == ((), ())


# Pins on the table


def with_pins(project, *rows):
    for kind, anchors in rows:
        edit = {"edit": "pin_measure", "kind": kind, "anchors": list(anchors)}
        project = decode_plain(edit).apply(project)
    return project


def every_kind():
    place = {"edge": "a.e1", "at_mm": 25.0}
    return with_pins(
        small.with_everything(),
        ("distance", ("a.c1", "b.c3")),
        ("along", ("a.c1", "a.c3")),
        ("along", (place, "n1")),
        ("angle", ("a.c4",)),
        ("angle", ("a.c2", "a.c1", "a.c3")),
        ("girth", ("waist",)),
    )


@pytest.mark.parametrize("px_mm", [0.1, 0.5, 2.0])
def test_a_pin_is_chosen_by_a_press_on_its_figure_or_its_leader(px_mm):
    project = every_kind()
    placed = placed_pins(project, px_mm)
    assert len(placed) == 6
    for one in placed:
        assert one.distance_mm(one.figure_mm) == 0.0
        hits = under(project, one.figure_mm, 8 * px_mm)
        assert one.pin.id in {hit.id for hit in hits if hit.kind == "pin"}
        middle = one.lines[0][len(one.lines[0]) // 2]
        assert one.distance_mm(tuple(middle.tolist())) == pytest.approx(0.0, abs=1e-9)


def test_pins_are_placed_again_only_where_what_they_read_has_changed():
    project = every_kind()
    before = placed_pins(project, 0.5)
    edit = {"edit": "move_corner", "corner": "b.c3", "by_mm": [7, 0]}
    after = placed_pins(decode_plain(edit).apply(project), 0.5)
    same = [one is other for one, other in zip(before, after, strict=True)]
    # The distance ends on the corner that moved, the notch has its mate there, and the girth reads
    # all pieces.
    assert same == [False, True, False, True, True, False]
    assert after[0].value == pytest.approx(math.hypot(307, 100))


def test_no_figure_covers_another():
    project = with_pins(small.square(), *[("distance", ("p.c1", "p.c2"))] * 4)
    heights = [one.figure_mm[1] for one in placed_pins(project, 0.5)]
    assert [after - before for before, after in pairwise(heights)] == (
        pytest.approx([9.0, 9.0, 9.0])
    )


def test_a_pin_can_be_chosen_and_does_not_move():
    project = with_pins(small.square(), ("distance", ("p.c1", "p.c3")))
    (placed,) = placed_pins(project, 0.5)
    hand = click(hand_on(project), *placed.figure_mm)
    assert hand.bench.chosen == ("pin1",)
    x, y = placed.figure_mm
    drag(hand, (x, y), (x + 20, y), (x + 40, y))
    assert hand.bench.history == ()


@pytest.mark.parametrize(
    ("chosen", "kind", "value"),
    [
        (["waist"], "girth", 100.0),
        (["a.e2"], "along", 100.0),
        (["a.c1"], "angle", math.pi / 2),
        (["a.c1", "a.c3"], "distance", 100 * math.sqrt(2)),
        (["a.c2", "n1"], "distance", 40.0),
        (["a.c2", "a.c1", "a.c3"], "angle", math.pi / 4),
    ],
)
def test_what_is_chosen_can_be_pinned(chosen, kind, value):
    after = edit_pinning(small.with_everything(), chosen).apply(small.with_everything())
    assert after.pins["pin1"].kind == kind
    assert pin_value(after, after.pins["pin1"]) == pytest.approx(value)


@pytest.mark.parametrize("chosen", [[], ["a"], ["s"], ["a.c1", "a.e1"]])
def test_what_is_nothing_to_measure_is_not_pinned(chosen):
    with pytest.raises(EditRefused):
        edit_pinning(small.with_everything(), chosen)
