"""The still layer: all that does not move, kept as one picture.

It is moved when the view is panned and scaled when it is zoomed; only what is bared or has changed
is drawn again. Source of the design: measured against items in a scene, see DEVELOPERS, decision 7.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import cast

from PySide6.QtCore import QRect, QRectF, QSize
from PySide6.QtGui import QPainter, QPixmap, QRegion

from wedgework.pattern.document import PieceId
from wedgework.window.table.draw import draw_ground, draw_pieces
from wedgework.window.table.look import EDGE_PX, Look
from wedgework.window.table.photographs import draw_photographs
from wedgework.window.table.scene import Scene

MOST_RECTS = 3


class StillLayer:
    """A picture of every piece but those that are hot, for one look and size."""

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._pixmap = QPixmap()
        self._look: Look | None = None
        self._hot: frozenset[PieceId] = frozenset()
        self.pieces_drawn = 0

    def draw(self, painter: QPainter, look: Look, rect: QRect) -> None:
        """Put a part of the picture on the screen; another zoom is shown scaled, at once."""
        if self._look is None:
            return
        if self._look.view == look.view:
            ratio = self._pixmap.devicePixelRatio()
            source = QRect(rect.topLeft() * ratio, rect.size() * ratio)
            painter.drawPixmap(rect, self._pixmap, source)
            return
        painter.fillRect(rect, look.pens.ground)
        size = self._pixmap.deviceIndependentSize()
        shown = self._look.view.bounds_mm(QRectF(0, 0, size.width(), size.height()))
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, on=False)
        painter.drawPixmap(look.view.rect_px(shown), self._pixmap, QRectF(self._pixmap.rect()))

    def is_sharp(self, look: Look) -> bool:
        """Whether the picture is one of this very look."""
        return self._look == look

    def renew(self, look: Look, size: QSize, ratio: float) -> None:
        """Draw everything again."""
        self._pixmap = QPixmap(size * ratio)
        self._pixmap.setDevicePixelRatio(ratio)
        self._look = look
        self._paint(QRegion(QRect(QRect().topLeft(), size)))

    def pan(self, look: Look, x_px: int, y_px: int) -> None:
        """Move the picture by whole pixels and draw the strips that this bares."""
        size = self._pixmap.deviceIndependentSize().toSize()
        ratio = self._pixmap.devicePixelRatio()
        self._look = look
        bared = QRegion(0, 0, size.width(), size.height())
        if ratio == round(ratio):
            whole = round(ratio)
            self._pixmap.scroll(x_px * whole, y_px * whole, self._pixmap.rect())
            kept = QRect(QRect().topLeft(), size).translated(x_px, y_px)
            bared = bared.subtracted(QRegion(kept))
        self._paint(bared)

    def set_hot(self, hot: frozenset[PieceId]) -> QRegion:
        """Leave pieces out of the picture (those that are being changed), put others back.

        Answers the region that is other than before.
        """
        changed, self._hot = hot ^ self._hot, hot
        return self.repair(changed)

    def repair(self, pieces: Iterable[PieceId], boxes: Iterable[QRectF] = ()) -> QRegion:
        """Draw again where pieces are, and within other boxes of pixels; answers that region."""
        region = QRegion()
        if self._look is None:
            return region
        for box in (*self._boxes_px(pieces, self._look), *boxes):
            region += grown(box, self._look.margin_px)
        self._paint(region)
        return region

    def _boxes_px(self, pieces: Iterable[PieceId], look: Look) -> Iterable[QRectF]:
        for piece in pieces:
            bounds = self._scene.bounds_of([piece])
            if bounds is not None:
                yield look.view.rect_px(bounds)

    def _paint(self, region: QRegion) -> None:
        region = region.intersected(self._whole())
        if region.isEmpty() or self._look is None:
            return
        painter = QPainter(self._pixmap)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for rect in few(region):
            self._paint_rect(painter, self._look, QRectF(rect))
        painter.end()

    def _paint_rect(self, painter: QPainter, look: Look, rect: QRectF) -> None:
        painter.setClipRect(rect)
        draw_ground(painter, look, rect)
        draw_photographs(painter, look.view, self._scene.project)
        margin = look.margin_px
        wide = rect.adjusted(-margin, -margin, margin, margin)
        there = self._scene.in_box(look.view.bounds_mm(wide))
        pieces = [piece for piece in there if piece.id not in self._hot]
        self.pieces_drawn += len(pieces)
        draw_pieces(painter, look, self._scene.project, pieces, self._scene.in_box)
        painter.setClipping(False)

    def _whole(self) -> QRegion:
        size = self._pixmap.deviceIndependentSize().toSize()
        return QRegion(QRect(QRect().topLeft(), size))


def grown(box: QRectF, by_px: float = EDGE_PX) -> QRegion:
    """The pixels that a box and what stands out of it may touch."""
    return QRegion(box.adjusted(-by_px, -by_px, by_px, by_px).toAlignedRect())


def few(region: QRegion) -> list[QRect]:
    """The rectangles of a region, or its box where there are many: each costs a pass."""
    # PySide6 walks a region's rectangles; its stubs do not say so.
    rects = list(cast("Iterable[QRect]", region))
    return rects if len(rects) <= MOST_RECTS else [region.boundingRect()]
