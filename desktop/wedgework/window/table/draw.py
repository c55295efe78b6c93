"""Draw pieces with all that lies in them, and the ground under them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QPainter,
    QPainterPath,
    QPen,
    QTransform,
)

from wedgework.pattern.cutlines import cut_outline, outset_mm
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.mouths import folds_of
from wedgework.pattern.rows import inset_on_mm
from wedgework.window.table.art import add_ring, art_of, rough_outline
from wedgework.window.table.beside import Near, none_near, write_beside
from wedgework.window.table.look import CUT_STEPS, LEVEL_STEPS, Look
from wedgework.window.table.made import (
    closing_path,
    making_path,
    mouth_path,
    notch_path,
    opening_path,
)
from wedgework.window.table.marks import holds_on, holes_on, notches_on, place_of
from wedgework.window.table.names import name_on, write_label, write_levels, write_name
from wedgework.window.table.view import View, round_step

THUMBNAIL_PX = 24
"""A piece smaller than this is drawn with all others like it as one path without fill."""

NOTCH_PX = 8
HOLD_MARK = [QPointF(0, -4.5), QPointF(4.5, 0), QPointF(0, 4.5), QPointF(-4.5, 0)]
GRID_PX = 90


def draw_ground(painter: QPainter, look: Look, rect: QRectF) -> None:
    """The table itself, with its grid where one is wanted."""
    painter.fillRect(rect, look.pens.ground)
    if not look.wishes.grid:
        return
    painter.setPen(look.pens.hair)
    for x in grid_stations(look, rect.left(), rect.right(), across=True):
        painter.drawLine(QPointF(x, rect.top()), QPointF(x, rect.bottom()))
    for y in grid_stations(look, rect.top(), rect.bottom(), across=False):
        painter.drawLine(QPointF(rect.left(), y), QPointF(rect.right(), y))


def grid_step_mm(look: Look, least_px: float = GRID_PX) -> float:
    """Distance of grid lines, in mm: a round number of the unit in use."""
    unit_mm = look.wishes.length_unit.mm
    return round_step(least_px * look.view.px_mm / unit_mm) * unit_mm


def grid_stations(look: Look, first_px: float, last_px: float, *, across: bool) -> list[float]:
    """Pixels, on their middles so that lines stay sharp, at which grid lines cross."""
    view, step = look.view, grid_step_mm(look)
    start, sign = (view.left_mm, 1.0) if across else (view.top_mm, -1.0)
    low, high = sorted((start + sign * first_px * view.px_mm, start + sign * last_px * view.px_mm))
    values = np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step
    return [round((value - start) * sign * view.px_per_mm) + 0.5 for value in values.tolist()]


def draw_pieces(
    painter: QPainter,
    look: Look,
    project: Project,
    pieces: Iterable[Piece],
    near: Near = none_near,
) -> None:
    """Pieces in order, each over the one before, then what is written on them.

    `near` tells what lies beside a piece, so that nothing is written on it.
    """
    small, large = _by_size(look, pieces)
    if small:
        _draw_thumbnails(painter, look, small)
    if look.step in CUT_STEPS:
        for piece in large:
            draw_cut_line(painter, look, project, piece)
    for piece in large:
        draw_piece(painter, look, piece, look.pens.edge)
        draw_marks(painter, look, project, piece)
    for piece in large:
        write_on_piece(painter, look, project, piece, near=near)
    if look.step in LEVEL_STEPS:
        write_levels(painter, look, project)


def _by_size(look: Look, pieces: Iterable[Piece]) -> tuple[list[Piece], list[Piece]]:
    limit_mm = THUMBNAIL_PX * look.view.px_mm
    small: list[Piece] = []
    large: list[Piece] = []
    for piece in pieces:
        x0, y0, x1, y1 = art_of(piece).bounds.tolist()
        (small if max(x1 - x0, y1 - y0) < limit_mm else large).append(piece)
    return small, large


def _draw_thumbnails(painter: QPainter, look: Look, pieces: Iterable[Piece]) -> None:
    path = QPainterPath()
    for piece in pieces:
        path.addPath(rough_outline(piece))
    with in_mm(painter, look.view):
        painter.setPen(look.pens.edge)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(path)


def draw_piece(
    painter: QPainter, look: Look, piece: Piece, pen: QPen, *, fill: bool = True
) -> None:
    """One piece: filled, outlined, with its internal lines and its fold."""
    art, pens = art_of(piece), look.pens
    painter.setTransform(look.view.transform)
    painter.setPen(pen)
    painter.setBrush(pens.piece if fill else Qt.BrushStyle.NoBrush)
    painter.drawPath(art.outline)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    inner = (
        (art.lines, pens.line),
        (art.placed, pens.placed),
        (art.folded, pens.folded),
        (art.fold, pens.fold),
    )
    for path, drawn in inner:
        if not path.isEmpty():
            painter.setPen(drawn)
            painter.drawPath(path)
    painter.setTransform(QTransform())


def draw_cut_line(painter: QPainter, look: Look, project: Project, piece: Piece) -> None:
    """Where the blade goes, allowance and lap added; nothing where that is the seam line."""
    is_set_out = any(outset_mm(project, edge) for edge in piece.all_edges())
    if not is_set_out and not folds_of(project, piece):
        return
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for ring in cut_outline(project, piece):
        add_ring(path, [stretch.curve for stretch in ring])
    with in_mm(painter, look.view):
        painter.setPen(look.pens.cut)
        painter.setBrush(look.pens.strip)
        painter.drawPath(path)
        painter.setBrush(Qt.BrushStyle.NoBrush)


def _draw_mouths(painter: QPainter, look: Look, project: Project, piece: Piece) -> None:
    path = mouth_path(project, piece)
    if not path.isEmpty():
        with in_mm(painter, look.view):
            painter.setPen(look.pens.cut)
            painter.drawPath(path)
        painter.setPen(look.pens.edge)


def draw_marks(painter: QPainter, look: Look, project: Project, piece: Piece) -> None:
    """Notches as ticks into the piece, holes as rings of their size (but never too small).

    In the steps that end in cutting notches are drawn as they are marked on the sheet, with the
    lines that show how edges are joined and finished.
    A held seam has a small square on its tip in the middle of each side, filled where it is held in
    shape.
    """
    view = look.view
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(look.pens.edge)
    if look.step in CUT_STEPS:
        _draw_made(painter, look, project, piece)
    else:
        for notch, edge in notches_on(project, piece):
            for at, to in notch_ticks(view, *place_of(notch, edge), double=notch.double):
                painter.drawLine(at, to)
        _draw_mouths(painter, look, project, piece)
    if project.openings and look.step not in CUT_STEPS:
        with in_mm(painter, view):
            painter.setPen(look.pens.placed)
            painter.drawPath(opening_path(project, piece))
    if project.closings:
        with in_mm(painter, view):
            painter.setPen(look.pens.placed)
            painter.drawPath(closing_path(project, piece))
    painter.setPen(look.pens.edge)
    for hole, edge in holes_on(project, piece):
        point, inward = place_of(hole, edge)
        radius = max(hole.diameter_mm / 2 * view.px_per_mm, 1.8)
        inset_mm = inset_on_mm(project, hole, edge.id)
        painter.drawEllipse(view.to_px(point + inward * inset_mm), radius, radius)
    for middle, kind in holds_on(project, piece):
        painter.setBrush(look.pens.hold if kind == "shape" else look.pens.piece)
        painter.drawPolygon([view.to_px(middle) + corner for corner in HOLD_MARK])


def _draw_made(painter: QPainter, look: Look, project: Project, piece: Piece) -> None:
    with in_mm(painter, look.view):
        painter.drawPath(notch_path(project, piece))
        painter.setPen(look.pens.placed)
        painter.drawPath(making_path(project, piece))


def notch_ticks(
    view: View, point: np.ndarray, inward: np.ndarray, *, double: bool
) -> Iterator[tuple[QPointF, QPointF]]:
    """The one or two ticks of a notch, in pixels."""
    along = np.array([inward[1], -inward[0]]) * view.px_mm * 2.0
    tip = inward * NOTCH_PX * view.px_mm
    for shift in (-along, along) if double else (along * 0.0,):
        yield view.to_px(point + shift), view.to_px(point + shift + tip)


def write_on_piece(  # noqa: PLR0913 - with what lies beside it, and under its name
    painter: QPainter,
    look: Look,
    project: Project,
    piece: Piece,
    *,
    near: Near,
    plate: QBrush | None = None,
) -> None:
    """Its name, its labels and, on demand, the lengths of its edges; in pixels, never mirrored."""
    name = name_on(look, piece)
    if name is not None:
        write_name(painter, look, name, plate or look.pens.piece)
    for label in piece.labels:
        write_label(painter, look, label)
    write_beside(painter, look, project, piece, near)


class in_mm:  # noqa: N801 - reads as a word: with in_mm(painter, view)
    """Within, the painter draws in millimetres."""

    def __init__(self, painter: QPainter, view: View) -> None:
        self._painter, self._view = painter, view

    def __enter__(self) -> None:
        """Turn the painter to millimetres."""
        self._painter.setTransform(self._view.transform)

    def __exit__(self, *_: object) -> None:
        """Turn it back to pixels."""
        self._painter.setTransform(QTransform())
