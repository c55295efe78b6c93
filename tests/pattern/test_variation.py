"""Dome and hollow read through noise."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wedgework.pattern.variation import dome_and_hollow


def degrees(walk_mm, turned_deg):
    found = dome_and_hollow(np.array(walk_mm, float), np.radians(turned_deg))
    return tuple(np.degrees(found))


def test_a_rise_and_a_fall_are_both_counted():
    assert degrees([0, 50, 100], [0, 30, 10]) == pytest.approx((30, 20))


def test_swings_under_half_a_degree_are_no_shape():
    assert degrees([0, 50, 100, 150, 200], [0, 30, 29.6, 40, 40]) == pytest.approx((40, 0))


def test_a_swing_that_returns_within_five_millimetres_is_no_shape():
    assert degrees([0, 50, 52, 54, 100], [0, 10, 35, 10, 20]) == pytest.approx((20, 0), abs=1e-9)


def test_a_swing_that_takes_longer_to_return_counts():
    assert degrees([0, 50, 60, 70, 100], [0, 10, 35, 10, 20]) == pytest.approx((45, 25))


def test_the_zigzag_of_two_coarse_prints_leaves_the_dome_that_is_there():
    """Chords of 2 mm between points off by 0.05 mm turn by some 1.4 degrees and back."""
    walk = np.arange(0, 400, 2.0)
    zigzag = np.where(np.arange(len(walk)) % 2, 1.4, -1.4)
    zigzag[[0, -1]] = 0.0
    dome, hollow = degrees(walk, np.interp(walk, [0, 150, 250, 400], [0, 0, 30, 30]) + zigzag)
    assert dome == pytest.approx(30, abs=1.5)
    assert hollow < 1.5


@given(st.lists(st.floats(-3, 3), min_size=2, max_size=60))
def test_what_rises_less_what_falls_is_the_net_shaping(turned):
    walk = np.arange(len(turned), dtype=float) * 3
    dome, hollow = dome_and_hollow(walk, np.array(turned))
    assert dome - hollow == pytest.approx(turned[-1] - turned[0], abs=1e-9)
    assert min(dome, hollow) >= 0
