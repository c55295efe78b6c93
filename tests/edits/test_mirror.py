import pytest
from hypothesis import given

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from tests.edits.measuring import angles_deg, edge_ids, edge_mm, total_area_mm2
from wedgework.edits import Place
from wedgework.edits.body import AddLevel, LevelPoint
from wedgework.edits.darts import AddDart
from wedgework.edits.marks import AddNotches
from wedgework.edits.mirror import MirrorPiece
from wedgework.edits.seams import JoinEdges
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Spot
from wedgework.pattern.levels import flat_girth_mm
from wedgework.pattern.seams import measure_seam


def test_a_half_is_unfolded_about_an_edge_into_a_whole_of_the_same_id():
    after = check_edit(MirrorPiece(piece="p", about="p.e4"), small.fold_front())
    assert total_area_mm2(after) == pytest.approx(2 * 100 * 200)
    assert edge_ids(after.pieces["p"]) == ["p.e1", "p.e2", "p.e3", "p.e3.m", "p.e2.m", "p.e1.m"]
    assert (after.pieces["p"].cutting, after.pieces["p"].fold_edge) == ("single", None)


def test_what_is_cut_on_the_fold_is_unfolded_about_it_unasked():
    after = check_edit(MirrorPiece(piece="p"), small.fold_front())
    assert edge_ids(after.pieces["p"]) == ["p.e1", "p.e2", "p.e3", "p.e3.m", "p.e2.m", "p.e1.m"]
    refused(MirrorPiece(piece="g"), small.pair_and_fold())


def test_a_pair_stays_a_pair():
    project = small.pair_and_fold()
    after = check_edit(MirrorPiece(piece="g", about="g.e2"), project)
    assert after.pieces["g"].cutting == "pair"
    assert list(after.seams) == ["s"]


def test_a_seam_that_stood_for_both_sides_is_said_twice():
    after = check_edit(MirrorPiece(piece="f", about="f.e4"), small.pair_and_fold())
    assert refs_of(after, "s") == (["f.e2"], ["-g.e4"])
    assert refs_of(after, "s.m") == (["-f.e2.m"], ["-~g.e4"])
    assert measure_seam(after, after.seams["s.m"]).difference_mm == pytest.approx(0)


def test_a_seam_of_a_half_with_its_own_mirror_image_joins_the_halves_of_the_whole():
    project = JoinEdges(name="back", a=("p.e2",), b=("~p.e2",)).apply(small.fold_front())
    after = check_edit(MirrorPiece(piece="p", about="p.e4"), project)
    assert refs_of(after, "back") == (["p.e2"], ["-p.e2.m"])
    assert list(after.seams) == ["back"]


def test_a_dart_is_there_in_both_halves():
    dart = AddDart(piece="p", at=Place("p.e1", 50), apex_mm=(50, 80), intake_mm=20)
    after = check_edit(MirrorPiece(piece="p", about="p.e4"), dart.apply(small.fold_front()))
    assert list(after.seams) == ["p.d1", "p.d1.m"]
    assert angles_deg(after)[0] == pytest.approx(angles_deg(after)[1])


def test_marks_are_there_in_both_halves():
    project = AddNotches(edge="p.e2", at_mm=(30.0,)).apply(small.fold_front())
    after = check_edit(MirrorPiece(piece="p", about="p.e4"), project)
    assert after.notches["p.e2.n1.m"].at == Spot("p.e2.m", pytest.approx(170))


def test_what_is_drawn_is_there_in_both_halves_but_labels_are_not():
    project = small.with_everything()
    after = check_edit(MirrorPiece(piece="a", about="a.e4"), project)
    piece = after.pieces["a"]
    assert (len(piece.lines), len(piece.cutouts), len(piece.labels)) == (6, 2, 1)


def test_a_curved_joined_or_other_fold_is_refused():
    refused(MirrorPiece(piece="p", about="p.e1"), small.curved_square())
    refused(MirrorPiece(piece="a", about="a.e2"), small.two_panels())
    refused(MirrorPiece(piece="p", about="p.e2"), small.fold_front())
    refused(MirrorPiece(piece="a", about="b.e1"), small.two_panels())


def test_halves_that_would_overlap_are_refused():
    step = small.piece_of_points("p", (0, 0), (100, 0), (100, 50), (150, 50), (150, 80), (0, 80))
    assert refused(MirrorPiece(piece="p", about="p.e2"), new_project(step)).culprit == "p.e2"


@given(small.inner_ratios())
def test_both_halves_are_equally_long_all_round(ratio):
    width = 50 + 100 * ratio
    after = check_edit(MirrorPiece(piece="p", about="p.e4"), small.fold_front(width))
    for own in ("p.e1", "p.e2", "p.e3"):
        assert edge_mm(after, own) == pytest.approx(edge_mm(after, f"{own}.m"), abs=1e-9)


def test_a_level_across_a_tilted_fold_counts_once_in_the_whole():
    half = small.piece_of_points("p", (0, 0), (100, 0), (100, 200), (40, 200))
    project = AddLevel(name="waist", points=(LevelPoint(piece="p", y_mm=100),)).apply(
        new_project(half)
    )
    width = flat_girth_mm(project, "waist")
    after = check_edit(MirrorPiece(piece="p", about="p.e4"), project)
    assert width == pytest.approx(80)
    assert flat_girth_mm(after, "waist") == pytest.approx(2 * width, abs=1e-6)


def test_unfolding_lists_no_notch_twice_on_the_piece_beside_it():
    project = AddNotches(seam="s", at_mm=(60.0,)).apply(small.pair_and_fold())
    after = check_edit(MirrorPiece(piece="f", about="f.e4"), project)
    spots = [spot for mark in after.notches.values() for spot in (mark.at, mark.mate) if spot]
    assert [spot.edge for spot in spots] == ["f.e2", "g.e4", "f.e2.m"]
