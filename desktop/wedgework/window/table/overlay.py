"""What a tool shows over the pieces without trying an edit: ghosts, curves, places."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QTransform

from wedgework.bench.wishes import Figure, Ghost, Overlay
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.motion import moved
from wedgework.window.table.art import art_of, curve_path
from wedgework.window.table.draw import in_mm
from wedgework.window.table.look import Look

PLACE_PX = 4.0
GHOST_ALPHA = 110
"""The pieces below still show through one that is rolled over them."""


def overlay_boxes(look: Look, overlay: Overlay) -> Iterator[QRectF]:
    """Pixels that it may cover."""
    for ghost in overlay.ghosts:
        outline = [moved(edge.curve, ghost.motion) for edge in ghost.piece.edges]
        yield look.view.rect_px(bounds_of_all(outline))
    for curve in overlay.curves:
        yield look.view.rect_px(bounds_of_all([curve]))
    reach = QPointF(PLACE_PX + 2, PLACE_PX + 2)
    for place in overlay.places_mm:
        at = look.view.to_px(place)
        yield QRectF(at - reach, at + reach)


def draw_overlay(painter: QPainter, look: Look, overlay: Overlay) -> None:
    """Ghosts first, the curves that they roll on over them, and the places on top."""
    for ghost in overlay.ghosts:
        _draw_ghost(painter, look, ghost)
    path = QPainterPath()
    for curve in overlay.curves:
        path.addPath(curve_path(curve))
    if not path.isEmpty():
        with in_mm(painter, look.view):
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(look.pens.chosen)
            painter.drawPath(path)
    painter.setPen(look.pens.chosen_rim)
    painter.setBrush(look.pens.chosen_dot)
    for place in overlay.places_mm:
        painter.drawEllipse(look.view.to_px(place), PLACE_PX, PLACE_PX)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _draw_ghost(painter: QPainter, look: Look, ghost: Ghost) -> None:
    (a, b), (c, d) = ghost.motion.linear.tolist()
    x, y = np.asarray(ghost.motion.shift).tolist()
    fill = QColor(look.scheme.chosen_fill)
    fill.setAlpha(GHOST_ALPHA)
    pen = QPen(QColor(look.scheme.chosen), 1.4)
    pen.setCosmetic(True)
    painter.setTransform(QTransform(a, c, b, d, x, y) * look.view.transform)
    painter.setPen(pen)
    painter.setBrush(fill)
    art = art_of(ghost.piece)
    painter.drawPath(art.outline)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(art.lines)
    painter.setTransform(QTransform())


def figure_row(look: Look, figure: Figure) -> tuple[str, str, bool]:
    """Words and figure of a row beside the pointer, and whether it is a difference to look at."""
    wishes = look.wishes
    if figure.kind == "angle":
        return figure.words, f"{wishes.degrees(figure.value)}", False
    if figure.kind == "count":
        return figure.words, f"{figure.value:.0f}", False
    said = wishes.in_list(figure.value, signed=figure.kind in {"signed", "difference"})
    is_off = figure.kind == "difference" and float(f"{figure.value:.1f}") != 0.0
    return figure.words, said, is_off
