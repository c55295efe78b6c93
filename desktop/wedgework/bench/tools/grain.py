"""Draw a grain line: press in a piece for an upright one, or draw it in its direction.

With Shift it turns in steps. Length and turn may be typed, one after the other.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from wedgework.bench.gestures import (
    Cancel,
    Enter,
    Gesture,
    Mm2,
    Move,
    Press,
    Release,
    Typed,
    distance_mm,
    is_drag,
)
from wedgework.bench.tools.label import turn_deg
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Figure, Hint, Preview, Wish, say
from wedgework.edits.drawn import AddLine
from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.document import Project
from wedgework.units.shown import format_number

SHARE: Final = 0.4
"""A grain line that is only pressed is as long as this share of its piece's height."""


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is held."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A line from where it was pressed, in a direction; `drawn` once the hand has gone far."""

    piece: str
    from_mm: Mm2
    long_mm: float
    angle_deg: float = 90.0
    drawn: bool = False
    typed: bool = False


State: TypeAlias = Idle | Drawing
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press in a piece for an upright grain line, or draw it; Shift turns it in steps of 15°."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            hit = scene.piece_under(gesture)
            if hit is None:
                return state, (Hint(_BEGIN),)
            long_mm = SHARE * _height_mm(scene.project, hit.piece)
            return _tried(Drawing(piece=hit.piece, from_mm=gesture.at_mm, long_mm=long_mm), scene)
        case Idle(), Move():
            return state, (Hint(_BEGIN),)
        case Drawing(), _:
            return _step_drawing(state, gesture, scene)
        case _:
            return state, ()


def _step_drawing(state: Drawing, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if not state.typed and is_drag(state.from_mm, gesture):
            long_mm = distance_mm(state.from_mm, gesture.at_mm)
            angle = turn_deg(state.from_mm, gesture)
            return _tried(replace(state, long_mm=long_mm, angle_deg=angle, drawn=True), scene)
        case Typed((long_mm, *more)) if long_mm > 0.0:
            angle = more[0] if more else state.angle_deg
            return _tried(replace(state, long_mm=long_mm, angle_deg=angle, typed=True), scene)
        case Release() | Enter():
            return Idle(), (Commit((_edit(state),)),)
        case Cancel():
            return Idle(), (DropPreview(),)
        case _:
            return state, ()


def _height_mm(project: Project, piece: str) -> float:
    box = bounds_of_all([edge.curve for edge in project.pieces[piece].edges])
    return float(box[3] - box[1])


def _tried(state: Drawing, scene: Scene) -> Answer:
    turned = format_number(state.angle_deg)
    hint = Hint(f"A grain line of {scene.said(state.long_mm)} at {turned}°", state.piece)
    says = say(Figure("length", state.long_mm), Figure("turned", state.angle_deg, "angle"))
    return state, (Preview((_edit(state),)), says, hint)


def _edit(state: Drawing) -> AddLine:
    """Drawn it begins where it was pressed; only pressed, that is its middle."""
    turn = math.radians(state.angle_deg)
    x, y = state.long_mm * math.cos(turn), state.long_mm * math.sin(turn)
    x0, y0 = state.from_mm
    if not state.drawn:
        x0, y0 = x0 - x / 2, y0 - y / 2
    return AddLine(piece=state.piece, kind="grain", points_mm=((x0, y0), (x0 + x, y0 + y)))
