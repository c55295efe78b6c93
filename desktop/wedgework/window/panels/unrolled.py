"""The chosen seam unrolled: two rulers that face each other, and its shaping under them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QEvent, QLineF, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from wedgework.geometry.curve import Floats
from wedgework.pattern.document import Notch, Seam
from wedgework.pattern.runs import WalkedRun
from wedgework.pattern.seams import SeamMeasure
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.table.pens import pens_of
from wedgework.window.table.view import round_step
from wedgework.window.theme import SMALL_PX, font

MARGIN_PX = 16
BAR_PX = 24
GAP_PX = 22
NAME_PX = 18
BESIDE_NAME_PX = {"A": 96, "B": 268}
"""Room beside the name of a side: for the surplus above, for the sums of shaping below."""

GRIP_PX = 6
REACH_PX = 9
LEAST_SPAN_DEG = 10.0


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Shown:
    """A seam with its measure, the notches on it, and the stations that are being set, in mm."""

    seam: Seam
    measure: SeamMeasure
    notches: tuple[Notch, ...] = ()
    stations: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Layout:
    """Where things stand, in pixels: both rulers and the curve's frame."""

    left: float
    right: float
    a: QRectF
    b: QRectF
    curve: QRectF
    longest_mm: float

    def x(self, station_mm: float) -> float:
        """Pixel of a station."""
        return self.left + (self.right - self.left) * station_mm / self.longest_mm

    def station_mm(self, x_px: float) -> float:
        """Station under a pixel, within the seam."""
        share = (x_px - self.left) / max(self.right - self.left, 1.0)
        return min(max(share, 0.0), 1.0) * self.longest_mm


def layout_of(width: float, height: float, longest_mm: float) -> Layout:
    """Share the widget's height between the rulers and the curve."""
    left, right = MARGIN_PX, width - MARGIN_PX
    top = 4.0 + NAME_PX
    a = QRectF(left, top, right - left, BAR_PX)
    b = QRectF(left, a.bottom() + GAP_PX, right - left, BAR_PX)
    low = b.bottom() + NAME_PX + 4
    curve = QRectF(left, low, right - left, max(height - low - 8, 0))
    return Layout(left, right, a, b, curve, max(longest_mm, 1.0))


