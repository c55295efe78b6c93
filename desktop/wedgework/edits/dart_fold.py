"""Fold a dart instead of cutting it out: its wedge stays and is laid to one side.

What its mouth then has to be is a cut line, derived in `pattern.mouths`; this only says which way.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Final, Literal

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id
from wedgework.edits.darts import dart_in_ring
from wedgework.edits.settings import SetAllowance
from wedgework.geometry.curve import joined
from wedgework.pattern.changes import with_seams
from wedgework.pattern.darts import DartMeasure, measure_dart
from wedgework.pattern.document import Project, Side
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.mouths import folds_flat

WAYS: Final = {"up": (0.0, 1.0), "down": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}

LEAST_SHARE: Final = 0.1
"""A mouth that goes less than this share of its width one way does not lie that way at all."""


class FoldDart(Edit, frozen=True, kw_only=True):
    """Keep the wedge of a dart and fold it to one side; its mouth is cut to run to the edge."""

    dart: Annotated[Id, Meta(description="dart")]
    to: Annotated[
        Literal["a", "b", "up", "down", "left", "right"],
        Meta(description="side that the fold is laid to, by its leg or by where it lies"),
    ]

    def change(self, project: Project) -> Project:
        """EditRefused where the legs do not fold onto each other, or it does not lie that way."""
        found = dart_in_ring(project, self.dart)
        legs = (*found.towards, *found.back)
        side = _side(measure_dart(project, found.dart), self.to)
        sides = (joined(*(leg.curve for leg in part)) for part in (found.towards, found.back))
        if not folds_flat(*sides):
            raise EditRefused(
                "The legs of this dart do not fold onto each other; make them even, and shaped "
                "alike, first.",
                culprit=self.dart,
            )
        if (found.dart.join, found.dart.over) != ("superimposed", side):
            dart = replace(found.dart, join="superimposed", over=side)
            project = with_seams(project, dart)
        allowed = tuple(leg.id for leg in legs if leg.allowance_mm)
        return SetAllowance(edges=allowed, mm=0.0).change(project) if allowed else project


def _side(found: DartMeasure, to: str) -> Side:
    if to in ("a", "b"):
        return "a" if to == "a" else "b"
    along_mm = float((found.mouth_a - found.mouth_b) @ np.array(WAYS[to]))
    if abs(along_mm) <= LEAST_SHARE * found.intake_mm:  # a dart that has no intake lies nowhere
        raise EditRefused(
            f"This dart does not fold {to}: its legs lie beside each other the other way."
        )
    return "a" if along_mm > 0 else "b"
