"""Draw an internal line: press inside a piece for its points.

Enter, or a second press at the last point, ends it; with Shift at the end the line is smooth. A
typed length, or across and up from the last point, sets the next one with Enter or a press.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

from wedgework.bench.gestures import (
    Cancel,
    Enter,
    Gesture,
    Mm2,
    Move,
    Press,
    Typed,
    is_drag,
    shift_between,
    sum_of,
)
from wedgework.bench.tools.dragging import typed_shift
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.edits.drawn import AddLine


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Points that are set, in one piece; `typed_mm` is one that is typed and not set yet."""

    piece: str
    points: tuple[Mm2, ...]
    pointer_mm: Mm2 | None = None
    typed_mm: Mm2 | None = None


State: TypeAlias = Idle | Drawing
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press inside a piece: a style line begins there."
_NEXT = "Press for the next point; Enter ends the line, Shift makes it smooth."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            hit = scene.piece_under(gesture)
            if hit is None:
                return state, (Hint(_BEGIN),)
            point = scene.snapped(gesture.at_mm, gesture).at_mm
            return Drawing(piece=hit.piece, points=(point,)), (Hint(_NEXT, hit.piece),)
        case Idle(), Move():
            return state, (Hint(_BEGIN),)
        case Drawing(), _:
            return _step_drawing(state, gesture, scene)
        case _:
            return state, ()


def _step_drawing(state: Drawing, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Typed(numbers) if numbers:
            return _typed(state, numbers)
        case Press() | Enter() if state.typed_mm is not None:
            return _set(state, state.typed_mm)
        case Cancel():
            return Idle(), (DropPreview(), Trace())
    return _step_by_hand(state, gesture, scene)


def _step_by_hand(state: Drawing, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if state.typed_mm is None:
            return _followed(state, gesture, scene)
        case Press() if is_drag(state.points[-1], gesture):
            return _set(state, scene.snapped(gesture.at_mm, gesture).at_mm)
        case Press() if len(state.points) > 1:
            return _kept(state, smooth=gesture.shift)
        case Enter() if len(state.points) > 1:
            return _kept(state, smooth=False)
        case _:
            return state, ()


def _set(state: Drawing, point: Mm2) -> Answer:
    points = (*state.points, point)
    return Drawing(piece=state.piece, points=points), (Trace(points), Hint(_NEXT))


def _typed(state: Drawing, numbers: tuple[float, ...]) -> Answer:
    """The next point as it is typed, from the last one."""
    last = state.points[-1]
    towards = (0.0, 0.0) if state.pointer_mm is None else shift_between(last, state.pointer_mm)
    point = sum_of(last, typed_shift(numbers, towards))
    trace = Trace((*state.points, point))
    return replace(state, typed_mm=point), (DropPreview(), trace, Hint("Enter sets the point."))


def _followed(state: Drawing, move: Move, scene: Scene) -> Answer:
    if not is_drag(state.points[-1], move):
        return state, (DropPreview(), Trace(state.points))
    rest = scene.snapped(move.at_mm, move)
    points = (*state.points, rest.at_mm)
    edit = _edit(state.piece, points, smooth=move.shift)
    state = replace(state, pointer_mm=rest.at_mm)
    return state, (Preview((edit,)), Hint(f"{_NEXT} {rest.reason or ''}".strip(), state.piece))


def _kept(state: Drawing, *, smooth: bool) -> Answer:
    return Idle(), (Commit((_edit(state.piece, state.points, smooth=smooth),)), Trace())


def _edit(piece: str, points: tuple[Mm2, ...], *, smooth: bool) -> AddLine:
    return AddLine(piece=piece, kind="style", points_mm=points, smooth=smooth)
