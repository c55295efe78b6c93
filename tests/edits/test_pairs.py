from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from tests.edits.measuring import curve, edge_ids
from wedgework.edits import Place
from wedgework.edits.arrange import CopyPiece
from wedgework.edits.darts import AddDart
from wedgework.edits.marks import AddNotches
from wedgework.edits.move import MoveCorner, MovePiece, TurnPiece
from wedgework.edits.pairs import PairUp, SplitPair
from wedgework.edits.seams import JoinEdges
from wedgework.edits.settings import SetCutting
from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Spot
from wedgework.pattern.instances import made_seams
from wedgework.pattern.seams import measure_seam


def box_of(project, piece):
    return bounds_of_all([edge.curve for edge in project.pieces[piece].edges])


def uneven():
    return small.piece_of_points("g", (0, 0), (60, 0), (70, 80), (50, 200), (0, 200), bulge=0.05)


def both_sides():
    """A front with a side panel on its right and the mirror image of that on its left."""
    front = small.rectangle("f", 100, 200, x=-150)
    project = new_project(front, uneven())
    project = CopyPiece(piece="g", mirrored=True, by_mm=(-300, 0)).apply(project)
    project = JoinEdges(name="right", a=("f.e2",), b=("-g.e5",)).apply(project)
    return JoinEdges(name="left", a=("-f.e4",), b=("g.e5.copy",)).apply(project)


def test_two_mirror_pieces_become_one_pair_and_their_seams_say_so():
    after = check_edit(PairUp(piece="g", other="g.copy"), both_sides())
    assert list(after.pieces) == ["f", "g"]
    assert after.pieces["g"].cutting == "pair"
    assert refs_of(after, "left") == (["-f.e4"], ["-~g.e5"])
    assert refs_of(after, "right") == (["f.e2"], ["-g.e5"])


def test_a_pair_keeps_what_its_seams_measure():
    before = both_sides()
    after = PairUp(piece="g", other="g.copy").apply(before)
    for own in ("left", "right"):
        one, other = (measure_seam(p, p.seams[own]) for p in (before, after))
        assert one.shaping_rad == pytest.approx(other.shaping_rad, abs=1e-9)
        assert one.difference_mm == pytest.approx(other.difference_mm, abs=1e-9)


def test_seams_between_pieces_that_are_both_paired_are_said_once():
    project = small.two_panels(bulge=0.1)
    for own, by in (("a", (0, 300)), ("b", (0, 300))):
        project = CopyPiece(piece=own, mirrored=True, by_mm=by).apply(project)
    project = JoinEdges(name="t", a=("-a.e2.copy",), b=("b.e4.copy",)).apply(project)
    project = AddNotches(seam="t", at_mm=(20.0,)).apply(project)
    project = AddNotches(seam="s", at_mm=(20.0,)).apply(project)
    made = len(made_seams(project))
    project = check_edit(PairUp(piece="a", other="a.copy"), project)
    project = check_edit(PairUp(piece="b", other="b.copy"), project)
    assert list(project.seams) == ["s"]
    assert len(made_seams(project)) == made
    assert len(project.notches) == 1


def test_darts_of_both_become_the_dart_of_the_pair():
    dart = AddDart(piece="p", at=Place("p.e1", 40), apex_mm=(45, 60), intake_mm=20)
    project = CopyPiece(piece="p", mirrored=True).apply(dart.apply(small.square()))
    assert len(project.seams) == 2
    after = check_edit(PairUp(piece="p", other="p.copy"), project)
    assert list(after.seams) == ["p.d1"]


def test_marks_that_both_have_are_there_once_and_others_are_kept():
    project = both_sides()
    project = AddNotches(edge="g.e3", at_mm=(30.0, 50.0)).apply(project)
    project = AddNotches(edge="g.e3.copy", at_mm=(10.0,)).apply(project)
    whole = measure(project, "g.e3")
    project = AddNotches(edge="g.e3.copy", at_mm=(whole - 30.0,)).apply(project)
    after = check_edit(PairUp(piece="g", other="g.copy"), project)
    spots = sorted(mark.at.at_mm for mark in after.notches.values())
    assert spots == pytest.approx([30, 50, whole - 10])


