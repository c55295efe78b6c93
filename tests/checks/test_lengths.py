"""Lengths of seams and of the legs of darts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests import small
from tests.checks.mending import assert_mends, codes, mended, the
from wedgework.checks import check
from wedgework.pattern.changes import new_project, with_seams
from wedgework.pattern.lookup import the_seam


def test_a_seam_whose_sides_differ_stops_cutting():
    found = the("seam_length", small.two_panels(left_mm=104))
    assert (found.grave, found.where) == ("stops_cutting", ("s",))
    assert (found.measured, found.wanted) == pytest.approx((4.0, 0.0))
    assert "4.00 mm longer" in found.message
    assert found.at_mm == pytest.approx([100, 104])


@pytest.mark.parametrize("left", [100.0, 100.4, 99.6])
def test_what_is_allowed_is_no_finding(left):
    assert "seam_length" not in codes(small.two_panels(left_mm=left))


def test_the_wanted_difference_is_no_finding_and_its_lack_is():
    project = small.two_panels(left_mm=103)
    eased = with_seams(project, replace(the_seam(project, "s"), wanted_mm=3.0))
    assert "seam_length" not in codes(eased)
    missing = with_seams(project, replace(the_seam(project, "s"), wanted_mm=5.0))
    assert the("seam_length", missing).wanted == 5.0


def test_either_side_may_be_trued_or_both():
    project = small.two_panels(left_mm=104)
    found = the("seam_length", project)
    assert [mend.label for mend in found.mends] == [
        "Meet in the middle: A −2.00 mm, B +2.00 mm",
        "Shorten A by 4.00 mm",
        "Lengthen B by 4.00 mm",
    ]
    assert_mends(project, found)
    for mend in found.mends:
        assert "seam_length" not in codes(mended(project, mend))


def test_a_ring_can_only_be_followed_by_the_other_side():
    strip = small.rectangle("q", 300, 20, x=200)
    project = new_project(
        small.disc(50).pieces["p"], strip, seams=[small.seam("s", "p.e1", "-q.e3")]
    )
    found = the("seam_length", project)
    assert [mend.edits[0]["change"] for mend in found.mends] == ["b"]
    assert_mends(project, found)


def test_one_outline_on_both_sides_can_have_no_difference():
    front = replace(small.rectangle("p", 100, 200), cutting="pair")
    seam = replace(small.seam("s", "p.e2", "~p.e2"), wanted_mm=2.0)
    project = new_project(front, seams=[seam])
    found = the("seam_length", project)
    assert found.mends[0].edits[0]["edit"] == "set_seam"
    assert_mends(project, found)


def lame_dart(longer_mm: float):
    p = small.piece_of_points(
        "p", (0, 0), (85, 0), (100, 90), (115, -longer_mm), (200, 0), (200, 300), (0, 300)
    )
    return new_project(p, seams=[small.seam("d1", "p.e2", "-p.e3", apex="p.c3")])


def test_legs_that_differ_are_found_as_legs_and_not_as_a_seam():
    project = lame_dart(3.0)
    found = the("dart_legs", project)
    assert "seam_length" not in codes(project)
    assert found.measured == pytest.approx(-2.96, abs=0.01)
    assert_mends(project, found)


def test_legs_within_half_a_millimetre_agree():
    assert "dart_legs" not in codes(lame_dart(0.4))


def test_the_gravest_stands_first():
    project = small.two_panels(left_mm=104)
    graves = [finding.grave for finding in check(project)]
    assert graves == sorted(graves, key=["stops_cutting", "look_again", "good_to_know"].index)
    assert len(set(graves)) > 1


def test_an_edge_with_two_seams_is_not_offered_to_one_of_them():
    side = replace(small.rectangle("side", 200, 300), cutting="pair")
    crown = small.piece_of_points("crown", (300, 0), (400, 0), (400, 300), (300, 304))
    seams = [
        small.seam("left", "side.e2", "-crown.e4"),
        small.seam("right", "crown.e2", "~side.e2"),
    ]
    project = new_project(side, crown, seams=seams)
    found = the("seam_length", project)
    assert [mend.edits[0]["change"] for mend in found.mends] == ["b"]
    assert_mends(project, found)
