"""Swing a dart: press on one of its legs and draw its mouth round the outline.

All of its angle goes along; with Shift half of it, or as many degrees as are typed.
"""

from __future__ import annotations

import math
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
    is_drag,
)
from wedgework.bench.tools.dart_pick import apex_of, dart_under, place_round
from wedgework.bench.tools.places import Spot
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.edits.pivot import PivotDart
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.document import Seam
from wedgework.pattern.lookup import piece_of

HALF = 0.5
"""What Shift holds back: half of a dart goes, half stays; common practice, no source."""

SAID_DEG = 0.05
"""Half a step of the angle as it is said: who types the angle that was read means all of it."""


@dataclass(frozen=True, slots=True)
class Idle:
    """No dart is held."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Swinging:
    """A dart is held at its mouth. `to` is where it would swing to, `typed_deg` how much of it."""

    dart: str
    from_mm: Mm2
    apex_mm: Mm2
    angle_deg: float
    to: Spot | None = None
    half: bool = False
    typed_deg: float | None = None

    @property
    def share(self) -> float:
        """The part of the angle that swings; more than 1 where more was typed than there is."""
        if self.typed_deg is None:
            return HALF if self.half else 1.0
        whole = abs(self.typed_deg - self.angle_deg) <= SAID_DEG
        return 1.0 if whole else self.typed_deg / self.angle_deg


State: TypeAlias = Idle | Swinging
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on a leg of a dart, then draw its mouth round the outline."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            dart = dart_under(scene, gesture)
            return (state, (Hint(_BEGIN),)) if dart is None else _held(scene, dart, gesture)
        case Idle(), Move():
            dart = dart_under(scene, gesture)
            said = _BEGIN if dart is None else f"Takes dart {dart.name or dart.id}."
            return state, (Hint(said, None if dart is None else dart.id),)
        case Swinging(), _:
            return _step_swinging(state, gesture, scene)
        case _:
            return state, ()


def _held(scene: Scene, dart: Seam, press: Press) -> Answer:
    angle = math.degrees(measure_dart(scene.project, dart).angle_rad)
    held = Swinging(
        dart=dart.id, from_mm=press.at_mm, apex_mm=apex_of(scene, dart), angle_deg=angle
    )
    return held, (Hint(f"{angle:.1f}° to swing: draw the mouth to where it opens."),)


def _step_swinging(state: Swinging, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move():
            return _tried(_followed(state, gesture, scene))
        case Typed((degrees, *_)):
            return _tried(replace(state, typed_deg=degrees))
        case Press() | Release() if is_drag(state.from_mm, gesture):
            return _kept(_followed(state, gesture, scene))
        case Enter():
            return _kept(state)
        case Cancel():
            return Idle(), (DropPreview(), Trace())
        case _:
            return state, ()


def _followed(state: Swinging, pointer: Pointer, scene: Scene) -> Swinging:
    dart = scene.project.seams[state.dart]
    legs = {ref.edge for ref in (*dart.a, *dart.b)}
    piece = piece_of(scene.project, dart.a[0].edge)
    if not is_drag(state.from_mm, pointer):
        return state
    return replace(state, to=place_round(piece, pointer, legs), half=pointer.shift)


def _tried(state: Swinging) -> Answer:
    if state.share > 1.0:
        return state, (DropPreview(), Hint(_beyond(state)))
    swung = state.share * state.angle_deg
    hint = Hint(f"{swung:.1f}° of {state.angle_deg:.1f}°; Shift: half; or type how many.")
    if state.to is None or state.share <= 0.0:
        return state, (DropPreview(), hint)
    return state, (Preview((_edit(state, state.to),)), Trace((state.apex_mm, state.to.at_mm)), hint)


def _beyond(state: Swinging) -> str:
    return f"The dart has {state.angle_deg:.1f}°: type that or less, so that it can swing."


def _kept(state: Swinging) -> Answer:
    if state.share > 1.0:
        return state, (Hint(_beyond(state)),)
    if state.to is None or state.share <= 0.0:
        return state, (Hint(_BEGIN),)
    return Idle(), (Commit((_edit(state, state.to),), chosen=(state.dart,)), Trace())


def _edit(state: Swinging, to: Spot) -> PivotDart:
    return PivotDart(dart=state.dart, to=to.place, share=state.share)
