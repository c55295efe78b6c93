"""How much each edge takes out of a level: how far it has moved into its piece since the fullest.

The width of a piece at a level is the sum of how far its edges lie out along the level's line, from
a foot that is common to all levels of the piece and square to them. So an edge's intake is what it
lies less far out than at the fullest level, and the intakes of all edges sum to the difference of
the two girths.

An edge that does not reach the fullest level is held against the edge that bounds the same side of
its piece there: its side is what has moved in. A gap inside a piece, as between the legs of a dart,
counts half for each side of it. A piece that does not reach the fullest level is held against its
part of what the pieces measure there that do not come down to this one; a piece that ends before
this level takes out all its width where none takes its place.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from wedgework.geometry.curve import Curve, Point
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.memo import memoised
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.closings import times_made
from wedgework.pattern.document import EdgeId, Level, Piece, Project, Seam
from wedgework.pattern.instances import halves_of
from wedgework.pattern.levels import Span, level_spans, level_width_mm
from wedgework.pattern.lookup import piece_of, skin_seam_of

Intakes: TypeAlias = dict[EdgeId, float]
"""Intake of each edge in mm, for one making of its piece; "" is what no edge takes, in all."""

Bounds: TypeAlias = tuple[EdgeId, ...]
"""Edges that end a stretch of a level: one, two where it ends in a corner."""


@dataclass(frozen=True, eq=False, slots=True)
class _Side:
    """An end of a stretch of a level: what ends it, and how far it lies out from the foot."""

    edges: Bounds
    out_mm: float


def edge_intakes(project: Project, level: Level, fullest: Level) -> Intakes:
    """What every edge takes out from the fullest level to this one, in mm; only what takes any."""
    found: defaultdict[EdgeId, float] = defaultdict(float)
    ending, beginning = _alone(project, level, fullest)
    for piece in project.pieces.values():
        for edges, taken_mm in _taken(piece, level, fullest, ending, beginning):
            takers = [own for own in edges if skin_seam_of(project, own)] or list(edges) or [""]
            for own in takers:
                found[own] += taken_mm / len(takers) * (1 if own else len(halves_of(piece)))
    return dict(found)


def seam_drawn_mm(seam: Seam, edges: Mapping[EdgeId, float]) -> float:
    """The intake of both sides of a seam, in mm, for one making of it."""
    return sum(edges.get(ref.edge, 0.0) for ref in (*seam.a, *seam.b))


def shared_out(project: Project, edges: Mapping[EdgeId, float]) -> tuple[dict[str, float], float]:
    """Intake of all makings of each seam and dart that takes any, and of what is in none, in mm."""
    skin = [one for one in project.seams.values() if not one.laid_on and _takes(one, edges)]
    seams = {one.id: times_made(project, one) * seam_drawn_mm(one, edges) for one in skin}
    joined = Counter[EdgeId]()
    for seam in skin:
        for ref in (*seam.a, *seam.b):
            joined[ref.edge] += times_made(project, seam)
    open_mm = sum(
        taken_mm * (_halves_with(project, own) - joined[own]) for own, taken_mm in edges.items()
    )
    return seams, open_mm


def _takes(seam: Seam, edges: Mapping[EdgeId, float]) -> bool:
    return any(ref.edge in edges for ref in (*seam.a, *seam.b))


def _halves_with(project: Project, edge: EdgeId) -> int:
    """How often an edge stands in the garment; what no edge takes is told for all of it."""
    return len(halves_of(piece_of(project, edge))) if edge else 1


def _alone(project: Project, level: Level, fullest: Level) -> tuple[float, float]:
    """Girths of the pieces that are at the fullest level alone, and at this one alone, in mm."""
    ending = beginning = 0.0
    for piece in project.pieces.values():
        here, there = (level_width_mm(piece, own.id) for own in (level, fullest))
        halves = len(halves_of(piece))
        ending += 0.0 if here else there * halves
        beginning += 0.0 if there else here * halves
    return ending, beginning


def _taken(
    piece: Piece, level: Level, fullest: Level, ending_mm: float, beginning_mm: float
) -> Iterator[tuple[Bounds, float]]:
    """What ends each stretch of both levels in a piece, and what it takes out there."""
    here, there = _sides(piece, level, fullest), _sides(piece, fullest, fullest)
    if here and there:
        for at in (0, -1):
            yield here[at].edges, there[at].out_mm - here[at].out_mm
        yield from _gaps(here, 1.0)
        yield from _gaps(there, -1.0)
    elif here:
        reach = ending_mm / beginning_mm * sum(side.out_mm for side in here)
        yield from _halves(here, reach - here[0].out_mm - here[-1].out_mm)
        yield from _gaps(here, 1.0)
    elif there and not beginning_mm:
        yield from _halves(there, there[0].out_mm + there[-1].out_mm)
        yield from _gaps(there, -1.0)
    bent = _bent_mm(piece, fullest) - _bent_mm(piece, level)
    if bent:
        yield (), bent


def _halves(sides: tuple[_Side, ...], taken_mm: float) -> Iterator[tuple[Bounds, float]]:
    """Both outer sides take alike."""
    for at in (0, -1):
        yield sides[at].edges, taken_mm / 2


def _gaps(sides: tuple[_Side, ...], sign: float) -> Iterator[tuple[Bounds, float]]:
    """Both sides of each gap between two stretches, each half of it."""
    for end, start in zip(sides[1:-1:2], sides[2:-1:2], strict=True):
        gap_mm = -(end.out_mm + start.out_mm)
        for side in (end, start):
            yield side.edges, sign * gap_mm / 2


@memoised
def _sides(piece: Piece, level: Level, fullest: Level) -> tuple[_Side, ...]:
    """Ends of the stretches of a level in a piece, in order along it, two each.

    How far they lie out is told from where a line square to the fullest level crosses this one.
    """
    spans = level_spans(piece, level.id)
    first = next(iter(level_spans(piece, fullest.id) or spans), None)
    if first is None:
        return ()
    across = _way(first)
    rows = sorted((_row(span, first.start, across) for span in spans), key=lambda row: row[0])
    found: list[_Side] = []
    for out_mm, start, end in rows:
        chord_mm = float(np.hypot(*(end - start)))
        found.append(_Side(_ended_by(piece, start), -out_mm))
        found.append(_Side(_ended_by(piece, end), out_mm + chord_mm))
    return tuple(found)


def _row(span: Span, foot: Point, across: Point) -> tuple[float, Point, Point]:
    """Where a stretch starts along its level from the foot, in mm, its start and its end."""
    start, end = span.start, span.end
    if (end - start) @ across < 0.0:
        start, end = end, start
    way = (end - start) / np.hypot(*(end - start))
    slope = float(way @ across)
    behind = float((start - foot) @ across)
    return (behind / slope if slope > SAME_STATION_MM else behind), start, end


def _way(span: Span) -> Point:
    way: Point = (span.end - span.start) / np.hypot(*(span.end - span.start))
    return way


def _ended_by(piece: Piece, point: Point) -> Bounds:
    """Edges of a piece, cut-outs too, that a point lies on."""
    return tuple(edge.id for edge in piece.all_edges() if _lies_on(edge.curve, point))


def _lies_on(curve: Curve, point: Point) -> bool:
    """Whether a point lies on a curve; most curves are told from their box."""
    low, high = bounds_of_all([curve]).reshape(2, 2)
    if (point < low - SAME_STATION_MM).any() or (point > high + SAME_STATION_MM).any():
        return False
    return nearest_foot(curve, point).distance_mm <= SAME_STATION_MM


def _bent_mm(piece: Piece, level: Level) -> float:
    """By how much the lines of a level in a piece are longer than from end to end."""
    spans = level_spans(piece, level.id)
    return sum(one.length_mm - float(np.hypot(*(one.end - one.start))) for one in spans)
