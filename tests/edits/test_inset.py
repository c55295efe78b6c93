import pytest
from hypothesis import given, settings

from tests import small
from tests.edits.checking import check_edit, refused
from tests.edits.measuring import area_mm2, edge_ids, edge_mm
from wedgework.edits.inset import InsetEdges
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.nearest import nearest
from wedgework.pattern.document import Spot


def test_all_edges_of_a_square_moved_inwards_leave_a_smaller_square():
    edges = ("p.e1", "p.e2", "p.e3", "p.e4")
    after = check_edit(InsetEdges(edges=edges, mm=10), small.square())
    assert area_mm2(after.pieces["p"]) == pytest.approx(6400, abs=1e-6)
    assert edge_ids(after.pieces["p"]) == list(edges)


def test_neighbours_are_cut_off_where_one_edge_moves_inwards():
    after = check_edit(InsetEdges(edges=("p.e1",), mm=15), small.square())
    assert edge_mm(after, "p.e1") == pytest.approx(100, abs=1e-9)
    assert edge_mm(after, "p.e2") == pytest.approx(85, abs=1e-9)


def test_marks_on_a_cut_off_neighbour_stay_where_they_are():
    after = check_edit(InsetEdges(edges=("a.e1",), mm=10), small.with_everything())
    assert after.notches["n1"].at == Spot("a.e2", pytest.approx(30))


def test_a_fold_stays():
    assert refused(InsetEdges(edges=("p.e4",), mm=5), small.fold_front()).culprit == "p.e4"


def test_more_than_the_piece_is_wide_is_refused():
    edges = ("p.e1", "p.e2", "p.e3", "p.e4")
    refused(InsetEdges(edges=edges, mm=60), small.square())


def test_nothing_inwards_changes_nothing():
    project = small.square()
    assert InsetEdges(edges=("p.e1",), mm=0).apply(project) is project
    refused(InsetEdges(edges=("zz",), mm=0), project)
    refused(InsetEdges(edges=("p.e1",), mm=-1), project)


@settings(max_examples=15)
@given(small.millimetres(1, 8))
def test_a_curved_edge_lies_everywhere_at_the_distance(mm):
    project = small.curved_square()
    after = check_edit(InsetEdges(edges=("p.e1", "p.e2", "p.e3", "p.e4"), mm=mm), project)
    old, new = (p.pieces["p"].edges[0].curve for p in (project, after))
    for ratio in (0.2, 0.5, 0.8):
        point = point_at(new, ratio * length_mm(new))
        assert nearest(old, point).distance_mm == pytest.approx(mm, abs=1e-3)
