"""Slash a piece from place to place and spread it, hinged or parallel; or close it up."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated

import msgspec
import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Mm, Place
from wedgework.edits.carry import Fate, carried
from wedgework.edits.cut import way_between
from wedgework.edits.inside import in_order, parted
from wedgework.edits.places import (
    Bit,
    Cut,
    Naming,
    between,
    bit_from,
    bits_of,
    cut_at,
    edge_of_piece,
    point_of,
)
from wedgework.edits.surgery import Fill, Item, Kept, Outline, put_together
from wedgework.edits.ways import refuse_way_out
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.curve import Curve, Point, is_straight, joined, line, reversed_curve
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import Affine, inverse, rotation, translation
from wedgework.geometry.nearest import nearest, signed_distance_mm
from wedgework.geometry.regions import contains_point, inside_spans
from wedgework.geometry.tolerances import SAME_POINT_MM, SAME_STATION_MM, STRAIGHT_MM
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Edge, EdgeId, Piece, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_piece


class SlashSpread(Edit, frozen=True, kw_only=True):
    """Slash a piece and spread it: what lies left of the slash stays, the rest moves as one.

    A gap of 0 at one end is a hinge, equal gaps spread in parallel, negative gaps close.
    """

    piece: Annotated[Id, Meta(description="piece that is slashed")]
    from_: Annotated[Place, Meta(description="where the slash starts")] = msgspec.field(name="from")
    to: Annotated[Place, Meta(description="where it ends")]
    open_mm: Annotated[Mm, Meta(description="gap at its start; negative takes out")]
    open_to_mm: Annotated[Mm, Meta(description="gap at its end; 0 is a hinge")] = 0.0

    def change(self, project: Project) -> Project:
        """EditRefused where the slash leaves the piece, or the piece cannot spread so."""
        piece = the_piece(project, self.piece)
        if self.open_mm * self.open_to_mm < 0:
            raise EditRefused("The two gaps must both open or both close.", culprit=piece.id)
        way = way_between(piece, self.from_, self.to, ())
        refuse_way_out(piece, way, "The slash")
        if self.open_mm == self.open_to_mm == 0.0:
            return project
        motion = spread_motion(way, self.open_mm, self.open_to_mm)
        closes = self.open_mm + self.open_to_mm < 0
        slash = _slash_of(piece, (self.from_, self.to), way, motion if closes else None)
        naming = Naming(project)
        outline = _with_one_fold(piece, put_together(slash.bits, slash.items(motion), naming))
        drawings, fates = parted(piece, slash.cuts, slash.where, naming)
        if piece.fold_edge is not None and piece.fold_edge in outline.fates:
            _refuse_lost_fold(piece, outline.fates[piece.fold_edge].walk)
        bare = replace(piece, edges=outline.edges)
        changed = in_order(bare, [drawings[0], drawings[1].moved(motion)])
        refuse_new_crossing(piece, changed)
        return carried(with_pieces(project, changed), fates | outline.fates)


def spread_motion(way: Curve, open_mm: float, open_to_mm: float) -> Affine:
    """How the right side moves: the gaps, in mm, are chords at the two ends of the way.

    A turn about the point of the way's line where the gap is nothing: at distance d from it the
    gap is 2 d sin(half the turn). Equal gaps: square to the way.
    """
    along = way.end - way.start
    length = float(np.hypot(*along))
    difference = open_mm - open_to_mm
    if abs(difference) <= SAME_POINT_MM:
        right = np.array([along[1], -along[0]]) / length
        return translation(right * open_mm)
    if abs(difference) >= 2 * length:
        raise EditRefused(f"A slash of {length:.1f} mm cannot open by {difference:.1f} mm.")
    turn_rad = 2 * math.asin(difference / (2 * length))
    return rotation(turn_rad, way.start + along * (open_mm / difference))


def refuse_cut_fold(piece: Piece, places: tuple[Place, ...]) -> None:
    """EditRefused where a place lies inside the edge that the piece is folded about."""
    for place in places:
        cut = cut_at(piece, place)
        if cut.at_mm > 0.0 and piece.edges[cut.index].id == piece.fold_edge:
            raise _bent_fold(piece)


def _bent_fold(piece: Piece) -> EditRefused:
    return EditRefused(
        f"“{piece.fold_edge}” is the fold of piece “{piece.name or piece.id}” and has to "
        "stay one straight line; set the piece's cutting first.",
        culprit=piece.fold_edge,
    )


def _with_one_fold(piece: Piece, outline: Outline) -> Outline:
    """The outline with a fold that was slashed square across, and so stays straight, as one edge.

    EditRefused where the slash bends it.
    """
    fold = next((edge for edge in piece.edges if edge.id == piece.fold_edge), None)
    fate = None if fold is None else outline.fates.get(fold.id)
    if fold is None or fate is None or fold.id in fate.walk or len(fate.walk) < 2:
        return outline
    by_id = {edge.id: edge for edge in outline.edges}
    parts = [by_id[own] for own in fate.walk]
    whole = joined(*(part.curve for part in parts))
    if not is_straight(whole, STRAIGHT_MM):
        raise _bent_fold(piece)
    one = replace(fold, corner=parts[0].corner, curve=line(whole.start, whole.end))
    edges = tuple(
        one if edge is parts[0] else edge for edge in outline.edges if edge not in parts[1:]
    )
    return Outline(edges=edges, fates=outline.fates | {fold.id: _fate_in_one(fate, parts, one)})


def _fate_in_one(fate: Fate, parts: Sequence[Edge], one: Edge) -> Fate:
    """The fate of an edge whose parts, in its own direction, were made one again."""
    ends = np.cumsum([length_mm(part.curve) for part in parts])
    starts = dict(zip([part.id for part in parts], [0.0, *ends], strict=False))
    stretches = [
        replace(
            stretch,
            edge=one.id,
            new_from_mm=starts[stretch.edge] + stretch.new_from_mm,
            new_to_mm=starts[stretch.edge] + stretch.new_to_mm,
        )
        for stretch in fate.stretches
    ]
    return Fate(walk=(one.id,), stretches=tuple(stretches))


def _refuse_lost_fold(piece: Piece, walk: tuple[EdgeId, ...]) -> None:
    if piece.fold_edge not in walk:
        raise EditRefused(
            f"The wedge would take “{piece.fold_edge}” out, the fold of piece "
            f"“{piece.name or piece.id}”.",
            culprit=piece.fold_edge,
        )


def refuse_new_crossing(old: Piece, new: Piece) -> None:
    """EditRefused where the outline has come to cross itself."""
    before, after = ([edge.curve for edge in piece.edges] for piece in (old, new))
    if crosses_itself(after) and not crosses_itself(before):
        raise EditRefused(f"Piece “{old.name or old.id}” would run into itself.", culprit=old.id)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Slash:
    """A piece at a slash. `left` stays, `right` moves; `border` is where `right` begins.

    When spreading the border is the slash itself; when closing, a wedge lies between the two.
    """

    piece: Piece
    way: Curve
    border: Curve
    bits: list[Bit]
    left: list[Bit]
    right: list[Bit]
    fills: tuple[Fill, Fill]

    def items(self, motion: Affine) -> list[Item]:
        """The new outline: what stays, and what moves, with a fill between where they part."""
        return [
            *(Kept(bit=bit) for bit in self.left),
            self.fills[0],
            *(Kept(bit=bit, motion=motion) for bit in self.right),
            self.fills[1],
        ]

    @property
    def cuts(self) -> list[Curve]:
        """The lines that part what is drawn."""
        return [self.way] if self.border is self.way else [self.way, self.border]

    def where(self, point: Point) -> int | None:
        """0 for what stays, 1 for what moves, None for the wedge."""
        rings = [*(bit.curve for bit in self.left), self.way], [
            *(bit.curve for bit in self.right), reversed_curve(self.border)
        ]  # fmt: skip
        for side, ring in enumerate(rings):
            if contains_point(ring, point):
                return side
        if contains_point([edge.curve for edge in self.piece.edges], point):
            return None
        return 0 if signed_distance_mm(self.way, point) >= 0 else 1


def _slash_of(
    piece: Piece, places: tuple[Place, Place], way: Curve, closing: Affine | None
) -> _Slash:
    """The piece at a slash; with `closing`, the wedge that this motion closes is no part of it."""
    ends = cut_at(piece, places[0]), cut_at(piece, places[1])
    kept, border = ends, way
    if closing is not None:
        kept, border = _beside_wedge(piece, ends, way, closing)
    bits = bits_of(piece.edges, (*ends, *kept))
    start, end, first, last = (bit_from(bits, piece.edges, cut) for cut in (*ends, *kept))
    origins = [edge_of_piece(piece, place.edge) for place in places]
    return _Slash(
        piece=piece,
        way=way,
        border=border,
        bits=bits,
        left=between(bits, end, start),
        right=between(bits, first, last),
        fills=(
            Fill(origin=origins[0], at_mm=places[0].at_mm),
            Fill(origin=origins[1], at_mm=places[1].at_mm),
        ),
    )


def _beside_wedge(
    piece: Piece, ends: tuple[Cut, Cut], way: Curve, motion: Affine
) -> tuple[tuple[Cut, Cut], Curve]:
    """Where the far side of a wedge meets the outline right of the way, and that side itself.

    The motion puts it on the line of the way. EditRefused where that would tear the piece.
    """
    bits = bits_of(piece.edges, ends)
    start, end = (bit_from(bits, piece.edges, cut) for cut in ends)
    ring = [*(bit.curve for bit in between(bits, start, end)), reversed_curve(way)]
    back = inverse(motion)
    near, far = back.points(way.start), back.points(way.end)
    along = (far - near) / np.hypot(*(far - near))
    spans = inside_spans(near, far, ring, endless=True)
    reach = float(np.hypot(*(far - near)))
    crossed = [(low, high) for low, high in spans if high > 0 and low < reach]
    if len(crossed) != 1:
        raise EditRefused(
            f"Piece “{piece.name or piece.id}” has no such wedge beside the slash to take out.",
            culprit=piece.id,
        )
    first, last = (near + at * along for at in crossed[0])
    kept = _cut_near(piece, ends, first), _cut_near(piece, ends, last)
    return kept, line(first, last)


def _cut_near(piece: Piece, ends: tuple[Cut, Cut], point: Point) -> Cut:
    """The cut at a point of the outline; an end of the slash where the point is that."""
    for cut in ends:
        if np.hypot(*(point_of(piece, cut) - point)) <= SAME_STATION_MM:
            return cut
    feet = [nearest(edge.curve, point) for edge in piece.edges]
    index = min(range(len(feet)), key=lambda i: feet[i].distance_mm)
    return cut_at(piece, Place(piece.edges[index].id, feet[index].station_mm))
