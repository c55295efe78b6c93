"""Edits that findings offer: a side turned round, apexes set back."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from wedgework.edits.mending import SetBackApexes, TurnSide
from wedgework.geometry.curve import is_straight
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
