import math

import numpy as np
import pytest
from hypothesis import given, settings

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refs_of, refused
from tests.edits.measuring import area_mm2, curve
from wedgework.bench.report import dart_report
from wedgework.checks import check
from wedgework.edits import Place
from wedgework.edits.body import AddLevel, LevelPoint
from wedgework.edits.cut import CutPiece
from wedgework.edits.dart_apex import EvenLegs, MoveApex, SetBackApexes
from wedgework.edits.dart_double import AddDoubleDart
from wedgework.edits.dart_double_from_seam import SeamToDoubleDart
from wedgework.edits.dart_seam import DartToSeam, DoubleDartToSeam
from wedgework.edits.darts import RemoveDart
from wedgework.edits.marks import AddNotches
from wedgework.edits.mirror import MirrorPiece
from wedgework.edits.move import PullEdge
from wedgework.edits.panels_cut import CutAlongLevel
from wedgework.edits.pivot import DivideDart, PivotDart
from wedgework.edits.seams import SetSeam
from wedgework.edits.settings import SetCutting
from wedgework.edits.shape import IntakeStation, ShapeSeam
from wedgework.geometry.extent import ring_area_mm2
from wedgework.pattern.cutlines import cut_outline
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.instances import has_mirror
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.surface import surfaces


def waist_dart(*, smooth=False, widest_mm=60.0, piece="p"):
    """A dart 160 long and 30 wide, 60 above its lower point, in a front of 200 by 300."""
    return AddDoubleDart(
        piece=piece,
        tip_mm=(100, 60),
        apex_mm=(100, 220),
        intake_mm=30,
        widest_mm=widest_mm,
        smooth=smooth,
    )


def front():
    return small.new_project(small.rectangle("p", 200, 300))


def measured(project, own="p.d1"):
    return measure_dart(project, project.seams[own])


@pytest.mark.parametrize("smooth", [False, True])
def test_a_double_dart_is_a_slit_with_two_points(smooth):
    after = check_edit(waist_dart(smooth=smooth), front())
    (slit,) = after.pieces["p"].cutouts
    assert [edge.id for edge in slit.edges] == ["p.d1.a", "p.d1.b"]
    assert refs_of(after, "p.d1") == (["p.d1.a"], ["-p.d1.b"])
    found = measured(after)
    assert found.leg_a_mm == pytest.approx(found.leg_b_mm, abs=1e-9)
    assert found.intake_mm == pytest.approx(30, abs=1e-9)
    assert np.array_equal(found.tip_mm, [100, 60])
    assert np.array_equal(found.apex_mm, [100, 220])


def test_its_angles_are_those_of_two_darts_of_one_mouth():
    # TRADE 4: a dart of half intake 15 over 60 and over 100 is 2 atan(15/60) and 2 atan(15/100).
    found = measured(waist_dart().apply(front()))
    assert found.tip_angle_rad == pytest.approx(2 * math.atan(15 / 60), abs=1e-12)
    assert found.angle_rad == pytest.approx(2 * math.atan(15 / 100), abs=1e-12)


@pytest.mark.parametrize("smooth", [False, True])
def test_where_it_is_widest_the_sheet_is_hollow_by_what_its_points_round(smooth):
    after = waist_dart(smooth=smooth).apply(front())
    shaping = measure_seam(after, after.seams["p.d1"]).shaping_rad
    found = measured(after)
    assert shaping + found.angle_rad + found.tip_angle_rad == pytest.approx(0.0, abs=1e-9)
    (surface,) = surfaces(after)
    assert surface.euler == 1
    assert surface.shaping_rad + surface.boundary_rad == pytest.approx(2 * math.pi, abs=1e-9)


def test_a_curved_leg_passes_its_widest_place_along_the_dart():
    after = waist_dart(smooth=True).apply(front())
    joint = curve(after, "p.d1.a").segments[0]
    assert joint[3] == pytest.approx([85, 120], abs=1e-9)
    assert joint[2][0] == pytest.approx(85, abs=1e-9)


def test_it_is_widest_half_way_where_nothing_is_said():
    after = waist_dart(widest_mm=None).apply(front())
    assert curve(after, "p.d1.b").segments[0, 3] == pytest.approx([115, 140], abs=1e-9)


