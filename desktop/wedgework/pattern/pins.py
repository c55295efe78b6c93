"""Measurements that stay on the table: what each measures now, and where it is read.

Lengths are arc lengths of seam lines, so that what a pin says is what the ledger says. An anchor
that is not on the project any more makes its pin nothing; `without_lost_pins` takes those away.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from wedgework.geometry.curve import Curve, Point
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import SAME_POINT_MM, SAME_STATION_MM
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.document import Anchor, Pin, PinKind, Project, Ring, Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.levels import flat_girth_mm
from wedgework.pattern.lookup import around_corner, edge_in, ring_of, the_edge

ANCHORS: dict[PinKind, tuple[int, ...]] = {
    "distance": (2,),
    "along": (2,),
    "angle": (1, 3),
    "girth": (1,),
}
"""How many anchors each kind of measurement has."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Way:
    """The way along an outline between two places: its length and the stretches that it passes."""

    length_mm: float
    curves: tuple[Curve, ...]


def pin_value(project: Project, pin: Pin) -> float:
    """What a pin measures now: mm, of an angle rad in [0, 2 pi].

    Raises EditRefused, with a sentence, where it cannot be measured.
    """
    if len(pin.anchors) not in ANCHORS[pin.kind]:
        raise EditRefused(f"A measurement of this kind has {_counted(pin.kind)}.", culprit=pin.id)
    match pin.kind:
        case "girth":
            return flat_girth_mm(project, the_level(project, pin.anchors[0]))
        case "along":
            return way_along(project, pin.anchors).length_mm
        case "distance":
            one, other = anchor_points(project, pin.anchors)
            return float(np.hypot(*(other - one)))
    return _angle(project, pin.anchors)


def _counted(kind: PinKind) -> str:
    counts = " or ".join(str(count) for count in ANCHORS[kind])
    return f"{counts} place{'' if counts == '1' else 's'} to hang on"


def _angle(project: Project, anchors: Sequence[Anchor]) -> float:
    if len(anchors) == 1:
        spots = anchor_spots(project, anchors)
        piece = project.pieces[project.owners[spots[0].edge]]
        return corner_angle(piece, str(the_corner(project, anchors[0])))
    one, middle, other = anchor_points(project, anchors)
    return angle_at(one, middle, other)


def angle_at(one: Point, middle: Point, other: Point) -> float:
    """The angle, [0, pi] rad, at the middle one of three points, (2,) mm each."""
    a, b = one - middle, other - middle
    if min(np.hypot(*a), np.hypot(*b)) <= SAME_POINT_MM:
        raise EditRefused("An angle needs three different points.")
    return float(abs(math.atan2(a[0] * b[1] - a[1] * b[0], a @ b)))


def the_corner(project: Project, anchor: Anchor) -> str:
    """The id of a corner; EditRefused where the anchor is none."""
    piece = project.pieces.get(project.owners.get(str(anchor), ""))
    if piece is None or all(edge.corner != anchor for edge in piece.all_edges()):
        raise EditRefused("An angle at one place is that of a corner.", culprit=_named(anchor))
    return str(anchor)


def the_level(project: Project, anchor: Anchor) -> str:
    """The id of a level; EditRefused where the anchor is none."""
    if not isinstance(anchor, str) or anchor not in project.levels:
        raise EditRefused("A girth is measured at a level.", culprit=_named(anchor))
    return anchor


def _named(anchor: Anchor) -> str:
    if isinstance(anchor, tuple):
        return ""
    return anchor.edge if isinstance(anchor, Spot) else anchor


# Places


def anchor_points(project: Project, anchors: Sequence[Anchor]) -> list[Point]:
    """Where anchors lie, (2,) mm each; a corner bit for bit. EditRefused where one is lost."""
    hung = iter(anchor_spots(project, [one for one in anchors if not isinstance(one, tuple)]))
    return [
        np.array(one) if isinstance(one, tuple) else _point_of(project, next(hung))
        for one in anchors
    ]


def _point_of(project: Project, spot: Spot) -> Point:
    curve = the_edge(project, spot.edge).curve
    return curve.start if spot.at_mm == 0.0 else np.asarray(point_at(curve, spot.at_mm))


