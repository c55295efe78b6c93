"""The open boundary of a garment that is partly joined: which open edge comes after which.

A side is an edge of a piece as drawn or of its mirror image; it is walked with its piece on the
left. Where the next edge of the piece is joined, the walk goes over to the piece on the other
side of that seam, and so on round the corner until it comes to an open edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final, NamedTuple

from wedgework.pattern.angles import angle_between_edges
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Ref, Run
from wedgework.pattern.instances import MadeSeam, halves_of

MOST_PIECES_ROUND: Final = 64
"""More pieces than this do not meet in a corner: what turns longer is no corner."""


class Side(NamedTuple):
    """An edge of a piece as drawn, or of its mirror image."""

    edge: EdgeId
    mirrored: bool

    @property
    def ref(self) -> Ref:
        """The side as a run walks it with its piece on the left."""
        return Ref(self.edge, backward=self.mirrored, mirrored=self.mirrored)

    @property
    def twin(self) -> Side:
        """The same edge of the other half."""
        return Side(self.edge, not self.mirrored)


@dataclass(frozen=True, slots=True)
class Corner:
    """What lies round a corner of the garment between two open sides that follow each other."""

    angle_rad: float
    over_fold: bool
    over_seam: bool


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a side stands in a made seam: in run A, walked on the left, or in run B."""

    made: int
    in_a: bool
    index: int


@dataclass(eq=False, slots=True)
class Boundary:
    """The sides of all pieces, and the seams that are made so far."""

    project: Project
    runs: list[tuple[Run, Run]] = field(default_factory=list)
    _rings: dict[EdgeId, tuple[Edge, Edge, Edge, Piece]] = field(default_factory=dict)
    _places: dict[Side, _Place] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Lay out every ring."""
        for piece in self.project.pieces.values():
            for ring in (piece.edges, *(cutout.edges for cutout in piece.cutouts)):
                around = zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True)
                for before, edge, after in around:
                    self._rings[edge.id] = (before, edge, after, piece)

    def join(self, made: Iterable[MadeSeam]) -> None:
        """Take seams as made: one that has its piece on the left in both runs is passed over."""
        for seam in made:
            a, b = (seam.a, seam.b) if seam.a[0].on_left else (seam.b, seam.a)
            if not all(ref.on_left for ref in a) or any(ref.on_left for ref in b):
                continue
            for in_a, run in ((True, a), (False, b)):
                for index, ref in enumerate(run):
                    place = _Place(len(self.runs), in_a, index)
                    self._places[Side(ref.edge, ref.mirrored)] = place
            self.runs.append((a, b))

    def piece_of(self, side: Side) -> Piece:
        """The piece that a side belongs to."""
        return self._rings[side.edge][3]

    def edge_of(self, side: Side) -> Edge:
        """The edge of a side."""
        return self._rings[side.edge][1]

    def is_open(self, side: Side) -> bool:
        """Whether a side is in no seam yet, and no fold."""
        return side not in self._places and self.piece_of(side).fold_edge != side.edge

    def sides(self) -> Iterable[Side]:
        """Every side of every half that the garment has, in the order of the pieces."""
        for piece in self.project.pieces.values():
            for half in halves_of(piece):
                yield from (Side(edge.id, half.mirrored) for edge in piece.all_edges())

    def after(self, side: Side) -> tuple[Side, Corner] | None:
        """The open side that follows an open one, and the corner between; None where none does."""
        angle, fold, seam = 0.0, False, False
        for _ in range(MOST_PIECES_ROUND):
            before, edge, behind, piece = self._rings[side.edge]
            if side.mirrored:
                angle += angle_between_edges(before, edge)
                following = Side(before.id, mirrored=True)
            else:
                angle += angle_between_edges(edge, behind)
                following = Side(behind.id, mirrored=False)
            if piece.fold_edge == following.edge:
                side, fold = following.twin, True
                continue
            if following not in self._places:
                return following, Corner(angle, fold, seam)
            side, across = self._across(self._places[following])
            angle, seam = angle + across, True
        return None

    def _across(self, place: _Place) -> tuple[Side, float]:
        a, b = self.runs[place.made]
        return across_joint(a, b, in_a=place.in_a, index=place.index)


def across_joint(a: Run, b: Run, *, in_a: bool, index: int) -> tuple[Side, float]:
    """The side that ends, walked on its left, where that of a place starts; the angle between.

    `a` is walked on the left. At an end of the seam that is a side of the other run; inside a run,
    the neighbour in the same run, with the other run's edge, straight through there, between the
    two.
    """
    if in_a:
        ref, between = (a[index - 1], math.pi) if index else (b[0], 0.0)
    else:
        is_last = index == len(b) - 1
        ref, between = (a[-1], 0.0) if is_last else (b[index + 1], math.pi)
    return Side(ref.edge, ref.mirrored), between