def test_it_lies_inside_its_piece():
    refused(waist_dart(widest_mm=160.0), front())
    refused(waist_dart(widest_mm=200.0), front())
    refused(AddDoubleDart(piece="p", tip_mm=(100, -5), apex_mm=(100, 90), intake_mm=9), front())
    refused(AddDoubleDart(piece="p", tip_mm=(100, 9), apex_mm=(100, 90), intake_mm=250), front())
    refused(AddDoubleDart(piece="p", tip_mm=(9, 9), apex_mm=(9, 9), intake_mm=5), front())
    there = waist_dart().apply(front())
    refused(AddDoubleDart(piece="p", tip_mm=(90, 50), apex_mm=(110, 230), intake_mm=9), there)


def test_what_is_drawn_across_it_is_cut():
    edit = AddDoubleDart(piece="a", tip_mm=(60, 40), apex_mm=(60, 95), intake_mm=12)
    after = check_edit(edit, small.with_everything())
    lines = [line.id for line in after.pieces["a"].lines]
    assert lines == ["a.l3", "a.l1.1", "a.l1.2", "a.l2.1", "a.l2.2"]
    assert len(after.pieces["a"].cutouts) == 2


def test_a_removed_double_dart_leaves_the_piece_as_it_was():
    project = front()
    back = check_edit(RemoveDart(dart="p.d1"), waist_dart().apply(project))
    assert not back.pieces["p"].cutouts
    assert not back.seams
    assert area_mm2(back.pieces["p"]) == area_mm2(project.pieces["p"])


def test_it_has_no_mouth_to_swing_or_divide():
    there = waist_dart().apply(front())
    for edit in (
        PivotDart(dart="p.d1", to=Place("p.e1", 20.0)),
        DivideDart(dart="p.d1", into=2),
        DartToSeam(dart="p.d1", to=Place("p.e3", 20.0)),
    ):
        refused(edit, there)


def test_its_apex_moves_and_is_set_back():
    there = waist_dart().apply(front())
    moved = check_edit(MoveApex(dart="p.d1", by_mm=(8, 10)), there)
    assert measured(moved).apex_mm == pytest.approx([108, 230])
    assert np.array_equal(measured(moved).tip_mm, [100, 60])
    back = check_edit(SetBackApexes(darts=("p.d1",), by_mm=20), there)
    assert measured(back).apex_mm == pytest.approx([100, 200])


def test_its_legs_may_be_shaped_between_its_points():
    there = waist_dart(smooth=True).apply(front())
    whole = measured(there).leg_a_mm
    stations = tuple(IntakeStation(at, w) for at, w in ((0.0, 0.0), (80.0, 4.0), (whole, 0.0)))
    wider = check_edit(ShapeSeam(seam="p.d1", intake=stations), there)
    assert measured(wider).intake_mm > 33
    open_ended = tuple(IntakeStation(at, w) for at, w in ((0.0, 4.0), (whole, 0.0)))
    refused(ShapeSeam(seam="p.d1", intake=open_ended), there)


def test_nothing_is_found_amiss_with_it_but_a_lap_round_its_widest_place():
    # A lap of 8 mm does round a bend like this one with some force, and that is said.
    assert [finding.code for finding in check(waist_dart().apply(front()))] == ["lap_too_curved"]
    butted = SetSeam(seam="p.d1", join="butted").apply(waist_dart().apply(front()))
    assert [finding.code for finding in check(butted)] == []


def test_legs_that_differ_are_found_and_cannot_be_trued_at_a_point():
    there = waist_dart(smooth=True).apply(front())
    skewed = PullEdge(edge="p.d1.a", at_mm=60.0, by_mm=(-12, 0)).apply(there)
    assert "dart_legs" in [finding.code for finding in check(skewed)]
    refused(EvenLegs(dart="p.d1", which="apex"), skewed)
    refused(EvenLegs(dart="p.d1", which="a"), skewed)


def test_a_lap_is_cut_inside_the_slit():
    there = waist_dart().apply(front())
    outline, slit = cut_outline(there, there.pieces["p"])
    assert {one.edge for one in outline} == {"p.e1", "p.e2", "p.e3", "p.e4"}
    assert {one.edge for one in slit} <= {"p.d1.a", "p.d1.b"}


def test_the_report_tells_both_points():
    there = waist_dart().apply(front())
    told = dart_report(there, there.seams["p.d1"])
    assert told["tip_mm"] == [100, 60]
    assert told["tip_angle_deg"] == pytest.approx(28.0724869, abs=1e-6)
    assert told["intake_mm"] == pytest.approx(30)


