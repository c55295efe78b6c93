"""Small cuts into the outline become notches, and leave the edge whole."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.files.svg_text import area_mm2, read
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.turning import joint_turnings_rad

PAGE = 'width="400mm" height="400mm" viewBox="0 0 400 400"'


def outline(side: str) -> str:
    """A rectangle 200 by 100 at (50, 50), its upper side going through `side`."""
    return f'<path id="a" d="M50 50 {side} H250 V150 H50 Z"/>'


def notched(body: str, **wishes):
    project, _ = read(body, PAGE, notches=True, **wishes)
    (piece,) = project.pieces.values()
    places = [
        point_at(edge.curve, notch.at.at_mm).tolist()
        for notch in project.notches.values()
        for edge in piece.edges
        if edge.id == notch.at.edge
    ]
    return piece, sorted(places), project


@pytest.mark.parametrize(
    ("side", "place"),
    [
        ("H97 L100 60 L103 50", [100, -50]),
        ("H96 L100 60 L104 50", [100, -50]),
        ("H100 V56 V50", [100, -50]),
        ("H99.5 V58 H100.5 V50", [100, -50]),
        ("H99.6 V58 A.4 .4 0 0 0 100.4 58 V50", [100, -50]),
        ("H100 L100 58 L101 50", [100.5, -50]),
    ],
)
def test_v_and_slit_cuts_are_notches_on_a_whole_edge(side, place):
    piece, places, _ = notched(outline(side))
    assert len(piece.edges) == 4
    assert area_mm2(piece) == pytest.approx(20_000, rel=1e-9)
    assert np.allclose(places, [place], atol=0.05)
    assert [len(edge.curve) for edge in piece.edges] == [1, 1, 1, 1]


@pytest.mark.parametrize(
    "side",
    [
        "H95.5 L100 60 L104.5 50",
        "H97 L100 61 L103 50",
        "H95 V58 H105 V50",
        "H97 L100 44 L103 50",
        "H98 V51 L100 52 L104 50",
    ],
)
def test_what_is_too_large_or_no_cut_stays(side):
    piece, places, _ = notched(outline(side))
    assert places == []
    assert len(piece.edges) > 4


def test_without_the_wish_the_outline_stays_as_it_is_drawn():
    project, _ = read(outline("H97 L100 60 L103 50"), PAGE)
    assert len(project.pieces["a"].edges) == 7
    assert len(project.notches) == 0


def test_several_notches_on_one_edge_and_on_others():
    body = (
        '<path id="a" d="M50 50 H80 v5 v-5 H150 l2 6 2-6 '
        'H250 V80 h-6 h6 V150 H50 V104 l6-2-6-2 Z"/>'
    )
    piece, places, project = notched(body)
    assert len(piece.edges) == 4
    assert np.allclose(places, [[50, -102], [80, -50], [152, -50], [250, -80]])
    assert sorted(project.notches) == ["a.n1", "a.n2", "a.n3", "a.n4"]


def test_a_notch_at_the_start_of_the_path_is_one():
    body = '<path id="a" d="M100 56 L103 50 H250 V150 H50 V50 H97 Z"/>'
    piece, places, _ = notched(body)
    assert len(piece.edges) == 4
    assert np.allclose(places, [[100, -50]])


def test_a_notch_in_a_bent_edge_leaves_it_smooth():
    r, half = 100.0, 2.0
    angle = math.asin(half / r)
    left = (200 - half, 200 - r * math.cos(angle))
    right = (200 + half, left[1])
    body = (
        f'<path id="a" d="M100 200 A{r} {r} 0 0 1 {left[0]} {left[1]} L200 106 '
        f'L{right[0]} {right[1]} A{r} {r} 0 0 1 300 200 V250 H100 Z"/>'
    )
    piece, places, _ = notched(body)
    assert np.allclose(places, [[200, -100]], atol=0.01)
    assert len(piece.edges) == 2
    arch = max(piece.edges, key=lambda edge: len(edge.curve))
    assert np.abs(joint_turnings_rad(arch.curve)).max() < 1e-3


def test_a_notch_among_chords_is_fitted_with_them():
    t = np.linspace(math.pi, 0, 400)
    arch = np.stack([200 + 100 * np.cos(t), 200 - 100 * np.sin(t)], axis=1)
    middle = len(arch) // 2
    rows = [*arch[: middle - 3].tolist(), [200.0, 106.0], *arch[middle + 3 :].tolist()]
    text = " ".join(f"{x:.4f},{y:.4f}" for x, y in rows)
    piece, places, _ = notched(f'<polygon id="a" points="{text} 300,250 100,250"/>')
    assert np.allclose(places, [[200, -100]], atol=0.3)
    arch_edge = max(piece.edges, key=lambda edge: length_mm(edge.curve))
    assert length_mm(arch_edge.curve) == pytest.approx(math.pi * 100 + 100, abs=0.05)
    assert len(arch_edge.curve) < 30


def test_notches_in_a_cut_line_mark_the_seam_line_inside_it():
    body = (
        '<path id="cut" d="M50 50 H98 L100 56 L102 50 H250 V150 H50 Z"/>'
        '<path d="M60 60 H240 V140 H60 Z"/>'
    )
    piece, places, _ = notched(body)
    assert np.allclose(places, [[100, -60]])
    assert {edge.allowance_mm for edge in piece.edges} == {10.0}


def test_notches_in_a_drawn_cut_line_move_inwards_with_it():
    piece, places, _ = notched(outline("H97 L100 58 L103 50"), line=10.0)
    assert len(piece.edges) == 4
    assert np.allclose(places, [[100, -60]])


def test_short_slits_drawn_as_open_lines_from_the_edge_are_notches():
    body = outline("") + '<path id="s" d="M120 50V56"/><path id="l" d="M60 60L200 120"/>'
    piece, places, _ = notched(body)
    assert np.allclose(places, [[120, -50]])
    assert [line.id for line in piece.lines] == ["l"]
