"""What belongs to a whole project in a small picture: photographs below, seams, measurements."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from wedgework.geometry.curve import Points
from wedgework.geometry.length import point_at
from wedgework.pattern.document import Pin, Project, Run, Seam
from wedgework.pattern.pins import anchor_points, pin_value
from wedgework.pattern.runs import walked
from wedgework.window.palette import Scheme
from wedgework.window.table.pens import pen
from wedgework.window.table.photographs import draw_photographs
from wedgework.window.table.view import View
from wedgework.window.theme import SMALL_PX, font

STITCHES: Final = (0.15, 0.5, 0.85)
"""Where along a seam, as shares of its length, a thin line joins its sides."""


class Layers:
    """Draws them on one picture; `known` is the project before, None where that is drawn."""

    def __init__(
        self, painter: QPainter, view: View, scheme: Scheme, known: Project | None = None
    ) -> None:
        self._painter, self._view, self._scheme, self._known = painter, view, scheme, known

    def draw_below(self, project: Project) -> None:
        """Photographs, and thin lines from side to side of each seam; new ones in colour."""
        painter = self._painter
        draw_photographs(painter, self._view, project)
        for own, seam in project.seams.items():
            is_new = self._known is not None and own not in self._known.seams
            painter.setPen(self._pen(is_new=is_new, dashes=[2, 2]))
            for start, end in _stitches(project, seam):
                painter.drawLine(self._view.to_px(start), self._view.to_px(end))

    def draw_above(self, project: Project) -> None:
        """Pinned measurements, each a line with its value; new or changed ones in colour."""
        for own, pin in project.pins.items():
            is_new = self._known is not None and self._known.pins.get(own) is not pin
            self._painter.setPen(self._pen(is_new=is_new))
            self._draw_pin(project, pin)

    def _draw_pin(self, project: Project, pin: Pin) -> None:
        if pin.kind == "girth":
            return
        points = [self._view.to_px(point) for point in anchor_points(project, pin.anchors)]
        self._painter.drawPolyline(points)
        for point in points:
            self._painter.drawEllipse(point, 2.0, 2.0)
        middle = (points[0] + points[-1]) / 2
        self._painter.setFont(font(SMALL_PX))
        box = QRectF(middle.x() - 30, middle.y() - 18, 60, 16)
        words = "" if pin.kind == "angle" else f"{pin_value(project, pin):.1f}"
        self._painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def _pen(self, *, is_new: bool, dashes: list[float] | None = None) -> QPen:
        return pen(self._scheme.chosen if is_new else self._scheme.quiet, 1.2, dashes)


def _stitches(project: Project, seam: Seam) -> Iterator[tuple[Points, Points]]:
    if seam.is_dart:
        return
    for share in STITCHES:
        yield _place(project, seam.a, share), _place(project, seam.b, share)


def _place(project: Project, run: Run, share: float) -> Points:
    along = walked(project, run)
    at_mm = share * along.length_mm
    stretch = along.stretch_at(at_mm)
    return point_at(stretch.edge.curve, stretch.own_mm(at_mm))
