"""Rulers along two sides of the table, and the scale in its corner."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QWidget

from wedgework.units import format_number
from wedgework.window.table.draw import grid_step_mm
from wedgework.window.table.look import Look
from wedgework.window.table.view import round_step
from wedgework.window.theme import SMALL_PX, font

RULER_PX = 22
"""Width of a ruler."""

LABELLED_PX = 64
PARTS = 5
CORNER_CLEAR_PX = 14
"""A figure nearer to the corner than this would be cut off by it."""
SCALE_PX = 90
PLATE_ALPHA = 225
"""The scale stands on a plate of ground, so that it can be read over pieces."""


def frame_px(width_px: float, height_px: float) -> QRectF:
    """The part of the table that the rulers leave free."""
    return QRectF(RULER_PX, 0, width_px - RULER_PX, height_px - RULER_PX)


class Ruler(QWidget):
    """One ruler, kept as a picture; where the pointer is, a line crosses it."""

    def __init__(self, table: QWidget, *, across: bool) -> None:
        super().__init__(table)
        self._across = across
        self._look: Look | None = None
        self._picture = QPixmap()
        self._at_px: float | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def show_look(self, look: Look) -> None:
        """Another part of the plane, another unit or other colours."""
        if look != self._look:
            self._look, self._picture = look, QPixmap()
            self.update()

    def show_pointer(self, at_px: float | None) -> None:
        """Where the pointer is along the ruler; only that line is drawn again."""
        for at in (self._at_px, at_px):
            if at is not None:
                self._update_line(round(at))
        self._at_px = at_px

    def _update_line(self, at: int) -> None:
        if self._across:
            self.update(at - 2, 0, 5, self.height())
        else:
            self.update(0, at - 2, self.width(), 5)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        """Another size needs another picture."""
        self._picture = QPixmap()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The picture and the pointer's line."""
        if self._look is None:
            return
        if self._picture.isNull():
            self._picture = self._drawn(self._look)
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._picture)
        if self._at_px is not None:
            painter.setPen(self._look.pens.ink)
            at = round(self._at_px) + 0.5
            ends = (at, 0.0, at, float(self.height()))
            painter.drawLine(QLineF(*ends) if self._across else QLineF(0.0, at, self.width(), at))
        painter.end()

    def _drawn(self, look: Look) -> QPixmap:
        ratio = self.devicePixelRatioF()
        picture = QPixmap(self.size() * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(QColor(look.scheme.panel))
        painter = QPainter(picture)
        painter.setFont(font(SMALL_PX - 2))
        band = QRectF(self.rect())
        painter.setPen(look.pens.hair)
        if self._across:
            painter.drawLine(QLineF(RULER_PX, 0.5, band.right(), 0.5))
            _draw_across(painter, look, band)
            _draw_corner(painter, look)
        else:
            painter.drawLine(QLineF(band.right() - 0.5, 0, band.right() - 0.5, band.bottom()))
            _draw_up(painter, look, band)
        painter.end()
        return picture


def ticks(look: Look, start_mm: float, end_mm: float) -> list[tuple[float, bool, str]]:
    """Place in mm, whether it is a main one, and what is written there."""
    step = grid_step_mm(look, LABELLED_PX)
    part, unit_mm = step / PARTS, look.wishes.length_unit.mm
    first, last = int(start_mm // part), int(end_mm // part) + 1
    decimals = 0 if step / unit_mm >= 1 else len(f"{step / unit_mm:.10f}".rstrip("0")) - 2
    rows = []
    for index in range(first, last + 1):
        main = index % PARTS == 0
        text = format_number(index // PARTS * step / unit_mm, decimals) if main else ""
        rows.append((index * part, main, text))
    return rows


def _draw_across(painter: QPainter, look: Look, band: QRectF) -> None:
    view, lines = look.view, []
    painter.setPen(look.pens.quiet)
    for at_mm, main, text in ticks(look, view.left_mm, view.to_mm(band.right(), 0)[0]):
        x = round((at_mm - view.left_mm) * view.px_per_mm) + 0.5
        lines.append(QLineF(x, 0, x, 6 if main else 3))
        if text and x > RULER_PX + CORNER_CLEAR_PX:
            box = QRectF(x - 40, 6, 80, RULER_PX - 6)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
    painter.drawLines(lines)


def _draw_up(painter: QPainter, look: Look, band: QRectF) -> None:
    view, lines = look.view, []
    painter.setPen(look.pens.quiet)
    for at_mm, main, text in ticks(look, view.to_mm(0, band.bottom())[1], view.top_mm):
        y = round((view.top_mm - at_mm) * view.px_per_mm) + 0.5
        lines.append(QLineF(RULER_PX - (6 if main else 3), y, RULER_PX, y))
        if text:
            _write_upwards(painter, QPointF(8, y), text)
    painter.drawLines(lines)


def _write_upwards(painter: QPainter, at: QPointF, text: str) -> None:
    painter.save()
    painter.translate(at)
    painter.rotate(-90)
    painter.drawText(QRectF(-40, -8, 80, 16), Qt.AlignmentFlag.AlignCenter, text)
    painter.restore()


def _draw_corner(painter: QPainter, look: Look) -> None:
    box = QRectF(0, 0, RULER_PX, RULER_PX)
    painter.fillRect(box, QColor(look.scheme.panel))
    painter.setPen(look.pens.quiet)
    painter.setFont(font(SMALL_PX - 1))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, look.wishes.unit)


def scale_box(look: Look, size: QRectF) -> QRectF:
    """Where the scale stands: the lower right corner of the table."""
    width = _scale_mm(look) * look.view.px_per_mm
    return QRectF(size.width() - width - 90, size.height() - RULER_PX - 40, width + 84, 34)


def _scale_mm(look: Look) -> float:
    unit_mm = look.wishes.length_unit.mm
    return round_step(SCALE_PX * look.view.px_mm / unit_mm) * unit_mm


def draw_scale(painter: QPainter, look: Look, size: QRectF, px_per_mm: float) -> None:
    """A bar of a round length with its value, and how large things are on this screen.

    `px_per_mm` is that of the screen, so 100 % is as large as life.
    """
    length_mm = _scale_mm(look)
    box = scale_box(look, size)
    x, y = box.left() + 6, box.bottom() - 6.5
    end = x + length_mm * look.view.px_per_mm
    ground = QColor(look.scheme.ground)
    ground.setAlpha(PLATE_ALPHA)
    painter.fillRect(box, ground)
    painter.setPen(look.pens.ink)
    painter.drawPolyline([QPointF(x, y - 5), QPointF(x, y), QPointF(end, y), QPointF(end, y - 5)])
    painter.setFont(font(SMALL_PX))
    unit_mm = look.wishes.length_unit.mm
    decimals = 0 if length_mm / unit_mm >= 1 else 2
    text = f"{format_number(length_mm / unit_mm, decimals)} {look.wishes.unit}"
    middle = QRectF(x, y - 22, end - x, 16)
    painter.drawText(middle, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, text)
    share = 100 * look.view.px_per_mm / px_per_mm
    painter.setPen(look.pens.quiet)
    flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextDontClip
    painter.drawText(QRectF(end + 10, y - 12, 60, 16), flags, f"{share:.0f} %")
