"""Move the corner where the edges of two seams meet, so that both seams agree."""

from __future__ import annotations

from dataclasses import replace
from typing import Final, TypeAlias

import numpy as np

from wedgework.edits.carry import with_edges_reshaped
from wedgework.edits.lengthening import over_mm
from wedgework.edits.sideways import refuse_unsound
from wedgework.geometry.curve import Curve, Floats
from wedgework.geometry.ends import end_moved, start_moved
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SAME_STATION_MM, STATION_MM
from wedgework.geometry.turning import end_tangent, start_tangent
from wedgework.pattern.document import CornerId, Edge, EdgeId, Project, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import around_corner, piece_of

ROUNDS: Final = 30
"""Steps towards the corner's place at the most; some six are enough where there is one."""

MOST_MOVED: Final = 8.0
"""A corner that has to go further than this for a difference has edges too much in one line."""

Seams: TypeAlias = tuple[Seam, Seam]


def with_corner_fitted(project: Project, seams: Seams, corner: CornerId) -> Project:
    """The project with one corner moved, so that two seams on its edges have no difference.

    EditRefused where there is no such place nearby.
    """
    piece = piece_of(project, corner)
    before, after = around_corner(piece, corner)
    over = np.array([over_mm(project, seam) for seam in seams])
    counts = np.array([[_walked_more(seam, one.id) for one in (before, after)] for seam in seams])
    drawn = _fitted((before, after), over, counts)
    fitted = with_edges_reshaped(project, piece, drawn)
    refuse_unsound(piece, fitted.pieces[piece.id])
    return fitted


def _walked_more(seam: Seam, edge: EdgeId) -> int:
    """How often run A walks an edge more than run B."""
    return sum(ref.edge == edge for ref in seam.a) - sum(ref.edge == edge for ref in seam.b)


def _fitted(edges: tuple[Edge, Edge], over: Floats, counts: Floats) -> tuple[Edge, Edge]:
    """Both edges with their common corner moved until `over`, (2,) mm, is gone.

    `counts`, (2, 2): by how much each seam's difference grows with each edge's length.
    """
    lengths = _lengths(edges)
    at = edges[1].curve.start
    # Broyden's method: a straight edge grows along itself, so its direction is a good first slope.
    slope = counts @ np.array([end_tangent(edges[0].curve), -start_tangent(edges[1].curve)])
    shift, left, drawn = np.zeros(2), over, edges
    most = MOST_MOVED * float(np.abs(over).sum())
    for _ in range(ROUNDS):
        if np.abs(left).max() <= STATION_MM:
            break
        step = -_solved(slope, left)
        if np.hypot(*(shift + step)) > most:
            raise _no_place()
        shift = shift + step
        drawn = _drawn(edges, at + shift)
        left = over + counts @ (_lengths(drawn) - lengths)
        slope = slope + np.outer(left, step) / (step @ step)
    if np.abs(left).max() >= SAME_STATION_MM / 2:
        raise _no_place()
    return drawn


def _solved(slope: Floats, left: Floats) -> Floats:
    try:
        return np.asarray(np.linalg.solve(slope, left))
    except np.linalg.LinAlgError:
        raise _no_place() from None


def _no_place() -> EditRefused:
    return EditRefused("The corner where its edges meet finds no place that suits both seams.")


def _lengths(edges: tuple[Edge, Edge]) -> Floats:
    return np.array([length_mm(edge.curve) for edge in edges])


def _drawn(edges: tuple[Edge, Edge], point: Floats) -> tuple[Edge, Edge]:
    before, after = edges
    return (
        replace(before, curve=_with_length_left(end_moved(before.curve, point))),
        replace(after, curve=_with_length_left(start_moved(after.curve, point))),
    )


def _with_length_left(curve: Curve) -> Curve:
    if length_mm(curve) <= SAME_STATION_MM:
        raise _no_place()
    return curve
