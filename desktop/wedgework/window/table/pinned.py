"""Pinned measurements on the table: leader lines and figures, following every frame of a drag."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from wedgework.bench.pinning import FIGURE_PX, PlacedPin, Taken
from wedgework.pattern.document import Project
from wedgework.window.preferences import Wishes
from wedgework.window.table.look import Look
from wedgework.window.table.names import name_on
from wedgework.window.table.seamwork import write_on_plate
from wedgework.window.theme import SMALL_PX, font

WIDE_PX = 90.0
"""A figure with its name and what it should be is no wider than this on either side."""


def pin_words(placed: PlacedPin, wishes: Wishes) -> str:
    """What stands on the table: name, figure, and what it should be where it misses that."""
    figure = _figure(placed, placed.value or 0.0, wishes)
    said = f"{placed.pin.name} {figure}" if placed.pin.name else figure
    if placed.is_missed and placed.pin.wanted is not None:
        return f"{said} ≠ {_figure(placed, placed.pin.wanted, wishes)}"
    return said


def _figure(placed: PlacedPin, value: float, wishes: Wishes) -> str:
    if placed.pin.kind == "angle":
        return wishes.degrees(float(np.degrees(value)))
    return wishes.in_list(value)


def named_places(look: Look, project: Project) -> list[Taken]:
    """Where names of pieces are written, so that no figure is: only asked where there are pins."""
    if not project.pins:
        return []
    names = (name_on(look, piece) for piece in project.pieces.values())
    px_mm = look.view.px_mm
    return [
        (
            look.view.to_mm(name.at.x(), name.at.y()),
            (name.box.width() / 2 * px_mm, name.box.height() / 2 * px_mm),
        )
        for name in names
        if name is not None
    ]


def pin_boxes(look: Look, pins: Iterable[PlacedPin]) -> list[QRectF]:
    """Pixels that pins may cover."""
    boxes = []
    for placed in pins:
        points = np.concatenate([*placed.lines, [placed.figure_mm]])
        low, high = points.min(axis=0), points.max(axis=0)
        at = look.view.to_px(placed.figure_mm)
        words = QRectF(at.x() - WIDE_PX, at.y() - FIGURE_PX - 3, 2 * WIDE_PX, 24)
        boxes.append(look.view.rect_px(np.concatenate([low, high])).united(words))
    return boxes


def draw_pins(
    painter: QPainter, look: Look, pins: Iterable[PlacedPin], chosen: tuple[str, ...]
) -> None:
    """Thin leaders, and the figure on a plate; a chosen one in the colour of what is chosen."""
    scheme = look.scheme
    for placed in pins:
        is_chosen = placed.pin.id in chosen
        colour = QColor(scheme.chosen if is_chosen else scheme.quiet)
        painter.setPen(QPen(colour, 1.6 if is_chosen else 1.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for line in placed.lines:
            pixels = look.view.all_to_px(line).tolist()
            painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in pixels]))
        is_missed = placed.is_missed
        painter.setPen(QColor(scheme.difference) if is_missed else colour)
        painter.setFont(font(SMALL_PX, strong=is_missed or is_chosen))
        at = look.view.to_px(placed.figure_mm)
        write_on_plate(painter, look, at, pin_words(placed, look.wishes))
