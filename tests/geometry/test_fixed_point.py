"""Numbers that a calculation gives back as they were put in."""

from __future__ import annotations

import math

import numpy as np
import pytest

from wedgework.geometry.fixed_point import FixedPoint


def rounds_of(calculation, start, within):
    search, here = FixedPoint(np.array(start)), np.array(start)
    for number in range(1, 100):
        here = search.after(calculation(here))
        if search.left <= within:
            return number, here
    raise AssertionError("no end")


def test_two_linear_errors_cancel_in_four_rounds():
    turned = np.array([[0.4, 0.3], [-0.3, 0.4]])
    number, here = rounds_of(lambda x: turned @ x + [1.0, 2.0], (0.0, 0.0), 1e-12)
    assert number <= 4
    assert here == pytest.approx(np.linalg.solve(np.eye(2) - turned, [1.0, 2.0]), abs=1e-12)


def test_a_bent_calculation_needs_fewer_rounds_than_putting_in_again():
    number, here = rounds_of(np.cos, (0.5,), 1e-12)
    assert number <= 9
    assert here[0] == pytest.approx(math.cos(here[0]), abs=1e-12)


def test_what_comes_out_as_it_was_put_in_ends_at_once():
    assert rounds_of(lambda x: x, (3.0, 4.0), 0.0)[0] == 1
