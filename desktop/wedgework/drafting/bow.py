"""Bows: a loop strip, a knot strip, and tails."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Annotated

from msgspec import Meta

from wedgework.drafting.draft import APART_MM, Draft, Number
from wedgework.drafting.numbers import NotNegativeMm, Numbers, PositiveMm
from wedgework.drafting.strips import rectangle
from wedgework.pattern.document import Notch, Piece, Project, Spot
from wedgework.pattern.errors import DraftRefused


class BowNumbers(Numbers, frozen=True, kw_only=True):
    """A bow: its loops from one strip, a knot about them, tails if asked for."""

    width_mm: Annotated[PositiveMm, Meta(description="of the made-up bow, loop to loop")]
    depth_mm: Annotated[PositiveMm, Meta(description="height of the loops")]
    knot_mm: Annotated[PositiveMm, Meta(description="height of the bow where it is gathered")]
    knot_width_mm: Annotated[
        PositiveMm | None, Meta(description="how wide the knot is; as its height without it")
    ] = None
    tail_mm: Annotated[NotNegativeMm, Meta(description="length of each tail; none for 0")] = 0.0
    lap_mm: Annotated[NotNegativeMm, Meta(description="where each strip closes to a ring")] = 10.0
    thickness_mm: Annotated[
        PositiveMm, Meta(description="of its sheet: the knot goes round four layers")
    ] = 0.4


def draft_bow(numbers: BowNumbers, project: Project) -> Draft:
    """The strips: loops 2 x width + lap, knot 2 x (gathered height + four layers) + lap.

    DraftRefused where the knot is higher than the loops.
    """
    del project
    if numbers.knot_mm > numbers.depth_mm:
        raise DraftRefused("A bow is gathered: its knot is no higher than its loops.")
    loop = 2.0 * numbers.width_mm + numbers.lap_mm
    stack = 4.0 * numbers.thickness_mm
    knot = 2.0 * (numbers.knot_mm + stack) + numbers.lap_mm
    across = numbers.knot_width_mm or numbers.knot_mm
    pieces: list[Piece] = [
        rectangle("loops", loop, numbers.depth_mm),
        rectangle("knot", knot, across, at=(0.0, numbers.depth_mm + APART_MM)),
    ]
    if numbers.tail_mm:
        at = (0.0, numbers.depth_mm + across + 2.0 * APART_MM)
        tail = rectangle("tail", numbers.tail_mm, numbers.depth_mm / 2.0, at=at)
        pieces.append(replace(tail, cutting="pair"))
    told: dict[str, Number] = {
        "loop_strip_mm": loop,
        "knot_strip_mm": knot,
        "knot_width_mm": across,
        "tail_mm": numbers.tail_mm,
    }
    return Draft(
        pieces=tuple(pieces),
        numbers=told,
        notches=tuple(_centre_marks(loop)),
        steps=(
            f"loops = 2 × {numbers.width_mm:.1f} + {numbers.lap_mm:.1f} = {loop:.1f} mm",
            f"knot = 2 × ({numbers.knot_mm:.1f} + {stack:.1f}) + {numbers.lap_mm:.1f} = "
            f"{knot:.1f} mm",
        ),
    )


def _centre_marks(loop_mm: float) -> Iterator[Notch]:
    """Marks at the middle of the loop strip, where it is pinched and the knot goes round."""
    for number, role in enumerate(("long", "far"), start=1):
        yield Notch(id=f"loops.n{number}", at=Spot(f"loops.{role}", loop_mm / 2.0))
