"""Arc length of cubics, and the way between a length along a curve and its parameter.

Gauss-Legendre quadrature with 16 and 24 nodes; where the two differ, the cubic is halved and each
half is measured again: a fixed order alone is off by parts in a thousand on a strong bend.

A place on a curve is its *station* (mm of arc length from the start) or its *parameter* (number
of the segment plus the parameter in it, 0 to n).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wedgework.geometry.curve import Curve, Floats, Points, stacked
from wedgework.geometry.memo import memoised
from wedgework.geometry.tolerances import (
    LENGTH_DEPTH,
    LENGTH_RELATIVE,
    POINT_SIZE_MM,
    STATION_MM,
)

_ROUNDS = 80
_BLOCK = 2048  # cubics whose nodes fit into a processor's cache: three times as fast


def _derivative_basis(t: Floats) -> Floats:
    """(4, k): what each control point adds to the derivative of a cubic at `t`, (k,)."""
    s = 1.0 - t
    return np.stack([-3 * s * s, 3 * s * (s - 2 * t), 3 * t * (2 * s - t), 3 * t * t])


def _gauss(order: int) -> tuple[Floats, Floats]:
    nodes, weights = np.polynomial.legendre.leggauss(order)
    return _derivative_basis((nodes + 1) / 2), weights / 2


_BASIS_16, _WEIGHTS_16 = _gauss(16)
_BASIS_24, _WEIGHTS_24 = _gauss(24)


def _summed(dx: Floats, dy: Floats, weights: Floats) -> Floats:
    np.multiply(dx, dx, out=dx)
    np.multiply(dy, dy, out=dy)
    np.add(dx, dy, out=dx)
    np.sqrt(dx, out=dx)
    length: Floats = dx @ weights
    return length


def halved(segments: Floats) -> Floats:
    """(2n, 4, 2): every cubic of (n, 4, 2) cut at its middle, halves side by side."""
    p0, p1, p2, p3 = (segments[:, i] for i in range(4))
    a, b, c = (p0 + p1) / 2, (p1 + p2) / 2, (p2 + p3) / 2
    d, e = (a + b) / 2, (b + c) / 2
    middle = (d + e) / 2
    halves = np.stack([p0, a, d, middle, middle, e, c, p3], axis=1)
    return halves.reshape(-1, 4, 2)


def segment_lengths_mm(segments: Floats) -> Floats:
    """Arc length of each cubic, (n,) mm, of (n, 4, 2); relative error below 1e-9.

    Source: Gauss-Legendre quadrature; the error is the difference of two orders.
    """
    total, unsure = _measured(segments)
    # A half may be wrong by no more than this share of the whole that it is a part of.
    bound = LENGTH_RELATIVE * total + POINT_SIZE_MM
    owner = np.flatnonzero(unsure > bound)
    # About its own start: halves of a tiny cubic far from the origin would be mere rounding.
    parts = segments[owner] - segments[owner, :1]
    total[owner] = 0.0
    for _ in range(LENGTH_DEPTH):
        if len(owner) == 0:
            break
        parts, owner = halved(parts), np.repeat(owner, 2)
        fine, unsure = _measured(parts)
        open_ = unsure > bound[owner]
        np.add.at(total, owner[~open_], fine[~open_])
        parts, owner = parts[open_], owner[open_]
    np.add.at(total, owner, _measured(parts)[0])
    return total


def _measured(segments: Floats) -> tuple[Floats, Floats]:
    """Lengths by 24 nodes, (n,), and how unsure they are, in blocks that a cache holds."""
    if len(segments) <= _BLOCK:
        return _block_measured(segments)
    blocks = [
        _block_measured(segments[first : first + _BLOCK])
        for first in range(0, len(segments), _BLOCK)
    ]
    return np.concatenate([fine for fine, _ in blocks]), np.concatenate([by for _, by in blocks])


def _block_measured(segments: Floats) -> tuple[Floats, Floats]:
    # Products sum up in another order for rows left over from fours: filled up to fours, a cubic
    # measures the same to the last bit alone and among thousands.
    count = len(segments)
    if over := -count % 4:
        segments = np.concatenate([segments, np.zeros((over, 4, 2))])
    # x and y as separate contiguous blocks: twice as fast as one (n, 8) product.
    x, y = np.ascontiguousarray(segments[:, :, 0]), np.ascontiguousarray(segments[:, :, 1])
    rough = _summed(x @ _BASIS_16, y @ _BASIS_16, _WEIGHTS_16)
    fine = _summed(x @ _BASIS_24, y @ _BASIS_24, _WEIGHTS_24)
    unsure = np.abs(fine - rough)
    unsure[_may_fold(x, y) & (fine > POINT_SIZE_MM)] = np.inf
    return fine[:count], unsure[:count]


def _may_fold(x: Floats, y: Floats) -> NDArray[np.bool_]:
    """Which cubics, (n, 4) in x and in y, may turn back, their steps over 90 degrees apart.

    A sharp fold near an end is seen by no node of either order, so both agree on a wrong
    length; among steps that point one way there is no fold.
    """
    u, v = x[:, 1:] - x[:, :-1], y[:, 1:] - y[:, :-1]
    beside = u[:, 1:] * u[:, :-1] + v[:, 1:] * v[:, :-1]
    across = u[:, 0] * u[:, 2] + v[:, 0] * v[:, 2]
    return np.asarray((np.minimum(beside[:, 0], beside[:, 1]) < 0.0) | (across < 0.0))


@memoised
def _starts_mm(curve: Curve) -> Floats:
    """(n + 1,) mm: station where each segment starts, and the whole length last."""
    return _starts_of(curve.segments[None])[0]


def _starts_of(segments: Floats) -> list[Floats]:
    """Of each of m curves, (m, n, 4, 2), what `_starts_mm` says."""
    lengths = segment_lengths_mm(segments.reshape(-1, 4, 2)).reshape(segments.shape[:2])
    starts = np.zeros((len(segments), segments.shape[1] + 1))
    np.cumsum(lengths, axis=1, out=starts[:, 1:])
    return frozen_rows(starts)


def frozen_rows(values: Floats) -> list[Floats]:
    """Each row of an array as a read-only array of its own, which keeps no other row alive."""
    rows = [row.copy() for row in values]
    for row in rows:
        row.flags.writeable = False
    return rows


def fill_lengths(curves: Iterable[Curve]) -> None:
    """Measure many curves at once; what is said of each is then remembered."""
    for some, segments in stacked(curve for curve in curves if not _starts_mm.knows(curve)):
        for curve, starts in zip(some, _starts_of(segments), strict=True):
            _starts_mm.keep(starts, curve)


def length_mm(curve: Curve) -> float:
    """Arc length of `curve` in mm; relative error below 1e-9."""
    return float(_starts_mm(curve)[-1])


def joint_stations_mm(curve: Curve) -> Floats:
    """(n + 1,) mm: where each of n cubics starts, and the whole length last; read only."""
    return _starts_mm(curve)


def measure_all(curves: Sequence[Curve]) -> Floats:
    """Lengths of many curves at once, (len(curves),) mm: one pass over all their cubics."""
    if not curves:
        return np.zeros(0)
    counts = [len(curve) for curve in curves]
    lengths = segment_lengths_mm(np.concatenate([curve.segments for curve in curves]))
    return np.add.reduceat(lengths, np.concatenate([[0], np.cumsum(counts)[:-1]]))


def station_of(curve: Curve, parameter: float) -> float:
    """Station in mm of a parameter (segment number plus parameter in it, 0 to n)."""
    index = min(int(parameter), len(curve) - 1)
    t = parameter - index
    if t <= 0.0:
        return float(_starts_mm(curve)[index])
    head = cut_cubics(curve.segments[index : index + 1], np.array([t]))[0]
    return float(_starts_mm(curve)[index] + segment_lengths_mm(head)[0])


def cut_cubics(segments: Floats, t: Floats) -> tuple[Floats, Floats]:
    """Both parts of each cubic of (n, 4, 2) cut at `t`, (n,): two (n, 4, 2) arrays.

    Source: de Casteljau. The end points are copied, never computed again.
    """
    t = t[:, None]
    p0, p1, p2, p3 = (segments[:, i] for i in range(4))
    a, b, c = p0 + t * (p1 - p0), p1 + t * (p2 - p1), p2 + t * (p3 - p2)
    d, e = a + t * (b - a), b + t * (c - b)
    point = d + t * (e - d)
    return np.stack([p0, a, d, point], axis=1), np.stack([point, e, c, p3], axis=1)


def parameters_at(curve: Curve, stations_mm: ArrayLike) -> Floats:
    """Parameters, (k,), of stations, (k,) mm; a station beyond an end is taken at that end.

    The length up to each parameter agrees with its station to STATION_MM. Newton's method inside
    a bracket, all stations together.
    """
    index, target, whole = _in_cubics(curve, stations_mm)
    cubics = curve.segments[index]
    t = _guessed(cubics, _share(target, whole))
    low, high = np.zeros_like(t), np.ones_like(t)
    # The ends are exact already; everything between them is looked for.
    active = np.flatnonzero((target > 0.0) & (target < whole))
    for _ in range(_ROUNDS):
        if len(active) == 0:
            break
        over = segment_lengths_mm(cut_cubics(cubics[active], t[active])[0]) - target[active]
        open_ = np.abs(over) > STATION_MM / 4
        active, over = active[open_], over[open_]
        here = t[active]
        high[active] = np.where(over > 0, here, high[active])
        low[active] = np.where(over > 0, low[active], here)
        way = derivatives(cubics[active], here)
        speed = np.hypot(way[:, 0], way[:, 1])
        step = here - np.divide(over, speed, out=np.full_like(over, np.inf), where=speed > 0)
        inside = (step > low[active]) & (step < high[active])
        t[active] = np.where(inside, step, (low[active] + high[active]) / 2)
        # What Newton's step leaves over is at most half the step times the change of velocity.
        change = derivatives(cubics[active], t[active]) - way
        left_over = np.abs(over) * np.hypot(change[:, 0], change[:, 1])
        active = active[~inside | (left_over > STATION_MM / 8 * speed)]
    return np.asarray(index + t, dtype=np.float64)


def parameters_about(curve: Curve, stations_mm: ArrayLike) -> Floats:
    """Parameters, (k,), at about stations, (k,) mm, for what is only looked at.

    Off by less than a two-hundredth of a cubic's length at its wildest bend, and by less than a
    ten-thousandth on an edge as makers draw it; a fifth of the time of `parameters_at`.
    """
    index, target, whole = _in_cubics(curve, stations_mm)
    return np.asarray(index + _guessed(curve.segments[index], _share(target, whole)))


def _in_cubics(curve: Curve, stations_mm: ArrayLike) -> tuple[NDArray[np.int64], Floats, Floats]:
    """Of each station its cubic, how far into it in mm it lies, and how long that cubic is."""
    starts = _starts_mm(curve)
    wanted = np.clip(np.atleast_1d(np.asarray(stations_mm, dtype=np.float64)), 0.0, starts[-1])
    index = np.clip(np.searchsorted(starts, wanted, side="right") - 1, 0, len(curve) - 1)
    return index, wanted - starts[index], starts[index + 1] - starts[index]


def _share(part: Floats, whole: Floats) -> Floats:
    return np.divide(part, whole, out=np.zeros_like(part), where=whole > 0)


_GRID = np.linspace(0.0, 1.0, 33)
_BASIS_GRID = _derivative_basis(_GRID)


def _guessed(cubics: Floats, share: Floats) -> Floats:
    """Parameters, (n,), at about the `share`, (n,), of each cubic's length: Newton starts there.

    Lengths up to 17 places by Simpson's rule, and between two of them the speed is even.
    """
    dx, dy = cubics[:, :, 0] @ _BASIS_GRID, cubics[:, :, 1] @ _BASIS_GRID
    speed = np.sqrt(dx * dx + dy * dy)
    panels = speed[:, :-2:2] + 4 * speed[:, 1::2] + speed[:, 2::2]
    upto = np.cumsum(panels, axis=1)
    wanted = share * upto[:, -1]
    row = np.arange(len(cubics))
    panel = np.minimum((upto < wanted[:, None]).sum(axis=1), 15)
    size = panels[row, panel]
    inside = wanted - upto[row, panel] + size
    x = np.divide(inside, size, out=np.full_like(size, 0.5), where=size > 0)
    # Speed changes across the panel: one step of the quadratic that its two ends give.
    first, last = speed[row, 2 * panel], speed[row, 2 * panel + 2]
    mean = (first + last) / 2
    bend = np.divide(last - first, 2 * mean, out=np.zeros_like(mean), where=mean > 0)
    return np.asarray(((panel + x * (1 + bend * (1 - x))) / 16).clip(0.0, 1.0))


def derivatives(cubics: Floats, t: Floats) -> Floats:
    """First derivatives, (n, 2), of n cubics (n, 4, 2) each at its own `t`, (n,)."""
    s = 1.0 - t
    weights = np.stack([3 * s * s, 6 * s * t, 3 * t * t], axis=1)
    # Differences first: they do not lose the digits that large coordinates would cost.
    return np.asarray((weights[:, :, None] * (cubics[:, 1:] - cubics[:, :-1])).sum(axis=1))


def points_at_parameters(curve: Curve, parameters: Floats) -> Points:
    """Points, (k, 2) mm, at parameters, (k,)."""
    index = np.minimum(parameters.astype(np.int64), len(curve) - 1)
    t = (parameters - index)[:, None]
    s = 1.0 - t
    p0, p1, p2, p3 = (curve.segments[index, i] for i in range(4))
    points: Points = s * s * s * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t * t * t * p3
    return points


def points_at(curve: Curve, stations_mm: ArrayLike) -> Points:
    """Points, (k, 2) mm, at stations, (k,) mm."""
    return points_at_parameters(curve, parameters_at(curve, stations_mm))


def point_at(curve: Curve, station_mm: float) -> Points:
    """The point, (2,) mm, at one station."""
    return np.asarray(points_at(curve, [station_mm])[0])
