import math

import pytest

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from tests.edits.measuring import edge_ids
from wedgework.edits.body import AddSheet
from wedgework.edits.pieces import AddPiece, CutFrom, EdgeData, RemovePiece
from wedgework.geometry.curve import line


def edge(start, end):
    cubics = tuple(tuple(map(tuple, cubic)) for cubic in line(start, end).segments.tolist())
    return EdgeData(cubics_mm=cubics)


def ring(*points):
    return tuple(edge(points[i - 1], points[i]) for i in range(len(points)))


def test_a_new_piece_has_edges_and_corners_named_from_it():
    after = check_edit(
        AddPiece(name="gusset", edges=ring((0, 0), (60, 0), (0, 50))), small.square()
    )
    assert edge_ids(after.pieces["gusset"]) == ["gusset.e1", "gusset.e2", "gusset.e3"]
    assert after.owners["gusset.c2"] == "gusset"


def test_a_second_piece_of_a_name_has_an_id_of_its_own():
    add = AddPiece(name="p", edges=ring((0, 0), (60, 0), (0, 50)))
    assert list(check_edit(add, small.square()).pieces) == ["p", "p-2"]


def test_an_outline_that_is_open_clockwise_or_broken_is_refused():
    open_one = (*ring((0, 0), (60, 0), (0, 50))[:2], edge((60, 0), (1, 50)))
    refused(AddPiece(name="x", edges=open_one), small.square())
    refused(AddPiece(name="x", edges=ring((0, 0), (0, 50), (60, 0))), small.square())
    broken = EdgeData(cubics_mm=(*edge((0, 0), (1, 0)).cubics_mm, *edge((2, 0), (3, 0)).cubics_mm))
    refused(AddPiece(name="x", edges=(broken,)), small.square())


def test_a_removed_piece_takes_its_seams_and_marks_along():
    after = check_edit(RemovePiece(piece="a"), small.with_everything())
    assert list(after.pieces) == ["b"]
    assert not after.seams
    assert {mark.at.edge for mark in (*after.notches.values(), *after.holes.values())} == {"b.e4"}


def test_a_seam_over_several_pieces_keeps_the_others():
    after = check_edit(RemovePiece(piece="left"), small.yoke_over_two())
    assert refs_of(after, "s") == (["yoke.e1"], ["-right.e3"])


def test_pieces_are_cut_from_a_sheet():
    project = AddSheet(name="black", width_mm=1000).apply(small.two_panels())
    after = check_edit(
        CutFrom(pieces=("a", "b"), sheet="black", quantity=2, turns_deg=(0, 180)), project
    )
    assert {(p.sheet, p.quantity) for p in after.pieces.values()} == {("black", 2)}
    assert after.pieces["a"].turns_rad == pytest.approx((0, math.pi))
    refused(CutFrom(pieces=("a",), sheet="red"), project)
    refused(CutFrom(pieces=("a",), sheet="black", turns_deg=()), project)
    refused(CutFrom(pieces=("a",), sheet="black", quantity=0), project)
