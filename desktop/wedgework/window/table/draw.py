"""Draw pieces with all that lies in them, and the ground under them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QFont,
    QFontMetrics,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPen,
    QTransform,
)

from wedgework.bench import StepName
from wedgework.drawing.openings import opening_names
from wedgework.geometry.length import length_mm, parameters_at, points_at_parameters
from wedgework.geometry.memo import memoised
from wedgework.pattern.cutlines import cut_outline, outset_mm
from wedgework.pattern.document import Edge, Label, Level, Piece, Project
from wedgework.pattern.lookup import seams_of
from wedgework.pattern.mouths import folds_of
from wedgework.pattern.rows import inset_on_mm
from wedgework.pattern.table import Table
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.table.art import add_ring, art_of, room_across, room_upwards, rough_outline
from wedgework.window.table.made import (
    closing_path,
    making_path,
    mouth_path,
    notch_path,
    opening_path,
)
from wedgework.window.table.marks import holds_on, holes_on, notches_on, place_at, place_of
from wedgework.window.table.pens import Pens, pens_of
from wedgework.window.table.view import View, round_step
from wedgework.window.table.writing import PAD_PX, ROW_PX, write_at, write_centred, write_turned
from wedgework.window.theme import SMALL_PX, font

THUMBNAIL_PX = 24
"""A piece smaller than this is drawn with all others like it as one path without fill."""

NAMED_PX = 70
LENGTH_BESIDE_PX = 10
SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
"""Along an edge, where its words may stand: the middle first."""

LOOKS_BACK = np.array([-1.0, -0.5])
"""An edge whose inside lies this way looks to the right, or upwards where it lies level."""

MOST_ASIDE = 0.3
"""Words leave the middle of an edge by no more than this share of it to let others have it."""

REACHES = np.array([-0.5, -0.25, 0.25, 0.5])
"""Where the edge under words is looked at, in widths of them from their middle."""

SLACK_PX = 3
"""A line of small letters without tails needs this much less than its row."""
NOTCH_PX = 8
HOLD_MARK = [QPointF(0, -4.5), QPointF(4.5, 0), QPointF(0, 4.5), QPointF(-4.5, 0)]
LEAST_EDGE_PX = 44
GRID_PX = 90
EDGE_PX = 14
"""Ticks, half a pen and smoothing stand out of a piece's box by no more than this."""

CUT_STEPS = frozenset({"Mark", "Lay", "Cut"})
LEVEL_STEPS = frozenset({"Measure", "Draft"})
LEVEL_NAME_PX = 90
CUT_REACH_MM = 25.0
"""Lap and allowance together are hardly ever wider; what is cut off here is drawn again later."""
CUTTING_WORDS = {"single": "", "pair": "pair", "fold": "on the fold"}


@dataclass(frozen=True, slots=True)
class Look:
    """All that decides how a project looks: how near, in which colours, at which step."""

    view: View
    scheme: Scheme
    wishes: Wishes
    step: StepName = "Shape"
    over_photograph: bool = False

    @property
    def margin_px(self) -> float:
        """How far what belongs to a piece may stand out of its box."""
        if self.step in LEVEL_STEPS:
            return EDGE_PX + LEVEL_NAME_PX
        cut_mm = CUT_REACH_MM if self.step in CUT_STEPS else 0.0
        return max(EDGE_PX + cut_mm * self.view.px_per_mm, LENGTH_BESIDE_PX + ROW_PX)

    @property
    def pens(self) -> Pens:
        """The pens of the scheme; over a photograph pieces are so thin that it is seen through."""
        return pens_of(self.scheme, clear=self.over_photograph)


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


def draw_pieces(painter: QPainter, look: Look, project: Project, pieces: Iterable[Piece]) -> None:
    """Pieces in order, each over the one before, then what is written on them."""
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
        write_on_piece(painter, look, project, piece)
    if look.step in LEVEL_STEPS:
        _write_levels(painter, look, project)


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
    for path, drawn in ((art.lines, pens.line), (art.placed, pens.placed), (art.fold, pens.fold)):
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


def write_on_piece(
    painter: QPainter, look: Look, project: Project, piece: Piece, plate: QBrush | None = None
) -> None:
    """Its name, its labels and, on demand, the lengths of its edges; in pixels, never mirrored."""
    name = name_on(look, piece)
    if name is not None:
        _write_name(painter, look, name, plate or look.pens.piece)
    for label in piece.labels:
        _write_label(painter, look, label)
    _write_beside(Beside(painter, look, project), look, project, piece)


