"""Arcs about a point, as chains of cubics."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.curve import Curve, with_ends
from wedgework.geometry.turning import angle_between

ARC_RAD: Final = math.radians(10.0)
"""The most that one cubic turns: a metre of radius is then followed within 1e-6 mm."""


def arc_about(centre: ArrayLike, start: ArrayLike, end: ArrayLike) -> Curve:
    """From `start` to `end` about `centre`, (2,) mm each, the shorter way round.

    A circle where both are as far from the centre; else the distance changes evenly with the angle.
    """
    middle, first, last = (np.asarray(point, dtype=np.float64) for point in (centre, start, end))
    whole = angle_between(first - middle, last - middle)
    radii = np.hypot(*(first - middle)), np.hypot(*(last - middle))
    count = max(1, math.ceil(abs(whole) / ARC_RAD))
    step = whole / count
    turns = math.atan2(*(first - middle)[::-1]) + step * np.arange(count + 1)
    reach = np.linspace(*radii, count + 1)[:, None]
    out = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    side = np.stack([-np.sin(turns), np.cos(turns)], axis=1)
    slope = (radii[1] - radii[0]) / whole if whole else 0.0
    # A cubic follows a circle best with handles of 4/3 tan of a quarter of its turn.
    handle = 4.0 / 3.0 * math.tan(step / 4.0) * (slope * out + reach * side)
    points = middle + reach * out
    segments = np.stack(
        [points[:-1], points[:-1] + handle[:-1], points[1:] - handle[1:], points[1:]], axis=1
    )
    return with_ends(Curve(segments), first, last)
