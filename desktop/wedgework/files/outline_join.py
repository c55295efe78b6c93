"""Open lines whose ends meet, joined into outlines."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

import numpy as np
from shapely import STRtree, points

from wedgework.files.drawn import Chain, evened
from wedgework.files.outline_clean import Drawing, gap_closed, moved_end
from wedgework.files.outline_tolerances import GAP_MM, TOLD_GAP_MM
from wedgework.files.problems import Problem
from wedgework.geometry.curve import Floats

End = int
"""Number of a line times two, plus one for where it ends."""


def joined_lines(
    lines: list[Drawing], problems: list[Problem]
) -> tuple[list[Drawing], list[Drawing]]:
    """Rings that lines make with each other, and the lines that are left.

    A line with an end that meets nothing is in no ring. Where more than two ends meet, the walk
    goes on in the nearest line of its own group.
    """
    near = _near_ends(lines)
    _drop_dangling(near)
    used: set[int] = set()
    rings = []
    for start in range(len(lines)):
        if start in used:
            continue
        walk = _walk(start, near, lines, used)
        if walk:
            used.update(end // 2 for end in walk)
            rings.append(_ring(walk, lines, problems))
    return rings, [line for index, line in enumerate(lines) if index not in used]


def _ends(lines: list[Drawing]) -> Floats:
    return np.concatenate([line.chain.ends for line in lines]) if lines else np.empty((0, 2))


def _near_ends(lines: list[Drawing]) -> dict[End, dict[End, float]]:
    """For each end the ends of lines that meet it, and how far off they are in mm."""
    places = _ends(lines)
    near: defaultdict[End, dict[End, float]] = defaultdict(dict)
    if len(places) == 0:
        return near
    spots = points(places)
    pairs = STRtree(spots).query(spots, predicate="dwithin", distance=GAP_MM)
    first, second = pairs[:, pairs[0] != pairs[1]]
    apart = np.hypot(*(places[first] - places[second]).T)
    for one, other, gap_mm in zip(first.tolist(), second.tolist(), apart.tolist(), strict=True):
        near[one][other] = gap_mm
    return near


def _drop_dangling(near: dict[End, dict[End, float]]) -> None:
    """Take out lines with an end that meets no other, until there is none."""
    waiting = [end for end in list(near) if not near.get(end ^ 1)]
    while waiting:
        end = waiting.pop()
        for other in list(near.pop(end, {})):
            near[other].pop(end, None)
            if not near[other]:
                waiting.append(other ^ 1)


def _walk(
    start: int, near: dict[End, dict[End, float]], lines: list[Drawing], used: set[int]
) -> list[End]:
    """Ends where each line of a ring is entered, beginning with `start`; none if it stays open."""
    entered = [2 * start]
    visited = {start}
    while True:
        leaving = entered[-1] ^ 1
        met = near.get(leaving, {})
        if entered[0] in met and (len(entered) > 1 or _bends(lines[start].chain)):
            return entered
        groups = lines[leaving // 2].shape.groups
        found = [
            (lines[end // 2].shape.groups != groups, gap_mm > TOLD_GAP_MM, end)
            for end, gap_mm in met.items()
            if end // 2 not in visited and end // 2 not in used
        ]
        if not found:
            return []
        entered.append(min(found)[2])
        visited.add(entered[-1] // 2)


def _bends(chain: Chain) -> bool:
    return len(chain.segments) > 1 or not chain.straight[0]


def _ring(walk: list[End], lines: list[Drawing], problems: list[Problem]) -> Drawing:
    """One closed drawing of the lines of a walk; it is called after the first of them."""
    parts = [_entered(lines[end // 2].chain, end) for end in walk]
    widest = 0.0
    for part, following in zip(parts, [*parts[1:], parts[0]], strict=True):
        start = following.segments[0, 0]
        widest = max(widest, float(np.hypot(*(start - part.segments[-1, 3]))))
        moved_end(part.segments, start)
    straight = np.concatenate([part.straight for part in parts])
    segments = evened(np.concatenate([part.segments for part in parts]), straight)
    first = min((lines[end // 2] for end in walk), key=lambda line: line.order)
    rounding_mm = max(part.rounding_mm for part in parts)
    if len(walk) > 1:
        sentence = f"{len(walk)} open lines whose ends meet were joined into one outline."
        problems.append(Problem("lines_joined", sentence, first.shape.id))
    if widest > TOLD_GAP_MM:
        problems.append(gap_closed(widest, first.shape.id))
    return replace(first, chain=Chain(segments, straight, True, rounding_mm))  # noqa: FBT003


def _entered(chain: Chain, end: End) -> Chain:
    """A copy of a chain, walked from the end where it is entered."""
    if end % 2 == 0:
        return replace(chain, segments=chain.segments.copy())
    return replace(chain, segments=chain.segments[::-1, ::-1].copy(), straight=chain.straight[::-1])
