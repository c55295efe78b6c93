"""What a dart measures: its apex, angle, legs and intake."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from wedgework.geometry.curve import Floats, Point
from wedgework.geometry.distinct import distinct
from wedgework.geometry.length import points_at
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.document import Piece, Project, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.runs import WalkedRun, walked

SAMPLES: Final = 65
"""Places at which a double-pointed dart is measured across: a curve's widest within 0.1 %."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class DartMeasure:
    """`mouth_a` and `mouth_b` are the open ends of the legs; `intake_mm` is the chord between.

    Of a double-pointed dart both are its `tip_mm`, and the intake is its width where it is widest.
    """

    piece: Piece
    apex_mm: Point
    mouth_a: Point
    mouth_b: Point
    angle_rad: float
    leg_a_mm: float
    leg_b_mm: float
    intake_mm: float
    tip_mm: Point | None = None
    tip_angle_rad: float = 0.0


def darts_of(project: Project) -> tuple[Seam, ...]:
    """Every dart of the project, in the order of the table."""
    return tuple(seam for seam in project.seams.values() if seam.is_dart)


def darts_at(project: Project, own: str) -> tuple[Seam, ...]:
    """The darts that an edge is a leg of, or a corner is a point of."""
    return tuple(
        dart
        for dart in darts_of(project)
        if own in {dart.apex, dart.tip, *(ref.edge for ref in (*dart.a, *dart.b))}
    )


def measure_dart(project: Project, dart: Seam) -> DartMeasure:
    """Measure a dart. Its angle is what the sheet lacks at the apex: 2 pi less the corner's angle.

    That is also the shaping it puts in there (Gauss-Bonnet). Raises EditRefused for a seam that
    is no dart.
    """
    if dart.apex is None:
        raise EditRefused(f"“{dart.id}” is a seam, not a dart.", culprit=dart.id)
    a, b = walked(project, dart.a), walked(project, dart.b)
    piece = a.stretches[-1].piece
    mouth_a, mouth_b = (run.curve_of(run.stretches[0]).start for run in (a, b))
    found = DartMeasure(
        piece=piece,
        apex_mm=a.curve_of(a.stretches[-1]).end,
        mouth_a=mouth_a,
        mouth_b=mouth_b,
        angle_rad=2 * math.pi - corner_angle(piece, dart.apex),
        leg_a_mm=a.length_mm,
        leg_b_mm=b.length_mm,
        intake_mm=float(np.hypot(*(mouth_a - mouth_b))),
    )
    if dart.tip is None:
        return found
    return replace(
        found,
        intake_mm=_widest_mm(a, b),
        tip_mm=mouth_a,
        tip_angle_rad=2 * math.pi - corner_angle(piece, dart.tip),
    )


def _widest_mm(a: WalkedRun, b: WalkedRun) -> float:
    """The greatest distance of two legs from each other, at the same share of their lengths.

    Asked at every joint of their cubics, where a straight leg is widest, and at SAMPLES places.
    """
    shares = [np.linspace(0.0, 1.0, SAMPLES)]
    shares += [run.turning_profile()[0] / run.length_mm for run in (a, b)]
    at = distinct(np.concatenate(shares))
    one, other = (_points(run, at * run.length_mm) for run in (a, b))
    return float(np.hypot(*(one - other).T).max())


def _points(run: WalkedRun, stations_mm: Floats) -> Floats:
    """Points at stations of a run, (k, 2) mm."""
    rows = []
    for one in run.stretches:
        own = stations_mm[(one.from_mm <= stations_mm) & (stations_mm < one.to_mm)]
        rows.append(points_at(one.edge.curve, [one.own_mm(station) for station in own]))
    last = run.stretches[-1]
    return np.concatenate([*rows, run.curve_of(last).end[None]])[: len(stations_mm)]


def shares_apex(project: Project, one: Seam, other: Seam) -> bool:
    """Whether two darts end in one point."""
    apart = measure_dart(project, one).apex_mm - measure_dart(project, other).apex_mm
    return bool(np.hypot(*apart) <= SAME_STATION_MM)
