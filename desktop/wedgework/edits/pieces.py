"""Add and remove pieces, and say from which sheet they are cut."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Annotated, Literal

import msgspec
import numpy as np
from msgspec import Meta

from wedgework.edits.base import Degrees, Edit, Id, Name, NotNegativeMm, PointMm
from wedgework.edits.carry import Fate, carried
from wedgework.edits.move import stitched
from wedgework.edits.places import Naming
from wedgework.edits.seams import id_from, without_seam
from wedgework.geometry.curve import Curve
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Edge, Finish, Piece, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import seams_of, the_piece

CubicMm = tuple[PointMm, PointMm, PointMm, PointMm]


class EdgeData(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One edge of a new piece: the control points of its cubics, counter-clockwise."""

    cubics_mm: Annotated[
        tuple[CubicMm, ...], Meta(min_length=1, max_length=5000, description="control points")
    ]
    name: Name = ""
    finish: Finish = "open"
    allowance_mm: NotNegativeMm = 0.0


class AddPiece(Edit, frozen=True, kw_only=True):
    """Put a new piece on the table, its outline given edge by edge."""

    name: Annotated[Name, Meta(min_length=1, description="what it is called")]
    edges: Annotated[
        tuple[EdgeData, ...], Meta(min_length=1, description="its outline, counter-clockwise")
    ]

    def change(self, project: Project) -> Project:
        """EditRefused where the outline does not close or runs clockwise."""
        naming = Naming(project)
        own = naming.fresh(id_from(self.name, "piece"))
        rows = [_edge_of(data, own, number, naming) for number, data in enumerate(self.edges, 1)]
        for index, edge in enumerate(rows):
            gap_mm = float(np.hypot(*(edge.curve.start - rows[index - 1].curve.end)))
            if gap_mm > SAME_STATION_MM:
                raise EditRefused(f"Edge {index + 1} starts {gap_mm:.3f} mm from the one before.")
        edges = stitched(rows)
        if ring_area_mm2([edge.curve for edge in edges]) <= 0:
            raise EditRefused("The outline must run counter-clockwise and hold something.")
        return with_pieces(project, Piece(id=own, name=self.name, edges=edges))


def _edge_of(data: EdgeData, piece: str, number: int, naming: Naming) -> Edge:
    try:
        curve = Curve(np.array(data.cubics_mm))
    except ValueError as error:
        raise EditRefused(f"Edge {number} is no chain of cubics: {error}.") from None
    return Edge(
        id=naming.fresh(f"{piece}.e{number}"),
        corner=naming.fresh(f"{piece}.c{number}"),
        name=data.name,
        curve=curve,
        finish=data.finish,
        allowance_mm=data.allowance_mm,
    )


class RemovePiece(Edit, frozen=True, kw_only=True):
    """Take a piece away; seams that have no edge left on one side go with it."""

    piece: Annotated[Id, Meta(description="piece")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such piece."""
        piece = the_piece(project, self.piece)
        own = {*piece.own_ids()}
        seams = {seam.id: seam for one in own for seam in seams_of(project, one)}
        after = project
        for seam in seams.values():
            if not all(any(ref.edge not in own for ref in run) for run in (seam.a, seam.b)):
                after = without_seam(after, seam)
        after = carried(after, {edge.id: Fate() for edge in piece.all_edges()})
        return with_pieces(after, removed=[piece.id])


class CutFrom(Edit, frozen=True, kw_only=True):
    """Say from which sheet pieces are cut, how many, and how they may lie on it."""

    pieces: Annotated[tuple[Id, ...], Meta(min_length=1, description="pieces")]
    sheet: Annotated[Id, Meta(description="sheet that they are cut from")]
    quantity: Annotated[int, Meta(ge=1, le=10_000, description="how many of each")] = 1
    turns_deg: Annotated[
        tuple[Degrees, ...] | Literal["any"], Meta(description="turns in which they may lie")
    ] = "any"

    def change(self, project: Project) -> Project:
        """EditRefused where a piece or the sheet is not there, or no turn is allowed."""
        if self.sheet not in project.sheets:
            raise EditRefused(f"There is no sheet “{self.sheet}”.", culprit=self.sheet)
        if self.turns_deg == ():
            raise EditRefused("Allow at least one turn, or “any”.")
        turns = None if self.turns_deg == "any" else tuple(map(math.radians, self.turns_deg))
        rows = []
        for own in dict.fromkeys(self.pieces):
            piece = the_piece(project, own)
            said = (self.sheet, self.quantity, turns)
            if said != (piece.sheet, piece.quantity, piece.turns_rad):
                rows.append(
                    replace(piece, sheet=self.sheet, quantity=self.quantity, turns_rad=turns)
                )
        return with_pieces(project, *rows) if rows else project
