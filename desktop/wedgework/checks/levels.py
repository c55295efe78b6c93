"""Levels at which the garment is not what the body, reduced, asks for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wedgework.checks.finding import Finding, Rule
from wedgework.pattern.closings import times_made
from wedgework.pattern.document import Level, Project, Seam
from wedgework.pattern.levels import LevelFit, level_fit, level_lines
from wedgework.pattern.wanted import (
    KnownLevels,
    LevelIntake,
    WholeIntake,
    seams_at_level,
    whole_intake,
)

MOST_SEAMS: Final = 3
"""A sentence tells the intake of so many seams; the card tells all."""


def level_misses(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """A finding for each level whose flat girth misses the body's, reduced, by over 5 mm."""
    return tuple(_found(rule, project)) if project.body and project.levels else ()


def _found(rule: Rule, project: Project) -> Iterator[Finding]:
    for level in project.levels.values():
        fit = level_fit(project, level)
        if fit is not None and not fit.fits:
            yield _told(rule, project, level, fit)


def _told(rule: Rule, project: Project, level: Level, fit: LevelFit) -> Finding:
    line = next(line for piece in project.pieces.values() for line in level_lines(piece, level.id))
    way = "wide" if fit.difference_mm > 0 else "tight"
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"Level “{level.name or level.id}” is {fit.flat_mm:.1f} mm round where the body, "
            f"reduced, asks for {fit.cut_mm:.1f}: {abs(fit.difference_mm):.1f} mm too {way}, "
            f"{_worn(fit)}{_intake(project, level)}."
        ),
        where=(level.id,),
        at_mm=(line.curve.start + line.curve.end) / 2.0,
        measured=fit.flat_mm,
        wanted=fit.cut_mm,
    )


def _worn(fit: LevelFit) -> str:
    stretch = 100.0 * fit.stretch
    return f"worn it stretches by {stretch:.1f} %" if stretch >= 0 else "worn it does not stretch"


def _intake(project: Project, level: Level) -> str:
    """What all that crosses it should take out, and does, and the seams that take most."""
    whole = whole_intake(project, level)
    if whole is None or whole.fullest == level.id:
        return ""
    rows = sorted(intake_at(project, level), key=lambda row: -abs(row[1].drawn_mm))
    told = [
        f"“{seam.name or seam.id}” {row.drawn_mm:.1f}{_times(project, seam)}"
        for seam, row in rows[:MOST_SEAMS]
    ]
    fullest = project.levels[whole.fullest]
    return (
        f". Intake from “{fullest.name or fullest.id}” to here: {whole.wanted_mm:.1f} wanted, "
        f"{whole.drawn_mm:.1f} drawn{shaped_word(whole)}"
        + (f" ({', '.join(told)})" if told else "")
    )


def _times(project: Project, seam: Seam) -> str:
    return " twice" if times_made(project, seam) == 2 else ""


def shaped_word(whole: WholeIntake) -> str:
    """Whether the pieces are shaped too little or too much at a level."""
    if not whole.is_short:
        return ""
    return ", under-shaped" if whole.short_mm > 0 else ", over-shaped"


def intake_at(project: Project, level: Level) -> list[tuple[Seam, LevelIntake]]:
    """Intake at a level of each seam that crosses it, all taking alike."""
    known, seams = KnownLevels(project), seams_at_level(project, level)
    rows = [(seam, known.intake(seam, level, 1.0 / len(seams))) for seam in seams]
    return [(seam, row) for seam, row in rows if row is not None]
