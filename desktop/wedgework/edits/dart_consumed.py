"""Move the intake of a dart into a seam beside it: the dart goes, and the seam shapes as much.

The slice runs straight from nothing, beside the apex, to the end of the seam that is nearer to the
mouth. How wide it is there is found by trying, since edges that bend turn by a little more or less
than straight ones.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

import numpy as np

from wedgework.edits.darts import RemoveDart
from wedgework.geometry.curve import Point
from wedgework.geometry.nearest import nearest
from wedgework.geometry.tolerances import SAME_STATION_MM, SHAPED_RAD
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.document import Project, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.intake import Station
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.runs import WalkedRun
from wedgework.pattern.seams import SeamMeasure, measure_seam

TRIES: Final = 30
"""Widths that are tried at the most; straight edges need two."""


def without_consumed(project: Project, seam: Seam, own: str) -> Project:
    """The project without the dart that a seam consumes; EditRefused where it is of the seam."""
    dart = the_seam(project, own)
    if not dart.is_dart or dart is seam:
        raise EditRefused(
            f"“{dart.name or own}” is no dart that this seam could consume.", culprit=own
        )
    after = RemoveDart(dart=own).change(project)
    kept = after.seams[seam.id]
    if (kept.a, kept.b) != (seam.a, seam.b):
        raise EditRefused(
            f"Dart “{dart.name or own}” opens into this very seam; swing it to another edge first.",
            culprit=own,
        )
    return after


def shaped_like(
    before: Project,
    seam: Seam,
    own: str,
    shaped: Callable[[tuple[Station, ...]], Project],
) -> Project:
    """The project where a seam shapes as much more as a dart did; `shaped` gives it stations.

    EditRefused where the dart lies in no piece of the seam, or no such slice can be made.
    """
    dart, measured = the_seam(before, own), measure_seam(before, seam)
    found = measure_dart(before, dart)
    run, to_a = _beside(measured, found.piece.id)
    if found.tip_mm is not None:
        middle = (found.tip_mm + found.apex_mm) / 2
        at = sorted(to_a(_foot(run, point, found.piece.id)) for point in
                    (found.tip_mm, middle, found.apex_mm))  # fmt: skip
        return shaped(tuple(map(Station, at, (0.0, found.intake_mm, 0.0))))
    mouth = (found.mouth_a + found.mouth_b) / 2
    tip_mm = to_a(_foot(run, found.apex_mm, found.piece.id))
    at_start = _is_at_start(run, mouth, found.piece.id)
    wanted = measured.shaping_rad + found.angle_rad + measure_seam(before, dart).shaping_rad
    slice_ = _Slice(tip_mm, measured.a.length_mm, at_start=at_start)
    slice_.refuse_short(seam)
    return _tried(seam, slice_, wanted, found.angle_rad, shaped)


class _Slice:
    """A straight slice from nothing at `tip_mm` along A to an end of the seam."""

    def __init__(self, tip_mm: float, whole_mm: float, *, at_start: bool) -> None:
        self._tip_mm, self._whole_mm, self._at_start = tip_mm, whole_mm, at_start

    @property
    def length_mm(self) -> float:
        """How long it is."""
        return self._tip_mm if self._at_start else self._whole_mm - self._tip_mm

    def refuse_short(self, seam: Seam) -> None:
        """EditRefused where the apex lies beyond the seam."""
        if self.length_mm <= SAME_STATION_MM:
            raise EditRefused(
                "The apex of the dart lies beyond the end of the seam, so no slice can run to it.",
                culprit=seam.id,
            )

    def stations(self, width_mm: float) -> tuple[Station, ...]:
        """Its two stations."""
        if self._at_start:
            return Station(0.0, width_mm), Station(self._tip_mm, 0.0)
        return Station(self._tip_mm, 0.0), Station(self._whole_mm, width_mm)


def _tried(
    seam: Seam,
    slice_: _Slice,
    wanted_rad: float,
    angle_rad: float,
    shaped: Callable[[tuple[Station, ...]], Project],
) -> Project:
    """The project shaped by a width that is found by secants, from that of straight edges on."""
    width = 2 * slice_.length_mm * math.tan(angle_rad / 2)
    tried: list[tuple[float, float]] = []
    for _ in range(TRIES):
        after = shaped(slice_.stations(width))
        miss = measure_seam(after, after.seams[seam.id]).shaping_rad - wanted_rad
        if abs(miss) <= SHAPED_RAD:
            return after
        slope = 1.0 / slice_.length_mm
        if tried and tried[-1][0] != width and tried[-1][1] != miss:
            slope = (miss - tried[-1][1]) / (width - tried[-1][0])
        tried.append((width, miss))
        width -= miss / slope
    raise EditRefused("No slice of this seam shapes as much as the dart.", culprit=seam.id)


def _beside(measured: SeamMeasure, piece: str) -> tuple[WalkedRun, Callable[[float], float]]:
    """The side that lies in a piece, and how its stations fall on A."""
    for run, to_a in ((measured.a, float), (measured.b, measured.a_of)):
        if any(one.piece.id == piece for one in run.stretches):
            return run, to_a
    raise EditRefused("The dart lies in no piece of this seam.", culprit=piece)


def _foot(run: WalkedRun, point: Point, piece: str) -> float:
    """The station of a run, in its stretches of one piece, that is nearest to a point."""
    feet = [(nearest(one.edge.curve, point), one) for one in run.stretches if one.piece.id == piece]
    foot, stretch = min(feet, key=lambda row: row[0].distance_mm)
    return stretch.station_mm(foot.station_mm)


def _is_at_start(run: WalkedRun, mouth: Point, piece: str) -> bool:
    """Whether the run begins nearer to a mouth than it ends, of ends that lie in the piece."""
    first, last = run.stretches[0], run.stretches[-1]
    start, end = run.curve_of(first).start, run.curve_of(last).end
    if first.piece.id != piece or last.piece.id != piece:
        return first.piece.id == piece
    return bool(np.hypot(*(start - mouth)) <= np.hypot(*(end - mouth)))
