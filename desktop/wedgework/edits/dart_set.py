"""Give a dart another intake, another angle, or legs of another length.

Intake and angle open or close its mouth along the edges beside it, the same way on both sides, and
leave its apex; the length of a leg moves the apex along the middle line and leaves the mouth.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, PositiveMm
from wedgework.edits.carry import Fate, Stretch, reshaped_fate
from wedgework.edits.dart_apex import followed, middle_line, with_apex_at
from wedgework.edits.darts import DartInRing, dart_in_ring, mouth_fill
from wedgework.edits.edges import refuse_fold_edge
from wedgework.edits.redrawn import with_edges_redrawn
from wedgework.geometry.curve import Curve, Floats, Point, joined
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import SAME_STATION_MM, STATION_MM
from wedgework.geometry.unite import united
from wedgework.pattern.darts import DartMeasure, darts_of, measure_dart
from wedgework.pattern.document import Edge, EdgeId, Project, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_seam

PLACES: Final = 65
"""Places along the mouth's edge at which a width is asked for, before it is halved down."""

MOST_HALVINGS: Final = 80
"""Float64 has no more than 64 to give."""


class SetDart(Edit, frozen=True, kw_only=True):
    """Give a dart another intake or angle about its apex, or a leg of another length."""

    dart: Annotated[Id, Meta(description="dart")]
    intake_mm: Annotated[
        PositiveMm | None,
        Meta(description="width of its mouth, which opens along its edge about the same middle"),
    ] = None
    angle_deg: Annotated[
        Annotated[float, Meta(gt=0, lt=180, extra_json_schema={"unit": "deg"})] | None,
        Meta(description="angle at its apex, for which its mouth opens the same way"),
    ] = None
    leg_a_mm: Annotated[
        PositiveMm | None,
        Meta(description="length of leg A: the apex goes along the middle line, the mouth stays"),
    ] = None
    leg_b_mm: Annotated[PositiveMm | None, Meta(description="length of leg B, in the same way")] = (
        None
    )

    def change(self, project: Project) -> Project:
        """EditRefused where not one number is given, or the dart has no room for it."""
        given = [self.intake_mm, self.angle_deg, self.leg_a_mm, self.leg_b_mm]
        if sum(one is not None for one in given) != 1:
            raise EditRefused("Say one number: the intake, the angle, or the length of one leg.")
        found = dart_in_ring(project, self.dart)
        dart = the_seam(project, self.dart)
        measured = measure_dart(project, dart)
        if self.intake_mm is not None:
            return _with_mouth(project, found, _chords, self.intake_mm, measured.intake_mm)
        if self.angle_deg is not None:
            wanted, now = math.radians(self.angle_deg), measured.angle_rad
            # A shaped leg does not start towards its mouth; it turns as its chord does.
            start = _angle(measured.mouth_a - found.apex, measured.mouth_b - found.apex)
            return _with_mouth(project, found, _angles, wanted - now + start, start)
        return _with_leg(project, dart, measured, (self.leg_a_mm, self.leg_b_mm))


def _with_leg(
    project: Project, dart: Seam, found: DartMeasure, wanted_mm: tuple[float | None, float | None]
) -> Project:
    """The project where one leg has a length: a leg grows with its chord."""
    is_a = wanted_mm[0] is not None
    mouth, now_mm = (found.mouth_a, found.leg_a_mm) if is_a else (found.mouth_b, found.leg_b_mm)
    length = float(next(one for one in wanted_mm if one is not None))
    if abs(length - now_mm) <= STATION_MM:
        return project
    chord = float(np.hypot(*(found.apex_mm - mouth))) * length / now_mm
    _, towards = middle_line(found)
    # The apex goes along its middle line to where it is a chord from the leg's mouth.
    beside = mouth - found.apex_mm
    along = float(beside @ towards)
    across2 = float(beside @ beside) - along * along
    if chord * chord <= across2:
        raise EditRefused(
            f"With its mouth as it is a leg of this dart is longer than {length:.1f} mm: make the "
            "intake smaller first.",
            culprit=dart.id,
        )
    by = along - math.copysign(math.sqrt(chord * chord - across2), along)
    return with_apex_at(project, dart, found.apex_mm + by * towards)


