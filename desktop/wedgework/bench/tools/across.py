"""Draw a line across pieces: press on a hem, and its pieces are laid together at the one pressed.

Then press for points that the line passes, in any order, and Enter keeps it; or draw the line
itself, which bends as one over all its pieces. Enter with no point draws it through as it is.
A point that is set can be drawn elsewhere, and taken out with Shift.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from wedgework.bench.gestures import (
    PICK_PX,
    Cancel,
    Enter,
    Gesture,
    Mm2,
    Move,
    Pointer,
    Press,
    Release,
    Typed,
    distance_mm,
    is_drag,
    shift_between,
)
from wedgework.bench.joined import JoinedLine, joined_line, line_of
from wedgework.bench.tools.dragging import typed_shift
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Wish
from wedgework.edits import Edit
from wedgework.edits.across import DrawAcross, TrueAcross
from wedgework.pattern.errors import EditRefused

AT_END_SHARE: Final = 0.02
"""A point nearer to an end of the line than this share of it is meant for the end."""


@dataclass(frozen=True, slots=True)
class Idle:
    """No pieces are laid together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Laying:
    """Pieces are laid together at the one that holds `frame`; `points_mm` is what the line passes.

    While the button is down, `pressed_mm` is where, and `held` the point that it holds; with
    neither point nor drag the press sets one. `pull_mm` is how far the line itself is drawn.
    """

    edges: tuple[str, ...]
    frame: str
    points_mm: tuple[Mm2, ...] = ()
    pressed_mm: Mm2 | None = None
    held: int | None = None
    pull_mm: Mm2 | None = None
    typed: bool = False


State: TypeAlias = Idle | Laying
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on a hem, neckline or armhole: its pieces are laid together there."
_NEXT = "Press for points that the line passes, or draw the line itself; Enter keeps it."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            return _begun(scene, gesture)
        case Idle(), Move():
            return state, (_hint(scene, gesture),)
        case Laying(), Cancel():
            return Idle(), (DropPreview(),)
        case Laying(), _:
            return _step_laying(state, gesture, _joined(state, scene))
        case _:
            return state, ()


def resumed(state: State, scene: Scene) -> Answer | None:
    """The pieces still laid together, if their edges are still a line; its points are dropped."""
    if isinstance(state, Idle):
        return None
    after = Laying(edges=state.edges, frame=state.frame)
    try:
        joined = _joined(after, scene)
    except EditRefused:
        return None
    return after, (Hint(f"{joined.names}. {_NEXT}"),)


def _step_laying(state: Laying, gesture: Gesture, joined: JoinedLine) -> Answer:
    match gesture:
        case Press():
            return _pressed(state, gesture, joined)
        case Move() if state.pressed_mm is not None and not state.typed:
            return _dragged(state, gesture, joined)
        case Release() if state.pressed_mm is not None:
            return _let_go(state, gesture, joined)
        case Typed(numbers) if numbers and state.pull_mm is not None:
            pull = typed_shift(numbers, state.pull_mm)
            return _tried(replace(state, pull_mm=pull, typed=True), joined)
        case Enter():
            return Idle(), (Commit((_edit(state, joined),)),)
        case _:
            return state, ()


def _begun(scene: Scene, press: Press) -> Answer:
    hit = scene.edge_under(press)
    joined = line_of(scene.project, hit.id) if hit else None
    if joined is None:
        return Idle(), (Hint(_BEGIN),)
    state = Laying(edges=joined.edges, frame=joined.frame)
    return state, (Hint(f"{joined.names}. {_NEXT}"),)


def _pressed(state: Laying, press: Press, joined: JoinedLine) -> Answer:
    held = _point_under(state, press)
    if held is not None and press.shift:
        rest = tuple(point for i, point in enumerate(state.points_mm) if i != held)
        after = replace(state, points_mm=rest)
        return _tried(after, joined) if rest else (after, (DropPreview(),))
    return replace(state, pressed_mm=press.at_mm, held=held, pull_mm=None, typed=False), ()


def _point_under(state: Laying, pointer: Pointer) -> int | None:
    reach = PICK_PX * pointer.px_mm
    away = [distance_mm(point, pointer.at_mm) for point in state.points_mm]
    near = min(range(len(away)), key=away.__getitem__, default=None)
    return near if near is not None and away[near] <= reach else None


def _dragged(state: Laying, move: Move, joined: JoinedLine) -> Answer:
    start = state.pressed_mm or move.at_mm
    if state.held is not None:
        points = list(state.points_mm)
        points[state.held] = move.at_mm
        return _tried(replace(state, points_mm=tuple(points)), joined)
    if state.pull_mm is None and not (
        is_drag(start, move) and joined.is_near(replace(move, at_mm=start), PICK_PX)
    ):
        return state, ()
    return _tried(replace(state, points_mm=(), pull_mm=shift_between(start, move.at_mm)), joined)


def _let_go(state: Laying, release: Release, joined: JoinedLine) -> Answer:
    if state.pull_mm is not None:
        # Its pieces stay laid together for more.
        after = Laying(edges=state.edges, frame=state.frame)
        return after, (Commit((_edit(state, joined),)), Hint(_NEXT))
    if state.held is None:
        state = replace(state, points_mm=(*state.points_mm, release.at_mm))
    return _tried(replace(state, pressed_mm=None, held=None), joined)


def _tried(state: Laying, joined: JoinedLine) -> Answer:
    return state, (Preview((_edit(state, joined),)), Hint(_NEXT))


def _joined(state: Laying, scene: Scene) -> JoinedLine:
    return joined_line(scene.project, state.edges, state.frame)


def _edit(state: Laying, joined: JoinedLine) -> Edit:
    if state.pull_mm is not None and state.pressed_mm is not None:
        at_mm = joined.station_of(state.pressed_mm)[0]
        by_mm = joined.way_on_first(state.pull_mm)
        return TrueAcross(edges=state.edges, at_mm=at_mm, by_mm=by_mm)
    if not state.points_mm:
        return TrueAcross(edges=state.edges)
    points = tuple(joined.on_first(point) for point in _whole_line(state.points_mm, joined))
    return DrawAcross(edges=state.edges, points_mm=points)


def _whole_line(points: tuple[Mm2, ...], joined: JoinedLine) -> list[Mm2]:
    """The points in the order of the line, with its ends where they are unless one is set there.

    A point that the line's end is nearest to is that end's own.
    """
    rows = sorted((joined.station_of(point)[0], point) for point in points)
    whole = joined.length_mm
    way = [point for _, point in rows]
    if rows[0][0] > AT_END_SHARE * whole:
        way.insert(0, joined.end(0.0))
    if rows[-1][0] < (1.0 - AT_END_SHARE) * whole:
        way.append(joined.end(whole))
    return way


def _hint(scene: Scene, move: Move) -> Hint:
    hit = scene.edge_under(move)
    joined = line_of(scene.project, hit.id) if hit else None
    if hit is None or joined is None:
        return Hint(_BEGIN)
    return Hint(f"Lays together: {joined.names}.", hit.id)
