"""What lies under the pointer, and where a dragged point comes to rest."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from wedgework.bench.picking import columns, nearest_edge, piece_under, under
from wedgework.bench.snapping import Snapping, snapped
from wedgework.edits import decode_plain
from wedgework.pattern.table import Table


def kinds(hits):
    return [hit.kind for hit in hits]


def test_hits_come_in_the_order_in_which_presses_take_them():
    assert kinds(under(small.square(), (99.0, 1.0), 4.0)) == ["corner", "edge", "edge", "piece"]


def test_nothing_lies_under_the_empty_table():
    assert under(small.square(), (300.0, 300.0), 4.0) == ()


def test_what_lies_out_of_reach_is_not_taken():
    assert kinds(under(small.square(), (50.0, 3.0), 2.0)) == ["piece"]


def test_an_edge_says_where_along_it_the_pointer_lies():
    hit = nearest_edge(small.square(), (97.0, 30.0), 4.0)
    assert hit.id == "p.e2"
    assert hit.station_mm == pytest.approx(30)
    assert hit.at_mm == pytest.approx((100, 30))


def test_edges_of_one_piece_can_be_asked_alone():
    project = small.two_panels()
    assert nearest_edge(project, (150.0, 50.0), 60.0, "b").id == "b.e4"


def test_a_cut_out_is_no_place_of_its_piece():
    assert piece_under(small.with_everything(), (25.0, 25.0)) is None


def test_the_piece_that_is_drawn_last_lies_on_top():
    project = small.new_project(small.rectangle("one", 50, 50), small.rectangle("two", 50, 50))
    assert piece_under(project, (25.0, 25.0)).id == "two"


def test_marks_labels_and_lines_can_be_taken():
    project = small.with_everything()
    assert under(project, (100.0, 40.0), 3.0)[0].kind == "mark"
    assert under(project, (70.0, 50.0), 3.0)[0].kind == "label"
    assert under(project, (50.0, 60.5), 3.0)[0].kind == "line"


def test_handles_are_there_for_chosen_edges_only():
    project = small.curved_square()
    handle = project.pieces["p"].edges[0].curve.segments[0, 1].tolist()
    assert "handle" not in kinds(under(project, tuple(handle), 3.0))
    assert under(project, tuple(handle), 3.0, ("p.e1",))[0].kind == "handle"


def test_columns_are_built_once_for_a_table_of_pieces():
    project = small.two_panels()
    table = columns(project.pieces)
    named = decode_plain({"edit": "rename", "id": "s", "name": "x"}).apply(project)
    assert columns(named.pieces) is table


@settings(max_examples=40)
@given(project=small.blobs(), x=small.millimetres(-150, 150), y=small.millimetres(-150, 150))
def test_the_nearest_corner_is_the_one_that_brute_force_finds(project, x, y):
    corners = [edge.curve.start for edge in project.pieces["p"].edges]
    hits = [hit for hit in under(project, (x, y), 1000.0) if hit.kind == "corner"]
    assert hits[0].distance_mm == pytest.approx(
        min(math.dist(corner, (x, y)) for corner in corners)
    )


def rest(project, at_mm, without=(), px_mm=0.5, **snapping):
    return snapped(project, at_mm, px_mm, Snapping(**snapping), frozenset(without))


def test_a_corner_draws_a_point_in_and_is_named():
    found = rest(small.square(), (98.0, 1.0))
    assert found.at_mm == (100.0, 0.0)
    assert found.reason == "on corner p.c2"


def test_a_moving_corner_does_not_draw_itself():
    assert rest(small.square(), (101.0, 99.0), without=["p.c3"], levels=False).at_mm == (100, 100)
    found = rest(small.square(), (101.0, 60.0), without=["p.c2", "p.c3"])
    assert found.reason is None


def test_level_with_one_corner_and_upright_with_another():
    found = rest(small.two_panels(100, 130), (102.0, 128.5))
    assert found.at_mm == (100.0, 130.0)
    assert "level with corner b." in found.reason
    assert "upright with corner a." in found.reason


def test_a_level_line_is_named_by_its_level():
    project = small.with_everything()
    levels = Table({"waist": replace(project.levels["waist"], name="waist")})
    found = rest(replace(project, levels=levels), (55.0, 81.0), corners=False)
    assert found.at_mm == pytest.approx((55.0, 80.0))
    assert found.reason == "on the waist line"


def test_the_grid_draws_in_what_nothing_else_has():
    found = rest(small.square(), (41.0, 58.5), grid_mm=20.0)
    assert found.at_mm == (40.0, 60.0)
    assert found.reason == "on the grid"


@settings(max_examples=40)
@given(x=st.floats(-200, 300), y=st.floats(-200, 300))
def test_a_point_never_goes_further_than_the_reach(x, y):
    found = rest(small.two_panels(100, 130), (x, y), grid_mm=25.0)
    assert abs(found.at_mm[0] - x) <= 3.0
    assert abs(found.at_mm[1] - y) <= 3.0


def test_there_is_nothing_to_draw_a_point_in_on_an_empty_table():
    assert rest(small.new_project(), (3.0, 4.0)).at_mm == (3.0, 4.0)
