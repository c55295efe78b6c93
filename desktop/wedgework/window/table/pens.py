"""Pens and brushes of the table, made once for each scheme.

Everything that lies still has a pen of 1 px: wider ones leave Qt's fast path and cost seven times
as much. Only what is chosen or moving is drawn thick.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QPen

from wedgework.window.palette import Scheme


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Pens:
    """Pens are cosmetic: as wide in pixels at any zoom."""

    edge: QPen
    hair: QPen
    line: QPen
    placed: QPen
    folded: QPen
    fold: QPen
    hot: QPen
    chosen: QPen
    ring: QPen
    mate: QPen
    hovered: QPen
    difference: QPen
    stop: QPen
    fault: QPen
    old: QPen
    chosen_rim: QPen
    chosen_dot: QBrush
    ink: QPen
    quiet: QPen
    piece: QBrush
    hold: QBrush
    chosen_fill: QBrush
    cut: QPen
    strip: QBrush
    ground: QColor
    halo: QPen | None
    """Round letters that a photograph lies under: its own light and dark say nothing of them."""


HALO_PX = 4.0

CLEAR_ALPHA = 110
"""Of 255: a line of the photograph is seen through a piece, and the piece still stands out."""


@cache
def pens_of(scheme: Scheme, *, clear: bool = False) -> Pens:
    """The pens of a scheme; `clear` lets what lies under the pieces be seen through them."""
    alpha = CLEAR_ALPHA if clear else 255
    return Pens(
        edge=pen(scheme.edge),
        hair=pen(scheme.hair),
        line=pen(scheme.quiet),
        placed=pen(scheme.quiet, dashes=[4, 4]),
        folded=pen(scheme.quiet, dashes=[1.5, 2.5]),
        fold=pen(scheme.quiet, dashes=[10, 3, 2, 3]),
        hot=pen(scheme.ink, 1.6),
        chosen=pen(scheme.chosen, 3.0),
        ring=pen(scheme.chosen, 2.0),
        mate=pen(scheme.chosen, 3.0, dashes=[3, 2]),
        hovered=pen(scheme.chosen, 1.6),
        difference=pen(scheme.difference, 1.2),
        stop=pen(scheme.stop, 2.0),
        fault=_hatched(scheme.difference),
        old=pen(scheme.rim),
        chosen_rim=pen(scheme.panel, 1.5),
        chosen_dot=QBrush(QColor(scheme.chosen)),
        ink=pen(scheme.ink),
        quiet=pen(scheme.quiet),
        piece=_brush(scheme.piece, alpha),
        hold=QBrush(QColor(scheme.edge)),
        chosen_fill=_brush(scheme.chosen_fill, alpha),
        cut=pen(scheme.edge, dashes=[6, 3]),
        strip=QBrush(QColor(scheme.panel)),
        ground=QColor(scheme.ground),
        halo=pen(scheme.ground, HALO_PX) if clear else None,
    )


def _brush(colour: str, alpha: int) -> QBrush:
    made = QColor(colour)
    made.setAlpha(alpha)
    return QBrush(made)


FAULT_PX = 13.0
"""A stretch at fault is a hatched band wider than a chosen edge, which lies on it."""


def _hatched(colour: str) -> QPen:
    made = QPen(QBrush(QColor(colour), Qt.BrushStyle.BDiagPattern), FAULT_PX)
    made.setCosmetic(True)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    return made


def pen(colour: str, width_px: float = 1.0, dashes: list[float] | None = None) -> QPen:
    """A cosmetic pen with round joins; dashes are in multiples of its width."""
    made = QPen(QColor(colour), width_px)
    made.setCosmetic(True)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    made.setCapStyle(Qt.PenCapStyle.FlatCap if dashes else Qt.PenCapStyle.RoundCap)
    if dashes:
        made.setDashPattern(dashes)
    return made
