"""Drawings in by command alone: sizes, corners, cut-outs, lines, labels, pairs, notches, chords."""

from __future__ import annotations

import math

import numpy as np
import pytest
import svgelements
from shapely.geometry import Polygon

from tests.cli.making import Maker, box, ring
from wedgework.files.wedge import read_wedge

ARC, REST = "M100,-100 A60,40 30 0 1 180,-60", " L180,0 H100 Z"


@pytest.fixture
def maker(tmp_path, capsys):
    return Maker(tmp_path, capsys)


def sized(maker, page: str) -> Maker:
    maker.page = page
    return maker


# Size and place


@pytest.mark.parametrize(
    ("page", "mm"),
    [
        ('width="100mm" height="100mm" viewBox="0 0 200 200"', 0.5),
        ('width="10cm" height="10cm" viewBox="0 0 100 100"', 1.0),
        ('width="4in" height="4in" viewBox="0 0 400 400"', 0.254),
        ('width="72pt" height="72pt" viewBox="0 0 72 72"', 25.4 / 72),
        ('width="6pc" height="6pc" viewBox="0 0 6 6"', 25.4 / 6),
        ('width="400Q" height="400Q" viewBox="0 0 100 100"', 1.0),
        ('width="100mm" height="100mm"', 25.4 / 96),
        ('width="100mm" viewBox="0 0 50 50"', 2.0),
        ('height="100mm" viewBox="0 0 50 50"', 2.0),
    ],
)
def test_a_true_size_scales_the_drawing(maker, page, mm):
    sized(maker, page).new('<rect id="r" x="10" y="20" width="30" height="20"/>')
    piece = maker.piece("r")
    assert piece["area_mm2"] == pytest.approx(600 * mm * mm, rel=1e-9)
    assert piece["bounds_mm"] == pytest.approx([10 * mm, -40 * mm, 40 * mm, -20 * mm], abs=1e-9)


@pytest.mark.parametrize(
    ("ratio", "scale", "shift"),
    [
        ("", 1, (50, 0)),
        ("xMinYMin meet", 1, (0, 0)),
        ("xMaxYMid slice", 2, (0, -50)),
        ("none", 1, (0, 0)),
    ],
)
def test_the_page_s_aspect_counts(maker, ratio, scale, shift):
    words = f'preserveAspectRatio="{ratio}"' if ratio else ""
    page = f'width="200mm" height="100mm" viewBox="0 0 100 100" {words}'
    sized(maker, page).new('<rect id="r" x="10" y="10" width="20" height="20"/>')
    sx = 2 if ratio == "none" else scale
    left, top = shift[0] + 10 * sx, shift[1] + 10 * scale
    wanted = [left, -top - 20 * scale, left + 20 * sx, -top]
    assert maker.piece("r")["bounds_mm"] == pytest.approx(wanted, abs=1e-9)


def test_the_viewbox_s_corner_is_the_origin(maker):
    page = 'width="100mm" height="100mm" viewBox="-30 40 100 100"'
    sized(maker, page).new('<rect id="r" x="-20" y="60" width="10" height="10"/>')
    assert maker.piece("r")["bounds_mm"] == pytest.approx([10, -30, 20, -20], abs=1e-9)


@pytest.mark.parametrize(
    "page",
    ['width="100px" height="100px" viewBox="0 0 50 50"', 'width="100" height="100"', "",
     'width="100%" height="100%" viewBox="0 0 50 50"'],
)  # fmt: skip
def test_without_a_true_size_the_unit_is_asked_for(maker, page):
    sized(maker, page)
    drawing = maker.drawing('<rect id="r" x="10" y="10" width="20" height="20"/>')
    answer = maker.run("new", maker.file, "--from", drawing)
    assert answer.is_told_as_it_should_be
    assert not maker.file.exists()
    assert maker.run("new", maker.file, "--from", drawing, "--unit", "cm").code == 0
    assert maker.piece("r")["area_mm2"] == pytest.approx(40_000)


def test_curves_measure_as_another_library_has_them(maker):
    maker.new(f'<path id="a" d="{ARC + REST}"/>')
    path = svgelements.Path(ARC + REST)
    along = [path.point(t) for t in np.linspace(0, 1, 20001)]
    area = Polygon([(p.x, -p.y) for p in along]).area
    piece = maker.piece("a")
    arc = svgelements.Path(ARC).length(error=1e-9)
    (bent,) = [e["length_mm"] for e in piece["edges"] if abs(e["turning_deg"]) > 1]
    assert bent == pytest.approx(arc, abs=0.01)
    assert piece["area_mm2"] == pytest.approx(area, abs=1.0)


