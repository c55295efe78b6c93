"""The way of an edge round a limb: how long a slanted loop is on the body."""

from __future__ import annotations

import math

import numpy as np


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
