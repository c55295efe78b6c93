"""How long an opening is, and how far it has to stretch for the part of the body that passes it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from wedgework.geometry.length import length_mm
from wedgework.geometry.memo import memoised
from wedgework.pattern.body import base_of, measured
from wedgework.pattern.boundary import Boundary, Side
from wedgework.pattern.closings import closing_length_mm, closings_into
from wedgework.pattern.document import Opening, Piece, PieceId, Project, Ref, Seam
from wedgework.pattern.instances import made_seams
from wedgework.pattern.limbs import LIMB_MEASURES, leg_path_mm
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.reductions import reduction_of
from wedgework.pattern.table import Table

EDGE_PLAY: Final = 0.02
"""Edges are cut 8 to 12 % shorter than their way on the body, 10 % in the middle: so much of that
way to both sides still lies well; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningMeasure:
    """An opening against the body: lengths in mm; None where the body's measure is not known.

    `length_mm` is how far it opens unstretched: its ring, and twice each closing that runs out
    into it.
    """

    length_mm: float
    body_mm: float | None

    @property
    def stretch(self) -> float | None:
        """By which share of its length it has to stretch: girth / length - 1.

        Below nothing where the body passes without.
        """
        return None if self.body_mm is None else self.body_mm / self.length_mm - 1.0


def measure_opening(project: Project, opening: Opening) -> OpeningMeasure:
    """The ring of an opening, and what its measure is on the body."""
    total = ring_mm(project, opening)
    if project.closings:
        ring = whole_ring(project, opening)
        total += sum(
            2.0 * times * closing_length_mm(project, closing)
            for closing, times in closings_into(project, ring)
        )
    return OpeningMeasure(length_mm=total, body_mm=measured(project.body, opening.measure))


def ring_mm(project: Project, opening: Opening) -> float:
    """Length of the whole ring of an opening while every closing is closed."""
    ring = whole_ring(project, opening)
    return sum(length_mm(the_edge(project, ref.edge).curve) for ref in ring)


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeFit:
    """The edge round a limb, in mm: as it is, its way on the body, and as it should be cut."""

    edge_mm: float
    path_mm: float
    wanted_mm: float

    @property
    def over_mm(self) -> float:
        """How much longer the edge is than wanted: it gapes; below nothing it cuts in."""
        return self.edge_mm - self.wanted_mm

    @property
    def stretch(self) -> float:
        """By which share of its length the edge stretches when worn."""
        return self.path_mm / self.edge_mm - 1.0

    @property
    def lies_well(self) -> bool:
        """Whether it neither gapes nor cuts in."""
        return abs(self.over_mm) <= EDGE_PLAY * self.path_mm


def edge_fit(project: Project, opening: Opening) -> EdgeFit | None:
    """How an opening round a limb lies on the body; None for others, and where that is unknown."""
    girth_mm = measured(project.body, opening.measure)
    if girth_mm is None or base_of(opening.measure)[0] not in LIMB_MEASURES:
        return None
    path_mm = leg_path_mm(girth_mm, opening.rise_mm)
    wanted_mm = path_mm * (1.0 - reduction_of(project, "edge"))
    return EdgeFit(edge_mm=ring_mm(project, opening), path_mm=path_mm, wanted_mm=wanted_mm)


def whole_ring(project: Project, opening: Opening) -> tuple[Ref, ...]:
    """The edges of the ring; both halves where its mirror image closes the half that was named."""
    return _whole_ring(project.pieces, project.seams, project.owners, opening)


@memoised
def _whole_ring(
    pieces: Table[Piece], seams: Table[Seam], owners: Table[PieceId], opening: Opening
) -> tuple[Ref, ...]:
    project = Project(pieces=pieces, seams=seams, owners=owners)
    named = {Side(ref.edge, ref.mirrored) for ref in opening.edges}
    boundary = Boundary(project)
    boundary.join(made for made in made_seams(project) if not made.seam.laid_on)
    follows = {side: found[0] for side in named if (found := boundary.after(side)) is not None}
    beyond = {side for side in follows.values() if side not in named}
    if beyond and all(side.twin in named for side in beyond):
        twins = (Ref(ref.edge, ref.backward, not ref.mirrored) for ref in opening.edges)
        return (*opening.edges, *twins)
    return opening.edges
