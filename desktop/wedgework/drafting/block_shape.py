"""The outline of half a suit block about its centre line: x from the centre, y from the waist.

Every corner at which a line of the joined suit goes on (neck, armhole, leg opening) is square to
the seam that ends there, so front and back together make 180 degrees.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from wedgework.drafting.block_numbers import BodyBlockNumbers, CutSizes
from wedgework.drafting.block_sides import (
    BELOW_HIP,
    UNDER_ARM,
    Leaning,
    fair_over,
    made_equal,
    station_at,
)
from wedgework.drafting.shape_body import GIRTHS, not_together
from wedgework.drafting.solving import solved
from wedgework.geometry.curve import Curve, Point, line, polyline
from wedgework.geometry.length import length_mm
from wedgework.geometry.split import part
from wedgework.geometry.turning import end_tangent, start_tangent
from wedgework.pattern.errors import DraftRefused

QUARTER: Final = 0.5522847498
"""Handle of a quarter ellipse by its half axes. Source: Mortensen, “Approximate a circle with cubic
Bezier curves”."""

ARM_MM: Final = 25.0
"""The armhole's lowest place lies so much above the bust level; common practice, no source."""

LOW_ARM: Final = 0.45
"""The armhole runs in as far as this share of its height at least, however far out its end lies:
less would hook at the side; common practice, no source."""

FRONT_NECK: Final = 1.1
"""The neckline's depth at the front by its half width; common practice, no source."""

DEEP_NECK: Final = 1.5
"""A neckline so much deeper than wide is rounder at the centre than an ellipse; common practice, no
source."""

LEG_BELOW_HIP_MM: Final = (15.0, 8.0, 3.0, 40.0, 70.0)
"""The leg opening starts so much below the hip level, so that the level crosses the whole piece:
at the first of these places at which its edge can be as long as it should; common practice, no
source."""

HIGH_LEG: Final = 0.85
"""The leg opening reaches so far up from the crotch to the waist at most; common practice, no
source."""

UNDRAWN: Final = line((0.0, 0.0), (0.0, 1.0))
"""Stands for a side that is drawn when all that it depends on is known."""

ABOVE_WAIST: Final = 3
"""So many cubics of a side lie above the waist: up to the levels of under-bust and bust, and on."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Half:
    """One half: how wide it is by level, and how high its places are, all in mm.

    `loop_up_mm` and `loop_down_mm` are the torso loop from mid-shoulder to waist and from waist to
    crotch. Heights that follow from others are None until they are known. `side` runs from the leg
    opening or the hem up to the armhole.
    """

    width: dict[str, float]
    loop_up_mm: float
    loop_down_mm: float
    nape_mm: float | None
    arm_mm: float
    neck_half_mm: float = 0.0
    side: Curve = UNDRAWN


@dataclass(frozen=True, kw_only=True)
class Frame:
    """What both halves share."""

    sizes: CutSizes
    numbers: BodyBlockNumbers

    @property
    def along(self) -> Point:
        """Direction of the shoulder, from the neck outwards."""
        slope = math.radians(self.numbers.shoulder_slope_deg)
        return np.array([math.cos(slope), -math.sin(slope)])

    @property
    def upright(self) -> Point:
        """Square to the shoulder, upwards."""
        x, y = self.along
        return np.array([-y, x])


def mid_shoulder_mm(frame: Frame, half: Half) -> Point:
    """Where the torso loop starts: it runs to the bust point, down to the waist, and is so long.

    DraftRefused where that part of the loop is too short to reach.
    """
    sizes = frame.sizes
    x = half.neck_half_mm + sizes.shoulder_mm / 2.0 * float(frame.along[0])
    slant_mm = half.loop_up_mm - sizes.bust_height_mm
    aside_mm = x - sizes.bust_point_mm
    if slant_mm <= abs(aside_mm):
        raise not_together(
            "The torso loop does not reach from the bust point up to the middle of the shoulder",
            sizes.taken,
        )
    return np.array([x, sizes.bust_height_mm + math.sqrt(slant_mm**2 - aside_mm**2)])


def neck_point_mm(frame: Frame, half: Half) -> Point:
    """Foot of the neck at the shoulder."""
    return mid_shoulder_mm(frame, half) - frame.sizes.shoulder_mm / 2.0 * frame.along


def arm_point_mm(frame: Frame, half: Half) -> Point:
    """The shoulder's end."""
    return mid_shoulder_mm(frame, half) + frame.sizes.shoulder_mm / 2.0 * frame.along


