"""A ring or line as curves: cut at its corners, chords of smooth curves made smooth again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from wedgework.files.drawn import Chain, Flags, straight_segments
from wedgework.files.outline_corners import joint_turns, rounded_chords, seen_turns
from wedgework.files.outline_tolerances import CHORD_ERROR_MM, CHORDS_PER_CUBIC, FEWEST_CHORDS
from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.fit import fitted
from wedgework.geometry.tolerances import KINK_RAD


@dataclass(frozen=True, slots=True, eq=False)
class Fitting:
    """How much was fitted: chords that became `cubics`."""

    chords: int = 0
    cubics: int = 0

    def __add__(self, other: Fitting) -> Fitting:
        """Both together."""
        return Fitting(self.chords + other.chords, self.cubics + other.cubics)


def reversed_chain(chain: Chain) -> Chain:
    """The same chain walked the other way."""
    return replace(chain, segments=chain.segments[::-1, ::-1], straight=chain.straight[::-1])


def turned_to(chain: Chain, *, left: bool) -> Chain:
    """A ring walked counter-clockwise (`left`) or clockwise, from the same start."""
    is_left = ring_area_mm2([Curve(chain.segments)]) > 0
    return chain if is_left == left else reversed_chain(chain)


def started_at(chain: Chain, index: int) -> Chain:
    """A ring that starts where its cubic `index` does."""
    return replace(
        chain,
        segments=np.roll(chain.segments, -index, axis=0),
        straight=np.roll(chain.straight, -index),
    )


def edge_curves(chain: Chain, corner_rad: float) -> tuple[list[Curve], Fitting]:
    """Curves of a ring from corner to corner, from its start or the first corner after it.

    A ring without corners is one curve from its start to its start.
    """
    corners = np.flatnonzero(np.abs(seen_turns(chain, corner_rad)) >= corner_rad)
    if len(corners) == 0:
        curve, fitting = smooth_curve(chain, corner_rad)
        return [curve], fitting
    chain = started_at(chain, int(corners[0]))
    cuts = (corners - corners[0])[1:].tolist()
    curves, total = [], Fitting()
    for part in _parts(chain, cuts):
        curve, fitting = smooth_curve(part, corner_rad)
        curves.append(curve)
        total += fitting
    return curves, total


def _parts(chain: Chain, cuts: list[int]) -> Iterator[Chain]:
    for start, end in zip([0, *cuts], [*cuts, len(chain.segments)], strict=True):
        yield Chain(
            chain.segments[start:end],
            chain.straight[start:end],
            closed=False,
            rounding_mm=chain.rounding_mm,
        )


def smooth_curve(chain: Chain, corner_rad: float) -> tuple[Curve, Fitting]:
    """One curve of a chain that has no corner inside, its chords fitted where they are many."""
    chain = merged_straight(chain)
    error_mm = max(CHORD_ERROR_MM, chain.rounding_mm * 2**0.5)
    turns = seen_turns(chain, corner_rad)
    pieces, total = [], Fitting()
    for start, end, short in _stretches(_short_chords(chain, turns, error_mm, corner_rad)):
        segments = chain.segments[start:end]
        if short and end - start >= FEWEST_CHORDS:
            whole = chain.closed and end - start == len(chain.segments)
            found = _fitted(segments, error_mm, whole=whole)
            if len(found) * CHORDS_PER_CUBIC <= len(segments):
                total += Fitting(len(segments), len(found))
                segments = found
        pieces.append(segments)
    segments = np.concatenate(pieces)
    return Curve(segments), total


def _short_chords(chain: Chain, turns: Floats, error_mm: float, corner_rad: float) -> Flags:
    """Straight cubics that could be chords of a curve within `error_mm` of them.

    A chord of length L between joints that turn by a and b bulges by L (a + b) / 16; half of that
    lies on each side of the best curve.
    """
    bend = np.abs(turns)
    after = np.roll(bend, -1)
    if not chain.closed:
        after[-1] = 0.0
    lengths = np.hypot(*(chain.segments[:, 3] - chain.segments[:, 0]).T)
    tame = lengths * (bend + after) / 16 <= 2 * error_mm
    tame &= (bend < corner_rad) & (after < corner_rad)
    # Where rounding decides how chords turn, only the fit can tell a corner from a step.
    tame |= rounded_chords(chain)
    return np.asarray(chain.straight & tame)


def _stretches(flags: Flags) -> Iterator[tuple[int, int, bool]]:
    """Start, end and flag of each run of like flags."""
    cuts = [0, *(np.flatnonzero(flags[1:] != flags[:-1]) + 1).tolist(), len(flags)]
    for start, end in pairwise(cuts):
        yield start, end, bool(flags[start])


def _fitted(segments: Floats, error_mm: float, *, whole: bool) -> Floats:
    """Few cubics near to chords, (n, 4, 2); a `whole` ring is smooth where it closes, too."""
    points = np.concatenate([segments[:, 0], segments[-1:, 3]])
    tangent: Point | None = points[1] - points[-2] if whole else None
    return np.asarray(fitted(points, error_mm, tangent, tangent).segments)


def merged_straight(chain: Chain) -> Chain:
    """The chain with straight cubics that go on in one direction made one."""
    turns = np.abs(joint_turns(chain))
    on = chain.straight & np.roll(chain.straight, 1) & (turns <= KINK_RAD)
    on[0] = False
    if not on.any():
        return chain
    first = np.flatnonzero(~on)
    last = np.concatenate([first[1:], [len(on)]]) - 1
    segments = chain.segments[first].copy()
    longer = last > first
    ends = np.stack([segments[longer, 0], chain.segments[last[longer], 3]], axis=1)
    segments[longer] = [straight_segments(pair)[0] for pair in ends]
    return replace(chain, segments=segments, straight=chain.straight[first])
