"""Measure: straight between two places, along the edges between them, an angle, a level's girth.

Press at a place and at another, or drag; Shift (or C) measures along the edges. A third press with
Shift makes an angle at the second place, a second press at the same corner that corner's own.
Enter pins what is told to the table; a number typed before is what it should be.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from wedgework.bench.gestures import (
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
    is_drag,
)
from wedgework.bench.picking import Hit
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, Figure, Hint, Overlay, Trace, Wish
from wedgework.edits import Edit, Place
from wedgework.edits.pins import STEM, PinMeasure
from wedgework.edits.places import Naming
from wedgework.pattern.document import Anchor, Pin, PinKind, Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.pins import angle_at, pin_value, way_along


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A place that is measured from: where it lies, what it hangs on if anything, and its name."""

    at_mm: Mm2
    anchor: Anchor | None = None
    called: str = ""


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is measured."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measuring:
    """From this place to the pointer; `along` the edges between them, if they are of one outline.

    `pressed` while the button that set it is down: a drag ends where it is let go.
    """

    first: Held
    along: bool = False
    pressed: bool = True
    last: Held | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A measure that stands until another is begun; Enter pins it. `wanted` was typed."""

    kind: PinKind
    held: tuple[Held, ...]
    wanted: float | None = None


State: TypeAlias = Idle | Measuring | Told
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press at a place, then at another; Shift: along the edges. On a level: its girth."
_PIN = "Enter pins it; type before what it should be. Shift and a press: an angle."
_TO = "Press at the other place; Shift measures along the edges, the same corner its angle."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    if isinstance(gesture, Cancel):
        return Idle(), (Trace(), Overlay(), Hint(_BEGIN))
    match state:
        case Idle():
            return _step_idle(state, gesture, scene)
        case Measuring():
            return _step_measuring(state, gesture, scene)
    return _step_told(state, gesture, scene)


def _step_idle(state: Idle, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Press():
            return _begun(gesture, scene)
        case Move():
            held = _held(gesture, scene)
            return state, (Hint(f"Measures from {held.called}." if held.called else _BEGIN),)
        case _:
            return state, ()


def _begun(press: Press, scene: Scene) -> Answer:
    level = _level_under(press, scene)
    if level is not None:
        return _told("girth", (Held(at_mm=press.at_mm, anchor=level),), scene)
    state = Measuring(first=_held(press, scene))
    return state, (*_shown("distance", (state.first,), scene), Hint(_TO))


def _step_measuring(state: Measuring, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move():
            return _moved(state, gesture, scene)
        case Release() if state.pressed:
            if is_drag(state.first.at_mm, gesture):
                return _ended(state, gesture, scene)
            return replace(state, pressed=False), ()
        case Press():
            return _ended(state, gesture, scene)
        case Swap() if state.last is not None:
            swapped = replace(state, along=not state.along)
            return swapped, _shown(_kind(swapped, state.last), (state.first, state.last), scene)
        case _:
            return state, ()


def _moved(state: Measuring, move: Move, scene: Scene) -> Answer:
    last = _held(move, scene)
    kind = _kind(state, last, shift=move.shift)
    said = f"To {last.called}." if last.called else _TO
    return replace(state, last=last), (*_shown(kind, (state.first, last), scene), Hint(said))


def _ended(state: Measuring, pointer: Pointer, scene: Scene) -> Answer:
    """Told between both places; at one corner its own angle."""
    last = _held(pointer, scene)
    if last.anchor is not None and last.anchor == state.first.anchor:
        is_corner = isinstance(last.anchor, str) and last.anchor in scene.project.owners
        return _told("angle", (last,), scene) if is_corner else (state, (Hint(_TO),))
    return _told(_kind(state, last, shift=pointer.shift), (state.first, last), scene)


def _kind(state: Measuring, last: Held, *, shift: bool = False) -> PinKind:
    is_anchored = state.first.anchor is not None and last.anchor is not None
    return "along" if is_anchored and state.along != shift else "distance"


def _step_told(state: Told, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Press(shift=True) if state.kind == "distance":
            return _told("angle", (*state.held, _held(gesture, scene)), scene)
        case Press():
            return _begun(gesture, scene)
        case Swap() if len(state.held) == 2:
            return _swapped(state, scene)
        case Typed((wanted, *_)) if state.kind != "angle":
            return _told(state.kind, state.held, scene, wanted)
        case Enter():
            return _pinned(state, scene)
        case _:
            return state, ()


def _swapped(state: Told, scene: Scene) -> Answer:
    """Straight in place of along the outline, or the other way round where both ends are on it."""
    if state.kind == "along":
        return _told("distance", state.held, scene)
    if any(one.anchor is None for one in state.held):
        return state, (Hint("Along an outline is measured between corners, notches or edges."),)
    return _told("along", state.held, scene)


def _told(
    kind: PinKind, held: tuple[Held, ...], scene: Scene, wanted: float | None = None
) -> Answer:
    state = Told(kind=kind, held=held, wanted=wanted)
    return state, (*_shown(kind, held, scene, wanted), Hint(_PIN))


def _pinned(state: Told, scene: Scene) -> Answer:
    """Pinned and chosen, so that its card takes a name and what it should be."""
    made = Naming(scene.project).numbered(STEM)
    kept = Commit((_pinning(state),), chosen=(made,))
    return Idle(), (kept, Trace(), Overlay(), Hint(_BEGIN))


def _pinning(state: Told) -> Edit:
    """The edit that pins a measure; what hangs on nothing is pinned where it lies."""
    anchors = [held.anchor for held in state.held]
    named = tuple(
        Place(one.edge, one.at_mm) if isinstance(one, Spot) else one or held.at_mm
        for one, held in zip(anchors, state.held, strict=True)
    )
    return PinMeasure(kind=state.kind, anchors=named, wanted=state.wanted)


# What lies under the pointer


def _level_under(pointer: Pointer, scene: Scene) -> str | None:
    """The level whose line is pressed, unless a corner or a mark is nearer to hand."""
    first = next(iter(scene.under(pointer)), None)
    if first is None or first.kind != "line":
        return None
    lines = scene.project.pieces[first.piece].lines
    return next((line.level for line in lines if line.id == first.id), None)


def _held(pointer: Pointer, scene: Scene) -> Held:
    """The place under the pointer: a corner, a mark, a place on an edge, or the bare table."""
    if not pointer.alt:
        for hit in scene.under(pointer):
            anchor = _anchor_of(hit, scene)
            if anchor is not None:
                return Held(at_mm=hit.at_mm, anchor=anchor, called=scene.called(hit))
    rest = scene.snapped(pointer.at_mm, pointer)
    return Held(at_mm=rest.at_mm, called=rest.reason or "")


def _anchor_of(hit: Hit, scene: Scene) -> Anchor | None:
    if hit.kind == "corner":
        return hit.id
    if hit.kind == "edge":
        return Spot(hit.edge, hit.station_mm)
    if hit.kind != "mark":
        return None
    mark = scene.project.notches.get(hit.id) or scene.project.holes[hit.id]
    # The mate's side is a place on its edge: the mark alone would mean its datum.
    return hit.id if mark.at.edge == hit.edge else Spot(hit.edge, hit.station_mm)


# What is shown


def _shown(
    kind: PinKind, held: tuple[Held, ...], scene: Scene, wanted: float | None = None
) -> tuple[Wish, ...]:
    points = tuple(one.at_mm for one in held)
    if kind == "along":
        anchors = [one.anchor for one in held if one.anchor is not None]
        try:
            curves = way_along(scene.project, anchors).curves
        except EditRefused:
            return _shown("distance", held, scene, wanted)
        figures = _figures(kind, held, scene, wanted)
        return Trace(), Overlay(curves=curves, places_mm=points, figures=tuple(figures))
    if kind == "girth":
        points = ()
    figures = _figures(kind, held, scene, wanted)
    return Trace(points), Overlay(places_mm=points, figures=tuple(figures))


def _figures(
    kind: PinKind, held: tuple[Held, ...], scene: Scene, wanted: float | None
) -> Iterator[Figure]:
    if kind == "distance" and len(held) == 1:
        return
    value = _value(kind, held, scene)
    yield Figure(_WORDS[kind], value, "angle" if kind == "angle" else "length")
    if kind == "distance":
        across, up = np.subtract(held[1].at_mm, held[0].at_mm).tolist()
        yield Figure("across", across, "signed")
        yield Figure("up", up, "signed")
    if wanted is not None:
        yield Figure("wanted", wanted)


_WORDS: dict[PinKind, str] = {
    "distance": "straight",
    "along": "along",
    "angle": "angle",
    "girth": "girth",
}


def _value(kind: PinKind, held: tuple[Held, ...], scene: Scene) -> float:
    """What is measured, mm or degrees; free places count as they lie."""
    points = [np.array(one.at_mm) for one in held]
    if kind == "distance":
        return math.hypot(*(points[1] - points[0]))
    if kind == "angle" and len(held) > 1:
        return math.degrees(angle_at(*points))
    anchors = tuple(one.anchor for one in held if one.anchor is not None)
    value = pin_value(scene.project, Pin(id="", name="", kind=kind, anchors=anchors))
    return math.degrees(value) if kind == "angle" else value
