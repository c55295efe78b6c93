"""Words that every piece carries without anybody writing them: name, how many, seams, levels."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import shapely
from shapely import LineString, Polygon, box, make_valid, maximum_inscribed_circle
from shapely import Point as ShapelyPoint
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry

from wedgework.drawing.pen import Ink, Pen, Setting
from wedgework.geometry.curve import Floats, Point
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.regions import region
from wedgework.geometry.turning import tangents_at
from wedgework.pattern.document import Edge, Label, Line, Piece, Project, Seam
from wedgework.pattern.lookup import seams_of

CHORD_MM: Final = 0.5
"""Room for a name is looked for among chords this near to the outline."""

NAME_MM: Final = 9.0
SMALL_MM: Final = 3.5
LEAST_MM: Final = 2.0
"""Type of a name, of all other words, and below which nothing is written."""

INSIDE_MM: Final = 8.0
"""Words of an edge stand this far inside it, clear of the notches."""

ENOUGH_RATIO: Final = 0.8
"""The middle of a piece will do for its name where it has this share of the widest room."""

WIDTH_RATIO: Final = 0.56
"""Mean width of a letter as a share of the type's size, measured on our own font's letters."""


def draw_words(project: Project, piece: Piece, pen: Pen) -> None:
    """Write name and number in the widest room of the piece, and along its edges their seams."""
    _draw_title(piece, pen)
    for edge in piece.edges:
        _draw_along(edge, edge_words(project, piece, edge), pen)
    for line in piece.lines:
        _draw_line_name(line, pen)


def count_words(piece: Piece) -> str:
    """How often the piece is cut, in words."""
    count = piece.quantity
    if piece.cutting == "pair":
        return "cut 1 pair" if count == 1 else f"cut {count} pairs"
    return f"cut {count} on the fold" if piece.cutting == "fold" else f"cut {count}"


def edge_words(project: Project, piece: Piece, edge: Edge) -> str:
    """Names of the seams that an edge is in, or that it is the fold."""
    if edge.id == piece.fold_edge:
        return "fold"
    words = (_seam_words(seam) for seam in seams_of(project, edge.id) if not seam.is_dart)
    return ", ".join(filter(None, words))


def _seam_words(seam: Seam) -> str:
    return seam.name


def _draw_title(piece: Piece, pen: Pen) -> None:
    room = _room(piece)
    if room is None:
        return
    centre, radius_mm, width_mm = room
    name, count = " ".join((piece.name or piece.id).split()), count_words(piece)
    name_mm = _fitting(name, radius_mm, width_mm, NAME_MM)
    count_mm = _fitting(count, radius_mm, width_mm, min(name_mm, SMALL_MM + 1))
    at = centre + np.array([0.0, 0.1 * name_mm])
    for words, height_mm in ((name, name_mm), (count, count_mm)):
        if height_mm >= LEAST_MM:
            _write(words, Setting(at, height_mm, centred=True), pen)
        at = at - np.array([0.0, 1.5 * count_mm])


def _fitting(words: str, radius_mm: float, width_mm: float, largest_mm: float) -> float:
    """Size of type at which a line of text fits into the room."""
    wide_mm = 0.9 * width_mm / (WIDTH_RATIO * max(len(words), 1))
    return min(largest_mm, radius_mm / 2, wide_mm)


def _room(piece: Piece) -> tuple[Point, float, float] | None:
    """Where a piece is widest and free of words and holes, None where it has no room at all.

    Centre, (2,) mm, of a circle with room, its radius in mm, and the width there across the page.
    """
    free = _free(piece)
    if free.area <= 0.0:
        return None
    widest = maximum_inscribed_circle(free, tolerance=CHORD_MM)
    centre, radius_mm = shapely.get_point(widest, 0), float(widest.length)
    # A strip is as wide all along, and its middle is where one looks for the name.
    middle = free.centroid
    if free.contains(middle) and free.boundary.distance(middle) >= ENOUGH_RATIO * radius_mm:
        centre, radius_mm = middle, float(free.boundary.distance(middle))
    return np.array([centre.x, centre.y]), radius_mm, _width(free, centre)


def _free(piece: Piece) -> BaseGeometry:
    holes = [[edge.curve for edge in cutout.edges] for cutout in piece.cutouts]
    free: BaseGeometry = make_valid(region([edge.curve for edge in piece.edges], CHORD_MM, holes))
    for label in piece.labels:
        free = free.difference(_label_box(label))
    return free


def _width(free: BaseGeometry, centre: ShapelyPoint) -> float:
    """Width in mm across the page that is free on both sides of a point."""
    left, _, right, _ = free.bounds
    across = LineString([(left - 1, centre.y), (right + 1, centre.y)])
    spans = [part.bounds for part in shapely.get_parts(free.intersection(across))]
    reach = [min(centre.x - low, high - centre.x) for low, _, high, _ in spans]
    return 2 * max(reach, default=0.0)


def _label_box(label: Label) -> Polygon:
    x, y = label.at_mm.tolist()
    height_mm = label.height_mm
    width_mm = WIDTH_RATIO * height_mm * len(label.text)
    upright = box(x, y - 0.3 * height_mm, x + width_mm, y + height_mm)
    return rotate(upright, label.angle_rad, origin=(x, y), use_radians=True)


def _draw_along(edge: Edge, words: str, pen: Pen) -> None:
    """Words on the inside of an edge, about its middle, if it is long enough for them."""
    whole_mm = length_mm(edge.curve)
    if words and WIDTH_RATIO * SMALL_MM * len(words) < 0.9 * whole_mm:
        middle = whole_mm / 2
        along = tangents_at(edge.curve, [middle])[0]
        inward = np.array([-along[1], along[0]])
        place = point_at(edge.curve, middle) + INSIDE_MM * inward
        _write(words, _upright(place, along), pen)


def _upright(middle: Point, along: Floats) -> Setting:
    """Small words about a point along a direction, (2,), never upside down."""
    if along[0] < 0 or (along[0] == 0 and along[1] < 0):
        along = -along
    # The baseline lies below the middle of small letters by a quarter of the type's size.
    at = middle - 0.25 * SMALL_MM * np.array([-along[1], along[0]])
    return Setting(at, SMALL_MM, math.atan2(along[1], along[0]), centred=True)


def _draw_line_name(line: Line, pen: Pen) -> None:
    width_mm = WIDTH_RATIO * SMALL_MM * len(line.name)
    whole_mm = length_mm(line.curve)
    if line.name and width_mm < 0.9 * whole_mm:
        # A fifth along: clear of a name in the middle and of the edge that the line starts from.
        at_mm = min(max(0.2 * whole_mm, 0.6 * width_mm), whole_mm / 2)
        along = tangents_at(line.curve, [at_mm])[0]
        left = np.array([-along[1], along[0]]) * (1.0 if along[0] >= 0 else -1.0)
        place = point_at(line.curve, at_mm) + 0.7 * SMALL_MM * left
        _write(line.name, _upright(place, along), pen)


def _write(words: str, setting: Setting, pen: Pen) -> None:
    pen.text(words, setting, Ink("label", derived=True))
