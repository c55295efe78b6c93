"""A whole project as a small picture: its pieces as they lie on the table."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QGuiApplication, QPainter, QPixmap

from wedgework.bench import read_project
from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.document import Project
from wedgework.pattern.errors import WedgeworkError
from wedgework.window.palette import Scheme
from wedgework.window.table.art import art_of
from wedgework.window.table.pens import pen
from wedgework.window.table.view import fitting


@cache
def project_picture(path: Path, scheme: Scheme, size: QSize) -> QPixmap:
    """The picture of a project's file; empty where it cannot be read."""
    screen = QGuiApplication.primaryScreen()
    ratio = screen.devicePixelRatio() if screen else 1.0
    pixmap = QPixmap(size * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    try:
        project = read_project(path)
    except WedgeworkError:
        return pixmap
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _draw(painter, scheme, project, QRectF(0, 0, size.width(), size.height()))
    painter.end()
    return pixmap


def _draw(painter: QPainter, scheme: Scheme, project: Project, frame: QRectF) -> None:
    """Outlines and lines, without words: at this size nobody could read them."""
    curves = [edge.curve for piece in project.pieces.values() for edge in piece.edges]
    if not curves:
        return
    painter.setTransform(fitting(bounds_of_all(curves), frame).transform, combine=True)
    for piece in project.pieces.values():
        art = art_of(piece)
        painter.setPen(pen(scheme.edge))
        painter.setBrush(QColor(scheme.piece))
        painter.drawPath(art.outline)
        painter.setPen(pen(scheme.hair))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(art.lines)
