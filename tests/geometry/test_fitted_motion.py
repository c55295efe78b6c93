import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from wedgework.geometry.motion import fitted_motion, reflection, rotation, translation

POINTS = np.array([[0.0, 0.0], [40.0, 3.0], [70.0, -8.0], [90.0, 25.0]])


@given(
    turn_deg=small.degrees(),
    by=st.tuples(small.millimetres(), small.millimetres()),
    mirrored=st.booleans(),
)
def test_the_motion_that_was_made_is_found_again(turn_deg, by, mirrored):
    made = translation(by).after(rotation(math.radians(turn_deg), (12.0, 5.0)))
    made = made.after(reflection((0.0, 0.0), (3.0, 1.0))) if mirrored else made
    found = fitted_motion(POINTS, made.points(POINTS), mirrored=mirrored)
    assert found.points(POINTS) == pytest.approx(made.points(POINTS), abs=1e-9)
    assert found.determinant == pytest.approx(-1.0 if mirrored else 1.0)


@given(turn_deg=small.degrees(-20, 20), by=st.tuples(small.millimetres(-3, 3), small.millimetres()))
def test_no_other_motion_brings_points_nearer(turn_deg, by):
    onto = POINTS * [1.0, 1.2] + [[1, 2], [-2, 1], [0, 3], [2, -1]]
    best = fitted_motion(POINTS, onto)
    other = translation(by).after(rotation(math.radians(turn_deg))).after(best)
    missed = [float(((one.points(POINTS) - onto) ** 2).sum()) for one in (best, other)]
    assert missed[0] <= missed[1] + 1e-9
