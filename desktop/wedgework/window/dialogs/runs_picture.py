"""Both runs of a seam drawn beside each other, each on its pieces, with the way they are walked."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPolygonF, QTransform
from PySide6.QtWidgets import QWidget

from wedgework.geometry.curve import Curve, Floats, reversed_curve
from wedgework.geometry.length import length_mm, points_at
from wedgework.pattern.document import Project, Ref, Run
from wedgework.pattern.lookup import piece_of, the_edge
from wedgework.window.palette import Scheme
from wedgework.window.table.art import art_of, curve_path
from wedgework.window.table.pens import pen
from wedgework.window.theme import SMALL_PX, TEXT_PX, font

MARGIN_PX: Final = 16.0
TITLE_PX: Final = 22.0
GAP_PX: Final = 12.0
START_PX: Final = 4.5
ARROW_PX: Final = 9.0


class RunsPicture(QWidget):
    """Both sides at one scale; a dot is where the walk starts, and arrows go along it."""

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self._project = Project()
        self._sides: tuple[tuple[str, Run], ...] = ()
        self.setMinimumSize(300, 260)
        self.setAccessibleName("Both sides of the seam")

    def sizeHint(self) -> QSize:
        """Room for both sides."""
        return QSize(340, 400)

    def show_runs(self, project: Project, a: Run, b: Run) -> None:
        """Show the runs of another seam."""
        self._project, self._sides = project, (("A", a), ("B", b))
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Both panels, above or beside each other, as the pieces come out larger."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._scheme.ground))
        if self._sides:
            frames = max(_halves(QRectF(self.rect())), key=self._scale_in)
            scale = self._scale_in(frames)
            for (side, run), frame in zip(self._sides, frames, strict=True):
                self._draw_side(painter, side, run, frame, scale)
        painter.end()

    def _scale_in(self, frames: tuple[QRectF, QRectF]) -> float:
        """Pixels to the millimetre at which both sides find room."""
        drawn = zip(self._sides, frames, strict=True)
        cells = (cell for (_, run), frame in drawn for cell in self._cells(run, frame))
        return min(_scale(box, frame) for _, box, frame in cells)

    def _draw_side(
        self, painter: QPainter, side: str, run: Run, frame: QRectF, scale: float
    ) -> None:
        self._draw_title(painter, side, run, frame)
        for own, box, cell in self._cells(run, frame):
            mirrored = any(ref.mirrored for ref in run if self._owner(ref) == own)
            self._draw_piece(painter, own, run, _placed(box, cell, scale, mirrored=mirrored))

    def _owner(self, ref: Ref) -> str:
        return piece_of(self._project, ref.edge).id

    def _cells(self, run: Run, frame: QRectF) -> list[tuple[str, Floats, QRectF]]:
        """Each piece of a run with its bounds, (4,) mm, and the part of the picture it has."""
        owners = list(dict.fromkeys(self._owner(ref) for ref in run))
        inside = frame.adjusted(MARGIN_PX, TITLE_PX + 6, -MARGIN_PX, -MARGIN_PX / 2)
        width = (inside.width() - GAP_PX * (len(owners) - 1)) / len(owners)
        return [
            (own, art_of(self._project.pieces[own]).bounds,
             QRectF(inside.left() + index * (width + GAP_PX), inside.top(), width, inside.height()))
            for index, own in enumerate(owners)
        ]  # fmt: skip

    def _draw_title(self, painter: QPainter, side: str, run: Run, frame: QRectF) -> None:
        painter.setPen(pen(self._scheme.hair))
        if frame.top() > 0:
            painter.drawLine(frame.topLeft(), frame.topRight())
        if frame.left() > 0:
            painter.drawLine(frame.topLeft(), frame.bottomLeft())
        pieces = dict.fromkeys(piece_of(self._project, ref.edge) for ref in run)
        mirrored = all(ref.mirrored for ref in run)
        words = ", ".join(one.name or one.id for one in pieces) + (", mirrored" * mirrored)
        base = frame.topLeft() + QPointF(MARGIN_PX - 4, TITLE_PX - 5)
        painter.setPen(QColor(self._scheme.ink))
        painter.setFont(font(TEXT_PX, strong=True))
        painter.drawText(base, side)
        painter.setPen(QColor(self._scheme.quiet))
        painter.setFont(font(SMALL_PX))
        room = int(frame.width() - 2 * MARGIN_PX - 10)
        shown = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, room)
        painter.drawText(base + QPointF(18, 0), shown)

    def _draw_piece(self, painter: QPainter, own: str, run: Run, place: QTransform) -> None:
        painter.setTransform(place)
        painter.setPen(pen(self._scheme.rim))
        painter.setBrush(QColor(self._scheme.piece))
        painter.drawPath(art_of(self._project.pieces[own]).outline)
        painter.resetTransform()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        is_b = run is self._sides[-1][1]
        for index, ref in enumerate(run):
            if self._owner(ref) != own:
                continue
            curve = walked(self._project, ref)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(pen(self._scheme.chosen, 3.0, dashes=[3, 1.6] if is_b else None))
            painter.drawPath(place.map(curve_path(curve)))
            self._draw_way(painter, curve, place, starts=index == 0)

    def _draw_way(
        self, painter: QPainter, curve: Curve, place: QTransform, *, starts: bool
    ) -> None:
        whole = length_mm(curve)
        before, after = (
            place.map(QPointF(*point))
            for point in points_at(curve, np.array([0.52, 0.56]) * whole).tolist()
        )
        painter.setPen(pen(self._scheme.piece, 1.0))
        painter.setBrush(QColor(self._scheme.chosen))
        painter.drawPath(_arrow(before, after))
        if starts:
            painter.drawEllipse(place.map(QPointF(*curve.start.tolist())), START_PX, START_PX)


def _halves(whole: QRectF) -> tuple[tuple[QRectF, QRectF], tuple[QRectF, QRectF]]:
    """Two halves above each other, and two beside each other."""
    width, height = whole.width(), whole.height()
    above = QRectF(0, 0, width, height / 2), QRectF(0, height / 2, width, height / 2)
    beside = QRectF(0, 0, width / 2, height), QRectF(width / 2, 0, width / 2, height)
    return above, beside


def walked(project: Project, ref: Ref) -> Curve:
    """An edge in the direction in which a seam walks it."""
    curve = the_edge(project, ref.edge).curve
    return reversed_curve(curve) if ref.backward else curve


def _scale(box: Floats, frame: QRectF) -> float:
    width, height = (box[2:] - box[:2]).tolist()
    return float(min(frame.width() / max(width, 1.0), frame.height() / max(height, 1.0)))


def _placed(box: Floats, frame: QRectF, scale: float, *, mirrored: bool) -> QTransform:
    """From a piece's millimetres, y up, to the middle of a frame, y down."""
    middle = ((box[:2] + box[2:]) / 2).tolist()
    across = -scale if mirrored else scale
    centre = frame.center()
    return QTransform(
        across, 0, 0, -scale, centre.x() - across * middle[0], centre.y() + scale * middle[1]
    )


def _arrow(before: QPointF, after: QPointF) -> QPainterPath:
    """A head that points the way from one point to the other."""
    angle = math.atan2(after.y() - before.y(), after.x() - before.x())
    turned = QTransform().translate(before.x(), before.y()).rotateRadians(angle)
    path = QPainterPath()
    half = ARROW_PX / 2
    path.addPolygon(QPolygonF([QPointF(-half, -half), QPointF(half, 0), QPointF(-half, half)]))
    path.closeSubpath()
    return turned.map(path)
