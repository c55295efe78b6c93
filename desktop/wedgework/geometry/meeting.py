"""Where arcs meet: pairs of cubics are halved until they are apart, cross once, or touch.

Two arcs whose tangents are nowhere parallel meet at most once, and Newton's method finds where
(Sederberg and Meyers, Loop detection in surface patch intersections, 1988, in the plane). What
stays parallel down to arcs that are straight is a touch, or a stretch in common.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wedgework.geometry.curve import Curve, Floats
from wedgework.geometry.length import halved
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.tolerances import (
    COINCIDENT_DEPTH,
    MEET_DEPTH,
    MEET_PAIRS,
    MEET_ROUNDS,
    ON_OUTLINE_MM,
    PARALLEL_RAD,
    SAME_POINT_MM,
    SINGULAR,
)
from wedgework.geometry.turning import hodographs

Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False, slots=True)
class Arcs:
    """Stretches of cubics: control points (n, 4, 2) mm, first parameters and widths, (n,)."""

    points: Floats
    starts: Floats
    widths: Floats

    def at(self, index: NDArray[np.int64] | Flags) -> Arcs:
        """The arcs that `index` picks."""
        return Arcs(self.points[index], self.starts[index], self.widths[index])

    def halves(self) -> Arcs:
        """Both halves of each arc, side by side."""
        widths = np.repeat(self.widths / 2, 2)
        starts = np.repeat(self.starts, 2)
        starts[1::2] += widths[1::2]
        return Arcs(halved(self.points), starts, widths)


@dataclass(frozen=True, eq=False, slots=True)
class Meeting:
    """A stretch, mostly a mere point, that two chains share: parameters on both at its ends."""

    a: tuple[float, float]
    b: tuple[float, float]


def tame_arcs(segments: Floats) -> Arcs:
    """The arcs of a chain (n, 4, 2), each turning by less than 90 degrees, in order.

    Such an arc runs one way along some line and cannot meet itself.
    """
    arcs = Arcs(segments, np.arange(float(len(segments))), np.ones(len(segments)))
    for _ in range(MEET_DEPTH // 2):
        h = hodographs(arcs.points)
        inner = (h[:, [0, 1, 0]] * h[:, [1, 2, 2]]).sum(axis=2)
        wild = (inner <= 0.0).any(axis=1) & (h != 0.0).any(axis=(1, 2))
        if not wild.any():
            break
        parts = arcs.at(wild).halves()
        arcs = Arcs(
            np.concatenate([arcs.points[~wild], parts.points]),
            np.concatenate([arcs.starts[~wild], parts.starts]),
            np.concatenate([arcs.widths[~wild], parts.widths]),
        )
    return arcs.at(np.argsort(arcs.starts, kind="stable"))


def near_pairs(a: Arcs, b: Arcs) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Indices of the arcs of `a` and of `b` whose boxes meet."""
    from shapely import STRtree, box  # noqa: PLC0415 - only here

    first, second = _boxes(a.points), _boxes(b.points)
    if len(first) * len(second) <= MEET_PAIRS:
        near = (first[:, None, :2] <= second[None, :, 2:]) & (
            second[None, :, :2] <= first[:, None, 2:]
        )
        i, j = np.nonzero(near.all(axis=2))
        return i, j
    j, i = STRtree(box(*first.T)).query(box(*second.T))
    return i, j


def _boxes(points: Floats) -> Floats:
    grown = ON_OUTLINE_MM / 2
    return np.concatenate([points.min(axis=1) - grown, points.max(axis=1) + grown], axis=1)


def meetings(a: Arcs, b: Arcs, around: float | None = None) -> list[Meeting]:
    """Where pairs of arcs, `a[i]` with `b[i]`, meet, in no order and some of them twice.

    `around` is the number of cubics of a ring of which both are arcs: neighbours there share
    a joint, which does not count.
    """
    found: list[Meeting] = []
    most = MEET_PAIRS + 4 * len(a.starts)
    for depth in range(MEET_DEPTH):
        a, b = _kept(a, b, ~_apart(a, b))
        if around is not None:
            a, b = _kept(a, b, ~_only_joined(a, b, around))
        if len(a.starts) == 0 or len(a.starts) > most:
            break
        if depth == COINCIDENT_DEPTH:
            same = _coincident(a, b)
            found += _touches(*_kept(a, b, same))
            a, b = _kept(a, b, ~same)
        small = (_size(a.points) < ON_OUTLINE_MM) & (_size(b.points) < ON_OUTLINE_MM)
        along = _straight(a.points) & _straight(b.points) & ~_transversal(a.points, b.points)
        found += _touches(*_kept(a, b, small | along))
        a, b = _kept(a, b, ~(small | along))
        crossed, settled = _crossed_once(a, b)
        found += crossed
        a, b = _kept(a, b, ~settled)
        a, b = _children(a.halves(), b.halves())
    return found