def test_an_unfolded_half_has_the_dart_twice():
    folded = SetCutting(piece="p", cutting="fold", about="p.e4").apply(front())
    after = check_edit(MirrorPiece(piece="p", about="p.e4"), waist_dart().apply(folded))
    darts = [seam for seam in after.seams.values() if seam.is_dart]
    assert len(darts) == 2
    assert all(seam.tip is not None and not has_mirror(after, seam) for seam in darts)
    assert measured(after, darts[1].id).intake_mm == pytest.approx(30)


@settings(max_examples=30)
@given(
    small.blobs(),
    small.millimetres(-30, 30),
    small.millimetres(-30, 30),
    small.millimetres(2, 25),
)
def test_a_double_dart_keeps_the_surface_whole(project, right, up, intake_mm):
    edit = AddDoubleDart(
        piece="p", tip_mm=(right, up), apex_mm=(-up, 3.0), intake_mm=intake_mm, smooth=up > 0
    )
    after = check_or_refuse(edit, project)
    if after is not None:
        found = measured(after)
        assert found.leg_a_mm == pytest.approx(found.leg_b_mm, abs=1e-8)
        (surface,) = surfaces(after)
        assert surface.shaping_rad + surface.boundary_rad == pytest.approx(2 * math.pi, abs=1e-8)


def assert_gauss_bonnet(project):
    for one in surfaces(project):
        total = one.shaping_rad + one.boundary_rad
        assert total == pytest.approx(2 * math.pi * one.euler, abs=1e-9)


@pytest.mark.parametrize("smooth", [False, True])
@pytest.mark.parametrize("at_mm", [90.0, 120.0, 180.0])
def test_a_cut_across_a_double_dart_leaves_two_single_darts(smooth, at_mm):
    project = waist_dart(smooth=smooth).apply(front())
    was = measured(project)
    cut = CutPiece(piece="p", from_=Place("p.e4", 300 - at_mm), to=Place("p.e2", at_mm))
    after = check_edit(cut, project)
    assert list(after.seams) == ["p.d1", "p.cut", "p.d1.2"]
    upper, lower = measured(after), measured(after, "p.d1.2")
    assert np.array_equal(upper.apex_mm, was.apex_mm)
    assert np.array_equal(lower.apex_mm, was.tip_mm)
    assert (upper.angle_rad, lower.angle_rad) == pytest.approx((was.angle_rad, was.tip_angle_rad))
    assert upper.leg_a_mm + lower.leg_a_mm == pytest.approx(was.leg_a_mm, abs=1e-9)
    assert upper.intake_mm == pytest.approx(lower.intake_mm, abs=1e-9)
    assert measure_seam(after, after.seams["p.cut"]).state == "agrees"
    slit_mm2 = ring_area_mm2([e.curve for e in project.pieces["p"].cutouts[0].edges])
    sheet_mm2 = area_mm2(project.pieces["p"]) + slit_mm2  # walked clockwise, so it counts less
    assert area_mm2(*after.pieces.values()) == pytest.approx(sheet_mm2, abs=1e-6)
    assert not any(piece.cutouts for piece in after.pieces.values())
    assert_gauss_bonnet(after)


def test_marks_on_a_double_dart_stay_where_they_were_when_it_is_cut_across():
    project = AddNotches(seam="p.d1", at_mm=(40.0,)).apply(waist_dart().apply(front()))
    cut = CutPiece(piece="p", from_=Place("p.e4", 180.0), to=Place("p.e2", 120.0))
    after = check_edit(cut, project)
    (mark,) = after.notches.values()
    legs = {ref.edge for run in (after.seams["p.d1.2"].a, after.seams["p.d1.2"].b) for ref in run}
    assert {mark.at.edge, mark.mate.edge} == legs


def test_a_level_cuts_several_double_darts_at_once():
    project = waist_dart().apply(front())
    project = MoveApex(dart="p.d1", by_mm=(-20, 0)).apply(project)
    side = AddDoubleDart(piece="p", tip_mm=(150, 70), apex_mm=(150, 200), intake_mm=12)
    project = side.apply(project)
    level = AddLevel(name="waist", points=(LevelPoint(piece="p", y_mm=120.0),)).apply(project)
    after = check_edit(CutAlongLevel(level="waist"), level)
    assert list(after.seams) == ["p.d1", "p.d2", "p.cut", "p.d1.2", "p.d2.2"]
    assert [len(run) for run in (after.seams["p.cut"].a, after.seams["p.cut"].b)] == [3, 3]
    assert_gauss_bonnet(after)


