"""Where a chain of cubics turns sharply enough to be called a corner."""

from __future__ import annotations

import numpy as np

from wedgework.geometry.curve import Curve, Floats
from wedgework.geometry.tolerances import SAME_POINT_MM
from wedgework.geometry.turning import end_tangents


def corner_parameters(curve: Curve, corner_rad: float) -> Floats:
    """Parameters, (k,) rising, of the joints of `curve` that turn by `corner_rad` or more.

    Cubics of no length between two others are passed over: the corner is then at the first of
    the joints that lie in one point.
    """
    real = _with_length(curve)
    tangents = end_tangents(curve)[real]
    turns = _turns(tangents[:-1, 1], tangents[1:, 0])
    return np.asarray(real[:-1][turns >= corner_rad] + 1.0)


def ring_corners(curve: Curve, corner_rad: float) -> Floats:
    """`corner_parameters` of a closed chain, with 0 among them if it has a corner at its start."""
    inside = corner_parameters(curve, corner_rad)
    tangents = end_tangents(curve)[_with_length(curve)]
    start = _turns(tangents[-1:, 1], tangents[:1, 0]) >= corner_rad
    return np.concatenate([np.zeros(int(start.sum())), inside])


def _with_length(curve: Curve) -> np.ndarray:
    away = np.abs(curve.segments - curve.segments[:, :1]).max(axis=(1, 2))
    return np.flatnonzero(away > SAME_POINT_MM)


def _turns(before: Floats, after: Floats) -> Floats:
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return np.asarray(np.abs(np.arctan2(cross, (before * after).sum(axis=1))))
