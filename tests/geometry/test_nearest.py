import numpy as np
import pytest
from hypothesis import given, settings

from tests.geometry import shapes
from wedgework.geometry.curve import Curve, line, polyline
from wedgework.geometry.length import length_mm, points_at_parameters
from wedgework.geometry.nearest import nearest, nearest_foot, signed_distance_mm

CORNER = polyline([(0, 0), (100, 0), (100, 100)])


def test_the_foot_on_a_straight_line_is_the_plumb_point():
    foot = nearest(line((0, 0), (100, 0)), (30, 40))
    assert foot.station_mm == pytest.approx(30, abs=1e-9)
    assert foot.distance_mm == pytest.approx(40, abs=1e-9)
    assert foot.point == pytest.approx([30, 0], abs=1e-9)


def test_beyond_an_end_the_foot_is_that_end():
    foot = nearest(line((0, 0), (100, 0)), (130, 40))
    assert foot.station_mm == pytest.approx(100, abs=1e-9)
    assert foot.distance_mm == 50
    assert foot.point.tolist() == [100, 0]


@settings(max_examples=200)
@given(curve=shapes.curves(), point=shapes.points())
def test_no_sample_of_the_curve_is_nearer_than_the_foot(curve, point):
    samples = points_at_parameters(curve, np.linspace(0, len(curve), 2001))
    foot = nearest_foot(curve, point)
    assert foot.distance_mm <= np.hypot(*(samples - point).T).min() + 1e-9


@given(curve=shapes.curves(), point=shapes.points())
def test_the_foot_lies_on_the_curve_at_its_station(curve, point):
    foot = nearest(curve, point)
    assert 0 <= foot.station_mm <= length_mm(curve) * (1 + 1e-12)
    at = points_at_parameters(curve, np.array([foot.parameter]))[0]
    assert np.hypot(*(at - foot.point)) < 1e-9


def test_left_of_the_way_is_positive_and_right_negative():
    assert signed_distance_mm(line((0, 0), (100, 0)), (50, 7)) == pytest.approx(7)
    assert signed_distance_mm(line((0, 0), (100, 0)), (50, -7)) == pytest.approx(-7)


@pytest.mark.parametrize("outside", [(110, -1), (101, -10), (104, -3), (100, -5), (105, 0)])
def test_the_whole_wedge_outside_a_corner_lies_on_one_side(outside):
    assert signed_distance_mm(CORNER, outside) < 0


def test_the_side_of_a_point_within_a_bend_is_its_inside():
    bowl = Curve([[[0, 0], [0, 100], [100, 100], [100, 0]]])
    assert signed_distance_mm(bowl, (50, 40)) == pytest.approx(-35, abs=1e-9)
    assert signed_distance_mm(bowl, (50, 90)) == pytest.approx(15, abs=1e-9)
