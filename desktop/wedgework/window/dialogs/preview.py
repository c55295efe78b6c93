"""A picture of pieces as they would come in, with their corners, notches and names."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import point_at
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.lookup import the_edge
from wedgework.window.palette import Scheme
from wedgework.window.table.art import Art, art_of, room_across
from wedgework.window.table.pens import pen
from wedgework.window.table.view import View, fitting
from wedgework.window.theme import SMALL_PX, font

MARGIN_PX: Final = 18.0
CORNER_PX: Final = 2.6
NOTCH_PX: Final = 3.4


class Preview(QWidget):
    """Pieces over the outlines that they were drawn with, where those are others."""

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self._project, self._under = Project(), Project()
        self.setMinimumSize(360, 240)
        self.setAccessibleName("Picture of the pieces")

    def sizeHint(self) -> QSize:
        """Room for a picture."""
        return QSize(560, 380)

    def show_project(self, project: Project, under: Project | None = None) -> None:
        """Show another project; `under` are the outlines as they were drawn."""
        self._project, self._under = project, under or Project()
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Every piece, as large as all of them go."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._scheme.ground))
        pieces, under = (list(one.pieces.values()) for one in (self._project, self._under))
        if pieces:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            box = bounds_of_all([edge.curve for one in (*pieces, *under) for edge in one.edges])
            frame = QRectF(self.rect()).adjusted(MARGIN_PX, MARGIN_PX, -MARGIN_PX, -MARGIN_PX)
            view = fitting(box, frame)
            painter.setTransform(view.transform)
            self._draw_outlines(painter, pieces, under)
            painter.resetTransform()
            self._draw_marks(painter, view)
            self._draw_names(painter, view, pieces)
        painter.end()

    def _draw_outlines(self, painter: QPainter, pieces: list[Piece], under: list[Piece]) -> None:
        scheme = self._scheme
        painter.setPen(pen(scheme.rim, dashes=[4, 3]))
        for piece in under:
            painter.drawPath(art_of(piece).outline)
        for piece in pieces:
            art: Art = art_of(piece)
            painter.setPen(pen(scheme.edge))
            painter.setBrush(QColor(scheme.piece))
            painter.drawPath(art.outline)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(pen(scheme.quiet))
            painter.drawPath(art.lines)
            painter.drawPath(art.placed)
            painter.drawPath(art.folded)

    def _draw_marks(self, painter: QPainter, view: View) -> None:
        painter.setPen(pen(self._scheme.panel))
        painter.setBrush(QColor(self._scheme.chosen))
        for piece in self._project.pieces.values():
            for edge in piece.edges:
                painter.drawEllipse(view.to_px(edge.curve.start), CORNER_PX, CORNER_PX)
        # Notches are squares, so that they are not taken for corners.
        painter.setPen(pen(self._scheme.ink))
        painter.setBrush(QColor(self._scheme.piece))
        for notch in self._project.notches.values():
            at = view.to_px(point_at(the_edge(self._project, notch.at.edge).curve, notch.at.at_mm))
            half = QPointF(NOTCH_PX, NOTCH_PX)
            painter.drawRect(QRectF(at - half, at + half))

    def _draw_names(self, painter: QPainter, view: View, pieces: list[Piece]) -> None:
        painter.setFont(font(SMALL_PX))
        painter.setPen(QColor(self._scheme.quiet))
        metrics = painter.fontMetrics()
        for piece in pieces:
            room, name = room_across(piece), piece.name or piece.id
            if metrics.horizontalAdvance(name) + 6 > room.width_mm * view.px_per_mm:
                continue
            at = view.to_px(room.middle)
            painter.drawText(QPointF(at.x() - metrics.horizontalAdvance(name) / 2,
                                     at.y() + metrics.ascent() / 2), name)  # fmt: skip
