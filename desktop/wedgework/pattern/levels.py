"""Levels: how wide a piece is at a body height, and the flat girth of the made-up garment there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from wedgework.geometry.curve import Curve, Floats, Point, is_straight
from wedgework.geometry.curve import line as straight_curve
from wedgework.geometry.length import length_mm
from wedgework.geometry.memo import memoised
from wedgework.geometry.regions import inside_spans
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.body import base_of, measured
from wedgework.pattern.document import Level, LevelId, Line, Piece, Project, Ring
from wedgework.pattern.instances import halves_of
from wedgework.pattern.limbs import LIMB_MEASURES
from wedgework.pattern.reductions import reduction_of

FITS_MM: Final = 5.0
"""A girth may miss the body's, reduced, by so much before one looks again; common practice, no
source."""


def flat_girth_mm(project: Project, level: LevelId) -> float:
    """Sum of the widths at a level over all instances of all pieces, in mm; no quantity counted."""
    return sum(
        len(halves_of(piece)) * level_width_mm(piece, level) for piece in project.pieces.values()
    )


@dataclass(frozen=True, eq=False, slots=True)
class Span:
    """A stretch of a level inside a piece: its ends, (2,) mm, and its length along the level."""

    start: Point
    end: Point
    length_mm: float


def level_width_mm(piece: Piece, level: LevelId) -> float:
    """Width of one piece as drawn at a level, in mm, 0 where the level does not cross it."""
    return sum(span.length_mm for span in level_spans(piece, level))


def level_spans(piece: Piece, level: LevelId) -> tuple[Span, ...]:
    """The stretches of a level inside one piece as drawn, each once.

    A level's line is drawn when it is set and the outline changes afterwards, so a stretch is
    that of the outline along the line, lengthened or shortened to where it meets the edge.
    """
    spans: list[Floats] = []
    curved: list[Span] = []
    for line in level_lines(piece, level):
        for span in _spans_of(piece, line):
            if not any(_same(span, known) for known in spans):
                spans.append(span)
        if not _straight(line):
            curved.append(Span(line.curve.start, line.curve.end, length_mm(line.curve)))
    straight = (Span(start, end, float(np.hypot(*(end - start)))) for start, end in spans)
    return (*straight, *curved)


def _same(one: Floats, other: Floats) -> bool:
    """Whether two stretches are one: an unfolded half draws a line again, the other way round."""
    return any(np.abs(one - way).max() < SAME_STATION_MM for way in (other, other[::-1]))


def level_lines(piece: Piece, level: LevelId) -> tuple[Line, ...]:
    """Lines that a level has in a piece."""
    return tuple(line for line in piece.lines if line.level == level)


def shown_lines(piece: Piece, line: Line) -> tuple[Curve, ...]:
    """A line of a piece as it is drawn: a level's where it lies inside the outline as it is now."""
    if line.level is None or not _straight(line):
        return (line.curve,)
    return tuple(straight_curve(start, end) for start, end in _spans_of(piece, line))


def body_girth_mm(project: Project, level: Level) -> float | None:
    """What the body measures at a level, in mm, None where it is not known."""
    return None if level.measure is None else measured(project.body, level.measure)


def cut_girth_mm(project: Project, level: Level, reduction: float | None = None) -> float | None:
    """What the garment should measure flat at a level, in mm: the body's girth, reduced.

    By the project's reduction for the place, unless one is said. A level round both limbs asks for
    twice the girth of one. None where the body's girth is not known.
    """
    body = body_girth_mm(project, level)
    if body is None:
        return None
    is_limb = level.measure is not None and base_of(level.measure)[0] in LIMB_MEASURES
    if reduction is None:
        girth = reduction_of(project, "girth")
        reduction = reduction_of(project, "limb") if is_limb else girth
    cut = body * (1.0 - reduction)
    both = is_limb and flat_girth_mm(project, level.id) > 1.5 * cut
    return 2.0 * cut if both else cut


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelFit:
    """The garment against the body at one level: girths in mm, `body_mm` unreduced."""

    level: LevelId
    flat_mm: float
    cut_mm: float
    body_mm: float

    @property
    def difference_mm(self) -> float:
        """How much more the garment measures than it should; below nothing it is too small."""
        return self.flat_mm - self.cut_mm

    @property
    def stretch(self) -> float:
        """By which share of its width the sheet stretches here when worn; below 0 it hangs free."""
        return self.body_mm / self.flat_mm - 1.0

    @property
    def fits(self) -> bool:
        """Whether it is within FITS_MM of what it should be."""
        return abs(self.difference_mm) <= FITS_MM


def level_fit(project: Project, level: Level) -> LevelFit | None:
    """How the garment fits at a level; None where it has none there or the body is not known."""
    cut, flat = cut_girth_mm(project, level), flat_girth_mm(project, level.id)
    body = body_girth_mm(project, level)
    if cut is None or body is None or flat <= 0.0:
        return None
    limbs = 2.0 if cut > 1.5 * body else 1.0
    return LevelFit(level=level.id, flat_mm=flat, cut_mm=cut, body_mm=limbs * body)


def _straight(line: Line) -> bool:
    return is_straight(line.curve, SAME_STATION_MM)


@memoised
def _spans_of(piece: Piece, line: Line) -> tuple[Floats, ...]:
    """Stretches, each (2, 2) mm, of the straight line inside the piece that touch what is drawn."""
    if not _straight(line):
        return ()
    start, end = line.curve.start, line.curve.end
    along = (end - start) / np.hypot(*(end - start))
    reach = float(np.hypot(*(end - start)))
    holes = [_curves(cutout.edges) for cutout in piece.cutouts]
    spans = inside_spans(start, end, _curves(piece.edges), holes, endless=True)
    touched = spans[(spans[:, 1] > 0) & (spans[:, 0] < reach)]
    low, high = -_room_mm(piece, line, start, -along), reach + _room_mm(piece, line, end, along)
    held = np.clip(touched, low, high)
    return tuple(start + np.outer(span, along) for span in held[held[:, 1] > held[:, 0]])


def _room_mm(piece: Piece, line: Line, end: Point, onward: Point) -> float:
    """How far a level's line may be lengthened at an end before the next line of the level has it.

    A slash, or a half unfolded about a tilted fold, leaves a level in several lines at angles; each
    goes half of the way to the next, so that none of the width counts twice.
    """
    ways = [
        float((point - end) @ onward)
        for other in level_lines(piece, line.level or "")
        if other is not line and not _covers(other, line)
        for point in (other.curve.start, other.curve.end)
    ]
    return min((max(way, 0.0) / 2 for way in ways if way > -SAME_STATION_MM), default=np.inf)


def _covers(one: Line, other: Line) -> bool:
    """Whether two lines are one, drawn twice."""
    ends, others = (np.array([own.curve.start, own.curve.end]) for own in (one, other))
    return _same(ends, others)


def _curves(ring: Ring) -> list[Curve]:
    return [edge.curve for edge in ring]
