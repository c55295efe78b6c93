"""Projective maps of the plane: what a camera does to a flat sheet, and how it is undone.

A map is a (3, 3) array with 1 at the end: (x, y, 1) becomes (X, Y, W), the point (X/W, Y/W).
Source: Hartley and Zisserman, Multiple View Geometry in Computer Vision, 2nd edition, 4.1 (the
direct linear transformation) and 4.4.4 (why the points are normalised first).
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.curve import Floats, Point, Points
from wedgework.geometry.motion import Affine
from wedgework.geometry.tolerances import FLAT_CORNER_RAD, HORIZON_RELATIVE


class NotProjective(ValueError):
    """Four points that no camera makes of a rectangle: three in a line, crossed or doubled."""


def homography(source: ArrayLike, target: ArrayLike) -> Floats:
    """The map that takes four points, (4, 2), to four others, (4, 2): exact up to rounding.

    Raises NotProjective where three points of either lie in a line, or where the map would send
    (0, 0) out of sight, so that its last number cannot be 1.
    """
    first, second = np.asarray(source, dtype=np.float64), np.asarray(target, dtype=np.float64)
    if not (_spans(first) and _spans(second)):
        raise NotProjective("three of four points lie in a line")
    to_first, to_second = _normalising(first), _normalising(second)
    inner = _null_vector(mapped(to_first, first), mapped(to_second, second))
    return with_last_one(np.linalg.inv(to_second) @ inner @ to_first)


def _null_vector(source: Points, target: Points) -> Floats:
    """The map of normalised points: two equations a point, the last right singular vector."""
    rows = []
    for (x, y), (u, v) in zip(source.tolist(), target.tolist(), strict=True):
        rows.append([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, -u])
        rows.append([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y, -v])
    least: Floats = np.linalg.svd(np.array(rows))[2][-1]
    return least.reshape(3, 3)


def _normalising(points: Points) -> Floats:
    """The map that puts the middle of points at (0, 0), root 2 from it on average."""
    middle = points.mean(axis=0)
    scale = math.sqrt(2.0) / float(np.hypot(*(points - middle).T).mean())
    return np.array([[scale, 0, -scale * middle[0]], [0, scale, -scale * middle[1]], [0, 0, 1.0]])


def _spans(points: Points) -> bool:
    """Whether no three of four points lie in a line."""
    if not np.isfinite(points).all():
        return False
    turns = [_turn_rad(points[[i, j, k]]) for i, j, k in ((0, 1, 2), (1, 2, 3), (2, 3, 0))]
    turns.append(_turn_rad(points[[3, 0, 1]]))
    return all(abs(math.sin(turn)) > FLAT_CORNER_RAD for turn in turns)


def _turn_rad(three: Points) -> float:
    """How far the way through three points turns at the middle one; nothing where two are one."""
    (x0, y0), (x1, y1) = np.diff(three, axis=0).tolist()
    return math.atan2(x0 * y1 - y0 * x1, x0 * x1 + y0 * y1)


def with_last_one(map_: Floats) -> Floats:
    """The same map with 1 as its last number; NotProjective where (0, 0) goes out of sight."""
    last = map_[2, 2]
    if abs(last) <= HORIZON_RELATIVE * float(np.abs(map_).max()):
        raise NotProjective("the map sends its origin out of sight")
    return np.asarray(map_ / last)


def mapped(map_: Floats, points: ArrayLike) -> Floats:
    """`points`, (..., 2), under a map; a point on its horizon becomes infinite."""
    places = np.asarray(points, dtype=np.float64)
    full = places @ map_[:, :2].T + map_[:, 2]
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(full[..., :2] / full[..., 2:])


def depths(map_: Floats, points: ArrayLike) -> Floats:
    """W of each of `points`, (..., 2): of one sign on this side of the horizon, shape (...)."""
    return np.asarray(np.asarray(points, dtype=np.float64) @ map_[2, :2] + map_[2, 2])


def undone(map_: Floats) -> Floats:
    """The map that takes everything back; NotProjective where there is none, as with_last_one."""
    try:
        return with_last_one(np.asarray(np.linalg.inv(map_), dtype=np.float64))
    except np.linalg.LinAlgError:
        raise NotProjective("the map flattens the plane") from None


def followed(map_: Floats, motion: Affine) -> Floats:
    """The map, and then a motion of the plane."""
    whole = np.eye(3)
    whole[:2, :2], whole[:2, 2] = motion.linear, motion.shift
    return with_last_one(whole @ map_)


def is_convex(corners: ArrayLike) -> bool:
    """Whether four points, (4, 2), go once round a convex quadrangle, in either direction."""
    ring = np.asarray(corners, dtype=np.float64)
    turns = [_turn_rad(np.roll(ring, shift, axis=0)[:3]) for shift in range(4)]
    return _spans(ring) and len({turn > 0 for turn in turns}) == 1


def sorted_round(points: ArrayLike) -> list[int]:
    """Indices of points in the order of a walk round their middle, by rising angle of atan2."""
    places = np.asarray(points, dtype=np.float64)
    away = places - places.mean(axis=0)
    return [int(index) for index in np.argsort(np.arctan2(away[:, 1], away[:, 0]), kind="stable")]


def scale_there(map_: Floats, point: Point | tuple[float, float]) -> float:
    """How much larger a small thing at `point` becomes: the root of the map's change of area."""
    depth = abs(float(depths(map_, point)))
    return math.sqrt(abs(float(np.linalg.det(map_))) / depth**3) if depth > 0 else math.inf
