"""A slice that is being set: stations of a seam with their widths, before it becomes an edit.

Plain values without a window: the panel, the grips on the unrolled seam and the tests share them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, TypeAlias

import numpy as np

from wedgework.edits.shape import IntakeStation, ShapeSeam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.intake import Station, width_along

Row: TypeAlias = tuple[float, float]
"""Along side A and intake there, both in mm."""

APART_MM: Final = 1.0
"""Stations set by hand keep this distance from each other: nearer ones cannot be told apart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slice:
    """Stations in the order of the seam, `whole_mm` along A, and how both sides share in it."""

    whole_mm: float
    rows: tuple[Row, ...] = ()
    share_a: float = 0.5
    round_mm: float = 0.0
    then_true: bool = True

    def edit(self, seam: str) -> ShapeSeam:
        """The edit that gives a seam this slice."""
        return ShapeSeam(
            seam=seam,
            intake=tuple(IntakeStation(at_mm, width_mm) for at_mm, width_mm in self.rows),
            share_a=self.share_a,
            then_true=self.then_true,
            round_mm=self.round_mm,
        )

    @property
    def is_nothing(self) -> bool:
        """Whether no station takes anything out or puts anything in."""
        return not any(width_mm for _, width_mm in self.rows)

    def width_at(self, at_mm: float) -> float:
        """How wide the slice is at a place, in mm; by straight lines where it is no slice yet."""
        if not self.rows:
            return 0.0
        stations = [Station(*row) for row in self.rows]
        try:
            width = width_along(stations, self.whole_mm)
        except EditRefused:
            return float(np.interp(at_mm, *np.array(self.rows).T))
        values, _ = width.at([at_mm])
        return float(values[0])

    def with_row(self, at_mm: float, width_mm: float | None = None) -> Slice:
        """With one more station, by itself as wide as the slice is there.

        The same slice where a station stands there already.
        """
        at_mm = min(max(at_mm, 0.0), self.whole_mm)
        if any(abs(at_mm - other_mm) < APART_MM for other_mm, _ in self.rows):
            return self
        width = round(self.width_at(at_mm), 2) if width_mm is None else width_mm
        return self._sorted([*self.rows, (at_mm, width)])

    def without_row(self, index: int) -> Slice:
        """Without a station."""
        return replace(self, rows=(*self.rows[:index], *self.rows[index + 1 :]))

    def widened(self, index: int, width_mm: float) -> Slice:
        """With another width at a station."""
        return self._with(index, (self.rows[index][0], width_mm))

    def moved(self, index: int, at_mm: float) -> Slice:
        """With a station elsewhere; typed, it may pass others."""
        return self._sorted(self._with(index, (at_mm, self.rows[index][1])).rows)

    def dragged(self, index: int, at_mm: float) -> Slice:
        """With a station elsewhere; under the hand it keeps its turn among the others."""
        low = self.rows[index - 1][0] + APART_MM if index else 0.0
        is_last = index == len(self.rows) - 1
        high = self.whole_mm if is_last else self.rows[index + 1][0] - APART_MM
        return self._with(index, (max(min(at_mm, high), low), self.rows[index][1]))

    def widest_gap_mm(self) -> float:
        """The middle of the longest stretch without a station."""
        places = sorted({0.0, self.whole_mm, *(at_mm for at_mm, _ in self.rows)})
        gap, start = max(
            ((after - before, before) for before, after in pairwise(places)),
            default=(self.whole_mm, 0.0),
        )
        return start + gap / 2

    def _with(self, index: int, row: Row) -> Slice:
        return replace(self, rows=(*self.rows[:index], row, *self.rows[index + 1 :]))

    def _sorted(self, rows: tuple[Row, ...] | list[Row]) -> Slice:
        return replace(self, rows=tuple(sorted(rows)))


def fresh(whole_mm: float) -> Slice:
    """A slice to begin with: nothing at both ends, and a station in the middle to be widened."""
    return Slice(whole_mm=whole_mm, rows=((0.0, 0.0), (whole_mm / 2, 0.0), (whole_mm, 0.0)))
