import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point

from tests.geometry import shapes
from wedgework.geometry.curve import Curve, line, reversed_curve
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.regions import (
    contains_point,
    inside_spans,
    region,
    regions,
    representative_point,
)

ERROR_MM = 0.01
WINDOW = shapes.polygon_ring([(40, 40), (40, 60), (60, 60), (60, 40)])


def test_the_area_of_a_region_agrees_with_the_rings_own():
    ring = shapes.circle(100)
    assert region(ring, 0.001).area == pytest.approx(ring_area_mm2(ring), rel=2e-5)


def test_a_hole_is_taken_out_of_the_region():
    assert region(shapes.square(), ERROR_MM, [WINDOW]).area == pytest.approx(9600)


def test_many_regions_are_what_each_is_alone():
    rings = [shapes.square(50), shapes.circle(20)]
    for one, ring in zip(regions(rings, ERROR_MM), rings, strict=True):
        assert one.equals(region(ring, ERROR_MM))


@given(ring=shapes.simple_rings(), point=shapes.points())
def test_a_point_is_inside_as_shapely_says_away_from_the_outline(ring, point):
    polygon = region(ring, 0.001)
    if polygon.is_valid and polygon.exterior.distance(Point(point)) > ERROR_MM:
        assert contains_point(ring, point) == polygon.contains(Point(point))


def test_a_point_between_chord_and_curve_is_judged_by_the_curve():
    ring = shapes.circle(100)
    just = 100 / math.sqrt(2)
    assert contains_point(ring, (just - 1e-6, just - 1e-6))
    assert not contains_point(ring, (just + 1e-6, just + 1e-6))


@pytest.mark.parametrize("spot", [(0, 0), (50, 0), (100, 100), (40, 50)])
def test_points_on_the_outline_and_on_a_hole_are_inside(spot):
    assert contains_point(shapes.square(), spot, [WINDOW])


def test_a_point_in_a_hole_is_outside():
    assert not contains_point(shapes.square(), (50, 50), [WINDOW])


def test_a_clockwise_ring_contains_what_its_reverse_contains():
    ring = [reversed_curve(curve) for curve in reversed(shapes.square())]
    assert contains_point(ring, (50, 50))
    assert not contains_point(ring, (150, 50))


def test_a_representative_point_is_inside_and_in_no_hole():
    at = representative_point(shapes.square(), ERROR_MM, [WINDOW])
    assert contains_point(shapes.square(), at, [WINDOW])


def test_even_an_outline_that_crosses_itself_has_a_representative_point():
    bow_tie = shapes.polygon_ring([(0, 0), (100, 100), (100, 0), (0, 100)])
    assert np.isfinite(representative_point(bow_tie, ERROR_MM)).all()


def test_the_width_of_a_square_is_its_side():
    spans = inside_spans((-10, 30), (200, 30), shapes.square())
    assert spans == pytest.approx(np.array([[10, 110]]), abs=1e-9)


def test_a_line_through_a_hole_gives_two_spans():
    spans = inside_spans((0, 50), (1, 50), shapes.square(), [WINDOW], endless=True)
    assert spans == pytest.approx(np.array([[0, 40], [60, 100]]), abs=1e-9)


def test_a_line_that_ends_inside_is_cut_off_there():
    spans = inside_spans((20, 20), (70, 20), shapes.square())
    assert spans == pytest.approx(np.array([[0, 50]]), abs=1e-9)


@pytest.mark.parametrize("y", [0.0, 100.0])
def test_a_line_along_an_edge_is_inside_all_along_it(y):
    spans = inside_spans((-50, y), (150, y), shapes.square())
    assert spans == pytest.approx(np.array([[50, 150]]), abs=1e-9)


def test_a_line_that_only_touches_has_no_span():
    assert inside_spans((0, 100), (1, 100), shapes.circle(100), endless=True).shape == (0, 2)


@pytest.mark.parametrize("y", [0.0, 10.0, -63.0, 99.0])
def test_the_width_of_a_circle_of_cubics_lies_on_the_cubics(y):
    ((low, high),) = inside_spans((0, y), (1, y), shapes.circle(100), endless=True)
    for x in (low, high):
        assert contains_point(shapes.circle(100), (x, y))
        assert not contains_point(shapes.circle(100), (x + math.copysign(1e-6, x), y))


@settings(max_examples=60)
@given(ring=shapes.simple_rings(), angle=st.floats(0, 2 * math.pi), aside=st.floats(-50, 50))
def test_spans_add_up_to_shapelys_width(ring, angle, aside):
    along = np.array([math.cos(angle), math.sin(angle)])
    start = aside * np.array([-along[1], along[0]]) - 500 * along
    polygon = region(ring, 1e-4)
    if not polygon.is_valid:
        return
    spans = inside_spans(start, start + 1000 * along, ring)
    wanted = polygon.intersection(LineString([start, start + 1000 * along])).length
    assert np.diff(spans, axis=1).sum() == pytest.approx(wanted, abs=0.3)


def test_a_line_of_one_point_is_refused():
    with pytest.raises(ValueError, match="two different points"):
        inside_spans((1, 1), (1, 1), [line((0, 0), (1, 1))])


def test_a_sliver_narrower_than_the_error_is_a_region_all_the_same():
    bow = Curve(np.array([[[0, 0], [10, -0.01], [20, -0.01], [30, 0]]]))
    sliver = [bow, line((30, 0), (0, 0))]
    assert region(sliver, 0.05).area == 0.0
    assert [one.area for one in regions([sliver], 0.05)] == [0.0]
