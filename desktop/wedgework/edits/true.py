"""True a seam: make both of its sides as long as they are meant to be.

The trade's way: what one side has too much or too little is taken off or added where the walk
ends, along the edge itself, and the line that ends there is drawn to the new corner. Shape,
shaping and marks of the seam stay; nothing is stretched.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import product
from typing import Annotated, Final, Literal, TypeAlias

import msgspec
from msgspec import Meta

from wedgework.edits.base import Edit, Id
from wedgework.edits.carry import Fate, Stretch, with_marks_carried
from wedgework.edits.mates import with_mates_placed
from wedgework.edits.move import end_moved, start_moved
from wedgework.edits.sideways import refuse_unsound
from wedgework.geometry.extend import with_end_moved_along, with_start_moved_along
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SAME_STATION_MM, STATION_MM
from wedgework.pattern.changes import with_edges_replaced, with_pieces
from wedgework.pattern.document import Edge, Piece, Project, Seam, Side
from wedgework.pattern.ends import End, is_of_one_outline, movable_ends, run_end, run_of
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import edge_in, piece_of, seams_of, the_seam
from wedgework.pattern.runs import walked

Change: TypeAlias = Literal["a", "b", "both"]

ROUNDS: Final = 8
"""Rounds of truing: the first is exact but for rounding, the others take that off."""

FOLD_HARM_MM: Final = 1e3
"""Moving a fold turns the half that is folded over it: anything else is better."""


class TrueSeam(Edit, frozen=True, kw_only=True):
    """Make both sides of a seam or dart equally long, but for the difference that is wanted."""

    seam: Annotated[Id, Meta(description="seam or dart")]
    sides: Annotated[Change, Meta(description="side that changes")] = msgspec.field(name="change")

    def change(self, project: Project) -> Project:
        """EditRefused where no end of a side can be moved."""
        return trued(project, the_seam(project, self.seam), self.sides)


@dataclass(frozen=True, slots=True)
class _Part:
    """How much longer one side of a seam gets, and at which end of its walk."""

    side: Side
    end: End
    by_mm: float


def trued(project: Project, seam: Seam, change: Change) -> Project:
    """The project with a difference of 0 in one seam; the same object where it is 0 already.

    `both` shares the difference out evenly. Of the ends of the walk that can be moved, those are
    taken that harm other seams least, and the far one where it is all the same. Raises
    EditRefused where there is none.
    """
    over_mm = _over_mm(project, seam)
    if abs(over_mm) <= STATION_MM:
        return project
    if is_of_one_outline(seam):
        raise EditRefused(
            f"Both sides of seam “{_called(seam)}” are cut from one outline, so one cannot be made "
            "longer than the other.",
            culprit=seam.id,
        )
    after = _least_harmful(project, seam, _choices(project, seam, change))
    lead: Side = "a" if change == "b" else "b" if change == "a" else "a"
    return with_mates_placed(project, after, seam, lead)


def _called(seam: Seam) -> str:
    return seam.name or seam.id


Ends: TypeAlias = tuple[tuple[Side, End], ...]


def _choices(project: Project, seam: Seam, change: Change) -> list[Ends]:
    """Which end of which side may move, the first choice first; EditRefused where none may."""
    sides: tuple[Side, ...] = ("a", "b") if change == "both" else (change,)
    free: list[list[tuple[Side, End]]] = []
    for side in sides:
        ends = movable_ends(project, seam, side)
        if not ends:
            raise EditRefused(
                f"Side {side.upper()} of seam “{_called(seam)}” has no end that can be moved: it "
                "is closed in itself, or meets the seam's other edges at both ends.",
                culprit=seam.id,
            )
        free.append([(side, end) for end in ends])
    # Both sides at one end before both at different ends: the walk then still agrees at the other.
    return sorted(product(*free), key=lambda ends: len({end for _, end in ends}))


@dataclass(frozen=True, eq=False, slots=True)
class _Way:
    """A project trued in one way, and what that does to other seams."""

    project: Project
    harm_mm: float


def _least_harmful(project: Project, seam: Seam, choices: Iterable[Ends]) -> Project:
    """The first way that harms nothing, else that which harms least; EditRefused where none is."""
    best: _Way | None = None
    refusal: EditRefused | None = None
    for ends in choices:
        way = _along(project, seam, ends)
        if isinstance(way, EditRefused):
            refusal = refusal or way
        elif best is None or way.harm_mm < best.harm_mm:
            best = way
        if best is not None and best.harm_mm == 0.0:
            break
    if best is None:
        raise refusal or EditRefused(f"Seam “{_called(seam)}” has no end that can be moved.")
    return best.project


def _along(project: Project, seam: Seam, ends: Ends) -> _Way | EditRefused:
    after = project
    try:
        for _ in range(ROUNDS):
            over_mm = _over_mm(after, seam)
            if abs(over_mm) <= STATION_MM:
                return _Way(after, _harm_mm(project, after, seam, ends))
            for side, end in ends:
                by_mm = over_mm / len(ends) * (-1.0 if side == "a" else 1.0)
                times = _times_walked(after, seam, side, end)
                after = _lengthened(after, seam, _Part(side, end, by_mm / times))
    except EditRefused as refusal:
        return refusal
    return EditRefused(f"Seam “{_called(seam)}” cannot be trued exactly.", culprit=seam.id)


def _times_walked(project: Project, seam: Seam, side: Side, end: End) -> int:
    """How often a run walks the edge at its end: twice, where it goes on over the mirror image."""
    run = run_of(seam, side)
    edge = run_end(walked(project, run), end).stretch.edge.id
    return sum(ref.edge == edge for ref in run)


def _harm_mm(before: Project, after: Project, seam: Seam, ends: Ends) -> float:
    """By how much other seams get worse: above all those that then no longer agree."""
    harm = 0.0
    for side, end in ends:
        there = run_end(walked(before, run_of(seam, side)), end)
        neighbour = there.neighbour
        if there.is_on_fold:
            harm += FOLD_HARM_MM
        own = seams_of(before, there.stretch.edge.id)
        others = {one.id: one for one in (*own, *seams_of(before, neighbour.id))}
        harm += sum(_worse_mm(before, after, one) for key, one in others.items() if key != seam.id)
    # Rounding must not decide between ends that are equally good.
    return 0.0 if harm <= SAME_STATION_MM else harm


def _worse_mm(before: Project, after: Project, other: Seam) -> float:
    if not all(_is_edge(before, ref.edge) for ref in (*other.a, *other.b)):
        return 0.0  # something hangs on an internal line, which no end of an edge moves
    was, now = abs(_over_mm(before, other)), abs(_over_mm(after, other))
    return max(now - was, 0.0) + 100.0 * max(now - max(was, other.allowed_mm), 0.0)


def _over_mm(project: Project, seam: Seam) -> float:
    """The difference of a seam from its lengths alone: its shaping is not asked for."""
    a, b = walked(project, seam.a), walked(project, seam.b)
    return a.length_mm - b.length_mm - seam.wanted_mm


def _is_edge(project: Project, own: str) -> bool:
    return edge_in(piece_of(project, own), own) is not None


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
    fates = {new.id: _fate(old, new, end_moved=end) for old, new, end in pairs}
    return with_marks_carried(with_pieces(project, changed), fates)


def _fate(old: Edge, new: Edge, *, end_moved: bool) -> Fate:
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
