"""Places on edges, and rings cut at them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import count, pairwise

import numpy as np

from wedgework.edits.base import Place
from wedgework.geometry.curve import Curve, Point, is_straight
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.split import split
from wedgework.geometry.tolerances import SAME_STATION_MM, STRAIGHT_MM
from wedgework.pattern.changes import fresh_id, has_id
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Ring
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import edge_in


class Naming:
    """Ids for what one edit makes: each new one is free in the project and not given before."""

    def __init__(self, project: Project) -> None:
        self._project = project
        self._given: list[str] = []

    def fresh(self, stem: str) -> str:
        """`stem`, or where that is taken `stem` with a number behind it."""
        name = fresh_id(self._project, stem, self._given)
        self._given.append(name)
        return name

    def numbered(self, stem: str, first: int = 1) -> str:
        """`stem` with the first number, from `first`, that is free: `side.n1`, `side.n2`."""
        return next(self.fresh(name) for n in count(first) if self._is_free(name := f"{stem}{n}"))

    def _is_free(self, name: str) -> bool:
        return name not in self._given and not has_id(self._project, name)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Bit:
    """A stretch of an edge after the ring was cut; `whole` where the edge was not cut."""

    edge: Edge
    from_mm: float
    to_mm: float
    curve: Curve
    whole: bool


def edge_of_piece(piece: Piece, edge: EdgeId) -> Edge:
    """An edge of the piece's outline; EditRefused where it has none of this id."""
    found = edge_in(piece, edge)
    if found is None:
        raise EditRefused(f"Piece “{piece.name or piece.id}” has no edge “{edge}”.", culprit=edge)
    if found not in piece.edges:
        raise EditRefused(f"“{edge}” is an edge of a cut-out, not of the outline.", culprit=edge)
    return found


def fold_edge_of(piece: Piece, about: EdgeId | None) -> Edge:
    """The edge that a piece is, or would be, folded about; EditRefused where that is not clear.

    What is named, else what it is folded about, else its only edge of finish `fold`, else its only
    straight one.
    """
    named = about or piece.fold_edge
    if named is not None:
        return edge_of_piece(piece, named)
    marked = [edge for edge in piece.edges if edge.finish == "fold"]
    straight = [edge for edge in piece.edges if is_straight(edge.curve, STRAIGHT_MM)]
    candidates = marked or straight
    if len(candidates) != 1:
        raise EditRefused(
            f"Say which edge piece “{piece.name or piece.id}” is folded about.", culprit=piece.id
        )
    return candidates[0]


@dataclass(frozen=True, slots=True)
class Cut:
    """A place on a ring: `at_mm` along the edge of an index; 0 is the corner where it starts."""

    index: int
    at_mm: float


def cut_at(piece: Piece, place: Place) -> Cut:
    """Where a place lies on the outline; an end of an edge is the corner there.

    EditRefused where the edge is not of the outline, or shorter than the place says.
    """
    edge = edge_of_piece(piece, place.edge)
    index = piece.edges.index(edge)
    whole = length_mm(edge.curve)
    if place.at_mm > whole + SAME_STATION_MM:
        raise EditRefused(
            f"Edge “{edge.name or edge.id}” is {whole:.2f} mm long; there is no place at "
            f"{place.at_mm:.2f} mm.",
            culprit=edge.id,
        )
    if place.at_mm <= SAME_STATION_MM:
        return Cut(index, 0.0)
    if place.at_mm >= whole - SAME_STATION_MM:
        return Cut((index + 1) % len(piece.edges), 0.0)
    return Cut(index, place.at_mm)


def bits_of(ring: Ring, cuts: Iterable[Cut]) -> list[Bit]:
    """The ring in bits, cut wherever a cut lies inside an edge, in the ring's order.

    EditRefused where two cuts are so near each other that nothing would lie between them.
    """
    inside: defaultdict[int, set[float]] = defaultdict(set)
    for cut in cuts:
        if cut.at_mm > 0.0:
            inside[cut.index].add(cut.at_mm)
    bits: list[Bit] = []
    for index, edge in enumerate(ring):
        whole = length_mm(edge.curve)
        at = sorted(inside[index])
        bounds = [0.0, *at, whole]
        if any(high - low <= SAME_STATION_MM for low, high in pairwise(at)):
            raise EditRefused(
                f"Two places on edge “{edge.name or edge.id}” are one and the same; nothing would "
                "lie between them.",
                culprit=edge.id,
            )
        for i, curve in enumerate(split(edge.curve, *at) if at else (edge.curve,)):
            bits.append(
                Bit(
                    edge=edge,
                    from_mm=bounds[i],
                    to_mm=bounds[i + 1],
                    curve=curve,
                    whole=not at,
                )
            )
    return bits


def bit_from(bits: list[Bit], ring: Ring, cut: Cut) -> int:
    """Index of the bit that starts at a cut."""
    edge = ring[cut.index]
    return next(i for i, bit in enumerate(bits) if bit.edge is edge and bit.from_mm == cut.at_mm)


def between(bits: list[Bit], first: int, last: int) -> list[Bit]:
    """Bits from `first` round to just before `last`; all of them where the two are one."""
    return bits[first:last] if first < last else bits[first:] + bits[:last]


def point_of(piece: Piece, cut: Cut) -> Point:
    """The point, (2,) mm, of a cut of the outline; a corner bit for bit."""
    curve = piece.edges[cut.index].curve
    return curve.start if cut.at_mm == 0.0 else np.asarray(point_at(curve, cut.at_mm))


def place_point(piece: Piece, place: Place) -> Point:
    """The point, (2,) mm, of a place on the piece's outline; a corner bit for bit."""
    return point_of(piece, cut_at(piece, place))
