"""A page with a drawn piece, photographed aslant: made here, so that the truth is known."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QBuffer, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath, QPen, QPolygonF, QTransform

from wedgework.geometry.curve import Curve, joined, line
from wedgework.geometry.length import points_at_parameters
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.projective import mapped

A4_MM = (210.0, 297.0)
SIZE_PX = (2000, 1500)
PEN_MM = 0.5

# Half a heron's hood with a collar point, on the page in mm from its lower left corner: a straight
# back, a hem that is hollow, a front that swings, and a crown.
BACK = line([35.0, 40.0], [35.0, 230.0])
CROWN = Curve([[[35, 230], [70, 262], [130, 258], [158, 205]]])
FRONT = Curve([[[158, 205], [182, 160], [128, 120], [165, 52]]])
HEM = Curve([[[165, 52], [120, 74], [80, 62], [35, 40]]])
EDGES = (HEM, BACK, CROWN, FRONT)


def camera(tilt_deg=28.0, turn_deg=9.0, focal_px=1900.0, away_mm=520.0):
    """The map from the page, mm and y up, to pixels: a camera held aslant over it.

    Source: Hartley and Zisserman, Multiple View Geometry, 8.1.1: of K [R | t], for a plane at
    height 0, the columns 1, 2 and 4 are its homography.
    """
    tilt, turn = np.radians([tilt_deg, turn_deg])
    about_x = np.array([
        [1, 0, 0], [0, np.cos(tilt), -np.sin(tilt)], [0, np.sin(tilt), np.cos(tilt)],
    ])  # fmt: skip
    about_z = np.array([
        [np.cos(turn), -np.sin(turn), 0], [np.sin(turn), np.cos(turn), 0], [0, 0, 1],
    ])  # fmt: skip
    rotation = about_x @ about_z @ np.diag([1.0, -1.0, -1.0])
    middle = np.array([A4_MM[0] / 2, A4_MM[1] / 2, 0.0])
    shift = np.array([0.0, 0.0, away_mm]) - rotation @ middle
    inner = np.array([[focal_px, 0, SIZE_PX[0] / 2], [0, focal_px, SIZE_PX[1] / 2], [0, 0, 1]])
    full = inner @ np.column_stack([rotation[:, 0], rotation[:, 1], shift])
    return full / full[2, 2]


def photograph(full):
    """The page as that camera sees it, on a dark mat, a little out of focus: grey, (h, w)."""
    image = QImage(*SIZE_PX, QImage.Format.Format_Grayscale8)
    image.fill(70)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(238, 238, 238))
    sheet = mapped(full, [[0, 0], [A4_MM[0], 0], A4_MM, [0, A4_MM[1]]])
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in sheet.tolist()]))
    painter.setTransform(QTransform(*full.T.ravel().tolist()))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(30, 30, 30), PEN_MM))
    path = QPainterPath(QPointF(*EDGES[0].start))
    for edge in EDGES:
        for _, one, other, end in edge.segments.tolist():
            path.cubicTo(QPointF(*one), QPointF(*other), QPointF(*end))
    painter.drawPath(path)
    painter.end()
    assert QRectF(0, 0, *SIZE_PX).contains(QPolygonF([QPointF(*p) for p in sheet]).boundingRect())
    return blurred(pixels(image))


def pixels(image):
    """Grey values of a picture, (h, w) from 0 to 255."""
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8).reshape(grey.height(), grey.bytesPerLine())
    return rows[:, : grey.width()].astype(float)


def blurred(grey):
    """Out of focus by some two pixels, with the noise of a sensor."""
    for axis in (0, 1):
        padded = np.pad(grey, [(2, 2) if one == axis else (0, 0) for one in (0, 1)], mode="edge")
        weights = (1, 4, 6, 4, 1)
        parts = [np.take(padded, range(at, at + grey.shape[axis]), axis=axis) for at in range(5)]
        grey = sum(weight * part for weight, part in zip(weights, parts, strict=True)) / 16
    noise = np.random.default_rng(7).normal(0, 3, grey.shape)
    return np.clip(grey + noise, 0, 255)


def png(grey):
    """The bytes of a PNG file."""
    data = np.ascontiguousarray(grey.round().astype(np.uint8))
    height, width = data.shape
    image = QImage(data.data, width, height, width, QImage.Format.Format_Grayscale8)
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")
    return buffer.data().data()


def value_at(grey, x, y):
    """The grey between pixels, whose middles lie at halves."""
    x, y = x - 0.5, y - 0.5
    col, row = int(np.floor(x)), int(np.floor(y))
    u, v = x - col, y - row
    quad = grey[row : row + 2, col : col + 2]
    return (1 - v) * ((1 - u) * quad[0, 0] + u * quad[0, 1]) + v * (
        (1 - u) * quad[1, 0] + u * quad[1, 1]
    )


def border_near(grey, start, end):
    """Where the paper ends on the way from a place on it to one off it, by eye: half way down."""
    way = np.linspace(0, 1, 241)[:, None] * (np.array(end) - start) + start
    values = np.array([value_at(grey, x, y) for x, y in way])
    half = (values[:20].mean() + values[-20:].mean()) / 2
    return way[int(np.argmax(values < half))]


def line_near(grey, at, across, reach_px=7.0):
    """The middle of the drawn line near a place, looked for across it: the weight of its ink."""
    across = np.array(across) / np.hypot(*across)
    steps = np.linspace(-reach_px, reach_px, 113)
    ink = np.array([value_at(grey, *(at + step * across)) for step in steps])
    ink = np.clip(np.median(ink) - 25 - ink, 0, None)
    return at + across * float((ink * steps).sum() / ink.sum())


def sheet_corners(grey, full):
    """The four corners of the page, found in the photograph: its borders as lines, crossed."""
    width, height = A4_MM
    sides = []
    for start, end, out in (
        ((0, 0), (width, 0), (0, -1)), ((width, 0), (width, height), (1, 0)),
        ((width, height), (0, height), (0, 1)), ((0, height), (0, 0), (-1, 0)),
    ):  # fmt: skip
        spots = []
        for share in (0.06, 0.5, 0.94):
            at = np.array(start) + share * (np.array(end) - start)
            inner, outer = mapped(full, [at - 4 * np.array(out), at + 4 * np.array(out)])
            spots.append(border_near(grey, inner, outer))
        sides.append(np.cross([*spots[0], 1.0], [*spots[-1], 1.0]))
    corners = [np.cross(sides[index - 1], sides[index]) for index in range(4)]
    return np.array([corner[:2] / corner[2] for corner in corners])


def farthest_mm(curves, others):
    """The greatest distance of two outlines from each other, both ways, in mm (Hausdorff)."""
    ring, other = joined_ring(curves), joined_ring(others)
    return max(_one_way(ring, other), _one_way(other, ring))


def joined_ring(curves):
    """An outline as one chain."""
    return joined(*curves)


def _one_way(ring, other):
    places = points_at_parameters(ring, np.linspace(0, len(ring), 60 * len(ring)))
    return max(nearest_foot(other, place).distance_mm for place in places.tolist())
