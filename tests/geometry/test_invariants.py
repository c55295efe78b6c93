"""What holds for every curve: cuts, reversal, motion, turning round a ring, lengths, stations."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from tests import small
from tests.geometry import shapes
from wedgework.geometry.crossing import self_crossings
from wedgework.geometry.curve import Curve, joined, reversed_curve
from wedgework.geometry.extent import bounds_mm, ring_area_mm2
from wedgework.geometry.length import (
    length_mm,
    measure_all,
    parameters_about,
    parameters_at,
    points_at,
    points_at_parameters,
    station_of,
)
from wedgework.geometry.motion import mirrored_walk, moved, reflection, rotation, translation
from wedgework.geometry.split import part, split, split_at_parameters
from wedgework.geometry.tolerances import SAME_POINT_MM
from wedgework.geometry.turning import (
    angle_between,
    curvatures_at,
    end_tangent,
    segment_curvatures,
    segment_turnings_rad,
    start_tangent,
    turning_rad,
)

CUSP = Curve([[[0, 0], [100, 100], [0, 100], [100, 0]]])
OVERSHOOTING = Curve([[[0, 0], [150, 0], [-50, 0], [100, 0]]])
STRONG = Curve([[[0, 0], [120, 10], [-20, 10], [100, 0]]])
ARCH = Curve([[[0, 0], [0, 100], [100, 100], [100, 0]]])
HANDLES_OF_NO_LENGTH = {
    "first": Curve([[[0, 0], [0, 0], [60, 40], [100, 0]]]),
    "last": Curve([[[0, 0], [40, 40], [100, 0], [100, 0]]]),
    "both": Curve([[[0, 0], [0, 0], [100, 50], [100, 50]]]),
    "two at the start": Curve([[[0, 0], [0, 0], [0, 0], [100, 50]]]),
}
HARD = [CUSP, OVERSHOOTING, STRONG, *HANDLES_OF_NO_LENGTH.values()]


def speed_integral_mm(curve):
    """Length by scipy's adaptive quadrature, cut wherever the speed has a minimum or a zero."""
    total = 0.0
    for cubic in curve.segments:
        power = np.array([[-1, 3, -3, 1], [3, -6, 3, 0], [-3, 3, 0, 0], [1, 0, 0, 0]]) @ cubic
        x, y = np.polyder(power[:, 0]), np.polyder(power[:, 1])
        squared = np.polyadd(np.polymul(x, x), np.polymul(y, y))
        roots = np.roots(np.polyder(squared))
        cuts = np.sort([r.real for r in roots if abs(r.imag) < 1e-3 and 0 < r.real < 1])
        for low, high in pairwise([0.0, *cuts, 1.0]):
            total += quad(
                lambda t, x=x, y=y: math.hypot(np.polyval(x, t), np.polyval(y, t)),
                low,
                high,
                epsabs=1e-10,
                epsrel=1e-10,
                limit=400,
            )[0]
    return total


def ratios():
    return st.floats(0.02, 0.98)


@given(curve=shapes.curves(), at_ratio=ratios())
def test_the_parts_of_a_cut_walk_the_same_points(curve, at_ratio):
    at = at_ratio * len(curve)
    first, second = split_at_parameters(curve, [at])
    own = points_at_parameters(curve, np.linspace(0, at, 20))
    index, t = min(int(at), len(curve) - 1), at - min(int(at), len(curve) - 1)
    along = np.linspace(0, at, 20)
    inside = np.where(along < index, along, index + (along - index) / t if t else along)
    assert points_at_parameters(first, inside) == pytest.approx(own, abs=SAME_POINT_MM)
    assert (joined(first, second).start == curve.start).all()
    assert (joined(first, second).end == curve.end).all()
    assert (first.end == second.start).all()


@given(curve=shapes.curves(), at_ratio=ratios())
def test_lengths_and_turnings_of_parts_add_up(curve, at_ratio):
    assume(length_mm(curve) > 1)
    at = at_ratio * length_mm(curve)
    first, second = split(curve, at)
    assert length_mm(first) == pytest.approx(at, abs=2e-9, rel=1e-9)
    assert length_mm(first) + length_mm(second) == pytest.approx(length_mm(curve), rel=1e-9)