def crotch_height_mm(frame: Frame, half: Half) -> float:
    """Height of the crotch, below the waist: the loop runs there from under the bust point."""
    aside_mm = frame.sizes.bust_point_mm
    if half.loop_down_mm <= aside_mm:
        raise not_together(
            "The torso loop does not reach from under the bust points down to the crotch",
            frame.sizes.taken,
        )
    return -math.sqrt(half.loop_down_mm**2 - aside_mm**2)


def loop_line(frame: Frame, half: Half) -> Curve:
    """The torso loop on this half: mid-shoulder, bust point, waist, crotch."""
    x = frame.sizes.bust_point_mm
    top_x, top_y = mid_shoulder_mm(frame, half).tolist()
    low_y = crotch_height_mm(frame, half)
    return polyline([(top_x, top_y), (x, frame.sizes.bust_height_mm), (x, 0.0), (0.0, low_y)])


def base_neck(frame: Frame, half: Half) -> Curve:
    """The neckline at the foot of the neck, from the centre line to the shoulder."""
    top = neck_point_mm(frame, half)
    front_mm = top[1] - FRONT_NECK * half.neck_half_mm
    return _neck(frame, top, front_mm if half.nape_mm is None else half.nape_mm)


def _neck(frame: Frame, top: Point, centre_mm: float, *, pointed: bool = False) -> Curve:
    """A neckline from the centre line at a height to its end on the shoulder."""
    start = np.array([0.0, centre_mm])
    width_mm, depth_mm = top - start
    # Deep and narrow, a quarter ellipse would turn as on a point at the centre.
    round_share = QUARTER * math.sqrt(max(depth_mm / width_mm / DEEP_NECK, 1.0))
    level = np.array([min(round_share, 0.9) * width_mm, 0.0])
    ahead = (top - start) / 3.0 if pointed else level
    back = QUARTER * min(depth_mm, DEEP_NECK * width_mm) * frame.upright
    return Curve(np.array([[start, start + ahead, top - back, top]]))


def worn_neck(frame: Frame, half: Half, *, is_front: bool) -> Curve:
    """The neckline that the maker asks for: wider, lower, round or with a point.

    DraftRefused where it would reach the shoulder's middle or the bust level.
    """
    numbers = frame.numbers
    base = base_neck(frame, half)
    lower_mm = numbers.neck_lower_mm if is_front else numbers.back_lower_mm
    if not numbers.neck_wider_mm and not lower_mm:
        return base
    if numbers.neck_wider_mm >= 0.45 * frame.sizes.shoulder_mm:
        raise DraftRefused(
            f"The neckline would move out by {numbers.neck_wider_mm:.0f} mm on a shoulder of "
            f"{frame.sizes.shoulder_mm:.0f} mm; it may by less than half of that."
        )
    centre_mm = float(base.start[1]) - lower_mm
    if centre_mm <= 0.0:
        raise DraftRefused(
            f"A neckline that is lowered by {lower_mm:.0f} mm would reach down to the waist: lower "
            f"it by less than {float(base.start[1]):.0f} mm."
        )
    top = neck_point_mm(frame, half) + numbers.neck_wider_mm * frame.along
    return _neck(frame, top, centre_mm, pointed=is_front and numbers.neckline == "v")


def trunk_side(
    frame: Frame, half: Half, *, low_mm: float = 0.0, legs: Sequence[tuple[float, float]] = ()
) -> Curve:
    """The side up to the armhole, through the width at every level.

    It begins at the height `low_mm`, below the hips, or at the hem of `legs`, rows (height, place)
    upwards.
    """
    sizes = frame.sizes
    levels = (sizes.hip_height_mm, 0.0, sizes.under_bust_height_mm, sizes.bust_height_mm)
    names = ("hip", "waist", "under_bust", "bust")
    opening = Leaning(least=BELOW_HIP[0], most=BELOW_HIP[1], height_mm=low_mm)
    return fair_over(
        np.array([*(height for height, _ in legs), *levels]),
        np.array([*(place for _, place in legs), *(half.width[name] for name in names)]),
        low=None if legs else opening,
        high=Leaning(least=UNDER_ARM[0], most=UNDER_ARM[1], height_mm=half.arm_mm),
    )


