"""A picture of all pieces with the pages of paper that they lie on."""

from __future__ import annotations

from typing import Final

import numpy as np
from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from wedgework.geometry.curve import Floats
from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.document import Project
from wedgework.window.palette import Scheme
from wedgework.window.table.art import art_of
from wedgework.window.table.pens import pen
from wedgework.window.table.view import fitting

MARGIN_PX: Final = 18.0


class PagePicture(QWidget):
    """Pieces over pages; pages that carry nothing are not printed and not shown."""

    def __init__(self, project: Project, scheme: Scheme) -> None:
        super().__init__()
        self._project, self._scheme = project, scheme
        self._boxes: Floats = np.empty((0, 4))
        self.setMinimumSize(360, 240)
        self.setAccessibleName("Picture of the pieces and their pages")

    def sizeHint(self) -> QSize:
        """Room for a picture."""
        return QSize(480, 360)

    def show_pages(self, boxes: Floats | None) -> None:
        """Show the pieces over these pages, (n, 4) mm, or alone."""
        self._boxes = np.empty((0, 4)) if boxes is None else boxes
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Pages first, then the pieces, as outlines so that page edges are seen through them."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._scheme.ground))
        pieces = list(self._project.pieces.values())
        if pieces:
            frame = QRectF(self.rect()).adjusted(MARGIN_PX, MARGIN_PX, -MARGIN_PX, -MARGIN_PX)
            view = fitting(self._bounds(), frame)
            self._draw_pages(painter, [view.rect_px(box) for box in self._boxes])
            painter.setTransform(view.transform)
            painter.setPen(pen(self._scheme.edge))
            fill = Qt.BrushStyle.NoBrush if len(self._boxes) else QColor(self._scheme.piece)
            painter.setBrush(fill)
            for piece in pieces:
                painter.drawPath(art_of(piece).outline)
        painter.end()

    def _bounds(self) -> Floats:
        own = [edge.curve for piece in self._project.pieces.values() for edge in piece.edges]
        boxes = np.vstack([bounds_of_all(own), self._boxes])
        return np.concatenate([boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)])

    def _draw_pages(self, painter: QPainter, rects: list[QRectF]) -> None:
        painter.setPen(pen(self._scheme.rim))
        painter.setBrush(QColor(self._scheme.piece))
        for rect in rects:
            painter.drawRect(rect)
