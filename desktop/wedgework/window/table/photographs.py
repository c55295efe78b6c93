"""Photographs under the table: unpacked once, drawn under the still pieces, and large in a loupe.

A photograph of many pixels is kept in halves of halves, so that one that is shown small is drawn
from few of them. The still layer keeps the warped picture for as long as the view stays.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QImage,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
    QTransform,
)

from wedgework.bench import Hand
from wedgework.geometry.curve import Floats
from wedgework.geometry.projective import depths, mapped, scale_there
from wedgework.pattern.document import Picture, Project
from wedgework.pattern.pictures import outline_px, placing_of
from wedgework.window.table.look import Look
from wedgework.window.table.view import View

KEPT: Final = 6
"""Unpacked photographs that are kept: a page or two, front and back."""

LEAST_PX: Final = 256
"""A picture smaller than this is not halved again."""

NEAR_HORIZON: Final = 1e-3
"""What lies nearer to the horizon than this share of the middle's depth is left out: it would be
drawn a thousand times as small, far away."""

LOUPE_PX: Final = 132
LOUPE_BESIDE_PX: Final = 34
LOUPE_TIMES: Final = 4.0


@lru_cache(maxsize=KEPT)
def unpacked(data: bytes) -> tuple[QImage, ...]:
    """The picture and its halves, the largest first; nothing where the bytes are damaged."""
    image = QImage.fromData(data)
    if image.isNull():
        return ()
    has_alpha = image.hasAlphaChannel()
    kind = QImage.Format.Format_ARGB32_Premultiplied if has_alpha else QImage.Format.Format_RGB32
    images = [image.convertToFormat(kind)]
    while min(images[-1].width(), images[-1].height()) >= 2 * LEAST_PX:
        half = QSize(images[-1].width() // 2, images[-1].height() // 2)
        images.append(
            images[-1].scaled(
                half,
                Qt.AspectRatioMode.IgnoreAspectRatio,
                Qt.TransformationMode.SmoothTransformation,
            )
        )
    return tuple(images)


def draw_photographs(painter: QPainter, view: View, project: Project) -> None:
    """Every photograph that is shown, in the order in which they were laid down."""
    for picture in project.pictures.values():
        if picture.shown and picture.strength_ratio > 0:
            _draw(painter, view, picture, picture.strength_ratio)


def _draw(painter: QPainter, view: View, picture: Picture, strength_ratio: float) -> None:
    images = unpacked(picture.data)
    if not images:
        return
    full = _with_middle_before(picture)
    image = images[_level(full, view, images)]
    shrink = np.diag([images[0].width() / image.width(), images[0].height() / image.height(), 1.0])
    seen = _in_sight(full, outline_px(picture))
    if len(seen) < 3:
        return
    painter.save()
    painter.setOpacity(strength_ratio)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(image))
    painter.setTransform(_qt(_view_map(view) @ full @ shrink), combine=True)
    points = seen @ np.linalg.inv(shrink[:2, :2])
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in points.tolist()]))
    painter.restore()


def _with_middle_before(picture: Picture) -> Floats:
    """The map from pixels to mm with positive depth where the middle of the picture is."""
    full, outline = placing_of(picture), outline_px(picture)
    return full if depths(full, outline.mean(axis=0)) > 0 else -full


def _level(full: Floats, view: View, images: tuple[QImage, ...]) -> int:
    """Which half of halves has about as many pixels as the screen shows of it."""
    middle = (images[0].width() / 2, images[0].height() / 2)
    scale = scale_there(full, middle) * view.px_per_mm
    if scale <= 0 or not math.isfinite(scale):
        return 0
    return min(max(math.floor(math.log2(1 / scale)), 0), len(images) - 1)


def _in_sight(full: Floats, outline: Floats) -> Floats:
    """The part of a picture's outline, in pixels, that lies well on this side of its horizon."""
    deep = depths(full, outline) - NEAR_HORIZON * float(depths(full, outline.mean(axis=0)))
    kept: list[Floats] = []
    for index in range(len(outline)):
        here, there = outline[index - 1], outline[index]
        before, after = float(deep[index - 1]), float(deep[index])
        if (before > 0) != (after > 0):
            kept.append(here + (there - here) * before / (before - after))
        if after > 0:
            kept.append(there)
    return np.array(kept).reshape(-1, 2)