def measure(project, own):
    return small_length(curve(project, own))


def small_length(one):
    from wedgework.geometry.length import length_mm  # noqa: PLC0415

    return length_mm(one)


def test_pieces_that_are_no_mirror_images_are_refused_with_how_far_they_are():
    project = MoveCorner(corner="g.c3.copy", by_mm=(4.0, 0.0)).apply(both_sides())
    assert "mm apart" in str(refused(PairUp(piece="g", other="g.copy"), project))
    assert check_edit(PairUp(piece="g", other="g.copy", within_mm=5.0), project)
    straight = CopyPiece(piece="g").apply(new_project(uneven()))
    refused(PairUp(piece="g", other="g.copy"), straight)
    refused(PairUp(piece="g", other="g"), straight)
    refused(PairUp(piece="g", other="f"), small.pair_and_fold())


def test_a_pair_is_split_into_two_pieces_that_can_differ():
    after = check_edit(SplitPair(piece="g"), small.pair_and_fold())
    assert [piece.cutting for piece in after.pieces.values()] == ["fold", "single", "single"]
    assert refs_of(after, "s.m") == (["~f.e2"], ["g.e4.m"])
    assert measure_seam(after, after.seams["s.m"]).difference_mm == pytest.approx(0)
    refused(SplitPair(piece="f"), small.pair_and_fold())


def test_the_other_half_is_laid_where_no_piece_lies():
    pair = replace(small.rectangle("p", 100, 50), cutting="pair")
    alone = SplitPair(piece="p").apply(new_project(pair))
    assert box_of(alone, "p.m") == pytest.approx([140, 0, 240, 50])
    crowded = new_project(
        pair, small.rectangle("q", 30, 80, x=150), small.rectangle("r", 9, 9, y=90)
    )
    assert box_of(check_edit(SplitPair(piece="p"), crowded), "p.m")[0] == pytest.approx(220)


def test_a_pair_joined_to_its_own_mirror_image_becomes_two_joined_pieces():
    project = JoinEdges(name="back", a=("g.e2",), b=("~g.e2",)).apply(small.pair_and_fold())
    after = check_edit(SplitPair(piece="g"), project)
    assert refs_of(after, "back") == (["g.e2"], ["-g.e2.m"])


def test_splitting_a_pair_and_pairing_it_up_gives_it_back():
    project = AddNotches(seam="s", at_mm=(60.0,)).apply(small.pair_and_fold())
    project = JoinEdges(name="back", a=("g.e2",), b=("~g.e2",)).apply(project)
    apart = SplitPair(piece="g").apply(project)
    after = check_edit(PairUp(piece="g", other="g.m"), apart)
    assert {own: refs_of(after, own) for own in after.seams} == {
        own: refs_of(project, own) for own in project.seams
    }
    assert [(mark.at, mark.mate) for mark in after.notches.values()] == [
        (Spot("f.e2", 60.0), Spot("g.e4", 140.0))
    ]


@settings(max_examples=30)
@given(small.blobs(), small.degrees(), st.integers(-300, 300))
def test_a_mirror_image_is_known_however_it_lies(project, turn, by):
    project = SetCutting(piece="p", cutting="pair").apply(project)
    apart = SplitPair(piece="p").apply(project)
    apart = MovePiece(piece="p.m", by_mm=(by, -by)).apply(apart)
    apart = TurnPiece(piece="p.m", turn_deg=turn).apply(apart)
    after = check_edit(PairUp(piece="p", other="p.m", within_mm=1e-6), apart)
    assert edge_ids(after.pieces["p"]) == edge_ids(project.pieces["p"])
    assert np.array_equal(curve(after, "p.e1").segments, curve(project, "p.e1").segments)