Width = Callable[[Floats, Floats, Point], Floats]
"""How wide mouths are whose ends lie at these places, (n, 2) each, seen from an apex."""


def _chords(one: Floats, other: Floats, _apex: Point) -> Floats:
    return np.asarray(np.hypot(*(other - one).T))


def _angles(one: Floats, other: Floats, apex: Point) -> Floats:
    return np.array([_angle(a - apex, b - apex) for a, b in zip(one, other, strict=True)])


def _angle(one: Point, other: Point) -> float:
    cross = one[0] * other[1] - one[1] * other[0]
    return abs(math.atan2(float(cross), float(one @ other)))


@dataclass(frozen=True, eq=False, slots=True)
class _Mouth:
    """The line that a mouth opens along: the edge before it, across it, and the edge after it."""

    before: Edge
    after: Edge
    fill: Curve | None

    @property
    def line(self) -> Curve:
        parts = (self.before.curve, self.fill, self.after.curve)
        return joined(*(one for one in parts if one is not None))

    @property
    def ends_mm(self) -> tuple[float, float]:
        """Where the mouth lies along the line."""
        start = length_mm(self.before.curve)
        return start, start + (0.0 if self.fill is None else length_mm(self.fill))

    @property
    def room_mm(self) -> float:
        """How far each way from its middle it may open; one edge round the piece has two ends."""
        low, high = self.ends_mm
        middle, whole = (low + high) / 2, length_mm(self.line)
        share = 0.5 if self.before is self.after else 1.0
        return min(middle - (1 - share) * low, high + share * (whole - high) - middle)


def _with_mouth(
    project: Project, found: DartInRing, width: Width, wanted: float, now: float
) -> Project:
    mouth = _Mouth(found.rest[-1], found.rest[0],
                   mouth_fill(found.rest[-1].curve, found.rest[0].curve))  # fmt: skip
    _refuse_beside(project, found, mouth)
    if abs(wanted - now) <= STATION_MM:
        return project
    if wanted <= 0:
        raise EditRefused("The legs are shaped so that they would cross.", culprit=found.dart.id)
    half_mm = _half_mm(mouth, found, width, wanted)
    middle = sum(mouth.ends_mm) / 2
    low, high = middle - half_mm, middle + half_mm
    edges, fates = _beside(mouth, low, high)
    ends = edges[mouth.before.id].curve.end, edges[mouth.after.id].curve.start
    for new, old in _legs(project, found, ends):
        edges[new.id], fates[new.id] = new, reshaped_fate(old, new)
    return with_edges_redrawn(project, edges, fates)


def _refuse_beside(project: Project, found: DartInRing, mouth: _Mouth) -> None:
    for edge in (mouth.before, mouth.after):
        refuse_fold_edge(found.piece, edge.id, "cut into")
        for dart in darts_of(project):
            if edge.id in {ref.edge for ref in (*dart.a, *dart.b)}:
                raise EditRefused(
                    f"Dart “{dart.name or dart.id}” begins where this one ends, so its mouth has "
                    "no edge to open along.",
                    culprit=dart.id,
                )


