"""What is written beside the edges of pieces: lengths, seams, openings."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final, TypeAlias

import numpy as np
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QTransform

from wedgework.drawing.openings import opening_names
from wedgework.geometry.curve import Floats
from wedgework.geometry.length import length_mm, parameters_at, points_at_parameters
from wedgework.pattern.document import Edge, Piece, Project
from wedgework.pattern.lookup import seams_of
from wedgework.window.table.art import art_of
from wedgework.window.table.look import CUT_STEPS, LENGTH_BESIDE_PX, Look
from wedgework.window.table.marks import place_at
from wedgework.window.table.names import level_names
from wedgework.window.table.writing import PAD_PX, ROW_PX, write_turned
from wedgework.window.theme import SMALL_PX, font

Near: TypeAlias = Callable[[Floats], Sequence[Piece]]
"""Pieces whose boxes meet a box, (4,) mm."""

LEAST_EDGE_PX: Final = 44
NEAR_PX: Final = 80
"""Words beside an edge reach no farther from their piece than this."""

SHARES: Final = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
"""Along an edge, where its words may stand: the middle first."""

LOOKS_BACK: Final = np.array([-1.0, -0.5])
"""An edge whose inside lies this way looks to the right, or upwards where it lies level."""

MOST_ASIDE: Final = 0.3
"""Words leave the middle of an edge by no more than this share of it to let others have it."""

REACHES: Final = np.array([-0.5, -0.25, 0.25, 0.5])
"""Where the edge under words is looked at, in widths of them from their middle."""


def none_near(_box: Floats) -> Sequence[Piece]:
    """No piece lies near, or it does not matter."""
    return ()


def write_beside(painter: QPainter, look: Look, project: Project, piece: Piece, near: Near) -> None:
    """Lengths where they are wanted, else names of seams and openings as the step asks."""
    beside = Beside(painter, look, project, others_near(look, piece, near))
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


def others_near(look: Look, piece: Piece, near: Near) -> list[Piece]:
    """The other pieces on which words beside the edges of a piece might come to lie."""
    reach_mm = NEAR_PX * look.view.px_mm
    box = art_of(piece).bounds + np.array([-reach_mm, -reach_mm, reach_mm, reach_mm])
    return [one for one in near(box) if one.id != piece.id]


class Beside:
    """Writes along the edges of one piece, outside of it, where nothing else is written.

    What would lie on one of the `others` stays unwritten: it would be read as that one's.
    """

    def __init__(
        self, painter: QPainter, look: Look, project: Project, others: Sequence[Piece] = ()
    ) -> None:
        self._painter, self._look, self._project = painter, look, project
        self._others = others
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
                if self._lies_on_another(box):
                    return
                write_turned(self._painter, at, text, turn_deg, halo=self._look.pens.halo)
                return

    def _lies_on_another(self, box: QRectF) -> bool:
        x0, y0, x1, y1 = self._look.view.bounds_mm(box).tolist()
        box_mm = QRectF(x0, y0, x1 - x0, y1 - y0)
        return any(art_of(one).outline.intersects(box_mm) for one in self._others)

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
