"""Press an outline point by point: what follows on each gesture, for drawing and for tracing.

A press sets a corner, one with Shift a point that the curve passes smoothly, and the hand may
still drag it into place. A press on a point that is set takes hold of it, one on the drawn line
puts a point in and bends it there. The first point again, or Enter, closes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from wedgework.bench.gestures import (
    Back,
    Cancel,
    Enter,
    Gesture,
    Mm2,
    Move,
    Pointer,
    Press,
    Release,
    Swap,
    Typed,
    distance_mm,
    is_drag,
)
from wedgework.bench.tools.outlining import (
    Points,
    Set,
    arc_at_angle,
    at_angle,
    closing_is_straight,
    gap_under,
    is_enough,
    kept,
    length_and_angle,
    point_under,
    says_of,
    trace_of,
    with_other_kind,
    with_point,
)
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Hint, Trace, Wish


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Points that are set, and what the hand does with them.

    `held` is the point that it has hold of since a press at `from_mm`, and `is_new`, whether that
    press has set it. `typed` are length, direction and turn that take the pointer's place.
    """

    points: Points
    pointer_mm: Mm2
    px_mm: float
    held: int | None = None
    from_mm: Mm2 = (0.0, 0.0)
    is_new: bool = False
    is_dragged: bool = False
    typed: tuple[float, ...] = ()


