"""A smooth curve moved square to itself by a distance that changes along it.

Straight curves moved by cubics are cubics, so there nothing is approximated; elsewhere the result
is a chain within DISPLACED_MM. Beyond its ends the curve goes on straight, and so does the
distance: a moved edge can be lengthened or shortened until it meets its neighbour.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from wedgework.geometry.curve import Curve, Floats, Point, is_straight
from wedgework.geometry.length import cut_cubics, derivatives, length_mm, parameters_at, station_of
from wedgework.geometry.memo import memoised
from wedgework.geometry.piecewise import Piecewise
from wedgework.geometry.tolerances import (
    DISPLACED_DEPTH,
    DISPLACED_MM,
    KINK_RAD,
    SAME_POINT_MM,
    SAME_STATION_MM,
    STRAIGHT_MM,
)
from wedgework.geometry.turning import end_tangents

_PROBES: Final = (0.25, 0.5, 0.75)
_LOOKS: Final = 8

Indices: TypeAlias = NDArray[np.intp]


@dataclass(frozen=True, eq=False, slots=True)
class Displaced:
    """`curve`, without a kink, moved to its left by `distance_mm` over its own stations, in mm.

    `shift_from` and `shift_to`, (2,) mm, are added at its ends and less and less towards the
    other one: what closes a gap to a neighbour that is all but in line.
    """

    curve: Curve
    distance_mm: Piecewise
    shift_from: Point = field(default_factory=lambda: np.zeros(2))
    shift_to: Point = field(default_factory=lambda: np.zeros(2))
    _base: _Base = field(init=False)

    def __post_init__(self) -> None:
        """Lay the curve out once."""
        object.__setattr__(self, "_base", _base_of(self.curve))

    @property
    def length_mm(self) -> float:
        """Length of the curve before it is moved."""
        return float(self._base.starts_mm[-1])

    @property
    def is_moved(self) -> bool:
        """Whether any of it moves."""
        return bool(self.distance_mm.rows[:, 2:].any() or self._is_shifted)

    @property
    def _is_shifted(self) -> bool:
        return bool(self.shift_from.any() or self.shift_to.any())

    def offset_at(self, station_mm: float) -> float:
        """How far a station moves, in mm, to the left positive."""
        return float(self.distance_mm.at([station_mm])[0][0])

    def at(self, station_mm: float) -> tuple[Point, Floats]:
        """Where a station has gone, (2,) mm, and its velocity, (2,), per mm of station."""
        x = np.array([station_mm])
        points, velocities, _ = self._moved(x, x)
        return points[0], velocities[0]

    def tightest(self) -> float:
        """The least share of its length that any part of the curve keeps while it moves.

        Nothing or less where the curve bends too tightly for the distance: it would fold.
        """
        starts = self._base.starts_mm
        shares = np.arange(1, _LOOKS) / _LOOKS
        inside = (starts[:-1, None] + shares * np.diff(starts)[:, None]).ravel()
        return float(self._moved(inside, inside)[2].min(initial=1.0))

    def chain(self, from_mm: float, to_mm: float) -> tuple[Curve, Floats]:
        """The moved curve between two stations, which may lie beyond its ends; (n + 1,) breaks.

        The breaks are the stations where the cubics of the result meet.
        """
        bounds = self._bounds(from_mm, to_mm)
        segments, errors = self._fitted(bounds)
        for _ in range(DISPLACED_DEPTH):
            wide = errors > DISPLACED_MM
            if not wide.any():
                break
            middles = (bounds[:-1] + bounds[1:])[wide] / 2
            bounds = np.sort(np.concatenate([bounds, middles]))
            segments, errors = self._fitted(bounds)
        segments[1:, 0] = segments[:-1, 3]
        return Curve(segments), bounds

    def _bounds(self, from_mm: float, to_mm: float) -> Floats:
        inner = np.concatenate([self._base.starts_mm, self.distance_mm.breaks])
        inner = np.unique(inner[(inner > from_mm) & (inner < to_mm)])
        bounds = np.concatenate([[from_mm], inner, [to_mm]])
        bounds = bounds[np.diff(bounds, prepend=-np.inf) > SAME_STATION_MM]
        bounds[-1] = to_mm
        return self._without_needless(bounds) if self._base.straight else bounds

    def _without_needless(self, bounds: Floats) -> Floats:
        """Without breaks where a straight curve is moved by one straight slope on both sides."""
        low, high = bounds[:-1], bounds[1:]
        middle = (low + high) / 2
        v0, m0 = self.distance_mm.at(low, middle)
        v1, m1 = self.distance_mm.at(high, middle)
        rise = (v1 - v0) / (high - low)
        slopes = np.stack([m0, m1, rise])
        even = np.ptp(slopes, axis=0) <= KINK_RAD
        through = even[:-1] & even[1:] & (np.abs(np.diff(rise)) <= KINK_RAD)
        return np.asarray(bounds[np.concatenate([[True], ~through, [True]])])

    def _fitted(self, bounds: Floats) -> tuple[Floats, Floats]:
        """(n, 4, 2) cubics between the breaks, by their ends and velocities, and their errors.

        An error, in mm, is how far a cubic is from what it stands for at three places, at most.
        """
        low, high = bounds[:-1], bounds[1:]
        n, middle = len(low), (low + high) / 2
        # All places are asked for at once: to find where a station is costs most.
        probes = () if self._base.straight else _PROBES
        inner = [low + share * (high - low) for share in probes]
        x = np.concatenate([low, high, *inner])
        near = np.concatenate([middle, middle, *inner])
        points, velocities, _ = self._moved(x, near)
        third = ((high - low) / 3)[:, None]
        p0, p1, d0, d1 = points[:n], points[n : 2 * n], velocities[:n], velocities[n : 2 * n]
        cubics = np.stack([p0, p0 + third * d0, p1 - third * d1, p1], axis=1)
        if self._base.straight:
            return cubics, np.zeros(n)
        still = self._still(low, high)
        cubics[still] = self._base.parts(low[still], high[still])
        errors = _errors(cubics, points[2 * n :].reshape(len(probes), n, 2))
        errors[still] = 0.0
        return cubics, errors

    def _still(self, low: Floats, high: Floats) -> Floats:
        """Which stretches do not move at all and lie within the curve: they are kept exactly."""
        middle = (low + high) / 2
        ends = [*self.distance_mm.at(low, middle), *self.distance_mm.at(high, middle)]
        inside = (low >= 0.0) & (high <= self.length_mm)
        return np.asarray(inside & ~np.any(ends, axis=0) & (not self._is_shifted))

    def _moved(self, x: Floats, near: Floats) -> tuple[Floats, Floats, Floats]:
        """Points, velocities, and the share of its length that the curve keeps, at stations."""
        points, tangents, curvatures = self._base.frames(x, near)
        v, m = self.distance_mm.at(x, near)
        normals = np.column_stack([-tangents[:, 1], tangents[:, 0]])
        share = 1.0 - curvatures * v
        moved = points + v[:, None] * normals
        velocities = share[:, None] * tangents + m[:, None] * normals
        if self._is_shifted:
            u = (x / self.length_mm)[:, None]
            moved = moved + (1 - u) * self.shift_from + u * self.shift_to
            velocities = velocities + (self.shift_to - self.shift_from) / self.length_mm
        return moved, velocities, share


def _errors(cubics: Floats, wanted: Floats) -> Floats:
    """How far each cubic, (n, 4, 2), is from where it should be at each of _PROBES, (k, n, 2)."""
    t = np.array(_PROBES)[:, None, None]
    s = 1.0 - t
    p0, p1, p2, p3 = (cubics[:, i] for i in range(4))
    points = s * s * s * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t * t * t * p3
    return np.asarray(np.linalg.norm(points - wanted, axis=2).max(axis=0))


@dataclass(frozen=True, eq=False, slots=True)
class _Base:
    """A curve with what is needed to find its frames at stations; a straight one at even speed."""

    curve: Curve
    starts_mm: Floats
    joint_curvatures: Floats
    straight: bool

    def frames(self, x: Floats, near: Floats) -> tuple[Floats, Floats, Floats]:
        """Points (n, 2), unit tangents (n, 2) and curvatures (n,) at stations.

        `near` picks the cubic. The curvature at a joint is the mean of both sides, so that what is
        moved by a changing distance has one direction there.
        """
        whole = self.starts_mm[-1]
        inside = np.clip(x, 0.0, whole)
        if self.straight:
            tangent = (self.curve.end - self.curve.start) / whole
            tangents = np.broadcast_to(tangent, (len(x), 2))
            return self.curve.start + x[:, None] * tangent, tangents, np.zeros(len(x))
        index = np.searchsorted(self.starts_mm, np.clip(near, 0.0, whole), side="right") - 1
        index = np.clip(index, 0, len(self.curve) - 1)
        t = np.clip(parameters_at(self.curve, inside) - index, 0.0, 1.0)
        points, tangents, curvatures = _frames_of(self.curve, index, t)
        curvatures = self._joined_up(curvatures, x, index)
        beyond = x != inside
        curvatures[beyond] = 0.0
        return points + (x - inside)[:, None] * tangents, tangents, curvatures

    def _joined_up(self, curvatures: Floats, x: Floats, index: Indices) -> Floats:
        at_start, at_end = x == self.starts_mm[index], x == self.starts_mm[index + 1]
        curvatures = np.where(at_start, self.joint_curvatures[index], curvatures)
        return np.where(at_end, self.joint_curvatures[index + 1], curvatures)

    def parts(self, low: Floats, high: Floats) -> Floats:
        """(n, 4, 2): the stretches of the curve itself, each within one of its cubics."""
        middle = (low + high) / 2
        index = np.searchsorted(self.starts_mm, middle, side="right") - 1
        both = parameters_at(self.curve, np.concatenate([low, high])).reshape(2, -1)
        t0, t1 = np.clip(both - index, 0.0, 1.0)
        cubics = self.curve.segments[index]
        cut = t1 < 1.0
        cubics[cut] = cut_cubics(cubics[cut], t1[cut])[0]
        cut = t0 > 0.0
        cubics[cut] = cut_cubics(cubics[cut], (t0 / t1)[cut])[1]
        return cubics


@memoised
def _base_of(curve: Curve) -> _Base:
    if is_straight(curve, STRAIGHT_MM):
        whole = np.array([0.0, float(np.hypot(*(curve.end - curve.start)))])
        return _Base(curve, whole, np.zeros(2), straight=True)
    n = len(curve)
    starts = np.array([*(station_of(curve, float(i)) for i in range(n)), length_mm(curve)])
    index = np.arange(n)
    left = _frames_of(curve, index, np.zeros(n))[2]
    right = _frames_of(curve, index, np.ones(n))[2]
    joints = np.concatenate([left[:1], (left[1:] + right[:-1]) / 2, right[-1:]])
    return _Base(curve, starts, joints, straight=False)


def _frames_of(curve: Curve, index: Indices, t: Floats) -> tuple[Floats, Floats, Floats]:
    cubics = curve.segments[index]
    s = (1.0 - t)[:, None]
    u = t[:, None]
    p0, p1, p2, p3 = (cubics[:, i] for i in range(4))
    points = s * s * s * p0 + 3 * s * s * u * p1 + 3 * s * u * u * p2 + u * u * u * p3
    first = derivatives(cubics, t)
    bends = np.diff(cubics, 2, axis=1)
    second = 6 * (s * bends[:, 0] + u * bends[:, 1])
    speed = np.hypot(first[:, 0], first[:, 1])
    moving = speed > SAME_POINT_MM
    # A handle of no length has no direction at its end; its neighbour's is the tangent there.
    fallback = np.where(u < 1.0, *(end_tangents(curve)[index, i] for i in (0, 1)))
    tangents = np.divide(first, speed[:, None], out=fallback, where=moving[:, None])
    bend = first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]
    curvatures = np.divide(bend, speed**3, out=np.zeros_like(speed), where=moving)
    return points, tangents, curvatures
