"""How well two chains of open sides would make a seam: by length, shape, corners, place and marks.

Everything is measured once a chain and compared for many pairs at a time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wedgework.geometry.curve import Floats, Point
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.memo import memoised
from wedgework.geometry.nearest import nearest
from wedgework.geometry.profile import turning_profile
from wedgework.pattern.boundary import Boundary, Corner, Side
from wedgework.pattern.document import Edge, Piece, Project, Spot
from wedgework.pattern.lookup import notches_by_edge

SHARES: Final = np.linspace(0.0, 1.0, 17)
"""Where along a chain its turning is compared with another's."""

BINS: Final = 25
"""Notches of two chains are compared in so many bins; nearer ones are not told apart."""

ON_LEVEL_MM: Final = 1.0
"""A level's line that ends this near to an edge crosses it."""

SMOOTH_RAD: Final = math.radians(8.0)
"""An outline that turns by less where it goes on over a seam is one line."""

EXACT_MM: Final = 0.05
"""Lengths drawn as equal differ by less, after a file's rounding."""

Indices = NDArray[np.intp]


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Chain:
    """Open sides that follow each other, walked with their pieces on the left.

    `first` and `last` are the corners where it starts and ends, None where nothing open is beyond;
    `after` is the open side beyond its end. `kinks_rad` is how much it turns at its inner joints,
    all taken together without sign.
    """

    sides: tuple[Side, ...]
    first: Corner | None
    last: Corner | None
    after: Side | None
    kinks_rad: float
    length_mm: float

    @property
    def twin(self) -> tuple[Side, ...]:
        """The sides of its mirror image, walked on their left."""
        return tuple(side.twin for side in reversed(self.sides))


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Measures:
    """What is known of n chains, a row each."""

    lengths: Floats
    turned: Floats
    chords: Floats
    middles: Floats
    corners: Floats
    at_fold: Floats
    goes_on: Floats
    levels: Floats
    notches: Floats
    kinks: Floats


@memoised
def _profile(edge: Edge) -> Floats:
    table = turning_profile(edge.curve)
    return np.asarray(np.interp(SHARES * table[-1, 0], table[:, 0], table[:, 1]))


def measures_of(boundary: Boundary, chains: Sequence[Chain]) -> Measures:
    """Measure chains for `likeness`."""
    project = boundary.project
    levels = {level: column for column, level in enumerate(project.levels)}
    rows = [(chain.first, chain.last) for chain in chains]
    return Measures(
        lengths=np.array([chain.length_mm for chain in chains]),
        turned=np.array([_turned(boundary, chain) for chain in chains]),
        chords=np.array([_chord(boundary, chain) for chain in chains]),
        middles=np.array([_middle(boundary, chain) for chain in chains]),
        corners=np.array([[c.angle_rad if c else np.nan for c in row] for row in rows]),
        at_fold=np.array([[bool(c and c.over_fold) for c in row] for row in rows], dtype=float),
        goes_on=np.array([[_is_smooth(c) for c in row] for row in rows], dtype=float),
        levels=np.array([_levels(boundary, chain, levels) for chain in chains]),
        notches=np.array([_notches(boundary, chain) for chain in chains]),
        kinks=np.array([chain.kinks_rad for chain in chains]),
    )


def _is_smooth(corner: Corner | None) -> bool:
    return bool(corner and corner.over_seam and abs(math.pi - corner.angle_rad) <= SMOOTH_RAD)


def _lengths(boundary: Boundary, chain: Chain) -> Floats:
    return np.array([length_mm(boundary.edge_of(side).curve) for side in chain.sides])


def _turned(boundary: Boundary, chain: Chain) -> Floats:
    """Turning in rad gathered up to each of SHARES, joints left out, seen from the pieces."""
    if len(chain.sides) == 1:
        own = _profile(boundary.edge_of(chain.sides[0]))
        return (own[-1] - own)[::-1] if chain.sides[0].mirrored else own
    ends = np.cumsum(_lengths(boundary, chain))
    at, turned, before = [0.0], [0.0], 0.0
    for side, end in zip(chain.sides, ends, strict=True):
        own = _profile(boundary.edge_of(side))
        own = (own[-1] - own)[::-1] if side.mirrored else own
        start = at[-1]
        at += (start + SHARES[1:] * (end - start)).tolist()
        turned += (before + own[1:]).tolist()
        before = turned[-1]
    return np.asarray(np.interp(SHARES * ends[-1], at, turned))