def test_transforms_and_uses_are_followed(maker):
    body = (
        '<defs><path id="hidden" d="M0,0 h10 v10 h-10 z"/></defs>'
        '<g transform="translate(100,50) rotate(90)"><g transform="scale(2,3)">'
        '<use id="twin" href="#hidden" x="1" y="2"/><use href="#hidden" x="50"/></g></g>'
        '<path id="gone" style="display:none" d="M0,0 h10 v10 h-10 z"/>'
    )
    maker.new(body)
    pieces = maker.pieces()
    assert set(pieces) == {"twin", "hidden"}
    assert pieces["twin"]["area_mm2"] == pytest.approx(600)
    assert pieces["twin"]["bounds_mm"] == pytest.approx([64, -72, 94, -52], abs=1e-9)


# What is a piece, and what is in it


def test_nesting_counts_even_and_odd(maker):
    maker.new(box("a", 0, 0, 200, 200), box("hole", 40, 50, 120, 70), box("island", 60, 70, 20, 21))
    assert set(maker.pieces()) == {"a", "island"}
    piece = maker.piece("a")
    assert piece["area_mm2"] == pytest.approx(40_000 - 8_400)
    assert [cut["area_mm2"] for cut in piece["cutouts"]] == pytest.approx([8_400])


def test_open_paths_inside_are_lines_and_texts_are_labels(maker):
    maker.new(
        box("a", 0, 0, 200, 200),
        '<path id="fold" d="M20,-20 L140,-110"/>',
        '<text x="50" y="-100">Front <tspan>left</tspan></text>',
    )
    piece = maker.piece("a")
    assert [row["length_mm"] for row in piece["lines"]] == pytest.approx([150])
    assert piece["labels"] == ["Front left"]


def test_open_paths_that_meet_make_one_outline_named_after_the_first(maker):
    maker.new(
        '<path id="one" d="M0,0 L100,0 L100,-50"/>',
        '<path id="two" d="M0.05,-0.02 L0,-50 L100.05,-50"/>',
    )
    assert maker.piece("one")["area_mm2"] == pytest.approx(5000, abs=6)
    assert maker.info()["problems"]


def test_a_path_around_a_path_is_its_cut_line(maker):
    maker.new(box("cutting", -10, -10, 120, 90), box("sewing", 0, 0, 100, 70))
    piece = maker.piece("cutting")
    assert list(maker.pieces()) == ["cutting"]
    assert piece["area_mm2"] == pytest.approx(7000)
    assert [e["allowance_mm"] for e in piece["edges"]] == pytest.approx([10] * 4)


def test_a_frame_on_the_page_is_no_piece(maker):
    maker.new('<rect id="frame" width="1000" height="1000"/>', box("a", 10, -300, 50, 60))
    assert list(maker.pieces()) == ["a"]
    assert any("frame" in problem for problem in maker.info()["problems"])


def test_names_come_from_elements_groups_and_order(maker):
    maker.new(
        '<g id="sleeve"><path d="M0,0 h40 v40 h-40 z"/></g>',
        '<path d="M60,0 h40 v40 h-40 z"/>',
        '<path id="-odd" d="M120,0 h40 v40 h-40 z"/>',
        '<path id="dup" d="M180,0 h40 v40 h-40 z"/>',
        '<path id="dup" d="M240,0 h40 v40 h-40 z"/>',
        '<path d="M300,0 h40 v40 h-40 z"/>',
    )
    names = list(maker.pieces())
    assert names[0] == "sleeve"
    assert [name for name in names if name in ("p1", "p2")] == ["p1", "p2"]
    assert not any(name[0] in "-~" for name in names)
    assert "dup" in names
    assert len(set(names)) == 6


# Corners


@pytest.mark.parametrize(("turn", "corners"), [(14.9, 4), (15.1, 5)])
def test_a_joint_of_fifteen_degrees_is_a_corner(maker, turn, corners):
    lean = 50 * math.tan(math.radians(turn))
    maker.new(ring("a", (0, 0), (100, 0), (100, 50), (100 - lean, 100), (0, 100)))
    piece = maker.piece("a")
    assert len(piece["corners"]) == corners
    assert sum(e["turning_deg"] for e in piece["edges"]) + sum(
        180 - c["angle_deg"] for c in piece["corners"]
    ) == pytest.approx(360, abs=1e-6)


