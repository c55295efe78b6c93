"""What a piece looks like, made once for each piece object: Qt paths in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainterPath, QPolygonF

from wedgework.drawing.signs import heads_of
from wedgework.geometry.curve import Curve, Floats
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.flatten import flattened, flattened_ring
from wedgework.geometry.memo import memoised
from wedgework.pattern.document import Piece
from wedgework.pattern.levels import shown_lines

ROUGH_MM = 1.0
"""How far chords may miss the curve where a whole piece is smaller than a thumbnail."""

LEVEL_MM = 1.0
"""A line that rises by less than this lies level, and words keep clear of it."""

Walls: TypeAlias = Sequence[Floats]

ACROSS = 3.0
"""Words are some three times as wide as two lines of them are high."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Art:
    """`outline` with its cut-outs, `bounds` as (4,) mm, and internal lines, apart by kind."""

    outline: QPainterPath
    bounds: Floats
    lines: QPainterPath
    placed: QPainterPath
    folded: QPainterPath
    fold: QPainterPath


@memoised
def art_of(piece: Piece) -> Art:
    """The paths of a piece; remembered for as long as the piece lives."""
    outline = QPainterPath()
    outline.setFillRule(Qt.FillRule.OddEvenFill)
    add_ring(outline, [edge.curve for edge in piece.edges])
    for cutout in piece.cutouts:
        add_ring(outline, [edge.curve for edge in cutout.edges])
    drawn, placed, folded = QPainterPath(), QPainterPath(), QPainterPath()
    by_kind = {"placement": placed, "fold": folded}
    for line in piece.lines:
        for shown in shown_lines(piece, line):
            add_curve(by_kind.get(line.kind, drawn), shown)
            for head in heads_of(shown) if line.kind == "grain" else ():
                add_curve(drawn, head)
    fold = QPainterPath()
    for edge in piece.edges:
        if edge.id == piece.fold_edge:
            add_curve(fold, edge.curve)
    bounds = bounds_of_all([edge.curve for edge in piece.edges])
    return Art(outline=outline, bounds=bounds, lines=drawn, placed=placed, folded=folded, fold=fold)


@memoised
def rough_outline(piece: Piece) -> QPainterPath:
    """The outline in few chords, for pieces that are small on the screen."""
    path = QPainterPath()
    points = flattened_ring([edge.curve for edge in piece.edges], ROUGH_MM)
    path.addPolygon(polygon_of(points))
    path.closeSubpath()
    return path


@dataclass(frozen=True, eq=False, slots=True)
class Room:
    """Where words have room in a piece: a middle, (2,) mm, how wide and how high it is there."""

    middle: Floats
    width_mm: float
    height_mm: float = 0.0


@memoised
def room_across(piece: Piece) -> Room:
    """The best place for words from left to right: between level lines, where there is width.

    Beside a grain line or another one that stands there, not across it.
    """
    points, walls = _rough_points(piece), _walls(piece)
    flat = (line.curve.segments[:, :, 1] for line in piece.lines)
    lines = [float(y.mean()) for y in flat if np.ptp(y) < LEVEL_MM]
    low, high = float(points[:, 1].min()), float(points[:, 1].max())
    bars = sorted([low, high, *(y for y in lines if low < y < high)])
    rooms = [(min(_least_width(points, walls, y0, y1), ACROSS * (y1 - y0)), y0, y1)
             for y0, y1 in pairwise(bars)]  # fmt: skip
    _, y0, y1 = max(rooms)
    middle = _widest(points, (y0 + y1) / 2, walls).middle
    return Room(middle, _least_width(points, walls, y0, y1), y1 - y0)


@memoised
def room_upwards(piece: Piece) -> Room:
    """The best place for words from foot to head: half way up, in the middle between the sides."""
    points = _rough_points(piece)
    half_way = float(points[:, 1].min() + points[:, 1].max()) / 2
    middle_x = float(_widest(points, half_way).middle[0])
    best = _widest(points[:, ::-1], middle_x)
    return Room(best.middle[::-1], best.width_mm)


def _least_width(points: Floats, walls: Walls, y0: float, y1: float) -> float:
    """How wide two lines of words may be between two heights: a sloped hem cuts the lower one."""
    heights = (y0 + share * (y1 - y0) for share in (0.25, 0.5, 0.75))
    return min(_widest(points, height, walls).width_mm for height in heights)


def _walls(piece: Piece) -> Walls:
    """Internal lines that do not lie level, as (n, 2) points each."""
    curves = (line.curve for line in piece.lines)
    upright = (one for one in curves if np.ptp(one.segments[:, :, 1]) >= LEVEL_MM)
    return [flattened(one, ROUGH_MM) for one in upright]


def _rough_points(piece: Piece) -> Floats:
    return flattened_ring([edge.curve for edge in piece.edges], ROUGH_MM)


def _widest(points: Floats, y: float, walls: Walls = ()) -> Room:
    """The widest stretch inside a closed polygon, (n, 2), at a height, between lines in it."""
    xs = _crossed(points, np.concatenate([points[1:], points[:1]]), y)
    if len(xs) < 2:
        return Room(points.mean(axis=0), 0.0)
    if walls:
        stood = np.concatenate([_crossed(wall[:-1], wall[1:], y) for wall in walls])
        # Twice each: a stretch ends at a line in the piece, and the next one begins there.
        inner = np.repeat([x for x in stood if np.searchsorted(xs, x) % 2], 2)
        xs = np.sort(np.concatenate([xs, inner]))
    widths = xs[1::2] - xs[: len(xs) // 2 * 2 : 2]
    best = int(widths.argmax())
    middle = (xs[2 * best] + xs[2 * best + 1]) / 2
    return Room(np.array([middle, y]), float(widths[best]))


def _crossed(starts: Floats, ends: Floats, y: float) -> Floats:
    """Where stretches from point to point, (n, 2) each, cross a height, from left to right."""
    cut = (starts[:, 1] > y) != (ends[:, 1] > y)
    start, end = starts[cut], ends[cut]
    share = (y - start[:, 1]) / (end[:, 1] - start[:, 1])
    return np.asarray(np.sort(start[:, 0] + share * (end[:, 0] - start[:, 0])))


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
