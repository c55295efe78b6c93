"""Which pieces lie where: boxes of all pieces in one array, so that a look costs no loop."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from wedgework.geometry.curve import Floats
from wedgework.pattern.document import Piece, PieceId, Project
from wedgework.window.table.art import art_of


class Scene:
    """The pieces that are shown. Rows keep the order of the document: later ones lie on top."""

    def __init__(self) -> None:
        self.project = Project()
        self._ids: list[PieceId] = []
        self._rows: dict[PieceId, int] = {}
        self._bounds: Floats = np.empty((0, 4))

    def show(self, project: Project, changed: Iterable[PieceId] | None = None) -> None:
        """Take over another project; boxes of `changed` pieces alone, if they are named."""
        before, self.project = self.project, project
        if before.pieces is project.pieces:
            return
        rows = None if changed is None else [self._rows.get(own) for own in changed]
        if rows is None or None in rows or len(project.pieces) != len(self._ids):
            self._start(list(project.pieces))
            return
        for own in changed or ():
            if own not in project.pieces:
                self._start(list(project.pieces))
                return
            self._bounds[self._rows[own]] = art_of(project.pieces[own]).bounds

    def _start(self, ids: list[PieceId]) -> None:
        self._ids = ids
        self._rows = {own: row for row, own in enumerate(ids)}
        boxes = [art_of(self.project.pieces[own]).bounds for own in ids]
        self._bounds = np.array(boxes).reshape(-1, 4)

    @property
    def bounds(self) -> Floats | None:
        """The box of all pieces, (4,) mm; None where there are none."""
        return self.bounds_of(self._ids)

    def bounds_of(self, pieces: list[PieceId]) -> Floats | None:
        """The box of some pieces, (4,) mm; None where none of them is there."""
        rows = [self._rows[own] for own in pieces if own in self._rows]
        if not rows:
            return None
        boxes = self._bounds[rows]
        return np.concatenate([boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)])

    def in_box(self, box: Floats) -> list[Piece]:
        """Pieces whose boxes meet a box, (4,) mm, in the order in which they are drawn."""
        if not self._ids:
            return []
        b = self._bounds
        meets = (
            (b[:, 0] <= box[2]) & (b[:, 2] >= box[0]) & (b[:, 1] <= box[3]) & (b[:, 3] >= box[1])
        )
        return [self.project.pieces[self._ids[row]] for row in np.flatnonzero(meets)]
