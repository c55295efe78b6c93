import math

import pytest

from tests.geometry import shapes
from wedgework.geometry.corners import corner_parameters, ring_corners
from wedgework.geometry.curve import joined, polyline

CORNER_RAD = math.radians(15)


def test_a_joint_that_turns_as_much_as_asked_is_a_corner():
    bend = [(0, 0), (100, 0), (200, 100 * math.tan(math.radians(15.0001)))]
    assert corner_parameters(polyline(bend), CORNER_RAD).tolist() == [1]


def test_a_joint_that_turns_less_is_none():
    bend = [(0, 0), (100, 0), (200, 100 * math.tan(math.radians(14.999)))]
    assert corner_parameters(polyline(bend), CORNER_RAD).tolist() == []


def test_a_square_has_four_corners_of_which_one_is_its_start():
    square = joined(*shapes.square())
    assert corner_parameters(square, CORNER_RAD).tolist() == [1, 2, 3]
    assert ring_corners(square, CORNER_RAD).tolist() == [0, 1, 2, 3]


def test_a_circle_has_no_corner():
    assert ring_corners(joined(*shapes.circle()), CORNER_RAD).tolist() == []


def test_a_doubled_point_does_not_hide_a_corner():
    chain = polyline([(0, 0), (100, 0), (100, 0), (100, 100)])
    assert corner_parameters(chain, CORNER_RAD).tolist() == [1]


@pytest.mark.parametrize("turn", [-1, 1])
def test_turning_back_is_a_corner(turn):
    assert corner_parameters(polyline([(0, 0), (100, 0), (0, turn)]), CORNER_RAD).tolist() == [1]