def _half_mm(mouth: _Mouth, found: DartInRing, width: Width, wanted: float) -> float:
    """How far each way from its middle the mouth then opens: the least such distance."""
    line, (start, end), room = mouth.line, mouth.ends_mm, mouth.room_mm
    middle, low, high = (start + end) / 2, 0.0, room

    def wide(halves: Floats) -> Floats:
        one, other = (points_at(line, middle + side * halves) for side in (-1.0, 1.0))
        return width(one, other, found.apex)

    for _ in range(MOST_HALVINGS):
        halves = np.linspace(low, high, PLACES)
        reached = np.flatnonzero(wide(halves) >= wanted)
        if len(reached) == 0:
            raise EditRefused(
                "The edges beside the mouth are too short for that.", culprit=found.dart.id
            )
        index = max(int(reached[0]), 1)
        low, high = float(halves[index - 1]), float(halves[index])
        if high - low <= STATION_MM:
            break
    # Between two places as near as these a width is straight.
    one, other = wide(np.array([low, high]))
    share = 1.0 if other <= one else min(max((wanted - one) / (other - one), 0.0), 1.0)
    return low + share * (high - low)


def _beside(
    mouth: _Mouth, low: float, high: float
) -> tuple[dict[EdgeId, Edge], dict[EdgeId, Fate]]:
    """The edges before and after the mouth, cut off or carried on to where it now ends."""
    start, end = mouth.ends_mm
    over = length_mm(mouth.after.curve) - (high - end)
    if min(low, over) <= SAME_STATION_MM:
        raise EditRefused("An edge beside the mouth would have no length left.")
    if mouth.before is mouth.after:
        whole = _cut_at_start(_cut_at_end(mouth.before.curve, mouth.fill, low - start),
                              mouth.fill, high - end)  # fmt: skip
        new = replace(mouth.before, curve=whole)
        gone = max(high - end, 0.0), max(start - low, 0.0)
        return {new.id: new}, {new.id: _shifted(mouth.before, new, *gone, high - end)}
    before = replace(mouth.before, curve=_cut_at_end(mouth.before.curve, mouth.fill, low - start))
    after = replace(mouth.after, curve=_cut_at_start(mouth.after.curve, mouth.fill, high - end))
    fates = {
        before.id: _shifted(mouth.before, before, 0.0, max(start - low, 0.0), 0.0),
        after.id: _shifted(mouth.after, after, max(high - end, 0.0), 0.0, high - end),
    }
    return {before.id: before, after.id: after}, fates


def _cut_at_end(curve: Curve, fill: Curve | None, by_mm: float) -> Curve:
    if by_mm <= 0:
        return part(curve, 0.0, length_mm(curve) + by_mm) if by_mm < 0 else curve
    return curve if fill is None else united(curve, part(fill, 0.0, by_mm))


def _cut_at_start(curve: Curve, fill: Curve | None, by_mm: float) -> Curve:
    if by_mm >= 0:
        return part(curve, by_mm, length_mm(curve)) if by_mm > 0 else curve
    if fill is None:
        return curve
    wide_mm = length_mm(fill)
    return united(part(fill, wide_mm + by_mm, wide_mm), curve)


def _shifted(old: Edge, new: Edge, first_mm: float, last_mm: float, by_mm: float) -> Fate:
    """What is left of an edge lies where it lay; its new start is `by_mm` further on."""
    low, high = first_mm, length_mm(old.curve) - last_mm
    stretch = Stretch(from_mm=low, to_mm=high, edge=new.id,
                      new_from_mm=low - by_mm, new_to_mm=high - by_mm)  # fmt: skip
    return Fate(walk=(new.id,), stretches=(stretch,))


def _legs(
    project: Project, found: DartInRing, ends: tuple[Point, Point]
) -> list[tuple[Edge, Edge]]:
    """Both legs, turned and sized about the apex to the new ends of the mouth; new and old."""
    dart, old = found.dart, {edge.id: edge for edge in (*found.towards, *found.back)}
    first = found.towards[0].curve.start
    rows: list[Edge] = []
    for run in (dart.a, dart.b):
        is_first = run[0].edge == found.towards[0].id
        mouth, to = (first, ends[0]) if is_first else (found.back[-1].curve.end, ends[1])
        rows += followed(project, run, (mouth, found.apex), (to, found.apex))
    return [(new, old[new.id]) for new in rows]
