"""Arcs about a point, as chains of cubics."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.curve import Curve, with_ends
from wedgework.geometry.turning import angle_between

ARC_RAD: Final = math.radians(10.0)
"""The most that one cubic turns: a metre of radius is then followed within 1e-6 mm."""

FEW_RAD: Final = math.radians(45.0)
"""The most that one cubic of a shape turns that is drawn to be worked on."""

FEW_PLACES: Final = 9
"""Decimals of a count of cubics: the rounding of a quarter of a turn makes no further one."""


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


def arc(centre: ArrayLike, radius_mm: float, start_rad: float, turn_rad: float) -> Curve:
    """An arc of a circle from a direction on, by up to a whole turn, counter-clockwise if above 0.

    Few cubics, so that a hand can still take hold of each: R 100 is followed within 0.0005 mm
    (the error of one cubic falls with the sixth power of its turn).
    """
    count = max(1, math.ceil(round(abs(turn_rad) / FEW_RAD, FEW_PLACES)))
    turns = start_rad + turn_rad * np.arange(count + 1) / count
    out = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    if abs(turn_rad) >= 2 * math.pi:
        out[-1] = out[0]
    points = np.asarray(centre, dtype=np.float64) + radius_mm * out
    handle = 4.0 / 3.0 * math.tan(turn_rad / count / 4.0) * radius_mm
    side = handle * np.stack([-out[:, 1], out[:, 0]], axis=1)
    rows = [
        [first, first + before, last - after, last]
        for (first, last), before, after in zip(pairwise(points), side[:-1], side[1:], strict=True)
    ]
    return Curve(np.array(rows))
