"""Rigid and affine motions of the plane."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.curve import Curve, Floats, Points, reversed_curve


@dataclass(frozen=True, eq=False, slots=True)
class Affine:
    """x -> linear @ x + shift; `linear` is (2, 2), `shift` is (2,) mm."""

    linear: Floats
    shift: Floats

    @property
    def determinant(self) -> float:
        """Change of area; below zero for a mirror image."""
        (a, b), (c, d) = self.linear
        return float(a * d - b * c)

    def points(self, points: ArrayLike) -> Floats:
        """`points`, (..., 2) mm, moved."""
        moved: Floats = np.asarray(points, dtype=np.float64) @ self.linear.T + self.shift
        return moved

    def after(self, first: Affine) -> Affine:
        """The motion that does `first`, then this one."""
        return Affine(self.linear @ first.linear, self.points(first.shift))


def translation(by_mm: ArrayLike) -> Affine:
    """Shift by (2,) mm."""
    return Affine(np.eye(2), np.asarray(by_mm, dtype=np.float64))


def rotation(angle_rad: float, about: ArrayLike = (0.0, 0.0)) -> Affine:
    """Turn counter-clockwise by `angle_rad` about a point, (2,) mm."""
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    return _about(np.array([[cos, -sin], [sin, cos]]), about)


def reflection(start: ArrayLike, end: ArrayLike) -> Affine:
    """Mirror image in the line through two different points, (2,) mm."""
    along = np.asarray(end, dtype=np.float64) - np.asarray(start, dtype=np.float64)
    x, y = along / np.hypot(*along)
    return _about(np.array([[x * x - y * y, 2 * x * y], [2 * x * y, y * y - x * x]]), start)


def _about(linear: Floats, centre: ArrayLike) -> Affine:
    centre = np.asarray(centre, dtype=np.float64)
    return Affine(linear, centre - linear @ centre)


def similarity(old: tuple[ArrayLike, ArrayLike], new: tuple[ArrayLike, ArrayLike]) -> Affine:
    """The turn with a change of size, no mirror image, that takes two points, (2,) mm, to two.

    The two old points differ.
    """
    (a, b), (c, d) = (np.asarray(pair, dtype=np.float64) for pair in (old, new))
    was, now = complex(*(b - a)), complex(*(d - c))
    ratio = now / was
    linear = np.array([[ratio.real, -ratio.imag], [ratio.imag, ratio.real]])
    return Affine(linear, c - linear @ a)


def inverse(rigid: Affine) -> Affine:
    """The motion that undoes a rigid one (a turn, a shift, a mirror image)."""
    back = rigid.linear.T
    return Affine(back, -back @ rigid.shift)


def moved(curve: Curve, motion: Affine) -> Curve:
    """`curve` under `motion`, still walked the same way (a mirror image then turns clockwise)."""
    return Curve(motion.points(curve.segments))


def mirrored_walk(curve: Curve, motion: Affine) -> Curve:
    """`curve` under a mirror image, walked backwards, so that the inside stays on the left."""
    return reversed_curve(moved(curve, motion))


def fitted_motion(points: Points, onto: Points, *, mirrored: bool = False) -> Affine:
    """The rigid motion that brings `points`, (n, 2) mm, nearest to `onto`, in the least squares.

    `mirrored`: a turn and shift of their mirror image. Where no turn is better than another, none
    is made. Source: in the plane the best turn is the direction of the sum of conj(p) q about both
    middles, by setting the derivative of the squared distances to 0.
    """
    flip = np.array([1.0, -1.0 if mirrored else 1.0])
    source, target = points * flip, np.asarray(onto)
    middle, to = source.mean(axis=0), target.mean(axis=0)
    p, q = source - middle, target - to
    along, across = float((p * q).sum()), float((p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]).sum())
    size = math.hypot(along, across)
    cos, sin = (along / size, across / size) if size > 0.0 else (1.0, 0.0)
    turn = np.array([[cos, -sin], [sin, cos]])
    return Affine(turn * flip, to - turn @ middle)
