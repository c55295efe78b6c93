"""Words that every piece carries without anybody writing them: name, how many, seams, levels."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain
from typing import Final, TypeAlias

import numpy as np
import shapely
from shapely import LineString, Polygon, box, make_valid, maximum_inscribed_circle, union_all
from shapely import Point as ShapelyPoint
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry

from wedgework.drawing.obstacles import lines_on, marks_on, rims_of
from wedgework.drawing.pen import Ink, Pen, Setting
from wedgework.drawing.signs import arrow_up
from wedgework.geometry.curve import Curve, Floats, Point, Points
from wedgework.geometry.length import length_mm, parameters_at, points_at_parameters
from wedgework.geometry.regions import region
from wedgework.geometry.turning import tangents_at_parameters
from wedgework.pattern.closings import closing_of
from wedgework.pattern.cutlines import DerivedLine, derived_lines
from wedgework.pattern.document import Edge, Line, Piece, Project, Seam
from wedgework.pattern.ends import is_of_one_outline
from wedgework.pattern.layers import lap_of_mm
from wedgework.pattern.lookup import seams_of

CHORD_MM: Final = 0.5
"""Room for a name is looked for among chords this near to the outline."""

NAME_MM: Final = 9.0
SMALL_MM: Final = 3.5
LEAST_MM: Final = 2.0
"""Type of a name, of all other words, and below which nothing is written."""

INSIDE_MM: Final = 9.5
"""Words of an edge stand this far inside it, clear of the notches."""

ARROW_MM: Final = 10.0
"""Length of the arrow to the top of a piece."""

ARROW_ROOM_RATIO: Final = 0.95
"""Words and arrow together stay within this share of the room about the middle."""

SHARES: Final = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
"""Where along an edge its words may stand, the middle first."""

ROW_MM: Final = 5.5
"""So much further inside its words stand where beside the edge they would lie on something."""

LINE_SHARES: Final = (0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8)
"""Where along a line its name may stand, near its start first."""

CLEAR_MM: Final = 1.0
"""Lines, notches and holes keep this far from a name."""

LEAST_ROOM_MM: Final = 12.0
"""A circle of this radius beside all lines is room enough for a name that can be read."""

ENOUGH_RATIO: Final = 0.8
"""The middle of a piece will do for its name where it has this share of the widest room."""

WIDTH_RATIO: Final = 0.56
"""Mean width of a letter as a share of the type's size, measured on our own font's letters."""


Words: TypeAlias = tuple[str, Setting]


def draw_words(project: Project, piece: Piece, pen: Pen) -> None:
    """Write name and number in the widest room of the piece, and along its edges their seams."""
    small = list(_small_words(project, piece))
    rows, below = _title(project, piece, small)
    for words, setting in [*rows, *small]:
        pen.text(words, setting, Ink("label", derived=True))
    if below is not None:
        _draw_top(below, pen)


def _draw_top(below: Point, pen: Pen) -> None:
    """The arrow towards the top of the piece, as it is drawn, with its word beside it."""
    foot = below - np.array([0.0, ARROW_MM])
    for curve in arrow_up(foot, ARROW_MM):
        pen.stroke([curve], Ink("label", derived=True))
    at = foot + np.array([2.0, 0.3 * ARROW_MM])
    pen.text("top", Setting(at, SMALL_MM), Ink("label", derived=True))


def count_words(piece: Piece) -> str:
    """How often the piece is cut, in words."""
    count = piece.quantity
    if piece.cutting == "pair":
        return "cut 1 pair" if count == 1 else f"cut {count} pairs"
    return f"cut {count} on the fold" if piece.cutting == "fold" else f"cut {count}"


def side_words(piece: Piece) -> str:
    """Which way up the pieces are laid on the sheet, in words: what is drawn is seen from above."""
    return "one this side up, one over" if piece.cutting == "pair" else "this side up"


def edge_words(project: Project, piece: Piece, edge: Edge) -> str:
    """Names of the seams that an edge is in, which side of them it is, and how they are made.

    Of an edge in no seam, what becomes of it where that is said: fold, or turned hem.
    """
    if edge.id == piece.fold_edge:
        return "fold"
    seams = seams_of(project, edge.id)
    if not seams and edge.finish == "hem" and edge.allowance_mm > 0.0:
        return f"hem, turned {edge.allowance_mm:g}"
    words = (_seam_words(project, seam, edge) for seam in seams if not seam.is_dart)
    return ", ".join(filter(None, words))


def _seam_words(project: Project, seam: Seam, edge: Edge) -> str:
    """A seam's name, and how it is made or what closes it, as far as that concerns this edge."""
    closing = closing_of(project, seam.id)
    made = _made_words(seam, edge)
    if closing is not None:
        # An edge that opens has no tape behind it, and what lies over the other is not glued.
        closed = closing.kind.replace("_", " ")
        made = closed if seam.join == "butted" else f"{closed}, {made}"
    return f"{seam.name} ({made})".strip() if made else seam.name


