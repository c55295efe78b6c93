"""A drawing cut into pages: which part of it lies on which sheet of paper, and where they meet.

Every page shows a window of the drawing, and neighbours overlap. They are joined along the middle
of the overlap, so a page has to carry what lies in its own cell, between the joins around it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from shapely import STRtree, box
from shapely.geometry.base import BaseGeometry

from wedgework.geometry.curve import Floats, Point

MARGIN_MM: Final = 12.0
"""Kept free around every page: what office printers cannot reach, and room for a line of text."""

OVERLAP_MM: Final = 12.0
"""Neighbouring pages both show a strip so wide, for the glue."""

MARKS_PER_SIDE: Final = 2
"""Page marks along each join: two fix a page against shift and turn."""

MOST_PAGES: Final = 2000

Cell = tuple[int, int]
"""Column from the left and row from the top, both from 0."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Tiles:
    """A grid of pages over a drawing.

    `origin` is the upper left corner, (2,) mm, of the first window; `window_mm` its width and
    height, `step_mm` from one window to the next. `cells` are the pages that carry something,
    row by row.
    """

    origin: Point
    window_mm: tuple[float, float]
    columns: int
    rows: int
    cells: tuple[Cell, ...]

    @property
    def step_mm(self) -> tuple[float, float]:
        """From one window to the next, across and down."""
        return self.window_mm[0] - OVERLAP_MM, self.window_mm[1] - OVERLAP_MM

    def corner(self, cell: Cell) -> Point:
        """Lower left corner, (2,) mm in the drawing, of a page's window."""
        step, column, row = self.step_mm, *cell
        down = row * step[1] + self.window_mm[1]
        return np.asarray(self.origin + np.array([column * step[0], -down]))

    def bounds(self, cell: Cell) -> tuple[float, float, float, float]:
        """Least x and y, greatest x and y of a page's own cell, between the joins around it."""
        x, y = self.corner(cell).tolist()
        half, (width, height), (column, row) = OVERLAP_MM / 2, self.window_mm, cell
        return (
            x + half * (column > 0),
            y + half * (row < self.rows - 1),
            x + width - half * (column < self.columns - 1),
            y + height - half * (row > 0),
        )

    def page_name(self, cell: Cell) -> str:
        """`A1` for the first column and row, `AA1` for the 27th column."""
        letters, number = "", cell[0] + 1
        while number:
            number, rest = divmod(number - 1, 26)
            letters = chr(ord("A") + rest) + letters
        return f"{letters}{cell[1] + 1}"

    def joins(self, cell: Cell) -> Iterator[Join]:
        """The sides where a page meets another one that is printed."""
        x0, y0, x1, y1 = self.bounds(cell)
        column, row = cell
        printed = set(self.cells)
        # Words along an upright join are read from the right, so the right of it is below them.
        for to, start, end, reading_deg, above in (
            ((column - 1, row), (x0, y1), (x0, y0), 90.0, False),
            ((column + 1, row), (x1, y1), (x1, y0), 90.0, True),
            ((column, row - 1), (x0, y1), (x1, y1), 0.0, False),
            ((column, row + 1), (x0, y0), (x1, y0), 0.0, True),
        ):
            if to in printed:
                yield Join(
                    to=to,
                    start=np.array(start),
                    end=np.array(end),
                    reading_deg=reading_deg,
                    above=above,
                )


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Join:
    """The line in the drawing where a page meets the page `to`; alike seen from both of them.

    `start` and `end` are (2,) mm: from the left to the right, or from the top down. Words along
    it are turned by `reading_deg`, and this page then lies above the line or below.
    """

    to: Cell
    start: Point
    end: Point
    reading_deg: float
    above: bool

    def baseline_mm(self, height_mm: float) -> float:
        """Where words of this size stand on this page's side, measured up from the line."""
        return 0.5 * height_mm if self.above else -1.2 * height_mm

    def marks(self) -> list[Point]:
        """Where the page marks stand, each (2,) mm."""
        shares = (np.arange(MARKS_PER_SIDE) + 0.5) / MARKS_PER_SIDE
        return [self.start + share * (self.end - self.start) for share in shares]


def tiles_over(
    bounds_mm: Floats, paper_mm: tuple[float, float], shapes: Sequence[BaseGeometry]
) -> Tiles:
    """The grid of pages of this paper over a drawing of these bounds, (4,) mm.

    Only cells that one of `shapes` touches are pages; the drawing stands in the middle of the
    grid. Raises ValueError where that would be more than MOST_PAGES.
    """
    window = (paper_mm[0] - 2 * MARGIN_MM, paper_mm[1] - 2 * MARGIN_MM)
    size = bounds_mm[2:] - bounds_mm[:2]
    columns, rows = (_count(side, along) for side, along in zip(size, window, strict=True))
    if columns * rows > MOST_PAGES:
        raise ValueError(f"{columns * rows} pages are too many")
    whole = np.array([_whole(columns, window[0]), _whole(rows, window[1])])
    spare = (whole - size) / 2
    origin = np.array([bounds_mm[0] - spare[0], bounds_mm[3] + spare[1]])
    every = tuple((column, row) for row in range(rows) for column in range(columns))
    tiles = Tiles(origin=origin, window_mm=window, columns=columns, rows=rows, cells=every)
    hit = STRtree(shapes).query([box(*tiles.bounds(cell)) for cell in every], "intersects")[0]
    cells = tuple(every[index] for index in np.unique(hit))
    return Tiles(origin=origin, window_mm=window, columns=columns, rows=rows, cells=cells)


def _count(side_mm: float, window_mm: float) -> int:
    return max(math.ceil((side_mm - OVERLAP_MM) / (window_mm - OVERLAP_MM)), 1)


def _whole(count: int, window_mm: float) -> float:
    return count * (window_mm - OVERLAP_MM) + OVERLAP_MM
