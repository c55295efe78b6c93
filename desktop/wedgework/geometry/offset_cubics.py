"""Cubics moved aside in bulk: end tangents kept, halved until each is within the error."""

from __future__ import annotations

import numpy as np

from wedgework.geometry.curve import Floats
from wedgework.geometry.length import halved
from wedgework.geometry.tolerances import OFFSET_HALVINGS, SAME_POINT_MM

_T = np.array([1, 3, 5, 7, 9]) / 10
_S = 1 - _T
_PLACE = np.stack([_S**3, 3 * _S**2 * _T, 3 * _S * _T**2, _T**3])
_SLOPE = np.stack([_S**2, 2 * _S * _T, _T**2])


def moved_cubics(segments: Floats, left_mm: float, error_mm: float) -> Floats | None:
    """Cubics (m, 4, 2), m at least n, of (n, 4, 2) moved to their left, within `error_mm`.

    Handles are scaled as the curvature at their end asks: by 1 - k d. Each cubic is measured at
    five places, square to it. None where one turns back (the distance passes the centre of a
    bend) or has a handle of no length: such a one is no plain shift of handles.
    """
    parts, order = segments, np.arange(float(len(segments)))
    done: list[Floats] = []
    places: list[Floats] = []
    width = 1.0
    for _ in range(OFFSET_HALVINGS):
        moved, gaps = _once(parts, left_mm)
        if not np.isfinite(gaps).all():
            return None
        near = gaps <= error_mm
        done.append(moved[near])
        places.append(order[near])
        if near.all():
            return _in_order(np.concatenate(done), np.concatenate(places))
        width /= 2
        parts, order = halved(parts[~near]), np.repeat(order[~near], 2)
        order[1::2] += width
    return None


def _in_order(cubics: Floats, places: Floats) -> Floats:
    cubics = cubics[np.argsort(places, kind="stable")]
    # Where two cubics meet smoothly their moved ends differ by rounding alone.
    near = np.abs(cubics[1:, 0] - cubics[:-1, 3]).max(axis=1, initial=0.0) <= SAME_POINT_MM
    cubics[1:, 0][near] = cubics[:-1, 3][near]
    return cubics


def _once(segments: Floats, left_mm: float) -> tuple[Floats, Floats]:
    """Moved cubics and how far each is off, (n,) mm; not finite where it cannot be moved so."""
    x, y = np.ascontiguousarray(segments[..., 0]), np.ascontiguousarray(segments[..., 1])
    u, v = x[:, 1:] - x[:, :-1], y[:, 1:] - y[:, :-1]
    size = np.hypot(u, v)
    with np.errstate(divide="ignore", invalid="ignore"):
        ends = left_mm / size[:, [0, 2]]
        turn = u[:, :2] * v[:, 1:] - u[:, 1:] * v[:, :2]
        grow = 1.0 - left_mm * (2 / 3) * turn / size[:, [0, 2]] ** 3
        moved = np.empty_like(segments)
        moved[:, [0, 3], 0] = x[:, [0, 3]] - ends * v[:, [0, 2]]
        moved[:, [0, 3], 1] = y[:, [0, 3]] + ends * u[:, [0, 2]]
        for axis, step in ((0, u), (1, v)):
            moved[:, 1, axis] = moved[:, 0, axis] + grow[:, 0] * step[:, 0]
            moved[:, 2, axis] = moved[:, 3, axis] - grow[:, 1] * step[:, 2]
        gaps = _gaps((u, v), (moved[..., 0] - x, moved[..., 1] - y), left_mm)
    gaps[(grow <= 0.0).any(axis=1)] = np.inf
    return moved, gaps


def _gaps(steps: tuple[Floats, Floats], shifts: tuple[Floats, Floats], left_mm: float) -> Floats:
    """Greatest error of the distance at five places of each cubic, (n,) mm.

    `steps` are the differences of its control points, (n, 3) in x and in y, `shifts` the ways
    that these have been moved, (n, 4) in x and in y.
    """
    du, dv = (step @ _SLOPE for step in steps)
    away_x, away_y = (shift @ _PLACE for shift in shifts)
    speed = np.sqrt(du * du + dv * dv)
    aside = (du * away_y - dv * away_x) / speed
    along = (du * away_x + dv * away_y) / speed
    # Seen from here it lies aside by the distance, and ahead by little: what it is ahead by
    # shortens the distance of its own foot by the square of that.
    off = np.abs(np.copysign(np.hypot(aside, along), aside) - left_mm)
    return np.asarray(np.maximum(off, np.abs(aside - left_mm)).max(axis=1))
