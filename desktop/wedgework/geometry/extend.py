"""Make a curve longer or shorter at an end, along itself."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from wedgework.geometry.curve import Curve, Floats, is_straight, joined, line, reversed_curve
from wedgework.geometry.length import cut_cubics, length_mm, segment_lengths_mm
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import MEETING_ROUNDS, STATION_MM, STRAIGHT_MM
from wedgework.geometry.turning import end_tangent, segment_turnings_rad

MOST_CONTINUED: Final = 0.5
"""A cubic carries its bend on by this share of its length at the most: further on it may curl."""

MOST_TURN_RAD: Final = math.radians(10.0)
"""Nor does it go on with its bend where that would turn by more; it goes on straight instead."""


def with_end_moved_along(curve: Curve, by_mm: float) -> Curve:
    """The curve made longer by `by_mm` at its end, along itself; shorter where that is negative.

    A straight curve stays straight; another goes on with its own bend for a short way, and
    straight for a long one. Its length changes by `by_mm` to STATION_MM. Raises ValueError where
    nothing would be left.
    """
    whole = length_mm(curve)
    if by_mm <= -whole + STATION_MM:
        raise ValueError("nothing would be left of the curve")
    if is_straight(curve, STRAIGHT_MM):
        grown = curve.start + (curve.segments - curve.start) * ((whole + by_mm) / whole)
        grown[0, 0] = curve.start
        return Curve(grown)
    if by_mm < 0.0:
        return part(curve, 0.0, whole + by_mm)
    return _continued(curve, by_mm) or joined(
        curve, line(curve.end, curve.end + by_mm * end_tangent(curve))
    )


def with_start_moved_along(curve: Curve, by_mm: float) -> Curve:
    """As `with_end_moved_along`, at the other end."""
    return reversed_curve(with_end_moved_along(reversed_curve(curve), by_mm))


def _continued(curve: Curve, by_mm: float) -> Curve | None:
    """The curve with its last cubic carried on beyond its end; None where it would curl."""
    last = curve.segments[-1:]
    own = float(segment_lengths_mm(last)[0])
    if by_mm > MOST_CONTINUED * own:
        return None
    t, low, high = 1.0 + by_mm / own, 1.0, 1.0 + 4.0 * MOST_CONTINUED
    for _ in range(MEETING_ROUNDS):
        over = float(segment_lengths_mm(_carried_on(last, t))[0]) - own - by_mm
        if abs(over) <= STATION_MM / 4:
            break
        low, high = (low, t) if over > 0 else (t, high)
        t = _inner_step(last, t, over, low, high)
    carried = _carried_on(last, t)
    turned = segment_turnings_rad(carried) - segment_turnings_rad(last)
    if abs(over) > STATION_MM or abs(float(turned[0])) > MOST_TURN_RAD:
        return None
    return Curve(np.concatenate([curve.segments[:-1], carried]))


def _carried_on(cubic: Floats, t: float) -> Floats:
    # De Casteljau's construction holds beyond the end as well: the same polynomial, further on.
    return cut_cubics(cubic, np.array([t]))[0]


def _inner_step(cubic: Floats, t: float, over: float, low: float, high: float) -> float:
    """A step of Newton's method, or the middle of the bracket where that leaves it."""
    ahead = _carried_on(cubic, t)[0]
    speed = 3.0 * float(np.hypot(*(ahead[3] - ahead[2]))) / t
    step = t - over / speed if speed > 0 else low
    return step if low < step < high else (low + high) / 2
