"""Turn a piece about the middle of its box; numbers that are typed are degrees."""

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
from wedgework.bench.wishes import Choose, Commit, DropPreview, Hint, Preview, Wish
from wedgework.edits.move import TurnPiece, middle_of
from wedgework.units.shown import format_number

STEP_DEG = 15.0
"""With Shift a piece turns in steps of this; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is held."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressed:
    """The button is down on a piece."""

    piece: str
    from_mm: Mm2
    about_mm: Mm2


@dataclass(frozen=True, slots=True, kw_only=True)
class Turning:
    """The piece turns with the pointer, or as typed."""

    piece: str
    from_mm: Mm2
    about_mm: Mm2
    turn_deg: float = 0.0
    typed: bool = False


State: TypeAlias = Idle | Pressed | Turning
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            return _pressed(scene, gesture)
        case Idle(), Move():
            return state, (_hint(scene, gesture),)
        case Pressed(), Move() if is_drag(state.from_mm, gesture):
            turning = Turning(piece=state.piece, from_mm=state.from_mm, about_mm=state.about_mm)
            return _turned(turning, gesture)
        case Pressed(), Release() | Cancel():
            return Idle(), ()
        case Turning(), _:
            return _step_turning(state, gesture)
        case _:
            return state, ()


def _step_turning(state: Turning, gesture: Gesture) -> Answer:
    match gesture:
        case Move() if not state.typed:
            return _turned(state, gesture)
        case Typed((turn_deg, *_)):
            state = replace(state, turn_deg=turn_deg, typed=True)
            return state, (Preview((_edit(state),)),)
        case Release():
            if not state.typed:
                state = replace(state, turn_deg=_turn_deg(state, gesture))
            return Idle(), (Commit((_edit(state),), chosen=(state.piece,)),)
        case Enter():
            return Idle(), (Commit((_edit(state),), chosen=(state.piece,)),)
        case Cancel():
            return Idle(), (DropPreview(),)
        case _:
            return state, ()


def _pressed(scene: Scene, press: Press) -> Answer:
    hit = scene.piece_under(press)
    if hit is None:
        return Idle(), ()
    x, y = middle_of(scene.project.pieces[hit.piece]).tolist()
    held = Pressed(piece=hit.piece, from_mm=press.at_mm, about_mm=(x, y))
    return held, (Choose((hit.piece,)),)


def _turned(state: Turning, pointer: Pointer) -> Answer:
    state = replace(state, turn_deg=_turn_deg(state, pointer))
    return state, (
        Preview((_edit(state),)),
        Hint(f"Turned by {format_number(state.turn_deg)}°", state.piece),
    )


def _turn_deg(state: Turning, pointer: Pointer) -> float:
    before, now = (_angle(state.about_mm, point) for point in (state.from_mm, pointer.at_mm))
    turn = math.degrees(math.remainder(now - before, 2 * math.pi))
    return round(turn / STEP_DEG) * STEP_DEG if pointer.shift else turn


def _angle(about: Mm2, point: Mm2) -> float:
    return math.atan2(point[1] - about[1], point[0] - about[0])


def _edit(state: Turning) -> TurnPiece:
    return TurnPiece(piece=state.piece, turn_deg=state.turn_deg, about_mm=state.about_mm)


def _hint(scene: Scene, move: Move) -> Hint:
    hit = scene.piece_under(move)
    if hit is None:
        return Hint("Press on a piece and drag round it; Shift turns in steps of 15°.")
    return Hint(f"Turns {scene.called(hit)}.", hit.id)
