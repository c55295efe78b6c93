"""Ends of laps cut at a slant, so that they do not reach under a second piece."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from wedgework.geometry.crossing import crossings
from wedgework.geometry.curve import Curve, Point, line
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import rotation
from wedgework.geometry.split import split
from wedgework.geometry.tolerances import SAME_STATION_MM, TRACED_MM
from wedgework.geometry.turning import end_tangents
from wedgework.pattern.document import Edge
from wedgework.pattern.layers import Slant

Tagged = tuple[int, Curve]
"""A stretch of a cut line with the number of its edge."""

REACH_TIMES = 1.5
"""The slant is drawn out by so much beyond where it leaves a straight lap: laps bend."""


def with_slant(
    ring: Sequence[Tagged], index: int, edge: Edge, slant: Slant, lap_mm: float
) -> list[Tagged]:
    """The cut line `ring` with the lap of edge `index` ending along the slant.

    As it was where the slant does not leave the lap through its outer line.
    """
    corner, towards = _corner_of(edge, slant)
    reach = REACH_TIMES * lap_mm / np.sin(slant.angle_rad)
    ray = line(corner, corner + reach * towards)
    found = _end_of(ring, index, corner, at_start=slant.at_start)
    if found is None:
        return list(ring)
    place, outer = found
    met = crossings(ring[outer][1], ray)
    met = met[(met[:, 1] > SAME_STATION_MM) & (met[:, 0] > SAME_STATION_MM)]
    met = met[met[:, 0] < length_mm(ring[outer][1]) - SAME_STATION_MM]
    if len(met) == 0:
        return list(ring)
    at_mm = float(met[0 if slant.at_start else -1, 0])
    return _cut(ring, (place, outer), at_mm, at_start=slant.at_start)


def _corner_of(edge: Edge, slant: Slant) -> tuple[Point, Point]:
    """The corner, and the direction of the end of the lap: outside of the piece, on the right."""
    tangents = end_tangents(edge.curve)
    if slant.at_start:
        return edge.curve.start, rotation(-slant.angle_rad).points(tangents[0, 0])
    return edge.curve.end, rotation(slant.angle_rad).points(-tangents[-1, 1])


def _end_of(
    ring: Sequence[Tagged], index: int, corner: Point, *, at_start: bool
) -> tuple[int, int] | None:
    """Where the square end of a lap stands in the ring at a corner, and the outer line beside."""
    for place, (edge, curve) in enumerate(ring):
        at_corner = curve.start if at_start else curve.end
        if edge == index and np.hypot(*(at_corner - corner)) <= TRACED_MM:
            outer = (place + (1 if at_start else -1)) % len(ring)
            return (place, outer) if ring[outer][0] == index and outer != place else None
    return None


def _cut(
    ring: Sequence[Tagged], where: tuple[int, int], at_mm: float, *, at_start: bool
) -> list[Tagged]:
    place, outer = where
    edge, curve = ring[outer]
    before, after = split(curve, at_mm)
    new = list(ring)
    if at_start:
        new[place] = edge, line(ring[place][1].start, after.start)
        new[outer] = edge, after
    else:
        new[place] = edge, line(before.end, ring[place][1].end)
        new[outer] = edge, before
    return new
