"""HP-GL out, for cutters and plotters: 40 units to the millimetre.

Pen 1 is the blade and follows the cut lines and punched holes; pen 2 draws all else. All that is
drawn comes before the first cut, since a cut sheet shifts. Source of the language: HP PCL/PJL
Reference, Technical Reference Manual Part II (HP-GL/2), chapters 19 to 23 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from wedgework.drawing.adapters import ChordsPen
from wedgework.drawing.pen import Ink, Setting
from wedgework.drawing.pieces import draw_project
from wedgework.drawing.recorder import Recorder
from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused
from wedgework.units import plotter_units

CHORD_MM: Final = 0.0125
"""Chords miss the curve by no more than half a unit of the language itself."""

CIRCLE_STEP_DEG: Final = 5
LABEL_END: Final = "\x03"


def write_plt(project: Project, *, words: bool = True) -> bytes:
    """The pieces as HP-GL, plain ASCII, lower left at (0, 0); FileRefused where there are none."""
    drawing = Recorder()
    draw_project(project, drawing, words=words)
    bounds = drawing.bounds_mm()
    if bounds is None:
        raise FileRefused("There are no pieces to draw yet.")
    pen = _PltPen(bounds[:2])
    drawing.replay(ChordsPen(pen, CHORD_MM))
    lines = ["IN;", "SP2;", *pen.drawn, "SP1;", *pen.cut, "PU0,0;", "SP0;"]
    return ("\n".join(lines) + "\n").encode("ascii", errors="replace")


class _PltPen:
    """Gathers what is drawn and what is cut, each as lines of HP-GL."""

    def __init__(self, origin: Floats) -> None:
        self._origin = origin
        self.drawn: list[str] = []
        self.cut: list[str] = []

    def begin(self, ink: Ink) -> None:
        """Groups make no difference to a plotter."""

    def end(self) -> None:
        """Groups make no difference to a plotter."""

    def stroke(self, curves: Sequence[Curve], ink: Ink, *, closed: bool = False) -> None:  # noqa: ARG002 - closed lines end where they start
        """Move up to the start and down along the chords."""
        ends = np.concatenate([curve.segments[:, 3] for curve in curves])
        path = ",".join(self._units(point) for point in ends)
        target = self.cut if ink.layer == "cut" else self.drawn
        target.append(f"PU{self._units(curves[0].start)};PD{path};PU;")

    def fill(self, rings: Sequence[Sequence[Curve]], ink: Ink) -> None:
        """A blade fills nothing: the outline is drawn."""
        for ring in rings:
            self.stroke(ring, ink, closed=True)

    def circle(self, centre: Point, radius_mm: float, ink: Ink) -> None:  # noqa: ARG002 - every circle is a hole
        """Cut a punched hole."""
        radius = plotter_units(radius_mm)
        self.cut.append(f"PU{self._units(centre)};CI{radius},{CIRCLE_STEP_DEG};")

    def text(self, words: str, setting: Setting, ink: Ink) -> None:  # noqa: ARG002 - all words look alike
        """Write with the plotter's own letters; SI takes cm."""
        cos, sin = math.cos(setting.angle_rad) + 0.0, math.sin(setting.angle_rad) + 0.0
        height_cm = 0.07 * setting.height_mm
        origin = 4 if setting.centred else 1
        plain = " ".join(words.split()).replace(LABEL_END, "")
        self.drawn.append(
            f"PU{self._units(setting.at_mm)};DI{cos:.4f},{sin:.4f};"
            f"SI{0.7 * height_cm:.3f},{height_cm:.3f};LO{origin};LB{plain}{LABEL_END};"
        )

    def _units(self, point: Floats) -> str:
        x, y = (point - self._origin).tolist()
        return f"{plotter_units(x)},{plotter_units(y)}"