def _kept(a: Arcs, b: Arcs, keep: Flags) -> tuple[Arcs, Arcs]:
    return (a, b) if keep.all() else (a.at(keep), b.at(keep))


def _children(a: Arcs, b: Arcs) -> tuple[Arcs, Arcs]:
    """Each half of a pair's first arc with each half of its second."""
    index = np.arange(len(a.starts)).reshape(-1, 2)
    return a.at(np.repeat(index, 2, axis=1).ravel()), b.at(np.tile(index, 2).ravel())


def _size(points: Floats) -> Floats:
    return np.asarray((points.max(axis=1) - points.min(axis=1)).max(axis=1))


def _across(points: Floats, of: Floats) -> Floats:
    """Distances of control points (n, 4, 2) from the chords of the arcs `of`, left positive."""
    chord = of[:, 3] - of[:, 0]
    length = np.hypot(chord[:, 0], chord[:, 1])
    unit = np.divide(chord, length[:, None], out=np.zeros_like(chord), where=length[:, None] > 0)
    away = points - of[:, :1]
    return np.asarray(unit[:, :1] * away[..., 1] - unit[:, 1:] * away[..., 0])


def _apart(a: Arcs, b: Arcs) -> Flags:
    """Which pairs a line parallel to an axis or to one of the chords keeps apart."""
    first, second = _boxes(a.points), _boxes(b.points)
    beyond = (first[:, :2] > second[:, 2:]) | (second[:, :2] > first[:, 2:])
    apart: Flags = np.asarray(beyond.any(axis=1))
    for one, other in ((a.points, b.points), (b.points, a.points)):
        own, its = _across(one, one), _across(other, one)
        apart |= its.min(axis=1) > own.max(axis=1) + ON_OUTLINE_MM
        apart |= its.max(axis=1) < own.min(axis=1) - ON_OUTLINE_MM
    return apart


def _only_joined(a: Arcs, b: Arcs, around: float) -> Flags:
    """Which pairs are neighbours in the ring that meet nowhere but at the joint they share."""
    joined = ((a.starts + a.widths) % around == b.starts) | (
        (b.starts + b.widths) % around == a.starts
    )
    index = np.flatnonzero(joined)
    first, second = hodographs(a.points[index]), hodographs(b.points[index])
    both = np.concatenate([first, second], axis=1)
    ahead = _units(first).sum(axis=1) + _units(second).sum(axis=1)
    one_way = ((both * ahead[:, None]).sum(axis=2) > 0.0).all(axis=1)
    joined[index] = one_way | _transversal(a.points[index], b.points[index])
    return np.asarray(joined)


def _units(vectors: Floats) -> Floats:
    length = np.hypot(vectors[..., 0], vectors[..., 1])[..., None]
    return np.divide(vectors, length, out=np.zeros_like(vectors), where=length > 0)


def _transversal(a: Floats, b: Floats) -> Flags:
    """Which pairs of arcs nowhere run along one another: all tangents turn one way to the other."""
    first, second = _units(hodographs(a)), _units(hodographs(b))
    cross = (
        first[:, :, None, 0] * second[:, None, :, 1] - first[:, :, None, 1] * second[:, None, :, 0]
    ).reshape(-1, 9)
    return np.asarray((cross > PARALLEL_RAD).all(axis=1) | (cross < -PARALLEL_RAD).all(axis=1))


def _straight(points: Floats) -> Flags:
    return np.asarray(np.abs(_across(points, points)).max(axis=1, initial=0.0) < ON_OUTLINE_MM / 4)


def _even(points: Floats) -> Flags:
    """Which arcs are so straight and even in speed that Newton's method is safe on them."""
    chord = np.abs(points[:, 3] - points[:, 0]).max(axis=1)
    return np.asarray(np.abs(np.diff(points, 2, axis=1)).max(axis=(1, 2)) <= 0.1 * chord)