def test_a_cut_through_a_point_of_a_double_dart_is_refused():
    project = waist_dart().apply(front())
    cut = CutPiece(piece="p", from_=Place("p.e4", 240.0), to=Place("p.e2", 60.0))
    refused(cut, project)


def test_a_double_dart_runs_out_into_one_seam_shaped_as_the_dart_was():
    project = waist_dart(smooth=True).apply(front())
    was = measured(project)
    after = check_edit(DoubleDartToSeam(dart="p.d1"), project)
    assert list(after.seams) == ["p.d1"]
    assert list(after.pieces) == ["p.1", "p.2"]
    a, b = refs_of(after, "p.d1")
    assert a[1] == "p.d1.a"
    assert b[1] == "-p.d1.b"
    seam = measure_seam(after, after.seams["p.d1"])
    wanted_rad = was.angle_rad + was.tip_angle_rad
    legs = measure_seam(project, project.seams["p.d1"])
    assert seam.shaping_rad == pytest.approx(wanted_rad + legs.shaping_rad, abs=1e-9)
    assert seam.state == "agrees"
    assert_gauss_bonnet(after)


def test_the_lines_out_of_a_double_dart_may_go_to_places_that_are_said():
    edit = DoubleDartToSeam(
        dart="p.d1", from_=Place("p.e1", 80.0), to=Place("p.e2", 280.0), name="princess"
    )
    after = check_edit(edit, waist_dart().apply(front()))
    assert after.seams["p.d1"].name == "princess"
    assert curve(after, "p.cut.a.1").start.tolist() == pytest.approx([80, 0])
    assert curve(after, "p.cut.a.2").end.tolist() == pytest.approx([200, 280])
    out = DoubleDartToSeam(dart="p.d1", from_=Place("p.e3", 80.0))
    refused(out, waist_dart().apply(front()))


def test_a_dart_with_a_mouth_does_not_run_out_at_two_points():
    refused(DoubleDartToSeam(dart="d1"), small.darted_front())


@pytest.mark.parametrize("smooth", [False, True])
@pytest.mark.parametrize("x_mm", [80.0, 120.0])
def test_a_double_dart_becomes_a_seam_and_a_double_dart_again(smooth, x_mm):
    project = MoveApex(dart="p.d1", by_mm=(9, 0)).apply(waist_dart(smooth=smooth).apply(front()))
    there = DoubleDartToSeam(dart="p.d1", from_=Place("p.e1", x_mm)).apply(project)
    after = check_edit(SeamToDoubleDart(seam="p.d1"), there)
    (piece,) = after.pieces.values()
    assert piece.id == "p"
    assert {edge.id for edge in piece.edges} == {edge.id for edge in project.pieces["p"].edges}
    for edge in project.pieces["p"].all_edges():
        assert curve(after, edge.id).segments == pytest.approx(edge.curve.segments, abs=1e-6)
    dart, was = after.seams["p.d1"], project.seams["p.d1"]
    assert (dart.a, dart.b, dart.name) == (was.a, was.b, was.name)
    assert (dart.tip, dart.apex) == (was.tip, was.apex)
    assert measured(after).angle_rad == pytest.approx(measured(project).angle_rad, abs=1e-9)


def test_a_seam_with_no_slit_in_its_middle_is_no_double_dart():
    refused(SeamToDoubleDart(seam="s"), small.two_panels())
    refused(SeamToDoubleDart(seam="s", from_mm=20.0, to_mm=60.0), small.two_panels())
    seam = DartToSeam(dart="d1", to=Place("p.e6", 80.0)).apply(small.darted_front())
    refused(SeamToDoubleDart(seam="d1"), seam)
    refused(SeamToDoubleDart(seam="d1", from_mm=10.0, to_mm=60.0), seam)
    refused(SeamToDoubleDart(seam="d1"), small.darted_front())


def test_a_line_out_of_a_double_dart_leaves_its_point_as_it_should():
    # Split at rounded stations the line began with a crumb of some 1e-14 mm, in any direction.
    tip, apex = (72.67721609638231, 108.2018971056495), (144.08641681327623, 199.7458856324998)
    slit = AddDoubleDart(piece="p", tip_mm=tip, apex_mm=apex, intake_mm=32.08283544645173)
    edit = DoubleDartToSeam(dart="p.d1", from_=Place("p.e1", 136.80452332120655))
    assert_gauss_bonnet(check_edit(edit, slit.apply(front())))
