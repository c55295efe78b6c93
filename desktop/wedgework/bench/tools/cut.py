"""Cut a piece: press on its outline, then inside where the cut passes, then on the outline again.

A drag from the outline to the outline cuts straight. Enter cuts to where the pointer last was.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

from wedgework.bench.gestures import Cancel, Enter, Gesture, Mm2, Move, Pointer, Press, Release
from wedgework.bench.gestures import is_drag as is_drag_from
from wedgework.bench.tools.places import Spot, spot_under
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.edits.cut import CutPiece


@dataclass(frozen=True, slots=True)
class Idle:
    """No cut has begun."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """A cut has begun at a place; `via_mm` is what it passes, `to` where it would end now."""

    start: Spot
    via_mm: tuple[Mm2, ...] = ()
    to: Spot | None = None


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
        case Move():
            return _followed(state, gesture, scene)
        case Press():
            return _pressed(state, gesture, scene)
        case Release() if not state.via_mm and is_drag_from(state.start.at_mm, gesture):
            end = _end(state, gesture, scene)
            return (state, ()) if end is None else _cut(replace(state, to=end))
        case Enter() if state.to is not None:
            return _cut(state)
        case Cancel():
            return Idle(), (DropPreview(), _NO_TRACE)
        case _:
            return state, ()


def _begun(scene: Scene, press: Press) -> Answer:
    spot = spot_under(scene, press)
    if spot is None:
        return Idle(), (Hint("Press on the outline of a piece: the cut begins there."),)
    return Cutting(start=spot), (Hint(_NEXT),)


_NEXT = "Press inside for a point that the cut passes, or on the outline where it ends."


def _followed(state: Cutting, move: Move, scene: Scene) -> Answer:
    end = _end(state, move, scene)
    state = replace(state, to=end)
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
    state = replace(state, via_mm=(*state.via_mm, press.at_mm), to=None)
    return state, (Trace((state.start.at_mm, *state.via_mm)), Hint(_NEXT))


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
    if spot is None:
        return Hint("Press on the outline of a piece: the cut begins there.")
    return Hint(f"The cut begins {spot.place.at_mm:.1f} mm along {spot.place.edge}.", spot.piece)
