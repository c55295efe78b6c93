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

from wedgework.drafting.block_numbers import GIRTHS, BodyBlockNumbers, CutSizes
from wedgework.drafting.solving import solved
from wedgework.geometry.curve import Curve, Floats, Point, line, polyline
from wedgework.geometry.length import length_mm
from wedgework.pattern.errors import DraftRefused

QUARTER: Final = 0.5522847498
"""Handle of a quarter ellipse by its half axes. Source: Mortensen, “Approximate a circle with cubic
Bezier curves”."""

ARM_MM: Final = 25.0
"""The armhole's lowest place lies so much above the bust level; common practice, no source."""

FRONT_NECK: Final = 1.1
"""The neckline's depth at the front by its half width; common practice, no source."""

LEG_BELOW_HIP_MM: Final = 15.0
"""The leg opening starts so much below the hip level, so that the level crosses the whole piece;
common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class Half:
    """One half: how wide it is by level, and how high its places are, all in mm.

    `loop_up_mm` and `loop_down_mm` are the torso loop from mid-shoulder to waist and from waist to
    crotch. Heights that follow from others are None until they are known.
    """

    width: dict[str, float]
    loop_up_mm: float
    loop_down_mm: float
    nape_mm: float | None
    arm_mm: float
    leg_mm: float
    neck_half_mm: float = 0.0


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
        raise DraftRefused(
            "The torso loop is too short to reach from the bust point to the shoulder: measure "
            "the loop and the height of the bust again."
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
        raise DraftRefused("The torso loop is too short below the waist: measure it again.")
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
    ahead = (top - start) / 3.0 if pointed else np.array([QUARTER * width_mm, 0.0])
    back = QUARTER * depth_mm * frame.upright
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
        raise DraftRefused("The neckline would reach down to the waist.")
    top = neck_point_mm(frame, half) + numbers.neck_wider_mm * frame.along
    return _neck(frame, top, centre_mm, pointed=is_front and numbers.neckline == "v")


def side_curve(frame: Frame, half: Half) -> Curve:
    """The side from the leg opening up to the armhole, through the width at every level.

    Monotone between levels, so no width lies outside those of its neighbours.
    """
    sizes, width = frame.sizes, half.width
    y = np.array([half.leg_mm, sizes.hip_height_mm, 0.0, sizes.under_bust_height_mm,
        sizes.bust_height_mm, half.arm_mm])  # fmt: skip
    x = np.array([width["hip"], width["hip"], width["waist"], width["under_bust"], width["bust"],
        width["bust"]])  # fmt: skip
    return curve_over(y, x)


def curve_over(heights: Floats, places: Floats) -> Curve:
    """A curve through (place, height) in order, each (n,), heights rising or falling throughout.

    It is upright at both ends and turns back sideways only where the places do. Source of the
    slopes: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984), weighted harmonic means.
    """
    slope = monotone_slopes(heights, places)
    third = np.diff(heights) / 3.0
    points = np.stack([places, heights], axis=1)
    low, high = points[:-1], points[1:]
    ahead = low + np.stack([slope[:-1] * third, third], axis=1)
    behind = high - np.stack([slope[1:] * third, third], axis=1)
    return Curve(np.stack([low, ahead, behind, high], axis=1))


def monotone_slopes(at: Floats, values: Floats) -> Floats:
    """Slope at each knot of a piecewise cubic that rises and falls only where its values do; (n,).

    Nothing at the ends. Source: as `curve_over`.
    """
    step = np.diff(at)
    rise = np.diff(values) / step
    slope = np.zeros(len(at))
    before, after = rise[:-1], rise[1:]
    one_way = before * after > 0
    w1, w2 = 2.0 * step[1:] + step[:-1], step[1:] + 2.0 * step[:-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        mean = (w1 + w2) / (w1 / before + w2 / after)
    slope[1:-1] = np.where(one_way, mean, 0.0)
    return slope


def armhole(frame: Frame, half: Half, fullness: float) -> Curve:
    """The armhole from the side up to the shoulder's end, square to both."""
    low, high = np.array([half.width["bust"], half.arm_mm]), arm_point_mm(frame, half)
    rise_mm = float(high[1] - low[1])
    if rise_mm <= 0:
        raise DraftRefused("The shoulder would lie below the armhole: measure the lengths again.")
    reach_mm = fullness * max(float(low[0] - high[0]), 0.3 * rise_mm)
    inwards = np.array([-reach_mm, 0.0])
    return Curve(np.array([[low, low + inwards, high - fullness * rise_mm * frame.upright, high]]))


def leg_edge(frame: Frame, half: Half, fullness: float) -> Curve:
    """The leg opening from the crotch up to the side, square to both."""
    low = np.array([frame.numbers.crotch_width_mm / 2.0, crotch_height_mm(frame, half)])
    high = np.array([half.width["hip"], half.leg_mm])
    width_mm, rise_mm = high - low
    up, back = np.array([0.0, fullness * rise_mm]), np.array([fullness * width_mm, 0.0])
    return Curve(np.array([[low, low + up, high - back, high]]))


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
        raise DraftRefused(
            "The neck-base girth does not go with the back waist length and the torso loop: "
            "measure them again."
        )
    return placed(found)


def with_sides_agreeing(frame: Frame, front: Half, back: Half) -> tuple[Half, Half]:
    """Both halves with their side seams equally long above the waist, and below it.

    The side that slants less goes on for longer; the other keeps its ends.
    """
    for end in ("arm_mm", "leg_mm"):
        front_mm, back_mm = (_side_mm(frame, half, end) for half in (front, back))
        if front_mm < back_mm:
            front = _as_long(frame, front, end, back_mm)
        elif back_mm < front_mm:
            back = _as_long(frame, back, end, front_mm)
    return front, back


def _side_mm(frame: Frame, half: Half, end: str) -> float:
    """Length of the side above the waist (`arm_mm`) or below it (`leg_mm`)."""
    segments = side_curve(frame, half).segments
    return length_mm(Curve(segments[2:] if end == "arm_mm" else segments[:2]))


def _as_long(frame: Frame, half: Half, end: str, wanted_mm: float) -> Half:
    # The outermost stretch runs straight up or down, so what is lacking is exactly its lengthening.
    lack_mm = wanted_mm - _side_mm(frame, half, end)
    at_mm = getattr(half, end)
    return replace(half, **{end: at_mm + (lack_mm if end == "arm_mm" else -lack_mm)})


def half_widths(sizes: dict[str, float], side_share: float) -> dict[str, float]:
    """Widths by level when the side takes only that share of the intake above the hip."""
    fullest = sizes["bust"]
    return {
        name: fullest - side_share * (fullest - sizes[name]) if name != "hip" else sizes[name]
        for name in GIRTHS
    }
