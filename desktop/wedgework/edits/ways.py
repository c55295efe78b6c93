"""Ways through a piece: a cut or a slash must run inside it from one place to the other."""

from __future__ import annotations

import numpy as np

from wedgework.geometry.crossing import crossings
from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.geometry.extent import bounds_mm
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.regions import contains_point
from wedgework.geometry.tolerances import ON_OUTLINE_MM, PROBE_MM
from wedgework.pattern.document import Piece
from wedgework.pattern.errors import EditRefused


def refuse_way_out(piece: Piece, way: Curve, called: str) -> None:
    """EditRefused unless `way` meets the piece's outline and cut-outs at its two ends at most.

    `called` is what the sentence calls it: “The cut”.
    """
    whole_mm = length_mm(way)
    box = bounds_mm(way)
    for edge in piece.all_edges():
        if _apart(box, bounds_mm(edge.curve)):
            continue
        stations = crossings(way, edge.curve)[:, 0]
        if ((stations > PROBE_MM) & (stations < whole_mm - PROBE_MM)).any():
            raise EditRefused(
                f"{called} would cross edge “{edge.name or edge.id}” on its way; it has to stay "
                "inside the piece.",
                culprit=edge.id,
            )
    if not strictly_inside(piece, point_at(way, whole_mm / 2)):
        raise EditRefused(
            f"{called} does not run inside piece “{piece.name or piece.id}”.", culprit=piece.id
        )


def strictly_inside(piece: Piece, point: Point) -> bool:
    """Whether a point lies inside the piece, not on its outline, and in none of its cut-outs."""
    box = np.concatenate([point, point])
    for edge in piece.all_edges():
        near = not _apart(box, bounds_mm(edge.curve))
        if near and nearest_foot(edge.curve, point).distance_mm <= ON_OUTLINE_MM:
            return False
    ring = [edge.curve for edge in piece.edges]
    holes = [[edge.curve for edge in cutout.edges] for cutout in piece.cutouts]
    return contains_point(ring, point, holes)


def _apart(one: Floats, other: Floats) -> bool:
    """Whether two boxes, (4,) mm, are further apart than what counts as one place."""
    gap = np.maximum(one[:2] - other[2:], other[:2] - one[2:])
    return bool(gap.max() > ON_OUTLINE_MM)
