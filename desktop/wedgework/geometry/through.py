"""A round curve through few points, as a hand with a good eye would draw it.

Source: Hobby, Smooth, Easy to Compute Interpolating Splines, Discrete and Computational Geometry 1
(1986), 123-140. Three points of a circle give that circle within a thousandth of its radius, which
a spline over the chords (`fit.smooth_through`) misses by some hundredths: it does not bend at its
ends. At an end its curvature goes on as it began, in a straight line over the first two stretches.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.curve import Curve, Floats, Points, line
from wedgework.geometry.tolerances import SAME_STATION_MM

_GOLDEN = (math.sqrt(5) - 1) / 2
_REST = (3 - math.sqrt(5)) / 2


def round_through(points: ArrayLike) -> Curve:
    """A chain of cubics through `points`, (n, 2) mm, one between any two; straight through two.

    Both ends are kept bit for bit; a point that is the one before it counts once. Raises
    ValueError unless two of the points differ.
    """
    places = _apart(np.array(points, dtype=np.float64))
    if len(places) == 2:
        return line(places[0], places[1])
    steps = np.diff(places, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    headings = np.arctan2(steps[:, 1], steps[:, 0])
    turns = np.zeros(len(places))
    turns[1:-1] = np.remainder(np.diff(headings) + math.pi, 2 * math.pi) - math.pi
    leaving = _leaving_rad(lengths, turns)
    arriving = -(leaving + turns)
    return Curve(_cubics(places, lengths, headings, leaving[:-1], arriving[1:]))


def _apart(places: Points) -> Points:
    keep = np.ones(len(places), dtype=bool)
    keep[1:] = np.hypot(*np.diff(places, axis=0).T) > SAME_STATION_MM
    if keep.sum() < 2:
        raise ValueError("a curve needs two different points")
    kept = places[keep]
    kept[-1] = places[-1]
    return kept


def _leaving_rad(lengths: Floats, turns: Floats) -> Floats:
    """How far the curve leaves each point to the left of the chord that follows it, (n,) rad.

    Mock curvature, in which all that follows is linear, is the same on both sides of each inner
    point.
    """
    count = len(turns)
    matrix, right = np.zeros((count, count)), np.zeros(count)
    for index in range(1, count - 1):
        before, after = lengths[index - 1], lengths[index]
        matrix[index, index - 1 : index + 2] = 1 / before, 2 / before + 2 / after, 1 / after
        right[index] = -2 * turns[index] / before - turns[index + 1] / after
    for row, walk in ((0, [0, 1, 2]), (count - 1, [count - 1, count - 2, count - 3])):
        _set_end(matrix[row], right[row : row + 1], walk, lengths, turns)
    return np.asarray(np.linalg.solve(matrix, right))


def _set_end(row: Floats, right: Floats, walk: list[int], lengths: Floats, turns: Floats) -> None:
    """One equation at an end: its curvature is that of the neighbour, or goes on from the next."""
    bends = [_mock_curvature(at, lengths, turns, inward=walk[0] > 0) for at in walk]
    shares = [1.0, -1.0, 0.0]
    if len(turns) > 3:
        first, second = (lengths[min(walk[i], walk[i + 1])] for i in (0, 1))
        shares = [1.0, -1.0 - first / second, first / second]
    for share, (coefficients, rest) in zip(shares, bends, strict=True):
        row += share * coefficients
        right -= share * rest


def _mock_curvature(
    at: int, lengths: Floats, turns: Floats, *, inward: bool
) -> tuple[Floats, float]:
    """Curvature at a point as a linear form in what is sought: coefficients, and what is known.

    Taken on the stretch after the point; on that before it where there is none, or `inward`.
    """
    row = np.zeros(len(turns))
    if at == len(turns) - 1 or (inward and at > 0):
        size = lengths[at - 1]
        row[at], row[at - 1] = 4 / size, 2 / size
        return row, 4 * turns[at] / size
    size = lengths[at]
    row[at], row[at + 1] = -4 / size, -2 / size
    return row, -2 * turns[at + 1] / size


def _cubics(
    places: Points, lengths: Floats, headings: Floats, leaving: Floats, arriving: Floats
) -> Floats:
    """Handles by Hobby's velocities, which make a cubic of equal angles nearly an arc."""
    outward, inward = headings + leaving, headings - arriving
    first = _velocity(leaving, arriving) * lengths / 3
    last = _velocity(arriving, leaving) * lengths / 3
    out = places[:-1] + first[:, None] * np.stack([np.cos(outward), np.sin(outward)], axis=1)
    back = places[1:] - last[:, None] * np.stack([np.cos(inward), np.sin(inward)], axis=1)
    return np.stack([places[:-1], out, back, places[1:]], axis=1)


def _velocity(here: Floats, there: Floats) -> Floats:
    """Length of a handle over a third of the chord."""
    sine = (np.sin(here) - np.sin(there) / 16) * (np.sin(there) - np.sin(here) / 16)
    alpha = math.sqrt(2) * sine * (np.cos(here) - np.cos(there))
    return np.asarray((2 + alpha) / (1 + _GOLDEN * np.cos(here) + _REST * np.cos(there)))
