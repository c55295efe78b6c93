"""Legs of a suit block: crotch curve, inseam, side and hem of each half.

The crotch curves of front and back are together as long as the torso loop asks; each leaves its
centre line in the line's own direction and meets the inseam square, so the four corners in the
crotch make a flat place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from wedgework.drafting.block_shape import QUARTER, Frame, Half, curve_over, side_curve
from wedgework.drafting.solving import solved
from wedgework.geometry.curve import Curve, Point, joined, line
from wedgework.geometry.length import length_mm
from wedgework.geometry.split import part
from wedgework.pattern.errors import DraftRefused

FRONT_REACH: Final = 0.05
"""How far the front reaches under the body by the cut hip girth; common practice, no source."""

FRONT_SHARE: Final = 0.46
"""Share of a leg's girth that the front takes; common practice, no source."""

THIGH_MM: Final = 50.0
"""The thigh is measured so far below the crotch; common practice, no source."""

SPARE_MM: Final = 10.0
"""Both seams run straight over at least so much above the hem, which takes their differences."""


@dataclass(frozen=True, eq=False, kw_only=True)
class LegHalf:
    """One half of a leg; curves are walked as the outline is, centre line on the left."""

    crotch: Curve
    inseam: Curve
    hem: Curve
    side: Curve


def leg_halves(frame: Frame, front: Half, back: Half) -> tuple[LegHalf, LegHalf]:
    """Legs of both halves, their inseams and side seams equally long.

    DraftRefused where the torso loop leaves no room for a crotch curve.
    """
    low_mm, seats = _seats(frame, front, back)
    knots = [
        _knots(frame, half, seat, low_mm, share)
        for half, seat, share in zip(
            (front, back), seats, (FRONT_SHARE, 1.0 - FRONT_SHARE), strict=True
        )
    ]
    inner = _made_equal([[(y, x) for y, x, _ in rows] for rows in knots], (0.0, 0.0))
    hip = frame.sizes.hip_height_mm
    outer = _made_equal(
        [
            [(hip, half.width["hip"]), *((y, x) for y, _, x in rows[1:])]
            for half, rows in zip((front, back), knots, strict=True)
        ],
        [length_mm(_above_hip(frame, half)) for half in (front, back)],
    )
    legs = [
        _half(frame, half, seat, one, other)
        for half, seat, one, other in zip((front, back), seats, inner, outer, strict=True)
    ]
    return legs[0], legs[1]


@dataclass(frozen=True, kw_only=True)
class _Seat:
    """A crotch curve: how far it reaches under the body, and where it starts and ends in height."""

    reach_mm: float
    top_mm: float
    low_mm: float

    @property
    def curve(self) -> Curve:
        """From the centre line to the inseam."""
        start, end = np.array([0.0, self.top_mm]), np.array([-self.reach_mm, self.low_mm])
        down = np.array([0.0, QUARTER * (self.top_mm - self.low_mm)])
        inwards = np.array([QUARTER * self.reach_mm, 0.0])
        return Curve(np.array([[start, start - down, end + inwards, end]]))

    @property
    def loop_mm(self) -> float:
        """Length from the waist to the inseam."""
        return length_mm(self.curve) - self.top_mm


def _seat(frame: Frame, reach_mm: float, low_mm: float) -> _Seat:
    # The curve begins below the hip level: there the piece is as wide as its half girth.
    room = 0.9 * (frame.sizes.hip_height_mm - low_mm)
    return _Seat(reach_mm=reach_mm, top_mm=low_mm + min(1.2 * reach_mm, room), low_mm=low_mm)


def _seats(frame: Frame, front: Half, back: Half) -> tuple[float, tuple[_Seat, _Seat]]:
    reach = FRONT_REACH * frame.sizes.cut["hip"]
    hip = frame.sizes.hip_height_mm
    low = solved(
        lambda y: _seat(frame, reach, y).loop_mm - front.loop_down_mm, -front.loop_down_mm, hip - 1
    )
    if low is None:
        raise DraftRefused("The torso loop is too short below the hips for a leg.")
    back_reach = solved(
        lambda x: _seat(frame, x, low).loop_mm - back.loop_down_mm, 1.0, back.loop_down_mm
    )
    if back_reach is None:
        raise DraftRefused(
            "The back part of the torso loop below the waist is shorter than the front part: "
            "measure them again."
        )
    return low, (_seat(frame, reach, low), _seat(frame, back_reach, low))