def _write_beside(beside: Beside, look: Look, project: Project, piece: Piece) -> None:
    """Lengths where they are wanted, else names of seams and openings as the step asks."""
    if look.wishes.lengths:
        for edge in piece.all_edges():
            beside.write_length(edge)
        return
    if look.step == "Join":
        for edge in piece.edges:
            beside.write_seam(edge)
    if project.openings and look.step not in CUT_STEPS:
        for edge, name in opening_names(project, piece):
            beside.write_along(edge, name, room=2.0)  # half of it stays free


@dataclass(frozen=True, slots=True)
class Name:
    """The name of a piece as it is written: rows about a pixel, across or from foot to head."""

    rows: tuple[str, ...]
    at: QPointF
    is_upright: bool = False
    has_plate: bool = False

    @property
    def box(self) -> QRectF:
        """The pixels that it fills."""
        metrics = QFontMetricsF(font(SMALL_PX))
        wide = max(map(metrics.horizontalAdvance, self.rows)) + 2 * PAD_PX
        high = ROW_PX * len(self.rows)
        if self.is_upright:
            wide, high = high, wide
        return QRectF(self.at.x() - wide / 2, self.at.y() - high / 2, wide, high)


def name_on(look: Look, piece: Piece) -> Name | None:
    """Name and cutting across where both fit, else upwards in one line, else cut short."""
    box = look.view.rect_px(art_of(piece).bounds)
    if not look.wishes.names or max(box.width(), box.height()) < NAMED_PX:
        return None
    name, cutting = piece.name or piece.id, CUTTING_WORDS[piece.cutting]
    metrics, scale = QFontMetrics(font(SMALL_PX)), look.view.px_per_mm
    across = room_across(piece)
    line = f"{name} · {cutting}" if cutting else name
    for rows in ((name, cutting), (line,)) if cutting else ((name,),):
        wide = max(map(metrics.horizontalAdvance, rows)) + 2 * PAD_PX <= across.width_mm * scale
        if wide and len(rows) * ROW_PX - SLACK_PX <= across.height_mm * scale:
            return Name(rows, look.view.to_px(across.middle))
    upwards = room_upwards(piece)
    if metrics.horizontalAdvance(line) + 2 * PAD_PX <= upwards.width_mm * scale:
        return Name((line,), look.view.to_px(upwards.middle), is_upright=True, has_plate=True)
    return _short_name(look, piece, name)


def _short_name(look: Look, piece: Piece, name: str) -> Name | None:
    """What fits of a name, the longer way of the piece."""
    across, upwards = room_across(piece), room_upwards(piece)
    is_upright = upwards.width_mm > across.width_mm
    room = upwards if is_upright else across
    room_px = round(room.width_mm * look.view.px_per_mm) - 2 * PAD_PX
    metrics = QFontMetrics(font(SMALL_PX))
    shown = metrics.elidedText(name, Qt.TextElideMode.ElideRight, room_px)
    at = look.view.to_px(room.middle)
    return Name((shown,), at, is_upright=is_upright) if len(shown) > 1 else None


def _write_name(painter: QPainter, look: Look, name: Name, plate: QBrush) -> None:
    painter.setPen(look.pens.quiet)
    painter.setFont(font(SMALL_PX))
    if name.is_upright:
        own = plate if name.has_plate else None
        write_turned(painter, name.at, name.rows[0], -90.0, plate=own, halo=look.pens.halo)
        return
    for row, words in enumerate(name.rows):
        write_centred(painter, name.at + QPointF(0, ROW_PX * (row - (len(name.rows) - 1) / 2)),
                      words, look.pens.halo)  # fmt: skip


def _write_label(painter: QPainter, look: Look, label: Label) -> None:
    size_px = label.height_mm * look.view.px_per_mm
    if not 5 <= size_px <= 400:
        return
    painter.save()
    painter.translate(look.view.to_px(label.at_mm))
    painter.rotate(-np.degrees(label.angle_rad))
    written = QFont(font())
    written.setPixelSize(round(size_px))
    painter.setFont(written)
    painter.setPen(look.pens.quiet)
    write_at(painter, QPointF(0, 0), label.text, look.pens.halo)
    painter.restore()


@memoised
def level_starts(pieces: Table[Piece], levels: Table[Level]) -> dict[str, tuple[float, float]]:
    """Where each level begins, the farthest to the left: its name stands there."""
    firsts: dict[str, tuple[float, float]] = {}
    for piece in pieces.values():
        for line in piece.lines:
            if line.level in levels:
                ends = (line.curve.start.tolist(), line.curve.end.tolist())
                known = firsts.get(str(line.level), (np.inf, 0.0))
                firsts[str(line.level)] = min(known, *(tuple(end) for end in ends))
    return firsts


