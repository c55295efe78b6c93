"""Collars traced from the joined neckline.

The back is laid to the front at the shoulder, neck points together; overlapping the shoulders by o
at a shoulder of length S takes a turn of 2 asin(o / (2 S)) out of the collar at each, and makes its
outer edge shorter by the width times that turn. Source of half an inch for a collar that lies flat:
Rosenfeld, Practical Designer for Women's and Misses' Underwear, 1918, lesson 432.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from msgspec import Meta

from wedgework.drafting.collar_shape import Shape, outer_sides
from wedgework.drafting.draft import Draft, Number
from wedgework.drafting.lines import GarmentLine, bent_by, garment_line
from wedgework.drafting.numbers import NotNegativeMm, Numbers, PositiveMm
from wedgework.drafting.sources import Refs
from wedgework.drafting.strips import (
    Fold,
    Strip,
    cutting_along,
    joint_notches,
    strip_piece,
    strip_seam,
)
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SUM_RELATIVE
from wedgework.pattern.document import Project
from wedgework.pattern.errors import DraftRefused
from wedgework.pattern.lookup import around_corner


class CollarNumbers(Numbers, frozen=True, kw_only=True):
    """A collar traced from a neckline over one or several pieces: flat, or rolled with a stand."""

    neckline: Refs
    width_mm: Annotated[PositiveMm, Meta(description="from the neck edge to the outer edge")]
    stand_mm: Annotated[
        NotNegativeMm | None, Meta(description="how high it stands before it falls; 0 lies flat")
    ] = None
    overlap_mm: Annotated[
        NotNegativeMm | None, Meta(description="by how much front and back overlap at the shoulder")
    ] = None
    wider_at_fold_mm: Annotated[
        NotNegativeMm, Meta(description="how much wider it is where it is cut on the fold")
    ] = 0.0
    wider_at_end_mm: Annotated[
        NotNegativeMm, Meta(description="how much wider it is where it ends")
    ] = 0.0
    shape: Annotated[
        Shape, Meta(description="how it gets wider there: to a point, rounded, or as a square flap")
    ] = "pointed"


def _wider(numbers: CollarNumbers, fold: Fold) -> tuple[float, float]:
    """How much wider the collar is at the first and at the last end of its neckline."""
    at_fold, at_end = numbers.wider_at_fold_mm, numbers.wider_at_end_mm
    if fold is None:
        return at_end, at_end
    return (at_fold, at_end) if fold == "first" else (at_end, at_fold)


@dataclass(frozen=True, kw_only=True)
class _Turn:
    """What is taken out of a collar: in all, in rad, and as stand and overlap in mm."""

    turn_rad: float
    stand_mm: float
    overlap_mm: float


def draft_collar(numbers: CollarNumbers, project: Project) -> Draft:
    """The collar, its seam with the neckline, and a notch where the pieces of it meet.

    DraftRefused where both stand and overlap are given, or the collar is wider than the shoulder
    allows.
    """
    along = garment_line(project, numbers.neckline)
    shoulder_mm = shoulder_length_mm(along)
    own_rad = -along.turning_rad
    turn = _turn(numbers, along, own_rad, shoulder_mm)
    lying_mm = numbers.width_mm - turn.stand_mm
    if shoulder_mm is not None and lying_mm > shoulder_mm:
        raise DraftRefused(
            f"A collar that lies {lying_mm:.0f} mm wide is wider than the shoulder of "
            f"{shoulder_mm:.0f} mm allows: make it narrower, or let it stand higher."
        )
    neck = bent_by(along.curve, turn.turn_rad)
    cutting, fold = cutting_along(along)
    outer = outer_sides(neck, numbers.width_mm, _wider(numbers, fold), numbers.shape)
    strip = Strip(name="collar", joined=neck, outer=tuple(outer), inside=True)
    told: dict[str, Number] = {
        "neck_edge_mm": length_mm(neck),
        "outer_edge_mm": sum(length_mm(one.curve) for one in outer),
        "turn_deg": math.degrees(turn.turn_rad),
        "stand_mm": turn.stand_mm,
        "overlap_mm": turn.overlap_mm,
        "neckline_turning_deg": math.degrees(own_rad),
        "shoulder_mm": shoulder_mm,
        "width_mm": numbers.width_mm,
    }
    return Draft(
        pieces=(strip_piece(strip, cutting, fold),),
        seams=(strip_seam(strip, along),),
        notches=joint_notches(strip, along),
        numbers=told,
        steps=tuple(_steps(numbers, along, turn, own_rad)),
    )


def shoulder_length_mm(along: GarmentLine) -> float | None:
    """The shortest seam that runs into the line where two pieces meet; None without one."""
    lengths = []
    for station in along.joints_mm:
        stretch = along.run.stretch_at(station)
        before, after = around_corner(stretch.piece, stretch.last_corner)
        shoulder = after if before is stretch.edge else before
        lengths.append(length_mm(shoulder.curve))
    return min(lengths, default=None)


def _turn(
    numbers: CollarNumbers, along: GarmentLine, own_rad: float, shoulder_mm: float | None
) -> _Turn:
    """Turn, stand and overlap, the one that was given and those that follow from it."""
    joints, width_mm = len(along.joints_mm), numbers.width_mm
    if numbers.stand_mm is not None and numbers.overlap_mm is not None:
        raise DraftRefused("Give either the stand or the overlap; the other follows from it.")
    if numbers.overlap_mm:
        if shoulder_mm is None:
            raise DraftRefused("The neckline crosses no shoulder to overlap: give the stand.")
        if numbers.overlap_mm >= 2.0 * shoulder_mm:
            raise DraftRefused(
                f"Shoulders of {shoulder_mm:.0f} mm cannot overlap by {numbers.overlap_mm:.0f} mm."
            )
        turn = joints * 2.0 * math.asin(numbers.overlap_mm / (2.0 * shoulder_mm))
        _refuse_turn(turn, own_rad, width_mm)
        return _Turn(turn_rad=turn, stand_mm=width_mm * turn / (2.0 * own_rad),
            overlap_mm=numbers.overlap_mm)  # fmt: skip
    stand_mm = numbers.stand_mm or 0.0
    if stand_mm and own_rad <= 0.0:
        raise DraftRefused("This neckline does not bend round a neck, so no collar stands on it.")
    turn = 2.0 * own_rad * stand_mm / width_mm
    _refuse_turn(turn, own_rad, width_mm)
    overlap_mm = 0.0
    if shoulder_mm is not None and joints:
        overlap_mm = 2.0 * shoulder_mm * math.sin(min(turn / joints, math.pi) / 2.0)
    return _Turn(turn_rad=turn, stand_mm=stand_mm, overlap_mm=overlap_mm)


def _refuse_turn(turn_rad: float, own_rad: float, width_mm: float) -> None:
    """At most so much is taken out that a straight strip is left, which stands upright."""
    if turn_rad > max(own_rad, 0.0) + SUM_RELATIVE:
        raise DraftRefused(
            f"A collar {width_mm:.0f} mm wide stands {width_mm / 2.0:.0f} mm high at most: then it "
            "is a straight strip, half of it stand and half of it fall."
        )


def _steps(
    numbers: CollarNumbers, along: GarmentLine, turn: _Turn, own_rad: float
) -> Iterator[str]:
    yield f"neckline: {along.length_mm:.1f} mm, turning {math.degrees(own_rad):.1f} degrees"
    yield (
        f"stand = width x turn / (2 x neckline's turning) = {numbers.width_mm:.1f} x "
        f"{math.degrees(turn.turn_rad):.2f} / (2 x {math.degrees(own_rad):.1f}) = "
        f"{turn.stand_mm:.1f} mm"
    )
    outer_mm = along.length_mm + (own_rad - turn.turn_rad) * numbers.width_mm
    yield f"outer edge = neckline + (its turning - turn) x width = {outer_mm:.1f} mm"
