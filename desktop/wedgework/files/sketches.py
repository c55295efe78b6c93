"""Each piece as it will be on paper: what is drawn of it, and where that needs paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from shapely import LineString, Polygon, make_valid
from shapely.geometry.base import BaseGeometry

from wedgework.drawing.adapters import MovedPen
from wedgework.drawing.pieces import draw_piece
from wedgework.drawing.recorder import Recorder, Stroked
from wedgework.geometry.curve import Floats
from wedgework.geometry.flatten import flattened
from wedgework.geometry.motion import Affine
from wedgework.pattern.document import Project

SHAPE_ERROR_MM: Final = 0.2
"""Which pages a piece lies on is asked of chords this near to it."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Sketch:
    """A drawn piece. `shapes` are its area and what stands out of it; `bounds_mm` is (4,)."""

    name: str
    drawing: Recorder
    bounds_mm: Floats
    shapes: tuple[BaseGeometry, ...]

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height."""
        width, height = (self.bounds_mm[2:] - self.bounds_mm[:2]).tolist()
        return width, height


def sketches_of(project: Project, *, words: bool = True) -> list[Sketch]:
    """All pieces of a project, in its order."""
    found = []
    for piece in project.pieces.values():
        drawing = Recorder()
        draw_piece(project, piece, drawing, words=words)
        found.append(_sketch(" ".join((piece.name or piece.id).split()), drawing))
    return found


def moved_sketch(sketch: Sketch, motion: Affine) -> Sketch:
    """The same piece elsewhere on the paper."""
    drawing = Recorder()
    sketch.drawing.replay(MovedPen(drawing, motion))
    return _sketch(sketch.name, drawing)


def bounds_of_sketches(sketches: list[Sketch]) -> Floats:
    """Bounds, (4,) mm, of all pieces together."""
    boxes = np.stack([sketch.bounds_mm for sketch in sketches])
    return np.concatenate([boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)])


def _sketch(name: str, drawing: Recorder) -> Sketch:
    bounds = drawing.bounds_mm()
    strokes = [one for one in drawing.drawn if isinstance(one, Stroked)]
    if bounds is None:
        raise ValueError("a piece has an outline")
    shapes = tuple(_shape(one) for one in strokes)
    return Sketch(name=name, drawing=drawing, bounds_mm=bounds, shapes=shapes)


def _shape(stroke: Stroked) -> BaseGeometry:
    points = np.concatenate([flattened(curve, SHAPE_ERROR_MM) for curve in stroke.curves])
    if not stroke.closed or len(points) < 4:
        return LineString(points if len(points) > 1 else np.repeat(points, 2, axis=0))
    # An outline may cross itself while it is being worked on; it is printed all the same.
    return make_valid(Polygon(points))
