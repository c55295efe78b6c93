"""Make a curve longer or shorter at an end, along itself."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from wedgework.geometry.curve import Curve, Floats, Point, is_straight, joined, line, reversed_curve
from wedgework.geometry.length import cut_cubics, joint_stations_mm, length_mm, parameters_at
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import MEETING_ROUNDS, STATION_MM, STRAIGHT_MM
from wedgework.geometry.turning import end_tangent

MOST_CONTINUED: Final = 0.5
"""A cubic carries its bend on by this share of its length at the most: further on it may curl."""

MOST_TURN_RAD: Final = math.radians(10.0)
"""Nor does it go on with its bend where that would turn by more; it goes on straight instead."""


MOST_CHANGED: Final = 4.0
"""Nor where its speed would grow or fade by more than this factor: there it is about to curl."""

_NODES, _HALF_WEIGHTS = np.polynomial.legendre.leggauss(24)
_PLACES: Final = np.concatenate([[0.0], (_NODES + 1.0) / 2.0, [1.0]])
_WEIGHTS: Final = _HALF_WEIGHTS / 2.0


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


def end_moved_along(curve: Curve, by_mm: float) -> tuple[Point, Point]:
    """The end, (2,) mm, of `with_end_moved_along`, and its direction there, without the curve."""
    if is_straight(curve, STRAIGHT_MM):
        whole = length_mm(curve)
        return curve.start + (curve.end - curve.start) * ((whole + by_mm) / whole), end_tangent(
            curve
        )
    if by_mm < 0.0:
        at = parameters_at(curve, [length_mm(curve) + by_mm])
        index = min(int(at[0]), len(curve) - 1)
        cubic, t = curve.segments[index : index + 1], at - index
    else:
        cubic, found = curve.segments[-1:], _parameter_beyond(curve, by_mm)
        if found is None:
            return curve.end + by_mm * end_tangent(curve), end_tangent(curve)
        t = np.array([found])
    head = Curve(cut_cubics(cubic, t)[0])
    return head.end, end_tangent(head)


def with_start_moved_along(curve: Curve, by_mm: float) -> Curve:
    """As `with_end_moved_along`, at the other end."""
    return reversed_curve(with_end_moved_along(reversed_curve(curve), by_mm))


def _continued(curve: Curve, by_mm: float) -> Curve | None:
    """The curve with its last cubic carried on beyond its end; None where it would curl."""
    t = _parameter_beyond(curve, by_mm)
    if t is None:
        return None
    return Curve(np.concatenate([curve.segments[:-1], _carried_on(curve.segments[-1:], t)]))


def _parameter_beyond(curve: Curve, by_mm: float) -> float | None:
    """Up to which parameter the last cubic is carried on; None where it would curl."""
    last = curve.segments[-1:]
    starts = joint_stations_mm(curve)
    own = float(starts[-1] - starts[-2])
    if by_mm > MOST_CONTINUED * own:
        return None
    steps = 3.0 * np.diff(last[0], axis=0)
    t, low, high = 1.0 + by_mm / own, 1.0, 1.0 + 4.0 * MOST_CONTINUED
    for _ in range(MEETING_ROUNDS):
        ways = _velocities(steps, 1.0 + (t - 1.0) * _PLACES)
        speeds = np.hypot(ways[:, 0], ways[:, 1])
        over = float(_WEIGHTS @ speeds[1:-1]) * (t - 1.0) - by_mm
        if abs(over) <= STATION_MM / 8:
            break
        low, high = (low, t) if over > 0 else (t, high)
        step = t - over / float(speeds[-1]) if speeds[-1] > 0 else low
        t = step if low < step < high else (low + high) / 2
    return t if abs(over) <= STATION_MM and _goes_on_gently(ways, speeds) else None


def _goes_on_gently(ways: Floats, speeds: Floats) -> bool:
    """Whether velocities, (n, 2), neither turn far from the first nor grow or fade much.

    Of so even a speed the nodes measure the length to the last digits.
    """
    (x, y), (u, v) = ways[0], ways.T
    turned = np.arctan2(x * v - y * u, x * u + y * v)
    most = MOST_CHANGED * speeds[0]
    return bool(
        np.abs(turned).max() <= MOST_TURN_RAD
        and speeds.max() <= most
        and speeds.min() * MOST_CHANGED >= speeds[0]
    )


def _velocities(steps: Floats, at: Floats) -> Floats:
    """(k, 2): derivative at `at`, (k,), of a cubic by its three steps, (3, 2), times three."""
    s = 1.0 - at
    return np.asarray(np.stack([s * s, 2 * s * at, at * at], axis=1) @ steps)


def _carried_on(cubic: Floats, t: float) -> Floats:
    # De Casteljau's construction holds beyond the end as well: the same polynomial, further on.
    return cut_cubics(cubic, np.array([t]))[0]
