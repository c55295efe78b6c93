"""The way of an edge round a limb: how long a slanted loop is on the body."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

LEG: Final = (
    "thigh_girth_mm", "knee_girth_mm", "calf_girth_mm", "ankle_girth_mm", "foot_girth_mm",
)  # fmt: skip
"""Girths of a leg from the trunk on: what comes later has to pass what is round the earlier."""

ARM: Final = (
    "armscye_girth_mm", "upper_arm_girth_mm", "elbow_girth_mm", "wrist_girth_mm", "hand_girth_mm",
)  # fmt: skip
"""Girths of an arm from the trunk on."""

LIMB_MEASURES: Final = frozenset({*LEG[:-1], *ARM[:-1]})
"""Girths of a limb that an edge lies round; nothing lies round a foot or a hand for long."""


def leg_path_mm(girth_mm: float, rise_mm: float) -> float:
    """Length of a loop round a limb that rises by `rise_mm` from its inner to its outer side.

    The loop is an ellipse with half axes girth / (2 pi) and that slanted. Source: perimeter
    4 b E(1 - a^2 / b^2), the complete elliptic integral by the arithmetic-geometric mean
    (Abramowitz and Stegun 17.6), exact to float64.
    """
    a = girth_mm / (2.0 * math.pi)
    b = math.hypot(a, rise_mm / 2.0)
    mean, geometric, weight = b, a, 1.0
    total = (b * b + a * a) / 2.0
    while mean - geometric > np.finfo(float).eps * 8.0 * mean:
        half_gap = (mean - geometric) / 2.0
        total -= weight * half_gap * half_gap
        mean, geometric = (mean + geometric) / 2.0, math.sqrt(mean * geometric)
        weight *= 2.0
    return 2.0 * math.pi * total / mean
