"""Give a thing another name."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from msgspec import Meta

from wedgework.edits.base import Edit, Id, Name
from wedgework.pattern.changes import with_edges_replaced, with_pieces, with_seams
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import edge_in


class Rename(Edit, frozen=True, kw_only=True):
    """Call a piece, edge, line, label, seam, level or sheet something else; its id stays."""

    id: Annotated[Id, Meta(description="thing that gets another name")]
    name: Annotated[Name, Meta(description="what it is called from now on")]

    def change(self, project: Project) -> Project:
        """EditRefused where nothing with a name has this id."""
        if self.id in project.pieces:
            return with_pieces(project, replace(project.pieces[self.id], name=self.name))
        if self.id in project.seams:
            seam = replace(project.seams[self.id], name=self.name)
            return with_seams(project, seam)
        if self.id in project.levels:
            level = replace(project.levels[self.id], name=self.name)
            return replace(project, levels=project.levels.with_rows({self.id: level}))
        if self.id in project.sheets:
            sheet = replace(project.sheets[self.id], name=self.name)
            return replace(project, sheets=project.sheets.with_rows({self.id: sheet}))
        if self.id in project.owners:
            piece = project.pieces[project.owners[self.id]]
            return with_pieces(project, self._renamed_inside(piece))
        raise EditRefused(f"There is no “{self.id}” in this project.", culprit=self.id)

    def _renamed_inside(self, piece: Piece) -> Piece:
        edge = edge_in(piece, self.id)
        if edge is not None:
            return with_edges_replaced(piece, {edge.id: replace(edge, name=self.name)})
        for index, line in enumerate(piece.lines):
            if line.id == self.id:
                lines = list(piece.lines)
                lines[index] = replace(line, name=self.name)
                return replace(piece, lines=tuple(lines))
        for index, label in enumerate(piece.labels):
            if label.id == self.id:
                labels = list(piece.labels)
                labels[index] = replace(label, text=self.name)
                return replace(piece, labels=tuple(labels))
        raise EditRefused(f"“{self.id}” is a thing without a name.", culprit=self.id)
