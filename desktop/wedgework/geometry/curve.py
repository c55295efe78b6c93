"""A plane curve: a chain of cubic Bezier segments as one read-only array.

A straight line is a cubic too (handles at its thirds), so nothing here has a special case for
lines. Each segment starts, bit for bit, where the one before it ended.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wedgework.geometry.tolerances import SAME_POINT_MM

Floats: TypeAlias = NDArray[np.float64]
"""Any array of float64; the docstring gives its shape."""

Point: TypeAlias = Floats
"""Shape (2,): x, y in mm."""

Points: TypeAlias = Floats
"""Shape (n, 2): x, y in mm."""


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True)
class Curve:
    """A chain of cubics, `segments` of shape (n, 4, 2) in mm, n at least 1.

    Compares by identity, so that measures can be remembered for it. Raises ValueError where
    the array has another shape, holds a number that is not finite, or is broken at a joint.
    """

    segments: Floats

    def __post_init__(self) -> None:
        """Check the array and put a read-only copy of it in its place."""
        segments = np.array(self.segments, dtype=np.float64, order="C")
        if segments.ndim != 3 or segments.shape[1:] != (4, 2) or len(segments) == 0:
            raise ValueError(f"a curve is an (n, 4, 2) array, not {segments.shape}")
        if not np.isfinite(segments).all():
            raise ValueError("a curve holds finite numbers only")
        if not np.array_equal(segments[1:, 0], segments[:-1, 3]):
            raise ValueError("each segment starts where the last ended")
        segments.flags.writeable = False
        object.__setattr__(self, "segments", segments)

    @property
    def start(self) -> Point:
        """First point, (2,) mm, read-only."""
        return np.asarray(self.segments[0, 0])

    @property
    def end(self) -> Point:
        """Last point, (2,) mm, read-only."""
        return np.asarray(self.segments[-1, 3])

    def __len__(self) -> int:
        """Number of cubics."""
        return len(self.segments)


def line(start: ArrayLike, end: ArrayLike) -> Curve:
    """The straight curve from `start` to `end`, each (2,) mm, at even speed."""
    return polyline(np.array([start, end], dtype=np.float64))


def polyline(points: ArrayLike) -> Curve:
    """Straight segments through `points`, (n, 2) mm with n at least 2."""
    corners = np.asarray(points, dtype=np.float64)
    first, last = corners[:-1], corners[1:]
    step = (last - first) / 3.0
    return Curve(np.stack([first, first + step, last - step, last], axis=1))


def with_handles(curve: Curve) -> Curve:
    """The same points, straight cubics whose handles lie in their ends with handles at thirds.

    Files write straight lines in both ways; without handles nothing of such a cubic can be pulled.
    """
    p0, p1, p2, p3 = (curve.segments[:, i] for i in range(4))
    bare = (p0 == p1).all(axis=1) & (p2 == p3).all(axis=1)
    if not bare.any():
        return curve
    segments = curve.segments.copy()
    step = (p3 - p0)[bare] / 3.0
    segments[bare, 1], segments[bare, 2] = p0[bare] + step, p3[bare] - step
    return Curve(segments)


def reversed_curve(curve: Curve) -> Curve:
    """The same points walked the other way."""
    return Curve(curve.segments[::-1, ::-1])


def joined(*curves: Curve) -> Curve:
    """One chain of `curves`, each of which must start where the last one ended.

    Ends that differ by no more than SAME_POINT_MM are made one; raises ValueError where they
    lie further apart.
    """
    segments = np.concatenate([curve.segments for curve in curves])
    gaps = np.abs(segments[1:, 0] - segments[:-1, 3]).max(initial=0.0)
    if gaps > SAME_POINT_MM:
        raise ValueError(f"the curves lie {gaps:.3g} mm apart and cannot be joined")
    segments[1:, 0] = segments[:-1, 3]
    return Curve(segments)


def with_ends(curve: Curve, start: ArrayLike, end: ArrayLike) -> Curve:
    """The same curve with its two end points replaced bit for bit (a shared corner passed on)."""
    segments = curve.segments.copy()
    segments[0, 0] = start
    segments[-1, 3] = end
    return Curve(segments)


def is_straight(curve: Curve, within_mm: float) -> bool:
    """Whether every control point lies within `within_mm` of the chord, and runs along it."""
    chord = curve.end - curve.start
    length = float(np.hypot(*chord))
    if length <= within_mm:
        return False
    offset = curve.segments.reshape(-1, 2) - curve.start
    across = np.abs(offset[:, 0] * chord[1] - offset[:, 1] * chord[0]) / length
    along = (offset @ chord) / length
    return bool((across <= within_mm).all() and (np.diff(along) >= -within_mm).all())


IN_ONE_PASS: Final = 2048
"""Cubics that one pass takes together: more no longer fit a processor's cache when they are cut
into parts, and fewer cost calls."""


def stacked(curves: Iterable[Curve]) -> Iterator[tuple[list[Curve], Floats]]:
    """Curves of one number of cubics together, with their segments, (m, n, 4, 2) mm.

    For measures of many curves at once: a pass over arrays costs little more than one curve.
    """
    by_count: defaultdict[int, list[Curve]] = defaultdict(list)
    for curve in curves:
        by_count[len(curve)].append(curve)
    for count, alike in by_count.items():
        step = max(1, IN_ONE_PASS // count)
        for first in range(0, len(alike), step):
            some = alike[first : first + step]
            yield some, np.stack([curve.segments for curve in some])
