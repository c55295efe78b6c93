"""The numbers that change under the hand, beside the pointer and never under it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QWidget

from wedgework.bench.readouts import Number
from wedgework.window.preferences import Wishes
from wedgework.window.table.look import Look
from wedgework.window.theme import SMALL_PX, TEXT_PX, font

BESIDE_PX = 26
ROW_PX = 18
PAD_PX = 8
GAP_PX = 12


@dataclass(frozen=True, slots=True)
class Readout:
    """Where the pointer is, and the rows that stand beside it."""

    at: QPointF
    rows: tuple[tuple[str, str, bool], ...]
    look: Look


def readout(
    at: QPointF,
    numbers: Iterable[Number],
    typed: tuple[str, str],
    look: Look,
    said: Iterable[tuple[str, str, bool]] = (),
) -> Readout:
    """Rows of words, figure, and whether it is a difference that is not nothing.

    `typed` is what is asked, and what is typed of it so far. `said` are rows of the tool's own,
    which come first.
    """
    rows = list(said)
    rows += [(one.words, _said(one, look.wishes), _is_off(one)) for one in numbers]
    asked, text = typed
    if text:
        rows.insert(0, (asked, f"{text}▏", False))
    return Readout(at, tuple(rows), look)


def _said(number: Number, wishes: Wishes) -> str:
    before, now = (
        wishes.in_list(value, signed=number.signed) for value in (number.before_mm, number.now_mm)
    )
    return f"{before} → {now} {number.note}".rstrip()


def _is_off(number: Number) -> bool:
    return number.signed and float(f"{number.now_mm:.1f}") != 0.0


def _widths(shown: Readout) -> tuple[float, float]:
    small, strong = QFontMetrics(font(SMALL_PX)), QFontMetrics(font(TEXT_PX, strong=True))
    words = max(small.horizontalAdvance(row[0]) for row in shown.rows)
    return words, max(strong.horizontalAdvance(row[1]) for row in shown.rows)


def readout_box(widget: QWidget, shown: Readout) -> QRectF:
    """Above and to the right of the pointer, or to its left where there is no room."""
    words, figures = _widths(shown)
    width = words + figures + GAP_PX + 2 * PAD_PX
    height = len(shown.rows) * ROW_PX + 2 * PAD_PX - 6
    x, y = shown.at.x() + BESIDE_PX, shown.at.y() - BESIDE_PX - height
    if x + width > widget.width() - 4:
        x = shown.at.x() - BESIDE_PX - width
    if y < 4:
        y = shown.at.y() + BESIDE_PX + 12
    return QRectF(round(x), round(y), round(width), round(height))


def draw_readout(painter: QPainter, widget: QWidget, shown: Readout) -> None:
    """A small plate with a row a number, figures under each other."""
    scheme = shown.look.scheme
    box = readout_box(widget, shown)
    painter.setPen(QPen(QColor(scheme.rim), 1))
    painter.setBrush(QColor(scheme.piece))
    painter.drawRoundedRect(box.adjusted(0.5, 0.5, -0.5, -0.5), 4, 4)
    for index, (words, figure, is_off) in enumerate(shown.rows):
        row = QRectF(box.left() + PAD_PX, box.top() + PAD_PX - 3 + index * ROW_PX,
                     box.width() - 2 * PAD_PX, ROW_PX)  # fmt: skip
        painter.setFont(font(SMALL_PX))
        painter.setPen(QColor(scheme.quiet))
        painter.drawText(row, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, words)
        painter.setFont(font(TEXT_PX, strong=is_off))
        painter.setPen(QColor(scheme.difference if is_off else scheme.ink))
        painter.drawText(row, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, figure)