def _crossed_once(a: Arcs, b: Arcs) -> tuple[list[Meeting], Flags]:
    """Meetings of pairs that meet at most once, and the pairs on which there is no more to say."""
    settled = _transversal(a.points, b.points)
    index = np.flatnonzero(settled)
    s, t, gap = _newton(a.points[index], b.points[index])
    hit = gap <= ON_OUTLINE_MM
    safe = _even(a.points[index]) & _even(b.points[index])
    settled[index] = hit | safe
    at_a = a.starts[index] + s * a.widths[index]
    at_b = b.starts[index] + t * b.widths[index]
    found = [
        Meeting((p, p), (q, q)) for p, q in zip(at_a[hit].tolist(), at_b[hit].tolist(), strict=True)
    ]
    return found, settled


def _newton(a: Floats, b: Floats) -> tuple[Floats, Floats, Floats]:
    """Parameters in [0, 1] where pairs of arcs meet, and how far apart they are there, mm."""
    s = t = np.full(len(a), 0.5)
    for _ in range(MEET_ROUNDS):
        gap = _values(b, t) - _values(a, s)
        u, v = _slopes(a, s), _slopes(b, t)
        cross = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
        size = np.abs(u).max(axis=1, initial=0.0) * np.abs(v).max(axis=1, initial=0.0)
        fit = np.abs(cross) > SINGULAR * size
        by = np.divide(1.0, cross, out=np.zeros_like(cross), where=fit)
        # Half a width beyond the ends at the most: further out the polynomial means nothing.
        s = (s + (gap[:, 0] * v[:, 1] - gap[:, 1] * v[:, 0]) * by).clip(-0.5, 1.5)
        t = (t + (gap[:, 0] * u[:, 1] - gap[:, 1] * u[:, 0]) * by).clip(-0.5, 1.5)
    s, t = s.clip(0.0, 1.0), t.clip(0.0, 1.0)
    gap = _values(b, t) - _values(a, s)
    return s, t, np.hypot(gap[:, 0], gap[:, 1])


def _values(cubics: Floats, t: Floats) -> Floats:
    s = 1.0 - t
    weights = np.stack([s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t], axis=1)
    return np.asarray((weights[:, :, None] * cubics).sum(axis=1))


def _slopes(cubics: Floats, t: Floats) -> Floats:
    s = 1.0 - t
    weights = np.stack([3 * s * s, 6 * s * t, 3 * t * t], axis=1)
    return np.asarray((weights[:, :, None] * np.diff(cubics, axis=1)).sum(axis=1))


def _coincident(a: Arcs, b: Arcs) -> Flags:
    """Which pairs lie on one another: two ends and the middle between them are on both.

    Two different cubics may share a point, hardly three in a row with nothing between them.
    """
    same = np.zeros(len(a.starts), dtype=bool)
    for i, (first, second) in enumerate(zip(a.points, b.points, strict=True)):
        shared = _shared_ends(first, second)
        if shared and max(shared)[0] > min(shared)[0]:
            middle = np.array([(min(shared)[0] + max(shared)[0]) / 2])
            foot = nearest_foot(Curve(second[None]), _values(first[None], middle)[0])
            same[i] = foot.distance_mm <= ON_OUTLINE_MM
    return same


def _touches(a: Arcs, b: Arcs) -> list[Meeting]:
    """The stretches that straight, parallel arcs share: from an end of one to an end of one."""
    found = []
    for i in range(len(a.starts)):
        shared = _shared_ends(a.points[i], b.points[i])
        if shared:
            s, t = np.array([min(shared), max(shared)]).T
            p = (a.starts[i] + s * a.widths[i]).tolist()
            q = (b.starts[i] + t * b.widths[i]).tolist()
            found.append(Meeting((p[0], p[1]), (q[0], q[1])))
    return found


def _shared_ends(a: Floats, b: Floats) -> list[tuple[float, float]]:
    """Parameters on both arcs of those of their four ends that lie on the other one."""
    on_a = [(nearest_foot(Curve(a[None]), b[3 * end]), float(end)) for end in (0, 1)]
    on_b = [(nearest_foot(Curve(b[None]), a[3 * end]), float(end)) for end in (0, 1)]
    reach = ON_OUTLINE_MM + SAME_POINT_MM
    pairs = [(foot.parameter, end) for foot, end in on_a if foot.distance_mm <= reach]
    return pairs + [(end, foot.parameter) for foot, end in on_b if foot.distance_mm <= reach]
