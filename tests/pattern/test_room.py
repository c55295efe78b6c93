"""Room over a dome, against the closed forms."""

from __future__ import annotations

import math

import pytest

from wedgework.pattern.room import cap_height_mm, cone_height_mm

# Heights over a = 100 mm, worked from h = a sqrt(1 - (1 - theta/2pi)^2) and the cap's
# h = a (1 - cos A)/A with cos A = 1 - theta/2pi.
WORKED = [(5, 16.6, 8.3), (10, 23.4, 11.8), (20, 32.9, 16.6), (40, 45.8, 23.3), (60, 55.3, 28.5)]


@pytest.mark.parametrize(("degrees", "cone_mm", "cap_mm"), WORKED)
def test_room_is_that_of_the_closed_forms(degrees, cone_mm, cap_mm):
    shaping_rad = math.radians(degrees)
    assert cone_height_mm(shaping_rad, 100.0) == pytest.approx(cone_mm, abs=0.05)
    assert cap_height_mm(shaping_rad, 100.0) == pytest.approx(cap_mm, abs=0.05)


def test_no_shaping_makes_no_room():
    assert cone_height_mm(0.0, 100.0) == cap_height_mm(0.0, 100.0) == 0.0


def test_more_shaping_than_there_can_be_is_as_much_as_there_can_be():
    assert cone_height_mm(30.0, 100.0) == 100.0
    assert cap_height_mm(30.0, 100.0) == cap_height_mm(4 * math.pi, 100.0)
