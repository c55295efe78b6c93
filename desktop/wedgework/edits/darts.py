"""Add a dart to an edge, and take one away."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import takewhile
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Place, PointMm, PositiveMm
from wedgework.edits.carry import Fate, carried, whole_stretch
from wedgework.edits.edges import follow_in_runs, refuse_fold_edge
from wedgework.edits.inside import in_order, parted
from wedgework.edits.places import (
    Cut,
    Naming,
    between,
    bit_from,
    bits_of,
    cut_at,
    edge_of_piece,
    point_of,
)
from wedgework.edits.seams import without_seam
from wedgework.edits.surgery import Item, Kept, put_together
from wedgework.edits.ways import refuse_way_out, strictly_inside
from wedgework.geometry.curve import (
    Curve,
    Floats,
    Point,
    is_straight,
    joined,
    line,
    reversed_curve,
    with_ends,
)
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.regions import contains_point
from wedgework.geometry.tolerances import SAME_POINT_MM, SAME_STATION_MM, STATION_MM, STRAIGHT_MM
from wedgework.geometry.turning import angle_between, end_tangent, start_tangent
from wedgework.geometry.unite import missing_between, reaching, united
from wedgework.pattern.changes import with_pieces, with_seams
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Ref, Ring, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import piece_of, the_piece, the_seam

_CORNER_RAD: Final = math.radians(15.0)
"""A joint that turns by less shows as no corner; the same as an import's default."""


class AddDart(Edit, frozen=True, kw_only=True):
    """Take a wedge out of a piece: a dart from an edge to its apex, with straight legs."""

    piece: Annotated[Id, Meta(description="piece that gets the dart")]
    at: Annotated[Place, Meta(description="middle of its mouth, along the edge")]
    apex_mm: Annotated[PointMm, Meta(description="its point, inside the piece")]
    intake_mm: Annotated[PositiveMm, Meta(description="width of its mouth, straight across")]

    def change(self, project: Project) -> Project:
        """EditRefused where the dart is wider than its edge, or its legs leave the piece."""
        piece = the_piece(project, self.piece)
        edge = edge_of_piece(piece, self.at.edge)
        cut_at(piece, self.at)
        refuse_fold_edge(piece, edge.id, "cut into")
        apex = np.array(self.apex_mm)
        if not strictly_inside(piece, apex):
            raise EditRefused("The apex of a dart lies inside its piece.", culprit=piece.id)
        half_mm = mouth_half_mm(edge, self.at.at_mm, self.intake_mm)
        mouth = tuple(
            cut_at(piece, Place(edge.id, self.at.at_mm + side)) for side in (-half_mm, half_mm)
        )
        for cut in mouth:
            refuse_way_out(piece, line(point_of(piece, cut), apex), "A leg of the dart")
        return _with_dart(project, piece, (mouth[0], mouth[1]), apex)


def mouth_half_mm(edge: Edge, at_mm: float, intake_mm: float) -> float:
    """How far along an edge, each way from a place, the ends of a mouth of this chord lie.

    The least such distance, right to STATION_MM; EditRefused where the edge has no room for it.
    """
    room_mm = min(at_mm, length_mm(edge.curve) - at_mm)
    low, high = 0.0, room_mm
    while True:
        halves = np.linspace(low, high, 65)
        chords = _chords(edge.curve, at_mm, halves)
        wide = np.flatnonzero(chords >= intake_mm - SAME_POINT_MM)
        if len(wide) == 0:
            raise EditRefused(
                f"There is room for a mouth of {chords.max():.1f} mm there on edge "
                f"“{edge.name or edge.id}”, not for {intake_mm:.1f} mm.",
                culprit=edge.id,
            )
        index = max(int(wide[0]), 1)
        low, high = float(halves[index - 1]), float(halves[index])
        if high - low <= STATION_MM:
            return high


def _chords(curve: Curve, at_mm: float, halves_mm: Floats) -> Floats:
    before, after = points_at(curve, at_mm - halves_mm), points_at(curve, at_mm + halves_mm)
    return np.asarray(np.hypot(*(after - before).T))


