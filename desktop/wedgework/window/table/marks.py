"""Where notches and holes stand on the table, found once for each mark and edge."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from wedgework.geometry.curve import Floats
from wedgework.geometry.length import derivatives, parameters_at, points_at_parameters
from wedgework.geometry.memo import memoised
from wedgework.pattern.document import Edge, Hole, Notch, Piece, Project
from wedgework.pattern.lookup import holes_by_edge, notches_by_edge

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