State: TypeAlias = Idle | Drawing
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
Rest: TypeAlias = Callable[[Pointer, Scene], tuple[Mm2, str | None]]
"""Where a pressed point comes to rest, and why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """What sets one tool apart from the other: its sentences, and what draws a point in."""

    begin: str
    going: str
    rest: Rest


FULL_DEG: Final = 360.0
CLOSES = "the first point again, or Enter, closes"
FOLDS = "; with Shift as half a piece, on the fold"


def step(state: State, gesture: Gesture, scene: Scene, way: Way) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            at, _ = way.rest(gesture, scene)
            first = Drawing(points=(Set(at),), pointer_mm=at, px_mm=gesture.px_mm, held=0,
                            from_mm=gesture.at_mm, is_new=True)  # fmt: skip
            return _shown(first, way)
        case Idle(), Move():
            return state, (Hint(way.begin),)
        case Drawing(), Press() | Move() | Release():
            return _pointed(state, gesture, scene, way)
        case Drawing(), _:
            return _keyed(state, gesture, scene, way)
        case _:
            return state, ()


def _keyed(state: Drawing, gesture: Gesture, scene: Scene, way: Way) -> Answer:
    match gesture:
        case Typed(numbers) if _is_edge(numbers):
            return _shown(replace(state, typed=numbers), way)
        case Enter() if state.typed:
            return _shown(_with_typed(state), way)
        case Enter() if is_enough(state.points):
            return Idle(), (kept(state.points, scene, on_fold=False), Trace())
        case Back() | Swap() | Cancel():
            return _taken_back(state, gesture, way)
        case _:
            return state, ()


def _taken_back(state: Drawing, gesture: Back | Swap | Cancel, way: Way) -> Answer:
    """The last point goes, or becomes of the other kind; with the first one all goes."""
    if isinstance(gesture, Swap):
        points = with_other_kind(state.points, len(state.points) - 1)
        return _shown(replace(state, points=points, held=None), way)
    if isinstance(gesture, Back) and len(state.points) > 1:
        return _shown(replace(state, points=state.points[:-1], held=None, typed=()), way)
    return Idle(), (Trace(), Hint(way.begin))


def _pointed(state: Drawing, gesture: Press | Move | Release, scene: Scene, way: Way) -> Answer:
    match gesture:
        case Press():
            return _pressed(state, gesture, scene, way)
        case Move() if state.held is not None:
            return _dragged(state, gesture, scene, way)
        case Move():
            at, reason = way.rest(gesture, scene)
            return _shown(replace(state, pointer_mm=at, px_mm=gesture.px_mm), way, reason)
        case Release() if state.held is not None:
            return _released(state, gesture, scene, way)
        case _:
            return state, ()


def _pressed(state: Drawing, press: Press, scene: Scene, way: Way) -> Answer:
    if state.typed:
        return _shown(_with_typed(state), way)
    at, reason = way.rest(press, scene)
    held = replace(state, from_mm=press.at_mm, px_mm=press.px_mm, is_dragged=False, pointer_mm=at)
    found = point_under(state.points, press)
    if found is not None:
        return replace(held, held=found, is_new=False), ()
    gap = gap_under(state.points, press)
    index = len(state.points) if gap is None else gap
    point = Set(at, is_corner=gap is None and not press.shift)
    points = (*state.points[:index], point, *state.points[index:])
    return _shown(replace(held, points=points, held=index, is_new=True), way, reason)


def _dragged(state: Drawing, move: Move, scene: Scene, way: Way) -> Answer:
    """The point that is held follows the hand, once it means to drag."""
    if state.held is None or not (state.is_dragged or _is_pulled(state, move)):
        return state, ()
    at, reason = way.rest(move, scene)
    points = with_point(state.points, state.held, at)
    return _shown(replace(state, points=points, pointer_mm=at, is_dragged=True), way, reason)


def _is_pulled(state: Drawing, pointer: Pointer) -> bool:
    return is_drag(state.from_mm, pointer)


def _released(state: Drawing, release: Release, scene: Scene, way: Way) -> Answer:
    """A press without a drag on the first point closes; on another one it changes its kind."""
    held, free = state.held or 0, replace(state, held=None)
    if state.is_dragged or state.is_new:
        return _shown(free, way)
    if held > 0:
        return _shown(replace(free, points=with_other_kind(state.points, held)), way)
    if not is_enough(state.points):
        return free, ()
    on_fold = release.shift and closing_is_straight(state.points)
    return Idle(), (kept(state.points, scene, on_fold=on_fold), Trace())


def _with_typed(state: Drawing) -> Drawing:
    """The typed place becomes a corner, and the arc that leads to it is set."""
    coming = _coming(state)
    at = coming[-1].at_mm
    return replace(state, points=(*state.points, *coming), pointer_mm=at, typed=())


def _is_edge(numbers: tuple[float, ...]) -> bool:
    """Whether typed numbers say an edge: a length, its direction, and how far an arc turns."""
    return bool(numbers) and numbers[0] > 0 and all(abs(turn) < FULL_DEG for turn in numbers[2:])


def _coming(state: Drawing) -> Points:
    """What would be set next: a corner, or the points of an arc that is typed."""
    if len(state.typed) > 2:
        return arc_at_angle(state.points[-1].at_mm, *state.typed[:3])
    return (Set(_end(state)),)


def _end(state: Drawing) -> Mm2:
    """Where the next point would be: at the pointer, or as far and in the direction typed."""
    if not state.typed:
        return state.pointer_mm
    start, (size_mm, *directions) = state.points[-1].at_mm, state.typed
    if directions:
        return at_angle(start, size_mm, directions[0])
    return at_angle(start, size_mm, length_and_angle(start, state.pointer_mm)[1])


def _shown(state: Drawing, way: Way, reason: str | None = None) -> Answer:
    coming = _coming(state)
    is_going = state.held is None and distance_mm(coming[-1].at_mm, state.points[-1].at_mm) > 0
    points = (*state.points, *coming) if is_going else state.points
    says = says_of(state.points, coming) if is_going else says_of(points[:-1], points[-1:])
    trace = trace_of(points, px_mm=state.px_mm, says=says)
    because = f"{reason[0].upper()}{reason[1:]}. " if reason else ""
    closes = ""
    if is_enough(state.points):
        closes = f"; {CLOSES}{FOLDS if closing_is_straight(state.points) else ''}"
    return state, (replace(trace, marks=trace.marks and trace.marks[: len(state.points)]),
                   Hint(f"{because}{way.going}{closes}."))  # fmt: skip
