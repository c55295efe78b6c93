"""Give the edge of an opening the length that lies well: seams that run out into it taper."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import Meta

from wedgework.edits.base import Edit, Id, PositiveMm
from wedgework.edits.shape import IntakeStation, ShapeSeam
from wedgework.pattern.document import Opening, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.openings import SeamEnd, edge_fit, ring_mm, seams_into

NEAR_MM: Final = 1e-3
"""The edge comes this near to what was asked: far below what a blade does."""

ROUNDS: Final = 12
"""Rounds of the secant rule; an edge that is nearly straight takes three."""


class FitOpening(Edit, frozen=True, kw_only=True):
    """Cut the edge of an opening to a length: each seam that runs out into it tapers alike."""

    opening: Annotated[Id, Meta(description="opening, as round a leg or an arm")]
    length_mm: Annotated[
        PositiveMm | None,
        Meta(description="length of the whole ring; its way on the body less the reduction"),
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where no seam runs out into the ring, or the pieces have no room for it."""
        opening = project.openings.get(self.opening)
        if opening is None:
            raise EditRefused(f"There is no opening “{self.opening}”.", culprit=self.opening)
        wanted_mm = self.length_mm or _way_mm(project, opening)
        ends = seams_into(project, opening)
        if not ends:
            raise EditRefused(
                f"No seam that runs out into “{opening.name or opening.id}” has room to taper "
                "before the next level: draw its line elsewhere, or cut the band that goes on it "
                "to the length.",
                culprit=opening.id,
            )
        return _fitted(project, opening, ends, wanted_mm)


def _way_mm(project: Project, opening: Opening) -> float:
    fit = edge_fit(project, opening)
    if fit is None:
        raise EditRefused(
            f"How long the edge of “{opening.name or opening.id}” should be is not known: it lies "
            "round no limb, or the body is not measured there. Say a length.",
            culprit=opening.id,
        )
    return fit.wanted_mm


def _fitted(
    project: Project, opening: Opening, ends: tuple[SeamEnd, ...], wanted_mm: float
) -> Project:
    """The project with the ring as long as wanted: one width for all seams, by the secant rule."""
    last_mm, last_over = 0.0, ring_mm(project, opening) - wanted_mm
    if abs(last_over) <= NEAR_MM:
        return project
    width_mm = last_over / len(ends)
    for _ in range(ROUNDS):
        after = _tapered(project, ends, width_mm)
        over = ring_mm(after, opening) - wanted_mm
        if abs(over) <= NEAR_MM:
            return after
        if over == last_over:
            break
        step_mm = (width_mm - last_mm) / (over - last_over) * over
        last_mm, last_over, width_mm = width_mm, over, width_mm - step_mm
    raise EditRefused(
        f"The seams that run out into “{opening.name or opening.id}” cannot make it "
        f"{wanted_mm:.1f} mm long.",
        culprit=opening.id,
    )


def _tapered(project: Project, ends: tuple[SeamEnd, ...], width_mm: float) -> Project:
    """The project with a slice at the end of each seam, that wide there and nothing within."""
    for one in ends:
        outer = IntakeStation(at_mm=one.end_mm, width_mm=width_mm)
        inner = IntakeStation(at_mm=one.inner_mm, width_mm=0.0)
        stations = (outer, inner) if one.end == "first" else (inner, outer)
        shape = ShapeSeam(seam=one.seam.id, intake=stations, round_mm=one.reach_mm / 2)
        project = shape.change(project)
    return project
