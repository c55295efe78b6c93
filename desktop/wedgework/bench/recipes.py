"""What a drafted piece remembers, against what it would be made from now."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from wedgework.pattern.document import Piece, Project, Recipe, parse_ref
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.runs import walked


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """An edge that a piece was drafted from: as long as then, and as now; None where it is gone."""

    ref: str
    then_mm: float
    now_mm: float | None


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Remembered:
    """A recipe as a maker reads it.

    `hand_edits` are names of edits that were made since, `refused` sentences.
    """

    kind: str
    numbers: Mapping[str, Any]
    sources: tuple[Source, ...]
    hand_edits: tuple[str, ...]
    refused: tuple[str, ...]

    @property
    def out_of_date_mm(self) -> float | None:
        """How much longer all sources are together than they were; None where one is gone."""
        by_mm = [None if one.now_mm is None else one.now_mm - one.then_mm for one in self.sources]
        known = [one for one in by_mm if one is not None]
        return sum(known) if len(known) == len(by_mm) else None


def remembered(project: Project, piece: Piece) -> Remembered | None:
    """The recipe of a piece against the project; None where it was not drafted."""
    recipe = piece.recipe
    if recipe is None:
        return None
    return Remembered(
        kind=recipe.kind,
        numbers=json.loads(recipe.numbers),
        sources=tuple(_sources(project, recipe)),
        hand_edits=tuple(_edit_name(text) for text in recipe.edits_since),
        refused=recipe.refused,
    )


def _sources(project: Project, recipe: Recipe) -> Iterator[Source]:
    before = json.loads(recipe.measured)
    gone = [ref for ref in before if ref not in recipe.sources]
    for ref in recipe.sources:
        # An edge that was split since has other ids: its parts together were one.
        then_mm = before[ref][0] if ref in before else _then_of_part(project, recipe, ref, gone)
        yield Source(ref=ref, then_mm=then_mm, now_mm=_length_mm(project, ref))


def _then_of_part(project: Project, recipe: Recipe, ref: str, gone: list[str]) -> float:
    before = json.loads(recipe.measured)
    new = [one for one in recipe.sources if one not in before]
    lengths = {one: _length_mm(project, one) or 0.0 for one in new}
    whole_mm = sum(before[one][0] for one in gone)
    total_mm = sum(lengths.values())
    return float(whole_mm * lengths[ref] / total_mm) if total_mm else 0.0


def _length_mm(project: Project, ref: str) -> float | None:
    try:
        return walked(project, (parse_ref(ref),)).length_mm
    except EditRefused:
        return None


def _edit_name(text: str) -> str:
    return str(json.loads(text.removeprefix("~"))["edit"])


def recipe_report(project: Project, piece: Piece) -> dict[str, Any] | None:
    """The same as plain data; None where the piece was not drafted."""
    found = remembered(project, piece)
    if found is None:
        return None
    return {
        "kind": found.kind,
        "numbers": dict(found.numbers),
        "sources": [
            {"ref": one.ref, "then_mm": one.then_mm, "now_mm": one.now_mm} for one in found.sources
        ],
        "out_of_date_mm": found.out_of_date_mm,
        "hand_edits": list(found.hand_edits),
        "refused": list(found.refused),
    }
