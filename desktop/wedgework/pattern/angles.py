"""Angles inside a piece, where two of its edges meet."""

from __future__ import annotations

import math

from wedgework.geometry.memo import memoised
from wedgework.geometry.turning import angle_between, end_tangent, start_tangent, turning_rad
from wedgework.pattern.document import CornerId, Edge, Piece
from wedgework.pattern.lookup import around_corner


@memoised
def angle_between_edges(before: Edge, after: Edge) -> float:
    """Angle inside the piece, [0, 2 pi] rad, from `after` round to `before`; over pi is hollow.

    Read from the end tangents, so it is exact; the piece lies on the left of both edges.
    """
    turn = angle_between(end_tangent(before.curve), start_tangent(after.curve))
    return math.pi - turn


def corner_angle(piece: Piece, corner: CornerId) -> float:
    """Angle inside the piece at a corner, [0, 2 pi] rad; EditRefused if it has no such corner."""
    return angle_between_edges(*around_corner(piece, corner))


@memoised
def edge_turning(edge: Edge) -> float:
    """Turning of an edge's tangent in rad, left (convex, seen from the piece) positive."""
    return turning_rad(edge.curve)
