"""Chords in place of curves, within an error that the caller names.

For pictures, regions and boxes; never for a length that a maker reads.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

import numpy as np

from wedgework.geometry.curve import Curve, Floats, Points
from wedgework.geometry.distinct import distinct


@lru_cache(maxsize=256)
def _basis(count: int) -> Floats:
    """(4, count): Bernstein polynomials at 0, 1/count, ... (count - 1)/count."""
    t = np.arange(count) / count
    s = 1.0 - t
    return np.stack([s**3, 3 * s * s * t, 3 * s * t * t, t**3])


def chord_counts(segments: Floats, error_mm: float) -> Floats:
    """Even steps of parameter, (n,), that keep the chords of (n, 4, 2) within `error_mm`.

    A chord misses its arc by at most step**2 / 8 times the second derivative, which nowhere
    exceeds 6 times the greater second difference of the control points. Raises ValueError
    unless the error is above nothing.
    """
    if not error_mm > 0.0:
        raise ValueError(f"chords need an error above nothing, not {error_mm}")
    x, y = segments[:, :, 0], segments[:, :, 1]
    bend = np.hypot(
        x[:, :-2] - 2 * x[:, 1:-1] + x[:, 2:], y[:, :-2] - 2 * y[:, 1:-1] + y[:, 2:]
    ).max(axis=1)
    return np.asarray(np.maximum(np.ceil(np.sqrt(0.75 * bend / error_mm)), 1.0))


def chord_starts(segments: Floats, error_mm: float) -> tuple[Points, Floats]:
    """Where each chord of (n, 4, 2) starts: points (k, 2) mm and parameters (k,) in the chain.

    The last end point is left out. The start of each cubic is its own control point, bit for bit.
    """
    counts = chord_counts(segments, error_mm).astype(np.int64)
    first = np.cumsum(counts) - counts
    points = np.empty((int(counts.sum()), 2))
    parameters = np.empty(len(points))
    x, y = np.ascontiguousarray(segments[:, :, 0]), np.ascontiguousarray(segments[:, :, 1])
    # One product for all cubics of equal count: few counts occur, and each is one pass.
    for count in distinct(counts):
        index = np.flatnonzero(counts == count)
        basis = _basis(int(count))
        to = first[index, None] + np.arange(count)
        points[to, 0] = x[index] @ basis
        points[to, 1] = y[index] @ basis
        parameters[to] = index[:, None] + np.arange(count) / count
    return points, parameters


def _without_repeats(points: Points) -> Points:
    keep = np.ones(len(points), dtype=bool)
    keep[1:] = (points[1:] != points[:-1]).any(axis=1)
    return points[keep]


def flattened(curve: Curve, error_mm: float) -> Points:
    """Points, (k, 2) mm, both ends among them, whose chords stay within `error_mm` of the curve.

    No point stands twice running; a curve of no length gives one point.
    """
    starts, _ = chord_starts(curve.segments, error_mm)
    return _without_repeats(np.concatenate([starts, curve.end[None]]))


def flattened_ring(curves: Iterable[Curve], error_mm: float) -> Points:
    """Points, (k, 2) mm, of a closed ring of curves; the first is not said again at the end."""
    segments = np.concatenate([curve.segments for curve in curves])
    points = _without_repeats(chord_starts(segments, error_mm)[0])
    return points[:-1] if len(points) > 1 and (points[0] == points[-1]).all() else points


def flattened_all(curves: Sequence[Curve], error_mm: float) -> list[Points]:
    """`flattened` of many curves in one pass, in their order."""
    if not curves:
        return []
    segments = np.concatenate([curve.segments for curve in curves])
    points, parameters = chord_starts(segments, error_mm)
    bounds = np.cumsum([len(curve) for curve in curves])
    parts = np.split(points, np.searchsorted(parameters, bounds[:-1]))
    return [
        _without_repeats(np.concatenate([part, curve.end[None]]))
        for part, curve in zip(parts, curves, strict=True)
    ]
