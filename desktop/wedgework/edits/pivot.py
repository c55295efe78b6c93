"""Swing a dart about its apex to another place, whole or in part, and divide a dart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Place
from wedgework.edits.carry import Fate, Stretch, carried
from wedgework.edits.darts import DartInRing, dart_in_ring, dart_legs
from wedgework.edits.inside import in_order, parted
from wedgework.edits.places import Bit, Cut, Naming, between, bit_from, bits_of, cut_at
from wedgework.edits.seams import without_seam
from wedgework.edits.slash import refuse_cut_fold, refuse_new_crossing
from wedgework.edits.surgery import Fill, Item, Kept, put_together
from wedgework.edits.ways import refuse_way_out
from wedgework.geometry.curve import Curve, Point, is_straight, joined, line
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import Affine, rotation
from wedgework.geometry.regions import contains_point
from wedgework.geometry.tolerances import SAME_STATION_MM, STRAIGHT_MM
from wedgework.geometry.turning import angle_between
from wedgework.pattern.changes import with_pieces, with_seams
from wedgework.pattern.darts import darts_of, shares_apex
from wedgework.pattern.document import Edge, EdgeId, Project, Ref, Seam
from wedgework.pattern.errors import EditRefused

Share = Annotated[float, Meta(gt=0, le=1, description="part of the angle that moves")]


class PivotDart(Edit, frozen=True, kw_only=True):
    """Swing a dart to another place on the outline, about its apex, or a part of its angle."""

    dart: Annotated[Id, Meta(description="dart")]
    to: Annotated[Place, Meta(description="where its mouth opens")]
    share: Share = 1.0

    def change(self, project: Project) -> Project:
        """EditRefused where the way from the place to the apex leaves the piece."""
        return pivoted(project, self.dart, self.to, self.share)


class DivideDart(Edit, frozen=True, kw_only=True):
    """Divide a dart into equal ones about one apex, mouths side by side, one mouth between."""

    dart: Annotated[Id, Meta(description="dart")]
    into: Annotated[int, Meta(ge=2, le=20, description="how many darts it becomes")]

    def change(self, project: Project) -> Project:
        """EditRefused where the edge beside the dart has no room for the mouths."""
        found = dart_in_ring(project, self.dart)
        part_rad = wedge_angle(found) / self.into
        wide_mm = 2 * length_mm(found.back[-1].curve) * math.sin(part_rad / 2)
        own = self.dart
        for left in range(self.into - 1, 0, -1):
            ring = dart_in_ring(project, own)
            beside = ring.rest[0]
            if wide_mm > length_mm(beside.curve) - SAME_STATION_MM:
                raise EditRefused(
                    f"Edge “{beside.name or beside.id}” has no room for {self.into} mouths of "
                    f"{wide_mm:.1f} mm side by side.",
                    culprit=beside.id,
                )
            before = set(project.seams)
            project = pivoted(project, own, Place(beside.id, wide_mm), left / (left + 1))
            own = next(key for key in project.seams if key not in before)
        return project


def pivoted(project: Project, own: str, to: Place, share: float) -> Project:
    """The project with `share` of a dart's angle swung to a place; EditRefused if it cannot be.

    At another dart with the same apex no mouth opens: that dart opens by as much more.
    """
    found = dart_in_ring(project, own)
    _refuse_shaped(found)
    refuse_cut_fold(found.piece, (to,))
    into = _dart_at(project, found, to)
    if into is not None:
        return _taken_in(project, _swing_of(found, Place(into.back[0].id, 0.0), share))
    swing = _swing_of(found, to, share)
    if swing.way is None:
        raise EditRefused("The outline passes the apex there already.", culprit=own)
    refuse_way_out(found.piece, swing.way, "The dart")
    naming = Naming(project)
    dart, legs = _new_dart(found, swing, swing.way.start, naming)
    after, fates = _swung(project, swing, legs, naming)
    if swing.is_whole:
        fates |= _leg_fates(found, legs)
    return with_seams(carried(after, fates), dart)


def _swung(
    project: Project, swing: _Swing, legs: Sequence[Edge], naming: Naming
) -> tuple[Project, dict[str, Fate]]:
    """The project with the piece swung, and what has become of its edges and lines."""
    piece = swing.found.piece
    outline = put_together(swing.bits, swing.items(legs), naming)
    cuts = [] if swing.way is None else [swing.way]
    drawings, fates = parted(piece, cuts, swing.where, naming)
    moved = [
        drawing if motion is None else drawing.moved(motion)
        for drawing, motion in zip(drawings, (swing.stays, swing.swings), strict=True)
    ]
    changed = in_order(replace(piece, edges=outline.edges), moved)
    refuse_new_crossing(piece, changed)
    return with_pieces(project, changed), fates | outline.fates


def _taken_in(project: Project, swing: _Swing) -> Project:
    """The project where another dart of the same apex has taken in (a part of) this one."""
    found = swing.found
    bare = without_seam(project, found.dart) if swing.is_whole else project
    after, fates = _swung(bare, swing, (), Naming(project))
    if swing.is_whole:
        fates |= {edge.id: Fate() for edge in (*found.towards, *found.back)}
    return carried(after, fates)


def _dart_at(project: Project, found: DartInRing, to: Place) -> DartInRing | None:
    """Another dart of the same apex that a place lies at: on a leg, or an end of its mouth.

    EditRefused where the place is the apex of a dart that ends elsewhere.
    """
    piece = found.piece
    cut = cut_at(piece, to)
    there = {piece.edges[cut.index].id}
    if cut.at_mm == 0.0:
        there.add(piece.edges[cut.index - 1].id)
    for dart in darts_of(project):
        legs = {ref.edge for ref in (*dart.a, *dart.b)}
        if dart is found.dart or not legs & there:
            continue
        if shares_apex(project, found.dart, dart):
            return dart_in_ring(project, dart.id)
        if cut.at_mm == 0.0 and piece.edges[cut.index].corner == dart.apex:
            raise EditRefused(
                f"Dart “{dart.name or dart.id}” ends there: no mouth can open at its apex. Make "
                "both darts one shaped seam instead.",
                culprit=dart.id,
            )
    return None


def _refuse_shaped(found: DartInRing) -> None:
    for legs in (found.towards, found.back):
        # A leg that was split may have been bent where it was, though each part is straight.
        if not is_straight(joined(*(leg.curve for leg in legs)), STRAIGHT_MM):
            raise EditRefused(
                "A dart with shaped legs does not swing; its legs have to be straight.",
                culprit=legs[0].id,
            )


def wedge_angle(found: DartInRing) -> float:
    """The angle of the dart's wedge in rad, between the ends of its mouth, seen from its apex."""
    first = found.towards[0].curve.start - found.apex
    return angle_between(first, found.back[-1].curve.end - found.apex)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Swing:
    """A dart being swung. Of two bodies, `first` lies after the mouth and `second` before it.

    `way` runs from the place to the apex, between the two; None where they are one point. One of
    the motions is None.
    """

    found: DartInRing
    way: Curve | None
    bits: list[Bit]
    first: list[Bit]
    second: list[Bit]
    swings: Affine | None
    stays: Affine | None
    is_whole: bool

    def items(self, legs: Sequence[Edge]) -> list[Item]:
        """The new outline, from the old mouth round to it again."""
        by_edge = {bit.edge: bit for bit in self.bits}
        kept: list[Item] = [
            *(Kept(bit=by_edge[leg], motion=self.stays) for leg in self.found.towards),
            *(Kept(bit=by_edge[leg], motion=self.swings) for leg in self.found.back),
        ]
        mouth_edge = self.found.rest[-1]
        fill = Fill(origin=mouth_edge, at_mm=length_mm(mouth_edge.curve))
        return [
            *(Kept(bit=bit, motion=self.swings) for bit in self.first),
            *legs,
            *(Kept(bit=bit, motion=self.stays) for bit in self.second),
            *([fill] if self.is_whole else kept),
        ]

    def where(self, point: Point) -> int:
        """1 for what lies between the mouth and the place, 0 for what lies beyond."""
        apex = self.found.apex
        ring = [*(bit.curve for bit in self.first)]
        if self.way is not None:
            ring.append(line(ring[-1].end, apex))
        ring.append(line(apex, ring[0].start))
        return 1 if contains_point(ring, point) else 0


