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
    steps = np.diff(turned_rad[_extremes_that_count(walk_mm, turned_rad)])
    # abs: the sum of no falls is a zero that must not carry a sign.
    return float(steps[steps > 0].sum()), abs(float(steps[steps < 0].sum()))


def _extremes_that_count(walk: Floats, values: Floats) -> list[int]:
    """Indices of the first row, the last, and every extreme that is left, the smallest gone first.

    A peak (or pit) is cut off at the level of the nearer of its neighbours in value; both then lie
    on one slope and go. An end stays, only the peak beside it goes.
    """
    kept = _extremes(values)
    judged = [_size_if_noise(walk, values, kept, at) for at in range(len(kept))]
    while min(judged) < math.inf:
        peak = judged.index(min(judged))
        gone = {peak, _nearer_neighbour(values, kept, peak)} - {0, len(kept) - 1}
        first = min(gone)
        del kept[first : first + len(gone)], judged[first : first + len(gone)]
        for at in (first - 1, first):
            judged[at] = _size_if_noise(walk, values, kept, at)
    return kept


def _extremes(values: Floats) -> list[int]:
    """Indices of the first row, the last, and every row where rising turns to falling or back."""
    steps = np.diff(values)
    moving = np.flatnonzero(steps)
    turns = moving[1:][np.sign(steps[moving[1:]]) != np.sign(steps[moving[:-1]])]
    return [0, *turns.tolist(), len(values) - 1]


def _size_if_noise(walk: Floats, values: Floats, kept: list[int], at: int) -> float:
    """Height of an inner extreme over its nearer neighbour if it does not count, else infinite."""
    if at in (0, len(kept) - 1):
        return math.inf
    before, peak, after = kept[at - 1 : at + 2]
    level = values[kept[_nearer_neighbour(values, kept, at)]]
    size = float(abs(values[peak] - level))
    # Back to within a quarter degree is back: rounding must not keep a swing open for ever.
    level += math.copysign(min(LEAST_SWING_RAD, size) / 2, values[peak] - level)
    left = _distance_to(level, walk[before : peak + 1][::-1], values[before : peak + 1][::-1])
    right = _distance_to(level, walk[peak : after + 1], values[peak : after + 1])
    return size if size < LEAST_SWING_RAD or left + right <= RETURN_MM else math.inf


def _distance_to(level: float, walk: Floats, values: Floats) -> float:
    """Walk in mm from the first row until the polyline first comes to a level that it reaches."""
    passed = (values - level) * (values[0] - level) <= 0.0
    row = max(int(np.argmax(passed)), 1)
    step = values[row] - values[row - 1]
    share = (level - values[row - 1]) / step if step else 1.0
    return float(abs(walk[row - 1] + share * (walk[row] - walk[row - 1]) - walk[0]))


def _nearer_neighbour(values: Floats, kept: list[int], at: int) -> int:
    before, peak, after = (values[row] for row in kept[at - 1 : at + 2])
    return at - 1 if abs(peak - before) <= abs(peak - after) else at + 1