@settings(max_examples=50)
@given(ring=shapes.simple_rings(), at_ratio=ratios())
def test_a_cut_and_joined_gentle_edge_turns_as_before(ring, at_ratio):
    for curve in ring:
        parts = split(curve, at_ratio * length_mm(curve))
        assert sum(map(turning_rad, parts)) == pytest.approx(turning_rad(curve), abs=1e-9)
        assert turning_rad(joined(*parts)) == pytest.approx(turning_rad(curve), abs=1e-9)


def test_a_part_between_two_stations_is_what_two_cuts_leave():
    middle = part(ARCH, 30, 120)
    assert length_mm(middle) == pytest.approx(90, abs=1e-9)
    assert middle.start == pytest.approx(points_at(ARCH, [30])[0], abs=1e-9)


@given(curve=shapes.curves())
def test_walked_backwards_a_curve_is_as_long_and_turns_the_other_way(curve):
    back = reversed_curve(curve)
    assert length_mm(back) == pytest.approx(length_mm(curve), rel=1e-9, abs=1e-9)
    assert (reversed_curve(back).segments == curve.segments).all()


@given(ring=shapes.simple_rings())
def test_walked_backwards_gentle_edges_turn_the_other_way(ring):
    for curve in ring:
        assert turning_rad(reversed_curve(curve)) == pytest.approx(-turning_rad(curve), abs=1e-12)


@given(ring=shapes.simple_rings(), angle=st.floats(-7, 7), shift=shapes.points())
def test_a_rigid_motion_keeps_every_measure(ring, angle, shift):
    motion = translation(shift).after(rotation(angle, (10, 20)))
    there = [moved(curve, motion) for curve in ring]
    assert ring_area_mm2(there) == pytest.approx(ring_area_mm2(ring), rel=1e-12)
    for before, after in zip(ring, there, strict=True):
        assert length_mm(after) == pytest.approx(length_mm(before), rel=1e-12)
        assert turning_rad(after) == pytest.approx(turning_rad(before), abs=1e-12)
        at = np.linspace(0.1, 0.9, 5) * length_mm(before)
        same = pytest.approx(curvatures_at(before, at), rel=1e-7, abs=1e-12)
        assert curvatures_at(after, at) == same


@given(ring=shapes.simple_rings())
def test_mirrored_twice_a_ring_is_itself_and_once_it_still_runs_counter_clockwise(ring):
    mirror = reflection((3, 1), (40, 70))
    once = [mirrored_walk(curve, mirror) for curve in ring]
    assert ring_area_mm2(once) == pytest.approx(ring_area_mm2(ring), rel=1e-12)
    for before, after in zip(ring, once, strict=True):
        assert turning_rad(after) == pytest.approx(turning_rad(before), abs=1e-12)
        twice = mirrored_walk(after, mirror)
        assert twice.segments == pytest.approx(before.segments, abs=SAME_POINT_MM)


@given(ring=shapes.simple_rings())
def test_round_any_simple_outline_turning_and_corners_make_a_whole_turn(ring):
    # Theorem of turning tangents: do Carmo, Differential Geometry of Curves and Surfaces, 4-5.
    assume(not self_crossings(ring))
    corners = sum(
        angle_between(end_tangent(a), start_tangent(b)) for a, b in pairwise([*ring, ring[0]])
    )
    assert corners + sum(map(turning_rad, ring)) == pytest.approx(math.tau, abs=1e-9)


