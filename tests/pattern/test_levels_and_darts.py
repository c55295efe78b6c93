"""Widths at levels, girths over instances, and what darts measure."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests import small
from wedgework.geometry.curve import line
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.darts import darts_of, measure_dart
from wedgework.pattern.document import Line, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.levels import flat_girth_mm, level_width_mm


def with_level(project: Project, piece: str, y_mm: float, x0: float, x1: float) -> Project:
    drawn = Line(id=f"{piece}.l", kind="level", curve=line((x0, y_mm), (x1, y_mm)), level="waist")
    old = project.pieces[piece]
    return with_pieces(project, replace(old, lines=(*old.lines, drawn)))


def test_a_level_is_as_wide_as_the_outline_not_as_its_drawn_line():
    piece = with_level(small.square(100), "p", 50, 20, 80).pieces["p"]
    assert level_width_mm(piece, "waist") == pytest.approx(100.0, abs=1e-9)


def test_a_dart_is_no_part_of_the_width():
    piece = with_level(small.darted_front(intake_mm=30), "p", 45, 0, 200).pieces["p"]
    assert level_width_mm(piece, "waist") == pytest.approx(200 - 15, abs=1e-9)


def test_a_flat_girth_counts_both_of_a_pair_and_both_halves_of_a_fold():
    project = with_level(with_level(small.pair_and_fold(), "f", 90, 0, 100), "g", 90, 150, 210)
    assert flat_girth_mm(project, "waist") == pytest.approx(2 * 100 + 2 * 60, abs=1e-9)


def test_a_level_that_crosses_nothing_is_nothing_wide():
    assert flat_girth_mm(small.square(), "waist") == 0.0


def test_a_dart_measures_its_angle_and_the_chord_of_its_mouth():
    project = small.darted_front(intake_mm=30, depth_mm=90)
    found = measure_dart(project, darts_of(project)[0])
    assert found.angle_rad == pytest.approx(2 * math.atan2(15, 90), abs=1e-12)
    assert found.intake_mm == pytest.approx(30.0, abs=1e-12)
    assert found.leg_a_mm == pytest.approx(math.hypot(15, 90), abs=1e-9)


def test_a_seam_without_an_apex_is_not_measured_as_a_dart():
    project = small.two_panels()
    with pytest.raises(EditRefused):
        measure_dart(project, project.seams["s"])
