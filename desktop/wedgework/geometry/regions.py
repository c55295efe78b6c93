"""What a closed ring of curves encloses: regions for shapely, points inside, widths across.

A region is made of chords and is good for areas and overlaps within its error. What a maker
reads (is this point inside, how wide is it here) is asked of the curves themselves.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike
from shapely import Polygon, linearrings, make_valid, polygons
from shapely.geometry.base import BaseGeometry

from wedgework.geometry.curve import Curve, Floats, Point, Points
from wedgework.geometry.distinct import distinct
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.flatten import flattened_ring
from wedgework.geometry.length import halved
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.roots import bernstein_roots
from wedgework.geometry.tolerances import ON_OUTLINE_MM, SAME_POINT_MM, WINDING_DEPTH

Ring = Sequence[Curve]


def region(ring: Ring, error_mm: float, holes: Iterable[Ring] = ()) -> Polygon:
    """The polygon of a closed ring less `holes`, its chords within `error_mm` of the curves.

    It is as valid as the outline is: one that crosses itself gives an invalid polygon.
    """
    return Polygon(_chords(ring, error_mm), [_chords(hole, error_mm) for hole in holes])


def regions(rings: Sequence[Ring], error_mm: float) -> list[Polygon]:
    """`region` of many rings without holes, made in one call of shapely."""
    shells = [_chords(ring, error_mm) for ring in rings]
    owner = np.repeat(np.arange(len(shells)), [len(shell) for shell in shells])
    return list(polygons(linearrings(np.concatenate(shells), indices=owner))) if shells else []


def _chords(ring: Ring, error_mm: float) -> Points:
    """The chords of a ring; of a sliver that is narrower than the error, a line there and back."""
    points = flattened_ring(ring, error_mm)
    return np.append(points, np.repeat(points[-1:], max(0, 4 - len(points)), axis=0), axis=0)


def representative_point(ring: Ring, error_mm: float, holes: Iterable[Ring] = ()) -> Point:
    """A point, (2,) mm, well inside the ring and outside its holes."""
    inside: BaseGeometry = region(ring, error_mm, holes)
    if not inside.is_valid:
        inside = make_valid(inside)
    found = inside.representative_point()
    return np.array([found.x, found.y])


def contains_point(ring: Ring, point: ArrayLike, holes: Iterable[Ring] = ()) -> bool:
    """Whether `point`, (2,) mm, lies inside the ring or on it, and not inside a hole.

    A ring that winds round a point more than once, or backwards, contains it.
    """
    x, y = (float(v) for v in np.asarray(point, dtype=np.float64))
    if _lies_on(ring, x, y) or any(_lies_on(hole, x, y) for hole in holes):
        return True
    return _winding(ring, x, y) != 0 and all(_winding(hole, x, y) == 0 for hole in holes)


def _lies_on(ring: Ring, x: float, y: float) -> bool:
    low, high = bounds_of_all(ring).reshape(2, 2)
    spot = np.array([x, y])
    if (spot < low - ON_OUTLINE_MM).any() or (spot > high + ON_OUTLINE_MM).any():
        return False
    return any(nearest_foot(curve, spot).distance_mm <= ON_OUTLINE_MM for curve in ring)


def _winding(ring: Ring, x: float, y: float) -> int:
    """How often the ring goes round a point that does not lie on it.

    An arc whose control points all lie on one side of a line through the point sweeps the angle
    between its ends; any other is halved.
    """
    parts = np.concatenate([curve.segments for curve in ring]) - np.array([x, y])
    swept = 0.0
    for _ in range(WINDING_DEPTH):
        if len(parts) == 0:
            break
        towards = parts[:, 0] + parts[:, 3]
        ahead = ((parts * towards[:, None]).sum(axis=2) > 0.0).all(axis=1)
        (ax, ay), (bx, by) = parts[ahead, 0].T, parts[ahead, 3].T
        swept += float(np.arctan2(ax * by - ay * bx, ax * bx + ay * by).sum())
        parts = halved(parts[~ahead])
    return round(swept / math.tau)


def inside_spans(
    start: ArrayLike,
    end: ArrayLike,
    ring: Ring,
    holes: Iterable[Ring] = (),
    *,
    endless: bool = False,
) -> Floats:
    """Where the straight line from `start` to `end` lies inside a ring and outside its holes.

    Rising spans, (k, 2) mm along the line from `start`, right to 1e-6 mm: the ends are crossings
    with the curves, not with chords. An `endless` line goes on both ways, so a span may start
    below nothing. A stretch along the outline counts as inside, a mere touch does not. Raises
    ValueError where the two points are one.
    """
    origin = np.asarray(start, dtype=np.float64)
    along = np.asarray(end, dtype=np.float64) - origin
    whole = float(np.hypot(*along))
    if whole <= SAME_POINT_MM:
        raise ValueError("a line needs two different points")
    along = along / whole
    holes = [list(hole) for hole in holes]
    curves = [*ring, *(curve for hole in holes for curve in hole)]
    cuts = _crossed_at(np.concatenate([curve.segments for curve in curves]), origin, along)
    if not endless:
        cuts = np.concatenate([[0.0, whole], cuts[(cuts > 0.0) & (cuts < whole)]])
    cuts = distinct(cuts)
    spans = [
        (low, high)
        for low, high in pairwise(cuts.tolist())
        if high - low > SAME_POINT_MM
        and contains_point(ring, origin + (low + high) / 2 * along, holes)
    ]
    return _merged(spans)


def _merged(spans: list[tuple[float, float]]) -> Floats:
    """Spans that follow on one another made one, (k, 2)."""
    out: list[tuple[float, float]] = []
    for low, high in spans:
        if out and low - out[-1][1] <= SAME_POINT_MM:
            out[-1] = (out[-1][0], high)
        else:
            out.append((low, high))
    return np.array(out).reshape(-1, 2)


def _crossed_at(segments: Floats, origin: Point, along: Point) -> Floats:
    """Distances along a line where cubics (n, 4, 2) meet it; some more do no harm.

    The distance of a cubic from the line is a polynomial: its control values first tell which
    cubics can meet the line, then its roots say where.
    """
    offset = segments - origin
    across = along[0] * offset[..., 1] - along[1] * offset[..., 0]
    near = (across.min(axis=1) <= ON_OUTLINE_MM) & (across.max(axis=1) >= -ON_OUTLINE_MM)
    cubics, values = offset[near], across[near]
    ends = np.concatenate([cubics[:, 0], cubics[:, 3]])[
        np.abs(np.concatenate([values[:, 0], values[:, 3]])) <= ON_OUTLINE_MM
    ]
    found = [ends @ along]
    for cubic, value in zip(cubics, values, strict=True):
        t = bernstein_roots(value)
        s = 1.0 - t
        weights = np.stack([s**3, 3 * s * s * t, 3 * s * t * t, t**3], axis=1)
        found.append(weights @ (cubic @ along))
    return np.concatenate(found)
