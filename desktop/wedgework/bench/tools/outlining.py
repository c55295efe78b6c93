"""Outlines that are pressed point by point: what is set, the curve that it makes, and the piece.

A point is a corner or lies on a curve; between two corners the outline is straight, or the round
curve through the points between them. Drawing a piece and tracing one are this, with and without
what draws points in.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from wedgework.bench.gestures import PICK_PX, Mm2, Pointer, distance_mm
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, Figure, Trace
from wedgework.edits import Edit
from wedgework.edits.pieces import AddPiece, EdgeData
from wedgework.edits.places import Naming
from wedgework.edits.seams import id_from
from wedgework.edits.settings import SetCutting
from wedgework.geometry.curve import Curve, reversed_curve
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.flatten import flattened
from wedgework.geometry.length import length_mm
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.through import round_through
from wedgework.geometry.tolerances import SAME_STATION_MM

LEAST_POINTS: Final = 3
ARC_STEP_DEG: Final = 15.0
"""A typed arc has a point after every such turn."""

TRACE_PX: Final = 0.2
"""The traced line is drawn this near to the true curve: finer than a screen shows."""


@dataclass(frozen=True, slots=True)
class Set:
    """A point that is set; one that is no corner is passed smoothly."""

    at_mm: Mm2
    is_corner: bool = True


Points = tuple[Set, ...]


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Stretch:
    """From corner to corner: indices of its points, and the curve through them."""

    indices: tuple[int, ...]
    curve: Curve


def apart(points: Points) -> Points:
    """Points without those that lie on the one before them."""
    kept: list[Set] = []
    for point in points:
        if not kept or distance_mm(kept[-1].at_mm, point.at_mm) > SAME_STATION_MM:
            kept.append(point)
    return tuple(kept)


def stretches(points: Points, *, closed: bool) -> list[Stretch]:
    """The outline in stretches; the first point counts as a corner, an open end too."""
    ring = [*range(len(points)), 0] if closed else [*range(len(points))]
    found: list[Stretch] = []
    run = ring[:1]
    for place, index in enumerate(ring[1:], 1):
        run.append(index)
        if points[index].is_corner or index == 0 or place == len(ring) - 1:
            curve = _curve([points[one].at_mm for one in run])
            if curve is not None:
                found.append(Stretch(indices=tuple(run), curve=curve))
            run = [index]
    return found


def _curve(places: list[Mm2]) -> Curve | None:
    try:
        return round_through(places)
    except ValueError:  # all of it is one place
        return None


def trace_of(points: Points, *, px_mm: float, says: tuple[Figure, ...] = ()) -> Trace:
    """The outline so far, as it is drawn over the table."""
    marks = tuple((point.at_mm, point.is_corner) for point in points)
    way: list[Mm2] = [points[0].at_mm] if points else []
    for stretch in stretches(points, closed=False):
        flat = flattened(stretch.curve, TRACE_PX * px_mm)
        way += [(x, y) for x, y in flat[1:].tolist()]
    return Trace(tuple(way), marks=marks, says=says)


def point_under(points: Points, pointer: Pointer) -> int | None:
    """Index of the set point under the pointer, the nearest if there are several."""
    if not points:
        return None
    away = [distance_mm(point.at_mm, pointer.at_mm) for point in points]
    nearest = min(range(len(points)), key=away.__getitem__)
    return nearest if away[nearest] <= PICK_PX * pointer.px_mm else None


def gap_under(points: Points, pointer: Pointer) -> int | None:
    """Where a new point belongs that is pressed on the drawn line: before this index."""
    reach = PICK_PX * pointer.px_mm
    for stretch in stretches(points, closed=False):
        foot = nearest_foot(stretch.curve, pointer.at_mm)
        if foot.distance_mm <= reach:
            inside = min(int(foot.parameter), len(stretch.indices) - 2)
            return stretch.indices[inside] + 1
    return None


def with_point(points: Points, index: int, at_mm: Mm2) -> Points:
    """The points with one of them elsewhere."""
    return (*points[:index], replace(points[index], at_mm=at_mm), *points[index + 1 :])


def with_other_kind(points: Points, index: int) -> Points:
    """The points with one of them a corner, or none, where it was not; the first is always one."""
    if index == 0:
        return points
    other = replace(points[index], is_corner=not points[index].is_corner)
    return (*points[:index], other, *points[index + 1 :])


def is_enough(points: Points) -> bool:
    """Whether the points hold a piece."""
    ring = apart(points)
    curves = [one.curve for one in stretches(ring, closed=True)]
    least = SAME_STATION_MM**2
    return len(ring) >= LEAST_POINTS and abs(ring_area_mm2(curves)) > least


def closing_is_straight(points: Points) -> bool:
    """Whether the way from the last point back to the first is a straight edge of its own."""
    return len(points) >= LEAST_POINTS and points[-1].is_corner


def kept(points: Points, scene: Scene, *, on_fold: bool) -> Commit:
    """The step that puts the piece on the table, whichever way round it was pressed.

    `on_fold`: it is half a piece, and its closing edge the fold.
    """
    curves = [one.curve for one in stretches(apart(points), closed=True)]
    if ring_area_mm2(curves) < 0:
        curves = [reversed_curve(curve) for curve in reversed(curves)]
        closing = 1
    else:
        closing = len(curves)
    name = f"piece {len(scene.project.pieces) + 1}"
    own = Naming(scene.project).fresh(id_from(name, "piece"))
    edges = tuple(EdgeData(cubics_mm=curve.segments.tolist()) for curve in curves)
    edits: list[Edit] = [AddPiece(name=name, edges=edges)]
    if on_fold:
        edits.append(SetCutting(piece=own, cutting="fold", about=f"{own}.e{closing}"))
    return Commit(tuple(edits), chosen=(own,))


def length_and_angle(start: Mm2, end: Mm2) -> tuple[float, float]:
    """How far and in which direction, in mm and degrees, counter-clockwise from the right."""
    across, up = end[0] - start[0], end[1] - start[1]
    return math.hypot(across, up), math.degrees(math.atan2(up, across))


def says_of(points: Points, coming: Points) -> tuple[Figure, ...]:
    """What stands beside the pointer: length and direction of the edge being drawn."""
    if not points:
        return ()
    size, angle = length_and_angle(points[-1].at_mm, coming[-1].at_mm)
    rows: list[Figure] = [Figure("length", size), Figure("angle", angle, "angle")]
    if len(coming) > 1 or not points[-1].is_corner:
        last = stretches((*points, *coming), closed=False)[-1]
        rows.insert(0, Figure("edge", length_mm(last.curve)))
    return tuple(rows)


def arc_at_angle(start: Mm2, along_mm: float, angle_deg: float, turn_deg: float) -> Points:
    """Points of an arc so long, its ends in a direction from each other, turning left by an angle.

    They lie so close that the curve through them is the arc to a millionth of its length.
    """
    count = max(1, math.ceil(abs(turn_deg) / ARC_STEP_DEG))
    found = []
    for number in range(1, count + 1):
        share = number / count
        half = math.radians(share * turn_deg) / 2
        chord_mm = share * along_mm * (math.sin(half) / half if half else 1.0)
        leaving_deg = angle_deg - turn_deg / 2
        place = at_angle(start, chord_mm, leaving_deg + share * turn_deg / 2)
        found.append(Set(place, is_corner=number == count))
    return tuple(found)


def at_angle(start: Mm2, size_mm: float, angle_deg: float) -> Mm2:
    """So far from a point in a direction."""
    angle = math.radians(angle_deg)
    x, y = np.array(start) + size_mm * np.array([math.cos(angle), math.sin(angle)])
    return float(x), float(y)
