"""Fair curves: smoothed where their bend wavers, and given a length without a new waver.

Fair is a curve whose curvature changes evenly. What is made small is the variation of curvature,
the integral of its square along the curve (Moreton and Sequin, Functional optimization for fair
surface design, SIGGRAPH 1992), written for a curve that stays near to given points: over arc
length the third derivative is the variation of curvature but for terms of the curvature's square,
so it is one least-squares problem of a spline (Reinsch, Smoothing by spline functions, Numerische
Mathematik 10, 1967, with the third derivative in place of the second).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, TypeAlias

import numpy as np

from wedgework.geometry.bspline import basis, cubics, full_knots
from wedgework.geometry.curve import Curve, Floats, Point, Points, is_straight, with_ends
from wedgework.geometry.length import (
    joint_stations_mm,
    length_mm,
    parameters_at,
    points_at,
    segment_lengths_mm,
    station_of,
)
from wedgework.geometry.motion import Affine
from wedgework.geometry.split import split_at_parameters
from wedgework.geometry.tolerances import (
    LENGTH_ROUNDS,
    LEVEL_SLOPE,
    SAME_STATION_MM,
    SLOPE_STEP,
    STATION_MM,
    STRAIGHT_MM,
)

SPANS_A_WAVE: Final = 6
"""Cubics to the shortest wave that is left: with fewer the spline itself would smooth it away."""

MOST_SPANS: Final = 160
LEAST_SPANS: Final = 4
SAMPLES_A_SPAN: Final = 8

Through: TypeAlias = Sequence[tuple[float, Point]]
"""Stations in mm and the points, (2,) mm, that a curve passes there."""

Tangents: TypeAlias = tuple[Point | None, Point | None]
"""Unit tangents, (2,), that are kept at the start and at the end; None where it may turn."""


def fair_near(
    curve: Curve, over_mm: float, tangents: Tangents = (None, None), through: Through = ()
) -> Curve:
    """The fair curve near to `curve`, kinks and all: one tangent and one curvature everywhere.

    A wave of length `over_mm` is halved, one of half that length is left with a sixty-fifth. The
    ends are those of `curve` bit for bit; it passes the points `through` at their stations. Its
    length is another.
    """
    whole = length_mm(curve)
    spans = min(max(math.ceil(SPANS_A_WAVE * whole / over_mm), LEAST_SPANS), MOST_SPANS)
    spline = _even_spline(spans)
    points = points_at(curve, spline.at * whole)
    normal = spline.near + (over_mm / whole / math.tau) ** 6 * spline.even
    right = spline.weights.T @ points / len(points)
    fixed = _fixed_ends(curve, whole / spans, len(normal) - 1, tangents)
    control = _constrained(
        spline.knots, normal, right, fixed, [(station / whole, point) for station, point in through]
    )
    return with_ends(Curve(cubics(spline.knots, control)), curve.start, curve.end)


def _fixed_ends(curve: Curve, span_mm: float, last: int, tangents: Tangents) -> dict[int, Point]:
    fixed = {0: curve.start, last: curve.end}
    # Over its length a curve runs at speed one: that gives the handle along a known tangent.
    if tangents[0] is not None:
        fixed[1] = curve.start + tangents[0] * span_mm / 3
    if tangents[1] is not None:
        fixed[last - 1] = curve.end - tangents[1] * span_mm / 3
    return fixed


@dataclass(frozen=True, eq=False, slots=True)
class _EvenSpline:
    """A spline of spans of one width over 0 to 1, and what is asked of m control points.

    `weights`, (k, m), are those of the points at `at`; `near` and `even`, (m, m), the normal
    equations of nearness to such points, and of an even bend.
    """

    knots: Floats
    at: Floats
    weights: Floats
    near: Floats
    even: Floats


@lru_cache(maxsize=16)
def _even_spline(spans: int) -> _EvenSpline:
    # In every frame of a drag the same: it costs more than all the rest of fairing.
    breaks = np.linspace(0.0, 1.0, spans + 1)
    knots = full_knots(breaks)
    at = np.linspace(0.0, 1.0, SAMPLES_A_SPAN * spans + 1)
    weights = _basis_rows(knots, at)
    jerk = _third_derivatives(knots, breaks)
    return _EvenSpline(knots, at, weights, weights.T @ weights / len(at), jerk.T @ jerk / spans)


def _basis_rows(knots: Floats, at: Floats) -> Floats:
    """(k, m): what each of m control points counts at each of `at`, (k,)."""
    first, weights = basis(knots, at)
    rows = np.zeros((len(at), len(knots) - 4))
    rows[np.arange(len(at))[:, None], first[:, None] + np.arange(4)] = weights
    return rows


def _third_derivatives(knots: Floats, breaks: Floats) -> Floats:
    """(n, m): third derivative in each of n spans, of m control points."""
    each = cubics(knots, np.eye(len(knots) - 4))
    width = np.diff(breaks)[:, None]
    return np.asarray(6 * (each[:, 3] - 3 * each[:, 2] + 3 * each[:, 1] - each[:, 0]) / width**3)


def _constrained(
    knots: Floats, normal: Floats, right: Floats, fixed: dict[int, Point], through: Through
) -> Points:
    """Control points, (m, 2): the least squares with some known and some points passed exactly."""
    known = np.array(sorted(fixed))
    free = np.setdiff1d(np.arange(len(normal)), known)
    control = np.zeros((len(normal), 2))
    control[known] = [fixed[index] for index in known.tolist()]
    rows = _basis_rows(knots, np.array([at for at, _ in through]))
    count = len(free)
    system = np.zeros((count + len(rows),) * 2)
    system[:count, :count] = normal[np.ix_(free, free)]
    system[count:, :count], system[:count, count:] = rows[:, free], rows[:, free].T
    wanted = np.array([point for _, point in through]).reshape(-1, 2)
    sums = np.concatenate([
        right[free] - normal[np.ix_(free, known)] @ control[known],
        wanted - rows[:, known] @ control[known],
    ])  # fmt: skip
    control[free] = np.linalg.solve(system, sums)[:count]
    return control


# Lengths


def with_length(curve: Curve, way: Floats, wanted_mm: float) -> Curve:
    """`curve` moved along `way`, (n, 4, 2), as far as gives it a length; ends bit for bit.

    The length of a curve that is moved along one way is convex in how far it goes, so there is one
    least length; forward is taken where both directions would do as well. Right to STATION_MM;
    ValueError where the least length is more than what is wanted.
    """

    def over_mm(share: float) -> float:
        moved = curve.segments + share * way
        return float(segment_lengths_mm(moved).sum()) - wanted_mm

    here = over_mm(0.0)
    if abs(here) <= STATION_MM / 4:
        return curve
    scale = SLOPE_STEP * length_mm(curve) / max(float(np.abs(way).max()), STATION_MM)
    bracket = _longer(over_mm, scale) if here < 0.0 else _shorter(over_mm, scale)
    segments = curve.segments + _root(over_mm, *bracket) * way
    segments[1:, 0] = segments[:-1, 3]
    return with_ends(Curve(segments), curve.start, curve.end)


def bulged(curve: Curve, wanted_mm: float) -> Curve:
    """The curve with a length between its ends: its bulge scaled, or an arch where it has little.

    Both ends stay bit for bit, its directions there turn. Right to STATION_MM; ValueError where
    the ends are further apart than that.
    """
    across = scaled_across(curve)
    doubled = float(segment_lengths_mm(curve.segments + across).sum())
    if wanted_mm > doubled or is_straight(curve, STRAIGHT_MM):
        # Little bulge made much greater would show every waver of it.
        return with_length(curve, arched(curve), wanted_mm)
    return with_length(curve, across, wanted_mm)


Over: TypeAlias = Callable[[float], float]


def _longer(over_mm: Over, scale: float) -> tuple[float, float]:
    """Two shares between which the length is what is wanted, more than it is now."""
    ahead, back = over_mm(scale) - over_mm(0.0), over_mm(-scale) - over_mm(0.0)
    size = abs(ahead) + abs(back)
    step = scale if ahead >= back - LEVEL_SLOPE * size else -scale
    low = 0.0
    for _ in range(LENGTH_ROUNDS):
        if over_mm(step) >= 0.0:
            return low, step
        low, step = step, 2 * step
    raise ValueError("the way leads to no such length")


def _shorter(over_mm: Over, scale: float) -> tuple[float, float]:
    """Two shares between which the length is what is wanted, less than it is now."""
    step = scale if over_mm(scale) < over_mm(-scale) else -scale
    before, here, value = 0.0, 0.0, over_mm(0.0)
    for _ in range(LENGTH_ROUNDS):
        following = over_mm(step)
        if following <= 0.0:
            return here, step
        if following >= value:
            return here, _least(over_mm, before, step)
        before, here, value, step = here, step, following, 2 * step
    raise ValueError("the way leads to no such length")


def _least(over_mm: Over, low: float, high: float) -> float:
    """A share where the length is no more than is wanted; ValueError where there is none."""
    golden = (math.sqrt(5.0) - 1.0) / 2.0
    for _ in range(LENGTH_ROUNDS):
        one, other = high - golden * (high - low), low + golden * (high - low)
        first, second = over_mm(one), over_mm(other)
        if min(first, second) <= 0.0:
            return one if first <= second else other
        low, high = (low, other) if first < second else (one, high)
    raise ValueError("no curve along this way is so short")


def _root(over_mm: Over, low: float, high: float) -> float:
    """Where the length is what is wanted: the rule of Illinois in a bracket."""
    at_low, at_high = over_mm(low), over_mm(high)
    for _ in range(LENGTH_ROUNDS):
        at = high - at_high * (high - low) / (at_high - at_low)
        value = over_mm(at)
        if abs(value) <= STATION_MM / 8:
            return at
        if (value > 0) != (at_high > 0):
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = at, value
    return high


def scaled_across(curve: Curve) -> Floats:
    """(n, 4, 2): each control point's way from the chord, so that one share of it scales the bulge.

    An affine image of a fair curve is fair: it wavers nowhere where the curve did not.
    """
    normal = _chord_normal(curve)
    across = (curve.segments - curve.start) @ normal
    return np.asarray(across[..., None] * normal)


def arched(curve: Curve, power: int = 1) -> Floats:
    """(n, 4, 2): a way to the right of the chord by sin(pi x), x from 0 to 1 over the length.

    With `power` 2 it is the square of that, which leaves the tangents at both ends as they are. At
    a joint both handles go alike, so that a smooth chain stays smooth.
    """
    stations = np.array([station_of(curve, float(i)) for i in range(len(curve) + 1)])
    whole = stations[-1]
    phase = math.pi * stations / whole
    if power == 1:
        weight, slope = np.sin(phase), math.pi / whole * np.cos(phase)
    else:
        weight, slope = np.sin(phase) ** 2, math.pi / whole * np.sin(2 * phase)
    weight[[0, -1]] = 0.0
    if power == 2:
        slope[[0, -1]] = 0.0
    handles = np.hypot(*np.moveaxis(np.diff(curve.segments, axis=1)[:, [0, 2]], -1, 0))
    first, last = weight[:-1], weight[1:]
    inner = first + slope[:-1] * handles[:, 0], last - slope[1:] * handles[:, 1]
    return np.asarray(np.stack([first, *inner, last], axis=1)[..., None] * -_chord_normal(curve))


def _chord_normal(curve: Curve) -> Point:
    """Unit normal to the left of the chord; of a closed curve, to the left of x."""
    chord = curve.end - curve.start
    size = float(np.hypot(*chord))
    x, y = chord / size if size > SAME_STATION_MM else (1.0, 0.0)
    return np.array([-y, x])


def led(curve: Curve, knots: Sequence[tuple[float, Affine]]) -> Curve:
    """The curve led by motions that come and go along it: none at its start, each at its station.

    Stations rise, the last is the curve's end. Between two, the share of the next motion grows as
    x*x*(3 - 2*x), so that at a station place and direction are those of its motion alone; a smooth
    chain stays smooth.
    """
    inner = [at for at, _ in knots[:-1]]
    parts = split_at_parameters(curve, parameters_at(curve, inner)) if inner else (curve,)
    chain = Curve(np.concatenate([part.segments for part in parts]))
    at = joint_stations_mm(chain)
    bounds = np.array([0.0, *(station for station, _ in knots)])
    motions = [Affine(np.eye(2), np.zeros(2)), *(motion for _, motion in knots)]
    middles = (at[:-1] + at[1:]) / 2
    index = np.searchsorted(bounds[1:], middles, side="right").clip(max=len(knots) - 1)
    between = _Between(
        bounds[index],
        bounds[index + 1],
        *(_stacked([motions[i + step] for i in index.tolist()]) for step in (0, 1)),
    )
    p0, p1, p2, p3 = (chain.segments[:, i] for i in range(4))
    first, last = between.led(p0, p1 - p0, at[:-1], 1.0), between.led(p3, p2 - p3, at[1:], -1.0)
    segments = np.stack([*first, *last[::-1]], axis=1)
    segments[1:, 0] = segments[:-1, 3]
    return Curve(segments)


_Motions: TypeAlias = tuple[Floats, Floats]
"""The linear parts, (n, 2, 2), and the shifts, (n, 2) mm, of n motions."""


def _stacked(motions: Sequence[Affine]) -> _Motions:
    return np.array([one.linear for one in motions]), np.array([one.shift for one in motions])


def _turned(linear: Floats, ways: Floats) -> Floats:
    return np.asarray(np.einsum("nij,nj->ni", linear, ways))


@dataclass(frozen=True, eq=False, slots=True)
class _Between:
    """Of n cubics the stations, in mm, between which each lies, and the motions at those."""

    low: Floats
    high: Floats
    before: _Motions
    after: _Motions

    def led(self, points: Points, handles: Floats, at: Floats, way: float) -> tuple[Points, Points]:
        """An end of each cubic and its handle, led; the handle as the derivative of that says.

        `at` are its stations in mm, `way` is 1 where the handle points on along the curve, -1 where
        back.
        """
        width = self.high - self.low
        x = ((at - self.low) / width).clip(0.0, 1.0)[:, None]
        share, slope = x * x * (3 - 2 * x), 6 * x * (1 - x) / width[:, None]
        one = _turned(self.before[0], points) + self.before[1]
        other = _turned(self.after[0], points) + self.after[1]
        there = (1 - share) * one + share * other
        turned = (1 - share) * _turned(self.before[0], handles)
        turned += share * _turned(self.after[0], handles)
        along = way * slope * np.hypot(handles[:, :1], handles[:, 1:]) * (other - one)
        return there, there + turned + along


def in_parts(curve: Curve, least: int) -> Curve:
    """The same curve in `least` cubics or more, cut at even stations."""
    if len(curve) >= least:
        return curve
    at = length_mm(curve) * np.arange(1, least) / least
    parts = split_at_parameters(
        curve, np.union1d(parameters_at(curve, at), np.arange(1, len(curve)))
    )
    return Curve(np.concatenate([part.segments for part in parts]))
