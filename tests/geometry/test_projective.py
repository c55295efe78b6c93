"""Projective maps against an independent route, and what is refused."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests import small
from wedgework.geometry.motion import rotation
from wedgework.geometry.projective import (
    NotProjective,
    depths,
    followed,
    homography,
    is_convex,
    mapped,
    scale_there,
    sorted_round,
    undone,
)

SQUARE = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
SLANTED = np.array([[120.0, 80.0], [1840.0, 210.0], [1990.0, 1420.0], [40.0, 1300.0]])


def square_to(quad):
    """The unit square to a quadrangle in closed form, another route than ours.

    Source: Heckbert, Fundamentals of Texture Mapping and Image Warping, 1989, 2.2.3.
    """
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = quad
    dx1, dx2, sx = x1 - x2, x3 - x2, x0 - x1 + x2 - x3
    dy1, dy2, sy = y1 - y2, y3 - y2, y0 - y1 + y2 - y3
    below = dx1 * dy2 - dx2 * dy1
    g, h = (sx * dy2 - dx2 * sy) / below, (dx1 * sy - sx * dy1) / below
    return np.array(
        [
            [x1 - x0 + g * x1, x3 - x0 + h * x3, x0],
            [y1 - y0 + g * y1, y3 - y0 + h * y3, y0],
            [g, h, 1.0],
        ]
    )


def quads():
    """Convex quadrangles of some hundred pixels, none of them nearly flat."""
    shift = st.tuples(small.millimetres(-120, 120), small.millimetres(-120, 120))
    corners = np.array([[0.0, 0.0], [800.0, 0.0], [800.0, 600.0], [0.0, 600.0]])
    return st.tuples(shift, shift, shift, shift).map(lambda by: corners + np.array(by) + 300.0)


@given(source=quads(), target=quads())
def test_the_map_of_four_points_is_that_of_the_closed_form(source, target):
    other = square_to(target) @ np.linalg.inv(square_to(source))
    np.testing.assert_allclose(
        homography(source, target), other / other[2, 2], rtol=1e-6, atol=1e-9
    )


@given(source=quads(), target=quads())
def test_four_points_go_exactly_where_they_are_to_go(source, target):
    assert np.abs(mapped(homography(source, target), source) - target).max() < 1e-8


@given(source=quads(), target=quads())
def test_a_map_and_the_one_that_undoes_it_give_every_point_back(source, target):
    map_ = homography(source, target)
    assume(abs(np.linalg.inv(map_)[2, 2]) > 1e-6)
    places = source.mean(axis=0) + np.array([[0.0, 0.0], [7.0, -3.0]])
    assert np.abs(mapped(undone(map_), mapped(map_, places)) - places).max() < 1e-6


def test_lines_stay_lines_and_cross_ratios_stay():
    map_ = homography(SQUARE, SLANTED)
    row = mapped(map_, np.array([[0.1, 0.2], [0.3, 0.4], [0.5, 0.6], [0.8, 0.9]]))
    along = np.hypot(*(row - row[0]).T)
    a, b, c, d = along
    assert ((c - a) * (d - b)) / ((d - a) * (c - b)) == pytest.approx(0.4 * 0.5 / (0.7 * 0.2))


def test_a_motion_after_the_map_moves_what_it_maps():
    turn = rotation(0.3, (5.0, 6.0))
    map_ = homography(SQUARE, SLANTED)
    expected = turn.points(mapped(map_, SQUARE))
    np.testing.assert_allclose(mapped(followed(map_, turn), SQUARE), expected)


def test_the_scale_at_a_point_is_that_of_a_small_square_there():
    map_, at, small_px = homography(SQUARE, SLANTED), np.array([0.4, 0.7]), 1e-5
    quad = mapped(map_, at + small_px * (SQUARE - 0.5))
    x, y = quad.T
    area = abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2
    assert scale_there(map_, at) == pytest.approx(math.sqrt(area) / small_px, rel=1e-6)


def test_beyond_the_horizon_the_depth_changes_its_sign():
    map_ = homography(SQUARE, [[0.0, 0.0], [1.0, 0.0], [0.7, 0.5], [0.3, 0.5]])
    assert depths(map_, [[0.5, 0.5], [0.5, -5.0]]).prod() < 0


@pytest.mark.parametrize(
    ("corners", "convex"),
    [
        (SQUARE, True),
        (SQUARE[::-1], True),
        (SLANTED, True),
        (SQUARE[[0, 2, 1, 3]], False),
        ([[0, 0], [2, 0], [1, 0.5], [0, 2]], False),
        ([[0, 0], [1, 0], [2, 0], [1, 1]], False),
        ([[0, 0], [1, 0], [1, 0], [0, 1]], False),
        ([[0, 0], [0, 0], [0, 0], [0, 0]], False),
    ],
)
def test_only_a_round_of_four_true_corners_is_convex(corners, convex):
    assert is_convex(corners) is convex


def test_three_points_in_a_line_make_no_map():
    with pytest.raises(NotProjective):
        homography(SQUARE, [[0, 0], [1, 0], [2, 0], [1, 1]])


def test_points_are_sorted_round_their_middle():
    assert sorted_round(SQUARE[[2, 0, 3, 1]]) == [1, 3, 0, 2]
