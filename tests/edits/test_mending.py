"""Edits that findings offer: a side turned round, apexes set back."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from wedgework.edits.mending import TrueCorner, TurnSide
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.changes import new_project
from wedgework.pattern.lookup import the_edge


def test_a_side_is_walked_from_its_other_end():
    after = check_edit(TurnSide(seam="s"), small.yoke_over_two())
    assert refs_of(after, "s") == (["yoke.e1"], ["right.e3", "left.e3"])


def test_a_side_turned_twice_is_as_it_was():
    project = small.yoke_over_two()
    twice = TurnSide(seam="s", side="a").apply(TurnSide(seam="s", side="a").apply(project))
    assert refs_of(twice, "s") == refs_of(project, "s")


def test_a_dart_is_not_turned():
    refused(TurnSide(seam="d1"), small.darted_front())


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
