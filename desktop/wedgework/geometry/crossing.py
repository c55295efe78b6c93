"""Where curves cross: one another, or a closed outline itself.

Ends belong to a curve: one that stops on another (within ON_OUTLINE_MM) meets it. A stretch
that both run along is told by its two ends.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely import Polygon

from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.geometry.flatten import flattened_ring
from wedgework.geometry.length import length_mm, point_at, points_at, station_of
from wedgework.geometry.meeting import meetings, near_pairs, tame_arcs
from wedgework.geometry.tolerances import (
    ON_OUTLINE_MM,
    PROBE_MM,
    RAY_RAD,
    TOUCH_SPAN_MM,
    VISIBLE_CROSSING_MM,
)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class SelfCrossing:
    """A place where an outline crosses itself: both edges by number, stations in mm, the point."""

    edge_a: int
    station_a_mm: float
    edge_b: int
    station_b_mm: float
    point: Point


def crossings(a: Curve, b: Curve) -> Floats:
    """Stations in mm on `a` and on `b`, (k, 2), where they cross or touch, rising along `a`.

    A touch counts, with its tangents parallel or at an end; its place along the curves is good
    to about 1e-3 mm, that of a crossing to 1e-8 mm. A common stretch gives its two ends.
    """
    first, second = tame_arcs(a.segments), tame_arcs(b.segments)
    i, j = near_pairs(first, second)
    spans = [
        (
            (station_of(a, meeting.a[0]), station_of(a, meeting.a[1])),
            (station_of(b, meeting.b[0]), station_of(b, meeting.b[1])),
        )
        for meeting in meetings(first.at(i), second.at(j))
    ]
    stations = [pair for span in _linked(spans) for pair in _told(a, b, span)]
    return np.array(stations).reshape(-1, 2)


Span = tuple[float, float]


def _linked(spans: Sequence[tuple[Span, Span]]) -> list[tuple[Span, Span]]:
    """Meetings that adjoin on both curves made one; stations in mm, rising along the first."""
    out: list[tuple[Span, Span]] = []
    for a, b in sorted(spans):
        for index, (on_a, on_b) in enumerate(out):
            if _adjoin(a, on_a) and _adjoin(b, on_b):
                out[index] = _both(on_a, on_b, a, b)
                break
        else:
            out.append((a, b))
    return out


def _adjoin(one: Span, other: Span) -> bool:
    low, high = sorted(one)
    start, end = sorted(other)
    reach = PROBE_MM / 2
    return low <= end + reach and start <= high + reach


def _both(on_a: Span, on_b: Span, a: Span, b: Span) -> tuple[Span, Span]:
    """The span from the first to the last station on A, each with its mate on B."""
    ends = sorted([(on_a[0], on_b[0]), (on_a[1], on_b[1]), (a[0], b[0]), (a[1], b[1])])
    return (ends[0][0], ends[-1][0]), (ends[0][1], ends[-1][1])


def _told(a: Curve, b: Curve, span: tuple[Span, Span]) -> list[tuple[float, float]]:
    """The ends of a common stretch; the middle of a touch, unless handles there upset it."""
    on_a, on_b = span
    if on_a[1] - on_a[0] > TOUCH_SPAN_MM:
        return list(zip(on_a, on_b, strict=True))
    middle = (on_a[0] + on_a[1]) / 2, (on_b[0] + on_b[1]) / 2
    gap = point_at(a, middle[0]) - point_at(b, middle[1])
    return [middle if np.hypot(*gap) <= 2 * ON_OUTLINE_MM else (on_a[0], on_b[0])]


def self_crossings(ring: Sequence[Curve]) -> list[SelfCrossing]:
    """Where a closed ring of curves crosses itself, in order of its edges.

    To touch is not to cross: neighbours at their corner, an outline that comes back to a
    corner or an edge and stays on its side of it, or runs along it for a while.
    """
    outline = _Outline.of(ring)
    arcs = tame_arcs(outline.chain)
    i, j = near_pairs(arcs, arcs)
    later = i < j
    around = float(len(outline.chain))
    found = meetings(arcs.at(i[later]), arcs.at(j[later]), around)
    spans = [(outline.span_mm(one.a), outline.span_mm(one.b)) for one in found]
    return [outline.told(a, b) for a, b in _linked(spans) if outline.crosses(a, b)]


def crosses_itself(ring: Sequence[Curve]) -> bool:
    """Whether a closed ring of curves crosses itself, by more than a blade could show.

    Chords within VISIBLE_CROSSING_MM that are a valid polygon settle it; only if they are not
    are the curves asked.
    """
    points = flattened_ring(ring, VISIBLE_CROSSING_MM)
    if len(points) >= 3 and Polygon(points).is_valid:
        return False
    return bool(self_crossings(ring))


@dataclass(frozen=True, eq=False, slots=True)
class _Outline:
    """A ring as one chain, with the stations where its edges start, (n + 1,) mm."""

    ring: Sequence[Curve]
    whole: Curve
    starts_mm: Floats

    @classmethod
    def of(cls, ring: Sequence[Curve]) -> _Outline:
        whole = Curve(np.concatenate([curve.segments for curve in ring]))
        starts = np.concatenate([[0.0], np.cumsum([length_mm(curve) for curve in ring])])
        return cls(ring, whole, starts)

    @property
    def chain(self) -> Floats:
        return self.whole.segments

    def span_mm(self, parameters: tuple[float, float]) -> Span:
        return station_of(self.whole, parameters[0]), station_of(self.whole, parameters[1])

    def crosses(self, a: Span, b: Span) -> bool:
        """Whether the way along A changes over from one side of the way along B to the other.

        At either end of what they share, the way of B divides the directions into left and
        right; the way of A comes from one of them and goes to one.
        """
        if self._is_joint(a, b):
            return False
        reach = self._probe_mm(a, b)
        whole = float(self.starts_mm[-1])
        ends = np.array([a[0], a[1], b[0], b[1]])
        ways = np.array([a[0] - reach, a[1] + reach, b[0] - reach, b[1] + reach]) % whole
        if b[1] < b[0]:
            ways[2:] = np.array([b[0] + reach, b[1] - reach]) % whole
        here, there = points_at(self.whole, ends), points_at(self.whole, ways)
        came, went = there[0] - here[0], there[1] - here[1]
        other_came, other_went = there[2] - here[0], there[3] - here[1]
        common = here[1] - here[0] if np.hypot(*(here[1] - here[0])) > reach else None
        before = _on_left(came, other_came, other_went if common is None else common)
        after = _on_left(went, other_came if common is None else -common, other_went)
        return before * after < 0

    def _is_joint(self, a: Span, b: Span) -> bool:
        """Whether the two stretches are one and the same place on the ring."""
        whole = float(self.starts_mm[-1])
        gaps = np.abs(np.subtract.outer(np.array(a), np.array(b))) % whole
        return bool(np.minimum(gaps, whole - gaps).min() <= 2 * ON_OUTLINE_MM)

    def _probe_mm(self, a: Span, b: Span) -> float:
        lengths = np.diff(self.starts_mm)
        edges = [self._edge(station) for station in (*a, *b)]
        return min(PROBE_MM, float(lengths[edges].min()) / 4)

    def _edge(self, station_mm: float) -> int:
        index = int(np.searchsorted(self.starts_mm, station_mm + ON_OUTLINE_MM, side="right")) - 1
        return index % len(self.ring)

    def told(self, a: Span, b: Span) -> SelfCrossing:
        station_a, station_b = (a[0] + a[1]) / 2, (b[0] + b[1]) / 2
        edge_a, edge_b = self._edge(station_a), self._edge(station_b)
        return SelfCrossing(
            edge_a=edge_a,
            station_a_mm=max(station_a - float(self.starts_mm[edge_a]), 0.0),
            edge_b=edge_b,
            station_b_mm=max(station_b - float(self.starts_mm[edge_b]), 0.0),
            point=points_at(self.whole, [station_a])[0],
        )


def _on_left(ray: Point, came: Point, goes: Point) -> int:
    """1 where `ray` lies left of the way that comes from `came` and goes on to `goes`.

    -1 on its right, 0 where it cannot be told from the way itself. All are (2,), from one point.
    """
    turn_ray, turn_came = _turn(goes, ray), _turn(goes, came)
    if min(turn_ray, math.tau - turn_ray, abs(turn_ray - turn_came)) <= RAY_RAD:
        return 0
    return 1 if turn_ray < turn_came else -1


def _turn(first: Point, second: Point) -> float:
    """Angle, [0, 2 pi) rad, counter-clockwise from one direction to another."""
    (ax, ay), (bx, by) = first, second
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by) % math.tau
