"""How turning is gathered along a curve: the table that shaping along a seam is read from."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np

from wedgework.geometry.curve import Curve, Floats
from wedgework.geometry.length import segment_lengths_mm
from wedgework.geometry.memo import memoised
from wedgework.geometry.turning import joint_turnings_rad, segment_turnings_rad

PARTS: Final = 16
"""Parts of each cubic: on a quarter circle a straight line between two rows is off by under a
hundredth of a degree, far below the half degree that a swing must reach to count."""


def _blossoms() -> Floats:
    """(PARTS, 4, 4): matrices that take a cubic to its part between two even parameters."""
    bounds = np.linspace(0.0, 1.0, PARTS + 1)
    rows = []
    for t0, t1 in pairwise(bounds):
        for a, b, c in ((t0, t0, t0), (t0, t0, t1), (t0, t1, t1), (t1, t1, t1)):
            polar = np.array([1.0])
            for t in (a, b, c):
                polar = np.concatenate([polar * (1 - t), [0.0]]) + np.concatenate(
                    [[0.0], polar * t]
                )
            rows.append(polar)
    return np.array(rows).reshape(PARTS, 4, 4)


_BLOSSOMS = _blossoms()


@memoised
def turning_profile(curve: Curve) -> Floats:
    """(k, 2): station in mm and turning in rad up to it, from (0, 0) to the whole of both.

    PARTS rows for each cubic; a kink between two cubics stands as two rows at one station,
    before and after it. Every row is exact; between rows turning is nearly straight.
    """
    parts = (_BLOSSOMS @ curve.segments[:, None]).reshape(-1, 4, 2)
    lengths = segment_lengths_mm(parts).reshape(-1, PARTS)
    turnings = segment_turnings_rad(parts).reshape(-1, PARTS)
    steps = np.zeros((len(curve), PARTS + 1, 2))
    steps[:, 1:, 0], steps[:, 1:, 1] = lengths, turnings
    steps[1:, 0, 1] = joint_turnings_rad(curve)
    rows = np.cumsum(steps.reshape(-1, 2), axis=0)
    rows.flags.writeable = False
    return np.asarray(rows)