def _with_dart(project: Project, piece: Piece, mouth: tuple[Cut, Cut], apex: Point) -> Project:
    naming = Naming(project)
    bits = bits_of(piece.edges, mouth)
    first, last = (bit_from(bits, piece.edges, cut) for cut in mouth)
    dart = new_dart(piece, naming)
    points = bits[first].curve.start, apex, bits[last].curve.start
    legs = dart_legs(dart, points, (dart.a[0].edge, dart.b[0].edge), naming)
    items: list[Item] = [*(Kept(bit=bit) for bit in between(bits, last, first)), *legs]
    outline = put_together(bits, items, naming)
    mouth_line = [bit.curve for bit in between(bits, first, last)]
    wedge = [*mouth_line, *(reversed_curve(leg.curve) for leg in reversed(legs))]
    drawings, fates = parted(
        piece,
        [leg.curve for leg in legs],
        lambda point: None if contains_point(wedge, point) else 1,
        naming,
    )
    changed = in_order(replace(piece, edges=outline.edges), drawings)
    after = carried(with_pieces(project, changed), outline.fates | fates)
    return with_seams(after, replace(dart, apex=legs[1].corner))


def new_dart(piece: Piece, naming: Naming) -> Seam:
    """A dart without legs yet, named from its piece."""
    own = naming.numbered(f"{piece.id}.d")
    a, b = naming.fresh(f"{own}.a"), naming.fresh(f"{own}.b")
    return Seam(id=own, name=f"dart {own}", a=(Ref(a),), b=(Ref(b, backward=True),))


def dart_legs(
    dart: Seam, points: tuple[Point, Point, Point], ids: tuple[EdgeId, EdgeId], naming: Naming
) -> tuple[Edge, Edge]:
    """Straight legs for a dart, as the outline walks them: from the mouth to the apex and back.

    `points` are where the mouth starts, the apex, and where the mouth ends, each (2,) mm.
    """
    start, apex, end = points
    corners = naming.fresh(f"{dart.id}.c"), naming.fresh(f"{dart.id}.apex")
    return (
        Edge(id=ids[0], name="", curve=line(start, apex), corner=corners[0]),
        Edge(id=ids[1], name="", curve=line(apex, end), corner=corners[1]),
    )


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class DartInRing:
    """A dart as its outline walks it: legs towards the apex, legs from it, and what lies beyond.

    `rest` is the outline without the legs, from the mouth's second end round to its first.
    """

    dart: Seam
    piece: Piece
    towards: Ring
    back: Ring
    rest: Ring

    @property
    def apex(self) -> Point:
        """The dart's point."""
        return self.back[0].curve.start


def dart_in_ring(project: Project, own: str) -> DartInRing:
    """A dart in the outline of its piece; EditRefused where it is none, or is no longer whole."""
    dart = the_seam(project, own)
    if dart.apex is None:
        raise EditRefused(f"“{dart.name or own}” is a seam, not a dart.", culprit=own)
    if dart.tip is not None:
        raise EditRefused(
            f"“{dart.name or own}” has two points and no mouth, so it cannot swing, be divided or "
            "run out into a line; move its points, or remove it.",
            culprit=own,
        )
    piece = piece_of(project, dart.apex)
    legs = {ref.edge for ref in (*dart.a, *dart.b)}
    at = next((i for i, edge in enumerate(piece.edges) if edge.corner == dart.apex), None)
    if at is None:
        raise EditRefused("The legs of this dart are not in the outline.", culprit=own)
    ring = piece.edges[at:] + piece.edges[:at]
    back = tuple(takewhile(lambda edge: edge.id in legs, ring))
    towards = tuple(takewhile(lambda edge: edge.id in legs, reversed(ring)))[::-1]
    if {edge.id for edge in (*towards, *back)} != legs or len(ring) <= len(legs):
        raise EditRefused("The legs of this dart do not follow each other.", culprit=own)
    rest = ring[len(back) : len(ring) - len(towards)]
    return DartInRing(dart=dart, piece=piece, towards=towards, back=back, rest=rest)


class RemoveDart(Edit, frozen=True, kw_only=True):
    """Take a dart away: its wedge is filled, its edge whole again."""

    dart: Annotated[Id, Meta(description="dart")]

    def change(self, project: Project) -> Project:
        """EditRefused where this is no dart."""
        dart = the_seam(project, self.dart)
        if dart.tip is not None:
            return _without_slit(project, dart)
        found = dart_in_ring(project, self.dart)
        fill = mouth_fill(found.rest[-1].curve, found.rest[0].curve)
        return filled_over(project, found, fill)


def filled_over(project: Project, found: DartInRing, fill: Curve | None) -> Project:
    """The project without a dart, a curve across its mouth; None where it has no width."""
    edges, fates = _filled_ring(project, found, fill, Naming(project))
    edges = _told_from(found.piece.edges, edges)
    fates |= {edge.id: Fate() for edge in (*found.towards, *found.back)}
    bare = without_seam(project, found.dart)
    return carried(with_pieces(bare, replace(found.piece, edges=edges)), fates)


