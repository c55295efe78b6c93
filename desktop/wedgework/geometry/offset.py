"""Curves and closed outlines moved aside by a distance.

An outline is moved exactly, stretch by stretch; which stretches remain where it meets itself is
read from the region that the way aside sweeps, made of fine chords; where two of them meet is
found on the curves again. So loops, closed slits and lost parts need no case of their own.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

import numpy as np

from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.geometry.offset_rings import Stretch, moved_part, traced
from wedgework.geometry.offset_sources import Corner, Source, arc, mitre_point, steps_at, straight
from wedgework.geometry.tolerances import (
    COARSEST_CHORD_MM,
    FINEST_CHORD_MM,
    JOINT_RAD,
    OFFSET_CHORDS,
    REVERSAL_RAD,
    SAME_POINT_MM,
)
from wedgework.geometry.turning import angle_between, end_tangents, joint_turnings_rad

Joint = Literal["mitre", "round", "cut", "bare"]

MITRE_LIMIT = 4.0
"""A mitre that reaches further from its corner than so many distances is cut off (as in SVG)."""


def offset_curve(curve: Curve, distance_mm: float, error_mm: float) -> Curve:
    """`curve` moved to its left by `distance_mm` (right below nothing), within `error_mm`.

    The tangents at both ends and at every joint are kept. Past the centre of a bend the moved
    curve turns back in cusps, which are kept too: this is the plain offset. At a kink the outer
    side goes round on an arc, the inner side straight across.
    """
    sources = smooth_sources(curve, distance_mm, 0)
    parts: list[Floats] = []
    for index, source in enumerate(sources):
        part = moved_part(source, error_mm).segments.copy()
        if parts and not np.array_equal(parts[-1][-1, 3], part[0, 0]):
            parts.append(_bridge(sources[index - 1], parts[-1][-1, 3], part[0, 0], source))
        parts.append(part)
    return Curve(np.concatenate(parts))


def _bridge(before: Source, start: Point, end: Point, after: Source) -> Floats:
    """The segments between two moved parts that no longer meet at their kink."""
    turn = _turn_at(before.curve, after.curve)
    outer = turn * before.left_mm < 0.0
    facing = start - before.curve.end
    way = arc(before.curve.end, start, turn, end, facing) if outer else straight(start, end)
    return way.segments


def _turn_at(before: Curve, after: Curve) -> float:
    return angle_between(end_tangents(before)[-1, 1], end_tangents(after)[0, 0])


def smooth_sources(curve: Curve, left_mm: float, edge: int) -> list[Source]:
    """The stretches of a curve between its kinks, each to be moved to the left."""
    real = np.abs(curve.segments - curve.segments[:, :1]).max(axis=(1, 2)) > SAME_POINT_MM
    if not real.any():
        return []
    segments = curve.segments[real].copy()
    segments[1:, 0] = segments[:-1, 3]
    whole = Curve(segments)
    kinks = np.flatnonzero(np.abs(joint_turnings_rad(whole)) > JOINT_RAD) + 1
    return [
        Source(curve=Curve(part), left_mm=left_mm, edge=edge) for part in np.split(segments, kinks)
    ]


def offset_ring(
    ring: Sequence[Curve],
    distances_mm: Sequence[float],
    error_mm: float,
    joint: Joint | Sequence[Joint] = "mitre",
    mitre_limit: float = MITRE_LIMIT,
) -> list[list[Stretch]]:
    """A counter-clockwise ring with each edge moved outwards by its own distance, loops removed.

    A distance below nothing moves the edge inwards. `joint` says how a gap at a corner is
    filled, one for all or one for the start of each edge: lines drawn out till they meet (no
    further than `mitre_limit` times the greater distance from the corner, else cut), an arc about
    the corner, one straight line, or `bare`, back to the corner and out again. Gives rings of
    stretches, each with the number of the edge that it came from: several where the outline falls
    apart, none where nothing is left; a ring round a hole runs clockwise. Each point is within
    `error_mm`. Raises ValueError unless there is a distance for each edge.
    """
    joints = [joint] * len(ring) if isinstance(joint, str) else list(joint)
    if not len(ring) == len(distances_mm) == len(joints):
        raise ValueError("a ring is offset by one distance, and joint, for each of its edges")
    sources = [
        source
        for edge, (curve, distance) in enumerate(zip(ring, distances_mm, strict=True))
        for source in smooth_sources(curve, -float(distance), edge)
    ]
    corners = [
        _corner(before, after, joints[after.edge], mitre_limit)
        for before, after in zip(sources, [*sources[1:], *sources[:1]], strict=True)
    ]
    return traced(
        sources,
        corners,
        error_mm,
        min(max(error_mm / OFFSET_CHORDS, FINEST_CHORD_MM), COARSEST_CHORD_MM),
    )


def _corner(before: Source, after: Source, joint: Joint, mitre_limit: float) -> Corner:
    """What fills the gap, or stands at the step, between two moved stretches at their corner."""
    corner = before.curve.end
    u, v = end_tangents(before.curve)[-1, 1], end_tangents(after.curve)[0, 0]
    places = (corner + before.left_mm * _left(u), corner, corner + after.left_mm * _left(v))
    greater = max(before.left_mm, after.left_mm, key=abs)
    turn = angle_between(u, v)
    # Nearly straight back is a spike or a slit by a hair. What is about the corner belongs to the
    # way aside in any case, so it is taken for the one that opens a gap.
    if turn * greater > 0.0 and abs(turn) > math.pi - REVERSAL_RAD:
        turn -= math.copysign(math.tau, turn)
    gap = turn * greater < 0.0 and before.left_mm * after.left_mm >= 0.0
    way: list[tuple[int, Curve]] = []
    if gap and abs(turn) >= JOINT_RAD:
        reach = mitre_limit * abs(greater)
        tip = _tip(places, u, v, reach) if joint == "mitre" else None
        if tip is not None:
            way = [(before.edge, straight(places[0], tip)), (after.edge, straight(tip, places[2]))]
        elif joint == "bare":
            back, out = straight(places[0], corner), straight(corner, places[2])
            way = [(before.edge, back), (after.edge, out)]
        elif joint == "round":
            facing = math.copysign(1.0, greater) * _left(u)
            way = [(before.edge, arc(corner, places[0], turn, places[2], facing))]
        else:
            way = [(before.edge, straight(places[0], places[2]))]
    return Corner(centre=corner, ways=_joints(way), steps=steps_at(before, after, places))


def _left(direction: Point) -> Point:
    return np.array([-direction[1], direction[0]])


def _joints(ways: list[tuple[int, Curve]]) -> tuple[Source, ...]:
    return tuple(
        Source(curve=way, left_mm=0.0, edge=edge, joint=True)
        for edge, way in ways
        if math.dist(way.start, way.end) > SAME_POINT_MM
    )


def _tip(places: tuple[Point, Point, Point], u: Point, v: Point, reach: float) -> Point | None:
    """Where the moved stretches meet when drawn out, if they do so within reach of the corner."""
    start, corner, end = places
    tip = mitre_point((start, u), (end, v))
    if tip is None or (tip - start) @ u < 0.0 or (end - tip) @ v < 0.0:
        return None
    return tip if math.dist(tip, corner) <= reach else None
