import math

import numpy as np
import pytest
import shapely
from shapely import Polygon

from tests.geometry import shapes
from tests.geometry.pieces import random_piece
from wedgework.geometry.curve import Curve, joined, line, polyline
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.flatten import flattened_ring
from wedgework.geometry.length import length_mm, points_at_parameters
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.offset import offset_curve, offset_ring
from wedgework.geometry.turning import end_tangent, start_tangent

ARCH = Curve([[[0, 0], [0, 100], [100, 100], [100, 0]]])


def curves_of(ring):
    return [stretch.curve for stretch in ring]


def area_mm2(rings):
    return sum(ring_area_mm2(curves_of(ring)) for ring in rings)


def outline(rings):
    return shapely.multilinestrings(
        [shapely.linearrings(flattened_ring(curves_of(ring), 1e-3)) for ring in rings]
    )


def far_apart_mm(rings, wanted):
    """Greatest distance of a point of either outline from the other."""
    own, other = outline(rings), wanted.boundary
    there = shapely.distance(other, shapely.points(shapely.get_coordinates(own))).max()
    back = shapely.distance(own, shapely.points(shapely.get_coordinates(other))).max()
    return max(there, back)


def buffered(ring, by_mm, chord_mm):
    return Polygon(flattened_ring(ring, chord_mm)).buffer(by_mm, quad_segs=200)


def check_like_buffer(ring, by_mm):
    wanted = buffered(ring, by_mm, 5e-4)
    rings = offset_ring(ring, [by_mm] * len(ring), 0.01, "round")
    assert area_mm2(rings) == pytest.approx(wanted.area, rel=1e-3)
    assert bool(rings) != wanted.is_empty
    if rings and far_apart_mm(rings, wanted) > 0.02:
        # Where moved edges graze, the reference's own chords put its cusp off by their error over
        # the angle between the edges (0.07 mm on one piece of the thousand): finer ones decide.
        assert far_apart_mm(rings, buffered(ring, by_mm, 5e-5)) <= 0.02
    for found in rings:
        for before, after in zip(found, [*found[1:], *found[:1]], strict=True):
            assert (before.curve.end == after.curve.start).all()


@pytest.mark.parametrize("seed", range(40))
def test_random_pieces_agree_with_a_buffer_of_fine_chords(seed):
    random = np.random.default_rng(seed)
    check_like_buffer(random_piece(random), random.uniform(3, 15) * random.choice([-1, 1]))


@pytest.mark.slow
def test_a_thousand_random_pieces_agree_with_a_buffer_of_fine_chords():
    random = np.random.default_rng(1000)
    for _ in range(1000):
        check_like_buffer(random_piece(random), random.uniform(3, 15) * random.choice([-1, 1]))


@pytest.mark.parametrize("by_mm", [-12.0, 3.0, 12.0])
def test_each_point_of_a_moved_curve_is_the_distance_away(by_mm):
    moved = offset_curve(ARCH, by_mm, 0.001)
    for point in points_at_parameters(moved, np.linspace(0, len(moved), 200)):
        assert nearest_foot(ARCH, point).distance_mm == pytest.approx(abs(by_mm), abs=1e-3)


def test_a_moved_curve_keeps_its_end_tangents():
    moved = offset_curve(ARCH, 12, 0.01)
    assert start_tangent(moved) == pytest.approx(start_tangent(ARCH), abs=1e-12)
    assert end_tangent(moved) == pytest.approx(end_tangent(ARCH), abs=1e-12)


def test_left_is_where_a_curve_moves_to():
    assert offset_curve(line((0, 0), (10, 0)), 3, 0.01).start.tolist() == [0, 3]


def test_a_moved_curve_goes_round_the_outside_of_a_kink():
    moved = offset_curve(polyline([(0, 0), (100, 0), (100, 100)]), -10, 0.01)
    assert length_mm(moved) == pytest.approx(200 + 5 * math.pi, abs=1e-4)


@pytest.mark.parametrize("joint", ["round", "mitre", "cut"])
def test_inwards_a_square_keeps_its_corners_with_every_joint(joint):
    (ring,) = offset_ring(shapes.square(), [-10] * 4, 0.01, joint)
    assert [stretch.joint for stretch in ring] == [False] * 4
    assert area_mm2([ring]) == pytest.approx(6400, abs=1e-6)


@pytest.mark.parametrize(("joint", "area"), [("mitre", 14400), ("cut", 14200)])
def test_outwards_a_squares_corners_are_drawn_out_or_cut_off(joint, area):
    assert area_mm2(offset_ring(shapes.square(), [10] * 4, 0.01, joint)) == pytest.approx(area)


