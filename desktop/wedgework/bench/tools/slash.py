"""Slash and spread: press where the slash opens, then where it ends, then draw it open.

The end is the hinge; with Shift it opens equally far at both ends. A length may be typed, below
nothing to close; two lengths are the gaps at the start and at the end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TypeAlias

from wedgework.bench.gestures import (
    Cancel,
    Enter,
    Gesture,
    Move,
    Pointer,
    Press,
    Release,
    Typed,
    is_drag,
)
from wedgework.bench.tools.places import Spot, spot_under
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.edits.slash import SlashSpread


@dataclass(frozen=True, slots=True)
class Idle:
    """No slash has begun."""


@dataclass(frozen=True, slots=True)
class From:
    """The slash begins here; where it ends is not known yet."""

    start: Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The slash is drawn open: gaps at its start and at its end, in mm."""

    start: Spot
    end: Spot
    open_mm: float = 0.0
    open_to_mm: float = 0.0
    typed: bool = False


State: TypeAlias = Idle | From | Opening
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on the outline where the slash opens."
_HINGE = "Press on the outline where it ends: the hinge."
_OPEN = "Draw it open and press, or type the gap; Shift opens both ends."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            spot = spot_under(scene, gesture)
            return (Idle(), (Hint(_BEGIN),)) if spot is None else (From(spot), (Hint(_HINGE),))
        case Idle(), Move():
            return state, (Hint(_BEGIN),)
        case From(), _:
            return _step_from(state, gesture, scene)
        case Opening(), _:
            return _step_opening(state, gesture)
        case _:
            return state, ()


def _step_from(state: From, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move():
            end = _end(state, gesture, scene)
            points = (state.start.at_mm, end.at_mm if end else gesture.at_mm)
            return state, (Trace(points), Hint(_HINGE))
        case Press() | Release():
            end = _end(state, gesture, scene)
            if end is None:
                return state, ()
            line = Trace((state.start.at_mm, end.at_mm))
            return Opening(start=state.start, end=end), (line, Hint(_OPEN))
        case Cancel():
            return Idle(), (Trace(),)
        case _:
            return state, ()


def _step_opening(state: Opening, gesture: Gesture) -> Answer:
    match gesture:
        case Move() if not state.typed:
            state = _opened(state, gesture)
            return state, (Preview((_edit(state),)), Hint(f"{_OPEN} {state.open_mm:.1f} mm"))
        case Typed((open_mm, *more)):
            state = replace(state, open_mm=open_mm, open_to_mm=more[0] if more else 0.0, typed=True)
            return state, (Preview((_edit(state),)),)
        case Press():
            state = state if state.typed else _opened(state, gesture)
            return Idle(), (Commit((_edit(state),)), Trace())
        case Enter():
            return Idle(), (Commit((_edit(state),)), Trace())
        case Cancel():
            return Idle(), (DropPreview(), Trace())
        case _:
            return state, ()


def _end(state: From, pointer: Pointer, scene: Scene) -> Spot | None:
    spot = spot_under(scene, pointer, state.start.piece)
    far = spot is not None and is_drag(state.start.at_mm, replace(pointer, at_mm=spot.at_mm))
    return spot if far else None


def _opened(state: Opening, pointer: Pointer) -> Opening:
    """As far as the pointer lies from the slash: to its right it opens, to its left it closes.

    The right of the way from start to end is the side that moves.
    """
    (x0, y0), (x1, y1) = state.start.at_mm, state.end.at_mm
    across = (x1 - x0) * (pointer.at_mm[1] - y0) - (y1 - y0) * (pointer.at_mm[0] - x0)
    gap_mm = -across / math.hypot(x1 - x0, y1 - y0)
    return replace(state, open_mm=gap_mm, open_to_mm=gap_mm if pointer.shift else 0.0)


def _edit(state: Opening) -> SlashSpread:
    return SlashSpread(
        piece=state.start.piece,
        from_=state.start.place,
        to=state.end.place,
        open_mm=state.open_mm,
        open_to_mm=state.open_to_mm,
    )
