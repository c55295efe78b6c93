import math

import numpy as np
import pytest

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from tests.edits.measuring import curve, edge_ids, edge_mm, total_area_mm2
from wedgework.edits import Place
from wedgework.edits.dart_apex import EvenLegs
from wedgework.edits.dart_double import AddDoubleDart
from wedgework.edits.dart_open import DartToEase, DartToFullness
from wedgework.edits.darts import AddDart, RemoveDart
from wedgework.edits.pivot import PivotDart
from wedgework.edits.seams import JoinEdges
from wedgework.geometry.length import points_at
from wedgework.pattern.seams import measure_seam


def front():
    """Legs of 120 and an intake of 40: TRADE 4."""
    return small.darted_front(intake_mm=40, depth_mm=math.sqrt(120**2 - 20**2))


def test_a_mouth_left_open_is_filled_round_the_apex():
    after = check_edit(DartToFullness(dart="d1"), front())
    assert not after.seams
    arc_mm = edge_mm(after, "p.e1") - 160
    assert arc_mm == pytest.approx(40.19, abs=0.005)  # TRADE 4: A * l
    assert arc_mm == pytest.approx(120 * 2 * math.asin(20 / 120), abs=1e-6)
    on_arc = points_at(curve(after, "p.e1"), 80 + np.linspace(0, arc_mm, 9))
    apex = np.array([100, math.sqrt(120**2 - 20**2)])
    assert np.hypot(*(on_arc - apex).T) == pytest.approx(120, abs=1e-6)


def test_filled_straight_it_is_as_wide_as_the_mouth():
    project = front()
    after = check_edit(DartToFullness(dart="d1", fill="straight"), project)
    assert edge_ids(after.pieces["p"]) == ["p.e1", "p.e5", "p.e6", "p.e7"]
    assert edge_mm(after, "p.e1") == pytest.approx(200, abs=1e-9)
    assert total_area_mm2(after) == pytest.approx(200 * 300, abs=1e-6)


def test_fullness_swung_to_another_edge_is_a_slash_about_the_same_apex():
    # The edge opens by 2 l sin(A / 2), as a slash of length l hinged at the apex does.
    project = front()
    angle = 2 * math.asin(20 / 120)
    swung = PivotDart(dart="d1", to=Place("p.e6", 100.0)).apply(project)
    leg_mm = 300 - math.sqrt(120**2 - 20**2)
    after = check_edit(DartToFullness(dart="d1", fill="straight"), swung)
    upper = [edge for edge in after.pieces["p"].edges if edge.id.startswith(("p.e6", "d1.fill"))]
    opened = sum(edge_mm(after, edge.id) for edge in upper) - 200
    assert opened == pytest.approx(2 * leg_mm * math.sin(angle / 2), abs=1e-6)


def test_legs_that_differ_are_filled_with_a_distance_that_changes_evenly():
    slanting = AddDart(piece="p", at=Place("p.e1", 50.0), apex_mm=(80, 60), intake_mm=20)
    after = check_edit(DartToFullness(dart="p.d1"), slanting.apply(small.square()))
    assert total_area_mm2(after) > 10000 - 600


def test_what_has_no_mouth_is_not_left_open():
    refused(DartToFullness(dart="s"), small.two_panels())
    slit = AddDoubleDart(piece="p", tip_mm=(50, 20), apex_mm=(50, 80), intake_mm=9)
    refused(DartToFullness(dart="p.d1"), slit.apply(small.square()))


def joined_front():
    """A front with a dart in its lower edge, which is joined to a yoke."""
    project = front()
    yoke = small.rectangle("y", 160, 60, x=20, y=-100)
    whole = small.new_project(*project.pieces.values(), yoke, seams=project.seams.values())
    return JoinEdges(name="yoke", a=("p.e1", "p.e4"), b=("-y.e3",)).apply(whole)


def test_a_dart_eased_into_a_seam_is_its_wanted_difference():
    project = joined_front()
    before = measure_seam(project, project.seams["yoke"])
    after = check_edit(DartToEase(dart="d1"), project)
    seam = after.seams["yoke"]
    assert seam.wanted_mm == pytest.approx(120 * 2 * math.asin(20 / 120), abs=1e-6)
    assert measure_seam(after, seam).difference_mm == pytest.approx(before.difference_mm, abs=1e-9)
    assert "d1.fill" in refs_of(after, "yoke")[0] or len(refs_of(after, "yoke")[0]) == 1


def test_on_the_other_side_the_wanted_difference_is_less():
    project = front()
    yoke = small.rectangle("y", 160, 60, x=20, y=-100)
    whole = small.new_project(*project.pieces.values(), yoke, seams=project.seams.values())
    turned = JoinEdges(name="yoke", a=("-y.e3",), b=("p.e1", "p.e4")).apply(whole)
    after = check_edit(DartToEase(dart="d1", fill="straight"), turned)
    assert after.seams["yoke"].wanted_mm == pytest.approx(-40, abs=1e-9)


def test_there_is_no_ease_without_a_seam():
    refused(DartToEase(dart="d1"), front())


def test_a_dart_removed_is_not_the_same_as_one_left_open():
    project = EvenLegs(dart="d1", which="both").apply(front())
    assert total_area_mm2(RemoveDart(dart="d1").apply(project)) < total_area_mm2(
        DartToFullness(dart="d1").apply(project)
    )
