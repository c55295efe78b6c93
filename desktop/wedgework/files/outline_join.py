"""Open lines whose ends meet, joined into outlines.

Lines and the places where their ends meet are a plane map. The outlines are its outer borders;
lines inside are left as they are. Lines of one group are joined with each other before any others.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from shapely import STRtree, points

from wedgework.files.drawn import Chain, evened
from wedgework.files.outline_clean import Drawing, gap_closed, moved_end
from wedgework.files.outline_tolerances import GAP_MM, REGION_ERROR_MM, STEP_BACK_MM, TOLD_GAP_MM
from wedgework.files.problems import Problem
from wedgework.geometry.curve import Curve, Floats, Points
from wedgework.geometry.flatten import flattened_all

End = int
"""Number of a line times two, plus one for where it ends."""


def joined_lines(
    lines: list[Drawing], problems: list[Problem]
) -> tuple[list[Drawing], list[Drawing]]:
    """Rings that lines make with each other, and the lines that are left."""
    groups: defaultdict[int, list[Drawing]] = defaultdict(list)
    for line in lines:
        groups[id(line.shape.groups[-1]) if line.shape.groups else 0].append(line)
    rings: list[Drawing] = []
    left: list[Drawing] = []
    for group in groups.values():
        found, rest = _joined(group, problems)
        rings += found
        left += rest
    if len(groups) > 1:
        found, left = _joined(sorted(left, key=lambda line: line.order), problems)
        rings += found
    return rings, left


def _joined(lines: list[Drawing], problems: list[Problem]) -> tuple[list[Drawing], list[Drawing]]:
    walks = list(_Map(lines).outlines())
    used = {end // 2 for walk in walks for end in walk}
    rings = [_ring(walk, lines, problems) for walk in walks]
    return rings, [line for index, line in enumerate(lines) if index not in used]


class _Map:
    """Lines as a plane map; a line with an end that meets nothing is no part of it."""

    def __init__(self, lines: list[Drawing]) -> None:
        curves = [Curve(line.chain.segments) for line in lines]
        self._ways = flattened_all(curves, REGION_ERROR_MM)
        near = _near_ends(self._ways)
        _drop_dangling(near)
        places = list(_places(near))
        self._place = {end: index for index, place in enumerate(places) for end in place}
        self._next = self._turns(places)

    def outlines(self) -> Iterator[list[End]]:
        """Ends where the lines of each outer border are entered, once round."""
        unseen = dict.fromkeys(self._next)
        while unseen:
            face = self._face(next(iter(unseen)))
            for end in face:
                del unseen[end]
            if self._area(face) < 0:
                # An outer border is walked with the outside on the left: turn round.
                yield from self._loops([end ^ 1 for end in reversed(face)])

    def _turns(self, places: list[list[End]]) -> dict[End, End]:
        """For each end where a line is entered, the one where the next line round is."""
        following = {}
        for place in places:
            ends = sorted(place, key=lambda end: (self._angle(end), end))
            for index, end in enumerate(ends):
                # Arriving at `end`, leave by the next one clockwise.
                following[end ^ 1] = ends[index - 1]
        return following

    def _angle(self, end: End) -> float:
        """Which way a line leaves an end, in rad, read a little way along it."""
        way = self._way(end)
        away = np.hypot(*(way - way[0]).T) >= STEP_BACK_MM / 4
        x, y = way[int(away.argmax()) if away.any() else -1] - way[0]
        return math.atan2(y, x)

    def _way(self, end: End) -> Points:
        way = self._ways[end // 2]
        return way if end % 2 == 0 else way[::-1]

    def _face(self, start: End) -> list[End]:
        face, end = [start], self._next[start]
        while end != start:
            face.append(end)
            end = self._next[end]
        return face

    def _area(self, walk: list[End]) -> float:
        way = np.concatenate([self._way(end) for end in walk])
        x, y = (way - way[0]).T
        return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())

    def _loops(self, walk: list[End]) -> Iterator[list[End]]:
        """A border that passes a place twice, as loops that do not; lines passed twice are none."""
        path: list[End] = []
        passed: dict[int, int] = {}
        for end in walk:
            if path and path[-1] == end ^ 1:
                del passed[self._place[path.pop()]]
                continue
            passed[self._place[end]] = len(path)
            path.append(end)
            first = passed.get(self._place[end ^ 1])
            if first is not None:
                loop = path[first:]
                del path[first:]
                for one in loop:
                    del passed[self._place[one]]
                yield loop


def _near_ends(ways: list[Points]) -> dict[End, set[End]]:
    """For each end those of other lines that meet it."""
    near: dict[End, set[End]] = {}
    if not ways:
        return near
    places = np.array([way[index] for way in ways for index in (0, -1)])
    spots = points(places)
    first, second = STRtree(spots).query(spots, predicate="dwithin", distance=GAP_MM)
    others = first // 2 != second // 2
    for one, other in zip(first[others].tolist(), second[others].tolist(), strict=True):
        near.setdefault(one, set()).add(other)
    return near


def _drop_dangling(near: dict[End, set[End]]) -> None:
    """Take out lines with an end that meets no other, until there is none."""
    waiting = [end for end in near if not near.get(end ^ 1)]
    while waiting:
        end = waiting.pop()
        for other in near.pop(end, set()):
            near[other].discard(end)
            if not near[other]:
                del near[other]
                waiting.append(other ^ 1)


def _places(near: dict[End, set[End]]) -> Iterator[list[End]]:
    """Ends that meet, place by place."""
    seen: set[End] = set()
    for first in near:
        if first in seen:
            continue
        seen.add(first)
        place = [first]
        for end in place:
            more = near[end] - seen
            seen |= more
            place += more
        yield place


def _ring(walk: list[End], lines: list[Drawing], problems: list[Problem]) -> Drawing:
    """One closed drawing of the lines of a walk, from the start of the first in the file."""
    first = min(range(len(walk)), key=lambda index: lines[walk[index] // 2].order)
    walk = walk[first:] + walk[:first]
    if walk[0] % 2:
        walk = [end ^ 1 for end in [walk[0], *reversed(walk[1:])]]
    parts = [_entered(lines[end // 2].chain, end) for end in walk]
    widest_mm = _closed_gaps(parts)
    straight = np.concatenate([part.straight for part in parts])
    segments = evened(np.concatenate([part.segments for part in parts]), straight)
    rounding_mm = max(part.rounding_mm for part in parts)
    named = lines[walk[0] // 2]
    sentence = f"{len(walk)} open lines whose ends meet were joined into one outline."
    problems.append(Problem("lines_joined", sentence, named.shape.id))
    if widest_mm > TOLD_GAP_MM:
        problems.append(gap_closed(widest_mm, named.shape.id))
    chain = Chain(segments, straight, closed=True, rounding_mm=rounding_mm)
    return replace(named, chain=chain)


def _closed_gaps(parts: list[Chain]) -> float:
    """Put the end of each part on the start of the next; the widest gap that was, in mm."""
    widest_mm = 0.0
    for part, following in zip(parts, [*parts[1:], parts[0]], strict=True):
        start: Floats = following.segments[0, 0]
        widest_mm = max(widest_mm, float(np.hypot(*(start - part.segments[-1, 3]))))
        moved_end(part.segments, start)
    return widest_mm


def _entered(chain: Chain, end: End) -> Chain:
    """A copy of a chain, walked from the end where it is entered."""
    if end % 2 == 0:
        return replace(chain, segments=chain.segments.copy())
    return replace(chain, segments=chain.segments[::-1, ::-1].copy(), straight=chain.straight[::-1])
