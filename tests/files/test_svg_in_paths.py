"""Path data, however loosely it is written, and the basic shapes."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fontTools.pens.areaPen import AreaPen
from fontTools.svgLib.path import parse_path

from tests.files.svg_text import area_mm2, around_mm, box_mm, codes, corners_mm, only_piece, read
from wedgework.geometry.length import points_at
from wedgework.pattern.errors import FileRefused


def path(data: str) -> str:
    return f'<path id="a" d="{data}"/>'


def square_of(data: str):
    piece = only_piece(path(data))
    return sorted(map(tuple, np.round(corners_mm(piece), 9).tolist()))


SQUARE = [(10.0, -40.0), (10.0, -10.0), (30.0, -40.0), (30.0, -10.0)]


@pytest.mark.parametrize(
    "data",
    [
        "M10 10 30 10 30 40 10 40z",
        "M10,10L30,10L30,40L10,40Z",
        "m10 10 20 0 0 30-20 0z",
        "M10 10h20v30h-20z",
        "M10 10H30V40H10Z",
        "m10,10,20,0l0,30-20,0z",
        "M 1e1 1.0E+1 H 3e1 V.4e2 H10.0 z",
        "M10 10h10h10v10v20h-20Z",
        "M10 10 H 20 30 V 20 40 H 10 Z",
        "M10 10H30V40H10L10 10",
        "M10 10H30V40H10Z M10 10z",
        "  M 10 , 10 H 30 V 40 H 10 z  ",
        "M+10+10H+30V+40H+10z",
        "M1.0e1.1e2H30V40H10z",
    ],
)
def test_one_square_written_in_many_ways_is_one_square(data):
    assert square_of(data) == SQUARE


@pytest.mark.parametrize(
    "data",
    [
        "M20 50 C 20 20 80 20 80 50 S 60 80 40 90 Z",
        "M20 50 c 0 -30 60 -30 60 0 s -20 30 -40 40 z",
        "M20 50 Q 50 0 80 50 T 100 90 L 20 90 Z",
        "M20 50 q 30 -50 60 0 t 20 40 l -80 0 z",
        "M20 50 S 40 20 60 50 C 70 60 80 70 60 80 S 30 90 20 80 z",
        "M20 50 T 60 40 Q 70 60 60 80 T 30 90 z",
        "M20 50 C 20 20 80 20 80 50 L 90 60 S 60 80 40 90 Z",
    ],
)
def test_areas_of_curves_agree_with_an_independent_reader(data):
    pen = AreaPen()
    parse_path(data, pen)
    assert area_mm2(only_piece(path(data))) == pytest.approx(abs(pen.value), rel=1e-12)


@pytest.mark.parametrize(("large", "sweep"), [(0, 0), (0, 1), (1, 0), (1, 1)])
@pytest.mark.parametrize("gap", [" ", "", ","])
def test_arcs_bulge_to_the_side_that_their_flags_say(large, sweep, gap):
    # Half the chord is 10, the radius 12.5, so the middle lies 7.5 off the chord.
    data = f"M60 50a12.5 12.5 0{' '}{large}{gap}{sweep}{gap}20 0"
    height = 12.5 + 7.5 if large else 12.5 - 7.5
    top = 50 - height if sweep else 50 + height
    box = box_mm(only_piece(path(data + "z")))
    reached = -box[3] if sweep else -box[1]
    assert reached == pytest.approx(top, abs=1e-3)


def test_arcs_lie_within_a_hundredth_of_a_millimetre_of_their_ellipse():
    rx, ry, turn = 60.0, 25.0, math.radians(30)
    end = 2 * rx * np.array([math.cos(turn), math.sin(turn)])
    data = f"M40 20 a {rx} {ry} 30 0 1 {end[0]} {end[1]} a {rx} {ry} 30 0 1 {-end[0]} {-end[1]} z"
    (edge,) = only_piece(path(data)).edges
    centre = np.array([40 + end[0] / 2, -20 - end[1] / 2])
    points = points_at(edge.curve, np.linspace(0, 100, 400)) - centre
    c, s = math.cos(-turn), math.sin(-turn)
    x, y = points[:, 0] * c + points[:, 1] * s, -points[:, 0] * s + points[:, 1] * c
    off = np.abs(np.hypot(x / rx, y / ry) - 1) * ry
    assert off.max() < 1e-3


def test_radii_that_do_not_reach_are_made_larger():
    piece = only_piece(path("M40 50 a 1 1 0 0 1 40 0 z"))
    assert area_mm2(piece) == pytest.approx(math.pi * 400 / 2, rel=1e-4)


def test_an_arc_without_a_radius_is_a_line():
    assert square_of("M10 10 A 0 5 0 0 1 30 10 V40H10z") == SQUARE


def test_an_open_path_drawn_back_to_its_start_is_closed():
    assert square_of("M10 10H30V40H10V10") == SQUARE


def test_what_comes_before_a_fault_is_kept_and_the_fault_told():
    body = path("M10 10H30V40H10Z L 5 x 7")
    assert area_mm2(only_piece(body)) == pytest.approx(600)
    assert ("path_unread", "a") in codes(body)


@pytest.mark.parametrize("data", ["M NaN 10 H30V40Z", "M1e999 10 H30V40Z", "M10 10H inf V40z"])
def test_numbers_that_are_not_finite_are_refused_by_element(data):
    with pytest.raises(FileRefused, match="“a” holds a number that is not finite"):
        read(path(data))


def test_a_rectangle_with_round_corners():
    piece = only_piece('<rect x="10" y="10" width="80" height="40" rx="10"/>')
    assert area_mm2(piece) == pytest.approx(80 * 40 - (4 - math.pi) * 100, rel=1e-6)
    assert around_mm(piece) == pytest.approx(2 * (60 + 20) + 2 * math.pi * 10, rel=1e-6)
    assert len(piece.edges) == 1


def test_radii_of_a_rectangle_follow_each_other_and_its_size():
    piece = only_piece('<rect x="10" y="10" width="80" height="40" ry="90"/>')
    assert area_mm2(piece) == pytest.approx(math.pi * 40 * 20, rel=1e-6)


@pytest.mark.parametrize(
    ("shape", "area"),
    [
        ('<circle cx="50" cy="50" r="30"/>', math.pi * 900),
        ('<ellipse cx="50" cy="50" rx="30" ry="20"/>', math.pi * 600),
        ('<ellipse cx="50" cy="50" rx="30"/>', math.pi * 900),
        ('<polygon points="10,10 30,10 30,40 10,40"/>', 600),
        ('<polygon points="10 10,30 10 30-40 10-40"/>', 1000),
        ('<polyline points="10,10 30,10 30,40 10,40 10,10"/>', 600),
        ('<rect x="10" y="10" width="20" height="30"/>', 600),
    ],
)
def test_basic_shapes_have_their_area(shape, area):
    assert area_mm2(only_piece(shape)) == pytest.approx(area, rel=1e-6)
