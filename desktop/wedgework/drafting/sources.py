"""What a draft reads from pieces that are there: edges, by refs, and whether they have changed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import Annotated, TypeAlias

from msgspec import Meta

from wedgework.drafting.numbers import Numbers
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.angles import edge_turning
from wedgework.pattern.document import Project, Run, parse_ref
from wedgework.pattern.errors import DraftRefused, EditRefused
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

Measured: TypeAlias = Mapping[str, tuple[float, ...]]
"""Of each source its length in mm, its turning in rad, and how far its middle lies from its start
in mm, which another shape of one length and turning tells; older recipes have no third figure."""


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


def measured_sources(project: Project, refs: Iterable[str]) -> dict[str, tuple[float, ...]]:
    """What each source is now; DraftRefused where one is not there."""
    found: dict[str, tuple[float, ...]] = {}
    for text in refs:
        edge = run_of_refs(project, (text,)).stretches[0].edge
        long_mm = length_mm(edge.curve)
        reach_mm = math.dist(point_at(edge.curve, long_mm / 2), edge.curve.start)
        found[text] = (long_mm, edge_turning(edge), reach_mm)
    return found


def has_changed(before: Measured, now: Measured) -> bool:
    """Whether a source is longer, shorter or bent otherwise than it was.

    A source that was only split is in two parts now, and the same as before: then all are held
    against all, together.
    """
    if before.keys() == now.keys():
        pairs = [(before[ref], now[ref]) for ref in now]
    else:
        pairs = [(_together(before), _together(now))]
    return any(
        abs(then - to_day) > SAME_STATION_MM
        for one, other in pairs
        for then, to_day in zip(one, other, strict=False)
    )


def _together(rows: Measured) -> tuple[float, float]:
    lengths, turnings = ([row[at] for row in rows.values()] for at in (0, 1))
    return sum(lengths), sum(turnings)
