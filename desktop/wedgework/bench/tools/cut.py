"""Cut a piece: press on its outline, then inside where the cut passes, then on the outline again.

A drag from the outline to the outline cuts straight. Enter cuts to where the pointer last was. A
typed length says how far along its edge the cut ends, or with across and up from the last point
where it passes; Enter keeps that. A press on a line that is drawn in a piece cuts along it.
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
    Pointer,
    Press,
    Release,
    Typed,
    shift_between,
    sum_of,
)
from wedgework.bench.gestures import is_drag as is_drag_from
from wedgework.bench.picking import Hit
from wedgework.bench.tools.dragging import typed_shift
from wedgework.bench.tools.places import Spot, spot_under
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.edits import Place
from wedgework.edits.cut import CutPiece
from wedgework.edits.panels_cut import CutAlongLine
from wedgework.geometry.length import length_mm, point_at
from wedgework.pattern.lookup import the_edge


@dataclass(frozen=True, slots=True)
class Idle:
    """No cut has begun."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """A cut has begun at a place; `via_mm` is what it passes, `to` where it would end now.

    `typed_mm` is a point to pass that is typed and not set yet; `is_typed`, that `to` was typed.
    """

    start: Spot
    via_mm: tuple[Mm2, ...] = ()
    to: Spot | None = None
    pointer_mm: Mm2 | None = None
    typed_mm: Mm2 | None = None
    is_typed: bool = False


State: TypeAlias = Idle | Cutting
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_NO_TRACE = Trace()


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            return _begun(scene, gesture)
        case Idle(), Move():
            return state, (_hint(scene, gesture),)
        case Cutting(), _:
            return _step_cutting(state, gesture, scene)
        case _:
            return state, ()


def _step_cutting(state: Cutting, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Typed(numbers) if numbers:
            return _typed(state, numbers, scene)
        case Press() | Enter() if state.typed_mm is not None:
            return _passed(state, state.typed_mm)
        case Press() if state.is_typed:
            return _cut(state)
        case Cancel():
            return Idle(), (DropPreview(), _NO_TRACE)
    return _step_by_hand(state, gesture, scene)


def _step_by_hand(state: Cutting, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if state.typed_mm is None and not state.is_typed:
            return _followed(state, gesture, scene)
        case Press():
            return _pressed(state, gesture, scene)
        case Release() if not state.via_mm and is_drag_from(state.start.at_mm, gesture):
            end = _end(state, gesture, scene)
            return (state, ()) if end is None else _cut(replace(state, to=end))
        case Enter() if state.to is not None:
            return _cut(state)
        case _:
            return state, ()


def _typed(state: Cutting, numbers: tuple[float, ...], scene: Scene) -> Answer:
    """Where the cut ends along its edge, if one number is typed there; else what it passes."""
    if len(numbers) == 1 and state.to is not None:
        curve = the_edge(scene.project, state.to.place.edge).curve
        at_mm = min(max(numbers[0], 0.0), length_mm(curve))
        x, y = point_at(curve, at_mm).tolist()
        to = replace(state.to, place=Place(state.to.place.edge, at_mm), at_mm=(x, y))
        state = replace(state, to=to, is_typed=True)
        trace = Trace((state.start.at_mm, *state.via_mm, to.at_mm))
        return state, (Preview((_edit(state),)), trace, Hint("Enter cuts to here."))
    last = (state.start.at_mm, *state.via_mm)[-1]
    towards = (0.0, 0.0) if state.pointer_mm is None else shift_between(last, state.pointer_mm)
    point = sum_of(last, typed_shift(numbers, towards))
    trace = Trace((state.start.at_mm, *state.via_mm, point))
    return replace(state, typed_mm=point, to=None), (DropPreview(), trace, Hint("Enter sets it."))


def _passed(state: Cutting, point: Mm2) -> Answer:
    """A point that the cut passes is set."""
    state = Cutting(start=state.start, via_mm=(*state.via_mm, point))
    return state, (Trace((state.start.at_mm, *state.via_mm)), Hint(_NEXT))


def _begun(scene: Scene, press: Press) -> Answer:
    spot = spot_under(scene, press)
    if spot is not None:
        return Cutting(start=spot), (Hint(_NEXT),)
    drawn = _line_under(scene, press)
    if drawn is not None:
        return Idle(), (Commit((CutAlongLine(line=drawn.id),), chosen=()),)
    return Idle(), (Hint(_BEGIN),)


def _line_under(scene: Scene, pointer: Pointer) -> Hit | None:
    """A line drawn in a piece under the pointer."""
    return next((hit for hit in scene.under(pointer) if hit.kind == "line"), None)


_BEGIN = "Press on the outline of a piece: the cut begins there; or on a line, to cut along it."
_NEXT = "Press inside for a point that the cut passes, or on the outline where it ends."


def _followed(state: Cutting, move: Move, scene: Scene) -> Answer:
    end = _end(state, move, scene)
    state = replace(state, to=end, pointer_mm=move.at_mm)
    points = (state.start.at_mm, *state.via_mm, end.at_mm if end else move.at_mm)
    if end is None:
        return state, (DropPreview(), Trace(points), Hint(_NEXT))
    return state, (Preview((_edit(state),)), Trace(points), Hint("Press to cut to here."))


def _pressed(state: Cutting, press: Press, scene: Scene) -> Answer:
    end = _end(state, press, scene)
    if end is not None:
        return _cut(replace(state, to=end))
    if spot_under(scene, press, state.start.piece) is not None:  # where it began
        return state, ()
    return _passed(state, press.at_mm)


def _end(state: Cutting, pointer: Pointer, scene: Scene) -> Spot | None:
    """The place on the outline of the same piece, unless it is where the cut began."""
    spot = spot_under(scene, pointer, state.start.piece)
    if spot is None or not is_drag_from(state.start.at_mm, replace(pointer, at_mm=spot.at_mm)):
        return None
    return spot


def _cut(state: Cutting) -> Answer:
    return Idle(), (Commit((_edit(state),), chosen=()), _NO_TRACE)


def _edit(state: Cutting) -> CutPiece:
    to = state.to or state.start
    return CutPiece(
        piece=state.start.piece, from_=state.start.place, to=to.place, via_mm=state.via_mm
    )


def _hint(scene: Scene, move: Move) -> Hint:
    spot = spot_under(scene, move)
    if spot is not None:
        return Hint(
            f"The cut begins {scene.said(spot.place.at_mm)} along {spot.place.edge}.", spot.piece
        )
    drawn = _line_under(scene, move)
    return Hint(_BEGIN) if drawn is None else Hint("Press to cut along this line.", drawn.id)
