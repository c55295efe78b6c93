import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LinearRing, LineString

from tests.geometry import shapes
from wedgework.geometry.crossing import crosses_itself, crossings, self_crossings
from wedgework.geometry.curve import Curve, line, polyline, reversed_curve
from wedgework.geometry.flatten import flattened
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.split import split

BOWL = Curve([[[0, 0], [0, 100], [100, 100], [100, 0]]])
LOOP = Curve([[[0, 0], [200, 100], [-100, 100], [100, 0]]])


def test_two_straight_lines_cross_once():
    found = crossings(line((0, 0), (100, 0)), line((50, -30), (50, 50)))
    assert found == pytest.approx(np.array([[50, 30]]), abs=1e-9)


def test_parallel_lines_do_not_cross():
    assert crossings(line((0, 0), (100, 0)), line((0, 1e-6), (100, 1e-6))).shape == (0, 2)


def test_a_line_across_a_bend_crosses_it_twice():
    found = crossings(BOWL, line((-10, 40), (110, 40)))
    assert len(found) == 2
    assert found[:, 0].sum() == pytest.approx(length_mm(BOWL), abs=1e-7)


def test_a_tangent_touches_once():
    ((on_bowl, on_line),) = crossings(BOWL, line((-10, 75), (110, 75)))
    assert (on_bowl, on_line) == pytest.approx((100, 60), abs=1e-3)


def test_just_past_a_tangent_there_are_two_crossings_and_before_it_none():
    assert len(crossings(BOWL, line((-10, 75 - 1e-6), (110, 75 - 1e-6)))) == 2
    assert len(crossings(BOWL, line((-10, 75 + 1e-6), (110, 75 + 1e-6)))) == 0


def test_an_end_that_stops_on_a_curve_meets_it():
    found = crossings(line((0, 0), (100, 0)), line((30, 0), (30, 80)))
    assert found == pytest.approx(np.array([[30, 0]]), abs=1e-9)


def test_an_end_with_a_handle_of_no_length_is_met_too():
    stopped = Curve([[[30, 80], [30, 60], [30, 0], [30, 0]]])
    found = crossings(line((0, 0), (100, 0)), stopped)
    assert found == pytest.approx(np.array([[30, 80]]), abs=1e-7)


def test_a_stretch_in_common_is_told_by_its_two_ends():
    found = crossings(line((0, 0), (100, 0)), line((150, 0), (40, 0)))
    assert found == pytest.approx(np.array([[40, 110], [100, 50]]), abs=1e-7)


def test_a_bend_in_common_is_told_by_its_two_ends():
    found = crossings(BOWL, reversed_curve(split(BOWL, 30.0, 120.0)[1]))
    assert found == pytest.approx(np.array([[30, 90], [120, 0]]), abs=1e-6)


def test_a_crossing_at_a_joint_is_told_once():
    found = crossings(polyline([(0, 0), (50, 0), (100, 0)]), line((50, -50), (50, 50)))
    assert found == pytest.approx(np.array([[50, 50]]), abs=1e-9)


@settings(max_examples=60)
@given(a=shapes.curves(most=1), b=shapes.curves(most=1))
def test_both_stations_of_a_crossing_are_one_point(a, b):
    found = crossings(a, b)
    gaps = points_at(a, found[:, 0]) - points_at(b, found[:, 1])
    assert np.abs(gaps).max(initial=0.0) < 1e-7


def test_random_curves_cross_as_often_as_their_fine_chords():
    random = np.random.default_rng(7)
    for _ in range(60):
        a, b = (Curve(random.normal(size=(1, 4, 2)) * 100) for _ in range(2))
        common = LineString(flattened(a, 1e-5)).intersection(LineString(flattened(b, 1e-5)))
        wanted = 0 if common.is_empty else len(getattr(common, "geoms", [common]))
        assert len(crossings(a, b)) == wanted


def test_a_simple_outline_does_not_cross_itself():
    for ring in (shapes.square(), shapes.circle()):
        assert self_crossings(ring) == []
        assert not crosses_itself(ring)


def test_a_bow_tie_crosses_itself_in_the_middle():
    ring = shapes.polygon_ring([(0, 0), (100, 100), (100, 0), (0, 100)])
    (found,) = self_crossings(ring)
    assert (found.edge_a, found.edge_b) == (0, 2)
    assert found.point == pytest.approx([50, 50], abs=1e-9)
    assert found.station_a_mm == pytest.approx(np.sqrt(5000), abs=1e-9)
    assert crosses_itself(ring)


