"""Strips that follow a line of the garment: the shape of collars, bands and facings."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

from wedgework.drafting.draft import Side, ring_of_sides
from wedgework.drafting.lines import GarmentLine
from wedgework.geometry.curve import Curve, Point, line, reversed_curve, with_ends
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Cutting, Notch, Piece, Ref, Seam, Spot
from wedgework.pattern.ends import End, run_end
from wedgework.pattern.errors import DraftRefused

Fold: TypeAlias = Literal["first", "last"] | None
"""At which end of its line a strip is folded over, if at any."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Strip:
    """A strip between the line that it is joined along and its outer sides, walked alike.

    `inside`: it lies on the same side of the line as the garment, so it is laid on.
    """

    name: str
    joined: Curve
    outer: tuple[Side, ...]
    inside: bool
    role: str = "neck"


def even(curve: Curve) -> tuple[Side, ...]:
    """An outer edge of one side."""
    return (Side(role="outer", curve=curve),)


def strip_piece(strip: Strip, cutting: Cutting, fold: Fold) -> Piece:
    """The piece of a strip; its ends are straight, and one is the fold where it has one."""
    outer = [reversed_curve(one.curve) for one in reversed(strip.outer)]
    roles = [one.role for one in reversed(strip.outer)]
    last = _end("last", strip.joined.end, outer[0].start, fold)
    if not last:
        outer[0] = with_ends(outer[0], strip.joined.end, outer[0].end)
    first = _end("first", outer[-1].end, strip.joined.start, fold)
    if not first:
        outer[-1] = with_ends(outer[-1], outer[-1].start, strip.joined.start)
    between = [Side(role=role, curve=curve) for role, curve in zip(roles, outer, strict=True)]
    sides = [Side(role=strip.role, curve=strip.joined), *last, *between, *first]
    if not strip.inside:
        sides = [
            Side(role=one.role, curve=reversed_curve(one.curve), finish=one.finish)
            for one in reversed(sides)
        ]
    return Piece(
        id=strip.name,
        name=strip.name.replace("_", " ").capitalize(),
        edges=ring_of_sides(strip.name, sides),
        cutting=cutting,
        fold_edge=None if fold is None else f"{strip.name}.{fold}",
    )


def _end(role: End, start: Point, end: Point, fold: Fold) -> list[Side]:
    """The straight end of a strip; none where the outer side runs into the line that it follows."""
    if math.dist(start, end) > SAME_STATION_MM:
        is_fold = fold == role
        return [Side(role=role, curve=line(start, end), finish="fold" if is_fold else "open")]
    if fold == role:
        raise DraftRefused("Nothing is left of it at the fold: its outer edge has to end on that.")
    return []


def cutting_along(along: GarmentLine) -> tuple[Cutting, Fold]:
    """How a strip is cut: once where its line is whole, else as the mirror image needs it."""
    stretches = along.run.stretches
    if all(one.piece.cutting == "single" for one in stretches):
        return "single", None
    edges = {ref.edge for ref in along.refs}
    if len(edges) < len(along.refs):
        return "single", None  # an edge and its mirror image: the whole line was named
    for end in ("first", "last"):
        if run_end(along.run, end).is_on_fold:
            return "fold", end
    return "pair", None


def strip_seam(strip: Strip, along: GarmentLine) -> Seam:
    """The seam that joins a strip to its line.

    One that lies on the garment is laid on along the same line, and glued on face to face inside
    of that: a lap beyond it would have nothing to lie on.
    """
    return Seam(
        id=f"{strip.name}.seam",
        name=f"{strip.name.replace('_', ' ')} to garment",
        a=along.refs,
        b=(Ref(f"{strip.name}.{strip.role}", backward=not strip.inside),),
        join="superimposed" if strip.inside else "lapped",
        laid_on=strip.inside,
    )


def joint_notches(strip: Strip, along: GarmentLine) -> tuple[Notch, ...]:
    """A notch on the strip where the garment passes from one piece to the next, and its mate."""
    whole_mm = length_mm(strip.joined)
    own = f"{strip.name}.{strip.role}"
    notches = []
    for number, station in enumerate(along.joints_mm, start=1):
        mate = along.spot_at(station / along.length_mm)
        if mate is None:
            continue
        at_mm = station * whole_mm / along.length_mm
        at = Spot(own, at_mm if strip.inside else whole_mm - at_mm)
        notches.append(Notch(id=f"{strip.name}.n{number}", at=at, mate=mate))
    return tuple(notches)


def rectangle(name: str, length: float, width: float, *, at: tuple[float, float] = (0, 0)) -> Piece:
    """A straight strip lying along x: `long` below and `far` above, `first` on the left."""
    x, y = at
    low, high = (x, y), (x + length, y + width)
    sides = [
        Side(role="long", curve=line(low, (high[0], low[1]))),
        Side(role="last", curve=line((high[0], low[1]), high)),
        Side(role="far", curve=line(high, (low[0], high[1]))),
        Side(role="first", curve=line((low[0], high[1]), low)),
    ]
    return Piece(
        id=name,
        name=name.replace("_", " ").capitalize(),
        edges=ring_of_sides(name, sides),
    )
