"""Edits that findings offer: a side turned round, apexes set back."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from wedgework.edits.mending import SetBackApexes, TrueCorner, TurnSide
from wedgework.geometry.curve import is_straight
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.changes import new_project
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.lookup import the_edge, the_seam


def test_a_side_is_walked_from_its_other_end():
    after = check_edit(TurnSide(seam="s"), small.yoke_over_two())
    assert refs_of(after, "s") == (["yoke.e1"], ["right.e3", "left.e3"])


def test_a_side_turned_twice_is_as_it_was():
    project = small.yoke_over_two()
    twice = TurnSide(seam="s", side="a").apply(TurnSide(seam="s", side="a").apply(project))
    assert refs_of(twice, "s") == refs_of(project, "s")


def test_a_dart_is_not_turned():
    refused(TurnSide(seam="d1"), small.darted_front())


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


def leaning():
    """Two panels whose upper edge has a peak of 11 degrees over the seam."""
    a = small.piece_of_points("a", (0, 0), (100, 0), (100, 100), (0, 90))
    b = small.piece_of_points("b", (200, 0), (300, 0), (300, 90), (200, 100))
    return new_project(a, b, seams=[small.seam("s", "a.e2", "-b.e4")])


@pytest.mark.parametrize("end", ["last", "first"])
def test_a_trued_corner_lets_the_line_go_straight_on(end):
    project = leaning()
    if end == "first":
        project = TurnSide(seam="s", side="a").apply(TurnSide(seam="s", side="b").apply(project))
    after = check_edit(TrueCorner(seam="s", end=end), project)
    angles = [
        corner_angle(after.pieces[name], f"{name}.{c}") for name, c in (("a", "c3"), ("b", "c4"))
    ]
    assert sum(angles) == pytest.approx(math.pi, abs=1e-12)
    assert the_edge(after, "a.e2") is the_edge(project, "a.e2")
    for edge in ("a.e3", "b.e3"):
        old, new = the_edge(project, edge).curve, the_edge(after, edge).curve
        assert new.start.tolist() == old.start.tolist()
        assert new.end.tolist() == old.end.tolist()


def test_a_mouth_trued_lies_straight_when_the_dart_is_closed():
    after = check_edit(TrueCorner(seam="d1", end="first"), small.darted_front())
    piece = after.pieces["p"]
    assert corner_angle(piece, "p.c2") + corner_angle(piece, "p.c4") == pytest.approx(math.pi)


def test_a_piece_and_its_mirror_image_share_the_turn():
    half = small.piece_of_points("p", (0, 0), (100, 0), (100, 100), (0, 90))
    project = new_project(replace(half, cutting="pair"), seams=[small.seam("s", "p.e2", "~p.e2")])
    after = check_edit(TrueCorner(seam="s", end="last"), project)
    assert corner_angle(after.pieces["p"], "p.c3") == pytest.approx(math.pi / 2)


def test_no_line_is_drawn_where_the_edges_across_are_joined():
    project = leaning()
    lid = small.rectangle("lid", 200, 40, y=300)
    joined = small.seam("t", "lid.e1", "-a.e3 -b.e3")
    seams = [*project.seams.values(), joined]
    refused(
        TrueCorner(seam="s", end="last"), new_project(*project.pieces.values(), lid, seams=seams)
    )


def test_what_is_far_from_a_line_is_a_corner():
    a = small.piece_of_points("a", (0, 0), (100, 0), (100, 100), (0, 20))
    b = small.piece_of_points("b", (200, 0), (300, 0), (300, 20), (200, 100))
    seams = [small.seam("s", "a.e2", "-b.e4")]
    refused(TrueCorner(seam="s", end="last"), new_project(a, b, seams=seams))
