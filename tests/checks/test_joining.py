"""Seams that are twisted, that end in a peak, or that shape nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests import small
from tests.checks.mending import assert_mends, codes, mended, the
from wedgework.checks import check
from wedgework.pattern.changes import new_project, with_pieces, with_seams
from wedgework.pattern.document import parse_ref
from wedgework.pattern.lookup import the_seam


def test_a_seam_that_lays_both_pieces_on_one_side_is_twisted():
    project = small.two_panels()
    seam = replace(the_seam(project, "s"), b=(parse_ref("b.e4"),))
    project = with_seams(project, seam)
    found = the("seam_twisted", project)
    assert (found.grave, found.where) == ("stops_cutting", ("s",))
    assert_mends(project, found)
    assert "seam_twisted" not in codes(mended(project, found.mends[0]))


def test_a_seam_walked_backwards_on_both_sides_is_mended_on_side_a():
    project = small.two_panels()
    project = with_seams(project, replace(the_seam(project, "s"), a=(parse_ref("-a.e2"),)))
    found = the("seam_twisted", project)
    assert found.mends[0].edits[0]["side"] == "a"
    assert_mends(project, found)


def test_a_piece_and_its_mirror_image_face_each_other():
    front = replace(small.rectangle("p", 100, 200), cutting="pair")
    assert "seam_twisted" not in codes(new_project(front, seams=[small.seam("s", "p.e2", "~p.e2")]))


def test_what_is_laid_on_lies_on_the_same_side():
    project = small.two_panels()
    seam = replace(the_seam(project, "s"), b=(parse_ref("b.e4"),), laid_on=True)
    assert "seam_twisted" not in codes(with_seams(project, seam))


def leaning(by_mm: float):
    """Two panels whose upper edge has a peak over the seam."""
    a = small.piece_of_points("a", (0, 0), (100, 0), (100, 100), (0, 100 - by_mm))
    b = small.rectangle("b", 100, 100, x=200)
    return new_project(a, b, seams=[small.seam("s", "a.e2", "-b.e4")])


def test_corners_that_do_not_make_a_line_are_looked_at_again():
    found = the("seam_corner", leaning(10.0))
    assert found.grave == "look_again"
    assert found.where == ("s", "a.c3", "b.c4")
    assert found.measured == pytest.approx(174.3, abs=0.05)
    assert found.wanted == 180.0
    assert "peak of 5.7 degrees" in found.message
    assert found.at_mm == pytest.approx([100, 100])
    assert_mends(leaning(10.0), found)
    assert "seam_corner" not in codes(mended(leaning(10.0), found.mends[0]))


@pytest.mark.parametrize("by_mm", [0.0, 5.0, -5.0])
def test_three_degrees_are_no_peak(by_mm):
    assert "seam_corner" not in codes(leaning(by_mm))


def test_corners_inside_the_garment_make_no_line():
    project = leaning(10.0)
    lid = small.rectangle("lid", 200, 50, y=300)
    upper = small.seam("t", "lid.e1", "-a.e3 -b.e3")
    project = new_project(*project.pieces.values(), lid, seams=[the_seam(project, "s"), upper])
    assert not [
        one for one in codes(project) if one == "seam_corner" and the(one, project).where[0] == "s"
    ]


def at_the_opening(project):
    """The finding at the corner where three pieces meet, if there is one."""
    return next(one for one in check(project) if "p.c2" in one.where and "q.c1" in one.where)


def test_angles_of_three_pieces_at_an_opening_are_summed():
    project = small.meeting_at_an_opening()
    found = at_the_opening(project)
    assert found.measured == pytest.approx(150.0)
    assert found.where == ("s1", "p.c2", "w.c1", "q.c1")
    assert "70.0, 10.0 and 70.0 degrees, 150.0 together" in found.message
    assert_mends(project, found)
    assert not [one for one in check(mended(project, found.mends[0])) if one.where == found.where]


def test_a_mend_draws_the_line_over_all_its_pieces():
    project = leaning(10.0)
    found = the("seam_corner", project)
    assert "seam_corner" not in codes(mended(project, found.mends[1]))


def test_a_corner_is_told_anew_when_a_piece_further_round_it_changes():
    project = small.meeting_at_an_opening()
    assert at_the_opening(project)
    q = project.pieces["q"]
    tilted = small.piece_of_points("q", (400, 0), (400 + 80 * 3**0.5, 80), (500, 180), (436.4, 100))
    edges = tuple(replace(new, id=old.id) for new, old in zip(tilted.edges, q.edges, strict=True))
    after = with_pieces(project, replace(q, edges=edges))
    assert after.seams["s1"] is project.seams["s1"]
    assert at_the_opening(after).measured == pytest.approx(120.0, abs=0.01)


def test_a_straight_seam_between_two_pieces_joins_flat():
    found = the("flat_seam", small.two_panels())
    assert (found.grave, found.where, found.wanted) == ("good_to_know", ("s",), 5.0)
    assert found.measured == pytest.approx(0.0, abs=1e-9)


def test_a_shaped_seam_is_not_flat():
    assert "flat_seam" not in codes(small.two_panels(bulge=0.15))


def test_a_seam_of_one_piece_or_a_dart_is_no_flat_seam():
    front = replace(small.rectangle("p", 100, 200), cutting="pair")
    assert "flat_seam" not in codes(new_project(front, seams=[small.seam("s", "p.e2", "~p.e2")]))
    assert "flat_seam" not in codes(small.darted_front())


def joined_at(*places: str):
    """A front whose edges, some of them, are joined to the one long edge of a strap."""
    strap = small.rectangle("t", 300, 20, y=-100)
    front = small.rectangle("f", 100, 200)
    return new_project(front, strap, seams=[small.seam("s", " ".join(places), "-t.e3")])


@pytest.mark.parametrize(
    ("run", "leaps"),
    [
        (("f.e1", "f.e2"), False),
        (("f.e4", "f.e1", "f.e2"), False),
        (("f.e1", "f.e3"), True),
        (("-f.e2", "-f.e1"), False),
        (("-f.e3", "-f.e1"), True),
    ],
)
def test_a_run_that_leaps_over_an_edge_is_looked_at_again(run, leaps):
    project = joined_at(*run)
    assert ("run_jumps" in codes(project)) == leaps


def test_a_leap_is_told_with_both_of_its_edges_and_where_it_begins():
    found = the("run_jumps", joined_at("f.e1", "f.e3"))
    assert (found.grave, found.where) == ("look_again", ("s", "f.e1", "f.e3"))
    assert found.at_mm.tolist() == [100, 0]


def test_a_run_goes_on_over_the_mouth_of_a_dart():
    project = small.darted_front()
    strap = small.rectangle("t", 300, 20, y=-100)
    hem = [edge.id for edge in project.pieces["p"].edges if edge.curve.segments[:, :, 1].max() == 0]
    assert len(hem) == 2
    project = with_seams(with_pieces(project, strap), small.seam("s", " ".join(hem), "-t.e3"))
    assert "run_jumps" not in codes(project)
