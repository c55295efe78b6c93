"""Notches and rows of holes that should meet."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests import small
from tests.checks.mending import assert_mends, codes, mended, the
from wedgework.checks import findings_touching
from wedgework.edits.marks import AddHoles, AddNotches
from wedgework.pattern.changes import with_pieces, with_seams
from wedgework.pattern.document import Hole, Notch, Project, Spot
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.table import Table


def notched(project: Project, *notches: Notch) -> Project:
    return replace(project, notches=Table({notch.id: notch for notch in notches}))


def test_notches_of_a_seam_meet():
    project = AddNotches(seam="s", at_mm=(30.0, 70.0)).apply(small.two_panels())
    assert "seam_notches" not in codes(project)


def test_a_notch_of_one_side_alone_is_looked_at_again():
    project = AddNotches(edge="a.e2", at_mm=40.0).apply(small.two_panels())
    found = the("seam_notches", project)
    assert (found.grave, found.where) == ("look_again", ("s", "a.e2.n1"))
    assert found.at_mm == pytest.approx([100, 40])
    assert_mends(project, found)
    assert "seam_notches" not in codes(mended(project, found.mends[0]))


@pytest.mark.parametrize(("at_mm", "is_found"), [(59.6, False), (60.5, False), (59.2, True)])
def test_mates_may_be_half_a_millimetre_apart(at_mm, is_found):
    notch = Notch(id="n", at=Spot("a.e2", 40.0), mate=Spot("b.e4", at_mm))
    assert ("seam_notches" in codes(notched(small.two_panels(), notch))) == is_found


def test_mates_that_are_apart_are_set_again():
    notch = Notch(id="n", at=Spot("a.e2", 40.0), mate=Spot("b.e4", 57.0), double=True)
    project = notched(small.two_panels(), notch)
    found = the("seam_notches", project)
    assert found.measured == pytest.approx(-3.0)
    assert_mends(project, found)
    again = mended(project, found.mends[0])
    assert [one.double for one in again.notches.values()] == [True]


def test_two_single_notches_that_meet_are_as_good_as_mates():
    one, other = Notch(id="m", at=Spot("a.e2", 40.0)), Notch(id="n", at=Spot("b.e4", 60.2))
    assert "seam_notches" not in codes(notched(small.two_panels(), one, other))


def test_ease_may_lie_anywhere_between_the_notches():
    project = small.two_panels(left_mm=110)
    project = with_seams(project, replace(the_seam(project, "s"), wanted_mm=10.0))
    before_it = Notch(id="m", at=Spot("a.e2", 40.0), mate=Spot("b.e4", 60.0))
    behind_it = Notch(id="n", at=Spot("a.e2", 60.0), mate=Spot("b.e4", 50.0))
    assert "seam_notches" not in codes(notched(project, before_it, behind_it))


def test_a_notch_on_an_edge_without_a_seam_has_no_mate_to_miss():
    project = AddNotches(edge="a.e1", at_mm=40.0).apply(small.two_panels())
    assert "seam_notches" not in codes(project)


def test_a_notch_that_meets_in_another_seam_of_its_edge_is_right():
    project = small.two_panels()
    facing = small.rectangle("f", 20, 100, x=400)
    project = _with_facing(project, facing)
    mate = Notch(id="n", at=Spot("a.e2", 40.0), mate=Spot("f.e4", 60.0))
    assert "seam_notches" not in codes(notched(project, mate))


def _with_facing(project: Project, facing) -> Project:
    laid_on = replace(small.seam("t", "a.e2", "-f.e4"), laid_on=True)
    return with_seams(with_pieces(project, facing), laid_on)


def holed(*holes: tuple[str, float]) -> Project:
    rows = {
        f"o{i}": Hole(id=f"o{i}", at=Spot(edge, at_mm), inset_mm=4.0, diameter_mm=3.0)
        for i, (edge, at_mm) in enumerate(holes)
    }
    return replace(small.two_panels(), holes=Table(rows))


def test_rows_of_holes_that_meet_say_nothing():
    project = AddHoles(seam="s", at_mm=(20.0, 40.0, 60.0)).apply(small.two_panels())
    assert "holes_apart" not in codes(project)
    assert "holes_apart" not in codes(holed(("a.e2", 20.0), ("b.e4", 80.3)))


def test_rows_that_drift_apart_stop_cutting_and_are_punched_again():
    project = holed(("a.e2", 20.0), ("a.e2", 40.0), ("b.e4", 80.0), ("b.e4", 59.0))
    found = the("holes_apart", project)
    assert (found.grave, found.where[0]) == ("stops_cutting", "s")
    assert found.measured == pytest.approx(1.0)
    assert_mends(project, found)
    assert all(one.inset_mm == 4.0 for one in mended(project, found.mends[0]).holes.values())


def test_a_row_on_one_side_alone_meets_nothing():
    assert "holes_apart" not in codes(holed(("a.e2", 20.0), ("a.e2", 40.0)))


@pytest.mark.parametrize(("at_mm", "is_found"), [(40.0, True), (40.4, True), (41.0, False)])
def test_two_notches_on_one_place_are_looked_at_again(at_mm, is_found):
    one = Notch(id="m", at=Spot("a.e2", 40.0), mate=Spot("b.e4", 60.0))
    project = notched(small.two_panels(), one, Notch(id="n", at=Spot("a.e2", at_mm)))
    assert ("notches_meet" in codes(project)) == is_found


def test_of_two_notches_on_one_place_that_with_a_mate_is_kept():
    one = Notch(id="m", at=Spot("a.e2", 40.0))
    other = Notch(id="n", at=Spot("b.e4", 60.0), mate=Spot("a.e2", 40.0))
    project = notched(small.two_panels(), one, other)
    found = the("notches_meet", project)
    assert (found.grave, found.where) == ("look_again", ("a", "n", "m"))
    assert_mends(project, found)
    assert set(mended(project, found.mends[0]).notches) == {"n"}


def test_a_notch_that_is_moved_onto_another_is_found_by_what_it_touches():
    project = notched(
        small.square(), Notch(id="m", at=Spot("p.e1", 40)), Notch(id="n", at=Spot("p.e1", 40))
    )
    assert "notches_meet" in [one.code for one in findings_touching(project, ["n"])]
