"""What a draft reads from pieces that are there: edges, by refs, and whether they have changed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Annotated, TypeAlias

from msgspec import Meta

from wedgework.drafting.numbers import Numbers
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.angles import edge_turning
from wedgework.pattern.document import Project, Run, parse_ref
from wedgework.pattern.errors import DraftRefused, EditRefused
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.runs import WalkedRun, walked

Refs: TypeAlias = Annotated[
    tuple[Annotated[str, Meta(min_length=1, max_length=400)], ...],
    Meta(
        min_length=1,
        max_length=1000,
        description="edges in walking order; `-` where against its direction, then `~` mirror",
        extra_json_schema={"refs": True},
    ),
]
"""Edges that a draft is made from, walked in order."""

Measured: TypeAlias = Mapping[str, tuple[float, float]]
"""Length in mm and turning in rad of each source."""


def run_of_refs(project: Project, refs: Iterable[str]) -> WalkedRun:
    """The run that refs name, walked; DraftRefused where one is not there."""
    run: Run = tuple(parse_ref(text) for text in refs)
    try:
        return walked(project, run)
    except EditRefused as refusal:
        raise DraftRefused(refusal.sentence, culprit=refusal.culprit) from None


def sources_of(numbers: Numbers) -> tuple[str, ...]:
    """Refs that the numbers of a draft name, in order."""
    values = (getattr(numbers, name) for name in numbers.__struct_fields__)
    return tuple(
        ref for value in values if isinstance(value, tuple) for ref in value if isinstance(ref, str)
    )


def measured_sources(project: Project, refs: Iterable[str]) -> dict[str, tuple[float, float]]:
    """What each source is now; DraftRefused where one is not there."""
    found: dict[str, tuple[float, float]] = {}
    for text in refs:
        try:
            edge = the_edge(project, parse_ref(text).edge)
        except EditRefused as refusal:
            raise DraftRefused(refusal.sentence, culprit=refusal.culprit) from None
        found[text] = (length_mm(edge.curve), edge_turning(edge))
    return found


def has_changed(before: Measured, now: Measured) -> bool:
    """Whether the sources together are longer, shorter or bent otherwise than they were.

    A source that was only split is in two parts now, and the same as before.
    """
    return any(
        abs(sum(row[at] for row in now.values()) - sum(row[at] for row in before.values()))
        > SAME_STATION_MM
        for at in (0, 1)
    )
