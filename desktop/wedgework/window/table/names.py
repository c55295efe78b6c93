"""What is written on pieces: their names, their labels, and the names of levels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFont, QFontMetrics, QFontMetricsF, QPainter

from wedgework.geometry.memo import memoised
from wedgework.pattern.document import Label, Level, Piece, Project
from wedgework.pattern.table import Table
from wedgework.window.table.art import art_of, room_across, room_upwards
from wedgework.window.table.look import LEVEL_STEPS, Look
from wedgework.window.table.writing import PAD_PX, ROW_PX, write_at, write_centred, write_turned
from wedgework.window.theme import SMALL_PX, font

NAMED_PX: Final = 70
SLACK_PX: Final = 3
"""A line of small letters without tails needs this much less than its row."""
CUTTING_WORDS: Final = {"single": "", "pair": "pair", "fold": "on the fold"}


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


def write_name(painter: QPainter, look: Look, name: Name, plate: QBrush) -> None:
    """The name of a piece, where `name_on` has found room for it."""
    painter.setPen(look.pens.quiet)
    painter.setFont(font(SMALL_PX))
    if name.is_upright:
        own = plate if name.has_plate else None
        write_turned(painter, name.at, name.rows[0], -90.0, plate=own, halo=look.pens.halo)
        return
    for row, words in enumerate(name.rows):
        write_centred(painter, name.at + QPointF(0, ROW_PX * (row - (len(name.rows) - 1) / 2)),
                      words, look.pens.halo)  # fmt: skip


def write_label(painter: QPainter, look: Look, label: Label) -> None:
    """A label in its own size, as long as that can be read."""
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


def write_levels(painter: QPainter, look: Look, project: Project) -> None:
    """The name of each level once."""
    painter.setFont(font(SMALL_PX))
    painter.setPen(look.pens.quiet)
    for name, box in level_names(look, project):
        write_centred(painter, box.center(), name, look.pens.halo)
