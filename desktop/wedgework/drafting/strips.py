"""Strips that follow a line of the garment: the shape of collars, bands and facings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from wedgework.drafting.draft import Side, ring_of_sides
from wedgework.drafting.lines import GarmentLine
from wedgework.geometry.curve import Curve, line, reversed_curve
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Cutting, Notch, Piece, Ref, Seam, Spot
from wedgework.pattern.ends import run_end

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
    first = line(strip.outer[0].curve.start, strip.joined.start)
    last = line(strip.joined.end, strip.outer[-1].curve.end)
    sides = [
        Side(role=strip.role, curve=strip.joined),
        Side(role="last", curve=last, finish="fold" if fold == "last" else "open"),
        *(Side(role=one.role, curve=reversed_curve(one.curve)) for one in reversed(strip.outer)),
        Side(role="first", curve=first, finish="fold" if fold == "first" else "open"),
    ]
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
    """The seam that joins a strip to its line; laid on where it lies on the garment."""
    return Seam(
        id=f"{strip.name}.seam",
        name=f"{strip.name.replace('_', ' ')} to garment",
        a=along.refs,
        b=(Ref(f"{strip.name}.{strip.role}", backward=not strip.inside),),
        laid_on=strip.inside,
    )


def joint_notches(strip: Strip, along: GarmentLine) -> tuple[Notch, ...]:
    """A notch on the strip where the garment passes from one piece to the next, and its mate."""
    whole_mm = length_mm(strip.joined)
    own = f"{strip.name}.{strip.role}"
    notches = []
    for number, station in enumerate(along.joints_mm, start=1):
        stretch = along.run.stretch_at(station)
        at_mm = station * whole_mm / along.length_mm
        notches.append(
            Notch(
                id=f"{strip.name}.n{number}",
                at=Spot(own, at_mm if strip.inside else whole_mm - at_mm),
                mate=Spot(stretch.edge.id, stretch.own_mm(station)),
            )
        )
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
