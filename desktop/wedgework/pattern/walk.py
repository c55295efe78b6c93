"""Walking a seam: one seam line rolled along the other, and what one side gathers over the other.

Both lines touch at equal lengths from the start of the walk, as a maker pins one along the other;
the matching notches then say where the one has gained on the other.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from wedgework.geometry.curve import Point
from wedgework.geometry.length import point_at
from wedgework.geometry.motion import Affine, rotation
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.geometry.turning import end_tangent, start_tangent, tangents_at
from wedgework.pattern.document import Piece, Project, Seam, Side
from wedgework.pattern.runs import Stretch, WalkedRun
from wedgework.pattern.seams import SeamMeasure, measure_seam


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Rolled:
    """A piece rolled along its partner: where it is moved to, and where the two lines touch.

    `motion` is rigid; it turns the piece over where the seam joins a mirror image.
    """

    piece: Piece
    motion: Affine
    touching: Point


@dataclass(frozen=True, slots=True)
class Passed:
    """A matching notch that the walk has passed: its station along A, and A less B up to it, mm."""

    at_mm: float
    gained_mm: float


def rolled(project: Project, seam: Seam, at_mm: float, rolling: Side = "b") -> Rolled:
    """The piece of one side rolled along the other, `at_mm` from the start of the walk.

    Both lines pass the touching point in one direction; at a corner that in which the walk comes
    there. Beyond the end of the shorter side the piece stays where that side ended.
    """
    measure = measure_seam(project, seam)
    fixed, roller = (measure.b, measure.a) if rolling == "a" else (measure.a, measure.b)
    station = min(max(at_mm, 0.0), fixed.length_mm, roller.length_mm)
    on, by = fixed.stretch_at(station), roller.stretch_at(station)
    to, to_along = _stand(fixed, on, station)
    own, own_along = _stand(roller, by, station)
    return Rolled(
        piece=by.piece,
        motion=_laid(own, own_along, to, to_along, over=on.ref.mirrored != by.ref.mirrored),
        touching=to,
    )


def _laid(own: Point, own_along: Point, to: Point, to_along: Point, *, over: bool) -> Affine:
    """The motion that lays a place and its direction on another; `over` turns the sheet over."""
    linear = np.diag([1.0, -1.0]) if over else np.eye(2)
    from_rad = math.atan2(*(linear @ own_along)[::-1])
    turn = rotation(math.atan2(*to_along[::-1]) - from_rad).linear @ linear
    return Affine(turn, to - turn @ own)


def _stand(run: WalkedRun, stretch: Stretch, station: float) -> tuple[Point, Point]:
    """The point, (2,) mm, of a station, and the direction, (2,), in which the walk comes there.

    At the very start it is that in which the walk sets out.
    """
    curve, along = run.curve_of(stretch), station - stretch.from_mm
    if along <= SAME_STATION_MM:
        return curve.start, start_tangent(curve)
    if stretch.to_mm - station <= SAME_STATION_MM:
        return curve.end, end_tangent(curve)
    return np.asarray(point_at(curve, along)), tangents_at(curve, [along])[0]


def gained_mm(measure: SeamMeasure, at_mm: float) -> float:
    """How much longer A is than B up to a station of A, in mm, by the notches that match."""
    return at_mm - measure.b_of(at_mm)


def passed(measure: SeamMeasure, at_mm: float) -> tuple[Passed, ...]:
    """The matching notches up to a station of A."""
    inner = measure.matches[1:-1].tolist()
    return tuple(Passed(a, a - b) for a, b in inner if a <= at_mm + SAME_STATION_MM)
