"""What a maker can type for a length, an angle, a number."""

from __future__ import annotations

import math
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wedgework.units import (
    NotUnderstood,
    Unit,
    format_inch_fraction,
    format_length,
    parse_angle_rad,
    parse_length_mm,
    parse_number,
)

TYPED_MM = {
    "12.5": 12.5,
    " 12.5 mm ": 12.5,
    "12,5": 12.5,
    "0,125": 0.125,
    ".5": 0.5,
    "1.25 cm": 12.5,
    "0.3 m": 300.0,
    "1/2 in": 12.7,
    "1 1/2 in": 38.1,
    '34 1/8"': 866.775,
    "34 1/8″": 866.775,
    "1½ in": 38.1,
    "1⁄2 inch": 12.7,
    "3 INCHES": 76.2,
    "12.5/2": 6.25,
    "100/2/5": 10.0,
    "3*(4+2)": 18.0,
    "3×4": 12.0,
    "2*1.5 cm": 30.0,
    "3 cm/2": 15.0,
    "(1+2) in": 76.2,
    "1 in + 5": 30.4,
    "1 1/2 - 1/4 in": -4.85,
    "-3": -3.0,
    "\N{MINUS SIGN}3": -3.0,
    "--3": 3.0,
    "10 -3": 7.0,
    "96 px": 25.4,
    "72pt": 25.4,
    "6 pc": 25.4,
    "4 Q": 1.0,
}

REFUSED = {
    "": "no number here",
    "  ": "no number here",
    "wide": "missing before “wide”",
    "5 +": "missing at the end",
    "1//2": "missing before “/”",
    "(3": "never closed",
    "3)": "“\\)” is not understood",
    "3 cm 5": "“5” is not understood",
    "1 1": "“1” is not understood",
    "1.2.3": "“.3” is not understood",
    "1_000": "“_000” is not understood",
    "1,250": "two ways: write 1250 or 1.250",
    "12 kg": "unit “kg” is not known here; these are: mm, cm",
    "1e5": "unit “e” is not known",
    "(1 in) cm": "“cm” is one unit too many",
    "2 in * 3 in": "cannot be multiplied",
    "1/(2 in)": "below a division sign",
    "4/0": "divided by 0",
    "9" * 50: "too large a number",
    "(" * 121: "at most 120",
    "__import__('os')": "is not understood",
    "5; 6": "“; 6” is not understood",
}


@pytest.mark.parametrize(("text", "wanted_mm"), TYPED_MM.items())
def test_a_typed_length_is_read_to_the_last_bit(text, wanted_mm):
    assert parse_length_mm(text) == wanted_mm


@pytest.mark.parametrize(("text", "sentence"), REFUSED.items())
def test_what_is_no_length_is_refused_with_a_sentence(text, sentence):
    with pytest.raises(NotUnderstood, match=sentence):
        parse_length_mm(text)


def test_a_number_without_a_unit_is_in_the_unit_of_its_field():
    assert parse_length_mm("2 1/2", Unit.IN) == 63.5


def test_a_unit_that_is_said_counts_whatever_the_field_is_in():
    assert parse_length_mm("2 1/2 cm", Unit.IN) == 25.0


@pytest.mark.parametrize("text", ["180", "180°", "90 deg * 2", f"{math.pi!r} rad"])
def test_a_typed_angle_is_in_degrees_unless_it_says_otherwise(text):
    assert parse_angle_rad(text) == pytest.approx(math.pi, rel=1e-15)


def test_a_length_is_no_angle():
    with pytest.raises(NotUnderstood, match="unit “mm” is not known here"):
        parse_angle_rad("3 mm")


@pytest.mark.parametrize(("text", "wanted"), [("4 %", 0.04), ("1/8", 0.125), ("3", 3.0)])
def test_a_plain_number_may_be_a_share(text, wanted):
    assert parse_number(text) == wanted


def finite_or_refused(text):
    with suppress(NotUnderstood):
        return math.isfinite(parse_length_mm(text))
    return True


@given(text=st.text(max_size=150))
def test_any_text_is_a_finite_number_or_refused(text):
    assert finite_or_refused(text)


@given(text=st.text(alphabet='0123456789.,+-*/() inc"½', max_size=60))
def test_any_sum_is_a_finite_number_or_refused(text):
    assert finite_or_refused(text)


@given(length_mm=st.floats(-1e6, 1e6), unit=st.sampled_from(Unit))
def test_what_is_shown_can_be_typed_again(length_mm, unit):
    shown = format_length(length_mm, unit, decimals=2)
    assert parse_length_mm(shown, unit) == pytest.approx(length_mm, abs=0.0051 * unit.mm)


@given(count=st.integers(-5000, 5000), parts=st.sampled_from([2, 4, 8, 16, 32]))
def test_an_inch_fraction_that_is_shown_can_be_typed_again(count, parts):
    length_mm = count * 25.4 / parts
    shown = format_inch_fraction(length_mm, parts)
    sign = -1 if shown.startswith("\N{MINUS SIGN}") else 1
    again_mm = sign * parse_length_mm(shown.lstrip("\N{MINUS SIGN}"), Unit.IN)
    assert again_mm == pytest.approx(length_mm, abs=1e-9)
