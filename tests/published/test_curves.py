"""Plane curves against plain mathematics and published values (part C, and D4, D17, D18)."""

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.special import ellipe

from tests.geometry import shapes
from wedgework.geometry.curve import Curve, joined, line, reversed_curve
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.fit import fitted_function
from wedgework.geometry.length import (
    length_mm,
    parameters_at,
    points_at_parameters,
    station_of,
)
from wedgework.geometry.offset import offset_curve, offset_ring
from wedgework.geometry.split import split_at_parameters
from wedgework.geometry.turning import (
    angle_between,
    curvatures_at,
    end_tangent,
    start_tangent,
    turning_rad,
    turning_to,
)

ARCH = Curve([[[0, 0], [0, 100], [100, 100], [100, 0]]])
KAPPA = 4 / 3 * (math.sqrt(2) - 1)  # Mortensen, Approximate a circle with cubic Bezier curves


def quarter(handle, radius_mm=1.0):
    return Curve(radius_mm * np.array([[[1, 0], [1, handle], [handle, 1], [0, 1]]]))


def arc(radius_mm, angle_rad, error_mm=1e-9):
    def places(turned):
        out = np.stack([np.cos(turned), np.sin(turned)], axis=1)
        return radius_mm * out, np.stack([-out[:, 1], out[:, 0]], axis=1)

    return fitted_function(places, angle_rad, error_mm)


def circle(radius_mm):
    """Four edges that are true arcs within 1e-9 mm: cubics four a circle are 0.014 % long."""
    quarters = [
        Curve(arc(radius_mm, math.pi / 2).segments @ np.array([[c, s], [-s, c]]))
        for c, s in [(1, 0), (0, 1), (-1, 0), (0, -1)]
    ]
    return [
        _from(before, own) for before, own in zip([quarters[-1], *quarters], quarters, strict=False)
    ]


def _from(before, own):
    segments = own.segments.copy()
    segments[0, 0] = before.end
    return Curve(segments)


def ellipse_quarter(a_mm, b_mm):
    def places(t):
        cos, sin = np.cos(t), np.sin(t)
        along = np.stack([-a_mm * sin, b_mm * cos], axis=1)
        points = np.stack([a_mm * cos, b_mm * sin], axis=1)
        return points, along / np.hypot(*along.T)[:, None]

    return fitted_function(places, math.pi / 2, 1e-9)


def sine_quarter():
    def places(x):
        along = np.stack([np.ones_like(x), np.cos(x)], axis=1)
        return np.stack([x, np.sin(x)], axis=1), along / np.hypot(*along.T)[:, None]

    return fitted_function(places, math.pi / 2, 1e-9)


def ring_length_mm(rings):
    return sum(length_mm(stretch.curve) for ring in rings for stretch in ring)


def ring_area(rings):
    return sum(ring_area_mm2([stretch.curve for stretch in ring]) for ring in rings)


def test_c1_the_arch_is_200_long():
    assert length_mm(ARCH) == pytest.approx(200, rel=1e-12)


def test_c2_length_to_a_quarter_and_parameter_of_the_middle():
    assert station_of(ARCH, 0.25) == pytest.approx(59.375, abs=1e-9)
    assert parameters_at(ARCH, [100.0])[0] == pytest.approx(0.5, abs=1e-9)


def test_c3_curvature_and_turning_of_the_arch():
    assert curvatures_at(ARCH, [0.0, 100.0]) == pytest.approx([-1 / 150, -1 / 37.5], rel=1e-10)
    assert turning_rad(ARCH) == pytest.approx(-math.pi, rel=1e-10)


@pytest.mark.parametrize(("left_mm", "wanted_mm"), [(10, 231.4159265), (-10, 168.5840735)])
def test_c4_the_arch_moved_aside(left_mm, wanted_mm):
    # Steiner: the length grows by the distance times the turning; left is outside of the arch.
    assert length_mm(offset_curve(ARCH, left_mm, 1e-3)) == pytest.approx(wanted_mm, abs=1e-3)


def test_c5_area_under_the_arch():
    ring = [line((0, 0), (100, 0)), reversed_curve(ARCH)]
    assert ring_area_mm2(ring) == pytest.approx(6000, rel=1e-12)


def test_c6_the_arch_cut_in_two():
    first, second = split_at_parameters(ARCH, [0.5])
    assert first.segments.tolist() == [[[0, 0], [0, 50], [25, 75], [50, 75]]]
    assert second.segments.tolist() == [[[50, 75], [75, 75], [100, 50], [100, 0]]]


def test_c7_length_of_an_s():
    curve = Curve([[[0, 0], [100, 0], [0, 100], [100, 100]]])
    assert length_mm(curve) == pytest.approx(167.65426274, abs=1e-7)


def test_c8_length_of_a_parabola():
    curve = Curve([[[0, 0], [1 / 3, 0], [2 / 3, 1 / 3], [1, 1]]])
    assert length_mm(curve) == pytest.approx(1.4789428575446, abs=1e-12)


def test_c9_and_c12_how_round_a_quarter_of_one_cubic_is():
    assert pytest.approx(0.5522847498, abs=1e-8) == KAPPA
    for handle, low, high in [(KAPPA, 0.0, 0.00027253), (0.551915024494, -0.000196, 0.000196)]:
        radii = np.hypot(*points_at_parameters(quarter(handle), np.linspace(0, 1, 20_001)).T) - 1
        assert (radii.min(), radii.max()) == pytest.approx((low, high), abs=1e-6)


