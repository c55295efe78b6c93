"""How a project looks: how near, in which colours, at which step; and what follows from it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from wedgework.bench import StepName
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.table.pens import Pens, pens_of
from wedgework.window.table.view import View
from wedgework.window.table.writing import ROW_PX

LENGTH_BESIDE_PX: Final = 10
EDGE_PX: Final = 14
"""Ticks, half a pen and smoothing stand out of a piece's box by no more than this."""

CUT_STEPS: Final = frozenset({"Mark", "Lay", "Cut"})
LEVEL_STEPS: Final = frozenset({"Measure", "Draft"})
LEVEL_NAME_PX: Final = 90
CUT_REACH_MM: Final = 25.0
"""Lap and allowance together are hardly ever wider; what is cut off here is drawn again later."""


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
