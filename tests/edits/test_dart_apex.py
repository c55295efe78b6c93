from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refused
from tests.edits.measuring import angles_deg, curve, edge_mm
from wedgework.edits import Place
from wedgework.edits.dart_apex import EvenLegs, MoveApex, SetBackApexes
from wedgework.edits.darts import AddDart
from wedgework.edits.move import PullEdge
from wedgework.geometry.curve import is_straight
from wedgework.geometry.turning import turning_rad
from wedgework.pattern.changes import new_project
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.lookup import the_edge, the_seam


def dart_of(project, own="d1"):
    return measure_dart(project, the_seam(project, own))


def test_an_apex_moves_and_its_mouth_stays():
    project = small.darted_front()
    after = check_edit(MoveApex(dart="d1", by_mm=(12, 30)), project)
    assert dart_of(after).apex_mm == pytest.approx([112, 120])
    assert np.array_equal(dart_of(after).mouth_a, dart_of(project).mouth_a)
    assert np.array_equal(dart_of(after).mouth_b, dart_of(project).mouth_b)
    assert is_straight(curve(after, "p.e2"), 1e-9)


def test_a_shaped_leg_keeps_its_turning_when_the_apex_moves():
    bent = PullEdge(edge="p.e2", at_mm=40.0, by_mm=(-5, 2)).apply(small.darted_front())
    after = check_edit(MoveApex(dart="d1", by_mm=(10, -20)), bent)
    turnings = [turning_rad(curve(one, "p.e2")) for one in (bent, after)]
    assert turnings[0] == pytest.approx(turnings[1], abs=1e-9)


def test_an_apex_that_does_not_move_changes_nothing():
    project = small.darted_front()
    assert MoveApex(dart="d1", by_mm=(0, 0)).apply(project) is project


def test_an_apex_stays_on_its_side_of_the_mouth_and_in_its_piece():
    refused(MoveApex(dart="d1", by_mm=(0, -120)), small.darted_front())
    refused(MoveApex(dart="d1", by_mm=(0, 400)), small.darted_front())
    refused(MoveApex(dart="d1", by_mm=(-15, -90)), small.darted_front())
    refused(MoveApex(dart="s", by_mm=(0, 1)), small.two_panels())


def test_an_apex_is_set_back_along_the_middle_of_its_dart():
    after = check_edit(SetBackApexes(darts=("d1",), by_mm=20), small.darted_front())
    found = measure_dart(after, the_seam(after, "d1"))
    assert found.apex_mm == pytest.approx([100, 70])
    assert found.intake_mm == pytest.approx(30)
    assert is_straight(the_edge(after, "p.e2").curve, 1e-9)


def two_darts():
    """A front whose two darts meet in one apex, (100, 90)."""
    p = small.piece_of_points(
        "p", (0, 0), (80, 0), (100, 90), (90, 0), (110, 0), (100, 90), (120, 0), (200, 0),
        (200, 300), (0, 300),
    )  # fmt: skip
    seams = [
        small.seam("d1", "p.e2", "-p.e3", apex="p.c3"),
        small.seam("d2", "p.e5", "-p.e6", apex="p.c6"),
    ]
    return new_project(p, seams=seams)


def test_apexes_that_met_are_apart():
    after = check_edit(SetBackApexes(darts=("d1", "d2"), by_mm=20), two_darts())
    apexes = [measure_dart(after, the_seam(after, name)).apex_mm for name in ("d1", "d2")]
    assert apexes[0][0] < 100 < apexes[1][0]


def test_an_apex_does_not_leave_through_the_mouth():
    refused(SetBackApexes(darts=("d1",), by_mm=95), small.darted_front())


def test_a_seam_without_an_apex_is_no_dart():
    project = small.darted_front()
    seam = replace(the_seam(project, "d1"), apex=None)
    refused(SetBackApexes(darts=("d1",), by_mm=5), new_project(project.pieces["p"], seams=[seam]))


def test_an_apex_whose_leg_another_dart_opens_in_does_not_move():
    inner = AddDart(piece="p", at=Place("p.e3", 40.0), apex_mm=(150, 60), intake_mm=8)
    project = inner.apply(small.darted_front())
    refused(MoveApex(dart="d1", by_mm=(3, 3)), project)
    moved = check_edit(MoveApex(dart="p.d1", by_mm=(3, 3)), project)
    assert dart_of(moved, "p.d1").apex_mm == pytest.approx([153, 63])


@pytest.mark.parametrize("which", ["a", "b", "both", "apex"])
def test_even_legs_are_equally_long(which):
    slanting = MoveApex(dart="d1", by_mm=(9, 0)).apply(small.darted_front())
    found = dart_of(check_edit(EvenLegs(dart="d1", which=which), slanting))
    assert found.leg_a_mm == pytest.approx(found.leg_b_mm, abs=1e-8)


def test_legs_made_even_at_the_mouth_keep_the_angle():
    slanting = MoveApex(dart="d1", by_mm=(9, 0)).apply(small.darted_front())
    for which in ("a", "b", "both"):
        after = EvenLegs(dart="d1", which=which).apply(slanting)
        assert angles_deg(after) == pytest.approx(angles_deg(slanting), abs=1e-9)
    after = EvenLegs(dart="d1", which="a").apply(slanting)
    assert edge_mm(after, "p.e3") == edge_mm(slanting, "p.e3")


def test_legs_made_even_at_the_apex_keep_the_mouth():
    slanting = MoveApex(dart="d1", by_mm=(9, 0)).apply(small.darted_front())
    after = dart_of(EvenLegs(dart="d1", which="apex").apply(slanting))
    assert after.apex_mm == pytest.approx([100, 90], abs=1e-8)
    assert after.intake_mm == 30


def test_even_legs_stay_as_they_are():
    project = small.darted_front()
    for which in ("a", "apex"):
        assert EvenLegs(dart="d1", which=which).apply(project) is project


def test_shaped_legs_are_made_even_too():
    bent = PullEdge(edge="p.e2", at_mm=40.0, by_mm=(-9, 2)).apply(small.darted_front())
    after = dart_of(check_edit(EvenLegs(dart="d1", which="apex"), bent))
    assert after.leg_a_mm == pytest.approx(after.leg_b_mm, abs=1e-6)


@settings(max_examples=30)
@given(small.blobs(), small.millimetres(-25, 25), small.millimetres(-25, 25))
def test_moving_an_apex_there_and_back_gives_the_outline_back(project, right, up):
    add = AddDart(piece="p", at=Place("p.e1", edge_mm(project, "p.e1") / 2), apex_mm=(5.0, 3.0),
                  intake_mm=6.0)  # fmt: skip
    there = check_or_refuse(add, project)
    moved = there and check_or_refuse(MoveApex(dart="p.d1", by_mm=(right, up)), there)
    if moved:
        back = check_edit(MoveApex(dart="p.d1", by_mm=(-right, -up)), moved)
        for edge in there.pieces["p"].edges:
            assert curve(back, edge.id).segments == pytest.approx(edge.curve.segments, abs=1e-6)