def test_c10_length_and_area_of_that_quarter():
    curve = quarter(KAPPA)
    assert length_mm(curve) == pytest.approx(1.5710166981, abs=1e-9)
    ring = [line((0, 0), (1, 0)), curve, line((0, 1), (0, 0))]
    assert ring_area_mm2(ring) == pytest.approx(0.7856180832, abs=1e-9)


def test_c11_a_circle_of_four_cubics():
    ring = shapes.circle(100)
    assert sum(length_mm(curve) for curve in ring) == pytest.approx(628.4066792, abs=1e-6)
    assert ring_area_mm2(ring) == pytest.approx(31424.72333, abs=1e-5)


@pytest.mark.parametrize(
    ("a_mm", "b_mm", "printed", "tolerance"),
    [(150, 100, 793.2719794645, 1e-8), (10, 5, 48.4422411027, 1e-9)],
    ids=["c13", "c14"],
)
def test_c13_and_c14_perimeters_of_ellipses(a_mm, b_mm, printed, tolerance):
    assert 4 * a_mm * ellipe(1 - (b_mm / a_mm) ** 2) == pytest.approx(printed, abs=tolerance)
    assert 4 * length_mm(ellipse_quarter(a_mm, b_mm)) == pytest.approx(printed, abs=tolerance)


def test_c13_area_of_the_ellipse():
    ring = [line((0, 0), (150, 0)), ellipse_quarter(150, 100), line((0, 100), (0, 0))]
    assert 4 * ring_area_mm2(ring) == pytest.approx(47123.8898038, abs=1e-3)


def test_c15_a_sine_wave():
    assert 4 * length_mm(sine_quarter()) == pytest.approx(7.6403955781, abs=1e-9)


def test_c16_an_arc_of_60_degrees():
    curve = arc(100, math.pi / 3)
    middle = points_at_parameters(curve, parameters_at(curve, [length_mm(curve) / 2]))[0]
    chord = curve.end - curve.start
    rise_mm = abs(chord[0] * (middle - curve.start)[1] - chord[1] * (middle - curve.start)[0]) / 100
    assert length_mm(curve) == pytest.approx(104.7197551, abs=1e-6)
    assert np.hypot(*chord) == pytest.approx(100, abs=1e-6)
    assert rise_mm == pytest.approx(13.3974596, abs=1e-6)


def test_c17_a_circle_moved_outwards():
    rings = offset_ring(circle(100), [10] * 4, 1e-9, "round")
    assert ring_length_mm(rings) == pytest.approx(691.1503838, abs=1e-6)
    assert ring_area(rings) == pytest.approx(38013.27111, abs=1e-5)


def test_c18_a_square_moved_out_and_in():
    out = offset_ring(shapes.square(), [10] * 4, 1e-5, "round")
    assert ring_length_mm(out) == pytest.approx(462.8318531, abs=1e-5)
    assert ring_area(out) == pytest.approx(14314.15927, abs=1e-5)
    inwards = offset_ring(shapes.square(), [-10] * 4, 1e-5, "round")
    assert ring_length_mm(inwards) == pytest.approx(320, abs=1e-5)
    assert ring_area(inwards) == pytest.approx(6400, abs=1e-5)


def test_c19_a_triangle_moved_outwards():
    rings = offset_ring(shapes.polygon_ring([(0, 0), (40, 0), (0, 30)]), [5] * 3, 1e-5, "round")
    assert ring_length_mm(rings) == pytest.approx(151.4159265, abs=1e-5)
    assert ring_area(rings) == pytest.approx(1278.539816, abs=1e-5)


@pytest.mark.parametrize("ring", [shapes.square(), shapes.circle(), circle(100)])
def test_c20_turning_and_corner_angles_make_a_whole_turn(ring):
    corners = sum(
        angle_between(end_tangent(a), start_tangent(b)) for a, b in pairwise([*ring, ring[0]])
    )
    assert corners + sum(turning_rad(curve) for curve in ring) == pytest.approx(math.tau, abs=1e-9)


def test_c21_a_lap_outside_a_quarter_arc():
    edge = arc(200, math.pi / 2)
    lap = offset_curve(edge, -8, 1e-7)
    assert length_mm(lap) - length_mm(edge) == pytest.approx(12.5663706, abs=1e-6)


def test_d4_a_sector_of_radius_7_and_arc_14():
    # Longfield, Sheet Metal Drafting, p. 82.
    rim = arc(7, 2.0)
    ring = [line((0, 0), rim.start), rim, line(rim.end, (0, 0))]
    assert ring_area_mm2(ring) == pytest.approx(49, abs=1e-6)


def test_d17_two_bulging_arcs_joined():
    turned = 2 * turning_rad(arc(300, 0.5))
    assert math.degrees(turned) == pytest.approx(57.29578, abs=1e-5)


def test_d18_both_edges_from_one_line_shape_nothing():
    curve = joined(ARCH, Curve([[[100, 0], [100, -40], [160, -60], [170, 10]]]))
    at = np.linspace(0, length_mm(curve), 41)
    other = turning_to(reversed_curve(curve), length_mm(curve) - at)
    whole = turning_rad(reversed_curve(curve))
    assert turning_to(curve, at) + (whole - other) == pytest.approx(np.zeros(41), abs=1e-9)
    assert turning_rad(curve) + whole == pytest.approx(0, abs=1e-12)
