"""A number that changes along a length: cubics in pieces, which a spline is a case of.

Each piece is held by its value and slope at both ends, so it may be cut, stretched and turned
round without a loss, and a slope may jump where two pieces meet.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.curve import Floats
from wedgework.geometry.spline import Spline
from wedgework.geometry.tolerances import SAME_POINT_MM


@dataclass(frozen=True, eq=False, slots=True)
class Piecewise:
    """`rows` is (k, 6): from, to, value and slope there, value and slope here, in rising order.

    Each row starts where the one before it ends. Beyond its ends it goes on straight.
    """

    rows: Floats

    @property
    def breaks(self) -> Floats:
        """(k + 1,): where rows meet, both ends included."""
        return np.append(self.rows[:, 0], self.rows[-1, 1])

    def at(self, places: ArrayLike, near: ArrayLike | None = None) -> tuple[Floats, Floats]:
        """Values and slopes, each (n,), at `places`, (n,).

        `near`, (n,), picks the row: at a place where two rows meet, it says which is asked.
        """
        x = np.asarray(places, dtype=np.float64)
        pick = x if near is None else np.asarray(near, dtype=np.float64)
        index = np.searchsorted(self.rows[:, 0], pick, side="right") - 1
        x0, x1, v0, m0, v1, m1 = self.rows[np.clip(index, 0, len(self.rows) - 1)].T
        h = x1 - x0
        t = np.clip((x - x0) / h, 0.0, 1.0)
        s = 1.0 - t
        value = s * s * (1 + 2 * t) * v0 + t * t * (3 - 2 * t) * v1
        value += h * s * t * (s * m0 - t * m1)
        slope = 6 * s * t * (v1 - v0) / h + s * (1 - 3 * t) * m0 + t * (3 * t - 2) * m1
        return value + slope * (x - np.clip(x, x0, x1)), slope

    def scaled(self, factor: float) -> Piecewise:
        """The same, every value times `factor`."""
        return Piecewise(self.rows * np.array([1.0, 1.0, factor, factor, factor, factor]))

    def backwards(self, whole: float) -> Piecewise:
        """The same seen from the other end of a length: what stood at x stands at whole - x."""
        x0, x1, v0, m0, v1, m1 = self.rows[::-1].T
        return Piecewise(np.column_stack([whole - x1, whole - x0, v1, -m1, v0, -m0]))

    def between(self, low: float, high: float) -> Piecewise:
        """The stretch from `low` to `high`, counted from `low` on."""
        inside = (self.breaks > low + SAME_POINT_MM) & (self.breaks < high - SAME_POINT_MM)
        inner = self.breaks[inside]
        return self._over(np.concatenate([[low], inner, [high]]), shift=low)

    def stretched(self, here: Floats, there: Floats) -> Piecewise:
        """The same where the places `here`, (k,) rising, have gone to `there`, (k,) rising."""
        # Rounding must not leave a stretch of no length beside a place that is moved.
        own = self.breaks[np.abs(self.breaks[:, None] - here).min(axis=1) > SAME_POINT_MM]
        breaks = np.sort(np.concatenate([own, here]))
        rows = self._over(breaks, shift=0.0).rows
        moved = np.interp(breaks, here, there)
        rate = np.diff(breaks) / np.diff(moved)
        x = np.column_stack([moved[:-1], moved[1:]])
        slopes = rows[:, [3, 5]] * rate[:, None]
        return Piecewise(np.column_stack([x, rows[:, 2], slopes[:, 0], rows[:, 4], slopes[:, 1]]))

    def _over(self, breaks: Floats, shift: float) -> Piecewise:
        low, high = breaks[:-1], breaks[1:]
        middle = (low + high) / 2
        v0, m0 = self.at(low, middle)
        v1, m1 = self.at(high, middle)
        return Piecewise(np.column_stack([low - shift, high - shift, v0, m0, v1, m1]))


def of_spline(spline: Spline) -> Piecewise:
    """A spline of plain numbers over its stations, as pieces."""
    x, v, m = spline.stations, spline.values, spline.slopes
    return Piecewise(np.column_stack([x[:-1], x[1:], v[:-1], m[:-1], v[1:], m[1:]]))
