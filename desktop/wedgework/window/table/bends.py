"""Bend combs: teeth on chosen edges as long as the edge is bent there, to judge how fair it is.

All combs that are shown have one scale. While an edge is being smoothed, its comb before is a line
of dots behind the new one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from wedgework.bench import Bench, Hand
from wedgework.bench.bends import BendComb, bend_comb
from wedgework.edits.fair import FairEdge
from wedgework.geometry.tolerances import POINT_SIZE_MM
from wedgework.pattern.document import Edge, Project
from wedgework.pattern.lookup import edge_in
from wedgework.window.table.look import Look
from wedgework.window.table.seamwork import write_on_plate
from wedgework.window.theme import SMALL_PX, font

LONGEST_PX: Final = 56.0
FLATTEST_MM: Final = 1e5
"""What bends on a greater radius than this is straight to the eye and has no figure."""


@dataclass(frozen=True, eq=False, slots=True)
class PlacedBends:
    """A comb in pixels: feet and tips, (k, 2), and the tips before the edit that is tried."""

    comb: BendComb
    feet: np.ndarray
    tips: np.ndarray
    before: np.ndarray | None

    @property
    def box(self) -> QRectF:
        """Pixels that it may cover."""
        rows = [self.feet, self.tips] + ([] if self.before is None else [self.before])
        points = np.concatenate(rows)
        low, high = points.min(axis=0), points.max(axis=0)
        box = QRectF(QPointF(*low.tolist()), QPointF(*high.tolist()))
        return box.adjusted(-60, -24, 60, 24)


def bent_edges(bench: Bench, hand: Hand, *, wished: bool) -> tuple[str, ...]:
    """Edges whose comb is shown: chosen ones where that is wished, and one being smoothed."""
    tried = [edit.edge for edit in bench.tried if isinstance(edit, FairEdge)]
    chosen = bench.chosen if wished or hand.tool.name == "fair" else ()
    return tuple(dict.fromkeys((*tried, *chosen)))


def placed_bends(look: Look, bench: Bench, edges: Iterable[str]) -> list[PlacedBends]:
    """The combs of some edges at the present zoom; ids that are no edges have none."""
    pairs = [(_edge(bench.shown, own), _edge(bench.project, own)) for own in edges]
    combs = [
        (bend_comb(now.curve), bend_comb(was.curve) if was and was is not now else None)
        for now, was in pairs
        if now is not None
    ]
    greatest = max((old or new).greatest for new, old in combs) if combs else 0.0
    if greatest <= POINT_SIZE_MM:
        return []
    scale = LONGEST_PX / greatest
    return [_placed(look, new, old, scale) for new, old in combs]


def _edge(project: Project, own: str) -> Edge | None:
    piece = project.pieces.get(project.owners.get(own, ""))
    return edge_in(piece, own) if piece else None


def _placed(look: Look, comb: BendComb, before: BendComb | None, scale: float) -> PlacedBends:
    feet, tips = _in_px(look, comb, scale)
    old = None if before is None else _in_px(look, before, scale)[1]
    return PlacedBends(comb, feet, tips, old)


def _in_px(look: Look, comb: BendComb, scale: float) -> tuple[np.ndarray, np.ndarray]:
    feet = look.view.all_to_px(comb.points_mm)
    lengths = np.clip(comb.curvatures * scale, -2 * LONGEST_PX, 2 * LONGEST_PX)
    return feet, feet + comb.outward * (1.0, -1.0) * lengths[:, None]


def draw_bends(painter: QPainter, look: Look, combs: Sequence[PlacedBends]) -> None:
    """Teeth with a line over their tips, and the radius where the bend is tightest."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for placed in combs:
        if placed.before is not None:
            dots = QPen(look.pens.quiet)
            dots.setStyle(Qt.PenStyle.DotLine)
            painter.setPen(dots)
            painter.drawPolyline(_polygon(placed.before))
        painter.setPen(look.pens.line)
        for (x0, y0), (x1, y1) in zip(placed.feet.tolist(), placed.tips.tolist(), strict=True):
            painter.drawLine(QLineF(x0, y0, x1, y1))
        painter.setPen(look.pens.ink)
        painter.drawPolyline(_polygon(placed.tips))
        _write_radius(painter, look, placed)


def _polygon(points: np.ndarray) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in points.tolist()])


def _write_radius(painter: QPainter, look: Look, placed: PlacedBends) -> None:
    index = int(np.abs(placed.comb.curvatures).argmax())
    radius = 1.0 / placed.comb.greatest if placed.comb.greatest else FLATTEST_MM
    if radius >= FLATTEST_MM:
        return
    painter.setFont(font(SMALL_PX))
    away = placed.tips[index] - placed.feet[index]
    size = max(float(np.hypot(*away)), 1.0)
    at = placed.tips[index] + away / size * 14.0
    write_on_plate(painter, look, QPointF(*at.tolist()), f"R {look.wishes.with_unit(radius)}")
