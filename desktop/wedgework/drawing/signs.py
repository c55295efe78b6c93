"""Small signs that are drawn of lines: heads of arrows, the arrow that says which way is up."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from wedgework.geometry.curve import Curve, Floats, Point, line, polyline
from wedgework.geometry.turning import end_tangents

HEAD_MM: Final = 3.5
HEAD_RAD: Final = math.radians(25.0)
"""Length of each side of an arrow's head, and its angle to the shaft."""


def heads_of(curve: Curve) -> Iterator[Curve]:
    """A head at each end of a line, as a grain line has: it runs both ways."""
    tangents = end_tangents(curve)
    yield head(curve.start, -tangents[0, 0])
    yield head(curve.end, tangents[-1, 1])


def arrow_up(foot: Point, length_mm: float) -> tuple[Curve, Curve]:
    """Shaft and head of an arrow that points up the piece from a foot, (2,) mm."""
    tip = foot + np.array([0.0, length_mm])
    return line(foot, tip), head(tip, np.array([0.0, 1.0]))


def head(tip: Point, along: Floats) -> Curve:
    """Two short lines that meet in a tip, (2,) mm, pointing along a unit direction, (2,)."""
    ends = []
    for turn_rad in (math.pi - HEAD_RAD, math.pi + HEAD_RAD):
        cos, sin = math.cos(turn_rad), math.sin(turn_rad)
        ends.append(tip + HEAD_MM * np.array([[cos, -sin], [sin, cos]]) @ along)
    return polyline([ends[0], tip, ends[1]])
