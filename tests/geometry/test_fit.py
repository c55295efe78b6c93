import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline
from shapely import LineString

from tests.geometry import shapes
from wedgework.geometry.curve import Curve, is_straight, joined, polyline
from wedgework.geometry.fit import fitted, fitted_curve, natural_spline, smooth_through
from wedgework.geometry.flatten import flattened
from wedgework.geometry.length import length_mm
from wedgework.geometry.turning import (
    end_tangent,
    joint_turnings_rad,
    segment_turnings_rad,
    start_tangent,
    turning_rad,
)

ARC = 200 * np.stack([np.cos(a := np.linspace(0, math.pi / 2, 300)), np.sin(a)], axis=1)


def far_apart_mm(curve, points):
    return shapely.hausdorff_distance(LineString(flattened(curve, 1e-4)), LineString(points))


def test_two_stations_give_a_straight_slice():
    slice_ = natural_spline([10, 30], [0, 5])
    assert slice_.value([10, 20, 30]) == pytest.approx([0, 2.5, 5])
    assert slice_.slope([10, 20, 30]) == pytest.approx([0.25, 0.25, 0.25])


@given(
    steps=st.lists(st.floats(1, 100), min_size=1, max_size=8),
    values=st.lists(st.floats(-50, 50), min_size=9, max_size=9),
)
def test_a_natural_spline_is_scipys(steps, values):
    stations = np.concatenate([[0.0], np.cumsum(steps)])
    values = values[: len(stations)]
    at = np.linspace(0, stations[-1], 50)
    own, theirs = natural_spline(stations, values), CubicSpline(stations, values, bc_type="natural")
    assert own.value(at) == pytest.approx(theirs(at), abs=1e-9)
    assert own.slope(at) == pytest.approx(theirs(at, 1), abs=1e-9)


def test_beyond_its_ends_a_spline_goes_on_straight():
    spline = natural_spline([0, 70, 170], [0, 40, 44])
    assert spline.value(-10) == pytest.approx(-10 * spline.slope(0))
    assert spline.value(180) == pytest.approx(44 + 10 * spline.slope(170))


@pytest.mark.parametrize("stations", [[1], [2, 1], [1, 1]])
def test_stations_that_do_not_rise_are_refused(stations):
    with pytest.raises(ValueError, match="rising stations"):
        natural_spline(stations, [0.0] * len(stations))


def test_a_smooth_line_passes_through_its_points_without_a_kink():
    points = [(0, 0), (50, 20), (100, 0), (120, -60)]
    curve = smooth_through(points)
    assert [curve.start.tolist(), *curve.segments[:, 3].tolist()] == [list(p) for p in points]
    assert (joint_turnings_rad(curve) == 0).all()


def test_a_smooth_line_keeps_the_tangents_asked_for():
    curve = smooth_through([(0, 0), (60, 10), (100, 0)], (0, 2), (1, 1))
    assert start_tangent(curve) == pytest.approx([0, 1])
    assert end_tangent(curve) == pytest.approx([math.sqrt(0.5)] * 2)


def test_through_two_points_with_tangents_it_is_an_arc():
    curve = smooth_through([(100, 0), (0, 100)], (0, 1), (-1, 0))
    assert np.hypot(*flattened(curve, 0.01).T) == pytest.approx(100, abs=0.03)


def test_without_tangents_two_points_give_a_straight_line():
    assert is_straight(smooth_through([(0, 0), (30, 40)]), 1e-12)


def test_points_that_are_all_one_are_refused():
    with pytest.raises(ValueError, match="two different points"):
        smooth_through([(1, 1), (1, 1)])


def test_chords_of_an_arc_become_a_few_smooth_cubics():
    curve = fitted(ARC, 0.02)
    assert len(curve) <= 4
    assert far_apart_mm(curve, ARC) <= 0.02
    assert (joint_turnings_rad(curve) == 0).all()
    assert turning_rad(curve) == pytest.approx(math.pi / 2, abs=0.01)


def test_a_fit_keeps_both_ends_bit_for_bit():
    curve = fitted(ARC, 0.02)
    assert (curve.start == ARC[0]).all()
    assert (curve.end == ARC[-1]).all()


def test_a_fit_keeps_tangents_asked_for():
    curve = fitted(ARC, 0.02, (0, 1), (-1, 0))
    assert turning_rad(curve) == pytest.approx(math.pi / 2, abs=1e-12)


def test_tens_of_thousands_of_tiny_chords_become_some_dozens_of_cubics():
    x = np.linspace(0, 600, 30_000)
    points = np.stack([x, 40 * np.sin(x / 50)], axis=1)
    curve = fitted(points, 0.02)
    assert len(curve) < 40
    assert far_apart_mm(curve, points) <= 0.02


def test_one_decimal_does_not_make_a_fit_wriggle():
    curve = fitted(np.round(ARC, 1), 0.08)
    assert np.abs(segment_turnings_rad(curve.segments)).sum() < math.pi / 2 + 0.05


def test_a_sharp_corner_stays_one():
    points = [(0, 0), (50, 0), (100, 0), (100, 50), (100, 100)]
    assert far_apart_mm(fitted(points, 0.02), points) <= 0.02


def test_few_points_of_a_bulging_line_are_joined_smoothly_when_chords_do_not_count():
    points = ARC[::30]
    curve = fitted(points, 0.02, chords=False)
    assert (joint_turnings_rad(curve) == 0).all()
    assert turning_rad(curve) > 1.2


@settings(max_examples=50)
@given(ring=shapes.simple_rings())
def test_any_polygon_is_fitted_within_the_error(ring):
    points = np.array([curve.start for curve in ring])
    assert far_apart_mm(fitted(points, 0.05), points) <= 0.05 + 2e-3


def test_a_chain_of_many_cubics_becomes_one_of_few():
    source = smooth_through(ARC)
    curve = fitted_curve(source, 0.001)
    assert len(curve) < len(source) / 10
    assert (np.abs(joint_turnings_rad(curve)) < 1e-9).all()
    assert length_mm(curve) == pytest.approx(length_mm(source), abs=0.01)
    assert far_apart_mm(curve, flattened(source, 1e-5)) < 1.5e-3


def test_a_curve_fitted_to_a_single_cubic_is_that_cubic():
    source = Curve([[[0, 0], [30, 40], [60, 40], [90, 0]]])
    assert fitted_curve(source, 0.01).segments == pytest.approx(source.segments, abs=1e-6)


def test_a_curve_can_be_given_other_tangents_at_its_ends():
    curve = fitted_curve(polyline([(0, 0), (100, 0)]), 0.5, (1, 0.01), (1, 0))
    assert start_tangent(curve) == pytest.approx(np.array([1, 0.01]) / math.hypot(1, 0.01))
    assert (curve.end == [100, 0]).all()


def test_a_ring_fitted_whole_keeps_its_turning():
    circle = joined(*shapes.circle(100))
    assert turning_rad(fitted_curve(circle, 0.01)) == pytest.approx(2 * math.pi, abs=1e-9)