def _swing_of(found: DartInRing, to: Place, share: float) -> _Swing:
    piece = found.piece
    cut = cut_at(piece, to)
    if piece.edges[cut.index] in (*found.towards, *found.back, found.rest[0]) and _at_mouth(
        found, cut
    ):
        raise EditRefused("The dart is there already.", culprit=found.dart.id)
    bits = bits_of(piece.edges, [cut])
    at, first = bit_from(bits, piece.edges, cut), _index_of(bits, found.rest[0])
    bodies = between(bits, first, at), between(bits, at, _index_of(bits, found.towards[0]))
    turn_rad = wedge_angle(found) * share
    lengths = [sum(length_mm(bit.curve) for bit in body) for body in bodies]
    swings, stays = rotation(-turn_rad, found.apex), rotation(turn_rad, found.apex)
    moves_first = _first_moves(found, bodies, lengths)
    return _Swing(
        found=found,
        way=_way(bits[at].curve.start, found.apex),
        bits=bits,
        first=bodies[0],
        second=bodies[1],
        swings=swings if moves_first else None,
        stays=None if moves_first else stays,
        is_whole=share == 1.0,
    )


def _way(place: Point, apex: Point) -> Curve | None:
    is_short = np.hypot(*(apex - place)) <= SAME_STATION_MM
    return None if is_short else line(place, apex)


