"""Move many things at once: whole pieces, and corners, edges, lines and labels in others."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Set
from dataclasses import dataclass, field, replace
from typing import Annotated

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, PointMm
from wedgework.edits.carry import with_edges_reshaped
from wedgework.edits.move import (
    moved_label,
    moved_line,
    moved_piece,
    refuse_vanished,
)
from wedgework.geometry.curve import Floats
from wedgework.geometry.ends import end_moved, start_moved
from wedgework.geometry.motion import Affine, moved, translation
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Edge, Piece, Project, Ring
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import edge_in, end_corner


@dataclass(eq=False, slots=True)
class _Inside:
    """What moves inside of a piece that stays."""

    corners: set[str] = field(default_factory=set)
    edges: set[str] = field(default_factory=set)
    drawn: set[str] = field(default_factory=set)


class MoveThings(Edit, frozen=True, kw_only=True):
    """Move several things by the same way at once; what a moved piece holds goes along once."""

    things: Annotated[
        tuple[Id, ...],
        Meta(min_length=1, description="pieces, corners, edges, internal lines and labels"),
    ]
    by_mm: Annotated[PointMm, Meta(description="how far, right and up")]

    def change(self, project: Project) -> Project:
        """EditRefused where one cannot be moved, or an edge would have no length left."""
        whole = [own for own in self.things if own in project.pieces]
        inside = _inside(project, (own for own in self.things if own not in project.pieces))
        if self.by_mm == (0.0, 0.0):
            return project
        motion = translation(self.by_mm)
        after = with_pieces(project, *(moved_piece(project.pieces[own], motion) for own in whole))
        for own, held in inside.items():
            if own not in whole:
                after = _with_moved(after, own, held, np.array(self.by_mm))
        return after


def _inside(project: Project, things: Iterable[str]) -> dict[str, _Inside]:
    found: defaultdict[str, _Inside] = defaultdict(_Inside)
    for own in things:
        owner = project.owners.get(own)
        if owner is None:
            raise EditRefused(f"“{own}” is nothing that can be moved so.", culprit=own)
        _sort_in(found[owner], project.pieces[owner], own)
    return found


def _sort_in(held: _Inside, piece: Piece, own: str) -> None:
    edge = edge_in(piece, own)
    if edge is not None:
        held.edges.add(own)
        held.corners |= {edge.corner, end_corner(piece, own)}
    elif any(one.corner == own for one in piece.all_edges()):
        held.corners.add(own)
    elif any(line.id == own and line.level is not None for line in piece.lines):
        raise EditRefused("A level lies at one height of the body on every piece.", culprit=own)
    elif any(cutout.id == own for cutout in piece.cutouts):
        edges = next(cutout.edges for cutout in piece.cutouts if cutout.id == own)
        held.edges |= {one.id for one in edges}
        held.corners |= {one.corner for one in edges}
    else:
        held.drawn.add(own)


def _with_moved(project: Project, own: str, held: _Inside, by_mm: Floats) -> Project:
    edges = [edge for ring in _rings(project.pieces[own]) for edge in _moved(ring, held, by_mm)]
    if edges:
        refuse_vanished(edges)
        project = with_edges_reshaped(project, project.pieces[own], edges)
    if held.drawn:
        drawn = _with_drawn_moved(project.pieces[own], held.drawn, translation(by_mm))
        project = with_pieces(project, drawn)
    return project


def _rings(piece: Piece) -> Iterator[Ring]:
    yield piece.edges
    yield from (cutout.edges for cutout in piece.cutouts)


def _moved(ring: Ring, held: _Inside, by_mm: Floats) -> Iterator[Edge]:
    """Edges of a ring that get another curve; one whose ends both move goes as it is.

    Both neighbours of a corner reckon its new place from the same number, so they share it.
    """
    for edge, after in zip(ring, (*ring[1:], ring[0]), strict=True):
        starts, ends = edge.corner in held.corners, after.corner in held.corners
        is_whole = starts and ends and (edge.id in held.edges or edge is not after)
        curve = edge.curve
        if is_whole:
            yield replace(edge, curve=moved(curve, translation(by_mm)))
        elif starts and ends:
            bent = start_moved(curve, curve.start + by_mm)
            yield replace(edge, curve=end_moved(bent, curve.end + by_mm))
        elif starts:
            yield replace(edge, curve=start_moved(curve, curve.start + by_mm))
        elif ends:
            yield replace(edge, curve=end_moved(curve, curve.end + by_mm))


def _with_drawn_moved(piece: Piece, drawn: Set[str], motion: Affine) -> Piece:
    lines = (moved_line(one, motion) if one.id in drawn else one for one in piece.lines)
    labels = (moved_label(one, motion) if one.id in drawn else one for one in piece.labels)
    return replace(piece, lines=tuple(lines), labels=tuple(labels))
