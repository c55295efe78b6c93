"""The table: what it draws again, what a step brings onto it, and where a place lies in it."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QMouseEvent, QRegion
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests import small
from tests.speed.test_bench import table_of
from wedgework.bench import Bench, Hand
from wedgework.edits import decode_plain
from wedgework.edits.drawn import AddLabel
from wedgework.edits.marks import AddNotches
from wedgework.edits.rows import AddPunchRow
from wedgework.pattern.mouths import mouths_of
from wedgework.window.palette import DARK, LIGHT
from wedgework.window.preferences import Wishes
from wedgework.window.table.art import room_across
from wedgework.window.table.hands import HandTable
from wedgework.window.table.hot import sorted_out
from wedgework.window.table.view import View, fitting, round_step

LEFT = Qt.MouseButton.LeftButton


def shown(qtbot, project, scheme=LIGHT, step="Shape"):
    bench = Bench(project)
    bench.go_to_step(step)
    table = HandTable(bench, Hand(bench), Wishes(), scheme)
    qtbot.addWidget(table)
    bench.subscribe(table.follow)
    table.resize(900, 700)
    table.show()
    table.fit()
    QApplication.processEvents()
    return table


def send(table, kind, at, held=LEFT, keys=Qt.KeyboardModifier.NoModifier):
    button = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else LEFT
    event = QMouseEvent(kind, at, table.mapToGlobal(at), button, held, keys)
    QApplication.sendEvent(table, event)
    QApplication.processEvents()


def drag(table, at_mm, by_px):
    """Press at a place in mm and move; the button stays down."""
    start = QPointF(table.view.to_px(at_mm))
    send(table, QEvent.Type.MouseButtonPress, start)
    send(table, QEvent.Type.MouseMove, start + by_px / 2)
    send(table, QEvent.Type.MouseMove, start + by_px)


def pixels(table):
    picture = table.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    width, height = picture.width(), picture.height()
    return np.array(picture.constBits()).reshape(height, width, 4)[..., :3].astype(int)


def test_a_place_under_a_pixel_is_found_again():
    view = View(left_mm=-31.0, top_mm=77.0, px_per_mm=2.6)
    at = view.to_px(view.to_mm(123.0, 45.0))
    assert (at.x(), at.y()) == pytest.approx((123.0, 45.0))


def test_zooming_keeps_what_is_under_the_pointer():
    view = View(left_mm=-31.0, top_mm=77.0, px_per_mm=2.6)
    assert view.zoomed(1.7, 200.0, 90.0).to_mm(200.0, 90.0) == pytest.approx(
        view.to_mm(200.0, 90.0)
    )


def test_what_is_fitted_lies_inside_its_frame():
    frame = QRectF(22, 0, 800, 500)
    view = fitting(np.array([-10.0, 5.0, 790.0, 700.0]), frame)
    assert frame.adjusted(-1, -1, 1, 1).contains(view.rect_px(np.array([-10.0, 5.0, 790.0, 700.0])))


@pytest.mark.parametrize(("least", "step"), [(1.0, 1), (1.01, 2), (3, 5), (50.0, 50), (51, 100)])
def test_rulers_step_by_round_numbers(least, step):
    assert round_step(least) == pytest.approx(step)


def test_the_frames_of_a_drag_draw_no_still_piece_again(qtbot):
    table = shown(qtbot, table_of(300))
    corner = table.bench.project.pieces["p150"].edges[0].curve.start
    drag(table, corner, QPointF(7, 5))
    assert table.bench.is_previewing
    before = table.pieces_drawn
    for step in range(20):
        at = QPointF(table.view.to_px(corner)) + QPointF(7 + step % 5, 5 + step % 3)
        send(table, QEvent.Type.MouseMove, at)
    assert table.pieces_drawn == before


def test_panning_draws_only_what_it_bares(qtbot):
    table = shown(qtbot, table_of(300))
    before = table.pieces_drawn
    table.pan(4, 0)
    assert table.pieces_drawn - before < 60


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=lambda scheme: scheme.name)
@pytest.mark.parametrize("step", ["Measure", "Shape", "Join", "Mark"])
def test_what_an_edit_leaves_behind_is_what_a_fresh_table_draws(qtbot, scheme, step):
    table = shown(qtbot, small.with_everything(), scheme, step)
    drag(table, (100.0, 100.0), QPointF(31, -17))
    send(table, QEvent.Type.MouseButtonRelease, QPointF(table.view.to_px((100, 100))))
    table.bench.do(decode_plain({"edit": "move_piece", "piece": "b", "by_mm": [-40, 25]}))
    table.bench.choose(())
    send(table, QEvent.Type.MouseMove, QPointF(2, 2), Qt.MouseButton.NoButton)
    view = table.view
    fresh = shown(qtbot, table.bench.project, scheme, step)
    fresh.set_view(view)
    QTest.qWait(120)
    send(fresh, QEvent.Type.MouseMove, QPointF(2, 2), Qt.MouseButton.NoButton)
    off = np.abs(pixels(table) - pixels(fresh)).max(axis=2) > 8
    assert off.mean() < 0.001


class Painted(QObject):
    """Takes down which pixels of a widget are painted again."""

    def __init__(self, widget):
        super().__init__(widget)
        self.region = QRegion()
        widget.installEventFilter(self)

    def eventFilter(self, _widget, event):  # noqa: N802 - Qt's name
        if event.type() == QEvent.Type.Paint:
            self.region += event.region()
        return False


def test_a_piece_that_went_far_away_leaves_no_outline_where_it_was(qtbot):
    table = shown(qtbot, small.two_panels())
    table.bench.preview(decode_plain({"edit": "move_piece", "piece": "b", "by_mm": [0, 150]}))
    QTest.qWait(60)
    painted = Painted(table)
    table.bench.drop_preview()
    QTest.qWait(60)
    assert painted.region.contains(table.view.to_px((300.0, 0.0)).toPoint())
    table.bench.preview(decode_plain({"edit": "move_piece", "piece": "b", "by_mm": [0, 150]}))
    QTest.qWait(60)
    painted.region = QRegion()
    table.bench.do(decode_plain({"edit": "move_piece", "piece": "b", "by_mm": [0, 150]}))
    QTest.qWait(60)
    assert painted.region.contains(table.view.to_px((300.0, 0.0)).toPoint())


def test_a_drag_is_let_go_of_by_escape(qtbot):
    table = shown(qtbot, small.two_panels())
    before = table.bench.project
    drag(table, (100.0, 100.0), QPointF(20, 10))
    QTest.keyClick(table, Qt.Key.Key_Escape)
    assert not table.bench.is_previewing
    assert table.bench.project is before


def test_alt_lets_go_of_snapping(qtbot):
    table = shown(qtbot, small.two_panels())
    start = QPointF(table.view.to_px((100.0, 100.0)))
    # Three pixels beside being level with the other piece's corner.
    to = QPointF(start.x() + 30, start.y() + 2)
    alt = Qt.KeyboardModifier.AltModifier
    send(table, QEvent.Type.MouseButtonPress, start)
    send(table, QEvent.Type.MouseMove, to)
    snapped = table.bench.shown.pieces["a"].edges[2].curve.start[1]
    send(table, QEvent.Type.MouseMove, to, keys=alt)
    free = table.bench.shown.pieces["a"].edges[2].curve.start[1]
    assert snapped == 100.0
    assert free < 100.0


def test_a_tail_is_drawn_in_the_colour_of_differences_while_the_button_is_down(qtbot):
    table = shown(qtbot, small.two_panels())
    send(table, QEvent.Type.MouseMove, QPointF(2, 2), Qt.MouseButton.NoButton)
    orange = np.array([int(LIGHT.difference[i : i + 2], 16) for i in (5, 3, 1)])
    assert not (np.abs(pixels(table) - orange).max(axis=2) < 12).any()
    drag(table, (100.0, 100.0), QPointF(0, -60))
    assert (np.abs(pixels(table) - orange).max(axis=2) < 12).sum() > 40


def test_a_held_seam_is_marked_on_both_of_its_sides_at_once(qtbot):
    table = shown(qtbot, small.two_panels())
    before = pixels(table)
    table.bench.do(decode_plain({"edit": "hold_seam", "seam": "s"}))
    QApplication.processEvents()
    rows, columns = np.nonzero(np.abs(pixels(table) - before).max(axis=2) > 8)
    for middle_mm in ((100, 50), (200, 50)):
        place = table.view.to_px(middle_mm)
        near = (abs(rows - place.y()) < 7) & (abs(columns - place.x()) < 7)
        assert near.sum() > 12
    assert len(rows) < 400


@pytest.mark.parametrize(
    "edit",
    [
        {"edit": "add_punch_row", "seam": "s", "pitch_mm": 12},
        {"edit": "add_notches", "seam": "s", "at_mm": [20, 60], "double": True},
        {"edit": "set_seam", "seam": "s", "lap_mm": 20, "over": "b"},
    ],
)
def test_what_changes_on_a_piece_and_not_in_it_is_drawn_again(qtbot, edit):
    table = shown(qtbot, small.two_panels(), step="Mark")
    table.bench.do(decode_plain(edit))
    fresh = shown(qtbot, table.bench.project, step="Mark")
    fresh.set_view(table.view)
    QTest.qWait(120)
    off = np.abs(pixels(table) - pixels(fresh)).max(axis=2) > 8
    assert off.sum() < 20


@pytest.mark.parametrize("step", ["Shape", "Cut"])
def test_the_mouth_of_a_folded_dart_is_drawn_at_once_in_every_step(qtbot, step):
    table = shown(qtbot, small.darted_front(), step=step)
    before = pixels(table)
    table.bench.do(decode_plain({"edit": "fold_dart", "dart": "d1", "to": "a"}))
    fresh = shown(qtbot, table.bench.project, step=step)
    fresh.set_view(table.view)
    QTest.qWait(120)
    peak = table.view.to_px(mouths_of(table.bench.project, table.bench.project.pieces["p"])[0].end)
    rows, columns = np.nonzero(np.abs(pixels(table) - before).max(axis=2) > 8)
    assert ((abs(rows - peak.y()) < 9) & (abs(columns - peak.x()) < 9)).any()
    assert (np.abs(pixels(table) - pixels(fresh)).max(axis=2) > 8).sum() < 20


def test_a_chosen_notch_is_ringed_on_both_sides_and_no_edge_is_taken_for_chosen():
    project = AddNotches(seam="s", at_mm=(30.0,)).apply(small.two_panels())
    chosen = sorted_out(project, ["s.n1"])
    assert chosen.edges == ()
    assert [x for x, _ in chosen.marks] == pytest.approx([100, 200])
    row = AddPunchRow(seam="s", pitch_mm=20.0).apply(small.two_panels())
    assert len(sorted_out(row, ["s.r1.o1"]).marks) == 10


def test_a_chosen_label_is_underlined():
    project = AddLabel(piece="a", text="heron", at_mm=(20.0, 40.0), height_mm=10.0).apply(
        small.two_panels()
    )
    (below,) = sorted_out(project, ["a.t1"]).lines
    assert below.start.tolist() == pytest.approx([20, 37])
    assert below.end[0] == pytest.approx(48)


def test_the_name_on_the_table_stands_beside_a_grain_line():
    grain = {"edit": "add_line", "piece": "p", "kind": "grain", "points_mm": [[40, 10], [40, 90]]}
    piece = decode_plain(grain).apply(small.square()).pieces["p"]
    room = room_across(piece)
    assert room.middle.tolist() == pytest.approx([70, 50])
    assert room.width_mm == pytest.approx(60)