def _chord(boundary: Boundary, chain: Chain) -> Point:
    """Which way a chain goes as drawn, a unit vector; a mirror image goes backwards."""
    steps = [
        (boundary.edge_of(side).curve.end - boundary.edge_of(side).curve.start)
        * (-1.0 if side.mirrored else 1.0)
        for side in chain.sides
    ]
    total = np.sum(steps, axis=0)
    size = float(np.hypot(*total))
    return np.asarray(total / size if size > 0 else total)


def _middle(boundary: Boundary, chain: Chain) -> Point:
    """Where the middle of a chain lies on the table; nowhere, if it is not all drawn there."""
    if any(side.mirrored for side in chain.sides):
        return np.full(2, np.nan)
    middles = [_middle_of(boundary.edge_of(side)) for side in chain.sides]
    return np.asarray(np.mean(middles, axis=0))


@memoised
def _middle_of(edge: Edge) -> Point:
    return point_at(edge.curve, length_mm(edge.curve) / 2)


def _stations(boundary: Boundary, chain: Chain, spots: dict[str, list[float]]) -> list[float]:
    """Stations along a chain of places on its edges, each by distance from the edge's start."""
    out, done = [], 0.0
    for side, length in zip(chain.sides, _lengths(boundary, chain), strict=True):
        own = spots.get(side.edge, [])
        out += [done + (length - at if side.mirrored else at) for at in own]
        done += float(length)
    return out


def _levels(boundary: Boundary, chain: Chain, columns: dict[str, int]) -> Floats:
    """Station in mm where each level crosses the chain, not a number where it does not."""
    found = np.full(len(columns), np.nan)
    for level, column in columns.items():
        spots = {
            side.edge: _crossed(boundary.piece_of(side), boundary.edge_of(side)).get(level, [])
            for side in chain.sides
        }
        stations = _stations(boundary, chain, spots)
        if stations:
            found[column] = stations[0]
    return found


@memoised
def _crossed(piece: Piece, edge: Edge) -> dict[str, list[float]]:
    """Distances along an edge where levels end on it, by level."""
    found: dict[str, list[float]] = {}
    for line in piece.lines:
        if line.level is not None:
            for end in (line.curve.start, line.curve.end):
                foot = nearest(edge.curve, end)
                if foot.distance_mm <= ON_LEVEL_MM:
                    found.setdefault(line.level, []).append(foot.station_mm)
    return found


def _notches(boundary: Boundary, chain: Chain) -> Floats:
    """Notches of a chain, each spread over the bins that it lies between."""
    spots = {side.edge: _own_notches(boundary.project, side.edge) for side in chain.sides}
    bins = np.zeros(BINS)
    for station in _stations(boundary, chain, spots):
        place = min(max(station / chain.length_mm, 0.0), 1.0) * (BINS - 1)
        low = min(int(place), BINS - 2)
        bins[low] += low + 1 - place
        bins[low + 1] += place - low
    return bins


def _own_notches(project: Project, edge: str) -> list[float]:
    marks = notches_by_edge(project.notches).get(edge, ())
    spots: list[Spot] = [spot for mark in marks for spot in (mark.at, mark.mate) if spot]
    return [spot.at_mm for spot in spots if spot.edge == edge]


def likeness(of: Measures, i: Indices, j: Indices) -> tuple[Floats, dict[str, Floats]]:
    """How well chain i and chain j, each (m,), would join: a sum of cues, and each cue by name.

    Chain j is walked backwards, so its end lies on the start of chain i. The weights are set by
    hand on drawn suits; ours, no source.
    """
    cues = {
        "length": 3.0 * _length_cue(of, i, j),
        "chance": -_chance_cue(of, i, j),
        "shape": _shape_cue(of, i, j),
        "corners": 0.9 * _corner_cue(of, i, j),
        "direction": (of.chords[i] * -of.chords[j]).sum(axis=1),
        "place": 1.5 * _place_cue(of, i, j),
        "levels": 2.0 * _level_cue(of, i, j),
        "notches": 1.5 * _notch_cue(of, i, j),
        "fold": _fold_cue(of, i, j),
        "line goes on": -0.8 * (of.goes_on[i] + of.goes_on[j]).sum(axis=1),
        "kinks": -2.0 * (of.kinks[i] + of.kinks[j]),
    }
    return np.sum(list(cues.values()), axis=0), cues


