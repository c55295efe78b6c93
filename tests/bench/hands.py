"""A hand on a bench for tests: play gestures, and see what came of them."""

from __future__ import annotations

from hypothesis import strategies as st

from wedgework.bench import (
    Back,
    Bench,
    Cancel,
    Enter,
    Hand,
    Move,
    Nudge,
    Press,
    Release,
    Swap,
    Typed,
)
from wedgework.pattern.document import Project

PX_MM = 0.5


def hand_on(project: Project, tool: str = "choose", *, snap: bool = False) -> Hand:
    """A hand with a tool in it; nothing draws points in unless `snap`."""
    hand = Hand(Bench(project))
    hand.take(tool)
    if not snap:
        hand.snapping = None
    return hand


def press(x, y, **more):
    return Press((float(x), float(y)), PX_MM, **more)


def move(x, y, **more):
    return Move((float(x), float(y)), PX_MM, **more)


def release(x, y, **more):
    return Release((float(x), float(y)), PX_MM, **more)


def play(hand: Hand, *gestures) -> Hand:
    for gesture in gestures:
        hand.does(gesture)
    return hand


def drag(hand: Hand, start, *way, **more) -> Hand:
    """Press, go by way of some points, and let go at the last."""
    moves = [move(*point, **more) for point in way]
    return play(hand, press(*start), *moves, release(*way[-1], **more))


def click(hand: Hand, *point, **more) -> Hand:
    return play(hand, press(*point, **more), release(*point, **more))


def gestures(near: st.SearchStrategy) -> st.SearchStrategy:
    """Any gesture; places are drawn from `near`, numbers are what people type."""
    flags = {"shift": st.booleans(), "alt": st.booleans()}
    px = st.sampled_from([0.1, 0.5, 2.0])
    typed = st.lists(st.sampled_from([-30.0, 0.0, 2.5, 12.0, 40.0]), max_size=2).map(tuple)
    return st.one_of(
        st.builds(Press, near, px, **flags),
        st.builds(Move, near, px, **flags),
        st.builds(Release, near, px, **flags),
        st.builds(Typed, typed),
        st.builds(Nudge, st.sampled_from([(1.0, 0.0), (0.0, -10.0), (-0.1, 0.0)])),
        st.just(Enter()),
        st.just(Back()),
        st.just(Swap()),
        st.just(Cancel()),
    )
