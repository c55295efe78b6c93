"""Give a thing another name."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Any, Final

from msgspec import Meta

from wedgework.edits.base import Edit, Id, Name
from wedgework.pattern.changes import with_edges_replaced, with_pieces
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import edge_in, piece_of
from wedgework.pattern.table import Table

NAMED: Final = ("pieces", "seams", "levels", "sheets", "pins", "pictures", "openings", "bodies")
"""Tables of the project whose rows have names."""


class Rename(Edit, frozen=True, kw_only=True):
    """Call a thing something else: a piece, edge, line, label, seam, level, sheet or body."""

    id: Annotated[Id, Meta(description="thing that gets another name")]
    name: Annotated[Name, Meta(description="what it is called from now on")]

    def change(self, project: Project) -> Project:
        """EditRefused where nothing with a name has this id."""
        if _name_of(project, self.id) == self.name:
            return project
        for name in NAMED:
            table: Table[Any] = getattr(project, name)
            if self.id in table:
                row = replace(table[self.id], name=self.name)
                changed: dict[str, Any] = {name: table.with_rows({self.id: row})}
                return replace(project, **changed)
        return with_pieces(project, self._renamed_inside(piece_of(project, self.id)))

    def _renamed_inside(self, piece: Piece) -> Piece:
        edge = edge_in(piece, self.id)
        if edge is not None:
            return with_edges_replaced(piece, {edge.id: replace(edge, name=self.name)})
        lines = tuple(
            replace(one, name=self.name) if one.id == self.id else one for one in piece.lines
        )
        labels = tuple(
            replace(one, text=self.name) if one.id == self.id else one for one in piece.labels
        )
        return replace(piece, lines=lines, labels=labels)


def _name_of(project: Project, own: str) -> str:
    """The name of what has this id; EditRefused where that is nothing, or a thing without one."""
    for name in NAMED:
        if own in (table := getattr(project, name)):
            return str(table[own].name)
    named: dict[str, str] = {}
    piece = piece_of(project, own)
    named |= {edge.id: edge.name for edge in piece.all_edges()}
    named |= {line.id: line.name for line in piece.lines}
    named |= {label.id: label.text for label in piece.labels}
    if own not in named:
        raise EditRefused(f"“{own}” is a thing without a name.", culprit=own)
    return named[own]