# Near a fold the other quadrature doubts itself aloud; its number is compared all the same.
@pytest.mark.filterwarnings("ignore::scipy.integrate.IntegrationWarning")
@settings(max_examples=60)
@given(curve=shapes.curves(most=1))
def test_lengths_agree_with_an_independent_quadrature(curve):
    assert length_mm(curve) == pytest.approx(speed_integral_mm(curve), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("curve", HARD)
def test_hard_lengths_agree_with_an_independent_quadrature(curve):
    assert length_mm(curve) == pytest.approx(speed_integral_mm(curve), rel=1e-9)


@pytest.mark.parametrize("past", [1e-6, 1e-5, 1e-4, 1e-3, 2e-3])
def test_a_fold_just_before_the_end_is_not_overlooked(past):
    # x = 3 t (1 - t)^2 turns back at a third; no node of a fixed order sees what comes after.
    fold = Curve([[[0, 0], [1, 0], [0, 0], [0, 0]]])
    t = 1 / 3 + past
    assert station_of(fold, t) == pytest.approx(8 / 9 - 3 * t * (1 - t) ** 2, rel=1e-9)


def test_the_doubled_way_of_an_overshooting_straight_line_counts_twice():
    x = np.polynomial.Polynomial([0, 450, -1050, 700])
    turns = np.sort(x.deriv().roots().real)
    ways = np.abs(np.diff(x(np.array([0, *turns, 1]))))
    assert length_mm(OVERSHOOTING) == pytest.approx(ways.sum(), rel=1e-9)


@pytest.mark.parametrize("curve", HARD)
def test_a_station_comes_back_from_its_parameter(curve):
    stations = np.linspace(0, length_mm(curve), 33)
    back = [station_of(curve, parameter) for parameter in parameters_at(curve, stations)]
    assert back == pytest.approx(stations, abs=1e-9)


@given(curve=shapes.curves(), share=st.lists(st.floats(0, 1), min_size=1, max_size=5))
def test_any_station_comes_back_from_its_parameter(curve, share):
    stations = np.array(share) * length_mm(curve)
    back = [station_of(curve, parameter) for parameter in parameters_at(curve, stations)]
    assert back == pytest.approx(stations, abs=1e-9)


def missed_mm(curve, share):
    """How far from its station each parameter lies that is only there to be looked at."""
    stations = np.array(share) * length_mm(curve)
    about = [station_of(curve, parameter) for parameter in parameters_about(curve, stations)]
    return np.abs(about - stations).max()


@given(curve=small.garment_curves(), share=st.lists(st.floats(0, 1), min_size=1, max_size=5))
def test_a_station_of_an_edge_as_makers_draw_it_is_found_at_once_to_the_eye(curve, share):
    assert missed_mm(curve, share) < 1e-4 * length_mm(curve)


@given(curve=shapes.curves(), share=st.lists(st.floats(0, 1), min_size=1, max_size=5))
def test_a_station_of_any_curve_is_found_at_once_not_far_off(curve, share):
    assert missed_mm(curve, share) <= length_mm(curve) / 200


@pytest.mark.parametrize("find", [parameters_at, parameters_about])
def test_stations_beyond_the_ends_are_taken_there(find):
    assert find(ARCH, [-5, 300]).tolist() == [0, 1]


@given(curves=st.lists(shapes.curves(), min_size=1, max_size=4))
def test_many_lengths_at_once_are_each_ones_own(curves):
    assert measure_all(curves) == pytest.approx([length_mm(c) for c in curves], rel=1e-12)


def test_a_cusp_adds_no_turning_of_its_own():
    # Both arms leave the cusp the way they came: 3/4 of a turn in all, less the reversal.
    before, after = split_at_parameters(CUSP, [0.5])
    assert turning_rad(before) == pytest.approx(math.pi / 4, abs=1e-6)
    assert turning_rad(after) == pytest.approx(math.pi / 4, abs=1e-6)


@pytest.mark.parametrize(
    ("name", "wanted_rad"),
    [
        ("first", -(math.atan2(40, 60) + math.pi / 4)),
        ("last", -(math.pi / 4 + math.atan2(40, 60))),
        ("both", 0.0),
        ("two at the start", 0.0),
    ],
)
def test_a_handle_of_no_length_takes_the_tangent_of_the_next_point(name, wanted_rad):
    turned = turning_rad(HANDLES_OF_NO_LENGTH[name])
    assert turned == pytest.approx(wanted_rad, abs=1e-12)


def test_a_straight_cubic_that_doubles_back_turns_nowhere():
    assert segment_turnings_rad(OVERSHOOTING.segments)[0] == pytest.approx(0, abs=1e-9)


@given(curve=shapes.curves())
def test_bounds_hold_every_point_and_each_side_is_touched(curve):
    points = points_at_parameters(curve, np.linspace(0, len(curve), 1000 * len(curve) + 1))
    low, high = bounds_mm(curve).reshape(2, 2)
    assert (points >= low - 1e-9).all()
    assert (points <= high + 1e-9).all()
    assert points.min(axis=0) == pytest.approx(low, abs=1e-2)
    assert points.max(axis=0) == pytest.approx(high, abs=1e-2)


def test_curvatures_in_bulk_are_those_of_each_curve():
    t = np.linspace(0, 1, 9)
    stations = [station_of(ARCH, parameter) for parameter in t]
    wanted = pytest.approx(curvatures_at(ARCH, stations), rel=1e-7)
    assert segment_curvatures(ARCH.segments, t)[0] == wanted
