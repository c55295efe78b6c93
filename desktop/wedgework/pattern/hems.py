"""A turned hem: its allowance folds up along the hem line, and has to lie under what is above it.

So its ends are the sides mirrored in the hem line, not the sides drawn on: on a skirt that flares
the drawn-on allowance would stick out beyond the side when it is turned up, on one that tapers it
would be too short to meet it.
"""

from __future__ import annotations

import math
from collections.abc import Set
from dataclasses import replace
from typing import Final, NamedTuple

from wedgework.geometry.crossing import crossings
from wedgework.geometry.curve import Curve, Point, joined, line, reversed_curve, with_ends
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.motion import moved, reflection
from wedgework.geometry.nearest import nearest
from wedgework.geometry.offset import offset_curve
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import JOINT_RAD, SAME_STATION_MM
from wedgework.geometry.turning import angle_between, end_tangent, start_tangent
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Ring
from wedgework.pattern.lookup import seams_of

REACH_TIMES: Final = 6.0
"""A side is mirrored over so many times the width of the hem: enough for MOST_SLANTED_RAD."""

FREE_ERROR_MM: Final = 0.005
"""How far the free edge may lie from the exact one; as a cut line."""

MOST_SLANTED_RAD: Final = math.radians(70.0)
"""A side that is further from square to the hem is not folded onto itself."""


def turned_hems(project: Project, piece: Piece) -> frozenset[EdgeId]:
    """The edges of an outline that are turned up: hems with an allowance, and in no seam."""
    return frozenset(
        edge.id
        for edge in piece.edges
        if edge.finish == "hem" and edge.allowance_mm > 0.0 and not seams_of(project, edge.id)
    )


def with_hems(
    ring: Ring,
    outsets: tuple[float, ...],
    hems: Set[EdgeId],
    legs: Set[EdgeId],
    fold: EdgeId | None,
) -> tuple[Ring, tuple[float, ...]]:
    """The outline, and how far out each edge is cut, with turned hems drawn at their full depth.

    Beside the `fold` an end is not mirrored, but drawn on. A hem that goes on in another or over
    the `legs` of a dart, that cannot be mirrored or need not, stays as it is.
    """
    rows: list[tuple[Edge, float]] = []
    own = [_Side(edge, outset) for edge, outset in zip(ring, outsets, strict=True)]
    around = zip((own[-1], *own[:-1]), own, (*own[1:], own[0]), strict=True)
    for before, here, after in around:
        is_alone = here.edge.id in hems and not {before.edge.id, after.edge.id} & (hems | legs)
        turned = _turned(here, (before, after), fold) if is_alone else None
        rows += [(here.edge, here.out_mm)] if turned is None else turned
    return tuple(edge for edge, _ in rows), tuple(outset for _, outset in rows)


class _Side(NamedTuple):
    """An edge, and how far out it is cut."""

    edge: Edge
    out_mm: float


class _End(NamedTuple):
    """An end of a turned hem: the line along it from the hem down, and where its cut line ends.

    `end` lies on the free edge of the allowance, at `free_mm` from its start.
    """

    along: Curve
    end: Point
    free_mm: float


def _turned(
    here: _Side, sides: tuple[_Side, _Side], fold: EdgeId | None
) -> list[tuple[Edge, float]] | None:
    """The edges down along the mirrored side, along the allowance's free edge, and up again.

    None where both sides are square to the hem, or one cannot be mirrored.
    """
    hem, depth_mm = here.edge.curve, here.out_mm
    away = reversed_curve(sides[0].edge.curve), sides[1].edge.curve
    angles = (
        angle_between(start_tangent(hem), start_tangent(away[0])),
        angle_between(start_tangent(away[1]), -end_tangent(hem)),
    )
    slants = [abs(angle - math.pi / 2) for angle in angles]
    if max(slants) <= JOINT_RAD or max(slants) > MOST_SLANTED_RAD:
        return None
    free = _drawn_on(offset_curve(hem, -depth_mm, FREE_ERROR_MM), REACH_TIMES * depth_mm)
    along = start_tangent(hem), end_tangent(hem)
    ends = [
        _end_at(free, _image(side, tangent, depth_mm, is_fold=one.edge.id == fold), left_mm)
        for one, side, tangent, left_mm in zip(
            sides, away, along, (-sides[0].out_mm, sides[1].out_mm), strict=True
        )
    ]
    first, last = ends
    if first is None or last is None or last.free_mm - first.free_mm <= SAME_STATION_MM:
        return None
    deep = with_ends(part(free, first.free_mm, last.free_mm), first.end, last.end)
    curves = [(first.along, sides[0].out_mm), (deep, 0.0)]
    curves.append((reversed_curve(last.along), sides[1].out_mm))
    if sides[0].out_mm > 0.0:
        curves.insert(1, (line(first.along.end, first.end), 0.0))
    if sides[1].out_mm > 0.0:
        curves.insert(-1, (line(last.end, last.along.end), 0.0))
    rows = [(replace(here.edge, curve=curve, corner=""), outset) for curve, outset in curves]
    return [(replace(rows[0][0], corner=here.edge.corner), rows[0][1]), *rows[1:]]


def _drawn_on(curve: Curve, by_mm: float) -> Curve:
    start, end = curve.start, curve.end
    return joined(
        line(start - by_mm * start_tangent(curve), start),
        curve,
        line(end, end + by_mm * end_tangent(curve)),
    )


def _image(side: Curve, along: Point, depth_mm: float, *, is_fold: bool) -> Curve:
    """A side, from the hem on, mirrored in the hem; of a fold its straight line drawn on."""
    reach = REACH_TIMES * depth_mm
    if is_fold:
        return line(side.start, side.start - reach * start_tangent(side))
    near = part(side, 0.0, reach) if length_mm(side) > reach else side
    near = joined(near, line(near.end, near.end + reach * end_tangent(near)))
    image = moved(near, reflection(side.start, side.start + along))
    return with_ends(image, side.start, image.end)


def _end_at(free: Curve, image: Curve, left_mm: float) -> _End | None:
    """The image as far as its cut line, so far to its left, reaches the free edge; None if not."""
    outer = image if left_mm == 0.0 else offset_curve(image, left_mm, FREE_ERROR_MM)
    met = crossings(outer, free)
    if len(met) == 0:
        return None
    end = point_at(free, float(met[0, 1]))
    foot = nearest(image, end)
    if foot.station_mm <= SAME_STATION_MM:
        return None
    along = part(image, 0.0, foot.station_mm)
    return _End(along, along.end if left_mm == 0.0 else end, float(met[0, 1]))