def _made_words(seam: Seam, edge: Edge) -> str:
    match seam.join:
        case "lapped" if is_of_one_outline(seam):
            return f"lap {seam.lap_mm:g}"
        case "lapped" if lap_of_mm(seam, edge.id) > 0.0:
            return f"under, lap {seam.lap_mm:g}"
        case "lapped":
            return "over"
        case "butted":
            return f"tape {seam.tape_mm:g}"
        case "bound":
            return f"binding {seam.binding_mm:g}"
    return ""


def _title(
    project: Project, piece: Piece, small: Iterable[Words]
) -> tuple[list[Words], Point | None]:
    """Name, number and side up where the piece has most room beside its other words.

    With them the place, (2,) mm, below which the arrow to its top has room, if it has.
    """
    free = _free(piece, chain(_labels(piece), small))
    made = rims_of([one.curve for one in shown_derived(project, piece)], CHORD_MM)
    drawn = union_all([marks_on(project, piece, CHORD_MM), lines_on(piece, CHORD_MM), made])
    room = _room(free.difference(drawn.buffer(CLEAR_MM)))
    if room is None or room[1] < LEAST_ROOM_MM:
        # Rather over a line than too small to be read.
        room = _room(free)
    if room is None:
        return [], None
    centre, radius_mm, width_mm = room
    name = " ".join((piece.name or piece.id).split())
    name_mm = _fitting(name, radius_mm, width_mm, NAME_MM)
    small_mm = min(name_mm, SMALL_MM + 1)
    at = centre + np.array([0.0, 0.1 * name_mm])
    rows: list[Words] = []
    said = (name, name_mm), (count_words(piece), small_mm), (side_words(piece), SMALL_MM)
    for words, most_mm in said:
        height_mm = _fitting(words, radius_mm, width_mm, most_mm)
        if height_mm >= LEAST_MM:
            rows.append((words, Setting(at, height_mm, centred=True)))
            at = at - np.array([0.0, 1.5 * small_mm])
    has_room = centre[1] - at[1] + ARROW_MM < ARROW_ROOM_RATIO * radius_mm
    return rows, at + np.array([0.0, 0.5 * small_mm]) if has_room else None


def _fitting(words: str, radius_mm: float, width_mm: float, largest_mm: float) -> float:
    """Size of type at which a line of text fits into the room."""
    wide_mm = 0.9 * width_mm / (WIDTH_RATIO * max(len(words), 1))
    return min(largest_mm, radius_mm / 2, wide_mm)


def _room(free: BaseGeometry) -> tuple[Point, float, float] | None:
    """Where a free area is widest, None where there is none.

    Centre, (2,) mm, of a circle with room, its radius in mm, and the width there across the page.
    """
    if free.area <= 0.0:
        return None
    widest = maximum_inscribed_circle(free, tolerance=CHORD_MM)
    centre, radius_mm = shapely.get_point(widest, 0), float(widest.length)
    # A strip is as wide all along, and its middle is where one looks for the name.
    middle = free.centroid
    if free.contains(middle) and free.boundary.distance(middle) >= ENOUGH_RATIO * radius_mm:
        centre, radius_mm = middle, float(free.boundary.distance(middle))
    return np.array([centre.x, centre.y]), radius_mm, _width(free, centre)


def _free(piece: Piece, written: Iterable[Words]) -> BaseGeometry:
    """The piece less its cut-outs and what is written on it."""
    holes = [[edge.curve for edge in cutout.edges] for cutout in piece.cutouts]
    free: BaseGeometry = make_valid(region([edge.curve for edge in piece.edges], CHORD_MM, holes))
    return free.difference(union_all([_box_of(*words) for words in written]))


def _width(free: BaseGeometry, centre: ShapelyPoint) -> float:
    """Width in mm across the page that is free on both sides of a point."""
    left, _, right, _ = free.bounds
    across = LineString([(left - 1, centre.y), (right + 1, centre.y)])
    spans = [part.bounds for part in shapely.get_parts(free.intersection(across))]
    reach = [min(centre.x - low, high - centre.x) for low, _, high, _ in spans]
    return 2 * max(reach, default=0.0)


