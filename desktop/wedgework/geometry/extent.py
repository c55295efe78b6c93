"""Area of a ring and tight bounds of curves, both in closed form."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from wedgework.geometry.curve import Curve, Floats, stacked
from wedgework.geometry.length import frozen_rows
from wedgework.geometry.memo import memoised

# Integral of B_i dB_j - B_j dB_i over a cubic, times 10 (exact rationals, Green's theorem).
_GREEN = np.array(
    [[0.0, 6.0, 3.0, 1.0], [-6.0, 0.0, 3.0, 3.0], [-3.0, -3.0, 0.0, 6.0], [-1.0, -3.0, -6.0, 0.0]]
)


@memoised
def swept_area_mm2(curve: Curve) -> float:
    """Signed area that the ray from the origin to the curve sweeps, in mm2, exactly.

    Summed over a closed ring it is the ring's area, positive counter-clockwise.
    Source: Green's theorem, half the integral of x dy - y dx.
    """
    return _swept_mm2(curve.segments)


def _swept_mm2(segments: Floats) -> float:
    x, y = segments[..., 0], segments[..., 1]
    return float(np.einsum("nj,nj->", x @ _GREEN, y) / 20.0)


def ring_area_mm2(ring: Iterable[Curve]) -> float:
    """Signed area of a closed ring of curves in mm2, positive counter-clockwise.

    Measured about the ring's first point: far from the origin the sweep would lose digits.
    """
    segments = np.concatenate([curve.segments for curve in ring])
    return _swept_mm2(segments - segments[0, 0])


@memoised
def bounds_mm(curve: Curve) -> Floats:
    """(4,) mm: least x, least y, greatest x, greatest y of the curve itself, not its handles."""
    return _bounds_of(curve.segments[None])[0]


def _bounds_of(segments: Floats) -> list[Floats]:
    """Of each of m curves, (m, n, 4, 2), what `bounds_mm` says."""
    turns = _extremes(segments)
    first, last = segments[:, :, 0], segments[:, :, 3]
    low = np.fmin(np.minimum(first, last), np.fmin(*turns)).min(axis=1)
    high = np.fmax(np.maximum(first, last), np.fmax(*turns)).max(axis=1)
    return frozen_rows(np.concatenate([low, high], axis=1))


def _extremes(segments: Floats) -> Floats:
    """(2, ..., 2) of cubics (..., 4, 2): x and y where their derivative is nothing, or NaN."""
    p0, p1, p2, p3 = np.moveaxis(segments, -2, 0)
    a, b, c = p3 - 3 * p2 + 3 * p1 - p0, 2 * (p2 - 2 * p1 + p0), p1 - p0
    with np.errstate(divide="ignore", invalid="ignore"):
        root = np.sqrt(b * b - 4 * a * c)
        # The stable pair of the quadratic formula: no difference of nearly equal numbers.
        q = -0.5 * (b + np.where(b >= 0, root, -root))
        t = np.stack([q / a, c / q])
    t = np.where((t > 0) & (t < 1), t, np.nan)
    s = 1 - t
    return np.asarray(s**3 * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t**3 * p3)


def fill_bounds(curves: Iterable[Curve]) -> None:
    """Take the bounds of many curves at once; those of each are then remembered."""
    for some, segments in stacked(curve for curve in curves if not bounds_mm.knows(curve)):
        for curve, bounds in zip(some, _bounds_of(segments), strict=True):
            bounds_mm.keep(bounds, curve)


def bounds_of_all(curves: Sequence[Curve]) -> Floats:
    """Bounds of several curves together, (4,) mm."""
    fill_bounds(curves)
    boxes = np.stack([bounds_mm(curve) for curve in curves])
    return np.concatenate([boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)])
