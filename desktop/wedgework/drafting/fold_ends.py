"""Where a strip meets its mirror image or its own other end, it is mitred, whatever the angle.

At a V neckline on the fold both halves of a facing meet in a mitre: an end square to the edge would
make one straight edge of both.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

from wedgework.drafting.draft import Side
from wedgework.drafting.line_ends import LineEnds
from wedgework.drafting.lines import GarmentLine
from wedgework.drafting.strips import Strip
from wedgework.geometry.crossing import crossings
from wedgework.geometry.curve import Curve, Point, joined, line, reversed_curve, with_ends
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.motion import rotation
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import JOINT_RAD
from wedgework.geometry.turning import end_tangent
from wedgework.pattern.ends import ENDS, End, run_end
from wedgework.pattern.errors import DraftRefused

REACH: Final = 20.0
"""A mitre so many times as long as the strip is wide is a spike, which nobody can cut."""

MOST_RAD: Final = math.radians(85.0)
"""Where a line ends straight on its mirror image, as a slit does, a square end turns round it."""


def mitred(strip: Strip, along: GarmentLine, ends: LineEnds) -> Strip:
    """The strip with its outer side drawn on, or cut off, where its end meets another one.

    That is its mirror image at a fold, and where it closes into a ring. DraftRefused where the line
    runs so nearly along the fold that it never gets there.
    """
    sides = list(strip.outer)
    for end in ENDS:
        at = 0 if end == "first" else -1
        angle_rad = _angle_rad(along, ends, end)
        if JOINT_RAD < abs(angle_rad - math.pi / 2.0) < MOST_RAD:
            sides[at] = _ended(sides[at], strip, end, angle_rad)
    return replace(strip, outer=tuple(sides))


def _angle_rad(along: GarmentLine, ends: LineEnds, end: End) -> float:
    """The angle between the line and the line on which a strip along it ends; square where free."""
    if ends.fold == end or (ends.fold is not None and ends.is_ring):
        return run_end(along.run, end).angle_rad
    return (math.pi - ends.closing_rad) / 2.0 if ends.is_ring else math.pi / 2.0


def _ended(side: Side, strip: Strip, end: End, angle_rad: float) -> Side:
    """One outer side, walked as the strip is, ended on the line where it meets another."""
    if end == "first":
        neck, outer = reversed_curve(strip.joined), reversed_curve(side.curve)
        return Side(role=side.role, curve=reversed_curve(_onto(outer, neck, angle_rad, -1)))
    return Side(role=side.role, curve=_onto(side.curve, strip.joined, angle_rad, 1))


def _onto(outer: Curve, neck: Curve, angle_rad: float, sign: int) -> Curve:
    """The outer curve up to the fold, which starts at the end of the neck edge."""
    (x, y), (across, up) = end_tangent(neck), outer.end - neck.end
    is_left = float(x * up - y * across) > 0.0
    inward = rotation(-sign * angle_rad).points(-end_tangent(neck))
    fold_way: Point = inward if is_left == (sign > 0) else -inward
    reach_mm = REACH * math.dist(outer.end, neck.end)
    fold = line(neck.end, neck.end + reach_mm * fold_way)
    further = joined(outer, line(outer.end, outer.end + reach_mm * end_tangent(outer)))
    met = crossings(further, fold)
    if len(met) == 0:
        raise DraftRefused(
            f"The line ends at an angle of {math.degrees(angle_rad):.0f} degrees there: a "
            "strip along it would end in a spike."
        )
    station = float(min(met[:, 0], key=lambda at: abs(at - length_mm(outer))))
    return with_ends(part(further, 0.0, station), outer.start, point_at(further, station))