def _box_of(words: str, setting: Setting) -> Polygon:
    x, y = setting.at_mm.tolist()
    height_mm = setting.height_mm
    width_mm = WIDTH_RATIO * height_mm * len(words)
    left = x - width_mm / 2 if setting.centred else x
    upright = box(left, y - 0.3 * height_mm, left + width_mm, y + height_mm)
    return rotate(upright, setting.angle_rad, origin=(x, y), use_radians=True)


def _labels(piece: Piece) -> Iterator[Words]:
    """What the maker has written, as words that others keep clear of."""
    for label in piece.labels:
        yield label.text, Setting(label.at_mm, label.height_mm, label.angle_rad)


def _small_words(project: Project, piece: Piece) -> Iterator[Words]:
    """Names of lines, and words on the inside of each edge that is long enough for them.

    Each keeps clear of what is drawn, and of the words before it, as far as there is a place.
    """
    rims = rims_of([edge.curve for edge in piece.all_edges()], CHORD_MM)
    made = rims_of([one.curve for one in shown_derived(project, piece)], CHORD_MM)
    marks, lines = marks_on(project, piece, CHORD_MM).buffer(CLEAR_MM), lines_on(piece, CHORD_MM)
    taken = union_all([rims, made, marks, *(_box_of(*words) for words in _labels(piece))])
    for line in piece.lines:
        if named := _first_clear(list(_line_words(line)), taken):
            taken = union_all([taken, _box_of(*named)])
            yield named
    taken = union_all([taken, lines])
    for edge in piece.edges:
        if beside := _first_clear(list(_words_beside(project, piece, edge)), taken):
            taken = union_all([taken, _box_of(*beside)])
            yield beside


def _first_clear(placed: Sequence[Words], taken: BaseGeometry) -> Words | None:
    """The first of some places that lies on nothing, else the first; None where there is none."""
    clear = (one for one in placed if not _box_of(*one).intersects(taken))
    return next(clear, next(iter(placed), None))


def _words_beside(project: Project, piece: Piece, edge: Edge) -> Iterator[Words]:
    """Places for the words of an edge, the best first; none where it has none or no room."""
    words, whole_mm = edge_words(project, piece, edge), length_mm(edge.curve)
    if not words or WIDTH_RATIO * SMALL_MM * len(words) >= 0.9 * whole_mm:
        return
    own = (one for one in shown_derived(project, piece) if one.edge == edge.id)
    inside_mm = max([INSIDE_MM, *(one.inside_mm + SMALL_MM for one in own)])
    at, along = _poses(edge.curve, [share * whole_mm for share in SHARES])
    inward = np.stack([-along[:, 1], along[:, 0]], axis=1)
    for deeper_mm in (0.0, ROW_MM):
        for middle, way in zip(at + (inside_mm + deeper_mm) * inward, along, strict=True):
            yield words, _upright(middle, way)


def _poses(curve: Curve, stations_mm: Sequence[float]) -> tuple[Points, Points]:
    """Points and unit tangents, (k, 2) each, at stations in mm: found once for all of them."""
    parameters = parameters_at(curve, stations_mm)
    return points_at_parameters(curve, parameters), tangents_at_parameters(curve, parameters)


def shown_derived(project: Project, piece: Piece) -> list[DerivedLine]:
    """Lines that seams and finishes make on a piece, but for those that are the seam line."""
    own = {edge.id: edge.curve for edge in piece.all_edges()}
    return [one for one in derived_lines(project, piece) if one.curve is not own[one.edge]]


def _line_words(line: Line) -> Iterator[Words]:
    """Places for the name of a line, above it; none where it has none or no room."""
    whole_mm = length_mm(line.curve)
    width_mm = WIDTH_RATIO * SMALL_MM * len(line.name)
    if not line.name or width_mm >= 0.9 * whole_mm:
        return
    # Near its start: clear of a name in the middle, and of the edge that it starts from.
    low_mm, high_mm = 0.6 * width_mm, whole_mm - 0.6 * width_mm
    stations = [min(max(share * whole_mm, low_mm), high_mm) for share in LINE_SHARES]
    for at, along in zip(*_poses(line.curve, stations), strict=True):
        above = np.array([-along[1], along[0]]) * (1.0 if along[0] >= 0 else -1.0)
        yield line.name, _upright(at + 0.7 * SMALL_MM * above, along)


def _upright(middle: Point, along: Floats) -> Setting:
    """Small words about a point along a direction, (2,), never upside down."""
    if along[0] < 0 or (along[0] == 0 and along[1] < 0):
        along = -along
    # The baseline lies below the middle of small letters by a quarter of the type's size.
    at = middle - 0.25 * SMALL_MM * np.array([-along[1], along[0]])
    return Setting(at, SMALL_MM, math.atan2(along[1], along[0]), centred=True)
