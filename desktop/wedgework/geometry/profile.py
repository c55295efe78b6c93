"""How turning is gathered along a curve: the table that shaping along a seam is read from."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import Final

import numpy as np

from wedgework.geometry.curve import Curve, Floats, stacked
from wedgework.geometry.length import frozen_rows, segment_lengths_mm
from wedgework.geometry.memo import memoised
from wedgework.geometry.turning import fill_turnings, joint_turnings_rad, segment_turnings_rad

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
    return _profiles_of(curve.segments[None], joint_turnings_rad(curve)[None])[0]


def _profiles_of(segments: Floats, joints: Floats) -> list[Floats]:
    """Of each of m curves, (m, n, 4, 2), by its joints, (m, n - 1) rad, its profile."""
    parts = (_BLOSSOMS @ segments[:, :, None]).reshape(-1, 4, 2)
    steps = np.zeros((*segments.shape[:2], PARTS + 1, 2))
    of_parts = (*segments.shape[:2], PARTS)
    steps[:, :, 1:, 0] = segment_lengths_mm(parts).reshape(of_parts)
    steps[:, :, 1:, 1] = segment_turnings_rad(parts).reshape(of_parts)
    steps[:, 1:, 0, 1] = joints
    return frozen_rows(np.cumsum(steps.reshape(len(segments), -1, 2), axis=1))


def fill_profiles(curves: Iterable[Curve]) -> None:
    """Take the profiles of many curves at once; each is then remembered."""
    wanted = [curve for curve in curves if not turning_profile.knows(curve)]
    fill_turnings(wanted)
    for some, segments in stacked(wanted):
        joints = np.stack([joint_turnings_rad(curve) for curve in some])
        for curve, profile in zip(some, _profiles_of(segments, joints), strict=True):
            turning_profile.keep(profile, curve)
