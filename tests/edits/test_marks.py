import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from tests.edits.measuring import edge_mm
from wedgework.edits.marks import (
    AddHoles,
    AddNotches,
    MoveMark,
    RemoveMarks,
    SetHoles,
    SetNotches,
)
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Spot


def test_a_walked_notch_has_its_mate_at_the_same_length_and_not_at_the_same_share():
    project = small.two_panels(100, 96)
    for walked, mate_mm in ((False, 48.0), (True, 46.0)):
        edit = AddNotches(seam="s", at_mm=(50.0,), walked=walked)
        (notch,) = check_edit(edit, project).notches.values()
        assert notch.mate.at_mm == pytest.approx(mate_mm)


def test_notches_of_a_seam_stand_where_they_meet():
    after = check_edit(AddNotches(seam="s", at_mm=(30.0, 80.0)), small.two_panels())
    assert list(after.notches) == ["s.n1", "s.n2"]
    assert after.notches["s.n1"].at == Spot("a.e2", 30.0)
    assert after.notches["s.n1"].mate == Spot("b.e4", pytest.approx(70.0))


def test_notches_of_unequal_sides_meet_at_one_fraction():
    after = check_edit(AddNotches(seam="s", at_mm=(30.0,)), small.two_panels(100, 120))
    assert after.notches["s.n1"].mate == Spot("b.e4", pytest.approx(120 - 36))


def test_notches_between_matched_notches_meet_between_them():
    project = check_edit(AddNotches(seam="s", at_mm=(50.0,)), small.two_panels(100, 120))
    moved = MoveMark(mark="s.n1", at_mm=60.0).apply(project)
    assert moved.notches["s.n1"].mate == Spot("b.e4", pytest.approx(48))


def test_a_notch_on_a_run_over_two_pieces_finds_its_edge():
    after = check_edit(AddNotches(seam="s", at_mm=(150.0,)), small.yoke_over_two())
    assert after.notches["s.n1"].mate == Spot("right.e3", pytest.approx(50.0))


def test_a_piece_joined_to_its_own_mirror_image_needs_no_mate():
    project = new_project(
        small.pair_and_fold().pieces["g"], seams=[small.seam("back", "g.e2", "~g.e2")]
    )
    assert check_edit(AddNotches(seam="back", at_mm=(20,)), project).notches["back.n1"].mate is None


def test_a_notch_on_an_edge_stands_alone_and_may_be_double():
    after = check_edit(AddNotches(edge="p.e1", at_mm=20.0, double=True), small.square())
    notch = after.notches["p.e1.n1"]
    assert (notch.at, notch.mate, notch.double) == (Spot("p.e1", 20.0), None, True)


def test_a_mark_beyond_the_end_is_refused():
    refused(AddNotches(edge="p.e1", at_mm=(101.0,)), small.square())
    refused(AddNotches(seam="s", at_mm=(101.0,)), small.two_panels())
    refused(AddHoles(edge="p.e1", at_mm=(-1.0,)), small.square())


def test_marks_need_one_seam_or_one_edge():
    refused(AddNotches(at_mm=(1.0,)), small.two_panels())
    refused(AddNotches(seam="s", edge="a.e2", at_mm=(1.0,)), small.two_panels())


def test_holes_have_one_datum_on_both_sides():
    after = check_edit(
        AddHoles(seam="s", at_mm=(10.0, 30.0), inset_mm=4.0, diameter_mm=2.5), small.two_panels()
    )
    hole = after.holes["s.o2"]
    assert (hole.inset_mm, hole.diameter_mm) == (4.0, 2.5)
    assert hole.mate == Spot("b.e4", pytest.approx(70.0))


def test_a_moved_mark_takes_its_mate_along():
    after = check_edit(MoveMark(mark="n1", at_mm=55.0), small.with_everything())
    assert after.notches["n1"].at == Spot("a.e2", 55.0)
    assert after.notches["n1"].mate == Spot("b.e4", pytest.approx(45.0))


def test_a_mark_off_its_edge_is_refused():
    refused(MoveMark(mark="n1", at_mm=101.0), small.with_everything())
    refused(MoveMark(mark="zz", at_mm=1.0), small.with_everything())


def test_marks_are_set_and_removed():
    project = small.with_everything()
    double = check_edit(SetNotches(notches=("n1",), double=True), project)
    assert double.notches["n1"].double
    wide = check_edit(SetHoles(holes=("o1",), diameter_mm=3.0), project)
    assert (wide.holes["o1"].diameter_mm, wide.holes["o1"].inset_mm) == (3.0, 0.0)
    gone = check_edit(RemoveMarks(marks=("n1", "o1", "n1")), project)
    assert (list(gone.notches), list(gone.holes)) == (["n2"], [])


def test_a_hole_is_no_notch():
    refused(SetNotches(notches=("o1",), double=True), small.with_everything())
    refused(SetHoles(holes=("n1",), diameter_mm=3.0), small.with_everything())
    refused(RemoveMarks(marks=("a.e1",)), small.with_everything())


def test_stations_follow_the_curve():
    project = small.two_panels(bulge=0.1)
    middle = edge_mm(project, "a.e2") / 2
    after = check_edit(AddNotches(seam="s", at_mm=(middle,)), project)
    assert after.notches["s.n1"].mate == Spot("b.e4", pytest.approx(middle, abs=1e-6))
