"""Draw a new piece: press for each corner, with Shift for points of a curve.

Length and direction of an edge can be typed, `120` or `120; 90`, for an arc also how far it turns,
to the left, from end to end, `120; 90; 30`; Enter or a press sets the corner there. Corners and
levels of other pieces draw points in.
"""

from __future__ import annotations

from typing import Final

from wedgework.bench.gestures import Gesture, Mm2, Pointer
from wedgework.bench.tools import pressing
from wedgework.bench.tools.pressing import Answer, Drawing, Idle, State
from wedgework.bench.tools.scene import Scene

__all__ = ["Drawing", "Idle", "State", "step"]


def _rest(pointer: Pointer, scene: Scene) -> tuple[Mm2, str | None]:
    found = scene.snapped(pointer.at_mm, pointer)
    return found.at_mm, found.reason


WAY: Final = pressing.Way(
    begin="Press for the first corner of a new piece.",
    going="Press for a corner, with Shift for a point of a curve, or type length; angle; turn",
    rest=_rest,
)


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    return pressing.step(state, gesture, scene, WAY)
