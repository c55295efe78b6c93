"""Cubic B-splines: their basis, a least-squares fit to samples, and the cubics they consist of.

Source: de Boor, A Practical Guide to Splines; polar forms (blossoms): Ramshaw 1989.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from wedgework.geometry.curve import Floats, Points
from wedgework.geometry.tolerances import FIT_RIDGE


def full_knots(breaks: Floats) -> Floats:
    """Knots of a cubic spline over `breaks`, (n,), its end knots said four times."""
    return np.concatenate([[breaks[0]] * 3, breaks, [breaks[-1]] * 3])


def basis(knots: Floats, at: Floats) -> tuple[NDArray[np.int64], Floats]:
    """The first of the four control points that count at each of `at`, (k,), and weights (k, 4)."""
    last = len(knots) - 5
    span = np.clip(np.searchsorted(knots, at, side="right") - 1, 3, last)
    weights = np.zeros((len(at), 4))
    weights[:, 0] = 1.0
    # The triangle of Cox and de Boor, all places together.
    for degree in (1, 2, 3):
        carried = np.zeros(len(at))
        for j in range(degree):
            right, left = knots[span + j + 1], knots[span + j + 1 - degree]
            share = weights[:, j] / (right - left)
            weights[:, j] = carried + (right - at) * share
            carried = (at - left) * share
        weights[:, degree] = carried
    return span - 3, weights


def least_squares(knots: Floats, at: Floats, points: Points, fixed: dict[int, Floats]) -> Points:
    """Control points, (m, 2), of the spline nearest to `points`, (k, 2), at `at`, (k,) rising.

    `fixed` gives control points that are known already, by number. A slight pull towards even
    control points keeps a stretch without samples determined.
    """
    count = len(knots) - 4
    first, weights = basis(knots, at)
    normal = np.zeros((count, count))
    right = np.zeros((count, 2))
    bounds = np.searchsorted(first, np.arange(count - 2))
    for index in range(count - 3):
        own = slice(bounds[index], bounds[index + 1])
        columns = slice(index, index + 4)
        normal[columns, columns] += weights[own].T @ weights[own]
        right[columns] += weights[own].T @ points[own]
    even = np.diff(np.eye(count), 2, axis=0)
    normal += FIT_RIDGE * len(at) / count * (even.T @ even)
    return solved(normal, right, fixed)


def solved(normal: Floats, right: Floats, fixed: dict[int, Floats]) -> Points:
    """Control points, (m, 2), of normal equations, (m, m) and (m, 2), with some known already."""
    known = np.array(sorted(fixed))
    free = np.setdiff1d(np.arange(len(normal)), known)
    control = np.zeros((len(normal), 2))
    control[known] = [fixed[index] for index in known.tolist()]
    if len(free):
        rest = right[free] - normal[np.ix_(free, known)] @ control[known]
        control[free] = np.linalg.solve(normal[np.ix_(free, free)], rest)
    return control


def cubics(knots: Floats, control: Points) -> Floats:
    """The spline's cubics, (n, 4, 2), one a span, each starting where the last ended."""
    span = np.arange(3, len(knots) - 4)
    a, b = knots[span], knots[span + 1]
    corners = [_blossom(knots, control, span, which) for which in ((a, a, a), (a, a, b), (a, b, b))]
    end = _blossom(knots, control, span, (b, b, b))
    segments = np.stack([*corners, end], axis=1)
    segments[0, 0], segments[-1, 3] = control[0], control[-1]
    segments[1:, 0] = segments[:-1, 3]
    return segments


def _blossom(
    knots: Floats, control: Points, span: NDArray[np.int64], at: tuple[Floats, Floats, Floats]
) -> Points:
    """The polar form of the cubic in each span, (n, 2), at three arguments, (n,) each."""
    points = [control[span - 3 + j] for j in range(4)]
    for degree, place in zip((3, 2, 1), at, strict=True):
        for j in range(degree):
            left, right = knots[span + j + 1 - degree], knots[span + j + 1]
            share = ((place - left) / (right - left))[:, None]
            points[j] = (1 - share) * points[j] + share * points[j + 1]
    return np.asarray(points[0])
