"""The table: shows the bench's pieces in three layers and hands on what the hand does.

Still pieces lie in one picture; what is chosen or moving is drawn over it; rulers, scale and the
numbers beside the pointer lie on top. Only what changed is drawn again.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import cast

from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QRegion,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from wedgework.bench import Bench, Change
from wedgework.geometry.curve import Curve, Floats
from wedgework.pattern.document import Piece, PieceId
from wedgework.pattern.pictures import bounds_mm
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.table.art import art_of
from wedgework.window.table.hot import (
    Chosen,
    boxes_of,
    draw_chosen,
    draw_hot_pieces,
    draw_old,
    sorted_out,
)
from wedgework.window.table.look import Look
from wedgework.window.table.rulers import RULER_PX, Ruler, draw_scale, frame_px, scale_box
from wedgework.window.table.scene import Scene
from wedgework.window.table.still import StillLayer, few, grown
from wedgework.window.table.view import View, fitting

SHARPEN_AFTER_MS = 80
ZOOM_STEP = 1.2
"""A notch of the wheel; an eighth of a degree is Qt's unit, 120 of them a notch."""

WHEEL_NOTCH = 120.0
PAN_STEP_PX = 60
MARGIN_PX = 36
MM_PER_INCH = 25.4


class Table(QWidget):
    """The drawing area."""

    pointer_moved = Signal(object)
    view_changed = Signal()
    pressed = Signal(object, float)
    """The left button went down: where in mm, and how far a press reaches, in mm."""

    menu_wanted = Signal(object)
    """The right button was pressed, with nothing in hand, at a QPoint of the table."""

    def __init__(self, bench: Bench, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self.bench = bench
        self._wishes, self._scheme = wishes, scheme
        self.view = View()
        self._scene = Scene()
        self._still = StillLayer(self._scene)
        self._chosen = Chosen()
        self._moving: frozenset[PieceId] = frozenset()
        self._hot_region = QRegion()
        self._pan_from: QPoint | None = None
        self._pointer: QPointF | None = None
        self._space = False
        self._low, self._left = Ruler(self, across=True), Ruler(self, across=False)
        self._sharpen = QTimer(self, singleShot=True, interval=SHARPEN_AFTER_MS)
        self._sharpen.timeout.connect(self._make_sharp)
        self.setObjectName("table")
        self.setAccessibleName("Table")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(240, 160)
        self._scene.show(bench.shown)

    # What is shown

    @property
    def look(self) -> Look:
        """The view with the colours and wishes in force."""
        over = any(one.shown for one in self.bench.shown.pictures.values())
        return Look(self.view, self._scheme, self._wishes, self.bench.step, over)

    @property
    def pieces_drawn(self) -> int:
        """How often a piece was drawn into the still picture so far."""
        return self._still.pieces_drawn

    def sizeHint(self) -> QSize:
        """As much room as there is."""
        return QSize(900, 600)

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other colours, unit or wishes."""
        self._wishes, self._scheme = wishes, scheme
        self._make_sharp()

    def follow(self, change: Change) -> None:
        """Show what has changed on the bench."""
        if change.kind == "opened":
            self._scene.show(self.bench.shown)
            self._take_over(frozenset())
            self._make_sharp()
            self.fit()
        elif change.kind in {"edited", "previewed", "chosen"}:
            self._follow_edit(change)
        elif change.kind == "step":
            self._make_sharp()

    def _follow_edit(self, change: Change) -> None:
        """Redraw the boxes before and after, and nothing else."""
        before = self._still.repair(()) + self._hot_region
        moving = change.pieces if self.bench.is_previewing else frozenset()
        # A piece keeps its place among the hot ones for as long as the preview lasts.
        moving = moving | self._moving if self.bench.is_previewing else moving
        leaving = self._region_of(change.pieces)
        pictures = self._scene.project.pictures
        self._scene.show(self.bench.shown, change.pieces)
        if self.bench.shown.pictures is not pictures:
            # They may lie under everything, so everything is drawn again.
            self._make_sharp()
        region = self._take_over(moving)
        settled = change.pieces - self._still_hot()
        # PySide6 walks a region's rectangles; its stubs do not say so.
        rects = cast("Iterable[QRect]", leaving)
        boxes = [QRectF(rect) for rect in rects] if settled else []
        region += self._still.repair(settled, boxes)
        self._hot_region = self._region_now()
        self.update(region + before + leaving + self._hot_region)

    def _take_over(self, moving: frozenset[PieceId]) -> QRegion:
        self._moving = frozenset(own for own in moving if own in self.bench.shown.pieces)
        self._chosen = sorted_out(self.bench.shown, self.bench.chosen)
        return self._still.set_hot(self._still_hot())

    def _still_hot(self) -> frozenset[PieceId]:
        return self._moving | {piece.id for piece in self._chosen.pieces}

    def _region_of(self, pieces: Iterable[PieceId]) -> QRegion:
        region = QRegion()
        for own in pieces:
            bounds = self._scene.bounds_of([own])
            if bounds is not None:
                region += grown(self.view.rect_px(bounds), self.look.margin_px)
        return region

    def _region_now(self) -> QRegion:
        """All pixels that the hot layer covers at this moment."""
        region = self._region_of(self._still_hot())
        for piece in self._old_pieces():
            region += grown(self.view.rect_px(art_of(piece).bounds), self.look.margin_px)
        for box in (*boxes_of(self.look, self._chosen), *self.extra_boxes()):
            region += grown(box)
        return region

    def show_fault(self, curves: tuple[Curve, ...]) -> None:
        """Mark the stretch that a finding is about, until something else is chosen."""
        self._chosen = replace(self._chosen, faults=curves)
        self.refresh_hot()

    def extra_boxes(self) -> list[QRectF]:
        """Pixels that tails, combs and readouts cover."""
        return []

    def refresh_hot(self) -> None:
        """Draw the hot layer again where it was and where it is now."""
        before, self._hot_region = self._hot_region, self._region_now()
        self.update(before + self._hot_region)

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        """Three layers, within what has to be drawn again."""
        painter, region = QPainter(self), event.region()
        for rect in few(region):
            self._still.draw(painter, self.look, rect)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._draw_hot(painter, region)
        size = QRectF(self.rect())
        if region.intersects(scale_box(self.look, size).toAlignedRect()):
            draw_scale(painter, self.look, size, self.screen_px_per_mm())
        painter.end()

    def _draw_hot(self, painter: QPainter, region: QRegion) -> None:
        look = self.look
        draw_hot_pieces(painter, look, self._scene, self._hot_pieces(), self._chosen)
        draw_old(painter, look, self._old_pieces())
        draw_chosen(painter, look, self._chosen)
        self.draw_hot_extras(painter, region)

    def _old_pieces(self) -> list[Piece]:
        """What is being changed, as it was before."""
        kept = self.bench.project.pieces
        return [kept[own] for own in self._moving if own in kept]

    def _hot_pieces(self) -> list[Piece]:
        pieces = self.bench.shown.pieces
        return [pieces[own] for own in self._still_hot() if own in pieces]

    def draw_hot_extras(self, painter: QPainter, region: QRegion) -> None:
        """What is drawn over the pieces within a region of pixels."""

    def screen_px_per_mm(self) -> float:
        """Pixels to the millimetre of this screen, as far as it tells its size."""
        return self.logicalDpiX() / MM_PER_INCH

    # View

    def _make_sharp(self) -> None:
        self._sharpen.stop()
        self._still.renew(self.look, self.size(), self.devicePixelRatioF())
        self._hot_region = self._region_now()
        self._show_view()

    def set_view(self, view: View) -> None:
        """Show another part, or at another size: scaled at once, sharp a moment later."""
        self.view = view
        self._sharpen.start()
        self._show_view()

    def pan(self, x_px: int, y_px: int) -> None:
        """Push the pieces by whole pixels."""
        if x_px == 0 and y_px == 0:
            return
        is_sharp = self._still.is_sharp(self.look)
        self.view = self.view.panned(x_px, y_px)
        if is_sharp:
            self._still.pan(self.look, x_px, y_px)
            self._hot_region = self._region_now()
        else:
            self._sharpen.start()
        self._show_view()

    def _show_view(self) -> None:
        for ruler in (self._low, self._left):
            ruler.show_look(self.look)
        self.update()
        self.view_changed.emit()

    def zoom(self, factor: float, about: QPointF | None = None) -> None:
        """Show pieces `factor` times as large, about a pixel or the middle."""
        at = about or frame_px(self.width(), self.height()).center()
        self.set_view(self.view.zoomed(factor, at.x(), at.y()))

    def fit(self, pieces: list[PieceId] | None = None) -> None:
        """Show all pieces, or some of them, as large as they go."""
        bounds = self._scene.bounds if pieces is None else self._scene.bounds_of(pieces)
        if bounds is None and pieces is None:
            boxes = map(bounds_mm, self.bench.shown.pictures.values())
            bounds = next((box for box in boxes if box is not None), None)
        if bounds is not None:
            self.show_box(bounds)

    def show_box(self, bounds: Floats) -> None:
        """Show a box, (4,) mm, as large as it goes."""
        frame = frame_px(self.width(), self.height())
        frame = frame.adjusted(MARGIN_PX, MARGIN_PX, -MARGIN_PX, -MARGIN_PX)
        if frame.width() > 0 and frame.height() > 0:
            self.set_view(fitting(bounds, frame))
            self._make_sharp()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the middle in the middle."""
        width, height = self.width(), self.height()
        self._low.setGeometry(0, height - RULER_PX, width, RULER_PX)
        self._left.setGeometry(0, 0, RULER_PX, height - RULER_PX)
        old, new = event.oldSize(), event.size()
        if old.isValid():
            shift = (new - old) / 2
            self.view = self.view.panned(shift.width(), shift.height())
        self._make_sharp()

    # Hand

    def wheelEvent(self, event: QWheelEvent) -> None:
        """The wheel zooms about the pointer; a touch pad pans, and zooms with Ctrl."""
        pixels = event.pixelDelta()
        holds_ctrl = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if not pixels.isNull() and not holds_ctrl:
            self.pan(pixels.x(), pixels.y())
        else:
            turns = event.angleDelta().y() / WHEEL_NOTCH
            self.zoom(ZOOM_STEP**turns, event.position())
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """The middle button, or space with the left one, takes hold of the table itself."""
        is_pan = event.button() == Qt.MouseButton.MiddleButton or (
            self._space and event.button() == Qt.MouseButton.LeftButton
        )
        if is_pan:
            self._pan_from = event.position().toPoint()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        else:
            self.hand_press(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pan, or hand the move on."""
        self._show_pointer(event.position())
        if self._pan_from is not None:
            here = event.position().toPoint()
            step, self._pan_from = here - self._pan_from, here
            self.pan(step.x(), step.y())
        else:
            self.hand_move(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Two quick presses are two presses."""
        self.mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of the table, or hand the release on."""
        if self._pan_from is not None:
            self._pan_from = None
            self.setCursor(
                Qt.CursorShape.OpenHandCursor if self._space else Qt.CursorShape.ArrowCursor
            )
        else:
            self.hand_release(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Space takes hold of the table, arrows with Ctrl pan; the rest is the tool's."""
        arrows = {
            Qt.Key.Key_Left: (1, 0),
            Qt.Key.Key_Right: (-1, 0),
            Qt.Key.Key_Up: (0, 1),
            Qt.Key.Key_Down: (0, -1),
        }
        key = Qt.Key(event.key())
        if key in arrows and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            x, y = arrows[key]
            self.pan(x * PAN_STEP_PX, y * PAN_STEP_PX)
        elif self.hand_key(event):
            # Within numbers that are typed a blank parts two of them.
            return
        elif key == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = True
            self.setCursor(Qt.CursorShape.OpenHandCursor)
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Space let go."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self.unsetCursor()
        else:
            super().keyReleaseEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Who looks elsewhere lets go."""
        super().focusOutEvent(event)
        self._space = False
        self._pan_from = None
        self.hand_cancel()

    def leaveEvent(self, event: QEvent) -> None:
        """No pointer, no numbers beside it."""
        super().leaveEvent(event)
        self._show_pointer(None)

    def _show_pointer(self, at: QPointF | None) -> None:
        self._pointer = at
        self._low.show_pointer(None if at is None else at.x())
        self._left.show_pointer(None if at is None else at.y())
        self.pointer_moved.emit(None if at is None else self.view.to_mm(at.x(), at.y()))

    def hand_press(self, event: QMouseEvent) -> None:
        """A press that is the tool's."""

    def hand_move(self, event: QMouseEvent) -> None:
        """A move that is the tool's."""

    def hand_release(self, event: QMouseEvent) -> None:
        """A release that is the tool's."""

    def hand_key(self, _event: QKeyEvent) -> bool:
        """A key for the tool; whether it took it."""
        return False

    def hand_cancel(self) -> None:
        """Let go of whatever is in hand."""
