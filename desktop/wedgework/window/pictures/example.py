"""An edit's example as a picture: before on the left, after on the right, what is new in colour.

Pictures are drawn from the edits themselves, so they cannot tell anything that is not so.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from html import escape
from typing import Final

import numpy as np
from PySide6.QtCore import QBuffer, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QGuiApplication, QPainter, QPixmap

from wedgework.drawing.pieces import draw_project
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.projective import mapped
from wedgework.pattern.document import Project
from wedgework.pattern.pictures import outline_px, placing_of
from wedgework.subjects import example_of, has_example
from wedgework.window.palette import Scheme
from wedgework.window.pictures.pen import KeyPen, PicturePen, key_of
from wedgework.window.pictures.said import said_changes
from wedgework.window.pictures.under import Layers
from wedgework.window.table.art import curve_path
from wedgework.window.table.pens import pen
from wedgework.window.table.view import View, fitting
from wedgework.window.theme import SMALL_PX, font

GAP_PX: Final = 28
LARGE: Final = (122, 106)
SMALL: Final = (100, 80)
"""Width and height of each half, in pixels: of a tool tip, and of a form, which has less room."""

MARGIN_PX: Final = 12.0

NOTHING: Final = "–"
"""In the half of a picture where there is none of what is said in the other."""


@cache
def example_picture(edit: str, scheme: Scheme, half: tuple[int, int] = LARGE) -> QPixmap:
    """The picture of an edit's example, each half so many pixels wide and high."""
    screen = QGuiApplication.primaryScreen()
    ratio = screen.devicePixelRatio() if screen else 1.0
    size = QSize(2 * half[0] + GAP_PX, half[1])
    pixmap = QPixmap(size * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _draw_pair(painter, scheme, half, example_of(edit))
    painter.end()
    left, right = QRectF(0, 0, *half), QRectF(half[0] + GAP_PX, 0, *half)
    if _is_alike(pixmap, left, right):
        painter.begin(pixmap)
        for box, words, colour in zip((left, right), _said_in_panes(*example_of(edit)),
                                      (scheme.ink, scheme.chosen), strict=True):  # fmt: skip
            _write(painter, scheme, box, words, colour)
        painter.end()
    return pixmap


def _is_alike(pixmap: QPixmap, left: QRectF, right: QRectF) -> bool:
    """Whether no line of the picture shows what is other."""
    image, ratio = pixmap.toImage(), pixmap.devicePixelRatio()
    halves = [
        image.copy(QRectF(box.topLeft() * ratio, box.size() * ratio).toRect())
        for box in (left, right)
    ]
    return bool(halves[0] == halves[1])


def example_words(edit: str) -> str:
    """What the example changes that its lines do not show."""
    return " · ".join(said_changes(*example_of(edit)))


@cache
def example_html(edit: str, scheme: Scheme) -> str:
    """The picture with its words, for a tool tip; nothing where the edit has no example."""
    if not has_example(edit):
        return ""
    pixmap = example_picture(edit, scheme)
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    pixmap.save(buffer, "PNG")
    data = b64encode(buffer.data().data()).decode()
    size = pixmap.deviceIndependentSize().toSize()
    words = example_words(edit)
    said = f"<br><span style='color: {scheme.quiet}'>{escape(words)}</span>" if words else ""
    return (f"<br><img src='data:image/png;base64,{data}' width='{size.width()}'"
            f" height='{size.height()}'>{said}")  # fmt: skip


def _draw_pair(
    painter: QPainter, scheme: Scheme, half: tuple[int, int], example: tuple[Project, Project]
) -> None:
    before, after = example
    left = QRectF(0, 0, *half)
    view = _view_of(before, after, left)
    known = KeyPen()
    draw_project(before, known)
    with _pane(painter, scheme, left):
        layers = Layers(painter, view, scheme)
        layers.draw_below(before)
        draw_project(before, PicturePen(painter, view, scheme))
        layers.draw_above(before)
    _draw_arrow(painter, scheme, QPointF(half[0] + GAP_PX / 2, half[1] / 2))
    painter.translate(half[0] + GAP_PX, 0)
    with _pane(painter, scheme, left):
        layers = Layers(painter, view, scheme, before)
        layers.draw_below(after)
        draw_project(after, PicturePen(painter, view, scheme, known.keys))
        _draw_old(painter, view, scheme, before, after)
        layers.draw_above(after)


def _said_in_panes(before: Project, after: Project) -> tuple[str, str]:
    """What stands in words before and after, where no line of a piece shows the difference."""
    said = said_changes(before, after)
    if not said:
        return "", ""
    was, arrow, new = said[0].partition(" → ")
    name, colon, old = was.partition(": ")
    if arrow:
        unit = " mm" if new.endswith(" mm") else ""
        return f"{name}\n{old}{unit}", f"{name}\n{new}"
    if colon:
        return f"{name}\n{NOTHING}", f"{name}\n{old}"
    return (was.removeprefix("no ").removesuffix(" any more"), NOTHING) if was.endswith(
        " any more") else (NOTHING, was)  # fmt: skip


def _write(painter: QPainter, scheme: Scheme, box: QRectF, words: str, colour: str) -> None:
    """Words in the middle of a pane, on a ground of their own."""
    if not words:
        return
    painter.setFont(font(SMALL_PX, strong=True))
    flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
    within = box.adjusted(4, 4, -4, -4)
    ground = painter.boundingRect(within, flags, words).adjusted(-3, -1, 3, 1)
    painter.fillRect(ground, QColor(scheme.ground))
    painter.setPen(QColor(colour))
    painter.drawText(within, flags, words)


@contextmanager
def _pane(painter: QPainter, scheme: Scheme, box: QRectF) -> Iterator[None]:
    """A half of the picture: what is drawn within stays in its frame."""
    painter.save()
    painter.setPen(pen(scheme.hair))
    painter.setBrush(QColor(scheme.ground))
    painter.drawRoundedRect(box.adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
    painter.setClipRect(box.adjusted(2, 2, -2, -2))
    yield
    painter.restore()


def _draw_old(
    painter: QPainter, view: View, scheme: Scheme, before: Project, after: Project
) -> None:
    """The edges that are no longer there, faint, as the table draws them during a drag."""
    there = {key_of(edge.curve) for piece in after.pieces.values() for edge in piece.all_edges()}
    painter.save()
    painter.setTransform(view.transform, combine=True)
    painter.setPen(pen(scheme.rim, dashes=[3, 3]))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for piece in before.pieces.values():
        for edge in piece.all_edges():
            if key_of(edge.curve) not in there:
                painter.drawPath(curve_path(edge.curve))
    painter.restore()


def _draw_arrow(painter: QPainter, scheme: Scheme, middle: QPointF) -> None:
    painter.setPen(pen(scheme.quiet, 1.4))
    tip = middle + QPointF(7, 0)
    painter.drawLine(middle - QPointF(7, 0), tip)
    for y in (-4, 4):
        painter.drawLine(tip, tip + QPointF(-4, y))


def _view_of(before: Project, after: Project, frame: QRectF) -> View:
    """Both at one size, so that what stays is seen to stay."""
    pieces = (*before.pieces.values(), *after.pieces.values())
    boxes = [bounds_of_all([edge.curve for edge in piece.edges]) for piece in pieces]
    for picture in (*before.pictures.values(), *after.pictures.values()):
        corners = mapped(placing_of(picture), outline_px(picture))
        boxes.append(np.concatenate([corners.min(axis=0), corners.max(axis=0)]))
    low_high = np.stack(boxes)
    return fitting(
        np.concatenate([low_high[:, :2].min(axis=0), low_high[:, 2:].max(axis=0)]),
        frame.adjusted(MARGIN_PX, MARGIN_PX, -MARGIN_PX, -MARGIN_PX),
    )
