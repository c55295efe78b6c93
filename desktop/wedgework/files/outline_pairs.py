"""A closed line that follows an outline inside it: seam line and cut line of one piece."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from wedgework.files.drawn import Chain, Flags
from wedgework.files.outline_corners import joint_turns
from wedgework.files.outline_tolerances import (
    GAP_MM,
    NOTCH_TURN_RAD,
    PAIR_MM,
    PAIR_SAMPLES,
    PAIR_SHARE,
    PAIR_WITHIN_MM,
    REGION_ERROR_MM,
)
from wedgework.geometry.curve import Curve, Floats, Points
from wedgework.geometry.flatten import flattened
from wedgework.geometry.offset import MITRE_LIMIT


def pair_distance_mm(inner: Chain, outer: Chain) -> float | None:
    """How far inside `outer` the ring `inner` runs, if that is the same all along; else None.

    Both run counter-clockwise. Near corners that turn right the inner line may lie further off,
    and near its other corners the outer may: lines drawn aside meet further out there.
    """
    if not _may_follow(inner, outer):
        return None
    around = shapely.LineString(_chords(outer))
    places = _samples(inner)
    away = _distances(places, around)
    distance_mm = float(np.median(away))
    if not PAIR_MM[0] - GAP_MM <= distance_mm <= PAIR_MM[1] + GAP_MM:
        return None
    even = np.abs(away - distance_mm) <= PAIR_WITHIN_MM
    even |= (away > distance_mm) & _near_hollow(places, inner, 1.5 * distance_mm)
    if even.mean() < PAIR_SHARE:
        return None
    back = _distances(_samples(outer), shapely.LineString(_chords(inner)))
    reach_mm = MITRE_LIMIT * distance_mm + PAIR_WITHIN_MM
    strays = (back > reach_mm).mean() > 1 - PAIR_SHARE
    middle_off = abs(float(np.median(back)) - distance_mm) > PAIR_WITHIN_MM
    return None if strays or middle_off else distance_mm


def _may_follow(inner: Chain, outer: Chain) -> bool:
    """Whether the boxes of two rings lie in each other as they must: a quick look."""
    (low, high), (outer_low, outer_high) = (
        (ends.min(axis=0), ends.max(axis=0))
        for ends in (chain.segments[:, 0] for chain in (inner, outer))
    )
    margins = np.concatenate([low - outer_low, outer_high - high])
    # Joints of a smooth ring may lie short of its box by more than its allowance differs.
    return bool((margins > -PAIR_MM[1]).all() and (margins < 2 * MITRE_LIMIT * PAIR_MM[1]).all())


def allowances_mm(edges: list[Curve], outer: Chain, usual_mm: float) -> list[float]:
    """For each seam edge how far outside it the cut line runs, in mm, to three decimals."""
    around = shapely.LineString(_chords(outer))
    found = []
    for edge in edges:
        places = _spread(flattened(edge, REGION_ERROR_MM))
        # The ends of an edge are nearer to a neighbour's cut line than to its own.
        inner = places[len(places) // 5 : max(len(places) - len(places) // 5, 1)]
        away_mm = float(np.median(_distances(inner, around)))
        found.append(away_mm if abs(away_mm - usual_mm) <= PAIR_WITHIN_MM else usual_mm)
    return [round(one, 3) for one in found]


def _chords(chain: Chain) -> Points:
    return flattened(Curve(chain.segments), REGION_ERROR_MM)


def _samples(chain: Chain) -> Points:
    return _spread(_chords(chain))


def _spread(points: Points) -> Points:
    """Some points evenly along a line, (k, 2) mm."""
    line = shapely.LineString(points)
    return np.asarray(
        shapely.get_coordinates(
            shapely.line_interpolate_point(
                line, np.linspace(0.0, 1.0, PAIR_SAMPLES), normalized=True
            )
        )
    )


def _distances(points: Points, line: BaseGeometry) -> Floats:
    return np.asarray(shapely.distance(shapely.points(points), line))


def _near_hollow(points: Points, ring: Chain, within_mm: float) -> Flags:
    """Which points lie near a corner of a ring that turns right."""
    corners = ring.segments[joint_turns(ring) <= -NOTCH_TURN_RAD, 0]
    if len(corners) == 0:
        return np.zeros(len(points), dtype=bool)
    return np.asarray(_distances(points, shapely.MultiPoint(corners)) <= within_mm)
