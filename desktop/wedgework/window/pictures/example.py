"""An edit's example as a picture: before on the left, after on the right, what is new in colour.

Pictures are drawn from the edits themselves, so they cannot tell anything that is not so.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator
from functools import cache
from html import escape
from typing import Final

from PySide6.QtCore import QBuffer, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QGuiApplication, QPainter, QPixmap

from wedgework.drawing.pieces import draw_project
from wedgework.geometry.curve import Points, polyline
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import point_at
from wedgework.pattern.document import Project, Run, Seam
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.pictures import bounds_mm
from wedgework.pattern.runs import walked
from wedgework.subjects import example_of, shown_edits
from wedgework.window.palette import Scheme
from wedgework.window.pictures.pen import KeyPen, PicturePen, key_of
from wedgework.window.pictures.said import said_changes
from wedgework.window.table.art import curve_path
from wedgework.window.table.pens import pen
from wedgework.window.table.photographs import draw_photographs
from wedgework.window.table.view import View, fitting

PANE: Final = QSize(132, 116)
GAP_PX: Final = 30
MARGIN_PX: Final = 12.0
STITCHES: Final = (0.15, 0.5, 0.85)
"""Where along a seam, as shares of its length, a thin line joins its sides."""


@cache
def example_picture(edit: str, scheme: Scheme) -> QPixmap:
    """The picture of an edit's example."""
    before, after = example_of(edit)
    screen = QGuiApplication.primaryScreen()
    ratio = screen.devicePixelRatio() if screen else 1.0
    size = QSize(2 * PANE.width() + GAP_PX, PANE.height())
    pixmap = QPixmap(size * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _draw_pair(painter, scheme, before, after)
    painter.end()
    return pixmap


def example_words(edit: str) -> str:
    """What the example changes that its lines do not show."""
    return " · ".join(said_changes(*example_of(edit)))


@cache
def example_html(edit: str, scheme: Scheme) -> str:
    """The picture with its words, for a tool tip; nothing where the edit has no example."""
    if edit not in shown_edits():
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


def _draw_pair(painter: QPainter, scheme: Scheme, before: Project, after: Project) -> None:
    left = QRectF(0, 0, PANE.width(), PANE.height())
    right = left.translated(PANE.width() + GAP_PX, 0)
    for pane in (left, right):
        painter.setPen(pen(scheme.hair))
        painter.setBrush(QColor(scheme.ground))
        painter.drawRoundedRect(pane.adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
    _draw_arrow(painter, scheme, QPointF(PANE.width() + GAP_PX / 2, PANE.height() / 2))
    view = _view_of(before, after)
    known = KeyPen()
    draw_project(before, known)
    painter.save()
    _draw_photographs(painter, left, view, before)
    _draw_seams(painter, view, scheme, before, set())
    draw_project(before, PicturePen(painter, view, scheme))
    painter.translate(right.topLeft())
    _draw_photographs(painter, left, view, after)
    _draw_seams(painter, view, scheme, after, set(before.seams) | {""})
    draw_project(after, PicturePen(painter, view, scheme, known.keys))
    _draw_old(painter, view, scheme, before, after)
    painter.restore()


def _draw_photographs(painter: QPainter, pane: QRectF, view: View, project: Project) -> None:
    painter.save()
    painter.setClipRect(pane.adjusted(2, 2, -2, -2))
    draw_photographs(painter, view, project)
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


def _draw_seams(
    painter: QPainter, view: View, scheme: Scheme, project: Project, known: set[str]
) -> None:
    """Thin lines from side to side of each seam between two pieces; new ones in colour."""
    for own, seam in project.seams.items():
        is_new = bool(known) and own not in known
        painter.setPen(pen(scheme.chosen if is_new else scheme.quiet, dashes=[2, 2]))
        for start, end in _stitches(project, seam):
            painter.drawLine(view.to_px(start), view.to_px(end))


def _stitches(project: Project, seam: Seam) -> Iterator[tuple[Points, Points]]:
    if seam.is_dart:
        return
    for share in STITCHES:
        yield _place(project, seam.a, share), _place(project, seam.b, share)


def _place(project: Project, run: Run, share: float) -> Points:
    along = walked(project, run)
    spot = along.spot_at(share * along.length_mm)
    return point_at(the_edge(project, spot.edge).curve, spot.at_mm)


def _draw_arrow(painter: QPainter, scheme: Scheme, middle: QPointF) -> None:
    painter.setPen(pen(scheme.quiet, 1.4))
    tip = middle + QPointF(7, 0)
    painter.drawLine(middle - QPointF(7, 0), tip)
    for y in (-4, 4):
        painter.drawLine(tip, tip + QPointF(-4, y))


def _view_of(before: Project, after: Project) -> View:
    """Both at one size, so that what stays is seen to stay."""
    pieces = (*before.pieces.values(), *after.pieces.values())
    curves = [ring.curve for piece in pieces for ring in piece.edges]
    boxes = [box for one in (before, after) for picture in one.pictures.values()
             if (box := bounds_mm(picture)) is not None]  # fmt: skip
    curves += [polyline(box.reshape(2, 2)) for box in boxes]
    frame = QRectF(0, 0, PANE.width(), PANE.height())
    return fitting(
        bounds_of_all(curves), frame.adjusted(MARGIN_PX, MARGIN_PX, -MARGIN_PX, -MARGIN_PX)
    )