def anchor_spots(project: Project, anchors: Sequence[Anchor]) -> list[Spot]:
    """Anchors as places on edges; EditRefused where one is a bare place.

    A mark stands on both sides of its seam: the one on a piece that another anchor hangs on is
    meant, and where that does not decide, its datum.
    """
    told = [_spots_of(project, anchor) for anchor in anchors]
    sure = {project.owners[spots[0].edge] for spots in told if len(spots) == 1}
    return [
        next((spot for spot in spots if project.owners[spot.edge] in sure), spots[0])
        for spots in told
    ]


def _spots_of(project: Project, anchor: Anchor) -> list[Spot]:
    if isinstance(anchor, tuple):
        raise EditRefused("A place on the bare table lies on no edge: measure straight to it.")
    if isinstance(anchor, Spot):
        whole_mm = length_mm(the_edge(project, anchor.edge).curve)
        return [Spot(anchor.edge, min(anchor.at_mm, whole_mm))]
    mark = project.notches.get(anchor) or project.holes.get(anchor)
    if mark is not None:
        return [spot for spot in (mark.at, mark.mate) if spot is not None]
    if anchor not in project.owners:
        raise EditRefused(f"There is no “{anchor}” to measure from.", culprit=anchor)
    piece = project.pieces[project.owners[anchor]]
    if edge_in(piece, anchor) is not None:
        raise EditRefused(f"Say where on edge “{anchor}” the measure hangs.", culprit=anchor)
    return [Spot(around_corner(piece, anchor)[1].id, 0.0)]


# Along an outline


def way_along(project: Project, anchors: Sequence[Anchor]) -> Way:
    """The shorter way along an outline between two anchors, over several edges if need be.

    EditRefused where the two lie on different outlines.
    """
    one, other = anchor_spots(project, anchors)
    ring = ring_of(project.pieces[project.owners[one.edge]], one.edge)
    if not _is_on_one_outline(project, anchors):
        raise EditRefused("Along an edge is measured on one outline.", culprit=other.edge)
    low, high = sorted((_ring_station(ring, one), _ring_station(ring, other)))
    whole = math.fsum(length_mm(edge.curve) for edge in ring)
    if high - low <= whole - (high - low):
        return Way(length_mm=high - low, curves=tuple(_stretches(ring, low, high)))
    curves = (*_stretches(ring, high, whole), *_stretches(ring, 0.0, low))
    return Way(length_mm=whole - (high - low), curves=curves)


def _ring_station(ring: Ring, spot: Spot) -> float:
    station = 0.0
    for edge in ring:
        if edge.id == spot.edge:
            break
        station += length_mm(edge.curve)
    return station + spot.at_mm


def _stretches(ring: Ring, low_mm: float, high_mm: float) -> Iterator[Curve]:
    start = 0.0
    for edge in ring:
        whole = length_mm(edge.curve)
        first, last = max(low_mm - start, 0.0), min(high_mm - start, whole)
        if last - first > SAME_STATION_MM:
            yield part(edge.curve, first, last)
        start += whole


# Lost anchors


def without_lost_pins(project: Project) -> Project:
    """The project without pins that have an anchor which is not there any more."""
    lost = [pin.id for pin in project.pins.values() if not _is_held(project, pin)]
    return replace(project, pins=project.pins.with_rows({}, lost)) if lost else project


def _is_held(project: Project, pin: Pin) -> bool:
    if not all(_is_there(project, anchor) for anchor in pin.anchors):
        return False
    # After a cut both ends may be there, on two pieces: then there is no way along between them.
    return pin.kind != "along" or _is_on_one_outline(project, pin.anchors)


def _is_on_one_outline(project: Project, anchors: Sequence[Anchor]) -> bool:
    one, other = anchor_spots(project, anchors)
    ring = ring_of(project.pieces[project.owners[one.edge]], one.edge)
    return any(edge.id == other.edge for edge in ring)


def _is_there(project: Project, anchor: Anchor) -> bool:
    if isinstance(anchor, tuple):
        return True
    if isinstance(anchor, Spot):
        piece = project.pieces.get(project.owners.get(anchor.edge, ""))
        return piece is not None and edge_in(piece, anchor.edge) is not None
    tables = (project.owners, project.notches, project.holes, project.levels)
    return any(anchor in table for table in tables)
