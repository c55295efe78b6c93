"""Photographs under the table, in a real window: laid, placed, squared up, traced, dimmed, kept."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QBuffer, QByteArray, QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QColor, QDropEvent, QGuiApplication, QImage, QImageWriter, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog, QLineEdit, QPushButton, QRadioButton, QSlider

from tests import small
from tests.bench import photographed as page
from tests.window.hand import click, key, type_text, when_asked
from tests.window.test_table import pixels, shown
from wedgework.bench.wishes import Ask
from wedgework.edits import decode_plain
from wedgework.edits.names import Rename
from wedgework.edits.pictures import AddPicture
from wedgework.files.wedge import read_wedge, write_wedge
from wedgework.geometry.projective import mapped
from wedgework.pattern.document import Picture, Project
from wedgework.pattern.pictures import placing_of
from wedgework.pattern.table import Table
from wedgework.units import NotUnderstood
from wedgework.window.dialogs.photograph import DistanceDialog, RectangleDialog
from wedgework.window.palette import DARK, LIGHT
from wedgework.window.panels.form_file import FileArgument
from wedgework.window.table.names import name_on
from wedgework.window.table.photographs import draw_photographs, unpacked
from wedgework.window.table.view import View

SHEET = [[0, 0], [page.A4_MM[0], 0], page.A4_MM, [0, page.A4_MM[1]]]


@pytest.fixture(scope="module")
def seen():
    """The camera, and the bytes of the page that it took."""
    camera = page.camera()
    return camera, page.png(page.photograph(camera))


@pytest.fixture
def photo(tmp_path, seen):
    path = tmp_path / "heron hood.png"
    path.write_bytes(seen[1])
    return path


@pytest.fixture
def laid(window, photo):
    """A window with the photograph under the table."""
    window.filing.lay_photograph(photo)
    QTest.qWait(0)
    return window


def picture(window) -> Picture:
    return next(iter(window.bench.project.pictures.values()))


def on_screen(window, pixel):
    """Where a pixel of the photograph stands on the screen."""
    at = window.table.view.to_px(mapped(placing_of(picture(window)), pixel))
    return window.table.mapToGlobal(at.toPoint())


def press(window, pixel, keys=Qt.KeyboardModifier.NoModifier):
    click(on_screen(window, pixel), keys)


def grey_at(window, at_mm):
    image = window.table.grab().toImage()
    return QColor(image.pixel(window.table.view.to_px(at_mm).toPoint())).lightness()


def test_a_photograph_is_laid_from_the_first_page_and_the_tool_is_in_the_hand(laid):
    assert laid.middle.currentWidget() is laid.table
    assert picture(laid).name == "heron hood"
    assert laid.hand.tool.name == "photograph"
    assert laid.bench.chosen == (picture(laid).id,)
    assert laid.windowTitle().startswith("Untitled")


def test_a_photograph_alone_is_not_said_to_be_ready_to_cut(laid):
    QTest.qWait(300)
    assert laid.strip.state.text().startswith("no piece to cut yet")
    laid.bench.do(
        decode_plain({"edit": "add_rectangle", "name": "flank", "width_mm": 100, "height_mm": 80})
    )
    QTest.qWait(300)
    assert "ready to cut" in laid.strip.state.text()


def test_it_lies_under_the_pieces_and_is_dimmed(laid):
    ground = QColor(laid.theme.scheme.ground).lightness()
    mat = tuple(mapped(placing_of(picture(laid)), [30, 30]).tolist())
    dimmed = grey_at(laid, mat)
    assert 70 + 40 < dimmed < ground - 40
    laid.bench.do(decode_plain({"edit": "set_picture", "picture": picture(laid).id,
                                "strength_ratio": 1.0}))  # fmt: skip
    assert grey_at(laid, mat) == pytest.approx(70, abs=8)
    laid.bench.do(decode_plain({"edit": "set_picture", "picture": picture(laid).id,
                                "shown": False}))  # fmt: skip
    assert abs(grey_at(laid, mat) - ground) <= 2


def test_four_corners_and_the_sheet_square_it_up(laid, seen):
    camera, _ = seen
    for corner in mapped(camera, SHEET):
        press(laid, corner)
    assert len(laid.hand.state.marks) == 4
    when_asked(lambda dialog: QTest.keyClick(dialog, Qt.Key.Key_Return))
    key(Qt.Key.Key_Return)
    QTest.qWait(60)
    found = mapped(placing_of(picture(laid)), mapped(camera, SHEET))
    sides = np.hypot(*np.diff(found, axis=0).T)
    # Pressed on whole pixels of the screen, three of the photograph's: a millimetre at most.
    assert sides == pytest.approx([210, 297, 210], abs=2.5)
    assert laid.bench.next_undo == "Square photograph heron hood up"


def test_two_points_and_a_typed_distance_scale_it(laid):
    press(laid, [400, 700])
    press(laid, [1400, 700])
    type_text("250")
    ends = laid.bench.shown.pictures[picture(laid).id]
    one, other = (mapped(placing_of(ends), pixel) for pixel in laid.hand.state.marks)
    assert np.hypot(*(one - other)) == pytest.approx(250)
    key(Qt.Key.Key_Return)
    assert laid.bench.next_undo == "Scale photograph heron hood"
    assert laid.hand.is_idle


def test_a_drag_moves_the_photograph_and_nothing_else(laid):
    before = mapped(placing_of(picture(laid)), [1000, 750])
    start = on_screen(laid, [1000, 750])
    table = laid.table
    at = table.mapFromGlobal(start)
    QTest.mousePress(table, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)
    for step in (10, 20, 40):
        QTest.mouseMove(table, at + QPoint(step, 0))
    QTest.mouseRelease(table, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier,
                       at + QPoint(40, 0))  # fmt: skip
    shift = mapped(placing_of(picture(laid)), [1000, 750]) - before
    assert shift == pytest.approx([40 * table.view.px_mm, 0])


def test_a_piece_is_traced_with_mouse_and_keys(laid):
    laid.hand.take("trace")
    laid.table.setFocus()
    press(laid, [600, 400])
    press(laid, [1200, 400])
    press(laid, [1300, 700], Qt.KeyboardModifier.ShiftModifier)
    press(laid, [1250, 900])
    key(Qt.Key.Key_C)
    key(Qt.Key.Key_Backspace)
    press(laid, [1200, 1000])
    press(laid, [600, 1000])
    key(Qt.Key.Key_Return)
    (piece,) = laid.bench.project.pieces.values()
    assert [len(edge.curve) for edge in piece.edges].count(2) == 1
    assert len(piece.edges) == 4


def test_c_is_the_tools_key_while_it_is_at_work_and_a_figure_too(laid):
    laid.hand.take("piece")
    laid.table.setFocus()
    scale = laid.table.view.px_per_mm
    press(laid, [600, 400])
    type_text("120; 0")
    key(Qt.Key.Key_Return)
    type_text("111; 90")
    key(Qt.Key.Key_Return)
    one, two, three = (np.array(point.at_mm) for point in laid.hand.state.points)
    assert two - one == pytest.approx([120, 0])
    assert three - two == pytest.approx([0, 111])
    assert laid.table.view.px_per_mm == scale


def test_the_loupe_shows_the_photograph_large_beside_the_pointer(laid):
    at = on_screen(laid, [1000, 750])
    here = laid.table.mapFromGlobal(at)
    QTest.mouseMove(laid.table, here)
    with_loupe = laid.table.grab().toImage()
    laid.hand.take("choose")
    laid.table.refresh_hot()
    without = laid.table.grab().toImage()
    spot = here - QPoint(100, 100)
    assert with_loupe.pixel(spot) != without.pixel(spot)


def test_the_card_dims_hides_and_turns_it(laid):
    slider = laid.card.findChild(QSlider, "card_strength")
    assert slider.value() == 50
    slider.setSliderDown(True)
    slider.setSliderPosition(80)
    slider.sliderMoved.emit(80)
    assert laid.bench.shown.pictures[picture(laid).id].strength_ratio == 0.8
    slider.setSliderDown(False)
    assert picture(laid).strength_ratio == 0.8
    assert len(laid.bench.history) == 2
    field = laid.card.findChild(QLineEdit, "card_turn")
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, "10")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert laid.bench.next_undo == "Turn photograph heron hood"
    laid.actions_by_name["photographs"].trigger()
    assert not picture(laid).shown
    laid.actions_by_name["delete"].trigger()
    assert not laid.bench.project.pictures


def test_a_picture_that_was_copied_is_pasted(window):
    image = QImage(300, 200, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    QGuiApplication.clipboard().setImage(image)
    window.actions_by_name["paste_photograph"].trigger()
    assert picture(window).name == "photograph"


def test_nothing_copied_is_told(window):
    QGuiApplication.clipboard().setText("pike")
    window.actions_by_name["paste_photograph"].trigger()
    assert not window.bench.project.pictures


def test_a_photograph_that_is_dropped_is_laid_beside_what_is_open(laid, photo):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(photo))])
    left, bare = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    laid.dropEvent(QDropEvent(QPointF(50, 50), Qt.DropAction.CopyAction, data, left, bare))
    assert len(laid.bench.project.pictures) == 2


def test_what_is_no_picture_is_told_and_nothing_is_laid(window, tmp_path):
    path = tmp_path / "broken.png"
    path.write_bytes(b"no picture at all")
    told = []

    def answer(dialog):
        told.append(dialog.text())
        dialog.findChild(QPushButton).click()

    when_asked(answer)
    window.filing.lay_photograph(path)
    assert "PNG" in told[0]
    assert not window.bench.project.pictures


def test_it_is_saved_with_the_project_and_the_journal_holds_it_once(laid, seen, tmp_path):
    for turn in range(8):
        laid.bench.do(decode_plain({"edit": "turn_picture", "picture": picture(laid).id,
                                    "turn_deg": 1.0 + turn}))  # fmt: skip
    journals = list((tmp_path / "journals").glob("*.journal"))
    size = sum(path.stat().st_size for path in journals)
    assert size < 1.5 * len(seen[1])
    back = read_wedge(write_wedge(laid.bench.project))
    assert next(iter(back.pictures.values())).data == seen[1]


@pytest.mark.usefixtures("qapp")
def test_beyond_the_horizon_nothing_is_drawn():
    white = page.png(np.full((200, 200), 255.0))
    # Depth is 1 - 0.008 y: the horizon lies at pixel 125 of 200, and the middle on this side.
    slanted = Picture(id="a", name="", data=white, placing=(1, 0, 0, 0, -1, 0, 0, -0.008, 1.0),
                      strength_ratio=1.0)  # fmt: skip
    project = replace(Project(), pictures=Table({"a": slanted}))
    target = QImage(100, 100, QImage.Format.Format_RGB32)
    target.fill(QColor("black"))
    painter = QPainter(target)
    draw_photographs(painter, View(-500, 500, 0.1), project)
    painter.end()
    assert QColor(target.pixel(52, 52)).lightness() > 200
    # What lies behind the camera would stand here, upside down.
    assert QColor(target.pixel(40, 10)).lightness() == 0


def test_damaged_bytes_show_nothing():
    assert unpacked(b"no picture") == ()


class TestDialogs:
    """What is asked."""

    @pytest.fixture
    def asked(self, window, qtbot):
        """Make a dialog that does not outlive its test: none after it would be active."""

        def make(kind, *seen_mm):
            dialog = kind(window, seen_mm, window.preferences.wishes)
            qtbot.addWidget(dialog)
            return dialog

        return make

    def test_a_sheet_lies_as_it_was_seen(self, asked):
        assert asked(RectangleDialog, 300.0, 200.0).numbers_mm == (297.0, 210.0)
        assert asked(RectangleDialog, 200.0, 300.0).numbers_mm == (210.0, 297.0)

    def test_a_mat_is_typed(self, asked):
        dialog = asked(RectangleDialog, 300.0, 200.0)
        dialog.show()
        for field, text in zip(dialog.fields, ("600", "450"), strict=True):
            QTest.keyClicks(field, text)
        assert dialog.findChildren(QRadioButton)[-1].isChecked()
        assert dialog.numbers_mm == (600.0, 450.0)

    def test_a_mat_without_a_size_is_not_accepted(self, asked):
        dialog = asked(RectangleDialog, 300.0, 200.0)
        dialog.findChildren(QRadioButton)[-1].setChecked(True)
        dialog.accept()
        assert dialog.result() != RectangleDialog.DialogCode.Accepted

    def test_a_distance_is_typed(self, asked):
        dialog = asked(DistanceDialog, 123.0)
        dialog.field.selectAll()
        QTest.keyClicks(dialog.field, "10 in")
        assert dialog.numbers_mm == (254.0,)

    def test_dropping_the_question_keeps_the_marks(self, laid):
        press(laid, [400, 700])
        press(laid, [1400, 700])
        when_asked(lambda dialog: dialog.reject())
        key(Qt.Key.Key_Return)
        QTest.qWait(60)
        assert len(laid.hand.state.marks) == 2
        assert laid.hand.asked is None
        assert Ask("distance", (1.0,)).question == "distance"


def test_the_form_of_numbers_takes_a_file(window, photo, qtbot):
    argument = FileArgument()
    qtbot.addWidget(argument)
    argument.show_file(photo.parent)
    with pytest.raises(NotUnderstood):
        argument.plain()
    argument.show_file(photo)
    window.bench.new(window.bench.project)
    window.bench.do(decode_plain({"edit": "add_picture", "name": "x", "data": argument.plain()}))
    assert picture(window).data == photo.read_bytes()


def test_with_a_photograph_alone_the_work_can_be_saved_and_shown_whole(laid):
    can = {name: laid.actions_by_name[name].isEnabled() for name in ("save", "fit", "export")}
    assert can == {"save": True, "fit": True, "export": False}
    laid.table.zoom(8.0)
    laid.actions_by_name["fit"].trigger()
    corners = laid.table.view.all_to_px(mapped(placing_of(picture(laid)), [[0, 0], [2000, 1500]]))
    assert laid.table.rect().contains(QPoint(*map(int, corners[0])))
    assert laid.table.rect().contains(QPoint(*map(int, corners[1])))


def test_a_piece_over_a_photograph_is_seen_through(laid):
    mat = mapped(placing_of(picture(laid)), [30, 30])
    row = {"edit": "add_rectangle", "name": "wing", "width_mm": 60, "height_mm": 60,
           "at_mm": (mat - 10).tolist()}  # fmt: skip
    laid.bench.do(decode_plain(row))
    laid.bench.choose([])
    white = QColor(laid.theme.scheme.piece).lightness()
    assert grey_at(laid, tuple((mat + 2).tolist())) < white - 25
    laid.bench.do(decode_plain({"edit": "set_picture", "picture": picture(laid).id,
                                "shown": False}))  # fmt: skip
    assert grey_at(laid, tuple((mat + 2).tolist())) == white


def test_from_the_first_page_to_a_piece_that_is_drawn(window):
    window.first.findChild(QPushButton, "first_piece").click()
    assert window.middle.currentWidget() is window.table
    assert window.hand.tool.name == "piece"


def test_from_the_first_page_to_a_photograph(window, photo, monkeypatch):
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(photo), ""))
    window.first.findChild(QPushButton, "first_photograph").click()
    assert picture(window).name == "heron hood"


def test_a_photograph_from_the_first_page_asks_for_unsaved_work_first(laid, photo):
    before = laid.bench.project
    laid.actions_by_name["start_page"].trigger()
    when_asked(lambda dialog: dialog.reject())
    laid.filing.lay_photograph(photo)
    assert laid.bench.project is before


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("grey", [0, 255])
def test_the_name_of_a_piece_is_read_over_a_photograph_of_any_light(qtbot, scheme, grey):
    image = QImage(400, 400, QImage.Format.Format_RGB32)
    image.fill(QColor(grey, grey, grey))
    data = QBuffer()
    data.open(QBuffer.OpenModeFlag.WriteOnly)
    QImageWriter(data, QByteArray(b"png")).write(image)
    over = AddPicture(name="mat", data=bytes(data.data().data()), middle_mm=(50.0, 50.0))
    named = Rename(id="p", name="centre front").apply(small.square())
    table = shown(qtbot, over.apply(named), scheme)
    box = name_on(table.look, table.bench.shown.pieces["p"]).box.toRect()
    seen = pixels(table)[box.top() : box.bottom(), box.left() : box.right()].mean(axis=2)
    # The letters' ink and the ground of the table round them are both there, whatever lies below.
    ground, ink = QColor(scheme.ground).lightness(), QColor(scheme.quiet).lightness()
    assert (np.abs(seen - ground) < 14).sum() > 60
    assert (np.abs(seen - ink) < 40).sum() > 20
