"""Dome and hollow: how much the summed turning of a seam rises and how much it falls.

Drawn curves carry noise: two prints of one curve with one decimal, taken as chords, turn by
degrees at every chord and back at the next. Such swings are no shape. A swing counts unless it
stays under LEAST_SWING_RAD or has come back within RETURN_MM of walk. What is left at the end,
the net shaping, is not touched by this.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from wedgework.geometry.curve import Floats

LEAST_SWING_RAD: Final = math.radians(0.5)
"""No maker can see or glue half a degree; common practice, no source."""

RETURN_MM: Final = 5.0
"""A rise that is gone again within 5 mm lies inside the lap; common practice, no source."""


def dome_and_hollow(walk_mm: Floats, turned_rad: Floats) -> tuple[float, float]:
    """Sum of the rises and sum of the falls, both in rad and 0 or more, of summed turning.

    `walk_mm`, (k,), rises; `turned_rad`, (k,), is the turning gathered up to there. The rises
    less the falls are the last value less the first.
    """
    values = _without_swings(_turning_points(walk_mm, turned_rad))
    steps = np.diff([value for _, value in values])
    return float(steps[steps > 0].sum()), float(-steps[steps < 0].sum())


def _turning_points(walk_mm: Floats, turned_rad: Floats) -> list[tuple[float, float]]:
    """First, last and every extreme of the polyline, as (walk, value)."""
    steps = np.diff(turned_rad)
    moving = np.flatnonzero(steps)
    turns = moving[1:][np.sign(steps[moving[1:]]) != np.sign(steps[moving[:-1]])]
    keep = np.concatenate([[0], turns, [len(turned_rad) - 1]])
    return list(zip(walk_mm[keep].tolist(), turned_rad[keep].tolist(), strict=True))


def _without_swings(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Extremes with the swings that do not count taken out, smallest inside larger first.

    Four neighbours a b c d hold an inner swing b-c; where it is no larger than the swings beside
    it, it can go and leaves one swing a-d. The order in which such swings go does not matter
    (this is how load cycles are counted, ASTM E1049 rainflow).
    """
    kept: list[tuple[float, float]] = []
    for point in points:
        kept.append(point)
        while len(kept) > 3 and _is_noise(*kept[-4:]):
            del kept[-3:-1]
    return _without_end_swings(kept)


def _is_noise(*four: tuple[float, float]) -> bool:
    (_, a), (_, b), (_, c), (_, d) = four
    size = abs(c - b)
    if size > abs(b - a) or size > abs(d - c):
        return False
    return size < LEAST_SWING_RAD or _returns_soon(*four)


def _returns_soon(*four: tuple[float, float]) -> bool:
    """Whether the value left at b is back, or the value c was passed, within RETURN_MM."""
    a, b, c, d = four
    return min(_reached(c, d, b[1]) - b[0], c[0] - _reached(a, b, c[1])) <= RETURN_MM


def _reached(start: tuple[float, float], end: tuple[float, float], value: float) -> float:
    share = (value - start[1]) / (end[1] - start[1])
    return start[0] + share * (end[0] - start[0])


def _without_end_swings(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """A first or last swing that is too small goes into its neighbour; the ends stay."""
    while len(points) > 2 and abs(points[1][1] - points[0][1]) < LEAST_SWING_RAD:
        del points[1]
    while len(points) > 2 and abs(points[-1][1] - points[-2][1]) < LEAST_SWING_RAD:
        del points[-2]
    return points
