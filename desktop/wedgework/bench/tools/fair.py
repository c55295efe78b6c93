"""Fair an edge: press on it and draw away; waves shorter than the way drawn are smoothed.

With Shift its length stays as well. A press without a drag smooths over a third of the edge, and
waits for a typed number or Enter.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, TypeAlias

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
    distance_mm,
    is_drag,
)
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Choose, Commit, DropPreview, Hint, Preview, Wish
from wedgework.edits.fair import FairEdge, Keep
from wedgework.geometry.length import length_mm
from wedgework.pattern.lookup import the_edge

AT_FIRST: Final = 1 / 3
"""A bend that comes back within a third of an edge is a waver, not its shape; common practice."""

LEAST_MM: Final = 1.0


@dataclass(frozen=True, slots=True)
class Idle:
    """No edge is being smoothed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fairing:
    """An edge is being smoothed; `held` while the button is down."""

    edge: str
    from_mm: Mm2
    over_mm: float
    keep: Keep = "ends"
    held: bool = True
    dragged: bool = False
    typed: bool = False

    @property
    def edit(self) -> FairEdge:
        """The edit that smooths it so far."""
        return FairEdge(edge=self.edge, over_mm=self.over_mm, keep=self.keep)


State: TypeAlias = Idle | Fairing
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on an edge and draw away: waves shorter than that way are smoothed."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle() | Fairing(held=False), Press():
            return _pressed(state, gesture, scene)
        case Idle(), Move():
            hit = scene.edge_under(gesture)
            return state, (Hint(_BEGIN, hit.id if hit else None),)
        case Fairing(), _:
            return _step_fairing(state, gesture, scene)
        case _:
            return state, ()


def _step_fairing(state: Fairing, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if state.held and not state.typed:
            return _drawn(state, gesture, scene)
        case Release() if not state.dragged:
            return replace(state, held=False), ()
        case Release() | Enter():
            return Idle(), (Commit((state.edit,), chosen=(state.edge,)),)
        case Typed((over_mm, *_)) if over_mm > 0:
            return _tried(replace(state, over_mm=over_mm, typed=True), scene)
        case Cancel():
            return Idle(), (DropPreview(),)
        case _:
            return state, ()


def _pressed(state: State, press: Press, scene: Scene) -> Answer:
    hit = scene.edge_under(press)
    if hit is None:
        return state, (Hint(_BEGIN),)
    over_mm = max(AT_FIRST * length_mm(the_edge(scene.project, hit.id).curve), LEAST_MM)
    fresh = Fairing(
        edge=hit.id, from_mm=press.at_mm, over_mm=over_mm, keep="both" if press.shift else "ends"
    )
    after, wishes = _tried(fresh, scene)
    return after, (Choose((hit.id,)), *wishes)


def _drawn(state: Fairing, pointer: Pointer, scene: Scene) -> Answer:
    if not state.dragged and not is_drag(state.from_mm, pointer):
        return state, ()
    over_mm = max(distance_mm(state.from_mm, pointer.at_mm), LEAST_MM)
    keep: Keep = "both" if pointer.shift else "ends"
    return _tried(replace(state, over_mm=over_mm, keep=keep, dragged=True), scene)


def _tried(state: Fairing, scene: Scene) -> Answer:
    kept = "its length stays" if state.keep == "both" else "Shift keeps its length"
    waves = f"Waves shorter than {scene.said(state.over_mm, 0)} are smoothed"
    hint = Hint(f"{waves}; {kept}.", state.edge)
    return state, (Preview((state.edit,)), hint)
