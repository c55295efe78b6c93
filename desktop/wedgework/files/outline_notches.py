"""Small cuts into an outline, V or slit, taken out again; where each was is a notch.

Rings here run counter-clockwise, so a cut begins by turning left, into the piece.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from wedgework.files.drawn import Chain, straight_segments
from wedgework.files.outline_corners import joint_turns
from wedgework.files.outline_edges import started_at
from wedgework.files.outline_tolerances import (
    GAP_MM,
    NOTCH_DEPTH_MM,
    NOTCH_LEAST_MM,
    NOTCH_TURN_RAD,
    NOTCH_WIDTH_MM,
    SLIT_WIDTH_MM,
    STEP_BACK_MM,
)
from wedgework.geometry.curve import Curve, Floats, Point, Points
from wedgework.geometry.flatten import flattened
from wedgework.geometry.nearest import nearest
from wedgework.geometry.tolerances import PARALLEL_RAD, STRAIGHT_MM
from wedgework.geometry.turning import segment_turnings_rad

_MOST_CUBICS = 12
"""A cut has two sides, and at most a rounded end between them."""


@dataclass(frozen=True, slots=True, eq=False)
class Whole:
    """A ring without its cuts, and the middle of each cut's mouth, (2,) mm."""

    chain: Chain
    notches: tuple[Point, ...] = ()


def whole_ring(chain: Chain) -> Whole:
    """The ring with its notches taken out."""
    if len(chain.segments) < 3:
        return Whole(chain)
    # No cut may reach over the start: begin in the middle of nothing, where the longest side is.
    turn = _calm_place(chain)
    cuts = _cuts(started_at(chain, turn))
    if not cuts:
        return Whole(chain)
    return _without(started_at(chain, turn), cuts, chain.segments[0, 0])


def slit_place(line: Chain, ring: Chain) -> Point | None:
    """Where an open line that is a slit from an outline inwards begins, (2,) mm; else None."""
    start, end = line.ends
    length_mm = float(np.hypot(*(end - start)))
    if not NOTCH_LEAST_MM <= length_mm <= NOTCH_DEPTH_MM + GAP_MM:
        return None
    outline = Curve(ring.segments)
    feet = [nearest(outline, point) for point in (start, end)]
    foot = min(feet, key=lambda one: one.distance_mm)
    furthest_mm = max(one.distance_mm for one in feet)
    # Along the edge it would be part of a drawing; a slit goes in.
    goes_in = furthest_mm >= length_mm * math.cos(NOTCH_TURN_RAD)
    return foot.point if foot.distance_mm <= GAP_MM and goes_in else None


def _calm_place(chain: Chain) -> int:
    sizes = np.hypot(*(chain.segments[:, 3] - chain.segments[:, 0]).T)
    return int(sizes.argmax())


def _cuts(chain: Chain) -> list[tuple[int, int]]:
    """First cubic of each cut and the one after its last."""
    turns = joint_turns(chain)
    # Straight back is a right turn here: the end of a slit.
    turns = np.where(np.abs(turns) >= np.pi - PARALLEL_RAD, -np.pi, turns)
    swept = segment_turnings_rad(chain.segments)
    found: list[tuple[int, int]] = []
    for first in np.flatnonzero(turns >= NOTCH_TURN_RAD).tolist():
        if first and (not found or first >= found[-1][1]):
            after = _cut_from(chain, first, turns, swept)
            if after is not None:
                found.append((first, after))
    return found


def _cut_from(chain: Chain, first: int, turns: Floats, swept: Floats) -> int | None:
    """The cubic after a cut that begins with cubic `first`; None where there is no cut."""
    count = len(chain.segments)
    mouth = chain.segments[first, 0]
    turned = float(turns[first])
    for after in range(first + 1, min(first + 1 + _MOST_CUBICS, count)):
        turned += float(swept[after - 1])
        if np.abs(chain.segments[after - 1, 3] - mouth).max() > NOTCH_DEPTH_MM + NOTCH_WIDTH_MM:
            return None
        turned += float(turns[after])
        closes = turns[after] >= NOTCH_TURN_RAD and abs(turned) <= NOTCH_TURN_RAD
        if closes and after - first >= 2 and _is_cut(chain, first, after):
            return after
    return None


def _is_cut(chain: Chain, first: int, after: int) -> bool:
    """Whether cubics from `first` up to `after` are a cut into the piece: V, or narrow."""
    way = flattened(Curve(chain.segments[first:after]), GAP_MM / 2)
    mouth = way[-1] - way[0]
    wide_mm = float(np.hypot(*mouth))
    along = _direction(chain, first)
    into = (way - way[0]) @ np.array([-along[1], along[0]])
    deep_mm = float(into.max())
    if wide_mm > NOTCH_WIDTH_MM + GAP_MM or deep_mm > NOTCH_DEPTH_MM + GAP_MM:
        return False
    if deep_mm < NOTCH_LEAST_MM or into.min() < -NOTCH_LEAST_MM:
        return False
    is_v = after - first == 2
    return is_v or _area(way) <= SLIT_WIDTH_MM * deep_mm


