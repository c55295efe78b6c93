"""Letters on the table: about a pixel, turned, on a plate, and with a halo over a photograph."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPainterPath, QPen

PAD_PX, ROW_PX = 5, 16


def write_turned(  # noqa: PLR0913 - with what lies under it
    painter: QPainter,
    at: QPointF,
    text: str,
    turn_deg: float,
    *,
    plate: QBrush | None = None,
    halo: QPen | None = None,
) -> None:
    """Text about a pixel, turned clockwise; on a plate, so that no line runs through it."""
    painter.save()
    painter.translate(at)
    painter.rotate(turn_deg)
    if plate is not None:
        width = painter.fontMetrics().horizontalAdvance(text) + 2 * PAD_PX
        painter.fillRect(QRectF(-width / 2, -ROW_PX / 2 + 1, width, ROW_PX - 2), plate)
    write_centred(painter, QPointF(0, 0), text, halo)
    painter.restore()


def write_centred(painter: QPainter, at: QPointF, text: str, halo: QPen | None = None) -> QRectF:
    """Text with its middle at a pixel, in a halo where a photograph lies under it; its box."""
    metrics = painter.fontMetrics()
    width, height = metrics.horizontalAdvance(text), metrics.height()
    box = QRectF(at.x() - width / 2, at.y() - height / 2, width, height)
    if halo is not None:
        write_halo(painter, QPointF(box.left(), box.top() + metrics.ascent()), text, halo)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, text)
    return box


def write_at(painter: QPainter, at: QPointF, text: str, halo: QPen | None) -> None:
    """Text from a pixel on, which is where its first letter stands."""
    if halo is not None:
        write_halo(painter, at, text, halo)
    painter.drawText(at, text)


def write_halo(painter: QPainter, at: QPointF, text: str, halo: QPen) -> None:
    """What goes round letters, so that they are read whatever lies under them."""
    letters = QPainterPath()
    letters.addText(at, painter.font(), text)
    painter.strokePath(letters, halo)