def test_a_loop_in_one_edge_crosses_that_edge_itself():
    ring = [LOOP, line((100, 0), (50, -80)), line((50, -80), (0, 0))]
    (found,) = self_crossings(ring)
    assert (found.edge_a, found.edge_b) == (0, 0)
    assert found.point[0] == pytest.approx(50, abs=1e-7)


def test_neighbours_may_cross_away_from_their_corner():
    bent = Curve([[[100, 0], [80, -80], [40, -80], [30, 40]]])
    (found,) = self_crossings([line((0, 0), (100, 0)), bent, line((30, 40), (0, 0))])
    assert (found.edge_a, found.edge_b) == (0, 1)


def test_darts_that_share_an_apex_touch_and_do_not_cross():
    apex = (50, 60)
    corners = [(0, 0), (20, 0), apex, (30, 0), (60, 0), apex, (70, 0), (100, 0), (100, 100)]
    ring = shapes.polygon_ring([*corners, (0, 100)])
    assert self_crossings(ring) == []
    assert not crosses_itself(ring)


def test_an_outline_that_passes_through_its_own_corner_crosses_there():
    middle = (50, 50)
    ring = shapes.polygon_ring([(0, 0), middle, (100, 100), (100, 0), middle, (0, 100)])
    (found,) = self_crossings(ring)
    assert found.point == pytest.approx(middle, abs=1e-9)


def test_a_slit_of_no_width_lies_on_itself_and_does_not_cross():
    ring = shapes.polygon_ring([(0, 0), (50, 0), (50, 60), (50, 0), (100, 0), (100, 100), (0, 100)])
    assert self_crossings(ring) == []


def test_a_bent_slit_of_no_width_does_not_cross():
    leg = Curve([[[50, 0], [55, 20], [45, 40], [50, 60]]])
    rest = [((50, 0), (100, 0)), ((100, 0), (100, 100)), ((100, 100), (0, 100)), ((0, 100), (0, 0))]
    ring = [line((0, 0), (50, 0)), leg, reversed_curve(leg), *(line(a, b) for a, b in rest)]
    assert self_crossings(ring) == []
    assert not crosses_itself(ring)


def test_a_corner_that_touches_another_edge_from_inside_does_not_cross():
    ring = shapes.polygon_ring([(0, 0), (100, 0), (100, 100), (50, 0), (0, 100)])
    assert self_crossings(ring) == []


def test_a_corner_that_pokes_through_another_edge_crosses_twice():
    ring = shapes.polygon_ring([(0, 0), (100, 0), (100, 100), (50, -1), (0, 100)])
    assert len(self_crossings(ring)) == 2


def test_an_outline_that_runs_along_itself_and_changes_sides_crosses():
    # Along the bottom from right to left and then through it: the sheet lies on both sides.
    corners = [(0, 0), (100, 0), (100, 50), (80, 0), (20, 0), (20, -50), (10, -50), (10, 50)]
    found = self_crossings(shapes.polygon_ring(corners))
    assert sorted((one.edge_a, one.edge_b) for one in found) == [(0, 3), (0, 6)]


def test_an_outline_that_runs_along_itself_and_stays_on_its_side_only_touches():
    corners = [(0, 0), (100, 0), (100, 50), (80, 0), (20, 0), (20, 50)]
    assert self_crossings(shapes.polygon_ring(corners)) == []


@settings(max_examples=60)
@given(ring=shapes.simple_rings())
def test_gently_bent_stars_cross_only_where_their_chords_do(ring):
    chords = LinearRing(np.concatenate([flattened(curve, 1e-3)[:-1] for curve in ring]))
    if not self_crossings(ring):
        assert chords.is_simple
    elif chords.is_simple:
        assert not crosses_itself(ring)


@settings(max_examples=100)
@given(corners=st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), min_size=3, max_size=7))
def test_a_polygon_that_shapely_calls_simple_does_not_cross(corners):
    distinct = [a for a, b in zip(corners, corners[1:] + corners[:1], strict=True) if a != b]
    if len(distinct) < 3:
        return
    ring = shapes.polygon_ring(distinct)
    if LinearRing(distinct).is_simple:
        assert self_crossings(ring) == []
