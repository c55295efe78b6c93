"""From lines to pieces: gaps, joins, nesting, frames, seam lines in cut lines, ids."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely import Point, Polygon

from tests.files.svg_text import (
    SQUARE,
    area_mm2,
    around_mm,
    codes,
    corners_mm,
    only_piece,
    pieces,
    read,
)
from wedgework.geometry.extent import ring_area_mm2


def test_edges_and_corners_are_numbered_along_the_outline():
    piece = only_piece(SQUARE)
    assert [edge.id for edge in piece.edges] == ["a.e1", "a.e2", "a.e3", "a.e4"]
    assert [edge.corner for edge in piece.edges] == ["a.c1", "a.c2", "a.c3", "a.c4"]


def test_a_clockwise_outline_is_turned_and_keeps_its_start():
    # On the page this runs clockwise; with y up that is clockwise too.
    assert corners_mm(only_piece(SQUARE)) == [[10, -10], [10, -40], [30, -40], [30, -10]]


def test_a_counter_clockwise_outline_keeps_its_way():
    piece = only_piece('<path d="M10 10V40H30V10Z"/>')
    assert corners_mm(piece) == [[10, -10], [10, -40], [30, -40], [30, -10]]


def test_an_outline_that_starts_on_a_side_begins_at_the_next_corner():
    piece = only_piece('<path d="M10 20V40H30V10H10Z"/>')
    assert corners_mm(piece)[0] == [10, -40]
    assert [len(edge.curve) for edge in piece.edges] == [1, 1, 1, 1]


def test_an_outline_without_a_corner_has_one_where_it_starts():
    (edge,) = only_piece('<circle cx="50" cy="50" r="30"/>').edges
    assert edge.curve.start.tolist() == edge.curve.end.tolist() == [80, -50]


@pytest.mark.parametrize(("corner_deg", "edges"), [(44, 8), (46, 1)])
def test_a_joint_is_a_corner_from_the_asked_angle_on(corner_deg, edges):
    octagon = Point(50, 50).buffer(30, quad_segs=2)
    piece = only_piece(
        f'<polygon points="{points(octagon)}"/>', corner_rad=math.radians(corner_deg)
    )
    assert len(piece.edges) == edges


@pytest.mark.parametrize("gap", [0.0, 0.05, 0.099])
def test_small_gaps_are_closed_and_told(gap):
    body = f'<path id="a" d="M10 10H30V40H10V{10 + gap}"/>'
    piece = only_piece(body)
    assert area_mm2(piece) == pytest.approx(600, abs=3)
    assert len(piece.edges) == 4
    assert codes(body) == ([("gap_closed", "a")] if gap else [])


def test_a_gap_that_a_closing_line_bridges_is_no_corner():
    body = '<path id="a" d="M10 10H30V40H10V10.06Z"/>'
    assert len(only_piece(body).edges) == 4
    assert codes(body) == [("gap_closed", "a")]


def test_a_wide_gap_leaves_an_open_line():
    body = f'{SQUARE}<path id="b" d="M50 10H70V40H50V10.2"/>'
    assert [piece.id for piece in pieces(body)] == ["a"]
    assert codes(body) == [("open_line", "b")]


def test_open_paths_whose_ends_meet_make_one_outline_with_the_first_id():
    body = (
        '<path id="x" d="M10 10H30"/><line id="y" x1="10" y1="40" x2="10.05" y2="10"/>'
        '<polyline id="z" points="30,10.05 30,40 10,40"/>'
    )
    piece = only_piece(body)
    assert piece.id == "x"
    assert area_mm2(piece) == pytest.approx(600, abs=3)
    assert codes(body) == [("lines_joined", "x"), ("gap_closed", "x")]


def test_ends_meet_in_any_order_and_direction():
    body = "".join(
        f'<line x1="{a}" y1="{b}" x2="{c}" y2="{d}"/>'
        for a, b, c, d in [(0, 0, 9, 0), (9, 9, 0, 9), (9, 9, 9, 0), (0, 0, 0, 9)]
    )
    piece = only_piece(body)
    assert (piece.id, area_mm2(piece)) == ("p1", pytest.approx(81))


def test_a_line_that_hangs_on_an_outline_of_lines_is_an_internal_line():
    body = (
        '<path id="in" d="M30 10L20 30"/><path id="x" d="M10 10H30"/>'
        '<path id="y" d="M30 10V40H10"/><path id="z" d="M10 40V10"/>'
    )
    piece = only_piece(body)
    assert (piece.id, [line.id for line in piece.lines]) == ("x", ["in"])


@pytest.mark.parametrize("first", ["across", "x"])
def test_a_line_from_corner_to_corner_of_an_outline_of_lines_is_an_internal_line(first):
    parts = {
        "across": "M30 10L10 40",
        "x": "M10 10H30",
        "y": "M30 10V40",
        "v": "M30 40H10",
        "z": "M10 40V10",
    }
    order = sorted(parts, key=lambda name: name != first)
    piece = only_piece("".join(f'<path id="{name}" d="{parts[name]}"/>' for name in order))
    assert area_mm2(piece) == pytest.approx(600)
    assert [line.id for line in piece.lines] == ["across"]


def test_stretches_of_no_length_are_dropped_and_told():
    body = '<path id="a" d="M10 10H30L30 10V40l0 0H10Z"/>'
    assert len(only_piece(body).edges) == 4
    assert codes(body) == [("no_length", "a")]


def test_a_shape_of_no_length_is_dropped_and_told():
    assert codes(f'{SQUARE}<path id="b" d="M50 50L50 50Z"/>') == [("no_length", "b")]


@pytest.mark.parametrize(
    "twice",
    [
        '<path id="b" d="M10 10H30V40H10Z"/>',
        '<path id="b" d="M30 40H10V10H30Z"/>',
        '<path id="b" d="M10 10V40H30V10Z"/>',
        '<rect id="b" x="10.01" y="10" width="20" height="30"/>',
    ],
)
def test_an_outline_drawn_twice_is_one_piece(twice):
    body = SQUARE + twice
    assert [piece.id for piece in pieces(body)] == ["a"]
    assert codes(body) == [("drawn_twice", "b")]


@pytest.mark.parametrize(
    "data",
    [
        "M10 10H30V40H10ZM10 10H30V40H10Z",
        "M10 10H30V40H10V10H30V40H10Z",
        "M10 10H30H10H30V40H10Z",
    ],
)
def test_stretches_drawn_twice_count_once(data):
    piece = only_piece(f'<path id="a" d="{data}"/>')
    assert (len(piece.edges), around_mm(piece)) == (4, pytest.approx(100))
    assert {code for code, _ in codes(f'<path id="a" d="{data}"/>')} == {"drawn_twice"}


def test_one_line_of_a_soup_drawn_twice_does_no_harm():
    body = '<path d="M10 10H30"/><path d="M30 10H10"/><path d="M30 10V40H10"/><path d="M10 40V10"/>'
    assert area_mm2(only_piece(body)) == pytest.approx(600)


def test_rings_count_even_and_odd():
    rings = "".join(
        f'<rect id="r{k}" x="{k}" y="{k}" width="{90 - 2 * k}" height="{90 - 2 * k}"/>'
        for k in (1, 25, 30)
    )
    found = {piece.id: [c.id for c in piece.cutouts] for piece in pieces(rings)}
    assert found == {"r1": ["r25"], "r30": []}


def test_a_cutout_runs_clockwise():
    (cutout,) = only_piece(f'{SQUARE}<path d="M12 12V38H20V12Z"/>').cutouts
    assert ring_area_mm2(edge.curve for edge in cutout.edges) == pytest.approx(-8 * 26)
    assert (cutout.id, cutout.edges[0].id, cutout.edges[0].corner) == (
        "a.o1", "a.o1.e1", "a.o1.c1",
    )  # fmt: skip


def test_a_hole_of_the_same_path_is_a_cutout():
    piece = only_piece('<path id="a" d="M10 10H60V80H10Z M30 30H40V40H30Z"/>')
    assert [cutout.id for cutout in piece.cutouts] == ["a.o1"]


def test_an_open_path_inside_a_piece_is_an_internal_line():
    piece = only_piece(f'{SQUARE}<path id="l" d="M12 12L20 30"/><path d="M12 30Q20 20 28 30"/>')
    assert [(line.id, line.kind) for line in piece.lines] == [("l", "style"), ("a.l1", "style")]


@pytest.mark.parametrize("data", ["M10 15V30", "M12 10H30V20", "M10 10H30"])
def test_a_line_drawn_once_more_over_an_outline_is_left_out(data):
    body = f'{SQUARE}<path id="again" d="{data}"/>'
    assert only_piece(body).lines == ()
    assert codes(body) == [("drawn_twice", "again")]


def test_a_frame_on_the_border_of_the_page_is_no_piece():
    frame = '<rect id="f" width="200" height="100"/>'
    body = f"{frame}{SQUARE}"
    assert [piece.id for piece in pieces(body)] == ["a"]
    assert codes(body) == [("frame_left_out", "f")]


def test_a_rectangle_near_the_border_is_a_piece():
    body = f'<rect id="f" x="1" y="1" width="198" height="98"/>{SQUARE}'
    assert [piece.id for piece in pieces(body)] == ["f"]


def test_a_lone_rectangle_as_large_as_its_page_is_a_piece():
    assert only_piece('<rect id="strap" width="200" height="100"/>').id == "strap"


def test_a_seam_line_inside_a_cut_line_is_the_piece_with_its_allowance():
    body = (
        '<path id="cut" d="M10 10H110V90H10Z"/><path id="seam" d="M20 20H100V80H20Z"/>'
        '<circle id="eye" cx="60" cy="50" r="5"/><text x="50" y="40">F</text>'
    )
    piece = only_piece(body)
    assert piece.id == "cut"
    assert area_mm2(piece) == pytest.approx(80 * 60)
    assert [edge.allowance_mm for edge in piece.edges] == [10, 10, 10, 10]
    assert [cutout.id for cutout in piece.cutouts] == ["eye"]
    assert [label.text for label in piece.labels] == ["F"]


def points(polygon):
    return " ".join(f"{x},{y}" for x, y in polygon.exterior.coords[:-1])


def test_a_seam_line_may_have_hollow_and_sharp_corners():
    seam = Polygon([(30, 30), (150, 30), (150, 60), (80, 60), (80, 95), (60, 80), (30, 95)])
    cut = seam.buffer(8, join_style="mitre")
    body = f'<polygon id="cut" points="{points(cut)}"/><polygon id="seam" points="{points(seam)}"/>'
    piece = only_piece(body, 'width="200mm" viewBox="0 0 200 120"')
    assert area_mm2(piece) == pytest.approx(seam.area, rel=1e-9)
    assert {edge.allowance_mm for edge in piece.edges} == {8.0}


@pytest.mark.parametrize("inner", ["M12 20H100V80H12Z", "M60 60l9 9h-9z", "M40 40H80V60H40z"])
def test_a_ring_at_no_constant_distance_is_a_cutout(inner):
    piece = only_piece(f'<path id="o" d="M10 10H110V90H10Z"/><path id="i" d="{inner}"/>')
    assert [cutout.id for cutout in piece.cutouts] == ["i"]


def test_pieces_without_an_id_are_numbered_in_document_order():
    body = '<rect width="5" height="5"/><rect id="p2" x="10" width="5" height="5"/>' + "".join(
        f'<rect x="{20 + 10 * k}" width="5" height="5"/>' for k in range(2)
    )
    assert [piece.id for piece in pieces(body)] == ["p1", "p2", "p3", "p4"]


def test_a_lone_outline_in_a_group_takes_the_id_of_the_group():
    body = '<g id="front"><g><path d="M10 10H30V40H10Z"/></g><path d="M12 12L20 20"/></g>'
    assert only_piece(body).id == "front"


def test_two_outlines_in_a_group_are_numbered():
    body = '<g id="both"><rect width="5" height="5"/><rect x="9" width="5" height="5"/></g>'
    assert [piece.id for piece in pieces(body)] == ["p1", "p2"]


@pytest.mark.parametrize(("told", "kept"), [("-a", "_a"), ("~a", "_a"), ("-~a", "_~a"), ("b", "b")])
def test_a_leading_sign_in_an_id_is_replaced(told, kept):
    assert only_piece(f'<rect id="{told}" width="5" height="5"/>').id == kept


def test_no_id_stands_twice_whatever_the_file_says():
    body = (
        '<rect id="a" width="5" height="5"/><rect id="a.e1" x="10" width="5" height="5"/>'
        '<rect id="a" x="20" width="5" height="5"/><rect id="a.c2" x="30" width="5" height="5"/>'
    )
    project, _ = read(body)
    ids = list(project.all_ids())
    assert len(ids) == len(set(ids))
    assert list(project.pieces) == ["a", "a.e1", "a-2", "a.c2"]


def test_a_drawn_cut_line_gives_the_seam_line_inside_it():
    piece = only_piece('<path id="a" d="M10 10H110V90H10Z"/>', line=8.0)
    assert area_mm2(piece) == pytest.approx(84 * 64)
    assert [edge.id for edge in piece.edges] == ["a.e1", "a.e2", "a.e3", "a.e4"]
    assert {edge.allowance_mm for edge in piece.edges} == {8.0}


def test_a_round_cut_line_gives_a_round_seam_line():
    piece = only_piece('<circle cx="50" cy="50" r="40"/>', line=10.0)
    assert area_mm2(piece) == pytest.approx(math.pi * 900, rel=1e-4)


def test_a_piece_too_narrow_for_its_inset_is_kept_as_drawn():
    body = '<rect id="a" width="100" height="12"/>'
    assert area_mm2(only_piece(body, line=8.0)) == pytest.approx(1200)
    assert codes(body, line=8.0) == [("too_narrow", "a")]


def test_neighbours_share_their_corners_bit_for_bit():
    for piece in pieces('<g transform="rotate(33)">' + SQUARE + "</g>"):
        for before, after in zip([piece.edges[-1], *piece.edges], piece.edges, strict=False):
            assert np.array_equal(before.curve.end, after.curve.start)


def test_an_outline_that_crosses_itself_is_kept_as_drawn():
    body = '<path id="a" d="M10 10L60 60V10L10 40Z"/>'
    assert len(only_piece(body, line=8.0).edges) == 4
    assert codes(body, line=8.0) == [("crosses_itself", "a")]


def test_the_loops_of_an_outline_that_crosses_itself_may_be_alike():
    # Their signed areas add up to nothing; the maker has to be shown the crossing all the same.
    piece = only_piece('<path id="a" d="M10 10L100 100V10L10 100Z"/>')
    assert (piece.id, len(piece.edges)) == ("a", 4)


def test_a_cutout_may_stand_before_its_piece_in_the_file():
    piece = only_piece('<path id="i" d="M40 40H50V44H40z"/><path id="o" d="M10 10H110V90H10Z"/>')
    assert (piece.id, [cutout.id for cutout in piece.cutouts]) == ("o", ["i"])