def armhole(frame: Frame, half: Half, fullness: float) -> Curve:
    """The armhole from the side up to the shoulder's end, square to both."""
    side = half.side
    low, high = side.end, arm_point_mm(frame, half)
    rise_mm = float(high[1] - low[1])
    if rise_mm <= 0:
        raise not_together("The shoulder would lie below the armhole", frame.sizes.taken)
    reach_mm = fullness * max(float(low[0] - high[0]), LOW_ARM * rise_mm)
    inwards = reach_mm * _left_of(end_tangent(side))
    return Curve(np.array([[low, low + inwards, high - fullness * rise_mm * frame.upright, high]]))


def leg_edge(frame: Frame, half: Half, fullness: float) -> Curve:
    """The leg opening from the crotch up to the side, square to both."""
    low = np.array([frame.numbers.crotch_width_mm / 2.0, crotch_height_mm(frame, half)])
    side = half.side
    width_mm, rise_mm = side.start - low
    up = np.array([0.0, fullness * rise_mm])
    back = fullness * width_mm * _left_of(start_tangent(side))
    return Curve(np.array([[low, low + up, side.start + back, side.start]]))


def _left_of(way: Point) -> Point:
    return np.array([-way[1], way[0]])


def crotch_edge(frame: Frame, half: Half) -> Curve:
    """The crotch from the centre line to the leg opening."""
    height_mm = crotch_height_mm(frame, half)
    return line((0.0, height_mm), (frame.numbers.crotch_width_mm / 2.0, height_mm))


def with_neck_width(frame: Frame, halves: Sequence[Half]) -> tuple[Half, ...]:
    """Both halves with the half neck width at which their necklines are as long as asked.

    DraftRefused where no width does that.
    """
    wanted_mm = frame.sizes.neck_mm / 2.0

    def placed(width_mm: float) -> tuple[Half, ...]:
        return tuple(replace(half, neck_half_mm=width_mm) for half in halves)

    def miss_mm(width_mm: float) -> float:
        return sum(length_mm(base_neck(frame, half)) for half in placed(width_mm)) - wanted_mm

    found = solved(miss_mm, 0.05 * wanted_mm, 0.7 * wanted_mm)
    if found is None:
        raise not_together(
            f"No neckline of {2.0 * wanted_mm:.0f} mm goes over the nape and both shoulders",
            frame.sizes.taken,
        )
    return placed(found)


def with_sides_agreeing(
    frame: Frame, front: Half, back: Half, below_mm: float
) -> tuple[Half, Half]:
    """Both halves with side seams that are equally long above the waist, and below it.

    The side that slants less goes on straight for longer; both end at the leg opening, which lies
    as high at the side of the front as was asked for, else `below_mm` below the hip level.
    """
    low_mm = frame.sizes.hip_height_mm - below_mm
    opening_mm = _leg_height_mm(frame, front)
    drawn = [
        trunk_side(frame, half, low_mm=min(low_mm, low_mm if opening_mm is None else opening_mm))
        for half in (front, back)
    ]
    sides = made_equal(drawn, ABOVE_WAIST)
    if opening_mm is not None:
        off_mm = station_at(sides[0], opening_mm)
        one, other = (part(side, off_mm, length_mm(side)) for side in sides)
        sides = (one, other)
    return replace(front, side=sides[0]), replace(back, side=sides[1])


def _leg_height_mm(frame: Frame, front: Half) -> float | None:
    """Where the leg opening meets the side of the front; None where that was not said.

    DraftRefused where that is too near to the waist.
    """
    rise_mm, part_left = frame.numbers.leg_rise_mm, 1.0 - frame.numbers.length_reduction
    if rise_mm is None:
        return None
    crotch_mm = crotch_height_mm(frame, front) - frame.numbers.crotch_strip_mm / 2.0
    if rise_mm * part_left > HIGH_LEG * -crotch_mm:
        raise DraftRefused(
            f"A leg opening that rises by {rise_mm:.0f} mm would start near the waist at the side: "
            f"let it rise by less than {HIGH_LEG * -crotch_mm / part_left:.0f} mm."
        )
    return crotch_mm + rise_mm * part_left


def half_widths(sizes: dict[str, float], side_share: float) -> dict[str, float]:
    """Widths by level when the side takes only that share of the intake above the hip."""
    fullest = sizes["bust"]
    return {
        name: fullest - side_share * (fullest - sizes[name]) if name != "hip" else sizes[name]
        for name in GIRTHS
    }
