"""A dart gets another intake, another angle, or legs of another length."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refused
from tests.edits.measuring import curve, edge_mm
from wedgework.edits import Place
from wedgework.edits.dart_double import AddDoubleDart
from wedgework.edits.dart_set import SetDart
from wedgework.edits.darts import AddDart
from wedgework.edits.marks import AddNotches
from wedgework.edits.move import PullEdge
from wedgework.geometry.turning import turning_rad
from wedgework.pattern.darts import darts_of, measure_dart
from wedgework.pattern.lookup import the_seam


def dart_of(project, own="d1"):
    return measure_dart(project, the_seam(project, own))


@pytest.mark.parametrize("intake_mm", [12.0, 48.0])
def test_another_intake_opens_the_mouth_about_its_middle_and_leaves_the_apex(intake_mm):
    project = small.darted_front()
    after = check_edit(SetDart(dart="d1", intake_mm=intake_mm), project)
    found, before = dart_of(after), dart_of(project)
    assert found.intake_mm == pytest.approx(intake_mm, abs=1e-9)
    assert np.array_equal(found.apex_mm, before.apex_mm)
    middles = [(one.mouth_a + one.mouth_b) / 2 for one in (found, before)]
    assert middles[0] == pytest.approx(middles[1], abs=1e-9)
    assert found.leg_a_mm == pytest.approx(math.hypot(intake_mm / 2, 90), abs=1e-9)


@pytest.mark.parametrize("angle_deg", [5.0, 40.0])
def test_another_angle_is_that_at_the_apex(angle_deg):
    after = check_edit(SetDart(dart="d1", angle_deg=angle_deg), small.darted_front())
    found = dart_of(after)
    assert math.degrees(found.angle_rad) == pytest.approx(angle_deg, abs=1e-7)
    assert found.intake_mm == pytest.approx(2 * 90 * math.tan(math.radians(angle_deg / 2)))


def test_the_angle_of_shaped_legs_is_that_at_the_apex_too_and_they_keep_their_turning():
    bent = PullEdge(edge="p.e2", at_mm=40.0, by_mm=(-5, 2)).apply(small.darted_front())
    after = check_edit(SetDart(dart="d1", angle_deg=30.0), bent)
    assert math.degrees(dart_of(after).angle_rad) == pytest.approx(30.0, abs=1e-7)
    turnings = [turning_rad(curve(one, "p.e2")) for one in (bent, after)]
    assert turnings[0] == pytest.approx(turnings[1], abs=1e-9)


@pytest.mark.parametrize("leg", ["leg_a_mm", "leg_b_mm"])
@pytest.mark.parametrize("long_mm", [70.0, 120.0])
def test_another_leg_length_moves_the_apex_along_the_middle_line(leg, long_mm):
    project = small.darted_front()
    after = check_edit(SetDart(dart="d1", **{leg: long_mm}), project)
    found = dart_of(after)
    assert getattr(found, leg) == pytest.approx(long_mm, abs=1e-9)
    assert found.apex_mm[0] == pytest.approx(100.0)
    assert np.array_equal(found.mouth_a, dart_of(project).mouth_a)


def test_a_dart_in_a_curved_edge_opens_along_that_curve_and_closes_back_to_it():
    project = small.curved_square()
    at = Place("p.e1", edge_mm(project, "p.e1") / 2)
    darted = AddDart(piece="p", at=at, apex_mm=(50, 60), intake_mm=14).apply(project)
    own = darts_of(darted)[0].id
    wide = check_edit(SetDart(dart=own, intake_mm=30), darted)
    back = SetDart(dart=own, intake_mm=14).apply(wide)
    assert dart_of(wide, own).intake_mm == pytest.approx(30, abs=1e-9)
    for edge in darted.pieces["p"].edges:
        assert edge_mm(back, edge.id) == pytest.approx(edge_mm(darted, edge.id), abs=1e-6)


def test_what_is_marked_beside_the_mouth_stays_where_it_lies():
    marked = AddNotches(edge="p.e4", at_mm=(60.0,)).apply(small.darted_front())
    after = check_edit(SetDart(dart="d1", intake_mm=50), marked)
    (notch,) = after.notches.values()
    assert notch.at.edge == "p.e4"
    assert notch.at.at_mm == pytest.approx(50.0)


def test_a_size_that_a_dart_has_already_changes_nothing():
    project = small.darted_front()
    assert SetDart(dart="d1", intake_mm=30).apply(project) is project
    assert SetDart(dart="d1", leg_a_mm=dart_of(project).leg_a_mm).apply(project) is project
    angle = math.degrees(dart_of(project).angle_rad)
    assert SetDart(dart="d1", angle_deg=angle).apply(project) is project


def test_a_size_that_there_is_no_room_for_is_refused():
    front = small.darted_front()
    refused(SetDart(dart="d1", intake_mm=260), front)
    refused(SetDart(dart="d1", angle_deg=150), front)
    refused(SetDart(dart="d1", leg_a_mm=10), front)
    refused(SetDart(dart="d1", leg_a_mm=500), front)
    refused(SetDart(dart="d1"), front)
    refused(SetDart(dart="d1", intake_mm=20, angle_deg=20), front)
    refused(SetDart(dart="s", intake_mm=20), small.two_panels())
    double = AddDoubleDart(piece="p", tip_mm=(50, 20), apex_mm=(50, 80), intake_mm=8)
    after = double.apply(small.square())
    refused(SetDart(dart=darts_of(after)[0].id, intake_mm=12), after)


@given(size=st.sampled_from(["intake_mm", "angle_deg", "leg_a_mm"]), value=st.floats(0.5, 170))
def test_any_size_is_had_or_refused(size, value):
    after = check_or_refuse(SetDart(dart="d1", **{size: value}), small.darted_front())
    if after is not None and size == "intake_mm":
        assert dart_of(after).intake_mm == pytest.approx(value, abs=1e-6)
