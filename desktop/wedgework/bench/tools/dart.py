"""A dart: press on the edge where its mouth is, then inside at its apex, then draw it open.

A drag from the edge to the apex does the first two at once. The intake may be typed. A press inside
a piece begins a dart with two points.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TypeAlias

from wedgework.bench.gestures import (
    Cancel,
    Enter,
    Gesture,
    Mm2,
    Move,
    Pointer,
    Press,
    Release,
    Typed,
    is_drag,
)
from wedgework.bench.tools import dart_slit
from wedgework.bench.tools.dart_slit import LEAST_INTAKE_MM
from wedgework.bench.tools.places import Spot, spot_under
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.edits.darts import AddDart
from wedgework.edits.places import Naming


@dataclass(frozen=True, slots=True)
class Idle:
    """No dart has begun."""


@dataclass(frozen=True, slots=True)
class Mouth:
    """Where the mouth is; the apex is not known yet."""

    at: Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The dart is drawn open: `intake_mm` is the width of its mouth."""

    at: Spot
    apex_mm: Mm2
    intake_mm: float = 0.0
    typed: bool = False


State: TypeAlias = Idle | Mouth | Opening | dart_slit.Tip | dart_slit.Widening
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on an edge for the dart's mouth, or inside for a dart with two points."
_APEX = "Press inside the piece where the dart ends."
_OPEN = "Draw the dart open and press, or type its intake."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            return _begun(gesture, scene)
        case Idle(), Move():
            return state, (Hint(_BEGIN),)
        case Mouth(), _:
            return _step_mouth(state, gesture, scene)
        case Opening(), _:
            return _step_opening(state, gesture, scene)
        case dart_slit.Tip() | dart_slit.Widening(), _:
            after, wishes = dart_slit.step(state, gesture, scene)
            return after or Idle(), wishes
        case _:
            return state, ()


def _begun(press: Press, scene: Scene) -> Answer:
    spot = spot_under(scene, replace(press, alt=True))
    if spot is not None:
        return Mouth(spot), (Hint(_APEX),)
    hit = scene.piece_under(press)
    if hit is None:
        return Idle(), (Hint(_BEGIN),)
    tip = scene.snapped(press.at_mm, press)
    return dart_slit.Tip(hit.piece, tip.at_mm), (Hint(dart_slit.APEX),)


def _step_mouth(state: Mouth, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move():
            apex = scene.snapped(gesture.at_mm, gesture)
            hint = Hint(f"{_APEX} {apex.reason}" if apex.reason else _APEX)
            return state, (Trace((state.at.at_mm, apex.at_mm)), hint)
        case Press() | Release() if is_drag(state.at.at_mm, gesture):
            apex = scene.snapped(gesture.at_mm, gesture)
            opening = Opening(at=state.at, apex_mm=apex.at_mm)
            return opening, (Trace((state.at.at_mm, apex.at_mm)), Hint(_OPEN))
        case Cancel():
            return Idle(), (Trace(),)
        case _:
            return state, ()


def _step_opening(state: Opening, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if not state.typed:
            state = replace(state, intake_mm=_intake_mm(state, gesture))
            return state, _tried(state, scene)
        case Typed((intake_mm, *_)):
            state = replace(state, intake_mm=intake_mm, typed=True)
            return state, _tried(state, scene)
        case Press():
            if not state.typed:
                state = replace(state, intake_mm=_intake_mm(state, gesture))
            return _kept(state, scene)
        case Enter():
            return _kept(state, scene)
        case Cancel():
            return Idle(), (DropPreview(), Trace())
        case _:
            return state, ()


def _intake_mm(state: Opening, pointer: Pointer) -> float:
    """Twice the distance of the pointer from the dart's middle line: the leg lies under it."""
    (x0, y0), (x1, y1) = state.at.at_mm, state.apex_mm
    across = (x1 - x0) * (pointer.at_mm[1] - y0) - (y1 - y0) * (pointer.at_mm[0] - x0)
    size = math.hypot(x1 - x0, y1 - y0)
    return 2 * abs(across) / size if size > 0 else 0.0


def _tried(state: Opening, scene: Scene) -> tuple[Wish, ...]:
    hint = Hint(f"{_OPEN} {scene.said(state.intake_mm)}")
    if state.intake_mm < LEAST_INTAKE_MM:
        return DropPreview(), hint
    return Preview((_edit(state),)), hint


def _kept(state: Opening, scene: Scene) -> Answer:
    if state.intake_mm < LEAST_INTAKE_MM:
        return state, (Hint(_OPEN),)
    own = Naming(scene.project).numbered(f"{state.at.piece}.d")
    return Idle(), (Commit((_edit(state),), chosen=(own,)), Trace())


def _edit(state: Opening) -> AddDart:
    return AddDart(
        piece=state.at.piece, at=state.at.place, apex_mm=state.apex_mm, intake_mm=state.intake_mm
    )
