"""What lies under the pointer: handles before corners before marks before edges before pieces.

Columns of all corners and boxes of all edges are asked at once, without a tree to maintain
(24,000 corners cost 40 us); only what may be near is then asked exactly.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np

from wedgework.bench.gestures import PICK_PX, Mm2
from wedgework.bench.pinning import placed_pins
from wedgework.geometry.curve import Floats
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import points_at, station_of
from wedgework.geometry.memo import memoised
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.regions import contains_point
from wedgework.pattern.document import Edge, Line, Piece, Project, Spot
from wedgework.pattern.lookup import edge_in, notches_by_edge
from wedgework.pattern.rows import hole_places
from wedgework.pattern.table import Table

Kind: TypeAlias = Literal["handle", "corner", "mark", "pin", "label", "edge", "line", "piece"]
ORDER: Final[tuple[Kind, ...]] = (
    "handle",
    "corner",
    "mark",
    "pin",
    "label",
    "edge",
    "line",
    "piece",
)
"""What is taken first where several lie within reach."""

HANDLE_REACH: Final = 2.0
"""A handle nearer to its own end than this many reaches cannot be told from it: the corner goes
first, and nobody draws the handle."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """Something under the pointer. `at_mm` is its own point there.

    `id` is that of the corner, mark, label, edge, line or piece; of a handle, that of its edge,
    with `cubic` and `end` (`first` or `second`) as the edit that bends it names them. `edge` and
    `station_mm` say where along an edge it lies, for an edge and a mark.
    """

    kind: Kind
    id: str
    piece: str
    at_mm: Mm2
    distance_mm: float = 0.0
    edge: str = ""
    station_mm: float = 0.0
    cubic: int = 0
    end: Literal["first", "second"] = "first"


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Columns:
    """Corners and boxes in columns: `corners` (n, 2), `boxes` (m, 4), `piece_boxes` (k, 4), mm.

    `corner_ids` names the corner and the piece of each row, `corner_rows` the row of a corner.
    """

    corners: Floats
    corner_ids: list[tuple[str, str]]
    corner_rows: dict[str, int]
    boxes: Floats
    curves: list[tuple[str, Edge | Line]]
    piece_boxes: Floats
    pieces: list[Piece]


@memoised
def _of_piece(piece: Piece) -> tuple[Floats, list[tuple[str, str]], Floats, Floats]:
    """Corners, their ids, boxes of edges and lines, and the box of the outline.

    Boxes are those of the control points: a curve never leaves them, and they cost a tenth of
    the curve's own.
    """
    edges = list(piece.all_edges())
    segments = [edge.curve.segments for edge in edges]
    segments += [line.curve.segments for line in piece.lines]
    firsts = np.cumsum([0, *map(len, segments[:-1])])
    points = np.concatenate(segments)
    low = np.minimum.reduceat(points.min(axis=1), firsts)
    high = np.maximum.reduceat(points.max(axis=1), firsts)
    boxes = np.concatenate([low, high], axis=1)
    own = boxes[: len(edges)]
    whole = np.concatenate([own[:, :2].min(axis=0), own[:, 2:].max(axis=0)])
    ids = [(edge.corner, piece.id) for edge in edges]
    return points[firsts[: len(edges)], 0], ids, boxes, whole


@memoised
def columns(pieces: Table[Piece]) -> Columns:
    """Columns of all pieces; those of a piece that did not change are taken as they are."""
    parts = [_of_piece(piece) for piece in pieces.values()]
    corner_ids = [row for part in parts for row in part[1]]
    curves: list[tuple[str, Edge | Line]] = []
    for piece in pieces.values():
        curves += [(piece.id, edge) for edge in piece.all_edges()]
        curves += [(piece.id, line) for line in piece.lines]
    return Columns(
        corners=_stacked([part[0] for part in parts], 2),
        corner_ids=corner_ids,
        corner_rows={corner: row for row, (corner, _) in enumerate(corner_ids)},
        boxes=_stacked([part[2] for part in parts], 4),
        curves=curves,
        piece_boxes=_stacked([part[3][None] for part in parts], 4),
        pieces=list(pieces.values()),
    )


def _stacked(parts: list[Floats], width: int) -> Floats:
    return np.concatenate(parts) if parts else np.zeros((0, width))


def under(
    project: Project, at_mm: Mm2, reach_mm: float, chosen: tuple[str, ...] = ()
) -> tuple[Hit, ...]:
    """All that lies within reach of a point, in the order in which presses take it.

    Handles are there for chosen edges only, since nobody sees the others.
    """
    table = columns(project.pieces)
    hits = [
        *_handles(project, at_mm, reach_mm, chosen),
        *_corners(table, at_mm, reach_mm),
        *_curves(table, at_mm, reach_mm),
        *_labels(table, at_mm, reach_mm),
        *_pins(project, at_mm, reach_mm),
        *_pieces(table, at_mm),
    ]
    hits += [hit for edge in hits if edge.kind == "edge" for hit in _notches(project, edge, at_mm)]
    hits += _holes(project, at_mm, reach_mm)
    near = [hit for hit in hits if hit.distance_mm <= reach_mm]
    return tuple(sorted(near, key=lambda hit: (ORDER.index(hit.kind), hit.distance_mm)))


def nearest_edge(
    project: Project, at_mm: Mm2, reach_mm: float, piece: str | None = None
) -> Hit | None:
    """The nearest edge within reach, of one piece if it is named."""
    edges = (hit for hit in _curves(columns(project.pieces), at_mm, reach_mm) if hit.kind == "edge")
    fitting = [hit for hit in edges if piece is None or hit.piece == piece]
    return min(fitting, key=lambda hit: hit.distance_mm, default=None)


def piece_under(project: Project, at_mm: Mm2) -> Hit | None:
    """The uppermost piece that a point lies in."""
    return next(iter(_pieces(columns(project.pieces), at_mm)), None)


def pieces_within(project: Project, one_mm: Mm2, other_mm: Mm2) -> tuple[str, ...]:
    """Ids of the pieces whose outlines lie wholly in the rectangle between two points."""
    table = columns(project.pieces)
    low, high = np.minimum(one_mm, other_mm), np.maximum(one_mm, other_mm)
    found = []
    for piece in table.pieces:
        box = bounds_of_all([edge.curve for edge in piece.edges])
        if (box[:2] >= low).all() and (box[2:] <= high).all():
            found.append(piece.id)
    return tuple(found)


def corners_within(project: Project, one_mm: Mm2, other_mm: Mm2) -> tuple[str, ...]:
    """Ids of the corners that lie in the rectangle between two points."""
    table = columns(project.pieces)
    low, high = np.minimum(one_mm, other_mm), np.maximum(one_mm, other_mm)
    inside = ((low <= table.corners) & (table.corners <= high)).all(axis=1)
    return tuple(table.corner_ids[index][0] for index in np.flatnonzero(inside).tolist())


def _corners(table: Columns, at_mm: Mm2, reach_mm: float) -> Iterator[Hit]:
    distances = np.hypot(table.corners[:, 0] - at_mm[0], table.corners[:, 1] - at_mm[1])
    for index in np.flatnonzero(distances <= reach_mm).tolist():
        corner, piece = table.corner_ids[index]
        x, y = table.corners[index].tolist()
        yield Hit(
            kind="corner",
            id=corner,
            piece=piece,
            at_mm=(x, y),
            distance_mm=float(distances[index]),
        )


def _within(boxes: Floats, at_mm: Mm2, reach_mm: float) -> list[int]:
    point = np.array(at_mm)
    inside = (boxes[:, :2] - reach_mm <= point) & (point <= boxes[:, 2:] + reach_mm)
    return [int(index) for index in np.flatnonzero(inside.all(axis=1))]


def _curves(table: Columns, at_mm: Mm2, reach_mm: float) -> Iterator[Hit]:
    for index in _within(table.boxes, at_mm, reach_mm):
        piece, one = table.curves[index]
        foot = nearest_foot(one.curve, at_mm)
        if foot.distance_mm <= reach_mm:
            is_edge = isinstance(one, Edge)
            yield Hit(
                kind="edge" if is_edge else "line",
                id=one.id,
                piece=piece,
                at_mm=(foot.x, foot.y),
                distance_mm=foot.distance_mm,
                edge=one.id if is_edge else "",
                station_mm=station_of(one.curve, foot.parameter),
            )


def _labels(table: Columns, at_mm: Mm2, reach_mm: float) -> Iterator[Hit]:
    for index in _within(table.piece_boxes, at_mm, reach_mm):
        piece = table.pieces[index]
        for label in piece.labels:
            x, y = label.at_mm.tolist()
            distance = float(np.hypot(x - at_mm[0], y - at_mm[1]))
            yield Hit(kind="label", id=label.id, piece=piece.id, at_mm=(x, y), distance_mm=distance)


def _pins(project: Project, at_mm: Mm2, reach_mm: float) -> Iterator[Hit]:
    """Pinned measurements whose figure or leader lies there."""
    for placed in placed_pins(project, reach_mm / PICK_PX):
        distance = placed.distance_mm(at_mm)
        yield Hit(kind="pin", id=placed.pin.id, piece="", at_mm=at_mm, distance_mm=distance)


def _pieces(table: Columns, at_mm: Mm2) -> Iterator[Hit]:
    # The last piece is drawn last and lies on top.
    for index in reversed(_within(table.piece_boxes, at_mm, 0.0)):
        piece = table.pieces[index]
        outline = [edge.curve for edge in piece.edges]
        holes = [[edge.curve for edge in cutout.edges] for cutout in piece.cutouts]
        if contains_point(outline, at_mm, holes):
            yield Hit(kind="piece", id=piece.id, piece=piece.id, at_mm=at_mm)


def _handles(
    project: Project, at_mm: Mm2, reach_mm: float, chosen: tuple[str, ...]
) -> Iterator[Hit]:
    for own in chosen:
        piece = project.pieces.get(project.owners.get(own, ""))
        edge = edge_in(piece, own) if piece else None
        if piece is None or edge is None:
            continue
        for cubic, end, (x, y) in handles_of(edge):
            distance = float(np.hypot(x - at_mm[0], y - at_mm[1]))
            foot = edge.curve.segments[cubic, 0 if end == "first" else 3]
            arm = float(np.hypot(x - foot[0], y - foot[1]))
            if distance <= reach_mm and arm > HANDLE_REACH * reach_mm:
                yield Hit(
                    kind="handle",
                    id=edge.id,
                    piece=piece.id,
                    at_mm=(x, y),
                    distance_mm=distance,
                    edge=edge.id,
                    cubic=cubic,
                    end=end,
                )


def handles_of(edge: Edge) -> Iterator[tuple[int, Literal["first", "second"], Mm2]]:
    """Handles of an edge: which cubic, which of its two, and where, in mm."""
    for cubic, segment in enumerate(edge.curve.segments.tolist()):
        yield cubic, "first", (segment[1][0], segment[1][1])
        yield cubic, "second", (segment[2][0], segment[2][1])


def _notches(project: Project, hit: Hit, at_mm: Mm2) -> Iterator[Hit]:
    edge = edge_in(project.pieces[hit.piece], hit.id)
    if edge is None:
        return
    for mark in notches_by_edge(project.notches).get(hit.id, ()):
        for spot in (mark.at, mark.mate):
            if spot is not None and spot.edge == hit.id:
                x, y = points_at(edge.curve, [spot.at_mm])[0].tolist()
                distance = float(np.hypot(x - at_mm[0], y - at_mm[1]))
                yield _mark_hit(mark.id, hit.piece, spot, (x, y), distance)


def _mark_hit(own: str, piece: str, spot: Spot, at_mm: Mm2, distance_mm: float) -> Hit:
    return Hit(
        kind="mark",
        id=own,
        piece=piece,
        at_mm=at_mm,
        distance_mm=distance_mm,
        edge=spot.edge,
        station_mm=spot.at_mm,
    )


def _holes(project: Project, at_mm: Mm2, reach_mm: float) -> Iterator[Hit]:
    """Holes under the pointer where they are punched, which may be far from their edge."""
    if not project.holes:
        return
    tables = project.pieces, project.seams, project.holes, project.owners
    places, centres = hole_places(*tables)
    away = np.hypot(*(centres - np.asarray(at_mm)).T)
    for index in np.flatnonzero(away <= reach_mm).tolist():
        hole, spot = places[index]
        x, y = centres[index].tolist()
        piece = project.owners[spot.edge]
        yield _mark_hit(hole.id, piece, spot, (x, y), float(away[index]))
