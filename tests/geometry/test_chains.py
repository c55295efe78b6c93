"""Many curves to points and back."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.small import curves
from wedgework.geometry.chains import chain_points, chains_of_points


@given(st.lists(st.integers(1, 3).flatmap(lambda n: curves(segments=n)), max_size=4))
def test_curves_come_back_bit_for_bit(some):
    points, counts = chain_points(some)
    back = chains_of_points(points, counts)
    assert [curve.segments.tolist() for curve in back] == [c.segments.tolist() for c in some]


@pytest.mark.parametrize("counts", [[3], [1], [5], [4, 4]])
def test_points_that_are_no_chain_of_cubics_are_refused(counts):
    with pytest.raises(ValueError, match="3 n"):
        chains_of_points(np.zeros((4, 2)), counts)


def test_numbers_that_are_not_finite_are_refused():
    with pytest.raises(ValueError, match="finite"):
        chains_of_points(np.full((4, 2), np.nan), [4])
