"""What is drawn on a piece that words keep clear of: lines, notches and holes, labels are asked."""

from __future__ import annotations

from collections.abc import Sequence

from shapely import LineString, union_all
from shapely import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry

from wedgework.drawing.marks import draw_marks
from wedgework.drawing.pen import Ink, Setting
from wedgework.geometry.curve import Curve, Point
from wedgework.geometry.flatten import flattened
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.levels import shown_lines


class _Gathering:
    """A pen that keeps only where something is drawn."""

    def __init__(self, chord_mm: float) -> None:
        self.found: list[BaseGeometry] = []
        self._chord_mm = chord_mm

    def begin(self, ink: Ink) -> None:
        """A group is nothing that is seen."""

    def end(self) -> None:
        """Nor is its end."""

    def stroke(self, curves: Sequence[Curve], ink: Ink, *, closed: bool = False) -> None:
        """Keep a line."""
        self.found += [LineString(flattened(curve, self._chord_mm)) for curve in curves]

    def fill(self, rings: Sequence[Sequence[Curve]], ink: Ink) -> None:
        """Keep the rim of an area."""
        for ring in rings:
            self.stroke(ring, ink, closed=True)

    def circle(self, centre: Point, radius_mm: float, ink: Ink) -> None:
        """Keep a hole."""
        self.found.append(ShapelyPoint(centre.tolist()).buffer(radius_mm))

    def text(self, words: str, setting: Setting, ink: Ink) -> None:
        """Words are asked where they are made."""


def marks_on(project: Project, piece: Piece, chord_mm: float) -> BaseGeometry:
    """Notches and holes of a piece, as they are drawn; chords miss curves by at most this."""
    pen = _Gathering(chord_mm)
    draw_marks(project, piece, pen)
    return union_all(pen.found)


def lines_on(piece: Piece, chord_mm: float) -> BaseGeometry:
    """The internal lines of a piece, as they are shown."""
    pen = _Gathering(chord_mm)
    for line in piece.lines:
        pen.stroke(list(shown_lines(piece, line)), Ink("internal"))
    return union_all(pen.found)


def rims_of(curves: Sequence[Curve], chord_mm: float) -> BaseGeometry:
    """Curves as lines of chords."""
    pen = _Gathering(chord_mm)
    pen.stroke(curves, Ink("seam"))
    return union_all(pen.found)
