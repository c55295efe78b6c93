"""Curves made longer or shorter along themselves."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from wedgework.geometry.curve import is_straight, line
from wedgework.geometry.extend import with_end_moved_along, with_start_moved_along
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.turning import end_tangent, joint_turnings_rad


@given(curve=small.garment_curves(), share=st.floats(-0.6, 0.9))
def test_the_length_changes_by_what_was_asked_and_the_rest_stays(curve, share):
    whole = length_mm(curve)
    by_mm = share * whole
    changed = with_end_moved_along(curve, by_mm)
    assert length_mm(changed) == pytest.approx(whole + by_mm, abs=1e-8)
    stations = np.linspace(0.0, min(whole, whole + by_mm), 9)
    assert points_at(changed, stations) == pytest.approx(points_at(curve, stations), abs=1e-6)
    assert changed.start.tolist() == curve.start.tolist()


@given(curve=small.garment_curves(), share=st.floats(-0.6, 0.9))
def test_the_start_moves_as_the_end_does(curve, share):
    whole = length_mm(curve)
    changed = with_start_moved_along(curve, share * whole)
    assert length_mm(changed) == pytest.approx((1 + share) * whole, abs=1e-8)
    assert changed.end.tolist() == curve.end.tolist()


def test_a_straight_curve_stays_straight():
    for by_mm in (-30.0, 40.0, 500.0):
        changed = with_end_moved_along(line((0, 0), (100, 0)), by_mm)
        assert is_straight(changed, 1e-9)
        assert changed.end == pytest.approx([100 + by_mm, 0])


def test_a_short_way_on_follows_the_bend_and_a_long_way_goes_straight_on():
    curve = small.bulging(np.zeros(2), np.array([100.0, 0.0]), 0.2)
    near, far = with_end_moved_along(curve, 4.0), with_end_moved_along(curve, 90.0)
    assert (len(near), len(far)) == (1, 2)
    assert joint_turnings_rad(far) == pytest.approx([0.0], abs=1e-9)
    assert end_tangent(far) == pytest.approx(end_tangent(curve))


def test_a_curve_is_not_cut_off_whole():
    with pytest.raises(ValueError, match="nothing"):
        with_end_moved_along(line((0, 0), (100, 0)), -100.0)
