"""Pieces laid together: the neighbours of a line shown at its piece, with the line over them all.

A ghost is where its piece would lie if the seams were joined there; the piece itself stays where
it is. Ghosts follow every frame of a drag.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QTransform

from wedgework.bench import Bench, Hand
from wedgework.bench.joined import JoinedLine, joined_line, line_of
from wedgework.bench.tools import across
from wedgework.geometry.curve import Floats
from wedgework.geometry.motion import Affine
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.errors import WedgeworkError
from wedgework.window.table.art import add_curve, art_of, room_across
from wedgework.window.table.draw import draw_pieces, in_mm
from wedgework.window.table.look import Look
from wedgework.window.table.pens import pen
from wedgework.window.table.writing import write_centred
from wedgework.window.theme import SMALL_PX, font

VEIL: Final = 200
"""How far a ghost hides what lies under it, of 255."""

DIMMED: Final = 0.22
"""How much is seen of a piece that is shown elsewhere than it lies."""

LINE_PX: Final = 2.4
POINT_PX: Final = 4.0


@dataclass(frozen=True, eq=False, slots=True)
class LaidPieces:
    """A line with its ghosts, and the points that are set for a new one."""

    joined: JoinedLine
    ghosts: tuple[tuple[Piece, Affine], ...]
    points_mm: tuple[tuple[float, float], ...] = ()

    @property
    def here(self) -> Piece:
        """The piece that the others are laid to, where it lies."""
        return next(one.piece for one in self.joined.laid if one.edge.id == self.joined.frame)

    @property
    def away(self) -> tuple[Piece, ...]:
        """Pieces that are shown elsewhere than they lie, each once."""
        found = {piece.id: piece for piece, _ in self.ghosts if piece is not self.here}
        return tuple(found.values())

    @property
    def bounds(self) -> Floats:
        """The box of what is laid together, (4,) mm."""
        rows = [self.joined.line.segments.reshape(-1, 2), _points_of(self.here)]
        rows += [motion.points(_points_of(piece)) for piece, motion in self.ghosts]
        points = np.concatenate(rows)
        return np.concatenate([points.min(axis=0), points.max(axis=0)])


def _points_of(piece: Piece) -> Floats:
    return np.concatenate([edge.curve.segments.reshape(-1, 2) for edge in piece.edges])


def laid_pieces_of(bench: Bench, hand: Hand, *, wished: bool) -> LaidPieces | None:
    """What is laid together: at the tool that draws across, or at what is chosen if it is wished.

    None where nothing is, or what is chosen is part of no line.
    """
    state = hand.state
    try:
        if isinstance(state, across.Laying):
            return _laid(joined_line(bench.shown, state.edges, state.frame), state.points_mm)
        chosen = next(iter(bench.chosen), None) if wished else None
        joined = line_of(bench.shown, chosen) if chosen is not None else None
        return None if joined is None else _laid(joined)
    except WedgeworkError:
        return None  # an edit has taken the line apart


def _laid(joined: JoinedLine, points: tuple[tuple[float, float], ...] = ()) -> LaidPieces:
    return LaidPieces(joined, tuple(joined.pieces), points)


def laid_box(look: Look, laid: LaidPieces) -> QRectF:
    """Pixels that the ghosts, the line and the pieces dimmed for them may cover."""
    points = [look.view.to_px(point) for point in laid.points_mm]
    box = look.view.rect_px(laid.bounds)
    for point in points:
        box = box.united(QRectF(point.x() - 8, point.y() - 8, 16, 16))
    margin = look.margin_px
    for piece in laid.away:
        own = look.view.rect_px(art_of(piece).bounds)
        box = box.united(own.adjusted(-margin, -margin, margin, margin))
    return box.adjusted(-6, -6, 6, 6)


def draw_laid(painter: QPainter, look: Look, project: Project, laid: LaidPieces) -> None:
    """Ghosts as veils with dashed outlines and their names, the line thick, set points as dots.

    The pieces themselves are dimmed where they lie, names and all, so that each is seen once.
    """
    veil = QColor(look.scheme.piece)
    veil.setAlpha(VEIL)
    painter.setOpacity(DIMMED)
    draw_pieces(painter, look, project, laid.away)
    painter.setOpacity(1.0)
    paths = [_transform(motion).map(art_of(piece).outline) for piece, motion in laid.ghosts]
    with in_mm(painter, look.view):
        painter.setPen(pen(look.scheme.quiet, 1.2, dashes=[5, 3]))
        painter.setBrush(veil)
        for path in paths:
            painter.drawPath(path)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen(look.scheme.chosen, LINE_PX))
        line = QPainterPath()
        add_curve(line, laid.joined.line)
        painter.drawPath(line)
    painter.setPen(QColor(look.scheme.quiet))
    painter.setFont(font(SMALL_PX))
    for piece, motion in laid.ghosts:
        at = look.view.to_px(motion.points(room_across(piece).middle))
        write_centred(painter, at, piece.name or piece.id)
    _draw_points(painter, look, laid)


def _draw_points(painter: QPainter, look: Look, laid: LaidPieces) -> None:
    painter.setPen(look.pens.chosen_rim)
    painter.setBrush(look.pens.chosen_dot)
    for point in laid.points_mm:
        at: QPointF = look.view.to_px(point)
        painter.drawEllipse(at, POINT_PX, POINT_PX)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _transform(motion: Affine) -> QTransform:
    (a, b), (c, d) = motion.linear.tolist()
    x, y = motion.shift.tolist()
    return QTransform(a, c, b, d, x, y)
