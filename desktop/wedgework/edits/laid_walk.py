"""A line over pieces is walked: where seams cross it, and where that lays the pieces beyond.

Where curved seams end elsewhere, the pieces beyond come to lie a little otherwise; the line is led
along with them until its end is where the last piece has it. Only places and directions are asked
here, since it is asked several times in every frame of a drag; curves are cut once, after that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Never

import numpy as np

from wedgework.edits.laid_ends import Half, Leg
from wedgework.geometry.curve import Curve, Floats, Point, Points
from wedgework.geometry.fair import led
from wedgework.geometry.fixed_point import FixedPoint
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.motion import Affine, inverse
from wedgework.geometry.nearest import beside, nearest
from wedgework.geometry.tolerances import MEETING_ROUNDS, SAME_POINT_MM, SMALL_STEP_MM
from wedgework.pattern.boundary import Side
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.laying import STILL, Laid, joints_of, laid_end, over
from wedgework.pattern.round_corner import Joint

ROUNDS: Final = 40
"""Rounds of leading a line along with its pieces: each leaves a small part of what was left, half
of it where seams bend as tightly as any do."""


LEAST_SINE: Final = 0.05
"""Where a line is crossed more flatly than this, the next step goes less far."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Met:
    """Where a line meets the joint to the next piece.

    `here` is the corner in the place of the line; by `by_mm` both sides of the seam grow, None
    where the corner does not move along one. `motion` lays the next piece.
    """

    here: Point
    motion: Affine
    by_mm: float | None = None
    missed_mm: float = 0.0


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Way:
    """A line as it is walked: what it meets, and how far pieces have come to lie elsewhere.

    `drifts` are the motions from where a piece was laid to where it is now: of the piece before
    each corner that cannot move, and of the last one. `missed_mm` is the most that the line passes
    such a corner, or one that ends it, by; `crossed_mm` is by how much the edge grows that a half
    begins at.
    """

    line: Curve
    mets: tuple[Met, ...]
    drifts: tuple[Affine, ...]
    missed_mm: float
    crossed_mm: float | None


def way_along(project: Project, half: Half, line: Curve) -> Way:
    """The line led along with its pieces, and walked."""
    stations = [nearest(line, corner).station_mm for corner in _still_corners(half.laid)]
    stations.append(length_mm(line))
    places = points_at(line, stations)
    search = FixedPoint(_moves((STILL,) * len(stations), places))
    growths: dict[Side, float] = {}
    way = walked_line(project, half, line, growths)
    for _ in range(ROUNDS):
        moves = search.after(_moves(way.drifts, places))
        if search.left <= SAME_POINT_MM:
            break
        drifts = _motions(moves, places)
        # What lies before a first end that is crossed is the mirror image: the piece in the middle
        # keeps its part as it is.
        held = (
            [] if way.crossed_mm is None else [(nearest(line, way.mets[0].here).station_mm, STILL)]
        )
        led_line = led(line, [*held, *zip(stations, drifts, strict=True)])
        way = walked_line(project, half, led_line, growths)
    return way


def walked_line(project: Project, half: Half, line: Curve, growths: dict[Side, float]) -> Way:
    """A line as it lies, walked; `growths` are those found last, a start for the next time."""
    motion = half.laid[0].motion
    mets: list[Met] = []
    drifts: list[Affine] = []
    for one, joint in joints_of(half.laid):
        met = _met(project, (one, joint), (line, motion), growths)
        mets.append(met)
        if len(joint.steps) > 1:
            drifts.append(motion.after(inverse(one.motion)))
        motion = met.motion
    drifts.append(motion.after(inverse(half.laid[-1].motion)))
    first, last = half.ends
    missed = [met.missed_mm for met in mets]
    if not last.slides:
        end = motion.points(last.leg.outward.end)
        missed.append(float(np.hypot(*(end - line.end))))
    crossed = growth_to((line, first.motion), first.leg, growths) if first.is_crossed else None
    return Way(
        line=line,
        mets=tuple(mets),
        drifts=tuple(drifts),
        missed_mm=max(missed, default=0.0),
        crossed_mm=crossed,
    )


