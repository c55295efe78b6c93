"""Smooth chains of cubics through points, near to points, and in place of other curves."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.bspline import cubics, full_knots, least_squares
from wedgework.geometry.curve import Curve, Floats, Point, Points, joined, line
from wedgework.geometry.hermite import fitted_places
from wedgework.geometry.length import points_at_parameters
from wedgework.geometry.spline import Spline, clamped_spline, natural_spline
from wedgework.geometry.tolerances import FIT_GAIN, FIT_ROUNDS, FIT_TURNS, SAME_POINT_MM
from wedgework.geometry.turning import tangents_at_parameters

ROUGH_PLACES = 65
"""Places of the rough outline that tells where a fit begins: eight to a bend, eight bends."""

__all__ = [
    "Spline",
    "fitted",
    "fitted_curve",
    "fitted_function",
    "natural_spline",
    "smooth_through",
]


def smooth_through(
    points: ArrayLike,
    start_tangent: ArrayLike | None = None,
    end_tangent: ArrayLike | None = None,
) -> Curve:
    """A smooth chain of cubics through `points`, (n, 2) mm, one between any two.

    The cubic spline over the length of the chords: one tangent and very nearly one curvature
    at each point. An end without a tangent, (2,) of any length, does not bend there. Raises
    ValueError unless two of the points differ; a point said twice running counts once.
    """
    places = _distinct(points)
    if len(places) == 2 and start_tangent is not None and end_tangent is not None:
        return _one_arc(places, _unit(start_tangent), _unit(end_tangent))
    stations = _chord_stations(places)
    spline = clamped_spline(stations, places, _unit(start_tangent), _unit(end_tangent))
    third = (np.diff(stations) / 3)[:, None]
    first, last = places[:-1], places[1:]
    handles = first + third * spline.slopes[:-1], last - third * spline.slopes[1:]
    return Curve(np.stack([first, *handles, last], axis=1))


def _one_arc(places: Points, start: Point | None, end: Point | None) -> Curve:
    """One cubic between two points with given tangents, its handles those of a circular arc.

    Source: handles of (4/3) tan(a/4) R for an arc of angle a, said by its chord.
    """
    if start is None or end is None:
        raise ValueError("both tangents are known here")
    first, last = places
    chord = float(np.hypot(*(last - first)))
    half = math.acos(float(np.clip(start @ end, -1.0, 1.0))) / 2
    handle = 2 / 3 * chord / (1 + math.cos(half))
    return Curve(np.array([[first, first + handle * start, last - handle * end, last]]))


def _unit(direction: ArrayLike | None) -> Point | None:
    if direction is None:
        return None
    vector = np.asarray(direction, dtype=np.float64)
    length = float(np.hypot(*vector))
    if length == 0.0:
        raise ValueError("a tangent needs a direction")
    return np.asarray(vector / length)


def _distinct(points: ArrayLike) -> Points:
    places = np.array(points, dtype=np.float64)
    keep = np.ones(len(places), dtype=bool)
    keep[1:] = np.hypot(*np.diff(places, axis=0).T) > SAME_POINT_MM
    if keep.sum() < 2:
        raise ValueError("a curve needs two different points")
    # The last point is kept bit for bit, whichever of its doubles was dropped.
    last = places[-1]
    places = places[keep]
    places[-1] = last
    return places


def _chord_stations(places: Points) -> Floats:
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(places, axis=0).T))])


def fitted(
    points: ArrayLike,
    error_mm: float,
    start_tangent: ArrayLike | None = None,
    end_tangent: ArrayLike | None = None,
    *,
    chords: bool = True,
) -> Curve:
    """A smooth chain of few cubics within `error_mm` of `points`, (n, 2) mm, and of their chords.

    With `chords` off the error holds at the points alone: for few points of a curve that bulges
    beyond their chords. Both end points are kept bit for bit. A least-squares spline gets a
    further knot wherever it is not near enough; what will not become smooth (a corner) is split
    there. For tens of thousands of points.
    """
    places = _distinct(points)
    return _fitted(places, error_mm, (_unit(start_tangent), _unit(end_tangent)), chords=chords)


Ends = tuple[Point | None, Point | None]


def _fitted(places: Points, error_mm: float, tangents: Ends, *, chords: bool) -> Curve:
    samples = _with_middles(places) if chords else places
    found, worst = _spline_near(samples, error_mm, tangents)
    if found is not None:
        return found
    if not chords:
        return smooth_through(places, *tangents)
    if len(places) == 2:
        return line(places[0], places[1])
    # The place that stays furthest off is a corner: smooth on each side of it.
    parts = (len(samples) - 1) // (len(places) - 1)
    cut = min(max(round(worst / parts), 1), len(places) - 2)
    return joined(
        _fitted(places[: cut + 1], error_mm, (tangents[0], None), chords=chords),
        _fitted(places[cut:], error_mm, (None, tangents[1]), chords=chords),
    )


def _with_middles(places: Points) -> Points:
    """The points and the middles of their chords; more of each chord where there are few."""
    parts = 2 if len(places) > 500 else 4
    steps = np.arange(parts) / parts
    along = places[:-1, None] + steps[:, None] * np.diff(places, axis=0)[:, None]
    return np.concatenate([along.reshape(-1, 2), places[-1:]])


def _spline_near(samples: Points, error_mm: float, tangents: Ends) -> tuple[Curve | None, int]:
    """A least-squares spline within `error_mm` of samples, and the sample furthest from it."""
    at = _chord_stations(samples)
    breaks = _first_breaks(samples, at)
    for _ in range(FIT_ROUNDS):
        curve, at, gaps = _settled(samples, at, breaks, tangents, error_mm)
        worst = int(gaps.argmax())
        if gaps[worst] <= error_mm:
            return curve, worst
        further = _halfway(breaks, at[gaps > error_mm], at)
        if len(further) == 0:
            break
        breaks = np.union1d(breaks, further)
    return None, worst


def _first_breaks(samples: Points, at: Floats) -> Floats:
    """Both ends, and between them a break for each radian or so that the samples turn.

    A single cubic for a whole round would throw the samples into a heap that no later break parts.
    The turn is that of a rough outline, so that the steps of rounded numbers do not count.
    """
    rough = np.linspace(at[0], at[-1], min(len(at), ROUGH_PLACES))
    steps = np.diff([np.interp(rough, at, samples[:, axis]) for axis in (0, 1)], axis=1)
    (x0, y0), (x1, y1) = steps[:, :-1], steps[:, 1:]
    turned = np.cumsum(np.abs(np.arctan2(x0 * y1 - y0 * x1, x0 * x1 + y0 * y1)))
    count = min(int(turned[-1]), len(at) // 16) if len(turned) else 0
    shares = turned[-1] * np.arange(1, count + 1) / (count + 1) if count else np.zeros(0)
    return np.concatenate([at[:1], np.interp(shares, turned, rough[1:-1]), at[-1:]])


def _settled(
    samples: Points, at: Floats, breaks: Floats, tangents: Ends, error_mm: float
) -> tuple[Curve, Floats, Floats]:
    """The best spline over `breaks`, where the samples lie along it, and their gaps in mm.

    Fitting and finding the feet again take turns for as long as that helps.
    """
    before = np.inf
    for _ in range(FIT_TURNS):
        curve = Curve(cubics(full_knots(breaks), _control(samples, at, breaks, tangents)))
        at, gaps = _projected(curve, samples, at, breaks)
        worst = float(gaps.max())
        if worst <= error_mm or worst > FIT_GAIN * before:
            break
        before = worst
    return curve, at, gaps


def _control(samples: Points, at: Floats, breaks: Floats, tangents: Ends) -> Points:
    knots = full_knots(breaks)
    last = len(knots) - 5
    fixed = {0: samples[0], last: samples[-1]}
    # Over its length a curve runs at speed one: that gives the handle along a known tangent.
    if tangents[0] is not None:
        fixed[1] = samples[0] + tangents[0] * (breaks[1] - breaks[0]) / 3
    if tangents[1] is not None:
        fixed[last - 1] = samples[-1] - tangents[1] * (breaks[-1] - breaks[-2]) / 3
    return least_squares(knots, at, samples, fixed)


def _projected(curve: Curve, samples: Points, at: Floats, breaks: Floats) -> tuple[Floats, Floats]:
    """Where samples lie along the curve, rising, (k,), and how far from it, (k,) mm.

    Two steps of Newton's method towards each foot: what is left over only makes a gap larger.
    """
    p0, p1, p2, p3 = np.moveaxis(curve.segments, 1, 0)
    power = np.stack([p3 - 3 * (p2 - p1) - p0, 3 * (p2 - 2 * p1 + p0), 3 * (p1 - p0), p0])
    for _ in range(2):
        (a, b, c, d), u, width = _local(power, at, breaks)
        away = ((a * u + b) * u + c) * u + d - samples
        first, second = (3 * a * u + 2 * b) * u + c, 6 * a * u + 2 * b
        value = (away * first).sum(axis=1)
        slope = (first * first + away * second).sum(axis=1)
        step = np.divide(value, slope, out=np.zeros_like(at), where=slope > 0)
        at = (at - (step * width).clip(-width, width)).clip(breaks[0], breaks[-1])
    (a, b, c, d), u, _ = _local(power, at, breaks)
    away = ((a * u + b) * u + c) * u + d - samples
    at = np.maximum.accumulate(at)
    at[0], at[-1] = breaks[0], breaks[-1]
    return at, np.hypot(away[:, 0], away[:, 1])


def _local(power: Floats, at: Floats, breaks: Floats) -> tuple[Floats, Floats, Floats]:
    """Power coefficients, (4, k, 2), parameter in its cubic, (k, 1), and span width, (k,)."""
    index = np.clip(np.searchsorted(breaks, at, side="right") - 1, 0, len(breaks) - 2)
    width = (breaks[1:] - breaks[:-1])[index]
    return power[:, index], ((at - breaks[index]) / width)[:, None], width


def _halfway(breaks: Floats, bad: Floats, at: Floats) -> Floats:
    """New breaks in the spans that hold `bad` samples and enough samples for two."""
    counts = np.histogram(at, breaks)[0]
    spans = np.unique(np.clip(np.searchsorted(breaks, bad, side="right") - 1, 0, len(counts) - 1))
    spans = spans[counts[spans] >= 8]
    return np.asarray((breaks[spans] + breaks[spans + 1]) / 2)


def fitted_curve(
    source: Curve,
    error_mm: float,
    start_tangent: ArrayLike | None = None,
    end_tangent: ArrayLike | None = None,
) -> Curve:
    """A chain of few cubics within `error_mm` of `source`, one tangent at each of its joints.

    `source` runs smoothly: a kink in it is fitted, but with many small cubics. A tangent, (2,)
    of any length, takes the place of the source's own at that end.
    """

    def places(parameters: Floats) -> tuple[Points, Points]:
        return points_at_parameters(source, parameters), tangents_at_parameters(source, parameters)

    return fitted_function(places, float(len(source)), error_mm, start_tangent, end_tangent)


def fitted_function(
    places: Callable[[Floats], tuple[Points, Points]],
    end: float,
    error_mm: float,
    start_tangent: ArrayLike | None = None,
    end_tangent: ArrayLike | None = None,
) -> Curve:
    """A chain of few cubics within `error_mm` of a smooth way, one tangent at each joint.

    `places` gives points, (k, 2) mm, and directions, (k, 2), at parameters, (k,), from 0 to
    `end`. Stretches are halved until one cubic is near enough
    at eleven places of each, or at four a unit of parameter if that is more.
    """
    return fitted_places(places, end, error_mm, (_unit(start_tangent), _unit(end_tangent)))
