"""Find the one number that makes a drafted length come out right."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from wedgework.geometry.tolerances import STATION_MM

HALVINGS: Final = 200
"""More than float64 has bits between any two numbers: the loop ends by the tolerance."""


def solved(
    miss_mm: Callable[[float], float], low: float, high: float, within_mm: float = STATION_MM
) -> float | None:
    """The number between `low` and `high` at which `miss_mm` is nothing, by halving and secants.

    None where it has the same sign at both ends. The miss is continuous; it is below `within_mm`
    at the answer, or as small as float64 lets it be. Source: the Illinois form of regula falsi.
    """
    at_low, at_high = miss_mm(low), miss_mm(high)
    if at_low == 0.0:
        return low
    if at_high == 0.0:
        return high
    if (at_low > 0) == (at_high > 0):
        return None
    for _ in range(HALVINGS):
        middle = high - at_high * (high - low) / (at_high - at_low)
        if not min(low, high) < middle < max(low, high):
            middle = (low + high) / 2.0
        here = miss_mm(middle)
        if abs(here) <= within_mm or middle in (low, high):
            return middle
        if (here > 0) == (at_high > 0):
            high, at_high, at_low = middle, here, at_low / 2.0
        else:
            low, high, at_low, at_high = high, middle, at_high, here
    return high
