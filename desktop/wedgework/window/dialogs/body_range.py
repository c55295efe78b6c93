"""A quiet bar for a measure: what others have, a band each, and a mark for this body."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import QWidget

from wedgework.pattern.body import base_of
from wedgework.pattern.body_ranges import Group, Spread, spreads_of
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.table.pens import pen
from wedgework.window.theme import SMALL_PX, font

ROW_PX: Final = 20
BAND_PX: Final = 8
WORDS_PX: Final = 52
MARK_PX: Final = 5.0


class RangeBar(QWidget):
    """Each published spread as a band, the middle nine tenths of people stronger."""

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self._rows: tuple[Spread, ...] = ()
        self._value: float | None = None
        self._wishes = Wishes()
        self.setAccessibleName("What others measure")

    def sizeHint(self) -> QSize:
        """A line for each spread, and one for the figures under them."""
        return QSize(260, ROW_PX * (len(self._rows) + 1) if self._rows else 0)

    def show_measure(
        self, name: str, value_mm: float | None, group: Group | None, wishes: Wishes
    ) -> None:
        """Show another measure, or the same with another value."""
        self._rows = spreads_of(base_of(name)[0], group)
        self._value, self._wishes = value_mm, wishes
        self.setFixedHeight(self.sizeHint().height())
        self.setToolTip("<br>".join(_said(one) for one in self._rows))
        self.setAccessibleDescription("; ".join(_said(one) for one in self._rows))
        self.update()

    def _x(self, value_mm: float) -> float:
        """Where a length lies; what is further out lies at the end."""
        low, high = self._ends()
        room = self.width() - WORDS_PX - 2 * MARK_PX
        share = min(max((value_mm - low) / (high - low), 0.0), 1.0)
        return WORDS_PX + MARK_PX + share * room

    def _ends(self) -> tuple[float, float]:
        low = min(one.low_mm for one in self._rows)
        high = max(one.high_mm for one in self._rows)
        return low - 0.08 * (high - low), high + 0.08 * (high - low)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Bands from three deviations below to three above; a triangle where this body is."""
        if not self._rows:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(font(SMALL_PX - 1))
        for index, one in enumerate(self._rows):
            self._draw_band(painter, one, index * ROW_PX)
        bottom = len(self._rows) * ROW_PX
        self._draw_figures(painter, bottom)
        if self._value is not None:
            self._draw_mark(painter, bottom)
        painter.end()

    def _draw_band(self, painter: QPainter, one: Spread, top: float) -> None:
        scheme, y = self._scheme, top + (ROW_PX - BAND_PX) / 2
        painter.setPen(QColor(scheme.quiet))
        painter.drawText(QRectF(0, top, WORDS_PX, ROW_PX), Qt.AlignmentFlag.AlignVCenter, one.group)
        painter.setPen(pen(scheme.rim))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        left, right = self._x(one.low_mm), self._x(one.high_mm)
        painter.drawRoundedRect(QRectF(left, y, right - left, BAND_PX), 2, 2)
        if one.percentiles_mm is not None:
            low, _, high = map(self._x, one.percentiles_mm)
            painter.fillRect(QRectF(low, y + 1, high - low, BAND_PX - 2), QColor(scheme.hair))
        middle = self._x(one.mean_mm)
        painter.drawLine(QLineF(middle, y, middle, y + BAND_PX))

    def _draw_figures(self, painter: QPainter, top: float) -> None:
        painter.setPen(QColor(self._scheme.quiet))
        for value, flag in (
            (min(one.low_mm for one in self._rows), Qt.AlignmentFlag.AlignLeft),
            (max(one.high_mm for one in self._rows), Qt.AlignmentFlag.AlignRight),
        ):
            x = self._x(value)
            box = QRectF(x, top, 80, ROW_PX - 4)
            if flag == Qt.AlignmentFlag.AlignRight:
                box.moveRight(x)
            painter.drawText(box, flag, self._wishes.in_list(value))

    def _draw_mark(self, painter: QPainter, bottom: float) -> None:
        x = self._x(self._value or 0.0)
        low, high = self._ends()
        is_out = not low <= (self._value or 0.0) <= high
        colour = QColor(self._scheme.difference if is_out else self._scheme.chosen)
        painter.setPen(pen(colour.name(), 1.6))
        painter.drawLine(QLineF(x, 1, x, bottom))
        painter.setBrush(colour)
        tip = [QPointF(x, bottom - 1), QPointF(x - MARK_PX, bottom + MARK_PX + 2),
               QPointF(x + MARK_PX, bottom + MARK_PX + 2)]  # fmt: skip
        painter.drawPolygon(QPolygonF(tip))


def _said(one: Spread) -> str:
    note = f", {one.note}" if one.note else ""
    return (
        f"{one.group}: mean {one.mean_mm:.0f} mm, standard deviation {one.sd_mm:.0f} mm{note}. "
        f"{one.source}."
    )
