import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from tests.edits.measuring import curve, edge_ids, edge_mm, total_area_mm2
from wedgework.edits.edges import MergeEdges, SplitEdge
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SAME_POINT_MM
from wedgework.pattern.document import Spot


def test_a_split_names_its_parts_from_the_edge_and_its_corner_too():
    after = check_edit(SplitEdge(edge="p.e1", at_mm=30), small.square())
    edges = after.pieces["p"].edges
    assert edge_ids(after.pieces["p"]) == ["p.e1.1", "p.e1.2", "p.e2", "p.e3", "p.e4"]
    assert [edge.corner for edge in edges[:2]] == ["p.c1", "p.e1.c"]
    assert edge_mm(after, "p.e1.1") == pytest.approx(30, abs=1e-9)


def test_a_backward_run_walks_the_parts_in_walking_order():
    after = check_edit(SplitEdge(edge="b.e4", at_mm=30), small.two_panels())
    assert refs_of(after, "s") == (["a.e2"], ["-b.e4.2", "-b.e4.1"])


def test_a_split_at_an_end_is_refused():
    refused(SplitEdge(edge="p.e1", at_mm=100), small.square())
    refused(SplitEdge(edge="p.e1", at_mm=1e-9), small.square())
    assert refused(SplitEdge(edge="p.e9", at_mm=10), small.square()).culprit == "p.e9"


def test_a_corner_is_no_edge_to_split():
    assert refused(SplitEdge(edge="p.c1", at_mm=10), small.square()).culprit == "p.c1"


def test_a_fold_is_not_split():
    refused(SplitEdge(edge="p.e4", at_mm=10), small.fold_front())


def test_an_edge_of_a_cut_out_is_split_too():
    after = check_edit(SplitEdge(edge="h.e1", at_mm=5), small.with_everything())
    assert [edge.id for edge in after.pieces["a"].cutouts[0].edges][:2] == ["h.e1.1", "h.e1.2"]


def test_marks_go_to_the_part_that_they_lie_on():
    after = check_edit(SplitEdge(edge="a.e2", at_mm=50), small.with_everything())
    assert after.notches["n1"].at == Spot("a.e2.1", pytest.approx(40))
    assert after.holes["o1"].at == Spot("a.e2.2", pytest.approx(20))


def test_a_merge_keeps_the_first():
    after = check_edit(MergeEdges(first="p.e2", second="p.e1"), small.square())
    assert edge_ids(after.pieces["p"]) == ["p.e2", "p.e3", "p.e4"]
    assert edge_mm(after, "p.e2") == pytest.approx(200)
    assert "p.c2" not in after.owners


def test_the_first_and_the_last_edge_of_an_outline_are_neighbours():
    after = check_edit(MergeEdges(first="p.e4", second="p.e1"), small.square())
    assert edge_mm(after, "p.e4") == pytest.approx(200)
    assert after.pieces["p"].edges[-1].id == "p.e4"


def test_edges_that_do_not_meet_are_not_merged():
    refused(MergeEdges(first="p.e1", second="p.e3"), small.square())
    refused(MergeEdges(first="p.e1", second="p.e1"), small.square())
    refused(MergeEdges(first="a.e1", second="b.e1"), small.two_panels())


def test_edges_of_different_runs_are_not_merged():
    assert refused(MergeEdges(first="a.e2", second="a.e3"), small.two_panels()).culprit == "s"
    refused(MergeEdges(first="p.e2", second="p.e3"), small.darted_front())


def test_a_run_walks_a_merged_edge_once():
    split = SplitEdge(edge="b.e4", at_mm=30).apply(small.two_panels())
    after = check_edit(MergeEdges(first="b.e4.2", second="b.e4.1"), split)
    assert refs_of(after, "s") == (["a.e2"], ["-b.e4.2"])


def test_marks_stay_in_place_when_their_edges_are_merged():
    split = SplitEdge(edge="a.e2", at_mm=50).apply(small.with_everything())
    after = check_edit(MergeEdges(first="a.e2.1", second="a.e2.2"), split)
    assert after.notches["n1"].at == Spot("a.e2.1", pytest.approx(40, abs=1e-9))
    assert after.holes["o1"].at == Spot("a.e2.1", pytest.approx(70, abs=1e-9))


@given(small.blobs(), st.integers(1, 5), small.inner_ratios())
def test_split_then_merge_gives_the_edge_back(project, number, ratio):
    edge = f"p.e{number}"
    split = check_edit(SplitEdge(edge=edge, at_mm=ratio * edge_mm(project, edge)), project)
    assert total_area_mm2(split) == pytest.approx(total_area_mm2(project), abs=1e-6)
    back = check_edit(MergeEdges(first=f"{edge}.1", second=f"{edge}.2"), split)
    whole, old = curve(back, f"{edge}.1"), curve(project, edge)
    assert whole.segments == pytest.approx(old.segments, abs=SAME_POINT_MM)
    assert length_mm(whole) == pytest.approx(length_mm(old), abs=1e-9)
