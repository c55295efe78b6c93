"""Measure between two points: press on one, drag to the other. Nothing is changed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

from wedgework.bench.gestures import Cancel, Gesture, Mm2, Move, Pointer, Press, Release, is_drag
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Hint, Trace, Wish


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is measured."""


@dataclass(frozen=True, slots=True)
class Measuring:
    """From this point to the pointer."""

    from_mm: Mm2


State: TypeAlias = Idle | Measuring
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on a point, then on another: the distance is told; nothing is changed."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            return Measuring(scene.snapped(gesture.at_mm, gesture).at_mm), (Hint(_BEGIN),)
        case Idle(), Move():
            return state, (Hint(_BEGIN),)
        case Measuring(), Move():
            return state, _told(state, gesture, scene)
        case Measuring(), Press() | Release() if is_drag(state.from_mm, gesture):
            return Idle(), _told(state, gesture, scene)
        case Measuring(), Cancel():
            return Idle(), (Trace(),)
        case _:
            return state, ()


def _told(state: Measuring, pointer: Pointer, scene: Scene) -> tuple[Wish, ...]:
    rest = scene.snapped(pointer.at_mm, pointer)
    x, y = rest.at_mm[0] - state.from_mm[0], rest.at_mm[1] - state.from_mm[1]
    said = f"{math.hypot(x, y):.1f} mm; {x:+.1f} across, {y:+.1f} up"
    reason = f" ({rest.reason})" if rest.reason else ""
    return Trace((state.from_mm, rest.at_mm)), Hint(said.replace("-", "\N{MINUS SIGN}") + reason)
