"""The window as a whole: its layout, its keys, its panels, and that work is never lost unasked."""

from __future__ import annotations

import math
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QRect, QRectF, Qt
from PySide6.QtGui import (
    QAction,
    QFontMetricsF,
    QImage,
    QKeySequence,
    QPainter,
    QPainterPath,
    QPolygonF,
    QTransform,
)
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QToolButton

from tests import small
from tests.window import hand
from wedgework.bench import STEPS, TOOLS
from wedgework.edits import EDITS
from wedgework.files.wedge import write_wedge
from wedgework.geometry.length import points_at_parameters
from wedgework.pattern.seams import measure_seam
from wedgework.resources import demo_names, demo_path
from wedgework.window.actions import ACTIONS
from wedgework.window.dialogs.body import BodyDialog
from wedgework.window.dialogs.first import DemoButton
from wedgework.window.dialogs.fitting import FitDialog
from wedgework.window.fields import Field
from wedgework.window.icons import has_icon
from wedgework.window.main import CARD_PX
from wedgework.window.panels.ledger import ALLOWED, HEADINGS, NAME, NAME_PX, STATE, counted
from wedgework.window.table import beside
from wedgework.window.table.art import art_of
from wedgework.window.table.names import level_names, name_on
from wedgework.window.table.seamwork import placed_comb
from wedgework.window.theme import SMALL_PX, font

FLAT = demo_path("kingfisher_flat.wedge")


@pytest.fixture
def at_demo(window):
    """The window with the flat suit."""
    window.filing.open(FLAT)
    QTest.qWait(150)
    return window


def test_the_table_keeps_most_of_a_small_screen(at_demo):
    assert at_demo.table.width() >= 0.6 * 1366
    assert at_demo.table.height() >= 0.5 * 768


def test_no_key_means_two_things(at_demo):
    keys = Counter(
        action.shortcut().toString()
        for action in at_demo.findChildren(QAction)
        if not action.shortcut().isEmpty()
    )
    keys.update(QKeySequence(f"Alt+{number}").toString() for number in range(1, len(STEPS) + 1))
    assert {key: count for key, count in keys.items() if count > 1} == {}


def test_every_tool_and_every_action_with_a_picture_has_one():
    names = [tool.icon for tool in TOOLS] + [row.picture for row in ACTIONS if row.picture]
    assert [name for name in names if not has_icon(name)] == []


@pytest.mark.parametrize("number", range(1, len(STEPS) + 1))
def test_each_step_is_reached_by_its_key_and_brings_its_tools(at_demo, number):
    hand.key(getattr(Qt.Key, f"Key_{number}"), held=Qt.KeyboardModifier.AltModifier)
    QTest.qWait(30)
    step = STEPS[number - 1]
    assert at_demo.strip.steps[step].isChecked()
    shown = [one for one in at_demo.strip.findChildren(QToolButton) if one.isVisible()]
    buttons = {one.objectName() for one in shown}
    brought = {tool.name for tool in TOOLS if f"tool_{tool.icon}" in buttons}
    assert brought == {tool.name for tool in TOOLS if tool.step in {None, step}}


def test_only_changed_rows_of_the_ledger_are_told(at_demo):
    told = at_demo.ledger_model.rows_told
    at_demo.deeds.do_plain({"edit": "set_seam", "seam": "crotch", "allowed_mm": 0.7})
    assert at_demo.ledger_model.rows_told == told + 1


def test_only_cells_that_read_otherwise_are_told_to_a_ledger_that_was_drawn(at_demo):
    model, told = at_demo.ledger_model, []
    at_demo.ledger.grab()
    model.dataChanged.connect(lambda first, last: told.append((first.column(), last.column())))
    at_demo.deeds.do_plain({"edit": "set_seam", "seam": "crotch", "allowed_mm": 0.7})
    assert told == [(ALLOWED, ALLOWED)]


def test_a_row_of_the_ledger_is_put_into_words_once_however_often_it_is_drawn(at_demo, monkeypatch):
    model, measured = at_demo.ledger_model, []
    at_demo.ledger.grab()
    monkeypatch.setattr(model, "measure", measured.append)
    at_demo.ledger.grab()
    assert measured == []
    at_demo.deeds.do_plain({"edit": "set_seam", "seam": "crotch", "allowed_mm": 0.7})
    at_demo.ledger.grab()
    at_demo.ledger.grab()
    assert measured == [model.row_of("crotch")]


