"""How a piece is marked and made, on the table as on paper: dashes or slits, tapes, hems."""

from __future__ import annotations

from PySide6.QtGui import QPainterPath

from wedgework.drawing.closings import closing_marks
from wedgework.drawing.marks import draw_marks
from wedgework.drawing.openings import opening_marks
from wedgework.drawing.recorder import Recorder
from wedgework.drawing.words import shown_derived
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.mouths import mouths_of
from wedgework.window.table.art import add_curve


def notch_path(project: Project, piece: Piece) -> QPainterPath:
    """Every notch as it is marked on the sheet: a dash of a pen, or a slit, in mm."""
    recorder, path = Recorder(), QPainterPath()
    draw_marks(project, piece, recorder)
    for stroke in recorder.strokes("mark"):
        for curve in stroke.curves:
            add_curve(path, curve)
    return path


def closing_path(project: Project, piece: Piece) -> QPainterPath:
    """The ends of closings on a piece, in mm."""
    path = QPainterPath()
    for curve in closing_marks(project, piece):
        add_curve(path, curve)
    return path


def opening_path(project: Project, piece: Piece) -> QPainterPath:
    """Strokes along the edges of a piece that the body passes, in mm."""
    path = QPainterPath()
    for curve in opening_marks(project, piece):
        add_curve(path, curve)
    return path


def mouth_path(project: Project, piece: Piece) -> QPainterPath:
    """Where the mouths of its folded darts are cut, in mm."""
    path = QPainterPath()
    for curve in mouths_of(project, piece):
        add_curve(path, curve)
    return path


def making_path(project: Project, piece: Piece) -> QPainterPath:
    """Lines that joins and finishes make on a piece: placements, tapes, bindings, hems, in mm."""
    path = QPainterPath()
    for line in shown_derived(project, piece):
        add_curve(path, line.curve)
    return path
