"""Roots of one cubic polynomial given by its control values, such as a distance along a cubic."""

from __future__ import annotations

import numpy as np

from wedgework.geometry.curve import Floats
from wedgework.geometry.tolerances import DOUBLE_ROOT, LEADING_RELATIVE


def bernstein_roots(values: Floats) -> Floats:
    """Where in [0, 1] the cubic with control values (4,) is nothing, (k,) rising.

    A double root may come as two near ones. A cubic that is nothing everywhere has no roots
    to give.
    """
    p0, p1, p2, p3 = (float(value) for value in values)
    power = np.array([p3 - 3 * (p2 - p1) - p0, 3 * (p2 - 2 * p1 + p0), 3 * (p1 - p0), p0])
    size = np.abs(values).max()
    if size == 0.0:
        return np.zeros(0)
    # A leading coefficient of mere rounding would send a root to infinity and blur the others.
    while len(power) > 1 and abs(power[0]) <= LEADING_RELATIVE * size:
        power = power[1:]
    roots = np.roots(power)
    real = roots.real[np.abs(roots.imag) <= DOUBLE_ROOT]
    return np.sort(
        _polished(power, real).clip(0.0, 1.0)[(real >= -DOUBLE_ROOT) & (real <= 1 + DOUBLE_ROOT)]
    )


def _polished(power: Floats, roots: Floats) -> Floats:
    """Two steps of Newton's method, where a step is short: a double root stays where it is."""
    slope = np.polyder(power)
    for _ in range(2):
        value, rise = np.polyval(power, roots), np.polyval(slope, roots)
        step = np.divide(value, rise, out=np.zeros_like(roots), where=rise != 0.0)
        roots = np.where(np.abs(step) <= DOUBLE_ROOT, roots - step, roots)
    return np.asarray(roots)
