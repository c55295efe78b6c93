"""Divide pieces along what is drawn already: a level, an internal line, an edge at a distance."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Name, PositiveMm
from wedgework.edits.cut import Through, cut_through
from wedgework.edits.drawn import the_line
from wedgework.edits.reaching import reaching_outline
from wedgework.edits.slits import without_double_darts
from wedgework.geometry.curve import Curve, Point, joined
from wedgework.geometry.offset import offset_ring
from wedgework.geometry.tolerances import DISPLACED_MM, SAME_STATION_MM
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Edge, Piece, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.levels import level_lines, shown_lines
from wedgework.pattern.lookup import piece_of, seams_of, the_edge, the_piece


class CutAlongLine(Edit, frozen=True, kw_only=True):
    """Cut a piece in two along a line drawn in it, which goes on straight to the outline."""

    line: Annotated[Id, Meta(description="internal line that becomes the seam")]

    def change(self, project: Project) -> Project:
        """EditRefused where something hangs on the line, or it does not cross its piece."""
        piece, line = the_line(project, self.line)
        for seam in seams_of(project, line.id):
            raise EditRefused(f"Seam “{seam.name or seam.id}” hangs on this line.", culprit=seam.id)
        cut = reaching_outline(without_double_darts(project, piece), line.curve)
        if line.level is None:
            piece = replace(piece, lines=tuple(one for one in piece.lines if one is not line))
            project = with_pieces(project, piece)
        return cut_through(project, piece, cut)


class CutAlongLevel(Edit, frozen=True, kw_only=True):
    """Cut pieces in two along a level."""

    level: Annotated[Id, Meta(description="level along which they are cut")]
    pieces: Annotated[
        tuple[Id, ...], Meta(description="pieces that are cut; all that it crosses if left out")
    ] = ()

    def change(self, project: Project) -> Project:
        """EditRefused where the level does not cross a piece, or crosses it in several lines."""
        if self.level not in project.levels:
            raise EditRefused(f"There is no level “{self.level}”.", culprit=self.level)
        crossed = [own for own, piece in project.pieces.items() if level_lines(piece, self.level)]
        if not (self.pieces or crossed):
            raise EditRefused(f"Level “{self.level}” crosses no piece.", culprit=self.level)
        for own in dict.fromkeys(self.pieces or crossed):
            piece = the_piece(project, own)
            project = cut_through(project, piece, self._way(without_double_darts(project, piece)))
        return project

    def _way(self, piece: Piece) -> Through:
        lines = level_lines(piece, self.level)
        shown = [curve for line in lines for curve in shown_lines(piece, line)]
        chain = _chained(shown)
        if chain is None:
            how = "does not cross" if not shown else "crosses in several places"
            raise EditRefused(
                f"Level “{self.level}” {how} piece “{piece.name or piece.id}”.", culprit=piece.id
            )
        return reaching_outline(piece, chain)


def _chained(curves: list[Curve]) -> Curve | None:
    """Curves that follow each other end to start as one; None where they do not."""
    if not curves:
        return None
    chain, rest = curves[0], curves[1:]
    while rest:
        met = next((one for one in rest if _gap(chain.end, one.start) <= SAME_STATION_MM), None)
        if met is not None:
            chain = joined(chain, met)
        else:
            met = next((one for one in rest if _gap(one.end, chain.start) <= SAME_STATION_MM), None)
            if met is None:
                return None
            chain = joined(met, chain)
        rest.remove(met)
    return chain


def _gap(one: Point, other: Point) -> float:
    return float(np.hypot(*(one - other)))


class CutOffset(Edit, frozen=True, kw_only=True):
    """Cut a strip off along edges, at one distance from them: a yoke, a band, a border."""

    edges: Annotated[
        tuple[Id, ...], Meta(min_length=1, description="edges that follow each other in one piece")
    ]
    mm: Annotated[PositiveMm, Meta(description="how wide the strip is")]
    name: Annotated[Name, Meta(description="what the strip is called")] = ""

    def change(self, project: Project) -> Project:
        """EditRefused where the edges do not follow each other, or there is no room."""
        piece = piece_of(project, self.edges[0])
        run = in_one_row(project, piece, self.edges)
        way = moved_inside(piece, run, self.mm)
        return cut_through(
            project,
            piece,
            reaching_outline(without_double_darts(project, piece), way),
            ("", self.name),
        )


def moved_inside(piece: Piece, run: list[Edge], by_mm: float) -> Curve:
    """Edges that follow each other, moved into their piece and met at their corners, as one curve.

    EditRefused where the piece has no room for that.
    """
    own = {edge.id for edge in run}
    distances = [-by_mm if edge.id in own else 0.0 for edge in piece.edges]
    rings = offset_ring([edge.curve for edge in piece.edges], distances, DISPLACED_MM)
    stretches = [] if len(rings) != 1 else rings[0]
    kept = [piece.edges[one.edge].id in own for one in stretches]
    starts = [i for i, is_own in enumerate(kept) if is_own and not kept[i - 1]]
    if len(starts) != 1:
        raise EditRefused(
            f"Piece “{piece.name or piece.id}” is too narrow for a strip of {by_mm:.1f} mm.",
            culprit=run[0].id,
        )
    count = sum(kept)
    turned = stretches[starts[0] :] + stretches[: starts[0]]
    return joined(*(one.curve for one in turned[:count]))


def in_one_row(project: Project, piece: Piece, edges: tuple[str, ...]) -> list[Edge]:
    """Edges of the outline of one piece in its order; EditRefused where one is missing between."""
    wanted = {the_edge(project, own).id for own in edges}
    ring = list(piece.edges)
    if not wanted <= {edge.id for edge in ring}:
        raise EditRefused("The edges must all be of the outline of one piece.", culprit=edges[-1])
    starts = [
        index
        for index, edge in enumerate(ring)
        if edge.id in wanted and ring[index - 1].id not in wanted
    ]
    if len(starts) != 1:
        raise EditRefused(
            "The edges must follow each other, and not go all round the piece.", culprit=edges[0]
        )
    turned = ring[starts[0] :] + ring[: starts[0]]
    return turned[: len(wanted)]