def test_a_drag_draws_no_still_piece_again(at_demo):
    table = at_demo.table
    foot = table.mapToGlobal(table.view.to_px((214.053, -653.288)).toPoint())
    drawn = []
    hand.drag(foot, foot + QPoint(0, 9), on_the_way=lambda: drawn.append(table.pieces_drawn))
    QTest.qWait(50)
    before = table.pieces_drawn
    hand.drag(
        foot + QPoint(0, 9), foot, on_the_way=lambda: drawn.append(table.pieces_drawn - before)
    )
    # Taking the piece out of the still picture may redraw its neighbours once, not in every frame.
    assert drawn[1] <= 3


def test_a_number_typed_in_the_card_is_kept_by_enter_and_dropped_by_escape(at_demo):
    at_demo.bench.choose(["crotch"])
    field = at_demo.card.findChild(Field, "card_allowed")
    field.setFocus()
    hand.type_text("1/16 in")
    hand.key(Qt.Key.Key_Escape)
    assert at_demo.bench.project.seams["crotch"].allowed_mm == 0.5
    hand.type_text("1/16 in")
    hand.key(Qt.Key.Key_Return)
    assert at_demo.bench.project.seams["crotch"].allowed_mm == pytest.approx(25.4 / 16)


def test_the_words_of_a_label_are_typed_as_soon_as_it_is_set(at_demo, qtbot):
    at_demo.hand.take("label")
    hand.click(hand.on_table(at_demo, 260, -520))
    qtbot.waitUntil(lambda: isinstance(at_demo.focusWidget(), Field))
    hand.type_text("left fin")
    hand.key(Qt.Key.Key_Return)
    labels = [one.text for piece in at_demo.bench.project.pieces.values() for one in piece.labels]
    assert labels == ["left fin"]
    assert at_demo.hand.tool.name == "label"


def test_undo_names_what_it_will_undo(at_demo):
    at_demo.deeds.do_plain({"edit": "rename", "id": "crotch", "name": "fork"})
    assert "fork" in at_demo.actions_by_name["undo"].text()


def test_a_file_that_is_none_is_refused_with_a_sentence_and_what_is_open_stays(at_demo, tmp_path):
    bad = tmp_path / "bad.wedge"
    bad.write_text("nothing", encoding="utf-8")
    said = []

    def read_and_close(dialog):
        said.append(dialog.text())
        dialog.close()

    hand.when_asked(read_and_close)
    at_demo.filing.open(bad)
    assert "not readable" in said[0]
    assert len(at_demo.bench.project.pieces) == 5


def test_closing_with_unsaved_work_asks_and_may_be_stopped(at_demo):
    at_demo.deeds.do_plain({"edit": "rename", "id": "crotch", "name": "fork"})
    hand.when_asked(lambda dialog: dialog.reject())
    assert not at_demo.close()
    assert at_demo.isVisible()


CRASH = """
import os, pathlib, sys
from wedgework.bench import Bench
from wedgework.bench.opening import read_project
from wedgework.edits import decode_plain
bench = Bench(read_project(pathlib.Path(sys.argv[1])), state_folder=pathlib.Path(sys.argv[2]))
bench.do(decode_plain({"edit": "rename", "id": "crotch", "name": "fork"}))
os._exit(9)
"""


def test_work_that_a_crash_cut_off_is_offered_on_the_first_page(make, tmp_path):
    journals = tmp_path / "journals"
    crash = [sys.executable, "-c", CRASH, str(FLAT), str(journals)]
    assert subprocess.run(crash, check=False).returncode == 9
    window = make()
    hand.click(hand.button_place(window, "Go on with"))
    assert window.bench.project.seams["crotch"].name == "fork"


@pytest.mark.parametrize("colours", ["light", "dark"])
def test_a_window_drawn_twice_is_the_same_picture(make, colours):
    window = make(colours)
    window.filing.open(FLAT)
    QTest.qWait(200)
    one, other = window.grab().toImage(), window.grab().toImage()
    assert one == other


