"""Curves moved square to themselves by a distance that changes along them."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from wedgework.geometry.curve import is_straight, line
from wedgework.geometry.displaced import Displaced
from wedgework.geometry.length import length_mm, point_at, points_at
from wedgework.geometry.nearest import nearest
from wedgework.geometry.piecewise import Piecewise, of_spline
from wedgework.geometry.spline import natural_spline
from wedgework.geometry.tolerances import DISPLACED_MM
from wedgework.geometry.turning import joint_turnings_rad, tangents_at


def even(distance_mm: float, whole_mm: float) -> Piecewise:
    return Piecewise(np.array([[0.0, whole_mm, distance_mm, 0.0, distance_mm, 0.0]]))


def test_a_straight_curve_moved_evenly_is_one_straight_curve():
    moved, breaks = Displaced(line((0, 0), (100, 0)), even(5.0, 100.0)).chain(0.0, 100.0)
    assert len(moved) == 1
    assert moved.start == pytest.approx([0, 5])
    assert moved.end == pytest.approx([100, 5])
    assert breaks == pytest.approx([0, 100])


def test_a_straight_curve_moved_by_a_slope_stays_straight_beyond_its_ends():
    slope = of_spline(natural_spline([0, 100], [0, 20]))
    moved, _ = Displaced(line((0, 0), (100, 0)), slope).chain(-10.0, 110.0)
    assert len(moved) == 1
    assert is_straight(moved, 1e-9)
    assert moved.start == pytest.approx([-10, -2])
    assert moved.end == pytest.approx([110, 22])


def test_a_circle_moved_inwards_is_a_smaller_circle():
    circle = small.disc(50.0).pieces["p"].edges[0].curve
    whole = length_mm(circle)
    moved, _ = Displaced(circle, even(10.0, whole)).chain(0.0, whole)
    radii = np.hypot(*points_at(moved, np.linspace(0, length_mm(moved), 60)).T)
    assert radii == pytest.approx(40.0, abs=DISPLACED_MM + 0.02)  # cubics are no true circle


@given(curve=small.garment_curves(segments=1), most=st.floats(-8.0, 8.0))
def test_every_point_is_as_far_off_as_was_asked(curve, most):
    whole = length_mm(curve)
    distance = of_spline(natural_spline([0, whole / 2, whole], [0, most, 0]))
    way = Displaced(curve, distance)
    if way.tightest() < 0.2:
        return
    moved, _ = way.chain(0.0, whole)
    stations = np.linspace(0.1, 0.9, 7) * whole
    tangents = tangents_at(curve, stations)
    normals = np.column_stack([-tangents[:, 1], tangents[:, 0]])
    wanted = points_at(curve, stations) + distance.at(stations)[0][:, None] * normals
    for point in wanted:
        assert nearest(moved, point).distance_mm < 4 * DISPLACED_MM


def test_where_nothing_moves_the_curve_itself_is_left():
    curve = small.bulging(np.zeros(2), np.array([200.0, 0.0]), 0.2)
    whole = length_mm(curve)
    rows = [[0, 60, 0, 0, 0, 0], [60, 120, 0, 0, 6, 0], [120, whole, 6, 0, 0, 0]]
    moved, _ = Displaced(curve, Piecewise(np.array(rows, dtype=float))).chain(0.0, whole)
    for at in (10.0, 30.0, 59.0):
        assert point_at(moved, at) == pytest.approx(point_at(curve, at), abs=1e-9)


def test_a_smooth_distance_over_a_smooth_chain_gives_a_smooth_chain():
    circle = small.disc(80.0).pieces["p"].edges[0].curve
    whole = length_mm(circle)
    distance = of_spline(natural_spline([0, whole / 3, whole], [0, 9, 0]))
    moved, _ = Displaced(circle, distance).chain(0.0, whole)
    assert np.abs(joint_turnings_rad(moved)).max() < 1e-9


def test_a_curve_that_would_fold_keeps_nothing_of_its_length():
    circle = small.disc(20.0).pieces["p"].edges[0].curve
    whole = length_mm(circle)
    assert Displaced(circle, even(10.0, whole)).tightest() == pytest.approx(0.5, abs=0.01)
    assert Displaced(circle, even(25.0, whole)).tightest() < 0.0


def test_shifts_are_whole_at_their_end_and_nothing_at_the_other():
    way = Displaced(
        line((0, 0), (100, 0)), even(0.0, 100.0), np.array([0.0, 3.0]), np.array([0.0, 0.0])
    )
    assert way.at(0.0)[0] == pytest.approx([0, 3])
    assert way.at(100.0)[0] == pytest.approx([100, 0])
    assert math.isclose(way.at(50.0)[0][1], 1.5)
