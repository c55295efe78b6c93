"""Outlines that come as chords of smooth curves, and corners among them."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely import LineString, points

from tests.files.svg_text import area_mm2, codes, only_piece
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.turning import joint_turnings_rad

PAGE = 'width="500mm" height="500mm" viewBox="0 0 500 500"'


def sides(count):
    """A piece with two straight and two bent sides: points of the bent ones, y down."""
    t = np.linspace(0, 1, count)
    hip = np.stack([10 + 400 * t, 30 + 60 * np.sin(np.pi * t)], axis=1)
    top = np.stack([410 - 400 * t, 310 + 80 * np.sin(np.pi * t)], axis=1)
    return hip, top


def body(count, decimals, letter=" "):
    rows = np.concatenate(sides(count))
    text = letter.join(f"{x:.{decimals}f} {y:.{decimals}f}" for x, y in rows.tolist())
    return f'<path id="a" d="M{text}z"/>'


def hip_length_mm():
    """Length of the hip side, (x, 60 sin(pi x / 400)), by Simpson's rule."""
    x = np.linspace(0, 400, 200_001)
    speed = np.hypot(1.0, 60 * math.pi / 400 * np.cos(math.pi * x / 400))
    h = x[1]
    return h / 3 * (speed[0] + speed[-1] + 4 * speed[1:-1:2].sum() + 2 * speed[2:-1:2].sum())


@pytest.mark.parametrize(
    ("count", "decimals", "within_mm"),
    [
        (100, 6, 0.02),
        (200, 2, 0.03),
        (300, 1, 0.1),
        (1000, 4, 0.02),
        (2000, 1, 0.1),
        (8000, 3, 0.02),
        (9000, 1, 0.25),
    ],
)
def test_chords_of_smooth_sides_become_few_smooth_curves(count, decimals, within_mm):
    piece = only_piece(body(count, decimals), PAGE)
    assert len(piece.edges) == 4
    hip = min((e for e in piece.edges if len(e.curve) > 1), key=lambda e: length_mm(e.curve))
    assert length_mm(hip.curve) == pytest.approx(hip_length_mm(), abs=within_mm)
    assert len(hip.curve) <= 40
    assert np.abs(joint_turnings_rad(hip.curve)).max() < math.radians(1)


@pytest.mark.parametrize(("decimals", "error_mm"), [(5, 0.02), (1, 0.0708)])
def test_the_fit_stays_near_to_the_chords(decimals, error_mm):
    piece = only_piece(body(600, decimals), PAGE)
    rows = np.round(np.concatenate(sides(600)), decimals) * [1, -1]
    chords = LineString([*rows, rows[0]])
    for edge in piece.edges:
        places = points_at(edge.curve, np.linspace(0, length_mm(edge.curve), 2000))
        assert chords.distance(points(places)).max() <= error_mm + 1e-6


def test_fitting_is_told_with_the_element():
    assert ("chords_fitted", "a") in codes(body(300, 4), PAGE)


def test_a_circle_of_chords_becomes_a_smooth_ring():
    t = np.linspace(0, 2 * math.pi, 721)[:-1]
    text = " ".join(f"{250 + 100 * math.cos(a):.4f},{250 + 100 * math.sin(a):.4f}" for a in t)
    piece = only_piece(f'<polygon points="{text}"/>', PAGE)
    (edge,) = piece.edges
    assert area_mm2(piece) == pytest.approx(math.pi * 1e4, rel=1e-4)
    assert len(edge.curve) <= 24
    ends = np.diff(edge.curve.segments[[0, -1]][:, [0, 1, 2, 3]], axis=1)
    first, last = ends[0, 0], ends[1, 2]
    turn = math.atan2(last[0] * first[1] - last[1] * first[0], float(last @ first))
    assert abs(turn) < 1e-6


@pytest.mark.parametrize("sides", [6, 7])
def test_few_chords_stay_as_they_are_drawn(sides):
    t = np.linspace(0, math.pi / 2, sides + 1)
    text = " ".join(f"{20 + 9 * math.sin(a):.4f},{20 - 9 * math.cos(a):.4f}" for a in t)
    piece = only_piece(f'<polygon points="{text} 20,20"/>', PAGE)
    assert sum(len(edge.curve) for edge in piece.edges) == sides + 2


def test_long_sides_of_a_polygon_with_many_corners_are_not_rounded():
    t = np.linspace(0, 2 * math.pi, 31)[:-1]
    text = " ".join(f"{250 + 200 * math.cos(a):.4f},{250 + 200 * math.sin(a):.4f}" for a in t)
    piece = only_piece(f'<polygon points="{text}"/>', PAGE)
    assert area_mm2(piece) == pytest.approx(15 * 4e4 * math.sin(2 * math.pi / 30), abs=0.5)
    assert len(piece.edges[0].curve) == 30


def test_real_cubics_are_kept_exactly():
    path = '<path d="M10 10C40 0 60 30 90 10C100 40 100 60 90 90L10 90z"/>'
    piece = only_piece(path, 'width="100mm" height="100mm" viewBox="0 0 100 100"')
    cubics = np.concatenate([edge.curve.segments for edge in piece.edges])
    wanted = np.array([[90, -90], [100, -60], [100, -40], [90, -10]])
    assert any(np.array_equal(cubic, wanted) for cubic in cubics)


def test_a_straight_side_said_by_many_points_is_one_line():
    text = " ".join(f"{x},10" for x in range(10, 60))
    piece = only_piece(f'<polygon points="{text} 60,10 60,40 10,40"/>', PAGE)
    assert [len(edge.curve) for edge in piece.edges] == [1, 1, 1, 1]


def test_a_corner_of_coarse_chords_stands_where_it_is_drawn():
    piece = only_piece(body(2000, 1), PAGE)
    found = np.array(sorted(edge.curve.start.tolist() for edge in piece.edges))
    assert np.abs(found - [[10, -310], [10, -30], [410, -310], [410, -30]]).max() <= 0.1


def test_tens_of_thousands_of_chords_are_few_curves():
    piece = only_piece(body(20_000, 4, "L"), PAGE)
    assert sum(len(edge.curve) for edge in piece.edges) < 100
