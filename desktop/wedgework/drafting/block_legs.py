"""Legs of a suit block: crotch curve, inseam, side and hem of each half.

The crotch curves of front and back are together as long as the torso loop asks; each leaves its
centre line in the line's own direction and meets the inseam square, so the four corners in the
crotch make a flat place.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from wedgework.drafting.block_shape import ABOVE_WAIST, QUARTER, Frame, Half, trunk_side
from wedgework.drafting.block_sides import (
    Leaning,
    fair_over,
    lengthened,
    made_equal,
    place_at,
)
from wedgework.drafting.shape_body import not_together
from wedgework.drafting.solving import solved
from wedgework.geometry.curve import Curve, Point, joined, line, reversed_curve
from wedgework.geometry.length import length_mm
from wedgework.geometry.split import part
from wedgework.geometry.turning import end_tangent

FRONT_REACH: Final = 0.05
"""How far the front reaches under the body by the cut hip girth; common practice, no source."""

FRONT_SHARES: Final = {"thigh": 0.43, "hem": 0.44, "knee": 0.455, "ankle": 0.46}
"""Share of a leg's girth that the front takes; common practice, no source."""

THIGH_MM: Final = 50.0
"""The thigh is measured so far below the crotch; common practice, no source."""

SPARE_MM: Final = 10.0
"""Both seams run straight over at least so much above the hem, which takes their differences."""

INSEAM_LEAN: Final = (-0.5, 0.0)
"""At the crotch the inseam leans under the body by 27 degrees at most: steeper, the point of the
crotch gets too thin to join; common practice, no source."""


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
    seats = _seats(frame, front, back)
    inseams = made_equal([_spared(seat.inseam) for seat in seats])
    sides = made_equal(
        [
            _spared(trunk_side(frame, half, legs=seat.outer_rows))
            for half, seat in zip((front, back), seats, strict=True)
        ],
        ABOVE_WAIST,
    )
    legs = [
        LegHalf(crotch=seat.curve, inseam=reversed_curve(inseam), hem=_hem(inseam, side), side=side)
        for seat, inseam, side in zip(seats, inseams, sides, strict=True)
    ]
    return legs[0], legs[1]


def _spared(curve: Curve) -> Curve:
    """With the straight run above the hem."""
    return lengthened(curve, SPARE_MM)


def _hem(inseam: Curve, side: Curve) -> Curve:
    """The hem, level at both ends, as both seams are upright there."""
    low, high = inseam.start, side.start
    third = np.array([(high[0] - low[0]) / 3.0, 0.0])
    return Curve(np.array([[low, low + third, high - third, high]]))


@dataclass(frozen=True, eq=False, kw_only=True)
class _Seat:
    """A crotch curve: how far it reaches under the body, and where it starts and ends in height.

    `inseam` runs from the hem up to there; `outer_rows` are (height, place) of the side, upwards.
    """

    reach_mm: float
    top_mm: float
    low_mm: float
    inseam: Curve
    outer_rows: list[tuple[float, float]]

    @property
    def curve(self) -> Curve:
        """From the centre line to the inseam, square to it."""
        start, end = np.array([0.0, self.top_mm]), np.array([-self.reach_mm, self.low_mm])
        down = np.array([0.0, QUARTER * (self.top_mm - self.low_mm)])
        x, y = end_tangent(self.inseam)
        return Curve(
            np.array(
                [[start, start - down, end + QUARTER * self.reach_mm * np.array([y, -x]), end]]
            )
        )

    @property
    def loop_mm(self) -> float:
        """Length from the waist to the inseam."""
        return length_mm(self.curve) - self.top_mm


def _seat(frame: Frame, half: Half, name: str, reach_mm: float, low_mm: float) -> _Seat:
    # The curve begins below the hip level: there the piece is as wide as its half girth.
    room = 0.9 * (frame.sizes.hip_height_mm - low_mm)
    rows = [(low_mm - below_mm, width_mm) for below_mm, width_mm in _widths(frame, name)]
    inseam = _inseam(reach_mm, low_mm, half.width["hip"] + reach_mm, rows[:-1])
    return _Seat(
        reach_mm=reach_mm,
        top_mm=low_mm + min(1.2 * reach_mm, room),
        low_mm=low_mm,
        inseam=inseam,
        outer_rows=[(height, place_at(inseam, height) + width) for height, width in rows],
    )


def _inseam(
    reach_mm: float, low_mm: float, whole_mm: float, lower: list[tuple[float, float]]
) -> Curve:
    """The inseam from the hem up to the crotch.

    Below the thigh both seams come in alike. What the thigh lacks is the side's, and the inseam
    swings out to the crotch in one sweep: led through the thigh it would be hollow.
    """
    places = [(whole_mm - width_mm) / 2.0 - reach_mm for _, width_mm in lower]
    return fair_over(
        np.array([*(height for height, _ in lower), low_mm]),
        np.array([*places, -reach_mm]),
        high=Leaning(least=INSEAM_LEAN[0], most=INSEAM_LEAN[1]),
    )


def _seats(frame: Frame, front: Half, back: Half) -> tuple[_Seat, _Seat]:
    """The crotch curves of front and back, which end at one height."""
    reach_mm = FRONT_REACH * frame.sizes.cut["hip"]

    def front_seat(low_mm: float) -> _Seat:
        return _seat(frame, front, "front", reach_mm, low_mm)

    low_mm = solved(
        lambda y: front_seat(y).loop_mm - front.loop_down_mm,
        -front.loop_down_mm,
        frame.sizes.hip_height_mm - 1,
    )
    if low_mm is None:
        raise not_together(
            "The torso loop does not reach from the waist in front round below the hips",
            frame.sizes.taken,
        )

    def back_seat(reach_mm: float) -> _Seat:
        return _seat(frame, back, "back", reach_mm, low_mm)

    back_mm = solved(lambda x: back_seat(x).loop_mm - back.loop_down_mm, 1.0, back.loop_down_mm)
    if back_mm is None:
        raise not_together(
            "The torso loop is too short from the crotch up to the waist at the back, beside the "
            "part from the waist in front to the crotch",
            frame.sizes.taken,
        )
    return front_seat(low_mm), back_seat(back_mm)


def _widths(frame: Frame, name: str) -> list[tuple[float, float]]:
    """(how far below the crotch, width) of a half of the leg, from its hem up to the thigh."""
    numbers, body = frame.numbers, frame.sizes.body
    part, length = 1.0 - numbers.girth_reduction, 1.0 - numbers.length_reduction
    thigh_mm, inside_mm = body["thigh_girth_mm"], body["inside_leg_mm"] * length
    if 0.22 * inside_mm < 1.2 * THIGH_MM:
        raise not_together(
            f"An inside leg of {body['inside_leg_mm']:.0f} mm leaves no leg below the thigh",
            frame.sizes.taken,
        )
    rows = [("thigh", THIGH_MM * length, thigh_mm)]
    if numbers.legs == "mid_thigh":
        rows.append(("hem", 0.22 * inside_mm, 0.93 * thigh_mm))
    else:
        rows.append(("knee", 0.45 * inside_mm, body["knee_girth_mm"]))
        rows.append(("ankle", 0.95 * inside_mm, body["ankle_girth_mm"]))
    return [
        (below_mm, girth_mm * part * _share(level, name))
        for level, below_mm, girth_mm in reversed(rows)
    ]


def _share(level: str, name: str) -> float:
    front = FRONT_SHARES[level]
    return front if name == "front" else 1.0 - front


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
