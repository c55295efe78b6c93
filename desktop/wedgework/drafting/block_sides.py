"""The side of a suit block: one fair line through the width at every level.

A maker laps the seam, so it has to bend as gently as the widths allow: it is the spline that bends
least, with one curvature throughout, and its ends lean as the body's outline does there instead of
being forced upright.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.curve import Curve, Floats, joined, line
from wedgework.geometry.length import length_mm, points_at_parameters, station_of
from wedgework.geometry.spline import Spline, clamped_spline


@dataclass(frozen=True, kw_only=True)
class Leaning:
    """How a line may end: with a lean, sideways by height, between two limits.

    It goes on beyond its last level to a height, or ends at that level where there is none.
    """

    least: float
    most: float
    height_mm: float | None = None


UNDER_ARM: Final = (0.0, 0.35)
"""Below the arm the side is upright, or leans out by 19 degrees at most, as the shoulder slopes:
leaning more it would stand off as a wing; common practice, no source."""

BELOW_HIP: Final = (-0.1, 0.0)
"""Below the hips, where the trunk is widest, the side is upright, or leans out by 6 degrees at
most; common practice, no source."""


def fair_over(
    heights: Floats, places: Floats, *, low: Leaning | None = None, high: Leaning | None = None
) -> Curve:
    """The curve that bends least through (place, height), each (n,), heights rising throughout.

    An end that may lean does so as it bends least; another is upright. Source: de Boor, A Practical
    Guide to Splines, chapter V: of all curves the cubic spline has the least integral of the square
    of its second derivative.
    """
    free = clamped_spline(heights, places, None if low else 0.0, None if high else 0.0).slopes
    slopes = [
        0.0 if end is None else float(np.clip(slope, end.least, end.most))
        for end, slope in ((low, free[0]), (high, free[-1]))
    ]
    stations, values, ends = heights, places, []
    if high is not None and high.height_mm is not None:
        stations, values = np.append(stations, high.height_mm), np.append(values, values[-1])
        ends.append(-1)
    if low is not None and low.height_mm is not None:
        stations, values = np.append(low.height_mm, stations), np.append(values[0], values)
        ends.append(0)
    return _drawn(_ending_freely(stations, values, slopes, ends))


def _ending_freely(
    stations: Floats, values: Floats, slopes: Sequence[float], ends: Sequence[int]
) -> Spline:
    """The spline whose places at `ends` are those at which it bends least."""

    def moved(by_mm: ArrayLike) -> Spline:
        placed = values.copy()
        placed[list(ends)] += np.asarray(by_mm)
        return clamped_spline(stations, placed, *slopes)

    if not ends:
        return moved(np.zeros(0))
    # A free end bends least where its third derivative is nothing; that is linear in the places.
    at_first = _third(moved(np.zeros(len(ends))), ends)
    units = np.eye(len(ends))
    each = np.stack([_third(moved(row), ends) - at_first for row in units], axis=1)
    return moved(np.linalg.solve(each, -at_first))


def _third(spline: Spline, ends: Sequence[int]) -> Floats:
    """The third derivative beside the ends, but for what both sides of an equation share; (n,)."""
    at = [0 if end == 0 else len(spline.stations) - 2 for end in ends]
    step = np.diff(spline.values) / np.diff(spline.stations)
    return np.array([spline.slopes[one] + spline.slopes[one + 1] - 2.0 * step[one] for one in at])


def _drawn(spline: Spline) -> Curve:
    """The spline of places over heights as a curve, upwards."""
    heights, places, slopes = spline.stations, spline.values, spline.slopes
    third = np.diff(heights) / 3.0
    points = np.stack([places, heights], axis=1)
    low, high = points[:-1], points[1:]
    ahead = low + np.stack([slopes[:-1] * third, third], axis=1)
    behind = high - np.stack([slopes[1:] * third, third], axis=1)
    return Curve(np.stack([low, ahead, behind, high], axis=1))


def place_at(curve: Curve, height_mm: float) -> float:
    """How far aside a line that rises throughout is at a height."""
    return float(points_at_parameters(curve, np.array([_parameter_at(curve, height_mm)]))[0, 0])


def station_at(curve: Curve, height_mm: float) -> float:
    """How far along a line that rises throughout a height lies, in mm; its start if it is lower."""
    return station_of(curve, max(_parameter_at(curve, height_mm), 0.0))


def _parameter_at(curve: Curve, height_mm: float) -> float:
    # Heights of the handles are thirds of a cubic's rise: height is linear in the parameter.
    low, high = curve.segments[:, 0, 1], curve.segments[:, 3, 1]
    row = min(int(np.searchsorted(high, height_mm)), len(high) - 1)
    return row + float((height_mm - low[row]) / (high[row] - low[row]))


def made_equal(lines: Sequence[Curve], above: int = 0) -> tuple[Curve, Curve]:
    """Both lines, the shorter going on straight, so that they are equally long.

    The last `above` cubics are a part of their own, so that both also meet where it begins.
    """
    lengths = np.array([_low_and_high_mm(curve, above) for curve in lines])
    lacks = (lengths.max(axis=0) - lengths).tolist()
    first, second = (lengthened(curve, *lack) for curve, lack in zip(lines, lacks, strict=True))
    return first, second


def _low_and_high_mm(curve: Curve, above: int) -> tuple[float, float]:
    rest = len(curve.segments) - above
    high_mm = length_mm(Curve(curve.segments[rest:])) if above else 0.0
    return length_mm(Curve(curve.segments[:rest])), high_mm


def lengthened(curve: Curve, low_mm: float, high_mm: float = 0.0) -> Curve:
    """A line that goes on straight below and above by so much."""
    parts = [curve]
    if low_mm > 0.0:
        first = curve.segments[0]
        parts.insert(0, line(_onward(first[1], first[0], low_mm), first[0]))
    if high_mm > 0.0:
        last = curve.segments[-1]
        parts.append(line(last[3], _onward(last[2], last[3], high_mm)))
    return joined(*parts)


def _onward(before: Floats, end: Floats, by_mm: float) -> Floats:
    way = end - before
    return np.asarray(end + by_mm * way / np.hypot(*way))
