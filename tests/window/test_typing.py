"""Numbers typed for a tool: one, or two for across and up."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from wedgework.bench import Typed
from wedgework.units import Unit
from wedgework.window.table.typing import TypedNumbers


def typed(text, types="mm", unit=Unit.MM):
    numbers = TypedNumbers()
    for letter in text:
        assert numbers.takes(letter, Qt.Key.Key_unknown)
    return numbers.gesture(types, unit)


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("12.5", (12.5,)),
        ("1.25 cm", (12.5,)),
        ("12 5", (12.0, 5.0)),
        ("12 -5", (12.0, -5.0)),
        ("-12 -5.5", (-12.0, -5.5)),
        ("12 - 5", (7.0,)),
        ("12-5", (7.0,)),
        ("12; -5", (12.0, -5.0)),
        ("1/2 in", (12.7,)),
        ("1 1/2 in", (38.1,)),
        ("1 cm 3 mm", (10.0, 3.0)),
        ("2*(3+1) -1", (8.0, -1.0)),
        ("1/2 in -1/4 in", (12.7, -6.35)),
    ],
)
def test_what_is_typed_is_read_as_one_number_or_as_a_pair(text, numbers):
    assert typed(text).numbers == pytest.approx(numbers)


def test_degrees_are_degrees_and_inches_are_inches():
    assert typed("12.5", types="deg").numbers == pytest.approx((12.5,))
    assert typed("1 2", unit=Unit.IN).numbers == pytest.approx((25.4, 50.8))


@pytest.mark.parametrize("text", ["1 2 3 4", "12 +", "-", "3 furlongs"])
def test_what_cannot_be_read_yet_moves_nothing(text):
    assert typed(text) is None


def test_backspace_takes_the_last_figure_back():
    numbers = TypedNumbers()
    for letter in "125":
        numbers.takes(letter, Qt.Key.Key_unknown)
    numbers.takes("", Qt.Key.Key_Backspace)
    assert numbers.gesture("mm", Unit.MM) == Typed((12.0,))