def test_folding_the_ledger_gives_the_table_its_room_and_unfolding_takes_it_back(at_demo, qtbot):
    ledger, table = at_demo.panels["Ledger"], at_demo.table
    before, size = table.height(), ledger.size()
    ledger.swap_fold()
    qtbot.waitUntil(lambda: table.height() > before + 100)
    ledger.swap_fold()
    qtbot.waitUntil(lambda: abs(table.height() - before) <= 2)
    qtbot.waitUntil(lambda: abs(ledger.width() - size.width()) <= 2)


@pytest.mark.parametrize("wide_px", [660, 560, 480, 440, 400])
def test_names_of_seams_keep_their_room_where_the_ledger_is_narrow(at_demo, wide_px):
    ledger = at_demo.ledger
    ledger.resize(wide_px, ledger.height())
    shown = [one for one in range(len(HEADINGS)) if not ledger.isColumnHidden(one)]
    least = {one: at_demo.ledger_model.least_px(one) for one in shown}
    assert ledger.columnWidth(NAME) >= NAME_PX
    assert all(ledger.columnWidth(one) >= least[one] for one in shown)
    assert ledger.horizontalHeader().length() <= ledger.viewport().width()


@pytest.mark.parametrize("width", [1366, 1600, 2200])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_ledger_shows_whole_columns_and_never_scrolls_sideways(at_demo, qtbot, width, unit):
    at_demo.preferences.change(replace(at_demo.preferences.wishes, unit=unit))
    at_demo.resize(width, 900)
    qtbot.waitUntil(lambda: at_demo.width() == width)
    ledger, header = at_demo.ledger, at_demo.ledger.horizontalHeader()
    qtbot.waitUntil(lambda: header.length() == ledger.viewport().width())
    assert not ledger.horizontalScrollBar().isVisible()
    shown = [one for one in range(header.count()) if not header.isSectionHidden(one)]
    heads = [at_demo.ledger_model.headerData(one, Qt.Orientation.Horizontal) for one in shown]
    needed = [header.fontMetrics().horizontalAdvance(str(head)) + 2 * 11 for head in heads]
    assert all(header.sectionSize(one) >= px for one, px in zip(shown, needed, strict=True))
    assert len(shown) >= STATE + 1
    assert len(shown) == header.count() or width < 2200


@pytest.mark.parametrize("word", ["Ledger", "Findings", "Card", "Chosen seam"])
def test_the_button_that_folds_a_panel_stays_beside_the_border(at_demo, qtbot, word):
    panel = at_demo.panels[word]
    at = panel.title.button.mapTo(at_demo, QPoint()).x()
    panel.swap_fold()
    qtbot.waitUntil(lambda: panel.height() <= panel.title.height())
    assert panel.title.button.mapTo(at_demo, QPoint()).x() == at


def test_what_was_said_gives_way_to_the_hint_of_a_drag(at_demo):
    said = []

    def look():
        hint = at_demo.hand.hint
        said.append((hint, any(hint in one.text() for one in at_demo.findChildren(QLabel) if hint)))

    at_demo.status.say("Written: somewhere.svg")
    at_mm = at_demo.bench.project.pieces["front.1"].edges[2].curve.start
    foot = at_demo.table.mapToGlobal(at_demo.table.view.to_px(at_mm).toPoint())
    hand.drag(foot, foot + QPoint(9, 4), on_the_way=look)
    hints = [shown for hint, shown in said if hint]
    assert hints
    assert all(hints)


def test_a_seam_is_held_and_let_go_by_keys_and_the_ledger_says_so(at_demo):
    at_demo.bench.choose(["crotch"])
    model = at_demo.ledger_model
    cell = model.index(model.row_of("crotch"), STATE)
    control = Qt.KeyboardModifier.ControlModifier
    hand.key(Qt.Key.Key_J, held=control)
    assert "held" in cell.data()
    hand.key(Qt.Key.Key_J, held=control | Qt.KeyboardModifier.ShiftModifier)
    assert "held" not in cell.data()
    assert not at_demo.bench.project.holds


def test_a_hold_that_had_to_be_let_go_is_said_in_the_status_line(make, tmp_path):
    path = tmp_path / "cap.wedge"
    path.write_bytes(write_wedge(small.cap_and_ring()))
    window = make()
    window.filing.open(path)
    window.deeds.do_plain({"edit": "move_corner", "corner": "strip.c2", "by_mm": [9, 0]})
    said = [one.text() for one in window.statusBar().findChildren(QLabel)]
    assert any("The hold on “cap” was let go." in text for text in said)


