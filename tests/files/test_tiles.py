"""Which page shows which part of the drawing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box, unary_union

from wedgework.files.tiles import MARGIN_MM, OVERLAP_MM, tiles_over

A4 = (210.0, 297.0)
sides = st.floats(1.0, 3000.0)


def over(*boxes, paper=A4):
    shapes = [box(*one) for one in boxes]
    return tiles_over(np.array(unary_union(shapes).bounds), paper, shapes)


def test_what_fits_on_one_page_takes_one_and_stands_in_its_middle():
    tiles = over((10, 20, 110, 220))
    assert tiles.cells == ((0, 0),)
    assert tiles.corner((0, 0)) == pytest.approx([60 - 93, 120 - 136.5])


@given(width=sides, height=sides)
def test_the_pages_cells_cover_the_drawing_and_do_not_overlap(width, height):
    tiles = over((0, 0, width, height))
    cells = [box(*tiles.bounds(cell)) for cell in tiles.cells]
    assert unary_union(cells).buffer(1e-6).contains(box(0, 0, width, height))
    assert sum(cell.area for cell in cells) == pytest.approx(unary_union(cells).area)


@given(width=sides, height=sides)
def test_no_column_or_row_is_more_than_needed(width, height):
    tiles = over((0, 0, width, height))
    for side, count, window in zip(
        (width, height), (tiles.columns, tiles.rows), tiles.window_mm, strict=True
    ):
        assert count == 1 or (count - 1) * (window - OVERLAP_MM) + OVERLAP_MM < side


def test_pages_that_would_be_empty_are_left_out():
    tiles = over((0, 0, 100, 100), (1000, 0, 1100, 100))
    assert (tiles.columns, len(tiles.cells)) == (7, 2)


def test_the_inside_of_a_piece_is_paper_too():
    assert len(over((0, 0, 1000, 1000)).cells) == 6 * 4


def test_neighbours_have_their_page_marks_at_the_same_places_of_the_drawing():
    tiles = over((0, 0, 300, 500))
    for cell in tiles.cells:
        for join in tiles.joins(cell):
            back = next(one for one in tiles.joins(join.to) if one.to == cell)
            assert np.allclose(join.marks(), back.marks())
            assert join.above != back.above


def test_both_pages_show_the_strip_about_a_join():
    tiles = over((0, 0, 300, 100))
    (left, right) = (tiles.corner(cell)[0] for cell in tiles.cells)
    (join,) = tiles.joins((0, 0))
    assert join.start[0] - right == pytest.approx(OVERLAP_MM / 2)
    assert left + tiles.window_mm[0] - join.start[0] == pytest.approx(OVERLAP_MM / 2)


def test_a_page_that_is_left_out_is_no_neighbour():
    tiles = over((0, 0, 100, 100), (1000, 0, 1100, 100))
    assert [list(tiles.joins(cell)) for cell in tiles.cells] == [[], []]


def test_pages_are_named_like_the_fields_of_a_map():
    tiles = over((0, 0, 300, 500))
    assert [tiles.page_name(cell) for cell in tiles.cells] == ["A1", "B1", "A2", "B2"]
    assert [tiles.page_name((n, 0)) for n in (25, 26, 27)] == ["Z1", "AA1", "AB1"]


def test_the_margin_is_kept_on_all_sides():
    assert over((0, 0, 1, 1)).window_mm == (210 - 2 * MARGIN_MM, 297 - 2 * MARGIN_MM)


def test_too_many_pages_are_refused():
    with pytest.raises(ValueError, match="too many"):
        over((0, 0, 1, 1), (100_000, 100_000, 100_001, 100_001))
