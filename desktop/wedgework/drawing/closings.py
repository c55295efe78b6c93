"""Where a closing begins and ends, drawn: a small T on the edge at each end of both its sides."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from wedgework.drawing.pen import Ink, Pen
from wedgework.geometry.curve import Curve, line
from wedgework.geometry.length import points_at
from wedgework.geometry.turning import tangents_at
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.runs import WalkedRun, walked

STEM_MM: Final = 8.0
BAR_MM: Final = 5.0
"""Stem into the piece, and the bar at its tip: longer than a notch, so that it is none."""


def draw_closings(project: Project, piece: Piece, pen: Pen) -> None:
    """Draw the ends of every closing that lies on an edge of the piece."""
    for curve in closing_marks(project, piece):
        pen.stroke([curve], Ink("internal", derived=True, said=(("kind", "closing"),)))


def closing_marks(project: Project, piece: Piece) -> Iterator[Curve]:
    """Stem and bar of each end, in mm."""
    for closing in project.closings.values():
        seam = project.seams[closing.seam]
        for run in (seam.a, seam.b):
            yield from _ends_of(walked(project, run), piece)


def _ends_of(run: WalkedRun, piece: Piece) -> Iterator[Curve]:
    for station_mm, stretch in ((0.0, run.stretches[0]), (run.length_mm, run.stretches[-1])):
        if stretch.piece is piece:
            curve, at = stretch.edge.curve, [stretch.own_mm(station_mm)]
            foot, along = points_at(curve, at)[0], tangents_at(curve, at)[0]
            tip = foot + STEM_MM * np.array([-along[1], along[0]])
            yield line(foot, tip)
            yield line(tip - BAR_MM / 2 * along, tip + BAR_MM / 2 * along)
