"""Turning: the angle that a curve's tangent sweeps, counter-clockwise positive.

It is the one primitive of shaping. It is no integral over arc length: no quadrature and no
division by speed, so it is exact where the curve is, near cusps too.

Source of the method: a cubic whose three hodograph control vectors lie pairwise within 90 degrees
sweeps exactly the angle from the first to the last; any other is halved (de Casteljau).
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.curve import Curve, Floats, Point, Points, stacked
from wedgework.geometry.length import (
    cut_cubics,
    derivatives,
    frozen_rows,
    halved,
    parameters_at,
)
from wedgework.geometry.memo import memoised
from wedgework.geometry.tolerances import (
    KINK_RAD,
    POINT_SIZE_MM,
    STILL_RELATIVE,
    TURNING_DEPTH,
    ZERO_HANDLE_RELATIVE,
)


def angle_between(first: ArrayLike, second: ArrayLike) -> float:
    """Signed angle, (-pi, pi] rad, that turns direction `first` into `second`, both (2,)."""
    (ax, ay), (bx, by) = np.asarray(first, float), np.asarray(second, float)
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def hodographs(segments: Floats) -> Floats:
    """(n, 3, 2): differences of control points, with those of no length put in line.

    A zero-length handle has no direction of its own; the tangent there is the next difference's
    (P0 = P1: P2 - P0), which is what a copy of the neighbour says.
    """
    h = np.diff(segments, axis=1)
    size = np.abs(h).max(axis=(1, 2), initial=0.0)
    null = np.hypot(h[..., 0], h[..., 1]) <= ZERO_HANDLE_RELATIVE * size[:, None]
    if null.any():
        h = h.copy()
        first, middle, last = null.T
        h[middle & ~first, 1] = h[middle & ~first, 0]
        h[middle & first, 1] = h[middle & first, 2]
        h[first, 0] = h[first, 1]
        h[last, 2] = h[last, 1]
    return h


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def _dot(a: Floats, b: Floats) -> Floats:
    return np.asarray((a * b).sum(axis=-1))


def segment_turnings_rad(segments: Floats) -> Floats:
    """Turning of each cubic, (n,) rad, of (n, 4, 2). A true cusp adds nothing."""
    total = np.zeros(len(segments))
    owner = np.arange(len(segments))
    parts = segments
    for _ in range(TURNING_DEPTH):
        h0, h1, h2 = np.moveaxis(hodographs(parts), 1, 0)
        tame = (_dot(h0, h1) > 0) & (_dot(h1, h2) > 0) & (_dot(h0, h2) > 0)
        sweep = np.arctan2(_cross(h0, h2), _dot(h0, h2))
        np.add.at(total, owner[tame], sweep[tame])
        # A part no larger than rounding is a point: it turns nowhere, and its halves never would.
        wild = ~tame & (np.ptp(parts, axis=1).max(axis=1) > POINT_SIZE_MM)
        parts, owner = halved(parts[wild]), np.repeat(owner[wild], 2)
        if len(owner) == 0:
            break
    return total


@memoised
def end_tangents(curve: Curve) -> Floats:
    """(n, 2, 2): unit tangent at the start and at the end of each segment."""
    return frozen_rows(_tangents_of(curve.segments[None]))[0]


def _tangents_of(segments: Floats) -> Floats:
    """(m, n, 2, 2): of each of m curves, (m, n, 4, 2), what `end_tangents` says."""
    h = hodographs(segments.reshape(-1, 4, 2))[:, [0, 2]]
    length = np.hypot(h[..., 0], h[..., 1])[..., None]
    tangents = np.divide(h, length, out=np.zeros_like(h), where=length > 0)
    return np.asarray(tangents.reshape(*segments.shape[:2], 2, 2))


def start_tangent(curve: Curve) -> Point:
    """Unit tangent, (2,), where the curve starts."""
    return np.asarray(end_tangents(curve)[0, 0])


def end_tangent(curve: Curve) -> Point:
    """Unit tangent, (2,), where the curve ends."""
    return np.asarray(end_tangents(curve)[-1, 1])


@memoised
def joint_turnings_rad(curve: Curve) -> Floats:
    """(n - 1,) rad: exterior angle at each joint between segments; below KINK_RAD it is 0."""
    return frozen_rows(_joints_of(end_tangents(curve)[None]))[0]


def _joints_of(tangents: Floats) -> Floats:
    """(m, n - 1) rad: of each of m curves, by its `end_tangents`, the angles at its joints."""
    before, after = tangents[:, :-1, 1], tangents[:, 1:, 0]
    turn = np.arctan2(_cross(before, after), _dot(before, after))
    return np.asarray(np.where(np.abs(turn) < KINK_RAD, 0.0, turn))


@memoised
def _turned_before(curve: Curve) -> Floats:
    """(n + 1,) rad: turning up to each segment, the joint before it counted, and the whole."""
    return _turned_of(curve.segments[None], joint_turnings_rad(curve)[None])[0]


def _turned_of(segments: Floats, joints: Floats) -> list[Floats]:
    """Of each of m curves, (m, n, 4, 2), by its joints, what `_turned_before` says."""
    swept = segment_turnings_rad(segments.reshape(-1, 4, 2)).reshape(segments.shape[:2])
    turned = np.zeros((len(segments), segments.shape[1] + 1))
    swept[:, :-1] += joints
    np.cumsum(swept, axis=1, out=turned[:, 1:])
    return frozen_rows(turned)


def fill_turnings(curves: Iterable[Curve]) -> None:
    """Take the turning of many curves at once; what is said of each is then remembered."""
    for some, segments in stacked(curve for curve in curves if not _turned_before.knows(curve)):
        tangents = _tangents_of(segments)
        joints = _joints_of(tangents)
        rows = (frozen_rows(tangents), frozen_rows(joints), _turned_of(segments, joints))
        for curve, tangent, joint, turned in zip(some, *rows, strict=True):
            end_tangents.keep(tangent, curve)
            joint_turnings_rad.keep(joint, curve)
            _turned_before.keep(turned, curve)


def turning_rad(curve: Curve) -> float:
    """Whole turning of the tangent from start to end, kinks inside counted, in rad."""
    return float(_turned_before(curve)[-1])


def turning_to_parameters(curve: Curve, parameters: Floats) -> Floats:
    """Turning, (k,) rad, from the start up to each parameter, (k,).

    A kink at a joint counts from the joint on.
    """
    index = np.minimum(parameters.astype(np.int64), len(curve) - 1)
    t = parameters - index
    heads = cut_cubics(curve.segments[index], t)[0]
    swept = segment_turnings_rad(heads)
    swept[t <= 0.0] = 0.0
    return np.asarray(_turned_before(curve)[index] + swept)


def turning_to(curve: Curve, stations_mm: ArrayLike) -> Floats:
    """Turning, (k,) rad, from the start up to each station, (k,) mm."""
    return turning_to_parameters(curve, parameters_at(curve, stations_mm))


def tangents_at(curve: Curve, stations_mm: ArrayLike) -> Points:
    """Unit tangents, (k, 2), at stations, (k,) mm; at a kink, the one that follows it."""
    return tangents_at_parameters(curve, parameters_at(curve, stations_mm))


def tangents_at_parameters(curve: Curve, parameters: Floats) -> Points:
    """Unit tangents, (k, 2), at parameters, (k,); at a kink, the one that follows it.

    Nothing where a cubic has no length.
    """
    index = np.minimum(parameters.astype(np.int64), len(curve) - 1)
    t = parameters - index
    cubics = curve.segments[index]
    h = derivatives(cubics, t)
    # Where the speed is nothing (a handle of no length, a cusp) the rest of the cubic tells.
    size = np.abs(np.diff(cubics, axis=1)).max(axis=(1, 2))
    still = np.abs(h).max(axis=1) <= STILL_RELATIVE * size
    if still.any():
        h[still] = hodographs(cut_cubics(cubics[still], t[still])[1])[:, 0]
    at_end = still & (t >= 1.0 - STILL_RELATIVE)
    h[at_end] = end_tangents(curve)[index[at_end], 1]
    length = np.hypot(h[:, 0], h[:, 1])[:, None]
    return np.divide(h, length, out=np.zeros_like(h), where=length > 0)


def curvatures_at(curve: Curve, stations_mm: ArrayLike) -> Floats:
    """Signed curvature, (k,) 1/mm, at stations, (k,) mm; left turns are positive."""
    return curvatures_at_parameters(curve, parameters_at(curve, stations_mm))


def curvatures_at_parameters(curve: Curve, parameters: Floats) -> Floats:
    """Signed curvature, (k,) 1/mm, at parameters, (k,); left turns are positive.

    Not finite at a cusp. Source: (x'y'' - y'x'') / speed**3.
    """
    index = np.minimum(parameters.astype(np.int64), len(curve) - 1)
    t = parameters - index
    power = _power_basis(curve)[index].T
    u, v = power[:3], power[3:]
    x, y = (u[0] * t + u[1]) * t + u[2], (v[0] * t + v[1]) * t + v[2]
    xx, yy = 2 * u[0] * t + u[1], 2 * v[0] * t + v[1]
    speed = np.hypot(x, y)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray((x * yy - y * xx) / (speed * speed * speed))


def segment_curvatures(segments: Floats, t: Floats) -> Floats:
    """Signed curvature, (n, k) 1/mm, of cubics (n, 4, 2) at the same parameters `t`, (k,).

    For many cubics at once: two products with constant matrices, where `curvatures_at` looks
    up a cubic for each place. Not finite at a cusp.
    """
    s = 1.0 - t
    first = 3 * np.stack([s * s, 2 * s * t, t * t])
    second = 6 * np.stack([-s, s - t, t])
    x, y = np.ascontiguousarray(segments[:, :, 0]), np.ascontiguousarray(segments[:, :, 1])
    u, v = np.diff(x, axis=1), np.diff(y, axis=1)
    dx, dy = u @ first, v @ first
    cross = dx * (v @ second) - dy * (u @ second)
    np.multiply(dx, dx, out=dx)
    np.multiply(dy, dy, out=dy)
    dx += dy
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(cross / (dx * np.sqrt(dx)))


def _power_basis(curve: Curve) -> Floats:
    """(n, 6): power coefficients of the derivative of each cubic, those of x and then of y."""
    h = np.diff(curve.segments, axis=1)
    square, linear = 3 * (h[:, 0] - 2 * h[:, 1] + h[:, 2]), 6 * (h[:, 1] - h[:, 0])
    return np.stack([square, linear, 3 * h[:, 0]], axis=2).reshape(-1, 6)