def test_the_corner_angle_may_be_said(maker):
    maker.new(ring("a", (0, 0), (100, 0), (120, 50), (100, 100), (0, 100)), more=["--corner", 60])
    assert len(maker.piece("a")["corners"]) == 4


def test_a_round_outline_has_one_corner_where_it_starts(maker):
    maker.new('<circle id="disc" cx="100" cy="-100" r="50"/>')
    piece = maker.piece("disc")
    (corner,) = piece["corners"]
    assert corner["at_mm"] == pytest.approx([150, 100])
    assert corner["angle_deg"] == pytest.approx(180)
    assert piece["perimeter_mm"] == pytest.approx(100 * math.pi, abs=0.06)


def test_many_chords_become_the_curve_they_were(maker):
    angles = np.linspace(0, math.pi, 400)
    arc = [(round(100 * math.cos(t), 3), round(100 * math.sin(t), 3)) for t in angles]
    maker.new(ring("a", *arc))
    piece = maker.piece("a")
    assert len(piece["edges"]) == 2
    assert max(e["length_mm"] for e in piece["edges"]) == pytest.approx(100 * math.pi, abs=0.02)
    found = read_wedge(maker.file.read_bytes()).pieces["a"]
    assert sum(len(edge.curve.segments) for edge in found.edges) < 20


# What the maker says about the drawing


def notched(depth: float) -> str:
    return ring("a", (0, 0), (100, 0), (100, 48), (100 - depth, 50), (100, 52), (100, 90), (0, 90))


def test_cuts_in_the_outline_become_notches(maker):
    maker.new(notched(6), more=["--notches"])
    piece = maker.piece("a")
    assert piece["area_mm2"] == pytest.approx(9000, abs=1e-6)
    (notch,) = piece["notches"]
    edge = maker.edges()[notch["edge"]]
    assert edge["length_mm"] == pytest.approx(90, abs=1e-6)
    assert notch["at_mm"] == pytest.approx(50, abs=1e-6)


def test_cuts_stay_outline_when_not_asked_for_or_too_deep(maker):
    assert len(maker.new(notched(6)).piece("a")["edges"]) == 7
    assert len(maker.new(notched(11), more=["--notches"]).piece("a")["edges"]) == 7


@pytest.mark.parametrize(("word", "mm"), [("cut", 8), ("cut:5", 5)])
def test_the_drawn_line_may_be_the_cut_line(maker, word, mm):
    maker.new(box("a", 0, 0, 100, 70), more=["--line", word])
    piece = maker.piece("a")
    assert piece["bounds_mm"] == pytest.approx([mm, mm, 100 - mm, 70 - mm], abs=1e-9)
    assert piece["area_mm2"] == pytest.approx((100 - 2 * mm) * (70 - 2 * mm))
    assert [e["allowance_mm"] for e in piece["edges"]] == pytest.approx([mm] * 4)


def test_a_clockwise_outline_is_turned_round(maker):
    maker.new(ring("a", (0, 0), (0, 70), (100, 70), (100, 0)))
    piece = maker.piece("a")
    starts = [edge["start_mm"] for edge in piece["edges"]]
    assert Polygon(starts).exterior.is_ccw
    assert [c["angle_deg"] for c in piece["corners"]] == pytest.approx([90] * 4)


SIZE = 'xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm"'
BOMB = '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>'
DEEP = "<g>" * 5000 + "</g>" * 5000


@pytest.mark.parametrize(
    "text",
    [
        f"{BOMB}<svg {SIZE}><text>&b;</text></svg>",
        f'<svg {SIZE}><path d="M0,0 L1e999,0 L5,5z"/></svg>',
        f"<svg {SIZE}>{DEEP}</svg>",
        f"<svg {SIZE}></svg>",
        "<svg",
        "",
        "no drawing at all",
        "<html></html>",
    ],
)
def test_what_is_hostile_or_no_drawing_is_refused(maker, text):
    path = maker.folder / "bad.svg"
    path.write_text(text)
    answer = maker.run("new", maker.file, "--from", path)
    assert answer.is_told_as_it_should_be
    assert not maker.file.exists()