def _view_map(view: View) -> Floats:
    s = view.px_per_mm
    return np.array([[s, 0, -view.left_mm * s], [0, -s, view.top_mm * s], [0, 0, 1.0]])


def _qt(full: Floats) -> QTransform:
    """A map as Qt says it: by columns, and so that its numbers are of one size."""
    return QTransform(*(float(number) for number in full.T.ravel()))


def picture_outline(view: View, picture: Picture) -> QPolygonF:
    """Where a photograph lies on the screen: what of it is in sight."""
    full = _with_middle_before(picture)
    seen = _in_sight(full, outline_px(picture))
    points = view.all_to_px(mapped(full, seen)) if len(seen) else seen
    return QPolygonF([QPointF(x, y) for x, y in points.tolist()])


def draw_chosen_outline(painter: QPainter, look: Look, picture: Picture) -> None:
    """A line round the photograph that is chosen."""
    painter.save()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(look.scheme.chosen), 1.5, Qt.PenStyle.DashLine))
    painter.drawPolygon(picture_outline(look.view, picture))
    painter.restore()


def loupe_box(at: QPointF, width_px: int) -> QRectF:
    """Above and to the left of the pointer, where no number stands; else to its right, below."""
    x, y = at.x() - LOUPE_BESIDE_PX - LOUPE_PX, at.y() - LOUPE_BESIDE_PX - LOUPE_PX
    if x < 0:
        x = min(at.x() + LOUPE_BESIDE_PX, width_px - LOUPE_PX)
        y = at.y() + LOUPE_BESIDE_PX
    elif y < 0:
        y = at.y() + LOUPE_BESIDE_PX
    return QRectF(round(x), round(y), LOUPE_PX, LOUPE_PX)


def needs_loupe(hand: Hand, project: Project) -> bool:
    """Whether the tool in the hand is one that aims at a photograph, and there is one."""
    return hand.tool.has_loupe and any(one.shown for one in project.pictures.values())


def draw_loupe(painter: QPainter, look: Look, project: Project, at: QPointF, box: QRectF) -> None:
    """The photograph under the pointer, several times as large and undimmed, with a cross."""
    x_mm, y_mm = look.view.to_mm(at.x(), at.y())
    scale, middle = look.view.px_per_mm * LOUPE_TIMES, box.center()
    view = View(x_mm - middle.x() / scale, y_mm + middle.y() / scale, scale)
    glass = QPainterPath()
    glass.addEllipse(box.adjusted(2, 2, -2, -2))
    painter.save()
    painter.setClipPath(glass, Qt.ClipOperation.IntersectClip)
    painter.fillRect(box, look.pens.ground)
    for picture in project.pictures.values():
        if picture.shown:
            _draw(painter, view, picture, strength_ratio=1.0)
    painter.setPen(QPen(QColor(look.scheme.difference), 1.0))
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        way = QPointF(dx, dy)
        painter.drawLine(middle + way * 5, middle + way * LOUPE_PX / 2)
    painter.restore()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(look.scheme.rim), 2.0))
    painter.drawPath(glass)


def draw_marks(painter: QPainter, look: Look, marks: list[tuple[QPointF, bool]]) -> None:
    """Places that were pressed: a square for a corner, a ring for a point of a curve."""
    painter.setPen(QPen(look.pens.hot))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for at, is_corner in marks:
        if is_corner:
            painter.drawRect(QRectF(at.x() - 3, at.y() - 3, 6, 6))
        else:
            painter.drawEllipse(at, 2.5, 2.5)
