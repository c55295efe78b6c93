"""Cut a piece in two along a line, straight or smooth, and join the two in a flat seam."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated

import msgspec
import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Place, PointMm
from wedgework.edits.carry import carried
from wedgework.edits.inside import Where, in_order, parted
from wedgework.edits.places import Bit, Naming, between, bit_from, bits_of, cut_at, place_point
from wedgework.edits.slits import (
    Slit,
    halves_of,
    slits_in_way,
    ways_between,
    with_halved_darts,
    without_slits,
)
from wedgework.edits.surgery import Item, Kept, Outline, outlines_of
from wedgework.edits.ways import refuse_way_out
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.curve import Curve, Point, is_straight, line, reversed_curve, with_ends
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.length import length_mm
from wedgework.geometry.nearest import signed_distance_mm
from wedgework.geometry.regions import contains_point
from wedgework.geometry.tolerances import LEAST_WIDTH_MM, SAME_STATION_MM, STRAIGHT_MM
from wedgework.pattern.changes import with_piece_replaced, with_seams
from wedgework.pattern.darts import darts_of
from wedgework.pattern.document import Cutting, Edge, EdgeId, Piece, Project, Ref, Ring, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_piece

Names = tuple[str, str]
"""What the parts left and right of a cut are called."""


class CutPiece(Edit, frozen=True, kw_only=True):
    """Cut a piece in two from one place of its outline to another, and join the two parts flat."""

    piece: Annotated[Id, Meta(description="piece that is cut")]
    from_: Annotated[Place, Meta(description="where the cut starts")] = msgspec.field(name="from")
    to: Annotated[Place, Meta(description="where it ends")]
    via_mm: Annotated[
        tuple[PointMm, ...],
        Meta(max_length=1000, description="points that a smooth cut passes through"),
    ] = ()

    def change(self, project: Project) -> Project:
        """EditRefused where the cut would leave the piece on its way."""
        piece = the_piece(project, self.piece)
        way = way_between(piece, self.from_, self.to, self.via_mm)
        return cut_through(project, piece, Through(self.from_, self.to, way))


@dataclass(frozen=True, eq=False, slots=True)
class Through:
    """A way through a piece, from place to place of its outline."""

    from_: Place
    to: Place
    way: Curve


def cut_through(project: Project, piece: Piece, cut: Through, names: Names = ("", "")) -> Project:
    """The project with a piece cut in two along a way, the parts joined flat.

    `names` are those of the parts left and right of the way, where they are not the piece's own.
    A double-pointed dart in the way comes apart into two. EditRefused where the cut would leave
    the piece, cross itself or end where it starts.
    """
    slits = slits_in_way(project, piece, cut.way)
    return with_halved_darts(cut_past(project, piece, cut, slits, names), slits)


def cut_past(
    project: Project, piece: Piece, cut: Through, slits: Sequence[Slit], names: Names = ("", "")
) -> Project:
    """As `cut_through`, what is left of slits in the way not sorted out into darts yet."""
    naming = Naming(project)
    if np.hypot(*(cut.way.end - cut.way.start)) <= SAME_STATION_MM:
        raise EditRefused("A cut needs two different places.", culprit=cut.from_.edge)
    piece = without_slits(piece, slits)
    refuse_way_out(piece, cut.way, "The cut")
    seam = _flat_seam(piece, len(slits) + 1, naming)
    sides = _sides(piece, cut, slits, seam, naming)
    _refuse_slivers(sides, cut.from_)
    if not is_straight(cut.way, STRAIGHT_MM):
        _refuse_looped(sides)
    where = side_of(cut.way, [one.edges for one in sides])
    drawings, fates = parted(piece, [cut.way], where, naming)
    bares = bare_parts(piece, sides, naming)
    parts = [
        in_order(replace(bare, name=name or bare.name), [drawing])
        for bare, drawing, name in zip(bares, drawings, names, strict=True)
    ]
    after = with_piece_replaced(project, piece.id, *parts)
    return with_seams(_with_cut_darts(carried(after, fates | sides[0].fates), parts), seam)


def _with_cut_darts(project: Project, parts: list[Piece]) -> Project:
    """The project where a dart whose legs came apart at its apex is a seam of the two parts."""
    part_of = {edge.id: number for number, one in enumerate(parts) for edge in one.edges}
    apart = [
        replace(dart, apex=None)
        for dart in darts_of(project)
        if part_of.get(dart.a[-1].edge) != part_of.get(dart.b[-1].edge)
    ]
    return with_seams(project, *apart) if apart else project


def way_between(piece: Piece, start: Place, end: Place, via_mm: tuple[PointMm, ...]) -> Curve:
    """The line of the cut, its ends on the outline bit for bit; EditRefused where they are one."""
    first, last = place_point(piece, start), place_point(piece, end)
    points = np.array([first, *via_mm, last], dtype=np.float64)
    steps = np.hypot(*np.diff(points, axis=0).T)
    if (steps <= SAME_STATION_MM).any():
        raise EditRefused("A cut needs two different places.", culprit=start.edge)
    if not via_mm:
        return line(first, last)
    return with_ends(smooth_through(points), first, last)


def _flat_seam(piece: Piece, stretches: int, naming: Naming) -> Seam:
    """The seam of a cut, its sides of so many edges: darts lie between them."""
    own = naming.fresh(f"{piece.id}.cut")
    numbers = [f".{number}" for number in range(1, stretches + 1)] if stretches > 1 else [""]
    return Seam(
        id=own,
        name=f"{piece.name or piece.id} cut",
        a=tuple(Ref(naming.fresh(f"{own}.a{number}")) for number in numbers),
        b=tuple(Ref(naming.fresh(f"{own}.b{number}"), backward=True) for number in numbers),
    )


def _sides(
    piece: Piece, cut: Through, slits: Sequence[Slit], seam: Seam, naming: Naming
) -> list[Outline]:
    """The outlines of the left and the right part, each starting along the cut."""
    ends = cut_at(piece, cut.from_), cut_at(piece, cut.to)
    bits = bits_of(piece.edges, ends)
    start, end = (bit_from(bits, piece.edges, one) for one in ends)
    # The very points that the outline was cut at: both sides of the seam then are one curve.
    way = with_ends(cut.way, bits[start].curve.start, bits[end].curve.start)
    halves = [halves_of(slit) for slit in slits]
    ways = ways_between(way, slits, halves)
    left = [_edge(ref, one, naming) for ref, one in zip(seam.a, ways, strict=True)]
    right = [_edge(ref, reversed_curve(one), naming) for ref, one in zip(seam.b, ways, strict=True)]
    rings = [
        [*_joined(left, [half.left for half in halves]), *_kept(between(bits, end, start))],
        [
            *_joined(right[::-1], [half.right for half in halves[::-1]]),
            *_kept(between(bits, start, end)),
        ],
    ]
    all_bits = bits + [bit for half in halves for bit in (*half.left, *half.right)]
    return outlines_of(all_bits, rings, naming)


def _edge(ref: Ref, curve: Curve, naming: Naming) -> Edge:
    return Edge(id=ref.edge, name="", curve=curve, corner=naming.fresh(f"{ref.edge}.c"))


def _kept(bits: Sequence[Bit]) -> list[Item]:
    return [Kept(bit=bit) for bit in bits]


def _joined(edges: Sequence[Edge], between_them: Sequence[Sequence[Bit]]) -> list[Item]:
    """The edges of one side of a cut, with what is left of a slit between any two."""
    items: list[Item] = [edges[0]]
    for edge, bits in zip(edges[1:], between_them, strict=True):
        items += [*_kept(bits), edge]
    return items


def _refuse_slivers(sides: list[Outline], start: Place) -> None:
    """EditRefused where a part would be too narrow to be cut: the way runs along the outline."""
    for one in sides:
        curves = [edge.curve for edge in one.edges]
        if ring_area_mm2(curves) <= LEAST_WIDTH_MM * sum(map(length_mm, curves)) / 2:
            raise EditRefused(
                "The cut would run along the outline, and one part would have no width.",
                culprit=start.edge,
            )


def _refuse_looped(sides: list[Outline]) -> None:
    """EditRefused where a smooth cut crosses itself on its way from point to point."""
    for one in sides:
        if crosses_itself([edge.curve for edge in one.edges]):
            raise EditRefused("The cut would cross itself; put its points in another order.")


def bare_parts(piece: Piece, sides: list[Outline], naming: Naming) -> list[Piece]:
    """Both parts, each still with all that is drawn."""
    parts = []
    for number, (outline, fold) in enumerate(zip(sides, _folds(piece, sides), strict=True), 1):
        parts.append(
            replace(
                piece,
                id=naming.fresh(f"{piece.id}.{number}"),
                name=f"{piece.name or piece.id} {number}",
                edges=outline.edges,
                cutting=_cutting(piece.cutting, fold),
                fold_edge=fold,
            )
        )
    return parts


def side_of(way: Curve, rings: list[Ring]) -> Where:
    """0 on the left of the way, 1 on its right; beyond the piece by the nearest point of it."""
    curves = [[edge.curve for edge in ring] for ring in rings]

    def where(point: Point) -> int:
        inside = [contains_point(ring, point) for ring in curves]
        if inside[0] != inside[1]:
            return inside.index(True)
        return 0 if signed_distance_mm(way, point) >= 0 else 1

    return where


def _folds(piece: Piece, sides: list[Outline]) -> list[EdgeId | None]:
    """Which edge of each part is (a part of) the fold of the piece, None where none is."""
    if piece.fold_edge is None:
        return [None, None]
    fate = sides[0].fates.get(piece.fold_edge)
    folds = {piece.fold_edge} if fate is None else set(fate.walk)
    return [next((e.id for e in one.edges if e.id in folds), None) for one in sides]


def _cutting(cutting: Cutting, fold: EdgeId | None) -> Cutting:
    # What hangs on the fold stays one, unfolded; what comes off it is there left and right.
    return "pair" if cutting == "fold" and fold is None else cutting
