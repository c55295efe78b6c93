"""Round curves through few points."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from wedgework.geometry.length import length_mm, points_at_parameters
from wedgework.geometry.motion import rotation
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.through import round_through


def on_ellipse(across, up, *degrees):
    angle = np.radians(degrees)
    return np.stack([across * np.cos(angle), up * np.sin(angle)], axis=1)


def farthest_mm(curve, places):
    return max(nearest_foot(curve, place).distance_mm for place in places.tolist())


def test_two_points_make_a_straight_line():
    assert length_mm(round_through([[0, 0], [30, 40]])) == pytest.approx(50.0)


@given(count=st.integers(3, 9), angle=st.floats(0.3, 1.5), turn=st.floats(-3, 3))
def test_points_of_an_arc_give_that_arc(count, angle, turn):
    along = np.linspace(0, angle, count)
    points = 100 * np.stack([np.cos(along + turn), np.sin(along + turn)], axis=1)
    curve = round_through(points)
    away = np.hypot(*points_at_parameters(curve, np.linspace(0, len(curve), 200)).T)
    assert np.abs(away - 100).max() < 0.05


def test_four_points_follow_a_quarter_of_an_ellipse_to_a_millimetre():
    curve = round_through(on_ellipse(120, 80, 0, 28, 58, 90))
    assert farthest_mm(curve, on_ellipse(120, 80, *range(0, 91, 3))) < 1.0


def test_a_curve_through_points_turns_with_them():
    points = on_ellipse(120, 80, 0, 25, 65, 90, 140)
    turn = rotation(1.234, (3.0, 4.0))
    assert np.abs(
        round_through(turn.points(points)).segments - turn.points(round_through(points).segments)
    ).max() < 1e-9  # fmt: skip


def test_a_curve_walked_backwards_is_the_same():
    points = on_ellipse(120, 80, 0, 25, 65, 90, 140)
    there, back = round_through(points), round_through(points[::-1])
    assert np.abs(there.segments - back.segments[::-1, ::-1]).max() < 1e-9


@given(
    st.lists(
        st.tuples(small.millimetres(-200, 200), small.millimetres(-200, 200)),
        min_size=2,
        max_size=8,
        unique=True,
    )
)
def test_every_point_lies_on_the_curve_and_both_ends_bit_for_bit(points):
    if any(math.dist(a, b) < 1e-3 for a, b in itertools.pairwise(points)):
        return
    curve = round_through(points)
    assert curve.start.tolist() == list(points[0])
    assert curve.end.tolist() == list(points[-1])
    assert curve.segments[1:, 0].tolist() == [list(point) for point in points[1:-1]]


def test_one_point_is_no_curve():
    with pytest.raises(ValueError, match="two different points"):
        round_through([[1, 1], [1, 1]])
