"""Make the sides of a seam longer or shorter at their ends, until both are as long as is wanted.

What is added or taken off lies along the edge itself, and the line that ends there is drawn to the
new corner. Marks keep their distance from the end that stays.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from wedgework.edits.carry import Fate, Stretch, with_marks_carried
from wedgework.edits.sideways import refuse_unsound
from wedgework.geometry.ends import end_moved, start_moved
from wedgework.geometry.extend import with_end_moved_along, with_start_moved_along
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SAME_STATION_MM, STATION_MM
from wedgework.pattern.changes import with_edges_replaced, with_pieces
from wedgework.pattern.document import Edge, Piece, Project, Seam, Side
from wedgework.pattern.ends import End, is_of_one_outline, run_end, run_of
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.runs import walked

ROUNDS: Final = 8
"""Rounds of truing: the first is exact but for rounding, the others take that off."""

Ends: TypeAlias = tuple[tuple[Side, End], ...]
"""Ends of sides that move, all by the same share of the difference."""


@dataclass(frozen=True, slots=True)
class _Part:
    """How much longer one side of a seam gets, and at which end of its walk."""

    side: Side
    end: End
    by_mm: float


def with_ends_lengthened(project: Project, seam: Seam, ends: Ends) -> Project:
    """The project with a difference of 0 in one seam, made up at these ends of its sides.

    Raises EditRefused where an edge would be too short for that or a piece would cross itself.
    """
    after = project
    for _ in range(ROUNDS):
        over = over_mm(after, seam)
        if abs(over) <= STATION_MM:
            return after
        for side, end in ends:
            by_mm = over / len(ends) * (-1.0 if side == "a" else 1.0)
            times = _times_walked(after, seam, side, end)
            after = _lengthened(after, seam, _Part(side, end, by_mm / times))
    raise EditRefused(f"Seam “{seam.name or seam.id}” cannot be trued exactly.", culprit=seam.id)


def with_both_sides_lengthened(project: Project, seam: Seam, end: End, by_mm: float) -> Project:
    """The project with both sides of a seam longer by as much at one end.

    Where both are cut from one outline, that is drawn longer once.
    """
    sides: tuple[Side, ...] = ("a",) if is_of_one_outline(seam) else ("a", "b")
    for side in sides:
        share = by_mm / _times_walked(project, seam, side, end)
        project = _lengthened(project, seam, _Part(side, end, share))
    return project


def over_mm(project: Project, seam: Seam) -> float:
    """The difference of a seam from its lengths alone: its shaping is not asked for."""
    a, b = walked(project, seam.a), walked(project, seam.b)
    return a.length_mm - b.length_mm - seam.wanted_mm


def _times_walked(project: Project, seam: Seam, side: Side, end: End) -> int:
    """How often a run walks the edge at its end: twice, where it goes on over the mirror image."""
    run = run_of(seam, side)
    edge = run_end(walked(project, run), end).stretch.edge.id
    return sum(ref.edge == edge for ref in run)


def _lengthened(project: Project, seam: Seam, part: _Part) -> Project:
    there = run_end(walked(project, run_of(seam, part.side)), part.end)
    stretch, neighbour, at_edge_end = there.stretch, there.neighbour, there.is_at_edge_end
    if part.by_mm <= SAME_STATION_MM - length_mm(stretch.edge.curve):
        raise EditRefused(
            f"“{stretch.edge.name or stretch.edge.id}” is too short to take {-part.by_mm:.2f} mm "
            "off it.",
            culprit=stretch.edge.id,
        )
    grow = with_end_moved_along if at_edge_end else with_start_moved_along
    grown = replace(stretch.edge, curve=grow(stretch.edge.curve, part.by_mm))
    if at_edge_end:
        drawn = replace(neighbour, curve=start_moved(neighbour.curve, grown.curve.end))
    else:
        drawn = replace(neighbour, curve=end_moved(neighbour.curve, grown.curve.start))
    pairs = ((stretch.edge, grown, at_edge_end), (neighbour, drawn, not at_edge_end))
    return _with_ends_moved(project, stretch.piece, pairs)


def _with_ends_moved(
    project: Project, piece: Piece, pairs: Iterable[tuple[Edge, Edge, bool]]
) -> Project:
    """The project with (old edge, new edge, whether its end moved) in one piece.

    Marks keep their distance from the end that stays.
    """
    pairs = tuple(pairs)
    changed = with_edges_replaced(piece, {new.id: new for _, new, _ in pairs})
    refuse_unsound(piece, changed)
    fates = {new.id: end_fate(old, new, end_moved=end) for old, new, end in pairs}
    return with_marks_carried(with_pieces(project, changed), fates)


def end_fate(old: Edge, new: Edge, *, end_moved: bool) -> Fate:
    """What becomes of an edge that got longer or shorter at one end: marks stay where they were."""
    was, now = length_mm(old.curve), length_mm(new.curve)
    kept = min(was, now)
    from_mm, new_from_mm = (0.0, 0.0) if end_moved else (was - kept, now - kept)
    stretch = Stretch(
        from_mm=from_mm,
        to_mm=from_mm + kept,
        edge=new.id,
        new_from_mm=new_from_mm,
        new_to_mm=new_from_mm + kept,
    )
    return Fate(walk=(new.id,), stretches=(stretch,))
