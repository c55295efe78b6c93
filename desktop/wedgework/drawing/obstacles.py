"""What is drawn on a piece that words keep clear of: lines, notches and holes, labels are asked."""

from __future__ import annotations

from collections.abc import Sequence

from shapely import LineString, union_all
from shapely import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry

from wedgework.drawing.marks import draw_marks
from wedgework.drawing.recorder import Circled, Recorder, Stroked
from wedgework.geometry.curve import Curve
from wedgework.geometry.flatten import flattened
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.levels import shown_lines


def marks_on(project: Project, piece: Piece, chord_mm: float) -> BaseGeometry:
    """Notches and holes of a piece, as they are drawn; chords miss curves by at most this."""
    recorder = Recorder()
    draw_marks(project, piece, recorder)
    found: list[BaseGeometry] = []
    for one in recorder.drawn:
        match one:
            case Stroked(curves=curves):
                found.append(rims_of(curves, chord_mm))
            case Circled(centre=centre, radius_mm=radius_mm):
                found.append(ShapelyPoint(centre.tolist()).buffer(radius_mm))
            case _:
                pass
    return union_all(found)


def lines_on(piece: Piece, chord_mm: float) -> BaseGeometry:
    """The internal lines of a piece, as they are shown."""
    shown = [one for line in piece.lines for one in shown_lines(piece, line)]
    return rims_of(shown, chord_mm)


def rims_of(curves: Sequence[Curve], chord_mm: float) -> BaseGeometry:
    """Curves as lines of chords."""
    return union_all([LineString(flattened(curve, chord_mm)) for curve in curves])
