"""Where an outline turns, read past the rounding of the file's numbers.

Chords as short as the last decimal point anywhere: there the turn at a joint is that between the
mean directions of a stretch before it and a stretch behind it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from wedgework.files.drawn import Chain, Flags
from wedgework.files.outline_tolerances import ROUNDED_STEPS
from wedgework.geometry.curve import Floats, Points
from wedgework.geometry.turning import hodographs

Indexes: TypeAlias = NDArray[np.int64]


def joint_turns(chain: Chain) -> Floats:
    """(n,) rad: how far the chain turns where each cubic starts, left positive.

    At the start of an open chain it is 0.
    """
    h = hodographs(chain.segments)
    turns = _angles(np.roll(h[:, 2], 1, axis=0), h[:, 0])
    if not chain.closed:
        turns[0] = 0.0
    return turns


def _angles(before: Floats, after: Floats) -> Floats:
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return np.asarray(np.arctan2(cross, (before * after).sum(axis=1)))


def rounded_chords(chain: Chain) -> Flags:
    """(n,): which cubics are chords so short that rounding decides where they point."""
    lengths = np.hypot(*(chain.segments[:, 3] - chain.segments[:, 0]).T)
    return np.asarray(chain.straight & (lengths < ROUNDED_STEPS * chain.rounding_mm))


def seen_turns(chain: Chain, corner_rad: float) -> Floats:
    """`joint_turns`, but at rounded chords what turns on the whole; a corner counts once there."""
    turns = joint_turns(chain)
    rounded = rounded_chords(chain)
    doubtful = (rounded | np.roll(rounded, 1)) & chain.straight & np.roll(chain.straight, 1)
    if not chain.closed:
        doubtful[0] = False
    if not doubtful.any():
        return turns
    look = _Look(chain, ROUNDED_STEPS * chain.rounding_mm)
    turns[doubtful] = look.turns[doubtful]
    corners = np.flatnonzero(doubtful & (np.abs(turns) >= corner_rad))
    turns[look.all_but_sharpest(corners)] = 0.0
    return turns


class _Look:
    """An outline at joints, seen within a reach: how far it turns there, and how sharply."""

    def __init__(self, chain: Chain, reach_mm: float) -> None:
        points = np.concatenate([chain.segments[:, 0], chain.segments[-1:, 3]])
        count = first = len(chain.segments)
        if chain.closed:
            # Once more round on either side, so that stretches may reach over the start.
            points = np.concatenate([points[:-1], points[:-1], points])
        else:
            first = 0
        way = _Way(points)
        self._at = way.at[first : first + count]
        self._around = way.at[first + count] - way.at[first] if chain.closed else np.inf
        self._reach = reach_mm
        half = reach_mm / 2
        a, b, c, d = (
            way.mean(self._at + low * half, self._at + (low + 1) * half) for low in (-2, -1, 0, 1)
        )
        self.turns = _angles(b - a, d - c)
        # A corner stands further out from the means of its sides than any point near it.
        self._stands_out = np.hypot(*(chain.segments[:, 0] - (a + b + c + d) / 4).T)

    def all_but_sharpest(self, joints: Indexes) -> Indexes:
        """Those of some joints that have a sharper one within reach."""
        lost: set[int] = set()
        at = self._at[joints]
        for index in np.argsort(-self._stands_out[joints], kind="stable").tolist():
            if int(joints[index]) not in lost:
                lost.update(int(joints[near]) for near in self._near(at, index) if near != index)
        return np.array(sorted(lost), dtype=np.int64)

    def _near(self, at: Floats, index: int) -> Iterator[int]:
        shifts = (0.0, self._around, -self._around) if np.isfinite(self._around) else (0.0,)
        for shift in shifts:
            here = at[index] + shift
            low, high = np.searchsorted(at, [here - self._reach, here + self._reach])
            yield from range(int(low), int(high))


class _Way:
    """A polyline's points summed over its length, so that means of stretches cost nothing."""

    def __init__(self, points: Points) -> None:
        self._points = points
        steps = np.diff(points, axis=0)
        self._widths = np.hypot(steps[:, 0], steps[:, 1])
        self.at = np.concatenate([[0.0], np.cumsum(self._widths)])
        middles = (points[1:] + points[:-1]) / 2
        sums = np.cumsum(middles * self._widths[:, None], axis=0)
        self._sums = np.concatenate([np.zeros((1, 2)), sums])

    def mean(self, low: Floats, high: Floats) -> Points:
        """Mean place, (k, 2) mm, between two stations each; beyond an end, that end."""
        low, high = (np.clip(one, self.at[0], self.at[-1]) for one in (low, high))
        width = np.maximum(high - low, np.finfo(float).tiny)[:, None]
        return np.asarray((self._sum(high) - self._sum(low)) / width)

    def _sum(self, at: Floats) -> Points:
        index = np.clip(np.searchsorted(self.at, at, side="right") - 1, 0, len(self._widths) - 1)
        along = at - self.at[index]
        start, step = self._points[index], self._points[index + 1] - self._points[index]
        share = np.divide(
            along, self._widths[index], out=np.zeros_like(along), where=self._widths[index] > 0
        )
        inside = start * along[:, None] + step * (share * along / 2)[:, None]
        return np.asarray(self._sums[index] + inside)
