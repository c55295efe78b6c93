"""True a seam: make both of its sides as long as they are meant to be.

The trade's way: what one side has too much or too little is taken off or added where the walk
ends, along the edge itself, and the line that ends there is drawn to the new corner. Shape,
shaping and marks of the seam stay; nothing is stretched. Where the corners must stay, the
difference goes along the edge or between two notches instead.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product
from typing import Annotated, Final, Literal, TypeAlias

import msgspec
from msgspec import Meta

from wedgework.edits.base import Edit, Id
from wedgework.edits.easing import with_sides_eased
from wedgework.edits.lengthening import Ends, over_mm, with_ends_lengthened
from wedgework.edits.mates import with_mates_placed
from wedgework.geometry.tolerances import SAME_STATION_MM, STATION_MM
from wedgework.pattern.document import Project, Seam, Side
from wedgework.pattern.ends import End, is_of_one_outline, movable_ends, run_end, run_of
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import edge_in, piece_of, seams_of, the_seam
from wedgework.pattern.runs import walked

Change: TypeAlias = Literal["a", "b", "both"]

By: TypeAlias = Literal["end", "edge", "notches"]
"""Where the difference goes: off or on at an end, along the edge, or between two notches."""

FOLD_HARM_MM: Final = 1e3
"""Moving a fold turns the half that is folded over it: anything else is better."""


class TrueSeam(Edit, frozen=True, kw_only=True):
    """Make both sides of a seam or dart equally long, but for the difference that is wanted."""

    seam: Annotated[Id, Meta(description="seam or dart")]
    sides: Annotated[Change, Meta(description="side that changes")] = msgspec.field(name="change")

    by: Annotated[
        By, Meta(description="where: at an end, along the edge, or between two notches")
    ] = "end"
    between: Annotated[
        tuple[Id, ...], Meta(max_length=2, description="the two notches, where it goes between")
    ] = ()

    def change(self, project: Project) -> Project:
        """EditRefused where no end can be moved, or an edge is as short as its corners allow."""
        seam = the_seam(project, self.seam)
        if (self.by == "notches") != bool(self.between):
            raise EditRefused(
                "Name two notches where the difference goes between notches, and none elsewhere.",
                culprit=seam.id,
            )
        if self.by == "end":
            return trued(project, seam, self.sides)
        if abs(over_mm(project, seam)) <= STATION_MM:
            return project
        _refuse_one_outline(seam)
        eased = with_sides_eased(project, seam, _sides(self.sides), self.between)
        # Notches that the ease goes between are where the maker wants them.
        return eased if self.between else with_mates_placed(project, eased, seam, _lead(self.sides))


def trued(project: Project, seam: Seam, change: Change) -> Project:
    """The project with a difference of 0 in one seam; the same object where it is 0 already.

    `both` shares the difference out evenly. Of the ends of the walk that can be moved, those are
    taken that harm other seams least, and the far one where it is all the same. Raises
    EditRefused where there is none.
    """
    if abs(over_mm(project, seam)) <= STATION_MM:
        return project
    _refuse_one_outline(seam)
    after = _least_harmful(project, seam, _choices(project, seam, change))
    return with_mates_placed(project, after, seam, _lead(change))


def _refuse_one_outline(seam: Seam) -> None:
    if is_of_one_outline(seam):
        raise EditRefused(
            f"Both sides of seam “{_called(seam)}” are cut from one outline, so one cannot be made "
            "longer than the other.",
            culprit=seam.id,
        )


def _sides(change: Change) -> tuple[Side, ...]:
    return ("a", "b") if change == "both" else (change,)


def _lead(change: Change) -> Side:
    """The side whose marks stay where they are."""
    return "b" if change == "a" else "a"


def _called(seam: Seam) -> str:
    return seam.name or seam.id


def _choices(project: Project, seam: Seam, change: Change) -> list[Ends]:
    """Which end of which side may move, the first choice first; EditRefused where none may."""
    sides = _sides(change)
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
    try:
        after = with_ends_lengthened(project, seam, ends)
    except EditRefused as refusal:
        return refusal
    return _Way(after, _harm_mm(project, after, seam, ends))


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
    was, now = abs(over_mm(before, other)), abs(over_mm(after, other))
    return max(now - was, 0.0) + 100.0 * max(now - max(was, other.allowed_mm), 0.0)


def _is_edge(project: Project, own: str) -> bool:
    return edge_in(piece_of(project, own), own) is not None
