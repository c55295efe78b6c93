"""How numbers are shown."""

from __future__ import annotations

import math

import pytest

from wedgework.units import (
    Unit,
    format_angle,
    format_inch_fraction,
    format_length,
    format_number,
    with_unit,
)


@pytest.mark.parametrize(
    ("value", "shown"), [(12.34, "12.3"), (-12.34, "−12.3"), (0.0, "0.0"), (-0.04, "0.0")]
)
def test_a_number_has_fixed_decimals_and_a_real_minus_sign(value, shown):
    assert format_number(value) == shown


@pytest.mark.parametrize(
    ("value", "shown"), [(12.34, "+12.3"), (-12.34, "−12.3"), (0.0, "±0.0"), (-0.04, "±0.0")]
)
def test_a_difference_always_has_a_sign(value, shown):
    assert format_number(value, signed=True) == shown


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_none_is_shown_as_a_dash(value):
    assert format_number(value) == "–"


@pytest.mark.parametrize(
    ("unit", "shown"),
    [(Unit.MM, "127.0"), (Unit.CM, "12.70"), (Unit.IN, "5.00"), (Unit.M, "0.1270")],
)
def test_a_larger_unit_shows_more_decimals(unit, shown):
    assert format_length(127.0, unit) == shown


def test_a_length_and_its_unit_stay_on_one_line():
    assert with_unit(12.5) == "12.5\N{NO-BREAK SPACE}mm"


def test_an_angle_is_shown_in_degrees():
    assert format_angle(-math.pi / 4) == "−45.0"


@pytest.mark.parametrize(
    ("length_mm", "shown"),
    [(866.775, "34 1/8"), (12.7, "1/2"), (25.4, "1"), (0.0, "0"), (-38.1, "−1 1/2"), (25.3, "1")],
)
def test_inches_are_shown_as_wholes_and_a_fraction(length_mm, shown):
    assert format_inch_fraction(length_mm) == shown


def test_a_difference_in_inch_fractions_has_a_sign():
    assert [format_inch_fraction(mm, signed=True) for mm in (12.7, 0.0)] == ["+1/2", "±0"]
