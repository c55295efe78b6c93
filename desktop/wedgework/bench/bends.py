"""How an edge bends along itself: teeth whose length is its curvature, to judge how fair it is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from wedgework.geometry.curve import Curve, Floats, Points
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.memo import memoised
from wedgework.geometry.turning import curvatures_at, tangents_at

TEETH = 64
"""Teeth to an edge: enough for the eye to follow a line over their tips."""


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class BendComb:
    """Feet (k, 2) mm, unit vectors (k, 2) out of the piece, curvatures (k,) 1/mm, convex positive.

    A place that has no bend, a cusp, has none here either.
    """

    points_mm: Points
    outward: Points
    curvatures: Floats

    @property
    def greatest(self) -> float:
        """The greatest curvature, in 1/mm, whichever way."""
        return float(np.abs(self.curvatures).max())


@memoised
def bend_comb(curve: Curve) -> BendComb:
    """The comb of a curve that has its piece on the left."""
    at = np.linspace(0.0, length_mm(curve), TEETH + 1)
    tangents = tangents_at(curve, at)
    outward = np.stack([tangents[:, 1], -tangents[:, 0]], axis=1)
    curvatures = np.nan_to_num(curvatures_at(curve, at), nan=0.0, posinf=0.0, neginf=0.0)
    return BendComb(points_mm=points_at(curve, at), outward=outward, curvatures=curvatures)
