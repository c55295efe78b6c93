"""Rulers along two sides of the table, and the scale in its corner."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from wedgework.units import format_number
from wedgework.window.table.draw import Look, grid_step_mm
from wedgework.window.table.view import round_step
from wedgework.window.theme import SMALL_PX, font

RULER_PX = 22
"""Width of a ruler."""

LABELLED_PX = 64
PARTS = 5
SCALE_PX = 90


def frame_px(width_px: float, height_px: float) -> QRectF:
    """The part of the table that the rulers leave free."""
    return QRectF(RULER_PX, 0, width_px - RULER_PX, height_px - RULER_PX)


def draw_rulers(
    painter: QPainter, look: Look, size: QRectF, pointer_px: QPointF | None = None
) -> None:
    """Both rulers, with the pointer's place on each, and their corner with the unit."""
    low, left = _bands(size)
    for band in (low, left):
        painter.fillRect(band, QColor(look.scheme.panel))
    painter.setPen(look.pens.hair)
    painter.drawLine(QLineF(low.left(), low.top() + 0.5, low.right(), low.top() + 0.5))
    painter.drawLine(QLineF(left.right() - 0.5, 0, left.right() - 0.5, left.bottom()))
    painter.setFont(font(SMALL_PX - 2))
    _draw_across(painter, look, low)
    _draw_up(painter, look, left)
    if pointer_px is not None:
        _draw_pointer(painter, look, low, left, pointer_px)
    _draw_corner(painter, look, size)


def _bands(size: QRectF) -> tuple[QRectF, QRectF]:
    low = QRectF(0, size.height() - RULER_PX, size.width(), RULER_PX)
    return low, QRectF(0, 0, RULER_PX, size.height() - RULER_PX)


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
    view = look.view
    right_mm = view.to_mm(band.right(), 0)[0]
    for at_mm, main, text in ticks(look, view.left_mm, right_mm):
        x = round(view.to_px((at_mm, 0.0)).x()) + 0.5
        painter.setPen(look.pens.quiet)
        painter.drawLine(QLineF(x, band.top(), x, band.top() + (6 if main else 3)))
        if text:
            box = QRectF(x - 40, band.top() + 6, 80, band.height() - 6)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def _draw_up(painter: QPainter, look: Look, band: QRectF) -> None:
    view = look.view
    low_mm = view.to_mm(0, band.bottom())[1]
    for at_mm, main, text in ticks(look, low_mm, view.top_mm):
        y = round(view.to_px((0.0, at_mm)).y()) + 0.5
        if y > band.bottom():
            continue
        painter.setPen(look.pens.quiet)
        painter.drawLine(QLineF(band.right() - (6 if main else 3), y, band.right(), y))
        if text:
            _write_upwards(painter, QPointF(band.left() + 8, y), text)


def _write_upwards(painter: QPainter, at: QPointF, text: str) -> None:
    painter.save()
    painter.translate(at)
    painter.rotate(-90)
    painter.drawText(QRectF(-40, -8, 80, 16), Qt.AlignmentFlag.AlignCenter, text)
    painter.restore()


def _draw_pointer(
    painter: QPainter, look: Look, low: QRectF, left: QRectF, pointer_px: QPointF
) -> None:
    painter.setPen(look.pens.ink)
    painter.drawLine(QLineF(pointer_px.x(), low.top(), pointer_px.x(), low.bottom()))
    if pointer_px.y() < left.bottom():
        painter.drawLine(QLineF(left.left(), pointer_px.y(), left.right(), pointer_px.y()))


def _draw_corner(painter: QPainter, look: Look, size: QRectF) -> None:
    box = QRectF(0, size.height() - RULER_PX, RULER_PX, RULER_PX)
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
