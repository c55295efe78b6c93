"""Rectangles, circles and sectors against the formulas of plane geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits.shapes import AddCircle, AddRectangle, AddSector
from wedgework.geometry.extent import bounds_of_all, ring_area_mm2
from wedgework.geometry.length import length_mm, points_at_parameters
from wedgework.pattern.document import Project


def made(edit, project=None):
    after = check_edit(edit, Project() if project is None else project)
    return list(after.pieces.values())[-1]


def area(piece):
    return ring_area_mm2([edge.curve for edge in piece.edges])


def around(piece):
    return sum(length_mm(edge.curve) for edge in piece.edges)


def test_a_rectangle_has_four_straight_sides_where_it_is_put():
    piece = made(AddRectangle(name="band", width_mm=300, height_mm=40, at_mm=(5, 6)))
    assert [edge.name for edge in piece.edges] == ["bottom", "right", "top", "left"]
    assert bounds_of_all([edge.curve for edge in piece.edges]).tolist() == [5, 6, 305, 46]
    assert area(piece) == pytest.approx(12_000)


@given(radius=small.millimetres(0.5, 20))
def test_rounded_corners_take_off_what_geometry_says(radius):
    piece = made(AddRectangle(name="tab", width_mm=60, height_mm=40, corner_radius_mm=radius))
    assert area(piece) == pytest.approx(2400 - (4 - math.pi) * radius**2, rel=1e-5)
    assert around(piece) == pytest.approx(200 - (8 - 2 * math.pi) * radius, rel=1e-5)
    assert len(piece.edges) == (8 if radius < 20 else 6)


def test_a_corner_rounder_than_half_a_side_is_refused():
    edit = AddRectangle(name="tab", width_mm=60, height_mm=40, corner_radius_mm=20.1)
    assert "40.2 mm" in refused(edit, Project()).sentence


@given(diameter=small.millimetres(1, 2000))
def test_a_circle_is_as_long_and_as_large_as_a_circle(diameter):
    piece = made(AddCircle(name="eye", diameter_mm=diameter, middle_mm=(10, -20)))
    (edge,) = piece.edges
    assert around(piece) == pytest.approx(math.pi * diameter, rel=1e-5)
    assert area(piece) == pytest.approx(math.pi * diameter**2 / 4, rel=1e-5)
    points = points_at_parameters(edge.curve, np.linspace(0, len(edge.curve), 400))
    away = np.hypot(*(points - (10, -20)).T)
    assert np.abs(away - diameter / 2).max() < 5e-6 * diameter
    assert len(edge.curve) == 8


@given(
    radius=small.millimetres(100, 900),
    ratio=st.sampled_from([0.0, 0.2, 0.9]),
    angle=st.floats(1.0, 359.0),
)
def test_a_sector_is_as_long_and_as_large_as_a_sector(radius, ratio, angle):
    inner, turn = ratio * radius, math.radians(angle)
    piece = made(AddSector(name="flare", radius_mm=radius, inner_radius_mm=inner, angle_deg=angle))
    assert area(piece) == pytest.approx(turn * (radius**2 - inner**2) / 2, rel=1e-4)
    assert length_mm(piece.edges[0].curve) == pytest.approx(turn * radius, rel=1e-5)
    sides = [edge for edge in piece.edges if "side" in edge.name]
    assert [length_mm(edge.curve) for edge in sides] == pytest.approx([radius - inner] * 2)
    assert len(piece.edges) == (4 if inner else 3)


def test_a_sector_hangs_down_evenly():
    piece = made(AddSector(name="flare", radius_mm=100, angle_deg=90, middle_mm=(50, 50)))
    low = piece.edges[0].curve
    assert low.start.tolist() == pytest.approx([50 - 50 * math.sqrt(2), 50 - 50 * math.sqrt(2)])
    assert bounds_of_all([low])[1] == pytest.approx(-50, abs=1e-3)


def test_a_ring_that_is_inside_out_is_refused():
    refused(AddSector(name="x", radius_mm=50, inner_radius_mm=50, angle_deg=90), Project())


def test_shapes_of_one_name_have_ids_of_their_own():
    project = check_edit(AddCircle(name="p", diameter_mm=10), small.square())
    assert len(project.pieces) == 2
