"""What holds for every tool, whatever a hand does with it."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests import small
from tests.bench.any_place import places_of
from tests.bench.hands import gestures, hand_on
from tests.edits.any_project import STARTS
from wedgework.bench import STEPS, TOOLS, Cancel, Enter, Move, Nudge, Press, Release, tool_named
from wedgework.glossary import words_of
from wedgework.resources import resource_path

NAMES = [tool.name for tool in TOOLS]


@st.composite
def places(draw):
    """Corners and edges of the panels more often than the empty table."""
    x = draw(st.sampled_from([0.0, 30.0, 50.0, 100.0, 200.0, 240.0, 300.0]))
    y = draw(st.sampled_from([0.0, 25.0, 50.0, 100.0]))
    return x + draw(small.millimetres(-3, 3)), y + draw(small.millimetres(-3, 3))


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=40)
@given(played=st.lists(gestures(places()), max_size=25))
def test_any_gestures_and_then_cancel_end_idle_with_no_preview(name, played):
    hand = hand_on(small.two_panels(100, 96, bulge=0.1), name, snap=True)
    for gesture in (*played, Cancel()):
        hand.does(gesture)
    kinds = Press | Nudge | Enter if name == "walk" else Press | Nudge
    presses = sum(isinstance(gesture, kinds) for gesture in played)
    assert hand.is_idle
    assert not hand.bench.is_previewing
    assert hand.trace.points_mm == () or name == "measure"
    assert hand.overlay.figures == () or name == "measure"
    assert len(hand.bench.history) <= presses


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=40)
@given(played=st.lists(gestures(places()), max_size=12))
def test_a_change_of_tool_drops_what_was_half_done(name, played):
    hand = hand_on(small.two_panels(joined=False), name)
    for gesture in played:
        hand.does(gesture)
    hand.take("choose")
    assert hand.is_idle
    assert not hand.bench.is_previewing


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=40)
@given(played=st.lists(gestures(places()), max_size=15))
def test_whatever_was_done_can_be_undone(name, played):
    hand = hand_on(small.two_panels(joined=name != "join"), name)
    first = hand.bench.project
    for gesture in (*played, Cancel()):
        hand.does(gesture)
    while hand.bench.undo():
        pass
    assert hand.bench.project is first


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_no_tool_falls_over_what_lies_under_the_hand(name):
    @settings(max_examples=200, deadline=None, suppress_health_check=list(HealthCheck))
    @given(st.data())
    def played(data):
        project = data.draw(st.sampled_from(STARTS))()
        hand = hand_on(project, name, snap=True)
        for gesture in data.draw(st.lists(gestures(places_of(project)), max_size=25)):
            hand.does(gesture)
        hand.does(Cancel())
        assert hand.is_idle
        assert not hand.bench.is_previewing
        while hand.bench.undo():
            pass
        assert hand.bench.project is project

    played()


@pytest.mark.parametrize("tool", TOOLS, ids=NAMES)
def test_a_tool_has_a_picture_a_word_and_a_sentence(tool):
    assert resource_path(f"icons/{tool.icon}.svg").is_file()
    assert tool.name in {entry.word for entry in words_of("tool")}
    assert tool.hint.endswith(".")
    assert tool.step is None or tool.step in STEPS


def test_undo_in_the_middle_of_a_drag_lets_go():
    hand = hand_on(small.two_panels())
    hand.does(Press((100.0, 0.0), 0.5))
    hand.bench.do(*hand_on(small.two_panels()).bench.tried)
    hand.bench.undo()
    hand.does(Cancel())
    assert hand.is_idle


def test_there_is_no_tool_of_an_unknown_name():
    with pytest.raises(KeyError):
        tool_named("hammer")


@pytest.mark.parametrize("tool", [tool for tool in TOOLS if tool.step], ids=lambda tool: tool.name)
def test_a_tool_is_put_down_by_going_to_a_step_that_does_not_show_it(tool):
    hand = hand_on(small.two_panels(100, 96), "choose")
    hand.bench.go_to_step(tool.step)
    hand.take(tool.name)
    hand.bench.go_to_step(tool.step)
    assert hand.tool is tool
    hand.bench.go_to_step(next(step for step in STEPS if step != tool.step))
    assert hand.tool.name == "choose"


def test_what_is_said_of_a_drag_is_over_when_it_is_kept():
    hand = hand_on(small.two_panels(100, 96), "punch")
    for gesture in (Press((100, 20), 0.5), Move((100, 50), 0.5)):
        hand.does(gesture)
    assert "apart" in hand.hint
    hand.does(Release((100, 50), 0.5))
    assert hand.hint == hand.tool.hint
    assert hand.hovered is None
