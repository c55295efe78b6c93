"""Measures of many curves taken in one pass are those that each curve gives alone."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from tests.geometry import shapes
from wedgework.geometry.curve import IN_ONE_PASS, Curve, stacked
from wedgework.geometry.extent import bounds_mm, fill_bounds
from wedgework.geometry.length import fill_lengths, length_mm
from wedgework.geometry.memo import memoised
from wedgework.geometry.profile import fill_profiles, turning_profile
from wedgework.geometry.turning import (
    end_tangents,
    fill_turnings,
    joint_turnings_rad,
    turning_rad,
)

SAME = {"rtol": 1e-12, "atol": 1e-12}


def copies(curves):
    return [Curve(curve.segments) for curve in curves]


def many():
    return st.lists(shapes.curves(), min_size=2, max_size=9)


@given(many())
def test_lengths_taken_at_once_are_those_of_each_curve(curves):
    together = copies(curves)
    fill_lengths(together)
    alone = [length_mm(curve) for curve in curves]
    np.testing.assert_allclose([length_mm(curve) for curve in together], alone, **SAME)


@given(many())
def test_turnings_taken_at_once_are_those_of_each_curve(curves):
    together = copies(curves)
    fill_turnings(together)
    for one, other in zip(together, curves, strict=True):
        np.testing.assert_allclose(turning_rad(one), turning_rad(other), **SAME)
        np.testing.assert_allclose(end_tangents(one), end_tangents(other), **SAME)
        np.testing.assert_allclose(joint_turnings_rad(one), joint_turnings_rad(other), **SAME)


@given(many())
def test_profiles_taken_at_once_are_those_of_each_curve(curves):
    together = copies(curves)
    fill_profiles(together)
    for one, other in zip(together, curves, strict=True):
        np.testing.assert_allclose(turning_profile(one), turning_profile(other), **SAME)


@given(many())
def test_bounds_taken_at_once_are_those_of_each_curve(curves):
    together = copies(curves)
    fill_bounds(together)
    for one, other in zip(together, curves, strict=True):
        np.testing.assert_allclose(bounds_mm(one), bounds_mm(other), **SAME)


def test_a_measure_taken_in_bulk_is_not_taken_again():
    curves = [shapes.bent((0.0, 0.0), (100.0, number), 0.1) for number in range(5)]
    fill_lengths(curves)
    fill_profiles(curves)
    measures = (end_tangents, joint_turnings_rad, turning_profile)
    assert all(measure.knows(curve) for measure in measures for curve in curves)


def test_what_is_known_already_stays_as_it_is():
    curve = shapes.bent((0.0, 0.0), (100.0, 0.0), 0.1)
    before = turning_profile(curve)
    fill_profiles([curve, *copies([curve])])
    assert turning_profile(curve) is before


def test_a_measure_taken_in_bulk_cannot_be_written_to():
    curve = shapes.bent((0.0, 0.0), (100.0, 0.0), 0.1)
    fill_profiles([curve])
    measures = (turning_profile, end_tangents, joint_turnings_rad)
    assert not any(measure(curve).flags.writeable for measure in measures)


def test_a_value_that_is_kept_is_given_back_unmeasured():
    measured = []
    measure = memoised(lambda one, other: measured.append((one, other)))
    one, other = copies(2 * [shapes.bent((0.0, 0.0), (9.0, 0.0), 0.1)])
    measure.keep(42.0, one, other)
    assert measure.knows(one, other)
    assert not measure.knows(other, one)
    assert measure(one, other) == 42.0
    assert not measured


def test_curves_of_one_size_are_stacked_and_none_is_lost():
    curves = [shapes.bent((0.0, 0.0), (9.0, 0.0), 0.1) for _ in range(IN_ONE_PASS + 3)]
    curves += [Curve(np.concatenate([curve.segments for curve in _chain()])) for _ in range(2)]
    groups = list(stacked(curves))
    assert [segments.shape[:2] for _, segments in groups] == [(IN_ONE_PASS, 1), (3, 1), (2, 2)]
    assert [curve for some, _ in groups for curve in some] == curves


def _chain():
    middle = (9.0, 0.0)
    return shapes.bent((0.0, 0.0), middle, 0.1), shapes.bent(middle, (9.0, 9.0), 0.1)
