"""What a piece looks like, made once for each piece object: Qt paths in millimetres."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainterPath, QPolygonF

from wedgework.geometry.curve import Curve, Floats
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.flatten import flattened_ring
from wedgework.geometry.memo import memoised
from wedgework.pattern.document import Piece
from wedgework.pattern.levels import shown_lines

ROUGH_MM = 1.0
"""How far chords may miss the curve where a whole piece is smaller than a thumbnail."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Art:
    """`outline` with its cut-outs, `bounds` as (4,) mm, and internal lines."""

    outline: QPainterPath
    bounds: Floats
    lines: QPainterPath
    placed: QPainterPath
    fold: QPainterPath


@memoised
def art_of(piece: Piece) -> Art:
    """The paths of a piece; remembered for as long as the piece lives."""
    outline = QPainterPath()
    outline.setFillRule(Qt.FillRule.OddEvenFill)
    add_ring(outline, [edge.curve for edge in piece.edges])
    for cutout in piece.cutouts:
        add_ring(outline, [edge.curve for edge in cutout.edges])
    drawn, placed = QPainterPath(), QPainterPath()
    for line in piece.lines:
        for shown in shown_lines(piece, line):
            add_curve(placed if line.kind in {"placement", "fold"} else drawn, shown)
    fold = QPainterPath()
    for edge in piece.edges:
        if edge.id == piece.fold_edge:
            add_curve(fold, edge.curve)
    bounds = bounds_of_all([edge.curve for edge in piece.edges])
    return Art(outline=outline, bounds=bounds, lines=drawn, placed=placed, fold=fold)


@memoised
def rough_outline(piece: Piece) -> QPainterPath:
    """The outline in few chords, for pieces that are small on the screen."""
    path = QPainterPath()
    points = flattened_ring([edge.curve for edge in piece.edges], ROUGH_MM)
    path.addPolygon(polygon_of(points))
    path.closeSubpath()
    return path


@memoised
def name_place(piece: Piece) -> Floats:
    """Where the piece's name may stand, (2,) mm: the middle of its box, or else inside it."""
    from shapely import Point, Polygon  # noqa: PLC0415 - heavy, and only for odd shapes

    shape = Polygon(flattened_ring([edge.curve for edge in piece.edges], ROUGH_MM))
    bounds = art_of(piece).bounds
    middle = (bounds[:2] + bounds[2:]) / 2
    if shape.contains(Point(middle)):
        return middle
    inside = shape.buffer(0).representative_point()
    return middle if inside.is_empty else np.array([inside.x, inside.y])


@memoised
def curve_path(curve: Curve) -> QPainterPath:
    """One curve as a path."""
    path = QPainterPath()
    add_curve(path, curve)
    return path


def add_ring(path: QPainterPath, curves: list[Curve]) -> None:
    """Add a closed ring of curves to a path."""
    path.moveTo(*curves[0].start.tolist())
    for curve in curves:
        add_cubics(path, curve)
    path.closeSubpath()


def add_curve(path: QPainterPath, curve: Curve) -> None:
    """Add an open curve to a path."""
    path.moveTo(*curve.start.tolist())
    add_cubics(path, curve)


def add_cubics(path: QPainterPath, curve: Curve) -> None:
    """Go on along a curve from where the path is."""
    for cubic in curve.segments[:, 1:].reshape(-1, 6).tolist():
        path.cubicTo(*cubic)


def polygon_of(points: Floats) -> QPolygonF:
    """Points, (n, 2), for Qt."""
    return QPolygonF([QPointF(x, y) for x, y in points.tolist()])
