"""Draw an internal line: press inside a piece for its points.

Enter, or a second press at the last point, ends it; with Shift at the end the line is smooth.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from wedgework.bench.gestures import Cancel, Enter, Gesture, Mm2, Move, Press, is_drag
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.edits.drawn import AddLine


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Points that are set, in one piece."""

    piece: str
    points: tuple[Mm2, ...]


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
        case Move():
            return _followed(state, gesture, scene)
        case Press() if is_drag(state.points[-1], gesture):
            point = scene.snapped(gesture.at_mm, gesture).at_mm
            points = (*state.points, point)
            return Drawing(piece=state.piece, points=points), (Trace(points), Hint(_NEXT))
        case Press() if len(state.points) > 1:
            return _kept(state, smooth=gesture.shift)
        case Enter() if len(state.points) > 1:
            return _kept(state, smooth=False)
        case Cancel():
            return Idle(), (DropPreview(), Trace())
        case _:
            return state, ()


def _followed(state: Drawing, move: Move, scene: Scene) -> Answer:
    if not is_drag(state.points[-1], move):
        return state, (DropPreview(), Trace(state.points))
    rest = scene.snapped(move.at_mm, move)
    points = (*state.points, rest.at_mm)
    edit = _edit(state.piece, points, smooth=move.shift)
    return state, (Preview((edit,)), Hint(f"{_NEXT} {rest.reason or ''}".strip(), state.piece))


def _kept(state: Drawing, *, smooth: bool) -> Answer:
    return Idle(), (Commit((_edit(state.piece, state.points, smooth=smooth),)), Trace())


def _edit(piece: str, points: tuple[Mm2, ...], *, smooth: bool) -> AddLine:
    return AddLine(piece=piece, kind="style", points_mm=points, smooth=smooth)