def test_the_status_line_says_what_the_next_click_does_from_the_first_page_on(window):
    said = [one.text() for one in window.statusBar().findChildren(QLabel)]
    assert any("where the pieces come from" in text for text in said)
    window.filing.open(FLAT)
    said = [one.text() for one in window.statusBar().findChildren(QLabel)]
    assert any(window.hand.tool.hint in text for text in said)


def test_a_demo_that_was_only_looked_at_is_no_unsaved_work(at_demo):
    assert not at_demo.isWindowModified()
    at_demo.deeds.do_plain({"edit": "rename", "id": "crotch", "name": "fork"})
    assert at_demo.isWindowModified()


def test_the_first_page_shows_the_pieces_of_each_demo(window):
    buttons = window.first.findChildren(DemoButton)
    assert len(buttons) == len([name for name in demo_names() if name.endswith(".wedge")])
    for button in buttons:
        empty = button.grab().toImage().copy(20, 10, 200, 70)
        assert len({empty.pixelColor(x, 35).name() for x in range(empty.width())}) > 1


def test_the_unrolled_seam_keeps_its_width_while_stations_are_set(at_demo):
    at_demo.bench.choose(list(at_demo.bench.project.seams)[2:3])
    before = at_demo.seam.unrolled.width()
    at_demo.deeds.shape()
    QTest.qWait(50)
    assert at_demo.seam.stations.isVisible()
    assert at_demo.seam.unrolled.width() >= 500
    at_demo.seam.stations.drop()
    QTest.qWait(50)
    assert abs(at_demo.seam.unrolled.width() - before) <= 2


