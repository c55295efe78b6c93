"""Measures of the body that are unlikely, or contradict each other: taken again, never refused."""

from __future__ import annotations

from wedgework.checks.finding import Finding, Rule
from wedgework.pattern.document import Project
from wedgework.pattern.plausible import Doubt, disagreeing_of, unlikely_of


def measure_unlikely(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """A finding for each measure that hardly anybody has, held against women and men. In mm."""
    return tuple(_told(rule, doubt) for doubt in unlikely_of(project.body))


def measures_disagree(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """A finding for each set of measures that contradict each other. In mm."""
    return tuple(_told(rule, doubt) for doubt in disagreeing_of(project.body))


def _told(rule: Rule, doubt: Doubt) -> Finding:
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=doubt.sentence,
        where=doubt.names,
        measured=doubt.measured_mm,
        wanted=doubt.wanted_mm,
    )
