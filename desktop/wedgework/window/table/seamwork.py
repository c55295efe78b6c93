"""Tails, combs and handles: what seams show of themselves on the table."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetrics, QPainter, QPainterPath, QPen, QPolygonF

from wedgework.bench.gestures import PICK_PX
from wedgework.bench.picking import HANDLE_REACH, handles_of
from wedgework.bench.readouts import TOOTH_MM, Comb, Tail, comb_of, tail_of
from wedgework.pattern.document import Edge, Project, Seam, SeamId
from wedgework.pattern.errors import WedgeworkError
from wedgework.pattern.lookup import piece_of
from wedgework.window.table.art import curve_path
from wedgework.window.table.draw import in_mm
from wedgework.window.table.look import Look
from wedgework.window.table.names import name_on
from wedgework.window.table.writing import write_centred
from wedgework.window.theme import SMALL_PX, font

TAIL_PX: Final = 9.0
FIGURE_PX: Final = 22.0
"""How far beside its tail a figure stands."""

FIGURE_BOX_PX: Final = 70.0
COMB_PX_PER_DEG: Final = 9.0
"""Length of a tooth that gathers a degree over the common distance of teeth."""

LONGEST_TOOTH_PX: Final = 64.0
LEAST_TOOTH_GAP_PX: Final = 4.0
LEAST_NAMED_DEG: Final = 1.0
HANDLE_PX: Final = 3.5
SHIFTS_PX: Final = (0.0, 12.0, 24.0, 36.0, 54.0, 72.0, 96.0)
"""How far a figure of a comb may stand from its tooth, farther out and beside, to clear a name."""

STEPS_PX: Final = sorted(
    product(SHIFTS_PX, (*SHIFTS_PX, *(-one for one in SHIFTS_PX))),
    key=lambda step: math.hypot(*step),
)
"""Each of those ways, out and to a side, the shortest first."""


@dataclass(frozen=True, slots=True)
class PlacedTail:
    """A tail and the box of its curves, (4,) mm."""

    tail: Tail
    bounds: np.ndarray


class Tails:
    """The tails of all seams that differ; a change renews only those that it names."""

    def __init__(self) -> None:
        self._rows: dict[SeamId, PlacedTail] = {}

    def renew(self, project: Project, seams: Iterable[SeamId] | None = None) -> None:
        """Measure again; all seams where none are named."""
        if seams is None:
            self._rows = {}
            seams = project.seams
        for own in seams:
            self._rows.pop(own, None)
            placed = _placed(project, own)
            if placed is not None:
                self._rows[own] = placed

    def boxes(self, look: Look) -> list[tuple[QRectF, Tail]]:
        """Each tail with the pixels that it and its figure may cover."""
        return [(_tail_box(look, placed), placed.tail) for placed in self._rows.values()]

    def boxes_of(self, look: Look, seams: Iterable[SeamId]) -> list[QRectF]:
        """The pixels of some tails."""
        return [_tail_box(look, self._rows[own]) for own in seams if own in self._rows]


def _placed(project: Project, own: SeamId) -> PlacedTail | None:
    if own not in project.seams:
        return None
    try:
        tail = tail_of(project, project.seams[own])
    except WedgeworkError:
        return None
    if tail is None or not tail.curves:
        return None
    # Boxes of control points: a curve never leaves them, and they cost a tenth of its own.
    points = np.concatenate([curve.segments.reshape(-1, 2) for curve in tail.curves])
    return PlacedTail(tail, np.concatenate([points.min(axis=0), points.max(axis=0)]))


def _tail_box(look: Look, placed: PlacedTail) -> QRectF:
    figure = _figure_place(look, placed.tail)
    reach = FIGURE_BOX_PX / 2
    words = QRectF(figure.x() - reach, figure.y() - 12, 2 * reach, 24)
    return look.view.rect_px(placed.bounds).united(words)


def _figure_place(look: Look, tail: Tail) -> QPointF:
    beside = FIGURE_PX + 16 * abs(float(tail.outward[0]))
    return look.view.to_px(tail.at_mm + tail.outward * beside * look.view.px_mm)


def draw_tail(painter: QPainter, look: Look, tail: Tail) -> None:
    """A hatched band along the surplus, at its true length, with its figure."""
    path = QPainterPath()
    for curve in tail.curves:
        path.addPath(curve_path(curve))
    colour = QColor(look.scheme.difference)
    with in_mm(painter, look.view):
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for width, brush in ((TAIL_PX, QBrush(QColor(look.scheme.piece))),
                             (TAIL_PX, QBrush(colour, Qt.BrushStyle.BDiagPattern)),
                             (1.6, QBrush(colour))):  # fmt: skip
            pen = QPen(brush, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
            pen.setCosmetic(True)
            painter.setPen(pen)
            painter.drawPath(path)
    painter.setPen(colour)
    painter.setFont(font(SMALL_PX, strong=True))
    sign = 1.0 if tail.side == "a" else -1.0
    text = look.wishes.in_list(sign * tail.surplus_mm, signed=True)
    write_on_plate(painter, look, _figure_place(look, tail), text)


def write_on_plate(painter: QPainter, look: Look, at: QPointF, text: str) -> None:
    """Text on a small plate, so that it can be read over lines."""
    plate = _plate_box(at, text, painter.fontMetrics())
    ground = QColor(look.scheme.ground)
    ground.setAlpha(225)
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(plate, 3, 3)
    painter.restore()
    write_centred(painter, at, text)


def _plate_box(at: QPointF, text: str, metrics: QFontMetrics | None = None) -> QRectF:
    metrics = metrics or QFontMetrics(font(SMALL_PX))
    width, height = metrics.horizontalAdvance(text) + 8, metrics.height()
    return QRectF(at.x() - width / 2, at.y() - height / 2, width, height)


# Combs


@dataclass(frozen=True, eq=False, slots=True)
class PlacedComb:
    """A comb in pixels: feet (k, 2), tips (k, 2), and what is written where."""

    comb: Comb
    feet: np.ndarray
    tips: np.ndarray
    words: tuple[tuple[QPointF, str], ...]

    @property
    def box(self) -> QRectF:
        """Pixels that it may cover."""
        points = np.concatenate([self.feet, self.tips])
        low, high = points.min(axis=0), points.max(axis=0)
        box = QRectF(QPointF(*low.tolist()), QPointF(*high.tolist()))
        return box.adjusted(-60, -24, 60, 24)


def placed_comb(look: Look, project: Project, own: SeamId) -> PlacedComb | None:
    """The comb of a seam at the present zoom; None where there is nothing to comb."""
    tooth_mm = max(TOOTH_MM, LEAST_TOOTH_GAP_PX * look.view.px_mm)
    try:
        comb = comb_of(project, project.seams[own], tooth_mm)
    except (WedgeworkError, KeyError):
        return None
    lengths = comb.shaping_deg * (TOOTH_MM / tooth_mm) * COMB_PX_PER_DEG
    lengths = np.clip(lengths, -LONGEST_TOOTH_PX, LONGEST_TOOTH_PX)
    feet = look.view.all_to_px(comb.points_mm)
    tips = feet + comb.outward * (1.0, -1.0) * lengths[:, None]
    names = _names_beside(look, project, project.seams[own])
    return PlacedComb(comb, feet, tips, tuple(_comb_words(look, comb, tips, names)))


def _names_beside(look: Look, project: Project, seam: Seam) -> list[QRectF]:
    """Where the names of the pieces that a seam joins are written."""
    pieces = dict.fromkeys(piece_of(project, one.edge) for one in (*seam.a, *seam.b))
    names = [name_on(look, piece) for piece in pieces]
    return [name.box for name in names if name is not None]


def _comb_words(
    look: Look, comb: Comb, tips: np.ndarray, names: list[QRectF]
) -> Iterable[tuple[QPointF, str]]:
    """The dome's degrees at its highest tooth, the hollow's at its lowest, clear of names."""
    highest, lowest = int(comb.shaping_deg.argmax()), int(comb.shaping_deg.argmin())
    for sign, index, part in ((1, highest, comb.dome_deg), (-1, lowest, -comb.hollow_deg)):
        if abs(part) >= LEAST_NAMED_DEG:
            side = comb.outward[index] * (1.0, -1.0) * sign
            at = tips[index] + side * (12 + 14 * abs(side[0]))
            text = look.wishes.degrees(part, signed=True)
            box = _plate_box(QPointF(), text)
            yield clear_of(names, QPointF(*at.tolist()), QPointF(*side.tolist()), box), text


def clear_of(names: Sequence[QRectF], at: QPointF, side: QPointF, box: QRectF) -> QPointF:
    """The place nearest to a wished one at which a box covers no name: farther out, or beside."""
    across = QPointF(side.y(), -side.x())
    places = (at + side * out + across * way for out, way in STEPS_PX)
    free = (one for one in places if not any(box.translated(one).intersects(n) for n in names))
    return next(free, at)


def draw_comb(painter: QPainter, look: Look, placed: PlacedComb) -> None:
    """Teeth with a line over their tips: outwards where it rounds, inwards where it flares."""
    painter.setPen(look.pens.line)
    for (x0, y0), (x1, y1) in zip(placed.feet.tolist(), placed.tips.tolist(), strict=True):
        painter.drawLine(QLineF(x0, y0, x1, y1))
    painter.setPen(look.pens.ink)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for tips in np.split(placed.tips, placed.comb.begins):
        painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in tips.tolist()]))
    painter.setFont(font(SMALL_PX))
    for at, text in placed.words:
        write_on_plate(painter, look, at, text)


# Handles


def draw_handles(painter: QPainter, look: Look, edge: Edge) -> None:
    """The handles of a chosen edge, each tied to the end that it bends."""
    painter.setPen(look.pens.line)
    painter.setBrush(look.pens.piece)
    reach = QPointF(HANDLE_PX, HANDLE_PX)
    for cubic, end, at_mm in handles_of(edge):
        foot = look.view.to_px(edge.curve.segments[cubic, 0 if end == "first" else 3])
        at = look.view.to_px(at_mm)
        if QLineF(foot, at).length() <= HANDLE_REACH * PICK_PX:
            continue
        painter.drawLine(foot, at)
        painter.drawRect(QRectF(at - reach, at + reach))


def handle_box(look: Look, edge: Edge) -> QRectF:
    """Pixels that the handles of an edge may cover."""
    points = edge.curve.segments.reshape(-1, 2)
    low, high = points.min(axis=0), points.max(axis=0)
    return look.view.rect_px(np.concatenate([low, high]))
