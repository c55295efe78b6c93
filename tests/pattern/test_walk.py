"""A seam walked: where the rolling piece lies, and what one side gains on the other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.length import point_at
from wedgework.geometry.motion import moved
from wedgework.geometry.tolerances import SAME_POINT_MM
from wedgework.geometry.turning import tangents_at
from wedgework.pattern.changes import with_seams
from wedgework.pattern.document import Notch, Spot
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.table import Table
from wedgework.pattern.walk import gained_mm, passed, rolled

NEAR = 1e-6


def pose(run, station):
    """Point and walking direction of a station, as the table draws them."""
    stretch = run.stretch_at(station)
    along = station - stretch.from_mm
    curve = run.curve_of(stretch)
    return point_at(curve, along), tangents_at(curve, [along])[0]


def assert_touching(project, seam, station, rolling):
    row = project.seams[seam]
    measure = measure_seam(project, row)
    found = rolled(project, row, station, rolling)
    fixed, roller = (measure.b, measure.a) if rolling == "a" else (measure.a, measure.b)
    here, there = pose(fixed, station), pose(roller, station)
    linear = found.motion.linear
    assert np.abs(linear @ linear.T - np.eye(2)).max() < SAME_POINT_MM
    assert np.abs(found.motion.points(there[0]) - here[0]).max() < NEAR
    assert np.abs(linear @ there[1] - here[1]).max() < NEAR
    assert np.abs(found.touching - here[0]).max() < NEAR
    return found


@given(ratio=st.floats(0.02, 0.98), rolling=st.sampled_from("ab"))
def test_both_lines_touch_and_are_tangent_at_any_station(ratio, rolling):
    assert_touching(small.two_panels(100, 96, bulge=0.2), "s", 96 * ratio, rolling)


@pytest.mark.parametrize("station", [30.0, 99.0, 101.0, 170.0])
@pytest.mark.parametrize("rolling", ["a", "b"])
def test_a_run_over_two_pieces_rolls_that_which_touches(station, rolling):
    found = assert_touching(small.yoke_over_two(), "s", station, rolling)
    expected = "yoke" if rolling == "a" else ("left" if station < 100 else "right")
    assert found.piece.id == expected


def test_a_rolled_piece_lies_across_the_line_from_its_partner():
    project = small.two_panels()
    found = rolled(project, project.seams["s"], 50.0)
    middle = found.motion.points([250.0, 50.0])
    assert middle.tolist() == pytest.approx([150.0, 50.0])


def test_at_a_corner_the_lines_touch_bit_for_bit():
    project = small.yoke_over_two()
    row = project.seams["s"]
    assert rolled(project, row, 0.0).touching.tolist() == [0.0, 200.0]
    assert rolled(project, row, 100.0).touching.tolist() == pytest.approx([100.0, 200.0])
    assert rolled(project, row, 0.0, "a").touching.tolist() == [0.0, 100.0]


def test_a_dart_rolls_its_own_piece_about_its_legs():
    project = small.darted_front()
    assert_touching(project, "d1", 40.0, "b")
    found = rolled(project, project.seams["d1"], 0.0)
    apex = project.pieces["p"].edges[2].curve.start
    assert found.motion.points(apex).tolist() == pytest.approx(apex.tolist())


def test_a_piece_joined_to_its_mirror_image_is_turned_over():
    project = small.pair_and_fold()
    mirror = small.seam("m", "g.e2", "~g.e2")
    project = with_seams(project, mirror)
    found = assert_touching(project, "m", 60.0, "b")
    assert found.motion.determinant == pytest.approx(-1.0)
    outline = [moved(edge.curve, found.motion) for edge in found.piece.edges]
    assert ring_area_mm2(outline) < 0
    middle = found.motion.points([180.0, 100.0])
    assert middle.tolist() == pytest.approx([240.0, 100.0])


def test_beyond_the_shorter_side_the_piece_stays():
    project = small.two_panels(100, 96)
    row = project.seams["s"]
    at_end, beyond = (rolled(project, row, at).motion.shift.tolist() for at in (96.0, 100.0))
    assert at_end == beyond


def test_the_walk_tells_what_is_gained_at_each_matching_notch_and_at_the_end():
    project = small.two_panels(100, 96)
    notch = Notch(id="n", at=Spot("a.e2", 50.0), mate=Spot("b.e4", 96 - 47.0))
    measure = measure_seam(replace(project, notches=Table({"n": notch})), project.seams["s"])
    assert gained_mm(measure, 50.0) == pytest.approx(3.0)
    assert gained_mm(measure, 100.0) == pytest.approx(measure.difference_mm)
    assert [(one.at_mm, one.gained_mm) for one in passed(measure, 60.0)] == [
        (pytest.approx(50.0), pytest.approx(3.0))
    ]
    assert passed(measure, 49.0) == ()
