"""How long an opening is, and how far it has to stretch for the part of the body that passes it."""

from __future__ import annotations

from dataclasses import dataclass

from wedgework.geometry.length import length_mm
from wedgework.pattern.boundary import Boundary, Side
from wedgework.pattern.document import Opening, Project, Ref
from wedgework.pattern.instances import made_seams
from wedgework.pattern.lookup import the_edge


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningMeasure:
    """An opening against the body: lengths in mm; None where the body's measure is not known."""

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
    ring = whole_ring(project, opening)
    total = sum(length_mm(the_edge(project, ref.edge).curve) for ref in ring)
    return OpeningMeasure(length_mm=total, body_mm=project.body.get(opening.measure))


def whole_ring(project: Project, opening: Opening) -> tuple[Ref, ...]:
    """The edges of the ring; both halves where its mirror image closes the half that was named."""
    named = {Side(ref.edge, ref.mirrored) for ref in opening.edges}
    boundary = Boundary(project)
    boundary.join(made for made in made_seams(project) if not made.seam.laid_on)
    follows = {side: found[0] for side in named if (found := boundary.after(side)) is not None}
    beyond = {side for side in follows.values() if side not in named}
    if beyond and all(side.twin in named for side in beyond):
        twins = (Ref(ref.edge, ref.backward, not ref.mirrored) for ref in opening.edges)
        return (*opening.edges, *twins)
    return opening.edges
