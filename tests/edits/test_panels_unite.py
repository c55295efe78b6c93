from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from tests.edits.measuring import area_mm2, curve, edge_ids, edge_mm
from wedgework.edits import Place
from wedgework.edits.cut import CutPiece
from wedgework.edits.marks import AddNotches
from wedgework.edits.move import MovePiece, TurnPiece
from wedgework.edits.panels_unite import UnitePanels
from wedgework.edits.seams import JoinEdges
from wedgework.edits.shape import IntakeStation, ShapeSeam
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.levels import flat_girth_mm


def cut(piece, start, start_mm, end, end_mm, *via):
    return CutPiece(piece=piece, from_=Place(start, start_mm), to=Place(end, end_mm), via_mm=via)


def assert_same_piece(one, other, within_mm=1e-9):
    assert edge_ids(one) == edge_ids(other)
    assert [edge.corner for edge in one.edges] == [edge.corner for edge in other.edges]
    for own, was in zip(one.edges, other.edges, strict=True):
        assert own.curve.segments.shape == was.curve.segments.shape
        assert np.abs(own.curve.segments - was.curve.segments).max() < within_mm


def rotated_to(piece, edge):
    """The piece told from another edge of its outline."""
    at = edge_ids(piece).index(edge)
    return replace(piece, edges=piece.edges[at:] + piece.edges[:at])


@pytest.mark.parametrize("via", [(), ((50.0, 45.0),), ((30.0, 40.0), (60.0, 70.0))])
def test_cutting_and_uniting_gives_the_piece_back(via):
    project = small.square()
    apart = cut("p", "p.e1", 40.0, "p.e3", 60.0, *via).apply(project)
    after = check_edit(UnitePanels(seam="p.cut"), apart)
    assert list(after.pieces) == ["p"]
    assert after.pieces["p"].name == "p"
    assert_same_piece(rotated_to(after.pieces["p"], "p.e1"), project.pieces["p"])


@settings(max_examples=20)
@given(small.blobs(), st.tuples(st.integers(1, 5), st.integers(1, 5)), small.two_ratios())
def test_cutting_and_uniting_any_piece_gives_it_back(project, edges, ratios):
    ends = [
        (f"p.e{number}", ratio * edge_mm(project, f"p.e{number}"))
        for number, ratio in zip(edges, ratios, strict=True)
    ]
    try:
        apart = cut("p", *ends[0], *ends[1]).apply(project)
    except EditRefused:
        return
    after = check_edit(UnitePanels(seam="p.cut"), apart)
    assert_same_piece(rotated_to(after.pieces["p"], "p.e1"), project.pieces["p"])


def test_pieces_that_were_moved_are_laid_together_again():
    apart = cut("p", "p.e1", 40.0, "p.e3", 60.0, (50.0, 45.0)).apply(small.square())
    apart = TurnPiece(piece="p.2", turn_deg=35.0).apply(apart)
    apart = MovePiece(piece="p.2", by_mm=(200.0, -30.0)).apply(apart)
    after = check_edit(UnitePanels(seam="p.cut"), apart)
    assert_same_piece(rotated_to(after.pieces["p"], "p.e1"), small.square().pieces["p"], 1e-9)


def test_other_seams_marks_lines_and_labels_are_carried():
    project = small.with_everything()
    apart = cut("a", "a.e1", 50.0, "a.e3", 50.0).apply(project)
    after = check_edit(UnitePanels(seam="a.cut"), apart)
    piece = after.pieces["a"]
    assert refs_of(after, "s") == refs_of(project, "s")
    assert after.notches["n1"].at == Spot("a.e2", 40.0)
    assert after.notches["n2"].at == Spot("a.e1", pytest.approx(25.0))
    assert {line.id for line in piece.lines} == {"a.l1", "a.l2", "a.l3"}
    assert (len(piece.labels), len(piece.cutouts)) == (1, 1)
    assert flat_girth_mm(after, "waist") == pytest.approx(flat_girth_mm(project, "waist"))


def test_notches_of_the_seam_go_with_it():
    apart = cut("p", "p.e1", 40.0, "p.e3", 60.0).apply(small.square())
    after = check_edit(
        UnitePanels(seam="p.cut"), AddNotches(seam="p.cut", at_mm=(30.0,)).apply(apart)
    )
    assert not after.notches
    assert not after.seams


def test_a_seam_that_joins_shaped_is_refused_with_its_degrees():
    stations = (IntakeStation(at_mm=0, width_mm=0), IntakeStation(at_mm=50, width_mm=20),
                IntakeStation(at_mm=100, width_mm=0))  # fmt: skip
    shaped = ShapeSeam(seam="s", intake=stations).apply(small.two_panels())
    assert "° of dome" in str(refused(UnitePanels(seam="s"), shaped))


def test_panels_of_another_origin_are_united_with_a_corner_where_they_met():
    after = check_edit(UnitePanels(seam="s"), small.two_panels())
    assert list(after.pieces) == ["a"]
    assert edge_ids(after.pieces["a"]) == ["a.e3", "a.e4", "a.e1", "b.e1", "b.e2", "b.e3"]
    assert area_mm2(after.pieces["a"]) == pytest.approx(20_000)
    assert curve(after, "b.e2").start == pytest.approx([200, 0])


def test_sides_of_other_lengths_and_seams_of_three_pieces_are_refused():
    refused(UnitePanels(seam="s"), small.two_panels(100, 104))
    refused(UnitePanels(seam="s"), small.yoke_over_two())
    refused(UnitePanels(seam="d1"), small.darted_front())


def test_a_piece_on_the_fold_that_was_cut_across_is_on_one_fold_again():
    project = small.fold_front()
    apart = cut("p", "p.e4", 80.0, "p.e2", 90.0).apply(project)
    after = check_edit(UnitePanels(seam="p.cut"), apart)
    assert (after.pieces["p"].cutting, after.pieces["p"].fold_edge) == ("fold", "p.e4")
    assert_same_piece(rotated_to(after.pieces["p"], "p.e1"), project.pieces["p"])


def test_a_fold_and_the_pair_that_was_cut_off_it_are_on_the_fold_again():
    apart = cut("p", "p.e1", 50.0, "p.e3", 50.0).apply(small.fold_front())
    after = check_edit(UnitePanels(seam="p.cut"), apart)
    assert (after.pieces["p"].cutting, after.pieces["p"].fold_edge) == ("fold", "p.e4")


def test_a_pair_and_a_single_piece_are_not_united():
    left, right = small.rectangle("a", 50, 100), small.rectangle("b", 50, 100, x=90)
    project = new_project(replace(left, cutting="pair"), right)
    project = JoinEdges(name="s", a=("a.e2",), b=("-b.e4",)).apply(project)
    refused(UnitePanels(seam="s"), project)
