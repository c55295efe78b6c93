"""What moves with the hand: tails of surplus, the comb of a seam, traces, and numbers in a drag.

All of it is plain data of the bench, drawn in pixels so that letters and hatching keep their size.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPainterPathStroker,
    QPen,
    QPolygonF,
)

from wedgework.bench.gestures import Mm2
from wedgework.bench.readouts import Comb, Number, Tail
from wedgework.geometry.flatten import flattened
from wedgework.window.table.draw import Look
from wedgework.window.table.pens import pen
from wedgework.window.theme import SMALL_PX, TEXT_PX, font

TAIL_PX: Final = 9.0
FIGURE_PX: Final = 16.0
TOOTH_PX_PER_DEG: Final = 9.0
TOOTH_MOST_PX: Final = 46.0
LEAST_SUM_DEG: Final = 1.0
LEAST_TOOTH_DEG: Final = 0.05
BESIDE_PX: Final = QPointF(22, -22)
PAD_PX: Final = 8.0


def tail_path(look: Look, tail: Tail) -> QPainterPath:
    """The surplus stretch as a band, in pixels: as long as it is at the present zoom."""
    line = QPainterPath()
    for curve in tail.curves:
        points = look.view.all_to_px(flattened(curve, 0.3 * look.view.px_mm))
        line.addPolygon(QPolygonF([QPointF(x, y) for x, y in points.tolist()]))
    stroker = QPainterPathStroker()
    stroker.setWidth(TAIL_PX)
    stroker.setCapStyle(Qt.PenCapStyle.FlatCap)
    return stroker.createStroke(line)


def tail_box(look: Look, tail: Tail) -> QRectF:
    """Pixels that a tail and its figure may cover."""
    figure = _figure_at(look, tail)
    reach = QPointF(60, FIGURE_PX)
    return tail_path(look, tail).boundingRect().united(QRectF(figure - reach, figure + reach))


def draw_tail(painter: QPainter, look: Look, tail: Tail) -> None:
    """The hatched surplus of the longer side, and its figure outside of the piece."""
    colour = QColor(look.scheme.difference)
    painter.setPen(pen(look.scheme.difference, 1.2))
    painter.setBrush(QBrush(colour, Qt.BrushStyle.BDiagPattern))
    painter.drawPath(tail_path(look, tail))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setFont(font(TEXT_PX, strong=True))
    _write_over(
        painter, look, _figure_at(look, tail), look.wishes.with_unit(tail.surplus_mm, signed=True)
    )


def _figure_at(look: Look, tail: Tail) -> QPointF:
    at = look.view.to_px(tail.at_mm)
    away = np.array(tail.outward) * (TAIL_PX + FIGURE_PX)
    # Letters are wider than high: further off where the piece ends at the side.
    return at + QPointF(float(away[0]) * 1.8, -float(away[1]))


def _write_over(painter: QPainter, look: Look, at: QPointF, text: str) -> None:
    """Text in the difference's colour on a patch of ground, so that no line runs through it."""
    metrics = QFontMetricsF(painter.font())
    size = QSizeF(metrics.horizontalAdvance(text) + 8, metrics.height() + 2)
    box = QRectF(at - QPointF(size.width() / 2, size.height() / 2), size)
    ground = QColor(look.scheme.ground)
    ground.setAlpha(225)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(box, 3, 3)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QColor(look.scheme.difference))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def comb_box(look: Look, comb: Comb) -> QRectF:
    """Pixels that a comb may cover."""
    points = look.view.all_to_px(comb.points_mm)
    low, high = points.min(axis=0), points.max(axis=0)
    reach = TOOTH_MOST_PX + 40
    return QRectF(QPointF(*low.tolist()), QPointF(*high.tolist())).adjusted(
        -reach, -reach, reach, reach
    )


def draw_comb(painter: QPainter, look: Look, comb: Comb) -> None:
    """Teeth out of the piece where the seam domes, into it where it hollows, in ink.

    The tallest tooth has a fixed height, so the comb says where shaping sits; how much of it there
    is, the figures beside its highest and its lowest place say.
    """
    tallest = float(np.abs(comb.shaping_deg).max(initial=0.0))
    if tallest < LEAST_TOOTH_DEG:
        return
    feet = look.view.all_to_px(comb.points_mm)
    away = comb.outward * (1.0, -1.0)
    per_deg = min(TOOTH_PX_PER_DEG, TOOTH_MOST_PX / tallest)
    tips = feet + away * (comb.shaping_deg * per_deg)[:, None]
    painter.setPen(pen(look.scheme.ink, 1.0))
    for foot, tip in zip(feet.tolist(), tips.tolist(), strict=True):
        painter.drawLine(QPointF(*foot), QPointF(*tip))
    painter.drawPolyline(QPolygonF([QPointF(*tip) for tip in tips.tolist()]))
    _write_sums(painter, look, comb, tips, away)