def _without_slit(project: Project, dart: Seam) -> Project:
    """The project without a double-pointed dart: its slit is filled."""
    legs = {ref.edge for ref in (*dart.a, *dart.b)}
    piece = piece_of(project, dart.a[0].edge)
    left = tuple(
        cutout for cutout in piece.cutouts if legs.isdisjoint(edge.id for edge in cutout.edges)
    )
    fates = {leg: Fate() for leg in legs}
    bare = without_seam(project, dart)
    return carried(with_pieces(bare, replace(piece, cutouts=left)), fates)


def _told_from(old: Ring, new: Ring) -> Ring:
    """The new ring from the first edge of the old one that it still has."""
    ids = [edge.id for edge in new]
    at = next((ids.index(edge.id) for edge in old if edge.id in ids), 0)
    return new[at:] + new[:at]


def mouth_fill(before: Curve, after: Curve) -> Curve | None:
    """The curve across a mouth: what is missing of a cubic that runs on across it, where one does.

    Else straight between straight edges, and with their tangents between others. None where the
    mouth has no width.
    """
    start, end = before.end, after.start
    if np.hypot(*(end - start)) <= SAME_STATION_MM:
        return None
    missing = missing_between(before.segments[-1], after.segments[0])
    if missing is None:
        missing = reaching(before.segments[-1], end)
    if missing is None:
        back = reaching(after.segments[0, ::-1], start)
        missing = None if back is None else back[::-1]
    if missing is not None:
        return with_ends(Curve(missing[None]), start, end)
    straight = is_straight(before, STRAIGHT_MM) or is_straight(after, STRAIGHT_MM)
    if straight or not _flows(before, after):
        return line(start, end)
    arc = smooth_through(np.array([start, end]), end_tangent(before), start_tangent(after))
    return with_ends(arc, start, end)


def _flows(before: Curve, after: Curve) -> bool:
    """Whether both edges run on across the mouth, and do not turn into a corner there."""
    chord = after.start - before.end
    turns = angle_between(end_tangent(before), chord), angle_between(chord, start_tangent(after))
    return max(map(abs, turns)) < math.pi / 4


def _filled_ring(
    project: Project, found: DartInRing, fill: Curve | None, naming: Naming
) -> tuple[Ring, dict[EdgeId, Fate]]:
    """The outline with the mouth closed: one edge again where it runs on, else with a corner."""
    before, after = found.rest[-1], found.rest[0]
    if before is after:
        closed = before.curve if fill is None else joined(before.curve, fill)
        edge = replace(before, curve=closed)
        return (edge,), {before.id: Fate(walk=(edge.id,), stretches=(whole_stretch(before, edge),))}
    if fill is None and not follow_in_runs(project, before.id, after.id):
        return found.rest, {}
    if fill is None or _runs_on(project, found.piece, (before, after), fill):
        curve = united(before.curve, *([] if fill is None else [fill]), after.curve)
        edge = replace(before, curve=curve)
        at_mm = length_mm(curve) - length_mm(after.curve)
        fates = {
            before.id: Fate(walk=(edge.id,), stretches=(whole_stretch(before, edge),)),
            after.id: Fate(walk=(edge.id,), stretches=(whole_stretch(after, edge, at_mm),)),
        }
        return (*found.rest[1:-1], edge), fates
    edge = replace(
        before,
        id=naming.fresh(f"{found.dart.id}.fill"),
        corner=naming.fresh(f"{found.dart.id}.fill.c"),
        curve=fill,
    )
    walk = (before.id, edge.id) if follow_in_runs(project, before.id, after.id) else (before.id,)
    fate = Fate(walk=walk, stretches=(whole_stretch(before, before),))
    return (*found.rest, edge), {before.id: fate}


def _runs_on(project: Project, piece: Piece, sides: tuple[Edge, Edge], fill: Curve) -> bool:
    """Whether a mouth is closed into one edge: no corner shows, and seams walk both as one."""
    before, after = sides
    turns = (
        angle_between(end_tangent(before.curve), start_tangent(fill)),
        angle_between(end_tangent(fill), start_tangent(after.curve)),
    )
    return (
        max(map(abs, turns)) < _CORNER_RAD
        and piece.fold_edge not in (before.id, after.id)
        and follow_in_runs(project, before.id, after.id)
    )
