"""Write a label: press where it begins; drawn, its line runs where the hand goes.

Its text is asked for once it is set; the height of its letters may be typed while it is drawn.
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
    is_drag,
)
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Ask, Commit, DropPreview, Figure, Hint, Preview, Wish, say
from wedgework.edits.drawn import AddLabel
from wedgework.edits.places import Naming
from wedgework.units.shown import format_number

WORD: Final = "Label"
"""What a label says until another text is typed."""

TURN_DEG: Final = 15.0
"""With Shift a line turns in steps of this."""


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is held."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Writing:
    """A label is being set."""

    piece: str
    at_mm: Mm2
    angle_deg: float = 0.0
    height_mm: float = 5.0


State: TypeAlias = Idle | Writing
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press inside a piece where a label begins; draw it to turn its line."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            hit = scene.piece_under(gesture)
            if hit is None:
                return state, (Hint(_BEGIN),)
            return _tried(Writing(piece=hit.piece, at_mm=gesture.at_mm))
        case Idle(), Move():
            return state, (Hint(_BEGIN),)
        case Writing(), _:
            return _step_writing(state, gesture, scene)
        case _:
            return state, ()


def _step_writing(state: Writing, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move():
            return _tried(replace(state, angle_deg=turn_deg(state.at_mm, gesture)))
        case Typed((height_mm, *_)) if height_mm > 0.0:
            return _tried(replace(state, height_mm=height_mm))
        case Release() | Enter():
            own = Naming(scene.project).numbered(f"{state.piece}.t")
            return Idle(), (Commit((_edit(state),), chosen=(own,)), Ask("words"))
        case Cancel():
            return Idle(), (DropPreview(),)
        case _:
            return state, ()


def turn_deg(from_mm: Mm2, move: Move) -> float:
    """Direction from a point to the pointer; 0 while it has not gone far, in steps with Shift."""
    if not is_drag(from_mm, move):
        return 0.0
    x, y = move.at_mm[0] - from_mm[0], move.at_mm[1] - from_mm[1]
    angle = math.degrees(math.atan2(y, x))
    return round(angle / TURN_DEG) * TURN_DEG if move.shift else angle


def _tried(state: Writing) -> Answer:
    hint = Hint(f"A label, its line turned by {format_number(state.angle_deg, 0)}°", state.piece)
    says = say(Figure("letters", state.height_mm), Figure("turned", state.angle_deg, "angle"))
    return state, (Preview((_edit(state),)), says, hint)


def _edit(state: Writing) -> AddLabel:
    return AddLabel(
        piece=state.piece,
        text=WORD,
        at_mm=state.at_mm,
        height_mm=state.height_mm,
        angle_deg=state.angle_deg,
    )
