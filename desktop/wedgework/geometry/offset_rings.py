"""From the stretches of a moved outline to the rings that remain of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely
from shapely import Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from wedgework.geometry.curve import Curve, Floats, Point, Points, with_ends
from wedgework.geometry.hermite import fitted_places
from wedgework.geometry.offset_cubics import moved_cubics
from wedgework.geometry.offset_sources import Chords, Corner, Source
from wedgework.geometry.split import split_at_parameters
from wedgework.geometry.tolerances import (
    GRID_MM,
    MEET_ROUNDS,
    SAME_POINT_MM,
    SAME_WAY_COSINE,
    SINGULAR,
    SKIPPED_SHARE,
    TRACED_MM,
)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Stretch:
    """Part of an offset ring: its curve, the edge it came from, and whether it fills a corner."""

    curve: Curve
    edge: int
    joint: bool


@dataclass(frozen=True, eq=False, slots=True)
class _Run:
    """A source walked from one parameter to another."""

    source: Source
    low: float
    high: float

    def place(self, parameter: float) -> Point:
        return np.asarray(self.source.places(np.array([parameter]))[0][0])


def traced(
    sources: Sequence[Source], corners: Sequence[Corner], error_mm: float, chord_mm: float
) -> list[list[Stretch]]:
    """Rings of stretches round the region that the sources leave or reach; chords `chord_mm`."""
    chords = [source.chords(chord_mm) for source in sources]
    ways = [[way.chords(chord_mm) for way in corner.ways] for corner in corners]
    steps = [step for corner in corners for step in corner.steps]
    region = _region(sources, chords, corners, ways)
    atlas = _Atlas.of(
        [*sources, *(way for corner in corners for way in corner.ways), *steps],
        [*chords, *(one for way in ways for one in way), *(s.chords(chord_mm) for s in steps)],
    )
    rings = [
        np.asarray(ring.coords)
        for polygon in shapely.get_parts(region)
        if isinstance(polygon, Polygon)
        for ring in (polygon.exterior, *polygon.interiors)
        if Polygon(ring).area > chord_mm * ring.length
    ]
    found = (_stretches(atlas.runs(ring), error_mm, 4 * chord_mm) for ring in rings)
    # Of a ring that crosses itself loops may remain that no stretch of it goes round.
    return [stretches for stretches in found if stretches]


def _region(
    sources: Sequence[Source],
    chords: Sequence[Chords],
    corners: Sequence[Corner],
    ways: Sequence[Sequence[Chords]],
) -> BaseGeometry:
    """The outline's own region, with what is swept outwards and without what is inwards."""
    own = _polygons([np.concatenate([one.own[:-1] for one in chords])])
    swept: dict[bool, list[Points]] = {True: [], False: []}
    for source, one in zip(sources, chords, strict=True):
        if source.left_mm != 0.0:
            swept[source.left_mm < 0.0] += one.strips()
    for source, corner, way in zip(sources, corners, ways, strict=True):
        if way:
            outwards = max(source.left_mm, _next_left(source, sources), key=abs) < 0.0
            swept[outwards].append(np.concatenate([corner.centre[None], *(w.own for w in way)]))
    # Snapped to a grid: sides that differ by rounding would leave gaps that hold nothing. Each
    # polygon before they are united, too, or slits remain between sides that are one line.
    region = shapely.union_all(_snapped([*own, *_polygons(swept[True])]), grid_size=GRID_MM)
    lost = shapely.union_all(_snapped(_polygons(swept[False])), grid_size=GRID_MM)
    region = shapely.difference(region, lost, grid_size=GRID_MM)
    return shapely.orient_polygons(region)


def _snapped(polygons: list[BaseGeometry]) -> list[BaseGeometry]:
    return list(shapely.set_precision(polygons, GRID_MM)) if polygons else []


def _next_left(source: Source, sources: Sequence[Source]) -> float:
    index = next(i for i, one in enumerate(sources) if one is source)
    return sources[(index + 1) % len(sources)].left_mm


def _polygons(rings: list[Points]) -> list[BaseGeometry]:
    wide = [ring for ring in rings if len(ring) > 2]
    found = shapely.make_valid([Polygon(ring) for ring in wide]) if wide else []
    # A way that is gone there and back is a line of what it encloses: lines are left out.
    parts = shapely.get_parts(shapely.get_parts(found))
    return [one for one in parts if one.area > 0.0]


