"""Chains made sound: nothing without length, nothing drawn twice, ends that meet made one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from wedgework.files.drawn import Chain, Flags, Shape, evened
from wedgework.files.outline_tolerances import (
    GAP_MM,
    NO_LENGTH_MM,
    NO_WIDTH_MM,
    REGION_ERROR_MM,
    TOLD_GAP_MM,
)
from wedgework.files.problems import Problem
from wedgework.geometry.curve import Curve, Floats
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.regions import region


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """One chain of the file with the element that draws it, and its place in the file."""

    chain: Chain
    shape: Shape
    order: int


def cleaned(shapes: tuple[Shape, ...], problems: list[Problem]) -> list[Drawing]:
    """Every chain of `shapes` that is worth keeping; what was done to it goes to `problems`."""
    out: list[Drawing] = []
    for shape in shapes:
        for chain in shape.chains:
            sound = _sound(chain, shape, problems)
            if sound is not None:
                out.append(Drawing(sound, shape, len(out)))
    return out


def _sound(chain: Chain, shape: Shape, problems: list[Problem]) -> Chain | None:
    if len(chain.segments) == 1 and chain.straight[0] and not _is_point(chain):
        return replace(chain, closed=False)
    kept, told = _without_repeats(chain)
    if kept is None:
        problems.append(Problem("no_length", "It has no length and was left out.", shape.id))
        return None
    problems.extend(Problem(code, sentence, shape.id) for code, sentence in told)
    chain, gap_mm = _closed_up(kept)
    if gap_mm > TOLD_GAP_MM:
        problems.append(gap_closed(gap_mm, shape.id))
    return _with_an_inside(chain, shape, problems)


def _is_point(chain: Chain) -> bool:
    start, end = chain.ends.tolist()
    return math.dist(start, end) <= NO_LENGTH_MM


def gap_closed(gap_mm: float, element: str) -> Problem:
    """What is told of ends that were moved together."""
    sentence = f"Ends {gap_mm:.2g} mm apart were made to meet."
    return Problem("gap_closed", sentence, element)


def _without_repeats(chain: Chain) -> tuple[Chain | None, list[tuple[str, str]]]:
    """The chain without cubics of no length and without those drawn there and back again."""
    sizes = np.abs(chain.segments - chain.segments[:, :1]).max(axis=(1, 2))
    keep = sizes > NO_LENGTH_MM
    if not keep.any():
        return None, []
    told = []
    if (lost := int((~keep).sum())) > 0:
        chain = _only(chain, keep)
        told.append(("no_length", f"{_many(lost, 'stretch', 'stretches')} of no length left out."))
    keep = _drawn_once(chain)
    if (lost := int((~keep).sum())) > 0:
        chain = _only(chain, keep)
        sentence = f"{_many(lost, 'stretch', 'stretches')} drawn more than once left out."
        told.append(("drawn_twice", sentence))
    return chain, told


def _many(count: int, one: str, more: str) -> str:
    return f"One {one}" if count == 1 else f"{count} {more}"


def _only(chain: Chain, keep: Flags) -> Chain:
    """The chain with some cubics left out, each of the others starting where the last ended."""
    segments, straight = chain.segments[keep].copy(), chain.straight[keep]
    segments[1:, 0] = segments[:-1, 3]
    if chain.closed:
        segments[-1, 3] = segments[0, 0]
    return replace(chain, segments=evened(segments, straight), straight=straight)


def _drawn_once(chain: Chain) -> Flags:
    """Which cubics to keep: not a ring's second round, not a stretch gone over and over."""
    segments = chain.segments
    count = len(segments)
    keep = np.ones(count, dtype=bool)
    if (
        chain.closed
        and count % 2 == 0
        and count >= 4
        and _alike(segments[: count // 2], segments[count // 2 :]).all()
    ):
        keep[count // 2 :] = False
        return keep
    # Forth, back and forth again: the way back and the second way forth say nothing new.
    back = _alike(segments[:-1], segments[1:, ::-1])
    at = 0
    while at + 2 < count:
        if back[at] and back[at + 1]:
            keep[at + 1 : at + 3] = False
            at += 2
        else:
            at += 1
    return keep


def _alike(first: Floats, second: Floats) -> Flags:
    return np.asarray(np.abs(first - second).max(axis=(1, 2)) <= NO_LENGTH_MM)


def _closed_up(chain: Chain) -> tuple[Chain, float]:
    """The chain closed if its ends meet, and how far apart they were."""
    if chain.closed:
        return _without_last_step(chain)
    start, end = chain.ends
    gap_mm = float(np.hypot(*(end - start)))
    size = float(np.ptp(chain.segments.reshape(-1, 2), axis=0).max())
    if gap_mm > GAP_MM or size <= 2 * GAP_MM or (len(chain.segments) == 1 and chain.straight[0]):
        return chain, 0.0
    return closed(chain), gap_mm


def closed(chain: Chain) -> Chain:
    """The chain with its end put on its start."""
    segments = chain.segments.copy()
    moved_end(segments, segments[0, 0])
    return replace(chain, segments=evened(segments, chain.straight), closed=True)


def moved_end(segments: Floats, point: Floats) -> None:
    """Put the end of a chain's last cubic somewhere near, its handle with it, in place."""
    shift = point - segments[-1, 3]
    segments[-1, 2] += shift
    segments[-1, 3] = point


def _without_last_step(chain: Chain) -> tuple[Chain, float]:
    """A ring whose last stretch only bridges a gap, without it."""
    if len(chain.segments) < 4 or not chain.straight[-1]:
        return chain, 0.0
    lengths = np.hypot(*(chain.segments[[-1, -2, 0], 3] - chain.segments[[-1, -2, 0], 0]).T)
    # Among chords as short as itself it is one of them.
    if lengths[0] > GAP_MM or lengths[0] > lengths[1:].min() / 4:
        return chain, 0.0
    rest = Chain(
        chain.segments[:-1].copy(), chain.straight[:-1], closed=False, rounding_mm=chain.rounding_mm
    )
    return closed(rest), float(lengths[0])


def _with_an_inside(chain: Chain, shape: Shape, problems: list[Problem]) -> Chain | None:
    """The chain; a ring that goes there and back on one line as that line."""
    if not chain.closed or not _is_flat(chain):
        return chain
    half = len(chain.segments) // 2
    there, back = chain.segments[:half], chain.segments[: half - 1 : -1, ::-1]
    if 2 * half == len(chain.segments) and half > 0 and _alike(there, back).all():
        problems.append(
            Problem("drawn_twice", "A line drawn there and back is one line.", shape.id)
        )
        return replace(chain, segments=there, straight=chain.straight[:half], closed=False)
    problems.append(Problem("no_inside", "It encloses nothing and was left out.", shape.id))
    return None


def _is_flat(chain: Chain) -> bool:
    ring = [Curve(chain.segments)]
    around_mm = float(np.hypot(*np.diff(chain.segments, axis=1).reshape(-1, 2).T).sum())
    least_mm2 = NO_WIDTH_MM * around_mm
    # The loops of an outline that crosses itself may weigh one another up, and still be there.
    return abs(ring_area_mm2(ring)) <= least_mm2 and _enclosed_mm2(ring) <= least_mm2


def _enclosed_mm2(ring: Sequence[Curve]) -> float:
    """The area of all that a ring encloses, of each loop where it crosses itself."""
    return float(shapely.make_valid(region(ring, REGION_ERROR_MM)).area)


def rings_and_lines(drawings: list[Drawing]) -> tuple[list[Drawing], list[Drawing]]:
    """Those that are closed, and those that are open."""
    rings = [one for one in drawings if one.chain.closed]
    return rings, [one for one in drawings if not one.chain.closed]


def each_once(drawings: list[Drawing], problems: list[Problem]) -> Iterator[Drawing]:
    """Drawings without those that repeat an earlier one, in either direction."""
    seen: set[tuple[int, bytes]] = set()
    for one in drawings:
        groups = one.shape.groups
        # Lines of two groups may lie on one another: neighbours that share a side.
        around = id(groups[-1]) if groups and not one.chain.closed else 0
        key = (around, _key(one.chain))
        if key in seen:
            problems.append(
                Problem(
                    "drawn_twice", "It lies on another of the same form: left out.", one.shape.id
                )
            )
            continue
        seen.add(key)
        yield one


def _key(chain: Chain) -> bytes:
    """The same for chains that are alike but for their direction and, in a ring, their start."""
    points = np.round(chain.segments / GAP_MM).astype(np.int64)
    ways = np.stack([points, points[:, ::-1]]).reshape(2, len(points), 8)
    # A cubic as the lesser of its two directions, then all of them in one order.
    first = np.array([row[0] <= row[1] for row in ways.transpose(1, 0, 2).tolist()])
    either = np.where(first[:, None], ways[0], ways[1])
    order = np.lexsort(either.T)
    return np.ascontiguousarray(either[order]).tobytes()