def test_a_mitre_beyond_its_limit_is_cut_off():
    sharp = shapes.polygon_ring([(0, 0), (200, 0), (0, 30)])
    (ring,) = offset_ring(sharp, [10] * 3, 0.01, "mitre", 2.0)
    corners = np.array([stretch.curve.start for stretch in ring])
    assert np.hypot(*(corners - [200, 0]).T).min() == pytest.approx(10, abs=1e-6)
    assert corners[:, 0].max() < 220


def test_each_stretch_says_which_edge_it_came_from():
    (ring,) = offset_ring(shapes.square(), [10, 20, 30, 40], 0.01)
    edges = {stretch.edge: stretch.curve for stretch in ring if not stretch.joint}
    assert sorted(edges) == [0, 1, 2, 3]
    assert edges[0].start.tolist() == [0, -10]
    assert edges[1].start.tolist() == [120, 0]
    assert edges[2].start.tolist() == [100, 130]


def test_edges_with_distances_of_their_own_meet_where_they_are_drawn_out():
    rings = offset_ring(shapes.square(), [10, 20, 30, 40], 0.01)
    assert area_mm2(rings) == pytest.approx((100 + 20 + 40) * (100 + 10 + 30))


def test_one_edge_alone_moves_out_square_to_its_neighbours_or_in_along_them():
    out = offset_ring(shapes.square(), [8, 0, 0, 0], 0.01)
    assert area_mm2(out) == pytest.approx(100 * 108)
    inwards = offset_ring(shapes.square(), [-8, 0, 0, 0], 0.01)
    assert area_mm2(inwards) == pytest.approx(100 * 92)


def test_edges_may_move_out_and_in_on_one_ring():
    rings = offset_ring(shapes.square(), [10, 0, -10, 0], 0.01)
    assert area_mm2(rings) == pytest.approx(100 * 100)


def test_an_edge_that_does_not_move_keeps_its_curve():
    ring = [ARCH, line((100, 0), (0, 0))]
    ring = [Curve(curve.segments[::-1, ::-1]) for curve in reversed(ring)]
    (moved,) = offset_ring(ring, [9, 0], 0.01)
    kept = [stretch.curve for stretch in moved if stretch.edge == 1 and not stretch.joint]
    assert np.array_equal(joined(*kept).segments, ring[1].segments)


def test_a_slit_narrower_than_the_distance_closes():
    slit = shapes.polygon_ring(
        [(0, 0), (48, 0), (48, 60), (52, 60), (52, 0), (100, 0), (100, 100), (0, 100)]
    )
    (ring,) = offset_ring(slit, [10] * 8, 0.01, "mitre")
    assert {stretch.edge for stretch in ring}.isdisjoint({1, 2, 3})
    assert area_mm2([ring]) == pytest.approx(14400)


def test_a_waist_thinner_than_the_distance_parts_the_ring_in_two():
    bone = [
        (0, 0),
        (60, 0),
        (60, 20),
        (80, 20),
        (80, 0),
        (140, 0),
        (140, 50),
        (80, 50),
        (80, 30),
        (60, 30),
        (60, 50),
        (0, 50),
    ]
    assert len(offset_ring(shapes.polygon_ring(bone), [-8] * 12, 0.01)) == 2


def test_nothing_is_left_of_a_ring_thinner_than_the_distance():
    assert offset_ring(shapes.square(20), [-10.5] * 4, 0.01) == []
    assert offset_ring(shapes.circle(30), [-31] * 4, 0.01) == []


def test_a_gap_that_closes_at_its_mouth_leaves_a_clockwise_ring_round_the_hole():
    cup = [
        (0, 0),
        (100, 0),
        (100, 100),
        (55, 100),
        (55, 90),
        (90, 90),
        (90, 10),
        (10, 10),
        (10, 90),
        (45, 90),
        (45, 100),
        (0, 100),
    ]
    rings = offset_ring(shapes.polygon_ring(cup), [6] * 12, 0.01)
    assert sorted(ring_area_mm2(curves_of(ring)) > 0 for ring in rings) == [False, True]


def test_past_the_centre_of_a_bend_the_loop_is_removed():
    rounded = [
        line((0, 0), (100, 0)),
        Curve([[[100, 0], [113, 0], [113, 20], [100, 20]]]),
        line((100, 20), (0, 20)),
        line((0, 20), (0, 0)),
    ]
    check_like_buffer(rounded, -9.0)


def test_a_ring_needs_a_distance_for_each_edge():
    with pytest.raises(ValueError, match="one distance, and joint, for each"):
        offset_ring(shapes.square(), [1, 2, 3], 0.01)


def test_a_sliver_narrower_than_a_chord_is_moved_out_all_the_same():
    bow = Curve(np.array([[[0, 0], [10, -1e-4], [20, -1e-4], [30, 0]]]))
    rings = offset_ring([bow, line((30, 0), (0, 0))], [5.0, 5.0], 0.01)
    assert sum(ring_area_mm2([one.curve for one in ring]) for ring in rings) > 300 - 1