def _write_sums(
    painter: QPainter, look: Look, comb: Comb, tips: np.ndarray, away: np.ndarray
) -> None:
    """The sum of the dome beside its highest tooth, and of the hollow beside its lowest."""
    painter.setFont(font(SMALL_PX, strong=True))
    metrics = QFontMetricsF(painter.font())
    for word, way in (("dome", 1.0), ("hollow", -1.0)):
        teeth = np.maximum(comb.shaping_deg * way, 0.0)
        if teeth.sum() < LEAST_SUM_DEG:
            continue
        at = int(teeth.argmax())
        text = f"{word} {look.wishes.degrees(float(teeth.sum()))}"
        direction = away[at] * way
        half = metrics.horizontalAdvance(text) / 2 * abs(float(direction[0]))
        x, y = (tips[at] + direction * (12 + half)).tolist()
        box = QRectF(x - 60, y - 10, 120, 20)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, text)


def draw_trace(painter: QPainter, look: Look, points: Sequence[Mm2], *, closed: bool) -> None:
    """The line of a tool that is half done, with a dot at each point."""
    if not points:
        return
    pixels = [look.view.to_px(point) for point in points]
    painter.setPen(pen(look.scheme.chosen, 1.6, dashes=[4, 3]))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    polygon = QPolygonF([*pixels, pixels[0]] if closed else pixels)
    painter.drawPolyline(polygon)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(look.scheme.chosen))
    for at in pixels:
        painter.drawEllipse(at, 3.5, 3.5)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def trace_box(look: Look, points: Sequence[Mm2]) -> QRectF:
    """Pixels that a trace covers."""
    box = QPolygonF([look.view.to_px(point) for point in points]).boundingRect()
    return box.adjusted(-6, -6, 6, 6)


def number_lines(look: Look, numbers: Iterable[Number]) -> list[tuple[str, str]]:
    """What stands beside the pointer: words, and the value as it was and as it is."""
    rows = []
    for one in numbers:
        before, now = (
            look.wishes.in_list(value, signed=one.signed) for value in (one.before_mm, one.now_mm)
        )
        rows.append((one.words, f"{before} → {now}"))
    return rows


def numbers_box(at: QPointF, rows: list[tuple[str, str]], inside: QRectF) -> QRectF:
    """Where the numbers stand: above and right of the hand, moved so that all of it is seen."""
    metrics = QFontMetricsF(_figures())
    words = max(metrics.horizontalAdvance(text) for text, _ in rows)
    values = max(metrics.horizontalAdvance(text) for _, text in rows)
    size = QSizeF(words + values + 4 * PAD_PX, len(rows) * (metrics.height() + 2) + 2 * PAD_PX)
    left = at.x() + BESIDE_PX.x()
    top = at.y() + BESIDE_PX.y() - size.height()
    if left + size.width() > inside.right():
        left = at.x() - BESIDE_PX.x() - size.width()
    return QRectF(QPointF(left, max(top, inside.top() + 4)), size)


def draw_numbers(painter: QPainter, look: Look, box: QRectF, rows: list[tuple[str, str]]) -> None:
    """The panel of numbers."""
    painter.setPen(QPen(QColor(look.scheme.rim), 1))
    painter.setBrush(QColor(look.scheme.panel))
    painter.drawRoundedRect(box, 4, 4)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setFont(_figures())
    height = (box.height() - 2 * PAD_PX) / len(rows)
    for index, (words, value) in enumerate(rows):
        line = QRectF(box.left() + PAD_PX, box.top() + PAD_PX + index * height,
                      box.width() - 2 * PAD_PX, height)  # fmt: skip
        painter.setPen(QColor(look.scheme.quiet))
        painter.drawText(line, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, words)
        painter.setPen(QColor(look.scheme.ink))
        painter.drawText(line, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, value)


def _figures() -> QFont:
    return font(SMALL_PX)
