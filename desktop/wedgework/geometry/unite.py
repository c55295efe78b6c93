"""Undo a cut: two cubics that were one become one again."""

from __future__ import annotations

import numpy as np

from wedgework.geometry.curve import Curve, Floats, joined
from wedgework.geometry.length import cut_cubics
from wedgework.geometry.tolerances import (
    DOUBLE_ROOT,
    LEADING_RELATIVE,
    SAME_POINT_MM,
    SAME_STATION_MM,
)


def united(*curves: Curve) -> Curve:
    """One chain of `curves`, where two cubics at a joint that are parts of one are that one again.

    Each curve starts where the last one ended, as `joined` asks. No point moves by more than
    SAME_POINT_MM.
    """
    chain = curves[0]
    for following in curves[1:]:
        whole = united_cubic(chain.segments[-1], following.segments[0])
        if whole is None:
            chain = joined(chain, following)
        else:
            parts = [chain.segments[:-1], whole[None], following.segments[1:]]
            chain = Curve(np.concatenate(parts))
    return chain


def united_cubic(first: Floats, second: Floats) -> Floats | None:
    """The cubic, (4, 2), that `first` and `second` are the two parts of; None where there is none.

    Cut at t, the derivatives at the joint are t and 1 - t times that of the whole (de Casteljau),
    so their lengths give t; what comes of it is cut again and compared.
    """
    one, other = first[3] - first[2], second[1] - second[0]
    sizes = float(np.hypot(*one)), float(np.hypot(*other))
    if min(sizes) <= SAME_POINT_MM:
        return None
    t = sizes[0] / (sizes[0] + sizes[1])
    start, end = first[0], second[3]
    whole = np.array(
        [start, start + (first[1] - start) / t, end - (end - second[2]) / (1 - t), end]
    )
    parts = np.concatenate(cut_cubics(whole[None], np.array([t])))
    gap = np.abs(parts - np.stack([first, second])).max()
    return whole if gap <= SAME_POINT_MM else None


def missing_between(first: Floats, second: Floats) -> Floats | None:
    """The cubic, (4, 2), between two parts of one cubic, (4, 2) each; None if they are not that.

    `first` is followed beyond its end until it comes to where `second` starts; what comes of it
    is cut out of the whole again and compared with both.
    """
    for at in _reaches(first, second[0]):
        speed = float(np.hypot(*(_blossom(first, at, at, at + 1.0) - second[0])))
        own = float(np.hypot(*(second[1] - second[0])))
        if speed <= SAME_POINT_MM:
            continue
        end = at + own / speed
        if np.abs(stretch_of(first, at, end) - second).max() <= SAME_STATION_MM:
            return stretch_of(first, 1.0, at)
    return None


def reaching(cubic: Floats, point: Floats) -> Floats | None:
    """What a cubic, (4, 2), runs on along from its end to a point, (4, 2); None if it misses it."""
    reached = _reaches(cubic, point)
    return stretch_of(cubic, 1.0, float(reached[0])) if len(reached) else None


def _reaches(cubic: Floats, point: Floats) -> Floats:
    """Parameters beyond 1 at which a cubic comes to a point."""
    axis = int(np.ptp(cubic, axis=0).argmax())
    p0, p1, p2, p3 = cubic[:, axis]
    power = np.array(
        [p3 - 3 * (p2 - p1) - p0, 3 * (p2 - 2 * p1 + p0), 3 * (p1 - p0), p0 - point[axis]]
    )
    size = np.abs(power).max()
    while len(power) > 1 and abs(power[0]) <= LEADING_RELATIVE * size:
        power = power[1:]
    roots = np.roots(power)
    at = np.sort(roots.real[(np.abs(roots.imag) <= DOUBLE_ROOT) & (roots.real > 1.0)])
    reached = [t for t in at if np.hypot(*(_blossom(cubic, t, t, t) - point)) <= SAME_STATION_MM]
    return np.array(reached)


def stretch_of(cubic: Floats, start: float, end: float) -> Floats:
    """The stretch of a cubic's polynomial between any two parameters, (4, 2), beyond 0 to 1 too.

    Source: the polar form of a cubic (Ramshaw, Blossoms are polar forms, 1989).
    """
    return np.array(
        [
            _blossom(cubic, start, start, start),
            _blossom(cubic, start, start, end),
            _blossom(cubic, start, end, end),
            _blossom(cubic, end, end, end),
        ]
    )


def _blossom(cubic: Floats, r: float, s: float, t: float) -> Floats:
    points = cubic
    for at in (r, s, t):
        points = (1.0 - at) * points[:-1] + at * points[1:]
    return np.asarray(points[0])
