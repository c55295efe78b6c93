"""The outer edge of a collar: even, or wider at an end, running to a point, rounded or square."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import numpy as np

from wedgework.drafting.draft import Side
from wedgework.drafting.lines import aside, in_few
from wedgework.geometry.curve import Curve, Point, line, with_ends
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.length import length_mm, point_at, points_at
from wedgework.geometry.split import part
from wedgework.geometry.turning import tangents_at

Shape: TypeAlias = Literal["pointed", "rounded", "square"]

REACH: Final = 1.0 / 3.0
"""A point, curve or flap takes up so much of the neckline; common practice, no source."""

PLACES: Final = 25
"""Places that a widening line is drawn through."""


def outer_sides(
    neck: Curve, width_mm: float, wider_mm: tuple[float, float], shape: Shape
) -> list[Side]:
    """The outer edge, walked as the neck is, in one side, or several where it is wider at an end.

    `wider_mm` is by how much at the first and at the last end. The roles are `outer`, and
    `first_outer`, `first_step`, `last_step`, `last_outer` for what is added to it.
    """
    whole_mm = length_mm(neck)
    first_mm, last_mm = (REACH * whole_mm if wider else 0.0 for wider in wider_mm)
    sides = [Side(role="outer", curve=_parallel(neck, first_mm, whole_mm - last_mm, width_mm))]
    if wider_mm[0]:
        sides = [*_widened(neck, (first_mm, 0.0), (width_mm, wider_mm[0]), shape), *sides]
        sides[:-1] = [_turned(one, "first") for one in reversed(sides[:-1])]
    if wider_mm[1]:
        stations = (whole_mm - last_mm, whole_mm)
        more = _widened(neck, stations, (width_mm, wider_mm[1]), shape)
        sides += [Side(role=f"last_{one.role}", curve=one.curve) for one in more]
    return _stitched(sides)


def _parallel(neck: Curve, from_mm: float, to_mm: float, width_mm: float) -> Curve:
    return aside(part(neck, from_mm, to_mm), width_mm)


def _widened(
    neck: Curve, stations: tuple[float, float], widths: tuple[float, float], shape: Shape
) -> list[Side]:
    """The way from the even part out to an end, its sides `step` and `outer`."""
    (start, end), (width, more) = stations, widths
    if shape == "square":
        out = [_beside(neck, start, width), _beside(neck, start, width + more)]
        low, high = min(start, end), max(start, end)
        outer = _parallel(neck, low, high, width + more)
        if end < start:
            outer = Curve(outer.segments[::-1, ::-1])
        return [Side(role="step", curve=line(*out)), Side(role="outer", curve=outer)]
    share = np.linspace(0.0, 1.0, PLACES)
    rise = share if shape == "pointed" else share * share * (3.0 - 2.0 * share)
    places = start + (end - start) * share
    normals = _left(tangents_at(neck, places))
    points = points_at(neck, places) + normals * (width + more * rise)[:, None]
    return [Side(role="outer", curve=in_few(smooth_through(points)))]


def _beside(neck: Curve, station_mm: float, width_mm: float) -> Point:
    normal = _left(tangents_at(neck, [station_mm]))[0]
    return np.asarray(point_at(neck, station_mm) + width_mm * normal)


def _left(tangents: Point) -> Point:
    return np.stack([-tangents[:, 1], tangents[:, 0]], axis=1)


def _turned(side: Side, end: str) -> Side:
    return Side(role=f"{end}_{side.role}", curve=Curve(side.curve.segments[::-1, ::-1]))


def _stitched(sides: list[Side]) -> list[Side]:
    """The sides with their shared ends made one, bit for bit."""
    done = [sides[0]]
    for side in sides[1:]:
        curve = with_ends(side.curve, done[-1].curve.end, side.curve.end)
        done.append(Side(role=side.role, curve=curve))
    return done
