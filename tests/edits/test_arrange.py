import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, described, refs_of, refused
from tests.edits.measuring import angles_deg, area_mm2, curve, edge_ids, edge_mm
from wedgework.edits.arrange import AlignPieces, CopyPiece, FlipPieces, TurnToGrain
from wedgework.edits.drawn import AddLine
from wedgework.edits.marks import AddNotches
from wedgework.edits.move import TurnPiece
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.turning import start_tangent
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Spot
from wedgework.pattern.seams import measure_seam


def box(piece):
    return bounds_of_all([edge.curve for edge in piece.edges]).tolist()


def test_a_copy_lies_clear_beside_its_piece_with_all_that_is_in_it():
    after = check_edit(CopyPiece(piece="a"), small.with_everything())
    copy = after.pieces["a.copy"]
    assert box(copy) == pytest.approx([120, 0, 220, 100])
    assert (len(copy.lines), len(copy.labels), len(copy.cutouts)) == (3, 1, 1)
    assert edge_ids(copy) == ["a.e1.copy", "a.e2.copy", "a.e3.copy", "a.e4.copy"]


def test_a_copy_is_joined_to_nothing_and_its_marks_have_no_mates():
    after = check_edit(CopyPiece(piece="a"), small.with_everything())
    assert list(after.seams) == ["s"]
    assert after.notches["n1.copy"].at == Spot("a.e2.copy", 40.0)
    assert after.notches["n1.copy"].mate is None


def test_a_mirrored_copy_has_the_darts_and_marks_of_its_piece_the_other_way_round():
    project = AddNotches(edge="p.e5", at_mm=(30.0,)).apply(small.darted_front())
    after = check_edit(CopyPiece(piece="p", mirrored=True, by_mm=(300, 0)), project)
    assert refs_of(after, "d1.copy") == (["-p.e2.copy"], ["p.e3.copy"])
    assert angles_deg(after)[0] == pytest.approx(angles_deg(after)[1])
    whole = edge_mm(after, "p.e5")
    assert after.notches["p.e5.n1.copy"].at.at_mm == pytest.approx(whole - 30)


def test_a_label_of_a_mirrored_copy_stays_readable_and_inside():
    after = check_edit(CopyPiece(piece="a", mirrored=True), small.with_everything())
    (label,) = after.pieces["a.copy"].labels
    assert label.angle_rad == pytest.approx(0.0)
    assert 120 < label.at_mm[0] < 220


def test_flipping_a_pair_swaps_the_two_and_changes_no_seam():
    project = AddNotches(seam="s", at_mm=(60.0,)).apply(small.pair_and_fold())
    before = measure_seam(project, project.seams["s"])
    after = check_edit(FlipPieces(pieces=("g",)), project)
    assert refs_of(after, "s") == (["f.e2"], ["~g.e4"])
    measured = measure_seam(after, after.seams["s"])
    assert measured.matches == pytest.approx(before.matches)
    assert after.notches["s.n1"].mate == Spot("g.e4", pytest.approx(60))
    assert curve(after, "g.e4").start[0] == pytest.approx(210)


def test_flipping_twice_gives_the_piece_back():
    project = small.with_everything()
    flip = FlipPieces(pieces=("a", "b"))
    again = check_edit(flip, check_edit(flip, project))
    assert refs_of(again, "s") == refs_of(project, "s")
    for own in ("a.e1", "a.e2", "b.e4"):
        gap = curve(again, own).segments - curve(project, own).segments
        assert np.abs(gap).max() < 1e-9


def test_a_single_piece_is_not_turned_over_without_its_mates():
    assert refused(FlipPieces(pieces=("a",)), small.two_panels()).culprit == "s"


def test_pieces_line_up_with_the_first_or_with_a_line():
    project = new_project(small.rectangle("a", 50, 80), small.rectangle("b", 30, 40, 100, 25))
    after = check_edit(AlignPieces(pieces=("a", "b"), by="top"), project)
    assert box(after.pieces["b"])[3] == pytest.approx(80)
    assert after.pieces["a"] is project.pieces["a"]
    after = check_edit(AlignPieces(pieces=("b",), by="middle across", to_mm=10.0), project)
    assert box(after.pieces["b"])[::2] == pytest.approx([-5, 25])
    refused(AlignPieces(pieces=("b",), by="left"), project)


def test_a_turned_piece_turns_back_to_its_grain_line():
    grain = AddLine(piece="p", kind="grain", points_mm=((50, 20), (50, 80))).apply(small.square())
    leaning = TurnPiece(piece="p", turn_deg=25.0).apply(grain)
    after = check_edit(TurnToGrain(piece="p"), leaning)
    assert start_tangent(after.pieces["p"].lines[0].curve) == pytest.approx([0, 1], abs=1e-12)
    assert curve(after, "p.e1").segments == pytest.approx(curve(grain, "p.e1").segments, abs=1e-9)


def test_an_edge_can_be_what_lies_across():
    leaning = TurnPiece(piece="p", turn_deg=-70.0).apply(small.square())
    after = check_edit(TurnToGrain(piece="p", by="p.e2", along="across"), leaning)
    assert abs(start_tangent(curve(after, "p.e2"))[1]) < 1e-12
    refused(TurnToGrain(piece="p"), small.square())
    refused(TurnToGrain(piece="p", by="x"), small.square())


@settings(max_examples=30)
@given(small.blobs(), small.degrees())
def test_turning_to_an_edge_keeps_the_piece_and_turns_by_a_quarter_at_most(project, turn):
    leaning = TurnPiece(piece="p", turn_deg=turn).apply(project)
    after = check_or_refuse(TurnToGrain(piece="p", by="p.e1"), leaning)
    before, now = (curve(one, "p.e1") for one in (leaning, after))
    cosine = float((before.end - before.start) @ (now.end - now.start))
    assert cosine >= -1e-6
    assert area_mm2(after.pieces["p"]) == pytest.approx(area_mm2(leaning.pieces["p"]), abs=1e-6)
    assert abs(math.remainder(math.atan2(*(now.end - now.start)), math.pi)) < 1e-9


def test_a_copy_of_a_fold_is_on_the_fold():
    after = check_edit(CopyPiece(piece="p", mirrored=True), small.fold_front())
    assert after.pieces["p.copy"].fold_edge == "p.e4.copy"
    assert described(replace(after, pieces=small.fold_front().pieces)) != described(after)