def level_names(look: Look, project: Project) -> Iterator[tuple[str, QRectF]]:
    """The name of each level, and the box left of where it begins."""
    if look.step not in LEVEL_STEPS:
        return
    metrics = QFontMetricsF(font(SMALL_PX))
    for own, start in level_starts(project.pieces, project.levels).items():
        name, at = project.levels[own].name or own, look.view.to_px(start)
        wide = metrics.horizontalAdvance(name)
        yield name, QRectF(at.x() - PAD_PX - wide, at.y() - ROW_PX / 2, wide, ROW_PX)


def _write_levels(painter: QPainter, look: Look, project: Project) -> None:
    """The name of each level once."""
    painter.setFont(font(SMALL_PX))
    painter.setPen(look.pens.quiet)
    for name, box in level_names(look, project):
        write_centred(painter, box.center(), name, look.pens.halo)


class Beside:
    """Writes along the edges of one piece, outside of it, where nothing else is written."""

    def __init__(self, painter: QPainter, look: Look, project: Project) -> None:
        self._painter, self._look, self._project = painter, look, project
        self._taken = [box for _, box in level_names(look, project)]
        painter.setFont(font(SMALL_PX))
        painter.setPen(look.pens.quiet)

    def write_seam(self, edge: Edge) -> None:
        """The names of the seams that an edge lies in, where they have room along it."""
        names = ", ".join(seam.name or seam.id for seam in seams_of(self._project, edge.id))
        if names:
            self.write_along(edge, names)

    def write_along(self, edge: Edge, words: str, room: float = 1.0) -> None:
        """Words beside an edge that is so many times as long as they are, or longer."""
        wide = room * self._painter.fontMetrics().horizontalAdvance(words)
        if wide < length_mm(edge.curve) * self._look.view.px_per_mm:
            self._write(edge, words)

    def write_length(self, edge: Edge) -> None:
        """The length of an edge, unless the edge is too short to be told from its figure."""
        whole = length_mm(edge.curve)
        if whole * self._look.view.px_per_mm >= LEAST_EDGE_PX:
            self._write(edge, self._look.wishes.in_list(whole))

    def _write(self, edge: Edge, text: str) -> None:
        """Upright, at the middle of the edge or beside it; at none of them where all are taken."""
        wide = self._painter.fontMetrics().horizontalAdvance(text)
        for along_mm in self._stations(edge, wide):
            at, turn_deg = self._place(edge, along_mm, wide)
            turn = QTransform().translate(at.x(), at.y()).rotate(turn_deg)
            box = turn.mapRect(QRectF(-wide / 2, -ROW_PX / 2, wide, ROW_PX))
            if not any(box.intersects(other) for other in self._taken):
                self._taken.append(box)
                write_turned(self._painter, at, text, turn_deg, halo=self._look.pens.halo)
                return

    def _stations(self, edge: Edge, wide_px: float) -> Iterator[float]:
        """Along an edge, in mm: its middle first, unless it looks to the right.

        Edges of neighbours look at each other; one of them lets the other have the middle.
        """
        whole_mm = length_mm(edge.curve)
        aside_mm = (wide_px + 2 * PAD_PX) * self._look.view.px_mm
        if place_at(edge, whole_mm / 2)[1] @ LOOKS_BACK > 0 and aside_mm < whole_mm * MOST_ASIDE:
            yield whole_mm / 2 + aside_mm
        yield from (share * whole_mm for share in SHARES)

    def _place(self, edge: Edge, along_mm: float, wide_px: float) -> tuple[QPointF, float]:
        """The middle of words and their turn; a hollow edge comes no nearer to their ends."""
        point, inward = place_at(edge, along_mm)
        turn_deg = float(np.degrees(np.arctan2(inward[0], inward[1])))
        view = self._look.view
        under_mm = along_mm + REACHES * (wide_px * view.px_mm)
        under_mm = np.clip(under_mm, 0.0, length_mm(edge.curve))
        under = points_at_parameters(edge.curve, parameters_at(edge.curve, under_mm))
        bulge_mm = max(0.0, float(((point - under) @ inward).max()))
        at = view.to_px(point - inward * (bulge_mm + LENGTH_BESIDE_PX * view.px_mm))
        return at, (turn_deg + 90.0) % 180.0 - 90.0


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
