"""Drafted pieces whose sources have changed since, and edits that could not be done again."""

from __future__ import annotations

import json

from wedgework.checks.finding import Finding, Mend, Rule, called
from wedgework.pattern.document import Piece, Project, Recipe
from wedgework.pattern.drafts import first_drafted
from wedgework.pattern.errors import DraftRefused


def drafts_out_of_date(rule: Rule, project: Project, piece: Piece) -> tuple[Finding, ...]:
    """A finding where what the piece was drafted from is no longer as it was then.

    It is told of the first piece of a draft alone. `measured` is how much longer the sources are
    together now, in mm.
    """
    recipe = piece.recipe
    if recipe is None or not recipe.sources or piece.id not in first_drafted(project.pieces):
        return ()
    from wedgework.drafting.sources import (  # noqa: PLC0415 - `check` starts without all drafts
        has_changed,
        measured_sources,
    )

    before = {ref: tuple(row) for ref, row in json.loads(recipe.measured).items()}
    try:
        now = measured_sources(project, recipe.sources)
    except DraftRefused:
        return (_told(rule, piece, recipe, None),)
    if not has_changed(before, now):
        return ()
    longer_mm = sum(row[0] for row in now.values()) - sum(row[0] for row in before.values())
    return (_told(rule, piece, recipe, longer_mm),)


def _told(rule: Rule, piece: Piece, recipe: Recipe, longer_mm: float | None) -> Finding:
    if longer_mm is None:
        message = (
            f"{called(piece)} was drafted from an edge that is no longer there: draft it again and "
            "say what from."
        )
        mends: tuple[Mend, ...] = ()
    else:
        changed = f"{abs(longer_mm):.1f} mm {'longer' if longer_mm > 0 else 'shorter'}"
        if abs(longer_mm) < _SAME_MM:
            changed = "as long as it was, and runs otherwise"
        message = f"What {called(piece)} was drafted from has changed since: it is {changed}."
        again = {"edit": "draft_again", "piece": piece.id}
        mends = (Mend(f"Draft {called(piece)} again", (again,)),)
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=message,
        where=(piece.id, *(ref.lstrip("-~") for ref in recipe.sources)),
        at_mm=piece.edges[0].curve.start,
        measured=longer_mm,
        wanted=0.0,
        mends=mends,
    )


_SAME_MM = 0.05
"""A difference that is told as 0.0 mm."""
