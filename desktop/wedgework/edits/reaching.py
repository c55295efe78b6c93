"""Ways through a piece that follow something drawn: cut off, or drawn on, where the outline is."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from wedgework.edits.base import Place
from wedgework.edits.cut import Through
from wedgework.edits.ways import strictly_inside
from wedgework.geometry.crossing import crossings
from wedgework.geometry.curve import Curve, Floats, Point, joined, line, with_ends
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.nearest import nearest
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import PROBE_MM
from wedgework.geometry.turning import end_tangent, start_tangent
from wedgework.pattern.document import Piece
from wedgework.pattern.errors import EditRefused


def reaching_outline(piece: Piece, drawn: Curve) -> Through:
    """A drawn curve as a way through a piece, from outline to outline.

    Where it ends inside it goes on straight, where it goes beyond it is cut off. EditRefused where
    it does not cross the piece, or crosses it in several stretches.
    """
    low, high = bounds_of_all([*(edge.curve for edge in piece.edges), drawn]).reshape(2, 2)
    reach = 2.0 * float(np.hypot(*(high - low)))
    long = joined(
        line(drawn.start - reach * start_tangent(drawn), drawn.start),
        drawn,
        line(drawn.end, drawn.end + reach * end_tangent(drawn)),
    )
    crossed = [crossings(long, edge.curve)[:, 0] for edge in piece.edges]
    spans = _inside(piece, long, np.unique(np.concatenate(crossed)))
    core = reach, reach + length_mm(drawn)
    within = [span for span in spans if min(span[1], core[1]) - max(span[0], core[0]) > PROBE_MM]
    if len(within) != 1:
        how = "does not cross" if not within else "leaves and enters again"
        raise EditRefused(
            f"The line {how} piece “{piece.name or piece.id}”; it is cut along a line that runs "
            "from outline to outline.",
            culprit=piece.id,
        )
    return _on_outline(piece, part(long, *within[0]))


def _inside(piece: Piece, long: Curve, stations: Floats) -> list[tuple[float, float]]:
    """Stretches between crossings that lie inside, from and to in mm, touches left out."""
    spans: list[tuple[float, float]] = []
    for low, high in pairwise(stations.tolist()):
        if high - low <= PROBE_MM or not strictly_inside(piece, point_at(long, (low + high) / 2)):
            continue
        if spans and low - spans[-1][1] <= PROBE_MM:
            spans[-1] = (spans[-1][0], high)
        else:
            spans.append((low, high))
    return spans


def _on_outline(piece: Piece, way: Curve) -> Through:
    way = _without_stubs(way)
    first, start = _place_near(piece, way.start)
    last, end = _place_near(piece, way.end)
    return Through(first, last, with_ends(way, start, end))


def _without_stubs(way: Curve) -> Curve:
    """The way without cubics at its ends that are too short to have a direction of their own.

    Where a line ends all but on the outline, that is all that is left of its straight going on.
    """
    rows = way.segments
    while len(rows) > 1 and np.hypot(*(rows[0, 3] - rows[0, 0])) <= PROBE_MM:
        rows = rows[1:]
    while len(rows) > 1 and np.hypot(*(rows[-1, 3] - rows[-1, 0])) <= PROBE_MM:
        rows = rows[:-1]
    return Curve(rows)


def _place_near(piece: Piece, point: Point) -> tuple[Place, Point]:
    """The place of the outline nearest to a point, and its own point."""
    feet = [(nearest(edge.curve, point), edge) for edge in piece.edges]
    foot, edge = min(feet, key=lambda row: row[0].distance_mm)
    return Place(edge.id, foot.station_mm), foot.point
