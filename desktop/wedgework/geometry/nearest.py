"""The point of a curve that lies nearest to a given one, and on which side that one lies."""

from __future__ import annotations

import math
from dataclasses import dataclass
from operator import attrgetter

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.geometry.length import halved, station_of
from wedgework.geometry.tolerances import FOOT_DEPTH, FOOT_PARAMETER, FOOT_ROUNDING, FOOT_ROUNDS
from wedgework.geometry.turning import end_tangents

# Products of the control values of a cubic (row) and of its derivative (column), to a quintic's.
_QUINTIC = np.array(
    [
        [math.comb(3, i) * math.comb(2, j) / math.comb(5, i + j) * (i + j == k) for k in range(6)]
        for i in range(4)
        for j in range(3)
    ]
)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Nearest:
    """A foot on a curve: its station and distance in mm, the point (2,), and its parameter."""

    station_mm: float
    distance_mm: float
    point: Point
    parameter: float


def nearest(curve: Curve, point: ArrayLike) -> Nearest:
    """The point of `curve` nearest to `point`, (2,) mm; its distance is right to 1e-9 mm."""
    foot = nearest_foot(curve, point)
    return Nearest(
        station_mm=station_of(curve, foot.parameter),
        distance_mm=foot.distance_mm,
        point=np.array([foot.x, foot.y]),
        parameter=foot.parameter,
    )


@dataclass(frozen=True, eq=False, slots=True)
class Foot:
    """What `nearest` finds before it measures a length: cheap, for picking under the pointer."""

    distance_mm: float
    parameter: float
    x: float
    y: float


def nearest_foot(curve: Curve, point: ArrayLike) -> Foot:
    """The foot of `point`, (2,) mm, on `curve`.

    Arcs that cannot hold the nearest point are dropped, arcs that may have several feet are
    halved, and where there is but one, Newton's method in a bracket finds it.
    """
    px, py = (float(v) for v in np.asarray(point, dtype=np.float64))
    segments = curve.segments - np.array([px, py])
    best = _nearest_end(segments, np.arange(float(len(curve))), 1.0)
    parts, starts, width = segments, np.arange(float(len(curve))), 1.0
    for _ in range(FOOT_DEPTH):
        parts, starts = _within_reach(parts, starts, best.distance_mm)
        best, many = _better(best, parts, starts, width)
        if not many.any():
            break
        width = width / 2
        parts, starts = halved(parts[many]), np.repeat(starts[many], 2)
        starts[1::2] += width
        best = min(best, _nearest_end(parts, starts, width), key=attrgetter("distance_mm"))
    return _moved_back(curve, best, px, py)


def _moved_back(curve: Curve, foot: Foot, px: float, py: float) -> Foot:
    """The foot in the curve's own place; a joint or an end gives its own numbers, bit for bit."""
    index = int(foot.parameter)
    x, y = foot.x + px, foot.y + py
    if foot.parameter == index:
        x, y = (curve.segments[index, 0] if index < len(curve) else curve.end).tolist()
    return Foot(foot.distance_mm, foot.parameter, x, y)