def written_along_edges(window, monkeypatch, pieces):
    """Where figures along edges are written: a box each, in pixels, with the edge that it is of."""
    rows = []

    def note(_painter, at, text, turn_deg, **_with):
        wide = QFontMetricsF(font(SMALL_PX)).horizontalAdvance(text)
        turn = QTransform().translate(at.x(), at.y()).rotate(turn_deg)
        rows.append((turn.mapToPolygon(QRect(round(-wide / 2), -5, round(wide), 10)), edge))

    window.preferences.change(replace(window.preferences.wishes, lengths=True))
    monkeypatch.setattr(beside, "write_turned", note)
    look, project = window.table.look, window.bench.project
    image = QImage(900, 600, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    for own in pieces:
        piece = project.pieces[own]
        others = beside.others_near(look, piece, lambda _box: project.pieces.values())
        writer = beside.Beside(painter, look, project, others)
        for edge in piece.all_edges():
            writer.write_length(edge)
    painter.end()
    return rows


def test_figures_of_neighbours_do_not_touch_and_no_edge_runs_through_its_own(at_demo, monkeypatch):
    pieces = ["front.1", "front.2", "back.1", "back.2"]
    rows = written_along_edges(at_demo, monkeypatch, pieces)
    assert len(rows) >= 12
    boxes = [QPolygonF(box) for box, _ in rows]
    assert not [1 for one, other in combinations(boxes, 2) if one.intersects(other)]
    view = at_demo.table.look.view
    for box, edge in rows:
        points = view.all_to_px(
            points_at_parameters(edge.curve, np.linspace(0, len(edge.curve), 99))
        )
        inside = [box.containsPoint(QPoint(round(x), round(y)), Qt.FillRule.WindingFill)
                  for x, y in points.tolist()]  # fmt: skip
        assert not any(inside)


def test_the_figures_of_a_comb_cover_no_name_of_the_pieces_that_it_joins(at_demo):
    look, project = at_demo.table.look, at_demo.bench.project
    names = [name_on(look, piece).box for piece in project.pieces.values()]
    combs = [placed_comb(look, project, own) for own in project.seams]
    words = [row for comb in combs if comb is not None for row in comb.words]
    assert len(words) >= 2
    for at, text in words:
        wide = QFontMetricsF(font(SMALL_PX)).horizontalAdvance(text)
        box = QRectF(at.x() - wide / 2, at.y() - 6, wide, 12)
        assert not any(box.intersects(name) for name in names), text


def test_a_comb_tells_the_dome_and_hollow_that_the_card_tells_however_far_one_is_away(window):
    window.filing.open(demo_path("heron_costume.wedge"))
    QTest.qWait(150)
    project, look = window.bench.project, window.table.look
    (chest,) = (own for own, seam in project.seams.items() if seam.name == "chest seam")
    measure = measure_seam(project, project.seams[chest])
    wanted = [math.degrees(measure.dome_rad), -math.degrees(measure.hollow_rad)]
    for near in (1.0, 0.3):
        view = look.view.zoomed(near, 0.0, 0.0)
        comb = placed_comb(replace(look, view=view), project, chest)
        assert [text for _, text in comb.words] == [
            look.wishes.degrees(one, signed=True) for one in wanted
        ]


def test_no_figure_of_an_edge_lies_on_another_piece(window, monkeypatch):
    window.filing.open(demo_path("heron_costume.wedge"))
    QTest.qWait(150)
    project, view = window.bench.project, window.table.look.view
    rows = written_along_edges(window, monkeypatch, project.pieces)
    assert len(rows) >= len(project.pieces)
    for box, edge in rows:
        others = [art_of(piece).outline for own, piece in project.pieces.items()
                  if own != project.owners[edge.id]]  # fmt: skip
        shapes = [view.transform.map(outline) for outline in others]
        written = QPainterPath()
        written.addPolygon(QPolygonF(box))
        assert not any(shape.intersects(written) for shape in shapes)


def test_no_figure_along_an_edge_runs_through_the_name_of_a_level(at_demo, monkeypatch):
    written = []

    def note(_painter, at, text, _turn_deg, **_with):
        written.append((text, at))

    at_demo.bench.go_to_step("Measure")
    at_demo.preferences.change(replace(at_demo.preferences.wishes, lengths=True))
    monkeypatch.setattr(beside, "write_turned", note)
    look, project = at_demo.table.look, at_demo.bench.project
    image = QImage(900, 600, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    for edge in project.pieces["front.1"].all_edges():
        beside.Beside(painter, look, project).write_length(edge)
    painter.end()
    names = dict(level_names(look, project))
    assert "waist" in names
    assert len(written) >= 3
    assert not [text for text, at in written for box in names.values() if box.contains(at)]


def test_the_ledger_tells_darts_from_seams():
    assert counted(small.darted_front()) == "1 dart"
    assert counted(small.two_panels()) == "1 seam"
    assert counted(small.square()) == "no seams"


ROOM_PX = (1366 / 1.25 - 8, 768 / 1.25 - 40)
"""A screen of 1366 x 768 with type a quarter larger, less the frame of a window."""


def test_with_large_type_the_window_and_its_forms_go_onto_a_small_screen(window):
    window.filing.open(demo_path("kingfisher_flat.wedge"))
    window.bench.choose(("chest_seam", "front.1"))
    asked = {
        "window": window.minimumSizeHint,
        **{row.name: window.minimumSizeHint for row in EDITS if row.name != "accept"},
    }
    for name, least in asked.items():
        if name != "window":
            window.start_form(next(row for row in EDITS if row.name == name))
            QTest.qWait(1)
        assert least().height() <= ROOM_PX[1], name
        assert least().width() <= ROOM_PX[0], name


def test_a_form_that_is_not_shown_takes_no_room_from_the_table(window):
    window.filing.open(demo_path("kingfisher_flat.wedge"))
    QTest.qWait(50)
    card = window.panels["Card"]
    before = card.width()
    assert before == CARD_PX
    window.drafting.start("collar")
    QTest.qWait(50)
    assert card.width() > before
    window.drafting.form.cancel()
    QTest.qWait(50)
    assert card.width() == before


def test_a_dialog_opens_no_larger_than_the_screen(window, qtbot):
    for ask, kind in ((window.deeds.measure, BodyDialog), (window.deeds.fit_body, FitDialog)):
        ask()
        dialog = window.findChild(kind)
        qtbot.waitUntil(dialog.isVisible)
        least, room = dialog.minimumSizeHint(), dialog.screen().availableSize()
        assert least.height() <= ROOM_PX[1]
        assert dialog.height() <= max(room.height() - 40, least.height())
        dialog.close()