def _at_mouth(found: DartInRing, cut: Cut) -> bool:
    edge = found.piece.edges[cut.index]
    return edge in (*found.towards, *found.back) or cut.at_mm == 0.0


def _index_of(bits: list[Bit], edge: Edge) -> int:
    return next(i for i, bit in enumerate(bits) if bit.edge is edge and bit.from_mm == 0.0)


def _first_moves(
    found: DartInRing, bodies: tuple[list[Bit], list[Bit]], lengths: Sequence[float]
) -> bool:
    """The body with the fold stays, else the greater one: that is what a maker holds down."""
    for index, body in enumerate(bodies):
        if any(bit.edge.id == found.piece.fold_edge for bit in body):
            return index == 1
    return lengths[0] <= lengths[1]


def _moved_point(point: Point, motion: Affine | None) -> Point:
    return point if motion is None else np.asarray(motion.points(point))


def _new_dart(
    found: DartInRing, swing: _Swing, place: Point, naming: Naming
) -> tuple[Seam, tuple[Edge, Edge]]:
    """The dart at its new place and its legs; a whole dart keeps its id and those of its legs."""
    mouth = _moved_point(place, swing.swings), _moved_point(place, swing.stays)
    if swing.is_whole:
        ids = found.towards[0].id, found.back[0].id
        dart = _with_legs(found, found.dart, ids)
        legs = dart_legs(dart, (mouth[0], found.apex, mouth[1]), ids, naming)
        corners = found.towards[0].corner, found.back[0].corner
        return dart, (
            replace(legs[0], corner=corners[0]),
            replace(legs[1], corner=corners[1]),
        )
    own = naming.numbered(f"{_whole_id(found.dart.id)}.", first=2)
    ids = naming.fresh(f"{own}.a"), naming.fresh(f"{own}.b")
    bare = replace(found.dart, id=own, name=f"dart {own}")
    legs = dart_legs(bare, (mouth[0], found.apex, mouth[1]), ids, naming)
    return replace(_with_legs(found, bare, ids), apex=legs[1].corner), legs


def _whole_id(own: str) -> str:
    """The id of the dart that this one is a part of: that of `d1.2` is `d1`, so parts count on."""
    stem, _, last = own.rpartition(".")
    return stem if stem and last.isdecimal() else own


def _with_legs(found: DartInRing, dart: Seam, ids: tuple[EdgeId, EdgeId]) -> Seam:
    """The dart with these legs, on the sides where the old ones were."""
    towards, back = (Ref(ids[0]),), (Ref(ids[1], backward=True),)
    a_is_towards = found.dart.a[0].edge in {edge.id for edge in found.towards}
    a, b = (towards, back) if a_is_towards else (back, towards)
    return dart if (a, b) == (dart.a, dart.b) else replace(dart, a=a, b=b)


def _leg_fates(found: DartInRing, legs: tuple[Edge, Edge]) -> dict[EdgeId, Fate]:
    """Marks on the legs keep their fraction; the parts of a leg become one."""
    fates: dict[EdgeId, Fate] = {}
    for old, new in zip((found.towards, found.back), legs, strict=True):
        whole = sum(length_mm(edge.curve) for edge in old)
        scale = length_mm(new.curve) / whole
        at_mm = 0.0
        for edge in old:
            own_mm = length_mm(edge.curve)
            stretch = Stretch(
                from_mm=0.0,
                to_mm=own_mm,
                edge=new.id,
                new_from_mm=at_mm * scale,
                new_to_mm=(at_mm + own_mm) * scale,
            )
            fates[edge.id] = Fate(walk=(new.id,), stretches=(stretch,))
            at_mm += own_mm
    return fates