def _nearest_end(parts: Floats, starts: Floats, width: float) -> Foot:
    """The end point of arcs, (n, 4, 2), nearest to the origin."""
    ends = parts[:, [0, 3]].reshape(-1, 2)
    distances = np.hypot(ends[:, 0], ends[:, 1])
    index = int(distances.argmin())
    parameter = float(starts[index // 2] + index % 2 * width)
    return Foot(float(distances[index]), parameter, float(ends[index, 0]), float(ends[index, 1]))


def _within_reach(parts: Floats, starts: Floats, reach_mm: float) -> tuple[Floats, Floats]:
    """The arcs, (n, 4, 2), that may come nearer to the origin than `reach_mm`."""
    chord = parts[:, 3] - parts[:, 0]
    size = (chord * chord).sum(axis=1)
    towards = -(parts[:, 0] * chord).sum(axis=1)
    along = np.divide(towards, size, out=np.zeros_like(size), where=size > 0).clip(0.0, 1.0)
    foot = parts[:, 0] + along[:, None] * chord
    bend = np.abs(np.diff(parts, 2, axis=1)).sum(axis=2).max(axis=1)
    near = np.hypot(foot[:, 0], foot[:, 1]) - 0.75 * bend < reach_mm
    return parts[near], starts[near]


def _better(
    best: Foot, parts: Floats, starts: Floats, width: float
) -> tuple[Foot, NDArray[np.bool_]]:
    """The best foot so far with those of single-footed arcs, and which arcs may have several.

    How often the control values of the squared distance's slope change sign bounds how many
    feet an arc has; once means just one (Descartes' rule of signs).
    """
    slopes = _slope_values(parts)
    signs = np.sign(slopes)
    changes = np.abs(np.diff(signs, axis=1)).sum(axis=1) / 2
    single = (changes == 1) & (signs[:, 0] < 0)
    for part, start in zip(parts[single], starts[single].tolist(), strict=True):
        t = _foot(part)
        x, y = _at(part, t)
        distance = math.hypot(x, y)
        if distance < best.distance_mm:
            best = Foot(distance, start + t * width, x, y)
    return best, changes > 1


def _slope_values(parts: Floats) -> Floats:
    """Control values, (n, 6), of position times derivative; what is mere rounding is nothing."""
    steps = np.diff(parts, axis=1)
    products = (parts[:, :, None] * steps[:, None]).sum(axis=3).reshape(-1, 12)
    slopes = products @ _QUINTIC
    noise = FOOT_ROUNDING * np.abs(products).max(axis=1, initial=0.0)
    return np.where(np.abs(slopes) <= noise[:, None], 0.0, slopes)


def _at(cubic: Floats, t: float) -> tuple[float, float]:
    s = 1.0 - t
    a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = cubic.tolist()
    return a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3


def _power(p0: float, p1: float, p2: float, p3: float) -> tuple[float, float, float, float]:
    return p3 - 3 * (p2 - p1) - p0, 3 * (p2 - 2 * p1 + p0), 3 * (p1 - p0), p0


def _foot(cubic: Floats) -> float:
    """Parameter of the only foot of the origin on a cubic: Newton, halving where it strays."""
    ax, bx, cx, dx = _power(*cubic[:, 0].tolist())
    ay, by, cy, dy = _power(*cubic[:, 1].tolist())
    low, high, t = 0.0, 1.0, 0.5
    for _ in range(FOOT_ROUNDS):
        x, y = ((ax * t + bx) * t + cx) * t + dx, ((ay * t + by) * t + cy) * t + dy
        u, v = (3 * ax * t + 2 * bx) * t + cx, (3 * ay * t + 2 * by) * t + cy
        value = x * u + y * v
        slope = u * u + v * v + x * (6 * ax * t + 2 * bx) + y * (6 * ay * t + 2 * by)
        low, high = (low, t) if value > 0 else (t, high)
        step = t - value / slope if slope > 0 else low
        following = step if low < step < high else (low + high) / 2
        if abs(following - t) <= FOOT_PARAMETER:
            return following
        t = following
    return t


def signed_distance_mm(curve: Curve, point: ArrayLike) -> float:
    """Distance of `point`, (2,) mm, from `curve`; positive on its left, negative on its right.

    Where the foot is a corner the two tangents there are taken together, so that the wedge
    outside the corner lies on one side.
    """
    return beside(curve, point)[0]


def beside(curve: Curve, point: ArrayLike) -> tuple[float, Point]:
    """`signed_distance_mm`, and the direction of the curve at the foot, (2,), of any length."""
    foot = nearest_foot(curve, point)
    away = np.asarray(point, dtype=np.float64) - np.array([foot.x, foot.y])
    along = _tangent_at(curve, foot.parameter)
    side = along[0] * away[1] - along[1] * away[0]
    return math.copysign(foot.distance_mm, side), along


def _tangent_at(curve: Curve, parameter: float) -> Point:
    tangents = end_tangents(curve)
    index = int(parameter)
    if parameter == index:
        before = tangents[index - 1, 1] if index > 0 else tangents[0, 0]
        after = tangents[index, 0] if index < len(curve) else tangents[-1, 1]
        return np.asarray(before + after)
    t = parameter - index
    first, second, third = np.diff(curve.segments[index], axis=0)
    return np.asarray((1 - t) ** 2 * first + 2 * t * (1 - t) * second + t * t * third)