@dataclass(frozen=True, eq=False, slots=True)
class _Atlas:
    """All chords of all sources, with a tree to find those that a place lies on."""

    sources: Sequence[Source]
    owner: np.ndarray
    low: Floats
    high: Floats
    starts: Points
    ends: Points
    tree: STRtree

    @classmethod
    def of(cls, sources: Sequence[Source], chords: Sequence[Chords]) -> _Atlas:
        owner = np.repeat(np.arange(len(chords)), [len(one.at) - 1 for one in chords])
        starts = np.concatenate([one.moved[:-1] for one in chords])
        ends = np.concatenate([one.moved[1:] for one in chords])
        return cls(
            sources,
            owner,
            np.concatenate([one.at[:-1] for one in chords]),
            np.concatenate([one.at[1:] for one in chords]),
            starts,
            ends,
            STRtree(shapely.linestrings(np.stack([starts, ends], axis=1))),
        )

    def runs(self, ring: Points) -> list[_Run]:
        """The sources that a closed polygon, (k, 2) with its first point again, runs along."""
        chord = self._chords_of(ring)
        low, high = self._parameter(chord, ring[:-1]), self._parameter(chord, ring[1:])
        owner = self.owner[chord]
        # A gap of parameter within one source is a loop that was cut off: there a run ends.
        skipped = np.abs(low - np.roll(high, 1)) > SKIPPED_SHARE * (self.high - self.low)[chord]
        same = (owner == np.roll(owner, 1)) & ~skipped
        first = np.flatnonzero(~same)
        if len(first) == 0:
            first = np.array([0])
        order = np.roll(np.arange(len(owner)), -first[0])
        bounds = [*(first - first[0]).tolist(), len(owner)]
        return [
            _Run(self.sources[owner[order[a]]], float(low[order[a]]), float(high[order[b - 1]]))
            for a, b in pairwise(bounds)
        ]

    def _chords_of(self, ring: Points) -> np.ndarray:
        """The chord that each side of the polygon lies on, staying with a source where it can."""
        middles = shapely.points((ring[1:] + ring[:-1]) / 2)
        side, found = self.tree.query(middles, predicate="dwithin", distance=TRACED_MM)
        along = np.diff(ring, axis=0)[side]
        own = (self.ends - self.starts)[found]
        cosine = (along * own).sum(axis=1)
        ahead = cosine > SAME_WAY_COSINE * np.hypot(*along.T) * np.hypot(*own.T)
        choices: list[list[int]] = [[] for _ in range(len(ring) - 1)]
        for i, j in zip(side[ahead].tolist(), found[ahead].tolist(), strict=True):
            choices[i].append(j)
        nearest = self.tree.nearest(middles)
        chosen, last = [], -1
        for i, options in enumerate(choices):
            same = [j for j in options if self.owner[j] == last]
            pick = (same or options or [int(nearest[i])])[0]
            last = int(self.owner[pick])
            chosen.append(pick)
        return np.array(chosen)

    def _parameter(self, chord: np.ndarray, places: Points) -> Floats:
        start, step = self.starts[chord], (self.ends - self.starts)[chord]
        size = (step * step).sum(axis=1)
        share = ((places - start) * step).sum(axis=1)
        share = np.divide(share, size, out=np.zeros_like(size), where=size > 0).clip(0.0, 1.0)
        return np.asarray(self.low[chord] + share * (self.high - self.low)[chord])


def _stretches(runs: list[_Run], error_mm: float, reach_mm: float) -> list[Stretch]:
    """The curves of runs that follow one another round a ring, each starting where one ended."""
    if len(runs) == 1:
        run = replace(runs[0], low=0.0, high=runs[0].source.end)
        runs = [run]
    else:
        ends = [_meeting(a, b, reach_mm) for a, b in zip(runs, [*runs[1:], runs[0]], strict=True)]
        runs = [
            _Run(run.source, before[1], after[0])
            for run, before, after in zip(runs, [ends[-1], *ends[:-1]], ends, strict=True)
        ]
    curves = [
        (run, _curve(run, error_mm))
        for run in runs
        if run.high > run.low
        # A lone run goes all the way round, so it ends where it starts.
        and (len(runs) == 1 or np.abs(run.place(run.high) - run.place(run.low)).max() > 0.0)
    ]
    if not curves:
        return []
    # Each stretch starts, bit for bit, where the one before it ends.
    return [
        Stretch(
            curve=with_ends(curve, before.end, curve.end),
            edge=run.source.edge,
            joint=run.source.joint,
        )
        for (_, before), (run, curve) in zip([curves[-1], *curves[:-1]], curves, strict=True)
    ]


def _curve(run: _Run, error_mm: float) -> Curve:
    source = run.source
    cuts = [at for at in (run.low, run.high) if 0.0 < at < source.end]
    own = split_at_parameters(source.curve, cuts)[1 if run.low > 0.0 else 0]
    return moved_part(replace(source, curve=own), error_mm)


def moved_part(source: Source, error_mm: float) -> Curve:
    """The whole of a source as a curve of its own, within `error_mm`."""
    if source.left_mm == 0.0:
        return source.curve
    moved = moved_cubics(source.curve.segments, source.left_mm, error_mm)
    if moved is not None and np.array_equal(moved[1:, 0], moved[:-1, 3]):
        return Curve(moved)
    # Bends tighter than the distance, and handles of no length, want a fit.
    return fitted_places(source.places, source.end, error_mm, (None, None))


def _meeting(a: _Run, b: _Run, reach_mm: float) -> tuple[float, float, Point]:
    """Where run `a` goes over into run `b`: the parameter on each, and the point.

    Mostly the end of one source and the start of the next; else they cross near where their
    chords do. Where they do not (they run along one another) the end of `a` is as good.
    """
    end, start = a.place(a.source.end), b.place(0.0)
    if np.hypot(*(end - start)) <= SAME_POINT_MM and np.hypot(*(a.place(a.high) - end)) <= reach_mm:
        return a.source.end, 0.0, end
    s, t = a.high, b.low
    guess = a.place(s)
    for _ in range(MEET_ROUNDS):
        (p, u), (q, v) = a.source.jet(s), b.source.jet(t)
        gap = q - p
        cross = float(u[0] * v[1] - u[1] * v[0])
        if np.hypot(*gap) <= SAME_POINT_MM / 10 or abs(cross) <= SINGULAR:
            break
        s = float(np.clip(s + (gap[0] * v[1] - gap[1] * v[0]) / cross, 0.0, a.source.end))
        t = float(np.clip(t + (gap[0] * u[1] - gap[1] * u[0]) / cross, 0.0, b.source.end))
    place = a.place(s)
    close = np.hypot(*(place - b.place(t))) <= SAME_POINT_MM
    if a.source is b.source and abs(t - s) < abs(b.low - a.high) / 2:
        close = False  # that a curve meets itself where it is, is no crossing
    if close and np.hypot(*(place - guess)) <= 100 * reach_mm:
        return s, t, place
    return a.high, b.low, guess
