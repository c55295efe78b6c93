"""Natural and clamped cubic splines: values over stations, joined with one curvature."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.curve import Floats


@dataclass(frozen=True, eq=False, slots=True)
class Spline:
    """A cubic spline: `values` and `slopes`, (n,) or (n, k), at rising `stations`, (n,)."""

    stations: Floats
    values: Floats
    slopes: Floats

    def value(self, at: ArrayLike) -> Floats:
        """Values at `at`, (m,) or one number; beyond the ends it goes on straight."""
        index, t, width = self._where(at)
        s = 1.0 - t
        first, last = self.values[index], self.values[index + 1]
        rise, fall = self.slopes[index] * width, self.slopes[index + 1] * width
        inside = (
            s * s * (1 + 2 * t) * first + t * t * (1 + 2 * s) * last + s * t * (s * rise - t * fall)
        )
        return np.asarray(inside + self._beyond(at))

    def slope(self, at: ArrayLike) -> Floats:
        """Slopes at `at`, (m,) or one number."""
        index, t, width = self._where(at)
        s = 1.0 - t
        step = (self.values[index + 1] - self.values[index]) / width
        bend = s * (s - 2 * t) * self.slopes[index] + t * (t - 2 * s) * self.slopes[index + 1]
        return np.asarray(6 * s * t * step + bend)

    def _where(self, at: ArrayLike) -> tuple[np.ndarray, Floats, Floats]:
        place = np.clip(np.asarray(at, dtype=np.float64), self.stations[0], self.stations[-1])
        last = len(self.stations) - 2
        index = np.clip(np.searchsorted(self.stations, place, side="right") - 1, 0, last)
        width = self.stations[index + 1] - self.stations[index]
        t = (place - self.stations[index]) / width
        return (
            (index, t, width) if self.values.ndim == 1 else (index, t[..., None], width[..., None])
        )

    def _beyond(self, at: ArrayLike) -> Floats:
        place = np.asarray(at, dtype=np.float64)
        before = np.minimum(place - self.stations[0], 0.0)
        after = np.maximum(place - self.stations[-1], 0.0)
        if self.values.ndim > 1:
            before, after = before[..., None], after[..., None]
        return np.asarray(before * self.slopes[0] + after * self.slopes[-1])


def natural_spline(stations: ArrayLike, values: ArrayLike) -> Spline:
    """The natural cubic spline of `values`, (n,), over rising `stations`, (n,); two: a straight.

    Raises ValueError unless there are two stations or more and they rise.
    """
    return clamped_spline(stations, values, None, None)


def clamped_spline(
    stations: ArrayLike,
    values: ArrayLike,
    start_slope: ArrayLike | None,
    end_slope: ArrayLike | None,
) -> Spline:
    """The spline through `values`, (n,) or (n, k), with the slopes asked for at its ends.

    An end without a slope is natural: it does not bend there. Source: de Boor, A Practical
    Guide to Splines, chapter IV.
    """
    x = np.array(stations, dtype=np.float64)
    y = np.array(values, dtype=np.float64)
    if len(x) < 2 or len(x) != len(y) or not (np.diff(x) > 0).all():
        raise ValueError("a spline needs two or more values over rising stations")
    width = np.diff(x)
    column = width.reshape(-1, *[1] * (y.ndim - 1))
    step = np.diff(y, axis=0) / column
    lower, main, upper = np.ones(len(x)), np.full(len(x), 2.0), np.ones(len(x))
    right = np.empty_like(y)
    right[0], right[-1] = 3 * step[0], 3 * step[-1]
    # Equal second derivatives at an inner station; at a natural end that derivative is nothing.
    lower[1:-1], upper[1:-1] = width[1:], width[:-1]
    main[1:-1] = 2 * (width[1:] + width[:-1])
    right[1:-1] = 3 * (column[1:] * step[:-1] + column[:-1] * step[1:])
    for end, slope in ((0, start_slope), (-1, end_slope)):
        if slope is not None:
            main[end], right[end] = 1.0, np.asarray(slope, dtype=np.float64)
            (upper if end == 0 else lower)[end] = 0.0
    return Spline(x, y, _tridiagonal(lower, main, upper, right))


def _tridiagonal(lower: Floats, main: Floats, upper: Floats, right: Floats) -> Floats:
    """Solve a diagonally dominant tridiagonal system (Thomas); `right` is (n,) or (n, k)."""
    ratio = np.empty(len(main))
    out = np.array(right)
    pivot = main[0]
    for row in range(len(main)):
        if row:
            ratio[row - 1] = upper[row - 1] / pivot
            pivot = main[row] - lower[row] * ratio[row - 1]
            out[row] -= lower[row] * out[row - 1]
        out[row] /= pivot
    for row in range(len(main) - 2, -1, -1):
        out[row] -= ratio[row] * out[row + 1]
    return out
