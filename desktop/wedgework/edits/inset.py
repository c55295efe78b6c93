"""Move edges inwards: takes an allowance off that was drawn as part of the piece."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, NotNegativeMm
from wedgework.edits.edges import refuse_fold_edge
from wedgework.edits.settings import Edges
from wedgework.edits.sideways import with_edges_moved
from wedgework.geometry.length import length_mm
from wedgework.geometry.piecewise import Piecewise
from wedgework.pattern.document import Project
from wedgework.pattern.lookup import piece_of, the_edge


class InsetEdges(Edit, frozen=True, kw_only=True):
    """Move edges inwards by one distance; their neighbours are cut off or go on to meet them."""

    edges: Edges
    mm: Annotated[NotNegativeMm, Meta(description="how far inwards")]

    def change(self, project: Project) -> Project:
        """EditRefused where an edge would fold, or nothing would be left of a piece."""
        if self.mm == 0.0:
            for own in self.edges:
                the_edge(project, own)
            return project
        distances = {}
        for own in self.edges:
            edge = the_edge(project, own)
            refuse_fold_edge(piece_of(project, own), own, "moved inwards")
            whole_mm = length_mm(edge.curve)
            distances[own] = Piecewise(np.array([[0.0, whole_mm, self.mm, 0.0, self.mm, 0.0]]))
        return with_edges_moved(project, distances)