class Unrolled(QWidget):
    """Shows one seam; a station can be dragged along it and is told as `station_moved`."""

    pointed = Signal(object)
    station_moved = Signal(int, float)
    station_kept = Signal()
    station_added = Signal(float)

    def __init__(self, wishes: Wishes, scheme: Scheme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._wishes, self._scheme = wishes, scheme
        self._shown: Shown | None = None
        self._dragged: int | None = None
        self._pointer_mm: float | None = None
        self.setMouseTracking(True)
        self.setMinimumSize(220, 186)
        self.setAccessibleName("The chosen seam, unrolled")

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other units or colours."""
        self._wishes, self._scheme = wishes, scheme
        self.update()

    def show_seam(self, shown: Shown | None) -> None:
        """Show a seam, or none."""
        self._shown = shown
        self.setAccessibleDescription("" if shown is None else _spoken(shown, self._wishes))
        self.update()

    # Painting

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw it all; it is small."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._scheme.panel))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._shown is not None:
            layout = self._layout(self._shown)
            self._draw_run(painter, layout, layout.a, self._shown.measure.a, side="A")
            self._draw_run(painter, layout, layout.b, self._shown.measure.b, side="B")
            self._draw_matches(painter, layout, self._shown)
            self._draw_curve(painter, layout, self._shown)
            self._draw_stations(painter, layout, self._shown)
            self._draw_pointer(painter, layout, self._shown)
        painter.end()

    def _layout(self, shown: Shown) -> Layout:
        longest = max(shown.measure.a.length_mm, shown.measure.b.length_mm)
        return layout_of(self.width(), self.height(), longest)

    def _draw_run(
        self, painter: QPainter, layout: Layout, bar: QRectF, run: WalkedRun, *, side: str
    ) -> None:
        pens = pens_of(self._scheme)
        end = layout.x(run.length_mm)
        body = QRectF(bar.left(), bar.top(), end - bar.left(), bar.height())
        painter.setPen(pens.edge)
        painter.setBrush(QColor(self._scheme.piece))
        painter.drawRect(_sharp(body))
        above = side == "A"
        self._draw_ticks(painter, layout, body, run.length_mm, down=above)
        self._draw_joints(painter, layout, body, run)
        text = f"{side}  {_edge_names(run)}  {self._wishes.with_unit(run.length_mm)}"
        painter.setFont(font(SMALL_PX))
        painter.setPen(pens.quiet)
        y = bar.top() - NAME_PX if above else bar.bottom() + 1
        shown = painter.fontMetrics().elidedText(
            text, Qt.TextElideMode.ElideRight, int(bar.width()) - BESIDE_NAME_PX[side]
        )
        box = QRectF(bar.left(), y, bar.width(), NAME_PX)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, shown)

    def _draw_ticks(
        self, painter: QPainter, layout: Layout, body: QRectF, length_mm: float, *, down: bool
    ) -> None:
        pens = pens_of(self._scheme)
        unit_mm = self._wishes.length_unit.mm
        px_per_mm = (layout.right - layout.left) / layout.longest_mm
        step = round_step(54 / px_per_mm / unit_mm) * unit_mm
        painter.setFont(font(SMALL_PX - 2))
        painter.setPen(pens.quiet)
        inner = body.bottom() if down else body.top()
        sign = -1 if down else 1
        lines = []
        for index in range(int(length_mm / (step / 5)) + 1):
            x = round(layout.x(index * step / 5)) + 0.5
            main = index % 5 == 0
            lines.append(QLineF(x, inner, x, inner + sign * (6 if main else 3)))
            if main and index:
                box = QRectF(x - 30, body.top() + (2 if down else 8), 60, 13)
                text = f"{index / 5 * step / unit_mm:g}"
                if x + 14 < body.right():
                    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
        painter.drawLines(lines)

    def _draw_joints(self, painter: QPainter, layout: Layout, body: QRectF, run: WalkedRun) -> None:
        painter.setPen(pens_of(self._scheme).placed)
        for stretch in run.stretches[:-1]:
            x = layout.x(stretch.to_mm)
            painter.drawLine(QLineF(x, body.top(), x, body.bottom()))

    def _draw_matches(self, painter: QPainter, layout: Layout, shown: Shown) -> None:
        """Lines between stations that meet, notches, and the surplus of the longer side."""
        pens, measure = pens_of(self._scheme), shown.measure
        painter.setPen(pens.line)
        for a_mm, b_mm in measure.matches.tolist():
            start = QPointF(layout.x(a_mm), layout.a.bottom())
            painter.drawLine(start, QPointF(layout.x(b_mm), layout.b.top()))
        for notch in shown.notches:
            for run, bar, tip in ((measure.a, layout.a, 1), (measure.b, layout.b, -1)):
                for spot in (notch.at, notch.mate):
                    station = run.station_of(spot) if spot is not None else None
                    if station is not None:
                        _draw_notch(painter, pens.ink, layout.x(station), bar, tip)
        self._draw_surplus(painter, layout, shown)

    def _draw_surplus(self, painter: QPainter, layout: Layout, shown: Shown) -> None:
        measure, scheme = shown.measure, self._scheme
        if measure.state == "agrees":
            return
        longer, bar = (measure.a, layout.a) if measure.difference_mm > 0 else (measure.b, layout.b)
        start = layout.x(longer.length_mm - abs(measure.difference_mm))
        box = QRectF(start, bar.top(), max(layout.x(longer.length_mm) - start, 3.0), bar.height())
        colour = QColor(scheme.difference)
        painter.fillRect(box, QColor(scheme.piece))
        painter.fillRect(box, QBrush(colour, Qt.BrushStyle.BDiagPattern))
        painter.setPen(QPen(colour, 1.2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(_sharp(box))
        painter.setFont(font(SMALL_PX, strong=True))
        text = self._wishes.with_unit(measure.difference_mm, signed=True)
        frame = QRectF(layout.right - 120, layout.a.top() - NAME_PX, 120, NAME_PX)
        painter.drawText(frame, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, text)

    def _draw_curve(self, painter: QPainter, layout: Layout, shown: Shown) -> None:
        """Shaping gathered along the seam, in degrees: up where it rounds, down where it flares."""
        frame, pens = layout.curve, pens_of(self._scheme)
        if frame.height() < 30:
            return
        walk, turned = shown.measure.shaping[:, 0], np.degrees(shown.measure.shaping[:, 1])
        low, high = _span(turned)
        painter.setPen(pens.hair)
        zero = _y(frame, 0.0, low, high)
        painter.drawLine(QLineF(frame.left(), zero, frame.right(), zero))
        points = [
            QPointF(layout.x(at), _y(frame, value, low, high))
            for at, value in zip(walk.tolist(), turned.tolist(), strict=True)
        ]
        painter.setPen(QPen(QColor(self._scheme.ink), 1.4))
        painter.drawPolyline(QPolygonF(points))
        self._write_curve(painter, frame, shown)

    def _write_curve(self, painter: QPainter, frame: QRectF, shown: Shown) -> None:
        painter.setFont(font(SMALL_PX))
        painter.setPen(QColor(self._scheme.quiet))
        measure, wishes = shown.measure, self._wishes
        numbers = [math.degrees(v) for v in (measure.shaping_rad, measure.dome_rad,
                                             measure.hollow_rad)]  # fmt: skip
        text = (
            f"shaping {wishes.degrees(numbers[0], signed=True)}   dome {wishes.degrees(numbers[1])}"
            f"   hollow {wishes.degrees(numbers[2])}"
        )
        # On the row of side B's name, clear of the curve.
        box = QRectF(frame.left(), frame.top() - NAME_PX - 3, frame.width(), NAME_PX)
        painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, text)

    def _draw_stations(self, painter: QPainter, layout: Layout, shown: Shown) -> None:
        y = (layout.a.bottom() + layout.b.top()) / 2
        painter.setFont(font(SMALL_PX))
        grips = [layout.x(at_mm) for at_mm, _ in shown.stations]
        for index, (x, (_, width_mm)) in enumerate(zip(grips, shown.stations, strict=True)):
            colour = QColor(self._scheme.chosen)
            painter.setPen(QPen(colour, 1.4))
            painter.drawLine(QLineF(x, layout.a.top(), x, layout.curve.bottom()))
            painter.setBrush(colour if index == self._dragged else QColor(self._scheme.panel))
            painter.drawEllipse(QPointF(x, y), GRIP_PX, GRIP_PX)
            text = self._wishes.in_list(width_mm)
            end = x + 2 * GRIP_PX + 4 + painter.fontMetrics().horizontalAdvance(text)
            # A figure that would run into the next grip is left to the table of stations.
            if end < (grips[index + 1] if index + 1 < len(grips) else layout.right):
                painter.drawText(QPointF(x + GRIP_PX + 3, y + 4), text)

    def _draw_pointer(self, painter: QPainter, layout: Layout, shown: Shown) -> None:
        if self._pointer_mm is None or self._dragged is not None:
            return
        x = layout.x(self._pointer_mm)
        painter.setPen(pens_of(self._scheme).hair)
        painter.drawLine(QLineF(x, layout.a.top(), x, layout.curve.bottom()))
        painter.setFont(font(SMALL_PX))
        painter.setPen(QColor(self._scheme.quiet))
        walk, gathered = shown.measure.shaping.T
        turned = math.degrees(float(np.interp(self._pointer_mm, walk, gathered)))
        text = f"{self._wishes.with_unit(self._pointer_mm)}  {self._wishes.degrees(turned)}"
        width = painter.fontMetrics().horizontalAdvance(text)
        left = x + 6 if x + 8 + width < layout.right else x - 6 - width
        painter.drawText(QPointF(left, layout.curve.bottom() - 4), text)

    # Hand

    def _grip_at(self, at: QPointF, layout: Layout, shown: Shown) -> int | None:
        near = [
            (abs(layout.x(at_mm) - at.x()), index)
            for index, (at_mm, _) in enumerate(shown.stations)
        ]
        distance, index = min(near, default=(math.inf, 0))
        return index if distance <= REACH_PX else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a station."""
        if self._shown is not None and event.button() == Qt.MouseButton.LeftButton:
            layout = self._layout(self._shown)
            self._dragged = self._grip_at(event.position(), layout, self._shown)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag a station, or show where along the seam the pointer is."""
        if self._shown is None:
            return
        layout = self._layout(self._shown)
        self._pointer_mm = layout.station_mm(event.position().x())
        if self._dragged is not None:
            self.station_moved.emit(self._dragged, self._pointer_mm)
        over = self._grip_at(event.position(), layout, self._shown) is not None
        self.setCursor(Qt.CursorShape.SizeHorCursor if over else Qt.CursorShape.ArrowCursor)
        self.pointed.emit(self._pointer_mm)
        self.update()

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        """Leave the station where it is."""
        if self._dragged is not None:
            self._dragged = None
            self.station_kept.emit()
            self.update()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """A new station at this place."""
        if self._shown is not None:
            layout = self._layout(self._shown)
            self.station_added.emit(layout.station_mm(event.position().x()))

    def leaveEvent(self, _event: QEvent) -> None:
        """The pointer is elsewhere."""
        self._pointer_mm = None
        self.pointed.emit(None)
        self.update()


def _span(turned: Floats) -> tuple[float, float]:
    """Least and greatest degree of the frame, never so narrow that rounding looks like shaping."""
    low, high = min(float(turned.min()), 0.0), max(float(turned.max()), 0.0)
    missing = max(LEAST_SPAN_DEG - (high - low), 0.0) / 2
    return low - missing, high + missing


def _y(frame: QRectF, value: float, low: float, high: float) -> float:
    return frame.bottom() - 4 - (frame.height() - 8) * (value - low) / (high - low)


def _sharp(box: QRectF) -> QRectF:
    return QRectF(round(box.left()) + 0.5, round(box.top()) + 0.5, round(box.width()),
                  round(box.height()))  # fmt: skip


def _draw_notch(painter: QPainter, pen: QPen, x: float, bar: QRectF, tip: int) -> None:
    painter.setPen(pen)
    inner = bar.bottom() if tip > 0 else bar.top()
    painter.setBrush(pen.color())
    painter.drawPolygon([QPointF(x - 4, inner), QPointF(x + 4, inner), QPointF(x, inner - 7 * tip)])


def _edge_names(run: WalkedRun) -> str:
    return " + ".join(
        dict.fromkeys(stretch.piece.name or stretch.piece.id for stretch in run.stretches)
    )


def _spoken(shown: Shown, wishes: Wishes) -> str:
    measure = shown.measure
    return (
        f"Side A {wishes.with_unit(measure.a.length_mm)}, "
        f"side B {wishes.with_unit(measure.b.length_mm)}, "
        f"shaping {wishes.degrees(math.degrees(measure.shaping_rad))}"
    )
