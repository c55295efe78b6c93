"""What a dart measures: its apex, angle, legs and intake."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from wedgework.geometry.curve import Point
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.document import Piece, Project, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.runs import walked


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class DartMeasure:
    """`mouth_a` and `mouth_b` are the open ends of the legs; `intake_mm` is the chord between."""

    piece: Piece
    apex_mm: Point
    mouth_a: Point
    mouth_b: Point
    angle_rad: float
    leg_a_mm: float
    leg_b_mm: float

    @property
    def intake_mm(self) -> float:
        """Width of the mouth, straight across."""
        return float(np.hypot(*(self.mouth_a - self.mouth_b)))


def darts_of(project: Project) -> tuple[Seam, ...]:
    """Every dart of the project, in the order of the table."""
    return tuple(seam for seam in project.seams.values() if seam.is_dart)


def measure_dart(project: Project, dart: Seam) -> DartMeasure:
    """Measure a dart. Its angle is what the sheet lacks at the apex: 2 pi less the corner's angle.

    That is also the shaping it puts in there (Gauss-Bonnet). Raises EditRefused for a seam that
    is no dart.
    """
    if dart.apex is None:
        raise EditRefused(f"“{dart.id}” is a seam, not a dart.", culprit=dart.id)
    a, b = walked(project, dart.a), walked(project, dart.b)
    piece = a.stretches[-1].piece
    first_a, last_a = a.curve_of(a.stretches[0]), a.curve_of(a.stretches[-1])
    first_b = b.curve_of(b.stretches[0])
    return DartMeasure(
        piece=piece,
        apex_mm=last_a.end,
        mouth_a=first_a.start,
        mouth_b=first_b.start,
        angle_rad=2 * math.pi - corner_angle(piece, dart.apex),
        leg_a_mm=a.length_mm,
        leg_b_mm=b.length_mm,
    )


def shares_apex(project: Project, one: Seam, other: Seam) -> bool:
    """Whether two darts end in one point."""
    apart = measure_dart(project, one).apex_mm - measure_dart(project, other).apex_mm
    return bool(np.hypot(*apart) <= SAME_STATION_MM)
