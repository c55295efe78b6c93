"""Pieces laid together, and bend combs, on the table."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest

from tests import small
from tests.edits.test_across import joints_deg
from tests.window import hand
from tests.window.test_table import pixels, shown
from wedgework.bench import Cancel, Move, Press, Release
from wedgework.edits import decode_plain
from wedgework.files.wedge import write_wedge
from wedgework.window.palette import DARK, LIGHT
from wedgework.window.preferences import Wishes
from wedgework.window.table.bends import bent_edges, placed_bends
from wedgework.window.table.laid import laid_box, laid_pieces_of

LAID = Wishes(laid=True)
BENT = Wishes(bends=True)


def press(table, at_mm):
    table.hand.does(Press(at_mm, 0.5))
    table.hand.does(Release(at_mm, 0.5))


def ghosts(table, *, wished=False):
    laid = laid_pieces_of(table.bench, table.hand, wished=wished)
    return [] if laid is None else [piece.id for piece, _ in laid.ghosts]


def test_the_tool_lays_the_neighbours_to_the_piece_that_was_pressed(qtbot):
    table = shown(qtbot, small.panelled_hem())
    table.hand.take("across")
    press(table, (230.0, -3.0))
    assert ghosts(table) == ["f", "b"]


def test_pieces_that_are_laid_elsewhere_are_dimmed_where_they_lie(qtbot):
    table = shown(qtbot, small.two_panels(100, 96))
    table.hand.take("across")
    at_px = table.view.to_px((20.0, 50.0)).toPoint()
    before = table.grab().toImage().pixelColor(at_px)
    press(table, (200.0, 0.0))
    laid = laid_pieces_of(table.bench, table.hand, wished=False)
    assert [piece.id for piece in laid.away] == ["a"]
    QTest.qWait(50)
    after = table.grab().toImage().pixelColor(at_px)
    assert before.name() == LIGHT.piece.lower()
    assert after.name() != before.name()


def test_what_is_chosen_has_its_neighbours_laid_to_it_where_that_is_wished(qtbot):
    table = shown(qtbot, small.panelled_hem())
    table.bench.choose(("s1",))
    assert ghosts(table) == []
    assert sorted(ghosts(table, wished=True)) == ["b", "g"]


@pytest.mark.parametrize("chosen", ["f", "f.c1"])
def test_what_is_part_of_no_line_lays_nothing_together(qtbot, chosen):
    table = shown(qtbot, small.panelled_hem())
    table.bench.choose((chosen,))
    assert ghosts(table, wished=True) == []


def test_ghosts_follow_every_frame_of_a_drag(qtbot):
    table = shown(qtbot, small.panelled_hem())
    table.hand.take("across")
    press(table, (50.0, 2.0))
    before = laid_pieces_of(table.bench, table.hand, wished=False)
    table.hand.does(Press((50.0, 2.0), 0.5))
    table.hand.does(Move((50.0, -12.0), 0.5))
    now = laid_pieces_of(table.bench, table.hand, wished=False)
    assert not np.array_equal(now.joined.line.segments, before.joined.line.segments)
    assert laid_box(table.look, now).height() > laid_box(table.look, before).height()


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(
    ("wishes", "project", "chosen"),
    [(LAID, small.panelled_hem(), "f.e1"), (BENT, small.two_panels(bulge=0.1), "a.e1")],
    ids=["laid", "bends"],
)
def test_ghosts_and_combs_are_seen(qtbot, wishes, project, chosen, scheme):
    table = shown(qtbot, project, scheme)
    table.bench.choose((chosen,))
    table.dress(replace(wishes, combs=False), scheme)
    seen = pixels(table)
    table.dress(Wishes(combs=False), scheme)
    assert (np.abs(seen - pixels(table)).max(axis=2) > 8).sum() > 300


def test_an_edge_that_is_smoothed_shows_its_comb_with_the_one_before(qtbot):
    table = shown(qtbot, small.curved_square())
    edit = decode_plain({"edit": "fair_edge", "edge": "p.e2", "over_mm": 80})
    assert bent_edges(table.bench, table.hand, wished=False) == ()
    table.bench.preview(edit)
    edges = bent_edges(table.bench, table.hand, wished=False)
    assert edges == ("p.e2",)
    (comb,) = placed_bends(table.look, table.bench, edges)
    assert comb.before is not None
    assert table.grab().width() == table.width()


def test_straight_edges_have_no_comb(qtbot):
    table = shown(qtbot, small.square())
    assert placed_bends(table.look, table.bench, ("p.e1", "p")) == []


# In the window, as a maker does it


@pytest.fixture
def at_hem(window, tmp_path):
    """The window with a hem over three pieces that has a dent and a peak."""
    path = tmp_path / "hem.wedge"
    path.write_bytes(write_wedge(small.panelled_hem()))
    window.filing.open(path)
    QTest.qWait(150)
    return window


def at(window, x, y):
    return window.table.mapToGlobal(window.table.view.to_px((x, y)).toPoint())


def test_a_hem_over_three_pieces_is_drawn_as_one_line(at_hem):
    window = at_hem
    window.hand.take("across")
    hand.click(at(window, 50, 2))
    assert ghosts(window.table) == ["g", "b"]
    for x, y in ((60, -2), (130, 0), (210, 4)):
        hand.click(at(window, x, y))
    window.table.setFocus()
    hand.key(Qt.Key.Key_Return)
    project = window.bench.project
    assert joints_deg(project) == pytest.approx([180.0, 180.0], abs=1e-6)
    assert window.bench.history[-1].text.startswith("Draw the line")


def test_a_hem_is_drawn_through_by_a_command(at_hem):
    at_hem.bench.choose(("g.e1",))
    at_hem.findChild(QAction, "true_line").trigger()
    assert joints_deg(at_hem.bench.project) == pytest.approx([180.0, 180.0], abs=1e-6)


def test_what_is_part_of_no_line_is_told_so(at_hem):
    before = at_hem.bench.project
    at_hem.bench.choose(("f",))
    at_hem.findChild(QAction, "true_line").trigger()
    assert at_hem.bench.project is before


def dark_pixels(table, box):
    """How many pixels of a box of the table look like letters."""
    seen = pixels(table)[
        round(box.top()) : round(box.bottom()), round(box.left()) : round(box.right())
    ]
    return int((seen.max(axis=2) < 150).sum())


def test_names_beside_a_piece_are_dimmed_with_it(qtbot):
    table = shown(qtbot, small.two_panels())
    table.bench.go_to_step("Join")
    beside = table.view.to_px((104.0, 50.0))
    box = QRectF(beside.x() - 8, beside.y() - 40, 24, 80)
    before = dark_pixels(table, box)
    table.hand.take("across")
    press(table, (250.0, 0.0))
    assert [piece.id for piece in table._laid.away] == ["a"]
    assert dark_pixels(table, box) < before / 4
    table.hand.does(Cancel())
    table.hand.take("choose")
    assert dark_pixels(table, box) == before


def test_what_is_laid_together_is_what_is_shown_large(window, tmp_path):
    path = tmp_path / "hem.wedge"
    path.write_bytes(write_wedge(small.panelled_hem()))
    window.filing.open(path)
    window.preferences.change(replace(window.preferences.wishes, laid=True))
    window.bench.choose(("f.e1",))
    window.deeds.fit_chosen()
    seen = window.table.view.rect_px(window.table.laid_bounds)
    room = window.table.rect()
    assert room.contains(seen.toAlignedRect())
    assert max(seen.width() / room.width(), seen.height() / room.height()) > 0.7
