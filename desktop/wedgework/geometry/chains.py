"""Many curves to and from plain points at once, for files: one pass over all their cubics.

A chain of n cubics is 3 n + 1 points: its start, then two handles and an end for each cubic. A
joint is said once, so neighbouring cubics share it bit for bit by the form alone.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from wedgework.geometry.curve import Curve, Points


def chain_points(curves: Sequence[Curve]) -> tuple[Points, list[int]]:
    """Points, (k, 2) mm, of all `curves` one after the other, and how many belong to each."""
    if not curves:
        return np.empty((0, 2)), []
    cubics = [len(curve) for curve in curves]
    segments = np.concatenate([curve.segments for curve in curves])
    points = np.empty((3 * len(segments) + len(curves), 2))
    # Every cubic stands 3 points after the one before it, and 1 more where a curve begins.
    first = 3 * np.arange(len(segments)) + np.repeat(np.arange(len(curves)), cubics)
    for step in range(4):
        points[first + step] = segments[:, step]
    return points, [3 * count + 1 for count in cubics]


def chains_of_points(points: Points, counts: Sequence[int]) -> list[Curve]:
    """Curves of points, (k, 2) mm, of which `counts` belong to each; the other way round.

    Raises ValueError where a count is not 3 n + 1 with n at least 1, the counts do not add up,
    or a number is not finite.
    """
    each = np.asarray(counts, dtype=np.int64)
    if (each < 4).any() or (each % 3 != 1).any() or each.sum() != len(points):
        raise ValueError("a chain of n cubics has 3 n + 1 points")
    if not np.isfinite(points).all():
        raise ValueError("a curve holds finite numbers only")
    cubics = each // 3
    first = 3 * np.arange(cubics.sum()) + np.repeat(np.arange(len(each)), cubics)
    segments = points[first[:, None] + np.arange(4)]
    segments.flags.writeable = False
    bounds = np.cumsum(cubics)
    return [
        _trusted(segments[start:end]) for start, end in zip(bounds - cubics, bounds, strict=True)
    ]


def _trusted(segments: Points) -> Curve:
    # What the constructor looks at holds for all of them by now, and looking again at each of
    # some ten thousand takes longer than all the rest of reading a file.
    curve = object.__new__(Curve)
    object.__setattr__(curve, "segments", segments)
    return curve
