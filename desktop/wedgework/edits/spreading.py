"""A piece opened or closed along one slash or several, its parts moved as rigid bodies.

What lies left of every slash stays; each strip behind a slash moves with all that went before it.
Gaps in the outline are filled straight, and a wedge that closes is taken out beside its slash.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from wedgework.edits.base import Place
from wedgework.edits.carry import Fate
from wedgework.edits.inside import Drawing, in_order, parted
from wedgework.edits.outlining import Stations
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
from wedgework.geometry.curve import Curve, Point, line, reversed_curve
from wedgework.geometry.motion import Affine, inverse, rotation, translation
from wedgework.geometry.nearest import nearest, signed_distance_mm
from wedgework.geometry.regions import contains_point, inside_spans
from wedgework.geometry.tolerances import SAME_POINT_MM, SAME_STATION_MM
from wedgework.pattern.document import Piece
from wedgework.pattern.errors import EditRefused


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Slash:
    """A slash from place to place, its way, and the gaps at its two ends, in mm."""

    from_: Place
    to: Place
    way: Curve
    open_mm: float
    open_to_mm: float

    @property
    def closes(self) -> bool:
        """Whether a wedge is taken out, not a gap opened."""
        return self.open_mm + self.open_to_mm < 0

    @property
    def motion(self) -> Affine:
        """How what lies right of it moves against what lies left."""
        return spread_motion(self.way, self.open_mm, self.open_to_mm)


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


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Side:
    """A slash on the outline: where it starts and ends, and where what moves begins.

    `kept` and `border` are the slash itself where it opens, the far side of the wedge else.
    """

    slash: Slash
    ends: tuple[Cut, Cut]
    kept: tuple[Cut, Cut]
    border: Curve


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Spread:
    """A piece at its slashes, in the order in which they follow each other, and its strips.

    Strip 0 stays; strip n, right of slash n, moves by `motions[n]`. Each strip has two stretches
    of the outline, that along the starts of the slashes and that along their ends; the last has
    one.
    """

    piece: Piece
    sides: tuple[_Side, ...]
    bits: list[Bit]
    near: list[list[Bit]]
    far: list[list[Bit]]
    motions: tuple[Affine | None, ...]

    def outline(self, naming: Naming) -> Outline:
        """The new outline."""
        return put_together(self.bits, list(self._items()), naming)

    def _items(self) -> Iterator[Item]:
        yield from (Kept(bit=bit) for bit in self.far[0])
        yield from (Kept(bit=bit) for bit in self.near[0])
        for number, side in enumerate(self.sides, start=1):
            yield self._fill(side.slash.from_)
            yield from (Kept(bit=bit, motion=self.motions[number]) for bit in self.near[number])
        for number in range(len(self.sides), 0, -1):
            yield self._fill(self.sides[number - 1].slash.to)
            if number > 1:
                motion = self.motions[number - 1]
                yield from (Kept(bit=bit, motion=motion) for bit in self.far[number - 1])

    def _fill(self, place: Place) -> Fill:
        return Fill(origin=edge_of_piece(self.piece, place.edge), at_mm=place.at_mm)

    def with_drawings(self, bare: Piece, naming: Naming) -> tuple[Piece, dict[str, Fate]]:
        """The piece with what was drawn in it moved along, and what has become of cut lines."""
        ways = [side.slash.way for side in self.sides]
        cuts = ways + [side.border for side in self.sides if side.slash.closes]
        drawings, fates = parted(self.piece, cuts, self.where, naming, self.beside)
        moved = map(_moved, drawings, self.motions)
        return in_order(bare, moved), fates

    def where(self, point: Point) -> int | None:
        """The number of the strip that holds a point, None in a wedge."""
        for number in range(len(self.motions)):
            if contains_point(self._ring(number), point):
                return number
        if contains_point([edge.curve for edge in self.piece.edges], point):
            return None
        return self.beside(point)

    def beside(self, point: Point) -> int:
        """The strip that a point off all strips goes with: as many slashes lie on its left."""
        ways = (side.slash.way for side in self.sides)
        return sum(signed_distance_mm(way, point) < 0 for way in ways)

    def _ring(self, number: int) -> list[Curve]:
        """The outline of a strip before it moved."""
        ring = [bit.curve for bit in self.near[number]]
        if number < len(self.sides):
            ring.append(self.sides[number].slash.way)
        ring += [bit.curve for bit in self.far[number]]
        if number > 0:
            ring.append(reversed_curve(self.sides[number - 1].border))
        return ring


def _moved(drawing: Drawing, motion: Affine | None) -> Drawing:
    return drawing if motion is None else drawing.moved(motion)


def spread_of(piece: Piece, slashes: Sequence[Slash]) -> Spread:
    """The piece at its slashes; EditRefused where they cross or a wedge is not there."""
    ends = [(cut_at(piece, one.from_), cut_at(piece, one.to)) for one in slashes]
    order = _in_order(piece, ends)
    sides = tuple(_side_of(piece, slashes[i], ends[i]) for i in order)
    _refuse_overlapping(piece, sides)
    bits = bits_of(piece.edges, (cut for side in sides for cut in (*side.ends, *side.kept)))

    def at(cut: Cut) -> int:
        return bit_from(bits, piece.edges, cut)

    near = [_stretch(bits, at(a.kept[0]), at(b.ends[0])) for a, b in pairwise(sides)]
    far = [_stretch(bits, at(b.ends[1]), at(a.kept[1])) for a, b in pairwise(sides)]
    first, last = sides[0], sides[-1]
    return Spread(
        piece=piece,
        sides=sides,
        bits=bits,
        # Strip 0 is one stretch from the end of the first slash round to its start.
        near=[[], *near, between(bits, at(last.kept[0]), at(last.kept[1]))],
        far=[between(bits, at(first.ends[1]), at(first.ends[0])), *far, []],
        motions=_motions(sides),
    )


def _stretch(bits: list[Bit], first: int, last: int) -> list[Bit]:
    return [] if first == last else between(bits, first, last)


def _motions(sides: Sequence[_Side]) -> tuple[Affine | None, ...]:
    """How each strip moves: as its slash says, after that the way of the strip before it."""
    motions: list[Affine | None] = [None]
    for side in sides:
        before = motions[-1]
        own = side.slash.motion
        motions.append(own if before is None else before.after(own))
    return tuple(motions)


def _in_order(piece: Piece, ends: Sequence[tuple[Cut, Cut]]) -> list[int]:
    """The slashes as they follow each other from left to right; EditRefused where they cross."""
    for first in range(len(ends)):
        walk = _Walk(piece, ends[first][0])
        spans = [(walk.station(start), walk.station(end, whole=True)) for start, end in ends]
        order = sorted(range(len(ends)), key=lambda i: (spans[i][0], -spans[i][1], i != first))
        if order[0] == first and _is_nested([spans[i] for i in order]):
            return order
    raise EditRefused(
        "The slashes must follow each other across the piece, all drawn from the same side, and "
        "must not cross.",
        culprit=piece.id,
    )


def _is_nested(spans: Sequence[tuple[float, float]]) -> bool:
    return all(a[0] <= b[0] < b[1] <= a[1] and a != b for a, b in pairwise(spans)) and all(
        low < high for low, high in spans
    )


class _Walk:
    """Stations of cuts along the outline, from one cut on."""

    def __init__(self, piece: Piece, first: Cut) -> None:
        self._stations = Stations(piece)
        self._first = self._stations.of_cut(first)

    def station(self, cut: Cut, *, whole: bool = False) -> float:
        """Where a cut lies, in mm; with `whole` the first itself lies a whole walk on."""
        at = (self._stations.of_cut(cut) - self._first) % self._stations.whole_mm
        return self._stations.whole_mm if whole and at == 0.0 else at


def _refuse_overlapping(piece: Piece, sides: Sequence[_Side]) -> None:
    """EditRefused where a wedge reaches beyond the next slash, or two slashes open at one place."""
    walk = _Walk(piece, sides[0].ends[0])
    for one, other in pairwise(sides):
        low, high = walk.station(one.kept[0]), walk.station(one.kept[1], whole=True)
        start, end = walk.station(other.ends[0]), walk.station(other.ends[1], whole=True)
        if low > start + SAME_STATION_MM or end > high + SAME_STATION_MM:
            raise EditRefused(
                "A wedge would reach beyond the next slash; close less, or set them further apart.",
                culprit=piece.id,
            )
        meets = one.ends[0] == other.ends[0], one.ends[1] == other.ends[1]
        gaps = (one.slash.open_mm, other.slash.open_mm), (
            one.slash.open_to_mm, other.slash.open_to_mm
        )  # fmt: skip
        if any(met and all(pair) for met, pair in zip(meets, gaps, strict=True)):
            raise EditRefused(
                "Two slashes that meet at a place cannot both open there.", culprit=piece.id
            )


def _side_of(piece: Piece, slash: Slash, ends: tuple[Cut, Cut]) -> _Side:
    if not slash.closes:
        return _Side(slash=slash, ends=ends, kept=ends, border=slash.way)
    kept, border = _beside_wedge(piece, ends, slash.way, slash.motion)
    return _Side(slash=slash, ends=ends, kept=kept, border=border)


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
