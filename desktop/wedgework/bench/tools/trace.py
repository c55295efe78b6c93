"""Trace a piece over a photograph: press its corners, and with Shift points of its curves.

Nothing draws a point in: what lies under the pointer is the truth here.
"""

from __future__ import annotations

from typing import Final

from wedgework.bench.gestures import Gesture, Mm2, Pointer
from wedgework.bench.tools import pressing
from wedgework.bench.tools.pressing import Answer, Drawing, Idle, State
from wedgework.bench.tools.scene import Scene

__all__ = ["Drawing", "Idle", "State", "step"]


def _rest(pointer: Pointer, _scene: Scene) -> tuple[Mm2, str | None]:
    return pointer.at_mm, None


WAY: Final = pressing.Way(
    begin="Press on a corner of the piece in the photograph.",
    going="Press on the next corner, with Shift on its edge where that is round",
    rest=_rest,
)


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    return pressing.step(state, gesture, scene, WAY)