def _area(points: Points) -> float:
    x, y = (points - points[0]).T
    return abs(float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())) / 2


def _direction(chain: Chain, index: int) -> Point:
    """Which way the ring runs just before a joint, over some length: chords may be rounded."""
    here, at = chain.segments[index, 0], index - 1
    while at > 0 and np.hypot(*(here - chain.segments[at, 0])) < STEP_BACK_MM:
        at -= 1
    if index - at <= 1:
        tangent = chain.segments[at, 3] - chain.segments[at, 2]
        return _unit(
            tangent if np.abs(tangent).max() > STRAIGHT_MM else here - chain.segments[at, 0]
        )
    return _unit(here - chain.segments[at, 0])


def _unit(vector: Floats) -> Point:
    return np.asarray(vector / max(float(np.hypot(*vector)), 1e-300))


def _without(chain: Chain, cuts: list[tuple[int, int]], start: Point) -> Whole:
    """The ring with its cuts filled, started again at `start` where that is still on it."""
    parts: list[Chain] = []
    notches = []
    at = 0
    for first, after in cuts:
        parts.append(_part(chain, at, first))
        fill = _fill(chain, first, after)
        if fill is not None:
            parts.append(fill)
            notches.append(_middle(fill))
        else:
            # The mouth is no wider than the arithmetic: the edge simply goes on.
            chain = _snapped(chain, after, chain.segments[first, 0])
            notches.append(chain.segments[first, 0])
        at = after
    parts.append(_part(chain, at, len(chain.segments)))
    whole = replace(
        chain,
        segments=np.concatenate([part.segments for part in parts]),
        straight=np.concatenate([part.straight for part in parts]),
    )
    at_start = np.flatnonzero((whole.segments[:, 0] == start).all(axis=1))
    if len(at_start):
        whole = started_at(whole, int(at_start[0]))
    return Whole(whole, tuple(notches))


def _part(chain: Chain, start: int, end: int) -> Chain:
    return replace(chain, segments=chain.segments[start:end], straight=chain.straight[start:end])


def _snapped(chain: Chain, index: int, point: Point) -> Chain:
    index %= len(chain.segments)
    segments = chain.segments.copy()
    segments[index, 1] += point - segments[index, 0]
    segments[index, 0] = point
    return replace(chain, segments=segments)


def _middle(fill: Chain) -> Point:
    points = flattened(Curve(fill.segments), GAP_MM / 10)
    away = np.abs(np.hypot(*(points - points[0]).T) - np.hypot(*(points - points[-1]).T))
    nearest = int(away.argmin())
    if away[nearest] <= GAP_MM:
        return np.asarray(points[nearest])
    return np.asarray((points[0] + points[-1]) / 2)


def _fill(chain: Chain, first: int, after: int) -> Chain | None:
    """What closes the mouth of a cut: a curve that goes on in the edge's direction on each side.

    Between chords it is chords as well, so that they are made smooth together.
    """
    start, end = chain.segments[first, 0], chain.segments[(after - 1), 3]
    wide_mm = float(np.hypot(*(end - start)))
    if wide_mm <= STRAIGHT_MM:
        return None
    before, behind = chain.segments[first - 1], chain.segments[after % len(chain.segments)]
    leaving = _unit(before[3] - before[2])
    arriving = _unit(behind[1] - behind[0])
    chords = bool(chain.straight[first - 1] and chain.straight[after % len(chain.straight)])
    third = wide_mm / 3
    cubic = np.array([[start, start + third * leaving, end - third * arriving, end]])
    across = np.array([-(end - start)[1], (end - start)[0]]) / wide_mm
    if np.abs((cubic[0] - start) @ across).max() <= STRAIGHT_MM:
        return replace(
            chain, segments=straight_segments(np.array([start, end])), straight=np.ones(1, bool)
        )
    side_mm = min(float(np.hypot(*(one[3] - one[0]))) for one in (before, behind))
    if not chords or side_mm > NOTCH_WIDTH_MM:
        return replace(chain, segments=cubic, straight=np.zeros(1, bool))
    return _chords_along(chain, cubic, max(round(wide_mm / side_mm), 1))


def _chords_along(chain: Chain, cubic: Floats, count: int) -> Chain:
    t = np.linspace(0.0, 1.0, count + 1)[:, None]
    s = 1 - t
    a, b, c, d = cubic[0]
    points = s**3 * a + 3 * s * s * t * b + 3 * s * t * t * c + t**3 * d
    points[0], points[-1] = a, d
    return replace(chain, segments=straight_segments(points), straight=np.ones(count, bool))
