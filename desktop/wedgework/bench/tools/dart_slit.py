"""The double-pointed dart of the dart tool: both points, then how wide it is between them."""

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
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.edits.dart_double import AddDoubleDart
from wedgework.edits.places import Naming

LEAST_INTAKE_MM = 0.1
"""A dart narrower than this cannot be drawn, let alone cut; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Tip:
    """One point lies inside a piece; the other is not known yet."""

    piece: str
    tip_mm: Mm2


@dataclass(frozen=True, slots=True, kw_only=True)
class Widening:
    """Both points are known. `intake_mm` is its width, `widest_mm` how far from the tip."""

    piece: str
    tip_mm: Mm2
    apex_mm: Mm2
    intake_mm: float = 0.0
    widest_mm: float = 0.0
    typed: bool = False


State: TypeAlias = Tip | Widening
Answer: TypeAlias = tuple[State | None, tuple[Wish, ...]]
APEX = "Press at its other point: a dart inside the piece has two."
_WIDEN = "Draw the dart open where it is widest and press, or type its intake."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture; None where the dart is done, or let go of."""
    match state, gesture:
        case _, Cancel():
            return None, (DropPreview(), Trace())
        case Tip(), Move():
            apex = scene.snapped(gesture.at_mm, gesture)
            return state, (Trace((state.tip_mm, apex.at_mm)), Hint(APEX))
        case Tip(), Press() | Release() if is_drag(state.tip_mm, gesture):
            apex = scene.snapped(gesture.at_mm, gesture)
            both = Trace((state.tip_mm, apex.at_mm))
            opening = Widening(piece=state.piece, tip_mm=state.tip_mm, apex_mm=apex.at_mm)
            return opening, (both, Hint(_WIDEN))
        case Widening(), _:
            return _step_widening(state, gesture, scene)
        case _:
            return state, ()


def _step_widening(state: Widening, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if not state.typed:
            return _tried(_drawn(state, gesture), scene)
        case Typed((intake_mm, *_)):
            return _tried(replace(state, intake_mm=intake_mm, typed=True), scene)
        case Press():
            return _kept(state if state.typed else _drawn(state, gesture), scene)
        case Enter():
            return _kept(state, scene)
        case _:
            return state, ()


def _drawn(state: Widening, pointer: Pointer) -> Widening:
    """The leg lies under the pointer, and the dart is widest there."""
    (x0, y0), (x1, y1) = state.tip_mm, state.apex_mm
    dx, dy = x1 - x0, y1 - y0
    px, py = pointer.at_mm[0] - x0, pointer.at_mm[1] - y0
    size = math.hypot(dx, dy)
    intake_mm, widest_mm = 2 * abs(dx * py - dy * px) / size, (dx * px + dy * py) / size
    return replace(state, intake_mm=intake_mm, widest_mm=min(max(widest_mm, 0.0), size))


def _tried(state: Widening, scene: Scene) -> Answer:
    hint = Hint(f"{_WIDEN} {scene.said(state.intake_mm)}")
    if state.intake_mm < LEAST_INTAKE_MM:
        return state, (DropPreview(), hint)
    return state, (Preview((_edit(state),)), hint)


def _kept(state: Widening, scene: Scene) -> Answer:
    if state.intake_mm < LEAST_INTAKE_MM:
        return state, (Hint(_WIDEN),)
    own = Naming(scene.project).numbered(f"{state.piece}.d")
    return None, (Commit((_edit(state),), chosen=(own,)), Trace())


def _edit(state: Widening) -> AddDoubleDart:
    return AddDoubleDart(
        piece=state.piece,
        tip_mm=state.tip_mm,
        apex_mm=state.apex_mm,
        intake_mm=state.intake_mm,
        widest_mm=state.widest_mm or None,
    )
