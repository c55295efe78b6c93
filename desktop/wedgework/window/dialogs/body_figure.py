"""Front and back of a plain body, and on it where a measure is taken: `body_figure.toml`."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QTransform
from PySide6.QtWidgets import QWidget

from wedgework.pattern.body import MEASURES, SIDED, Side, base_of
from wedgework.resources import resource_path
from wedgework.window.palette import Scheme
from wedgework.window.table.pens import pen
from wedgework.window.theme import SMALL_PX, font

TALL: Final = 1000.0
WIDE: Final = 2 * 215.0
RING_RISE: Final = 0.16
"""How flat the ellipse of a girth is drawn: it is seen a little from above."""

MARGIN_PX: Final = 26.0
DOT_PX: Final = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """Where a measure is taken: `ring` or `arc` are centre x, y and half width, `line` points."""

    group: str
    view: str
    ring: tuple[float, ...] = ()
    arc: tuple[float, ...] = ()
    line: tuple[tuple[float, float], ...] = ()


@cache
def _file() -> dict[str, Any]:
    return tomllib.loads(resource_path("body_figure.toml").read_text(encoding="utf-8"))


@cache
def taken_at() -> dict[str, Taken]:
    """Where each measure is taken, by its plain name, in the order of the file."""
    return {name: Taken(**row) for name, row in _file()["taken"].items()}


def groups() -> dict[str, list[str]]:
    """Measures by the part of the body that they belong to."""
    rows: dict[str, list[str]] = {}
    for name, row in taken_at().items():
        rows.setdefault(row.group, []).append(name)
    return rows


@cache
def outline() -> QPainterPath:
    """The whole outline, y up: a smooth way through the points of one half and their images."""
    half = [(float(x), float(y)) for x, y in _file()["outline"]]
    points = [*half, *((-x, y) for x, y in reversed(half) if x > 0)]
    return _smooth(points)


def _smooth(points: list[tuple[float, float]]) -> QPainterPath:
    """Closed, each stretch a cubic whose handles are a sixth of the way between its neighbours."""
    count = len(points)
    path = QPainterPath(QPointF(*points[0]))
    for index in range(count):
        before, start, end, after = (points[(index + step) % count] for step in (-1, 0, 1, 2))
        out = QPointF(start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6)
        into = QPointF(end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6)
        path.cubicTo(out, into, QPointF(*end))
    return path


class BodyFigure(QWidget):
    """Two views of a body; the chosen measure is drawn on those that show it."""

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self._name = next(iter(MEASURES))
        self._side: Side | None = None
        self.setMinimumSize(300, 320)
        self.setAccessibleName("Where the measure is taken")

    def sizeHint(self) -> QSize:
        """Room for both views."""
        return QSize(420, 480)

    def show_measure(self, name: str, side: Side | None) -> None:
        """Show where another measure is taken; of what has two sides, one or both."""
        self._name, own = base_of(name)
        self._side = own or side
        self.setAccessibleDescription(MEASURES[self._name])
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Front on the left, back on the right."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._scheme.ground))
        half = self.width() / 2
        for index, view in enumerate(("front", "back")):
            self._draw_view(painter, view, QRectF(index * half, 0, half, self.height()))
        painter.end()

    def _draw_view(self, painter: QPainter, view: str, frame: QRectF) -> None:
        place = _placed(frame)
        painter.setPen(pen(self._scheme.edge))
        painter.setBrush(QColor(self._scheme.piece))
        painter.drawPath(place.map(outline()))
        painter.setPen(QColor(self._scheme.quiet))
        painter.setFont(font(SMALL_PX))
        words = QRectF(frame.left(), frame.bottom() - 21, frame.width(), 18)
        painter.drawText(words, Qt.AlignmentFlag.AlignCenter, view)
        self._draw_sides(painter, view, frame)
        taken = taken_at()[self._name]
        if taken.view in {view, "both"}:
            for mirrored in self._mirrors(view):
                self._draw_taken(painter, taken, _mirrored(place) if mirrored else place)

    def _draw_sides(self, painter: QPainter, view: str, frame: QRectF) -> None:
        """Which side of the body is which: seen from the front, its left is on the right."""
        if self._name not in SIDED:
            return
        words = ("right", "left") if view == "front" else ("left", "right")
        box = QRectF(frame.left() + 8, 4, frame.width() - 16, 18)
        for word, flag in zip(
            words, (Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignRight), strict=True
        ):
            painter.drawText(box, flag, word)

    def _mirrors(self, view: str) -> tuple[bool, ...]:
        """Whether a measure is drawn as it stands in the file, mirrored, or both."""
        if self._name not in SIDED:
            return (False,)
        if self._side is None:
            return (False, True)
        stands_for: Side = "left" if view == "front" else "right"
        return (self._side != stands_for,)

    def _draw_taken(self, painter: QPainter, taken: Taken, place: QTransform) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if taken.line:
            self._draw_line(painter, [place.map(QPointF(*point)) for point in taken.line])
            return
        x, y, half = taken.ring or taken.arc
        box = QRectF(x - half, y - half * RING_RISE, 2 * half, 2 * half * RING_RISE)
        if taken.ring:
            painter.setPen(pen(self._scheme.chosen, 1.4, dashes=[3, 2.4]))
            painter.drawPath(place.map(_half(box, far=True)))
        painter.setPen(pen(self._scheme.chosen, 3.0))
        painter.drawPath(place.map(_half(box, far=False)))

    def _draw_line(self, painter: QPainter, points: list[QPointF]) -> None:
        painter.setPen(pen(self._scheme.chosen, 3.0))
        painter.drawPolyline(points)
        painter.setPen(pen(self._scheme.piece))
        painter.setBrush(QColor(self._scheme.chosen))
        for end in (points[0], points[-1]):
            painter.drawEllipse(end, DOT_PX, DOT_PX)


def _half(box: QRectF, *, far: bool) -> QPainterPath:
    """The near or the far half of a girth; in a frame with y up the near one lies lower."""
    path = QPainterPath()
    path.arcMoveTo(box, 0)
    path.arcTo(box, 0, -180 if far else 180)
    return path


def _placed(frame: QRectF) -> QTransform:
    """From the file's frame, y up, into part of the picture."""
    scale = min((frame.height() - 2 * MARGIN_PX) / TALL, (frame.width() - MARGIN_PX) / WIDE)
    middle = frame.center()
    return QTransform(scale, 0, 0, -scale, middle.x(), middle.y() + scale * TALL / 2)


def _mirrored(place: QTransform) -> QTransform:
    return QTransform(-1, 0, 0, 1, 0, 0) * place
