"""Area of a ring and tight bounds of curves, both in closed form."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from wedgework.geometry.curve import Curve, Floats
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
    x, y = curve.segments[..., 0], curve.segments[..., 1]
    return float(np.einsum("ni,ij,nj->", x, _GREEN, y) / 20.0)


def ring_area_mm2(ring: Iterable[Curve]) -> float:
    """Signed area of a closed ring of curves in mm2, positive counter-clockwise.

    Measured about the ring's first point: far from the origin the sweep would lose digits.
    """
    curves = list(ring)
    origin = curves[0].start
    return sum(swept_area_mm2(Curve(curve.segments - origin)) for curve in curves)


@memoised
def bounds_mm(curve: Curve) -> Floats:
    """(4,) mm: least x, least y, greatest x, greatest y of the curve itself, not its handles."""
    low = np.minimum(curve.segments[:, 0], curve.segments[:, 3]).min(axis=0)
    high = np.maximum(curve.segments[:, 0], curve.segments[:, 3]).max(axis=0)
    for axis in (0, 1):
        turns = _extremes(curve.segments[:, :, axis])
        low[axis] = min(low[axis], turns.min(initial=np.inf))
        high[axis] = max(high[axis], turns.max(initial=-np.inf))
    bounds = np.concatenate([low, high])
    bounds.flags.writeable = False
    return bounds


def _extremes(values: Floats) -> Floats:
    """Values of n cubics in one coordinate, (n, 4), where their derivative is nothing."""
    p0, p1, p2, p3 = values.T
    a, b, c = p3 - 3 * p2 + 3 * p1 - p0, 2 * (p2 - 2 * p1 + p0), p1 - p0
    with np.errstate(divide="ignore", invalid="ignore"):
        root = np.sqrt(b * b - 4 * a * c)
        # The stable pair of the quadratic formula: no difference of nearly equal numbers.
        q = -0.5 * (b + np.where(b >= 0, root, -root))
        t = np.stack([q / a, c / q])
    t = np.where((t > 0) & (t < 1), t, np.nan)
    s = 1 - t
    found = s**3 * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t**3 * p3
    return np.asarray(found[np.isfinite(found)])


def bounds_of_all(curves: Iterable[Curve]) -> Floats:
    """Bounds of several curves together, (4,) mm."""
    boxes = np.stack([bounds_mm(curve) for curve in curves])
    return np.concatenate([boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)])
