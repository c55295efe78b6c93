"""Numbers that change along a length: cut, stretched and seen from the other end."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wedgework.geometry.piecewise import Piecewise, of_spline
from wedgework.geometry.spline import natural_spline as smooth


def natural_spline(places, values):
    return of_spline(smooth(places, values))


@st.composite
def splines(draw):
    steps = draw(st.lists(st.floats(5.0, 80.0), min_size=1, max_size=6))
    values = draw(st.lists(st.floats(-50, 50), min_size=len(steps) + 1, max_size=len(steps) + 1))
    return natural_spline(np.cumsum([0.0, *steps]), values)


def test_two_points_make_a_line():
    values, slopes = natural_spline([10, 60], [0, 20]).at([10, 35, 60])
    assert values == pytest.approx([0, 10, 20])
    assert slopes == pytest.approx([0.4, 0.4, 0.4])


@given(splines())
def test_a_natural_spline_goes_on_straight_beyond_its_ends_without_a_kink(width):
    low, high = width.breaks[[0, -1]]
    values, slopes = width.at([low - 3.0, low, high, high + 3.0])
    assert values[0] == pytest.approx(values[1] - 3.0 * slopes[1], abs=1e-9)
    assert values[3] == pytest.approx(values[2] + 3.0 * slopes[2], abs=1e-9)


@given(splines(), st.floats(0.05, 0.45), st.floats(0.55, 0.95))
def test_a_stretch_cut_out_has_the_same_values(width, low, high):
    whole = width.breaks[-1]
    cut = width.between(low * whole, high * whole)
    at = np.linspace(low * whole, high * whole, 9)
    assert cut.at(at - low * whole)[0] == pytest.approx(width.at(at)[0], abs=1e-9)


@given(splines())
def test_seen_from_the_other_end_twice_is_the_same(width):
    whole = float(width.breaks[-1])
    at = np.linspace(0, whole, 11)
    values, slopes = width.backwards(whole).at(whole - at)
    assert values == pytest.approx(width.at(at)[0], abs=1e-9)
    assert slopes == pytest.approx(-width.at(at)[1], abs=1e-9)


def test_a_stretched_one_has_its_values_where_their_places_went():
    width = natural_spline([0, 50, 100], [0, 20, 0])
    longer = width.stretched(np.array([0.0, 40.0, 100.0]), np.array([0.0, 60.0, 110.0]))
    at = np.array([0.0, 20.0, 40.0, 70.0, 100.0])
    there = np.interp(at, [0, 40, 100], [0, 60, 110])
    assert longer.at(there)[0] == pytest.approx(width.at(at)[0])


def test_where_slopes_jump_the_side_is_picked():
    tip = Piecewise(np.array([[0, 10, 0, 0, 0, 0], [10, 20, 0, 0.5, 5, 0.5]], dtype=float))
    assert tip.at([10, 10], [5, 15])[1] == pytest.approx([0.0, 0.5])
