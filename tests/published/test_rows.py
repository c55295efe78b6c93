"""Rows of holes for snaps and lacing, worked by hand.

Plain arithmetic: as many as fit between the least ends, n = floor((length - 2 end) / pitch) + 1,
and the rest shared, end = (length - (n - 1) pitch) / 2. Along a line that turns by an angle, edges
that lie a width apart differ by width x angle (the length of an arc), so rows set out along each
edge would drift apart by that much; set out along the seam line they do not.
"""

from __future__ import annotations

import math

import pytest

from tests import small
from tests.edits.test_rows import circles
from tests.published.test_shaping import arc, lens
from wedgework.edits.rows import AddPunchRow
from wedgework.edits.seams import SetSeam
from wedgework.geometry.curve import reversed_curve
from wedgework.geometry.length import length_mm
from wedgework.geometry.offset import offset_curve
from wedgework.pattern.changes import new_project
from wedgework.pattern.rows import punch_row

LINE = arc(350.0 / math.radians(20), math.radians(20))
"""A seam line of 350 mm that turns by 20 degrees."""


def test_snaps_20_apart_along_350_are_17_with_ends_of_15():
    project = AddPunchRow(seam="s", pitch_mm=20.0, end_mm=10.0).apply(small.two_panels(350, 350))
    row = punch_row(project, "s.r1")
    assert (len(row.holes), row.first_mm, row.last_mm) == pytest.approx((17, 15.0, 15.0))


def test_edges_20_apart_on_a_line_that_turns_20_degrees_drift_by_7():
    assert length_mm(LINE) == pytest.approx(350.0, abs=1e-3)
    drift = length_mm(LINE) - length_mm(offset_curve(LINE, 20.0, 1e-4))
    assert drift == pytest.approx(20 * 0.349, abs=0.01)


def test_both_rows_of_a_lap_of_20_meet_on_a_line_that_turns_20_degrees():
    pieces = lens("a", LINE), lens("b", reversed_curve(LINE))
    project = new_project(*pieces, seams=[small.seam("s", "a.e1", "-b.e1")])
    project = SetSeam(seam="s", lap_mm=20.0).apply(project)
    found = circles(AddPunchRow(seam="s", pitch_mm=20.0).apply(project))
    assert len(found["a"]) == 17
    # Both pieces are drawn in place, so holes that meet lie in one place.
    for one, other in zip(found["a"], found["b"], strict=True):
        assert math.dist(one, other) < 1e-5