def length_reach_mm(length_mm: Floats) -> Floats:
    """How far the lengths of two sides of one seam are apart at the most, in mm."""
    return 1.5 + 0.006 * length_mm


def _length_cue(of: Measures, i: Indices, j: Indices) -> Floats:
    apart = np.abs(of.lengths[i] - of.lengths[j])
    allowed = 0.4 + 0.0015 * of.lengths[i]
    # A longer edge has fewer that are as long by chance.
    weight = np.clip(0.6 + of.lengths[i] / 300.0, 0.6, 1.2)
    return np.asarray(weight * np.exp(-((apart / allowed) ** 2)))


def _chance_cue(of: Measures, i: Indices, j: Indices) -> Floats:
    """How likely it is that lengths are so near by chance: the more so, the more others are."""
    order = np.sort(of.lengths)
    reach = 5.0 * length_reach_mm(of.lengths[i])
    ends = [np.searchsorted(order, of.lengths[i] + way * reach) for way in (-1.0, 1.0)]
    apart = np.abs(of.lengths[i] - of.lengths[j]) + EXACT_MM
    as_near = (ends[1] - ends[0] - 2).clip(min=0) * apart / reach
    return np.asarray(1.5 * np.log1p(6.0 * as_near))


def _shape_cue(of: Measures, i: Indices, j: Indices) -> Floats:
    """Alike if one was cut from the other or both bulge by as much; little if both are straight."""
    back = of.turned[j][:, -1:] - of.turned[j][:, ::-1]
    cut, bulged = (of.turned[i] + back, of.turned[i] - back)
    apart = np.minimum(*(np.sqrt((one**2).mean(axis=1)) for one in (cut, bulged)))
    bend = np.maximum(np.ptp(of.turned[i], axis=1), np.ptp(back, axis=1))
    weight = np.clip(0.3 + bend / math.radians(20.0), 0.3, 1.8)
    # A curve against a straight edge is what makes the roundest seams: no more than a doubt.
    alike = 2.0 * np.exp(-((apart / math.radians(8.0)) ** 2)) - 1.0
    return np.asarray(weight * np.maximum(alike, -0.2))


def _corner_cue(of: Measures, i: Indices, j: Indices) -> Floats:
    """Corners that make a straight line across the seam, at its start and at its end."""
    sums = of.corners[i] + of.corners[j][:, ::-1]
    miss = np.abs(sums - math.pi) / math.radians(10.0)
    return np.asarray(np.nan_to_num(np.exp(-(miss**2))).sum(axis=1))


def _place_cue(of: Measures, i: Indices, j: Indices) -> Floats:
    apart = np.hypot(*(of.middles[i] - of.middles[j]).T) / of.lengths[i]
    facing = np.clip((of.chords[i] * -of.chords[j]).sum(axis=1), 0.0, 1.0)
    return np.asarray(np.nan_to_num(facing * np.exp(-apart)))


def _level_cue(of: Measures, i: Indices, j: Indices) -> Floats:
    """From 1, levels cross both at one station, to -1, at quite different ones; 0 if none do."""
    if of.levels.shape[1] == 0:
        return np.zeros(len(i))
    apart = np.abs(of.levels[i] - (of.lengths[j][:, None] - of.levels[j]))
    common = np.isfinite(apart)
    alike = np.where(common, 2.0 * np.exp(-((apart / 6.0) ** 2)) - 1.0, 0.0)
    return np.asarray(alike.sum(axis=1) / np.maximum(common.sum(axis=1), 1))


def _notch_cue(of: Measures, i: Indices, j: Indices) -> Floats:
    a, b = of.notches[i], of.notches[j][:, ::-1]
    size = np.sqrt((a * a).sum(axis=1) * (b * b).sum(axis=1))
    same = np.divide((a * b).sum(axis=1), size, out=np.zeros(len(i)), where=size > 0)
    one_only = (a.sum(axis=1) > 0) != (b.sum(axis=1) > 0)
    return np.asarray(np.where(size > 0, 2.0 * same - 1.0, np.where(one_only, -0.4, 0.0)))


def _fold_cue(of: Measures, i: Indices, j: Indices) -> Floats:
    """A seam that starts on the fold of one piece starts on the fold of the other."""
    a, b = of.at_fold[i], of.at_fold[j][:, ::-1]
    both, one = (a * b).sum(axis=1), np.abs(a - b).sum(axis=1)
    return np.asarray(1.0 * both - 0.6 * one)