def _moves(drifts: Sequence[Affine], places: Points) -> Floats:
    """How motions turn, and how they move places, (n, 2) mm: numbers of about one size."""
    rows = [
        np.concatenate([one.linear.ravel(), one.points(place) - place])
        for one, place in zip(drifts, places, strict=True)
    ]
    return np.concatenate(rows)


def _motions(moves: Floats, places: Points) -> list[Affine]:
    rows = zip(moves.reshape(-1, 6), places, strict=True)
    return [
        Affine(row[:4].reshape(2, 2), place + row[4:] - row[:4].reshape(2, 2) @ place)
        for row, place in rows
    ]


def _still_corners(laid: Sequence[Laid]) -> list[Point]:
    """Corners where three pieces or more meet, in the place of the line."""
    return [one.curve.end for one, joint in joints_of(laid) if len(joint.steps) > 1]


def _met(
    project: Project,
    at: tuple[Laid, Joint],
    laid_line: tuple[Curve, Affine],
    growths: dict[Side, float],
) -> Met:
    """What a line meets behind a side; `laid_line` has the line, and how its piece lies now."""
    one, joint = at
    line, motion = laid_line
    if len(joint.steps) == 1 and joint.steps[0].between_rad == 0.0:
        return _met_seam(project, joint, laid_line, growths)
    curve = one.edge.curve
    corner = motion.points(curve.start if one.side.mirrored else curve.end)
    foot = nearest(line, corner)
    if not joint.steps:
        return Met(here=foot.point, motion=motion)
    onwards = motion.after(over(project, joint))
    return Met(here=corner, missed_mm=foot.distance_mm, motion=onwards)


def _met_seam(
    project: Project,
    joint: Joint,
    laid_line: tuple[Curve, Affine],
    growths: dict[Side, float],
) -> Met:
    """Both sides of a seam are cut off, or carried on, by as much as brings one to the line."""
    (step,) = joint.steps
    motion = laid_line[1]
    leaves = Leg.of(project, step.leaves, starts=True)
    enters = Leg.of(project, step.enters, starts=False)
    by_mm = growth_to(laid_line, leaves, growths)
    (here, along), (there, away) = leaves.grown_end(by_mm), enters.grown_end(by_mm)
    turned = step.leaves.mirrored != step.enters.mirrored
    laid = laid_end((here, -along), (there, -away), turned_over=turned)
    return Met(here=motion.points(here), by_mm=by_mm, motion=motion.after(laid))


def growth_to(laid_line: tuple[Curve, Affine], leg: Leg, growths: dict[Side, float]) -> float:
    """By how much a seam line grows to end on a line; EditRefused where it does not meet it."""
    line, motion = laid_line
    by = growths.get(leg.side, 0.0)
    for _ in range(MEETING_ROUNDS):
        end, way = leg.grown_end(by)
        # Inside the piece is on the line's left, so a corner that lies there has to grow.
        inside_mm, along = beside(line, motion.points(end))
        if abs(inside_mm) <= SAME_POINT_MM / 4:
            break
        step = inside_mm / _crossed_at(motion.linear @ way, along)
        by += step
        # What a step leaves over is at most its square times the curvature of both lines.
        if abs(step) <= SMALL_STEP_MM:
            break
    else:
        _refuse_missed(leg)
    growths[leg.side] = by
    return by


def _crossed_at(way: Point, along: Point) -> float:
    """How fast a seam line leaves the inside as it goes on: the sine of the angle between."""
    size = float(np.hypot(*along)) or 1.0
    sine = float(way[0] * along[1] - way[1] * along[0]) / size
    return math.copysign(max(abs(sine), LEAST_SINE), sine)


def _refuse_missed(leg: Leg) -> Never:
    raise EditRefused(
        f"The line does not cross “{leg.edge.name or leg.edge.id}”.", culprit=leg.edge.id
    )
