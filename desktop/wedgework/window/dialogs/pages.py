"""How many pages a pattern on paper takes, and where they lie: as the writer makes them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from wedgework.files.roll import placed_on_roll
from wedgework.files.sketches import Sketch, bounds_of_sketches, sketches_of
from wedgework.files.tiles import MARGIN_MM, MOST_PAGES, tiles_over
from wedgework.geometry.curve import Floats
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused
from wedgework.units import Roll, paper_mm


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Pages:
    """`count` pages with pieces on them, the page map not counted.

    `boxes`, (n, 4) mm, are their own parts of the table.
    """

    count: int
    boxes: Floats
    is_roll: bool = False


class Paginator:
    """Counts the pages of one project on any paper; its pieces are drawn only once."""

    def __init__(self, project: Project) -> None:
        self._project = project
        self._sketches: list[Sketch] | None = None
        self._known: dict[str, Pages] = {}

    def pages(self, paper: str) -> Pages:
        """The pages on `paper` as `units.paper_mm` reads it.

        FileRefused where there are no pieces, a piece is too wide for the roll or there would be
        too many pages; NotUnderstood where the text names no paper.
        """
        if paper not in self._known:
            self._known[paper] = self._counted(paper)
        return self._known[paper]

    def _counted(self, paper: str) -> Pages:
        size = paper_mm(paper)
        if self._sketches is None:
            self._sketches = sketches_of(self._project)
        sketches = self._sketches
        if not sketches:
            raise FileRefused("There are no pieces to draw yet.")
        if isinstance(size, Roll):
            placed_on_roll(sketches, size.width_mm - 2 * MARGIN_MM)
            return Pages(count=1, boxes=np.empty((0, 4)), is_roll=True)
        if min(size) <= 2 * MARGIN_MM + 1:
            raise FileRefused("Such paper has no room beside its margins.")
        shapes = [shape for one in sketches for shape in one.shapes]
        try:
            tiles = tiles_over(bounds_of_sketches(sketches), size, shapes)
        except ValueError:
            raise FileRefused(f"That would be more than {MOST_PAGES} pages.") from None
        boxes = np.array([tiles.bounds(cell) for cell in tiles.cells]).reshape(-1, 4)
        return Pages(count=len(tiles.cells), boxes=boxes)
