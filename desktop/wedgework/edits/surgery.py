"""An outline cut into bits and put together again, some bits moved, left out or filled between."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from wedgework.edits.carry import Fate, parts_fate
from wedgework.edits.places import Bit, Naming
from wedgework.geometry.curve import line, with_ends
from wedgework.geometry.motion import Affine, moved
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Edge, EdgeId, Ring


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Kept:
    """A bit of the old outline in the new one, moved or where it was."""

    bit: Bit
    motion: Affine | None = None


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Fill:
    """A straight edge across a gap that opened in `origin`, `at_mm` from its start."""

    origin: Edge
    at_mm: float


Item: TypeAlias = Kept | Fill | Edge
"""What the new outline is made of, in its order; an edge is put in as it is."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Row:
    """An edge of the new outline; `origin`, `order` say where along which old edge it stands."""

    edge: Edge
    origin: Edge | None = None
    order: tuple[float, int] = (0.0, 0)
    is_part: bool = False
    is_moved: bool = False


def _numbers(items: Iterable[Item]) -> dict[Bit, int]:
    """Each bit's number among those kept of its edge, from 1, along the edge."""
    by_edge: defaultdict[EdgeId, list[Bit]] = defaultdict(list)
    for item in items:
        if isinstance(item, Kept):
            by_edge[item.bit.edge.id].append(item.bit)
    ordered = (sorted(own, key=lambda one: one.from_mm) for own in by_edge.values())
    return {bit: number for own in ordered for number, bit in enumerate(own, start=1)}


def _kept_row(item: Kept, number: int, naming: Naming) -> _Row:
    bit = item.bit
    curve = bit.curve if item.motion is None else moved(bit.curve, item.motion)
    if bit.whole:
        edge = bit.edge if item.motion is None else replace(bit.edge, curve=curve)
    else:
        edge = replace(
            bit.edge,
            id=naming.fresh(f"{bit.edge.id}.{number}"),
            corner=bit.edge.corner if bit.from_mm == 0.0 else naming.fresh(f"{bit.edge.id}.c"),
            curve=curve,
        )
    return _Row(
        edge=edge,
        origin=bit.edge,
        order=(bit.from_mm, 1),
        is_part=True,
        is_moved=item.motion is not None,
    )


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Outline:
    """A new outline, and what has become of the edges of the old one that did not stay whole."""

    edges: Ring
    fates: dict[EdgeId, Fate]


def put_together(bits: Sequence[Bit], items: Sequence[Item], naming: Naming) -> Outline:
    """The outline of `items`, each starting where the one before ends, and the fates of `bits`.

    `bits` are all those that the old outline was cut into; what is not among the items is gone.
    A fill that would have no length is left out.
    """
    order = {bit: index for index, bit in enumerate(bits)}
    kept = [item.bit for item in items if isinstance(item, Kept)]
    # The outline goes on being told from where it was told before.
    first = min(kept, key=lambda bit: order[bit])
    at = next(i for i, one in enumerate(items) if isinstance(one, Kept) and one.bit is first)
    return outlines_of(bits, [[*items[at:], *items[:at]]], naming)[0]


def outlines_of(
    bits: Sequence[Bit], rings: Sequence[Sequence[Item]], naming: Naming
) -> list[Outline]:
    """As `put_together`, for an outline that falls into several; the fates are those of all."""
    numbers = _numbers(item for items in rings for item in items)
    made = [_closed(items, numbers, naming) for items in rings]
    fates = _fates(bits, [row for rows in made for row in rows])
    return [Outline(edges=tuple(row.edge for row in rows), fates=fates) for rows in made]


def _closed(items: Sequence[Item], numbers: dict[Bit, int], naming: Naming) -> list[_Row]:
    """The rows of one ring: joints met bit for bit, and gaps filled where a fill is said."""
    rows: list[_Row] = []
    fills: dict[int, Fill] = {}  # by the number of rows before them, never 0
    for item in items:
        if isinstance(item, Kept):
            rows.append(_kept_row(item, numbers[item.bit], naming))
        elif isinstance(item, Edge):
            rows.append(_Row(edge=item))
        else:
            fills[len(rows)] = item
    rows = _met(rows)
    closed: list[_Row] = []
    for index, row in enumerate(rows):
        closed.append(row)
        fill = fills.get(index + 1)
        if fill is not None:
            after = rows[(index + 1) % len(rows)]
            closed += _filled(fill, row.edge, after.edge, naming)
    return closed


def _filled(fill: Fill, before: Edge, after: Edge, naming: Naming) -> list[_Row]:
    start, end = before.curve.end, after.curve.start
    if np.hypot(*(end - start)) <= SAME_STATION_MM:
        return []
    edge = replace(
        fill.origin,
        id=naming.fresh(f"{fill.origin.id}.fill"),
        corner=naming.fresh(f"{fill.origin.id}.c"),
        curve=line(start, end),
        finish="open" if fill.origin.finish == "fold" else fill.origin.finish,
    )
    return [_Row(edge=edge, origin=fill.origin, order=(fill.at_mm, 0))]


def _met(rows: list[_Row]) -> list[_Row]:
    """Rows whose near ends are made one; a moved one gives way to one that stayed."""
    rows = list(rows)
    for index in range(len(rows)):
        before, after = rows[index - 1], rows[index]
        one, other = before.edge.curve, after.edge.curve
        gap = np.abs(one.end - other.start).max()
        if gap == 0.0 or gap > SAME_STATION_MM:
            continue
        if before.is_moved and not after.is_moved:
            curve = with_ends(one, one.start, other.start)
            rows[index - 1] = replace(before, edge=replace(before.edge, curve=curve))
        else:
            curve = with_ends(other, one.end, other.end)
            rows[index] = replace(after, edge=replace(after.edge, curve=curve))
    return rows


def _fates(bits: Sequence[Bit], rows: Sequence[_Row]) -> dict[EdgeId, Fate]:
    by_origin: defaultdict[EdgeId, list[_Row]] = defaultdict(list)
    for row in rows:
        if row.origin is not None:
            by_origin[row.origin.id].append(row)
    fates: dict[EdgeId, Fate] = {}
    for edge in dict.fromkeys(bit.edge.id for bit in bits):
        own = sorted(by_origin[edge], key=lambda row: row.order)
        walk = [row.edge.id for row in own]
        if walk != [edge]:
            parts = [(row.edge, row.order[0]) for row in own if row.is_part]
            fates[edge] = parts_fate(parts, walk)
    return fates
