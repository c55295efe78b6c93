"""Openings that the body does not pass."""

from __future__ import annotations

from wedgework.checks.finding import Finding, Rule
from wedgework.pattern.document import Opening, Project
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.openings import measure_opening


def opening_too_small(rule: Rule, project: Project, opening: Opening) -> tuple[Finding, ...]:
    """A finding where an opening has to stretch further than it may. Per cent of its length."""
    measure = measure_opening(project, opening)
    if measure.stretch is None or measure.stretch <= opening.allowed_stretch:
        return ()
    needs, may = 100.0 * measure.stretch, 100.0 * opening.allowed_stretch
    message = (
        f"Opening “{opening.name or opening.id}” is {measure.length_mm:.0f} mm long and has to "
        f"stretch by {needs:.0f} % to let {measure.body_mm:.0f} mm pass; {may:.0f} % is allowed."
    )
    return (
        Finding(
            code=rule.code,
            grave=rule.grave,
            message=message,
            where=(opening.id, *(ref.edge for ref in opening.edges)),
            at_mm=the_edge(project, opening.edges[0].edge).curve.start,
            measured=needs,
            wanted=may,
        ),
    )
