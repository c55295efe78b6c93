"""Openings that the body does not pass."""

from __future__ import annotations

from collections.abc import Iterator

from wedgework.checks.finding import Finding, Rule
from wedgework.pattern.document import Opening, Project
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.openings import OpeningMeasure, measure_opening


def opening_too_small(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """A finding for each opening that has to stretch further than it may. In per cent."""
    return tuple(_found(rule, project))


def _found(rule: Rule, project: Project) -> Iterator[Finding]:
    for opening in project.openings.values():
        measure = measure_opening(project, opening)
        if measure.stretch is not None and measure.stretch > opening.allowed_stretch:
            yield _told(rule, project, opening, measure)


def _told(rule: Rule, project: Project, opening: Opening, measure: OpeningMeasure) -> Finding:
    needs, may = 100.0 * (measure.stretch or 0.0), 100.0 * opening.allowed_stretch
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"Opening “{opening.name or opening.id}” is {measure.length_mm:.0f} mm long and has to "
            f"stretch by {needs:.0f} % to let {measure.body_mm:.0f} mm pass; {may:.0f} % is "
            "allowed."
        ),
        where=(opening.id, *(ref.edge for ref in opening.edges)),
        at_mm=the_edge(project, opening.edges[0].edge).curve.start,
        measured=needs,
        wanted=may,
    )
