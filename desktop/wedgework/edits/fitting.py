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
from wedgework.geometry.length import measure_all
from wedgework.geometry.tolerances import SAME_STATION_MM, STATION_MM
from wedgework.geometry.turning import end_tangent, start_tangent
from wedgework.pattern.document import CornerId, Edge, EdgeId, Project, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import around_corner, piece_of

ROUNDS: Final = 30
"""Steps towards the corner's place at the most; some six are enough where there is one."""

MOST_MOVED: Final = 8.0
"""A corner that has to go further than this for a difference has edges too much in one line."""

TRIED_MM: Final = 1e-3
"""A step so small shows how lengths grow to some 1e-5 of it, and is far above their rounding."""

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
    curves = drawn = (edges[0].curve, edges[1].curve)
    lengths = measure_all(curves)
    slope = counts @ _growth(*curves)
    shift, left = np.zeros(2), over
    most = MOST_MOVED * float(np.abs(over).sum())
    for _ in range(ROUNDS):
        if np.abs(left).max() <= STATION_MM:
            break
        step = -_solved(slope, left)
        shift = shift + step
        if not np.hypot(*shift) <= most:
            raise _no_place()
        drawn = _drawn(curves, curves[1].start + shift)
        left = over + counts @ (_left_of(drawn) - lengths)
        slope = slope + np.outer(left, step) / (step @ step)
    if np.abs(left).max() >= SAME_STATION_MM / 2:
        raise _no_place()
    return replace(edges[0], curve=drawn[0]), replace(edges[1], curve=drawn[1])


def _growth(before: Curve, after: Curve) -> Floats:
    """By how much each of two edges grows as their corner moves, (2, 2): a row an edge.

    Tried out, since the handle of a curved edge goes along; Broyden's method goes on from there.
    """
    one, other = end_tangent(before), start_tangent(after)
    if abs(one[0] * other[1] - one[1] * other[0]) < 1.0 / MOST_MOVED:
        raise _no_place()
    tried = [_drawn((before, after), after.start + step) for step in TRIED_MM * np.eye(2)]
    lengths = measure_all([before, after, *tried[0], *tried[1]]).reshape(3, 2)
    return np.asarray((lengths[1:] - lengths[0]).T / TRIED_MM)


def _solved(slope: Floats, left: Floats) -> Floats:
    try:
        return np.asarray(np.linalg.solve(slope, left))
    except np.linalg.LinAlgError:
        raise _no_place() from None


def _no_place() -> EditRefused:
    return EditRefused("The corner where its edges meet finds no place that suits both seams.")


def _drawn(curves: tuple[Curve, Curve], point: Floats) -> tuple[Curve, Curve]:
    return end_moved(curves[0], point), start_moved(curves[1], point)


def _left_of(curves: tuple[Curve, Curve]) -> Floats:
    """Both lengths in mm; refused where an edge has none left."""
    lengths = measure_all(curves)
    if lengths.min() <= SAME_STATION_MM:
        raise _no_place()
    return lengths
