"""Where notches, holes and holds stand on the table, found once for each mark and edge."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from wedgework.geometry.curve import Floats
from wedgework.geometry.length import derivatives, parameters_at, points_at_parameters
from wedgework.geometry.memo import memoised
from wedgework.pattern.document import (
    Edge,
    EdgeId,
    Hold,
    HoldKind,
    Hole,
    Notch,
    Piece,
    Project,
    Seam,
)
from wedgework.pattern.lookup import holds_by_seam, holes_by_edge, notches_by_edge
from wedgework.pattern.table import Table

Mark = Notch | Hole


@memoised
def place_of(mark: Mark, edge: Edge) -> tuple[Floats, Floats]:
    """Point, (2,) mm, and unit vector into the piece, (2,), of a mark on one of its edges."""
    spots = (mark.at, mark.mate)
    at_mm = next(spot.at_mm for spot in spots if spot is not None and spot.edge == edge.id)
    return place_at(edge, at_mm)


def place_at(edge: Edge, at_mm: float) -> tuple[Floats, Floats]:
    """Point, (2,) mm, and unit vector into the piece, (2,), at a distance along an edge."""
    parameter = parameters_at(edge.curve, [at_mm])
    point = points_at_parameters(edge.curve, parameter)[0]
    index = min(int(parameter[0]), len(edge.curve) - 1)
    along = derivatives(edge.curve.segments[index : index + 1], parameter - index)[0]
    size = float(np.hypot(*along)) or 1.0
    return point, np.array([-along[1], along[0]]) / size


def notches_on(project: Project, piece: Piece) -> Iterator[tuple[Notch, Edge]]:
    """Each notch of a piece with the edge that it is on."""
    index = notches_by_edge(project.notches)
    if index:
        for edge in piece.all_edges():
            yield from ((notch, edge) for notch in index.get(edge.id, ()))


def holes_on(project: Project, piece: Piece) -> Iterator[tuple[Hole, Edge]]:
    """Each hole of a piece with the edge that it is on."""
    index = holes_by_edge(project.holes)
    if index:
        for edge in piece.all_edges():
            yield from ((hole, edge) for hole in index.get(edge.id, ()))


def holds_on(project: Project, piece: Piece) -> Iterator[tuple[Floats, HoldKind]]:
    """Where a piece shows that a seam is held, (2,) mm, and how it is held."""
    if project.holds:
        index = _shown_on(project.holds, project.seams)
        for edge in piece.all_edges():
            yield from ((middle_of(edge), kind) for kind in index.get(edge.id, ()))


@memoised
def _shown_on(holds: Table[Hold], seams: Table[Seam]) -> dict[EdgeId, tuple[HoldKind, ...]]:
    """The edge in the middle of each side of each held seam."""
    rows: dict[EdgeId, tuple[HoldKind, ...]] = {}
    for key, hold in holds_by_seam(holds).items():
        for run in (seams[key].a, seams[key].b):
            edge = run[len(run) // 2].edge
            rows[edge] = (*rows.get(edge, ()), hold.kind)
    return rows


@memoised
def middle_of(edge: Edge) -> Floats:
    """A point about the middle of an edge, (2,) mm, by parameter: each frame of a drag asks."""
    return np.asarray(points_at_parameters(edge.curve, np.array([len(edge.curve) / 2]))[0])
