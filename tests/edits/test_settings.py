from dataclasses import replace

import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits.seams import JoinEdges
from wedgework.edits.settings import SetAllowance, SetCutting, SetFinish
from wedgework.pattern.changes import new_project


def cutting(piece, cutting, about=None):
    return SetCutting(piece=piece, cutting=cutting, about=about)


def test_a_pair_is_a_pair():
    assert check_edit(cutting("p", "pair"), small.square()).pieces["p"].cutting == "pair"


def test_a_fold_about_a_named_edge_marks_it_as_a_fold():
    after = check_edit(cutting("p", "fold", "p.e2"), small.square())
    assert after.pieces["p"].fold_edge == "p.e2"
    assert [edge.finish for edge in after.pieces["p"].edges] == ["open", "fold", "open", "open"]


def test_a_fold_is_about_the_only_edge_of_that_finish():
    marked = small.with_finish(small.square().pieces["p"], "p.e3", "fold")
    after = check_edit(cutting("p", "fold"), new_project(marked))
    assert after.pieces["p"].fold_edge == "p.e3"


def test_a_fold_is_about_the_only_straight_edge():
    piece = small.curved_square().pieces["p"]
    edges = list(piece.edges)
    edges[1] = replace(edges[1], curve=small.line((100, 0), (100, 100)))
    after = check_edit(cutting("p", "fold"), new_project(replace(piece, edges=tuple(edges))))
    assert after.pieces["p"].fold_edge == "p.e2"


def test_a_fold_that_is_not_clear_is_refused():
    refused(cutting("p", "fold"), small.square())
    refused(cutting("p", "fold"), small.curved_square())


def test_a_fold_about_a_curved_or_a_joined_edge_is_refused():
    assert refused(cutting("p", "fold", "p.e1"), small.curved_square()).culprit == "p.e1"
    assert refused(cutting("a", "fold", "a.e2"), small.two_panels()).culprit == "a.e2"
    assert refused(cutting("a", "fold", "b.e1"), small.two_panels()).culprit == "b.e1"


def test_about_belongs_to_folds_alone():
    refused(cutting("p", "pair", "p.e1"), small.square())


def test_an_unfolded_piece_has_no_fold_left():
    after = check_edit(cutting("p", "single"), small.fold_front())
    assert after.pieces["p"].fold_edge is None
    assert {edge.finish for edge in after.pieces["p"].edges} == {"open"}


def test_another_fold_takes_the_finish_from_the_old_one():
    after = check_edit(cutting("p", "fold", "p.e2"), small.fold_front())
    assert [e.id for e in after.pieces["p"].edges if e.finish == "fold"] == ["p.e2"]


def test_a_mirror_image_that_is_joined_has_to_stay():
    project = small.pair_and_fold()
    joined = JoinEdges(name="back", a=("g.e2",), b=("~g.e2",)).apply(project)
    assert refused(cutting("g", "single"), joined).culprit == "back"


def test_setting_the_same_cutting_changes_nothing():
    project = small.fold_front()
    assert cutting("p", "fold", "p.e4").apply(project) is project


def test_allowances_are_set_on_several_edges_of_several_pieces():
    after = check_edit(SetAllowance(edges=("a.e1", "b.e3"), mm=7.5), small.two_panels())
    assert after.pieces["a"].edges[0].allowance_mm == 7.5
    assert after.pieces["b"].edges[2].allowance_mm == 7.5
    assert after.pieces["b"].edges[0].allowance_mm == 0.0


def test_an_allowance_below_nothing_is_refused():
    refused(SetAllowance(edges=("p.e1",), mm=-1), small.square())
    refused(SetAllowance(edges=("p.e1", "zz"), mm=1), small.square())
    refused(SetAllowance(edges=(), mm=1), small.square())


def test_a_finish_is_set_but_not_of_the_fold():
    after = check_edit(SetFinish(edges=("p.e1", "p.e2"), finish="hem"), small.fold_front())
    assert [edge.finish for edge in after.pieces["p"].edges[:2]] == ["hem", "hem"]
    refused(SetFinish(edges=("p.e4",), finish="hem"), small.fold_front())


@pytest.mark.parametrize("mm", [0.0])
def test_setting_what_is_so_already_gives_the_same_project(mm):
    project = small.square()
    assert SetAllowance(edges=("p.e1",), mm=mm).apply(project) is project