def _knots(
    frame: Frame, half: Half, seat: _Seat, low_mm: float, share: float
) -> list[tuple[float, float, float]]:
    """Rows (height, x of the inseam, x of the side) from the crotch down to above the hem."""
    whole = half.width["hip"] + seat.reach_mm
    rows = [(low_mm, -seat.reach_mm, half.width["hip"])]
    for below_mm, girth_mm in _girths(frame):
        lack = (whole - girth_mm * share) / 2.0
        rows.append((low_mm - below_mm, -seat.reach_mm + lack, half.width["hip"] - lack))
    return rows


def _girths(frame: Frame) -> list[tuple[float, float]]:
    """(how far below the crotch, cut girth) of the leg, from the thigh down to its hem."""
    numbers, body = frame.numbers, frame.sizes.body
    part, length = 1.0 - numbers.girth_reduction, 1.0 - numbers.length_reduction
    thigh = (THIGH_MM * length, body["thigh_girth_mm"] * part)
    inside = body["inside_leg_mm"] * length
    if numbers.legs == "mid_thigh":
        return [thigh, (0.22 * inside, 0.93 * body["thigh_girth_mm"] * part)]
    knee = (0.45 * inside, body["knee_girth_mm"] * part)
    return [thigh, knee, (0.95 * inside, body["ankle_girth_mm"] * part)]


def _above_hip(frame: Frame, half: Half) -> Curve:
    """The side from the hip level up to the armhole."""
    return Curve(side_curve(frame, half).segments[1:])


def _made_equal(
    sides: Sequence[list[tuple[float, float]]], above_mm: Sequence[float]
) -> list[Curve]:
    """Curves through (height, x), downwards; with what lies above them they are equally long.

    The shorter runs on straight.
    """
    curves = [_down(rows, SPARE_MM) for rows in sides]
    whole = [length_mm(one) + above for one, above in zip(curves, above_mm, strict=True)]
    return [
        _down(rows, SPARE_MM + max(whole) - own) for rows, own in zip(sides, whole, strict=True)
    ]


def _down(rows: list[tuple[float, float]], spare_mm: float) -> Curve:
    heights = [y for y, _ in rows] + [rows[-1][0] - spare_mm]
    places = [x for _, x in rows] + [rows[-1][1]]
    return curve_over(np.array(heights), np.array(places))


def _half(frame: Frame, half: Half, seat: _Seat, inseam: Curve, side: Curve) -> LegHalf:
    low, high = inseam.end, side.end
    third = np.array([(high[0] - low[0]) / 3.0, 0.0])
    hem = Curve(np.array([[low, low + third, high - third, high]]))
    upper = _above_hip(frame, half)
    whole = Curve(np.concatenate([side.segments[::-1, ::-1], upper.segments]))
    return LegHalf(crotch=seat.curve, inseam=inseam, hem=hem, side=whole)


def centre_line(neck_end: Point, leg: LegHalf) -> Curve:
    """The centre line and the crotch curve that it runs into, from the neck down."""
    return joined(line(neck_end, leg.crotch.start), leg.crotch)


def loop_to_crotch(x_mm: float, wanted_mm: float, leg: LegHalf) -> Curve:
    """The torso loop from the waist to the crotch, so long exactly.

    It runs straight to where the crotch curve begins and goes on along that, almost to its end:
    the loop is as long as the centre line and the curve together, and starts beside the centre.
    """
    first = line((x_mm, 0.0), leg.crotch.start)
    rest_mm = min(max(wanted_mm - length_mm(first), SPARE_MM), length_mm(leg.crotch))
    return joined(first, part(leg.crotch, 0.0, rest_mm))
