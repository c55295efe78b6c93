"""Draw a new piece: press for each corner; the first corner again, or Enter, closes it.

Edges are straight at first and are pulled into shape afterwards. A typed length is that of the
edge being drawn, in the direction of the pointer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TypeAlias

import numpy as np

from wedgework.bench.gestures import (
    PICK_PX,
    Cancel,
    Enter,
    Gesture,
    Mm2,
    Move,
    Pointer,
    Press,
    Typed,
    distance_mm,
    is_drag,
)
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, Hint, Trace, Wish
from wedgework.edits.pieces import AddPiece, EdgeData
from wedgework.geometry.curve import line

LEAST_CORNERS = 3


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Corners that are set, and where the pointer is, for a length that is typed."""

    corners: tuple[Mm2, ...]
    pointer_mm: Mm2


State: TypeAlias = Idle | Drawing
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press for the first corner of a new piece."
_NEXT = "Press for the next corner, or type the length; the first corner again, or Enter, closes."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            first = scene.snapped(gesture.at_mm, gesture).at_mm
            return Drawing(corners=(first,), pointer_mm=first), (Hint(_NEXT),)
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
        case Press():
            return _pressed(state, gesture, scene)
        case Typed((length_mm, *_)) if length_mm > 0:
            return _with_corner(state, _along(state, length_mm))
        case Enter() if len(state.corners) >= LEAST_CORNERS:
            return _closed(state, scene)
        case Cancel():
            return Idle(), (Trace(),)
        case _:
            return state, ()


def _followed(state: Drawing, move: Move, scene: Scene) -> Answer:
    rest = scene.snapped(move.at_mm, move)
    length = f"{distance_mm(state.corners[-1], rest.at_mm):.1f} mm"
    reason = f", {rest.reason}" if rest.reason else ""
    trace = Trace((*state.corners, rest.at_mm))
    return replace(state, pointer_mm=rest.at_mm), (trace, Hint(f"{length}{reason}. {_NEXT}"))


def _pressed(state: Drawing, press: Press, scene: Scene) -> Answer:
    if _is_first(state, press) and len(state.corners) >= LEAST_CORNERS:
        return _closed(state, scene)
    if not is_drag(state.corners[-1], press):
        return state, ()
    return _with_corner(state, scene.snapped(press.at_mm, press).at_mm)


def _is_first(state: Drawing, pointer: Pointer) -> bool:
    return distance_mm(state.corners[0], pointer.at_mm) <= PICK_PX * pointer.px_mm


def _with_corner(state: Drawing, corner: Mm2) -> Answer:
    corners = (*state.corners, corner)
    return Drawing(corners=corners, pointer_mm=corner), (Trace(corners), Hint(_NEXT))


def _along(state: Drawing, length_mm: float) -> Mm2:
    """So far from the last corner towards the pointer; to the right where that says nothing."""
    (x0, y0), (x1, y1) = state.corners[-1], state.pointer_mm
    size = math.hypot(x1 - x0, y1 - y0)
    across, up = ((x1 - x0) / size, (y1 - y0) / size) if size > 0 else (1.0, 0.0)
    return x0 + across * length_mm, y0 + up * length_mm


def _closed(state: Drawing, scene: Scene) -> Answer:
    return Idle(), (Commit((piece_edit(state.corners, scene),)), Trace())


def piece_edit(corners: tuple[Mm2, ...], scene: Scene) -> AddPiece:
    """The edit that puts a piece with these corners on the table, whichever way they run."""
    points = np.array(corners)
    following = np.roll(points, -1, axis=0)
    twice_area = (points[:, 0] * following[:, 1] - points[:, 1] * following[:, 0]).sum()
    if twice_area < 0:
        points = points[::-1]
    ring = [*points, points[0]]
    edges = tuple(
        EdgeData(cubics_mm=line(start, end).segments.tolist()) for start, end in pairwise(ring)
    )
    return AddPiece(name=f"piece {len(scene.project.pieces) + 1}", edges=edges)
