"""Worked numbers of darts, each with its source beside it.

The trade's rule, looked up: the angle of a dart counts and stays when it is moved, and a longer
dart has a wider mouth (Erwin, Practical Dress Design, revised 1954, p. 31). The figures follow from
plain geometry of an isosceles triangle: intake I over legs l is the angle A = 2 asin(I / (2 l)),
and the circle about the apex spans A l.
"""

from __future__ import annotations

import math

import pytest

from tests import small
from wedgework.edits import Place
from wedgework.edits.dart_open import DartToFullness
from wedgework.edits.dart_seam import DartToSeam
from wedgework.edits.pivot import DivideDart, PivotDart
from wedgework.geometry.length import length_mm
from wedgework.pattern.darts import darts_of, measure_dart
from wedgework.pattern.document import Project
from wedgework.pattern.seams import measure_seam

ANGLE_DEG = 19.188  # legs 120, intake 40
ARC_MM = 40.19  # round the apex, for the same


def front(width_mm: float = 360.0) -> Project:
    """A front whose dart has legs of 120 and an intake of 40, in the middle of its lower edge."""
    return small.darted_front(40.0, width_mm, math.sqrt(120**2 - 20**2))


def the_dart(project: Project):
    return measure_dart(project, project.seams["d1"])


def test_angle_of_a_dart():
    assert math.degrees(the_dart(front()).angle_rad) == pytest.approx(ANGLE_DEG, abs=5e-4)


@pytest.mark.parametrize(("leg_mm", "intake_mm"), [(180.0, 60.0), (90.0, 30.0)])
def test_a_dart_swung_to_longer_or_shorter_legs(leg_mm, intake_mm):
    # I2 = I1 * l2 / l1: the distance from the apex to the side is the leg.
    level_mm = math.sqrt(120**2 - 20**2)
    after = PivotDart(dart="d1", to=Place("p.e5", level_mm)).apply(front(2 * leg_mm))
    found = the_dart(after)
    assert (found.leg_a_mm, found.leg_b_mm) == pytest.approx((leg_mm, leg_mm), abs=1e-9)
    assert found.intake_mm == pytest.approx(intake_mm, abs=1e-9)
    assert math.degrees(found.angle_rad) == pytest.approx(ANGLE_DEG, abs=5e-4)


def test_two_halves_of_a_dart():
    # Angles add, widths do not quite: at legs of 120 a half is 20.07, two are 40.14 together.
    after = DivideDart(dart="d1", into=2).apply(front())
    halves = [measure_dart(after, dart) for dart in darts_of(after)]
    angles_deg = [math.degrees(half.angle_rad) for half in halves]
    assert angles_deg == pytest.approx([ANGLE_DEG / 2] * 2, abs=5e-4)
    assert halves[0].leg_a_mm == pytest.approx(120.0, abs=1e-9)
    assert halves[0].intake_mm == pytest.approx(20.07, abs=0.005)
    assert 2 * halves[0].intake_mm == pytest.approx(40.14, abs=0.005)


def test_the_same_dart_as_flare_and_as_a_curve_in_a_seam():
    whole_mm = length_mm(front().pieces["p"].edges[0].curve) * 2
    flared = DartToFullness(dart="d1").apply(front())
    lower = flared.pieces["p"].edges[0]
    assert length_mm(lower.curve) - whole_mm == pytest.approx(ARC_MM, abs=0.005)
    seam = DartToSeam(dart="d1", to=Place("p.e6", 180.0)).apply(front())
    shaping = measure_seam(seam, seam.seams["d1"]).shaping_rad
    assert math.degrees(shaping) == pytest.approx(ANGLE_DEG, abs=5e-4)
