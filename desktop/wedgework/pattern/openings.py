"""How long an opening is, and how far it has to stretch for the part of the body that passes it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from wedgework.geometry.length import length_mm
from wedgework.geometry.memo import memoised
from wedgework.pattern.body import base_of, measured
from wedgework.pattern.boundary import Boundary, Side
from wedgework.pattern.closings import closing_length_mm, closing_of, closings_into, times_made
from wedgework.pattern.document import Opening, Piece, PieceId, Project, Ref, Seam
from wedgework.pattern.ends import ENDS, End, run_end
from wedgework.pattern.instances import made_seams
from wedgework.pattern.limbs import LIMB_MEASURES, leg_path_mm
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.reductions import reduction_of
from wedgework.pattern.runs import walked
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.table import Table
from wedgework.pattern.wanted import station_at_level

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


MOST_RISE_MM: Final = 300.0
"""No edge rises further round a leg: from the crotch to above the hip bone; common practice, no
source."""

RISE_ROUNDS: Final = 40
"""Halvings of MOST_RISE_MM: far below what a tape shows."""


def rise_that_fits_mm(project: Project, opening: Opening) -> float | None:
    """How much an edge, as long as it is, would rise on the body to lie as it should.

    None where it lies round no limb, or is too short or too long for any line round it.
    """
    fit, girth_mm = edge_fit(project, opening), measured(project.body, opening.measure)
    if fit is None or girth_mm is None:
        return None
    path_mm = fit.edge_mm / fit.wanted_mm * fit.path_mm
    low, high = 0.0, MOST_RISE_MM
    if not leg_path_mm(girth_mm, low) <= path_mm <= leg_path_mm(girth_mm, high):
        return None
    for _ in range(RISE_ROUNDS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if leg_path_mm(girth_mm, middle) < path_mm else (low, middle)
    return (low + high) / 2.0


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


TAPER_MM: Final = 100.0
"""A seam tapers into an edge over so much of its length; common practice, no source."""

LEAST_TAPER_MM: Final = 30.0
"""A shorter taper turns the edge's corner visibly; common practice, no source."""


@dataclass(frozen=True, eq=False, slots=True)
class SeamEnd:
    """The end of a seam at the edge of an opening, and over how much of side A it may taper."""

    seam: Seam
    end: End
    end_mm: float
    inner_mm: float

    @property
    def reach_mm(self) -> float:
        """Length of the taper."""
        return abs(self.end_mm - self.inner_mm)


def seams_into(project: Project, opening: Opening) -> tuple[SeamEnd, ...]:
    """Ends of glued seams between two edges of a ring, with room to taper before the next level."""
    found = [_seam_end(project, *one) for one in ends_at(project, opening)]
    return tuple(one for one in found if one.reach_mm >= LEAST_TAPER_MM)


def ends_at(project: Project, opening: Opening) -> tuple[tuple[Seam, End], ...]:
    """Glued seams of the skin that end between two edges of a ring, each with that end."""
    ring = {ref.edge for ref in whole_ring(project, opening)}
    found: list[tuple[Seam, End]] = []
    for seam in project.seams.values():
        if seam.is_dart or seam.laid_on or closing_of(project, seam.id) is not None:
            continue
        runs = walked(project, seam.a), walked(project, seam.b)
        found += [
            (seam, end)
            for end in ENDS
            if all(run_end(run, end).neighbour.id in ring for run in runs)
        ]
    return tuple(found)


def slit_mm(project: Project, opening: Opening, seam: Seam) -> float | None:
    """How long a seam has to open from a ring so that all passes: a slit of s opens it by 2 s.

    None where the body is not measured; below nothing where it passes as it is.
    """
    measure = measure_opening(project, opening)
    if measure.body_mm is None:
        return None
    short_mm = measure.body_mm / (1.0 + opening.allowed_stretch) - measure.length_mm
    return short_mm / (2.0 * times_made(project, seam))


def _seam_end(project: Project, seam: Seam, end: End) -> SeamEnd:
    """The end of a seam, its taper ending at the nearest level: the girth there is to stay."""
    measured = measure_seam(project, seam)
    whole_mm = measured.a.length_mm
    end_mm = 0.0 if end == "first" else whole_mm
    levels = [
        abs(at - end_mm)
        for level in project.levels.values()
        if (at := station_at_level(measured, level)) is not None
    ]
    # The taper's tip is rounded a quarter of the taper to both sides: the level is beyond that.
    reach = min([TAPER_MM, whole_mm / 2, *levels]) / 1.25
    return SeamEnd(seam, end, end_mm, end_mm + (reach if end == "first" else -reach))
