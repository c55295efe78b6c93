"""Set a notch: press on an edge; along a seam its mate comes with it. It slides until let go.

With Shift it is a double one. A typed distance counts from the start of the edge, a negative one
from its end; arrow keys slide it by steps.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

from wedgework.bench.gestures import (
    Cancel,
    Enter,
    Gesture,
    Move,
    Nudge,
    Pointer,
    Press,
    Release,
    Typed,
)
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Figure, Hint, Preview, Wish, say
from wedgework.edits.marks import AddNotches
from wedgework.geometry.length import length_mm
from wedgework.geometry.nearest import nearest
from wedgework.pattern.document import Project, Seam
from wedgework.pattern.document import Spot as EdgeSpot
from wedgework.pattern.lookup import skin_seam_of, the_edge
from wedgework.pattern.seams import measure_seam


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is held."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sliding:
    """A notch slides along an edge; `at_mm` is where it is, from the edge's start."""

    edge: str
    at_mm: float
    double: bool = False
    typed: bool = False


State: TypeAlias = Idle | Sliding
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on an edge: the notch is set there, and its mate along the seam."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            hit = scene.edge_under(gesture)
            if hit is None:
                return state, (Hint(_BEGIN),)
            return _tried(Sliding(edge=hit.id, at_mm=hit.station_mm, double=gesture.shift), scene)
        case Idle(), Move():
            return state, (_hint(scene, gesture),)
        case Sliding(), _:
            return _step_sliding(state, gesture, scene)
        case _:
            return state, ()


def _step_sliding(state: Sliding, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if not state.typed:
            return _tried(_slid(state, gesture, scene), scene)
        case Typed() | Nudge():
            at_mm = _by_numbers(state, gesture, scene)
            return _tried(replace(state, at_mm=at_mm, typed=True), scene)
        case Release():
            state = state if state.typed else _slid(state, gesture, scene)
            return Idle(), (Commit((_edit(state, scene.project),)),)
        case Enter():
            return Idle(), (Commit((_edit(state, scene.project),)),)
        case Cancel():
            return Idle(), (DropPreview(),)
        case _:
            return state, ()


def _by_numbers(state: Sliding, gesture: Typed | Nudge, scene: Scene) -> float:
    """Where numbers or arrow keys put it, in mm from the start of its edge."""
    whole_mm = _whole_mm(state, scene)
    match gesture:
        case Nudge((across, up)):
            return min(max(state.at_mm + across + up, 0.0), whole_mm)
        case Typed((at_mm, *_)):
            return at_mm + whole_mm if at_mm < 0.0 else at_mm
    return state.at_mm


def _slid(state: Sliding, pointer: Pointer, scene: Scene) -> Sliding:
    curve = the_edge(scene.project, state.edge).curve
    at_mm = nearest(curve, pointer.at_mm).station_mm
    return replace(state, at_mm=at_mm, double=pointer.shift)


def _tried(state: Sliding, scene: Scene) -> Answer:
    kind = "a double notch" if state.double else "a notch; Shift makes it double"
    hint = Hint(f"{scene.said(state.at_mm)} along {state.edge}: {kind}", state.edge)
    rest_mm = _whole_mm(state, scene) - state.at_mm
    says = say(Figure("from the start", state.at_mm), Figure("to the end", rest_mm))
    return state, (Preview((_edit(state, scene.project),)), says, hint)


def _whole_mm(state: Sliding, scene: Scene) -> float:
    return length_mm(the_edge(scene.project, state.edge).curve)


def _edit(state: Sliding, project: Project) -> AddNotches:
    seam = skin_seam_of(project, state.edge)
    if seam is None:
        return AddNotches(edge=state.edge, at_mm=(state.at_mm,), double=state.double)
    on_a = station_on_a(project, seam, state.edge, state.at_mm)
    return AddNotches(seam=seam.id, at_mm=(on_a,), double=state.double)


def station_on_a(project: Project, seam: Seam, edge: str, at_mm: float) -> float:
    """On a seam marks count along side A, whichever side they were set on."""
    measure = measure_seam(project, seam)
    spot = EdgeSpot(edge, at_mm)
    on_a = measure.a.station_of(spot)
    if on_a is not None:
        return on_a
    on_b = measure.b.station_of(spot)
    return 0.0 if on_b is None else measure.a_of(on_b)


def _hint(scene: Scene, move: Move) -> Hint:
    hit = scene.edge_under(move)
    if hit is None:
        return Hint(_BEGIN)
    seams = scene.seam_names(hit.id)
    mate = f", and its mate on the other side of {seams}" if seams else ""
    return Hint(f"Sets a notch {scene.said(hit.station_mm)} along {hit.id}{mate}.", hit.id)
