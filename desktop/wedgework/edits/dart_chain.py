"""Take darts of different apexes into one seam: it runs from the first through all apexes.

Where the seam ends in a dart, that dart's legs are its sides. Each dart between is closed, its legs
laid together, once the cut has reached its apex: one side of the seam then turns there by its
angle. Only rigid parts move, so the sum of all angles and shaping is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from wedgework.edits.base import Place, PointMm
from wedgework.edits.cut import Through, cut_through
from wedgework.edits.darts import DartInRing, dart_in_ring
from wedgework.edits.panels_unite import UnitePanels
from wedgework.edits.places import Naming
from wedgework.geometry.curve import Curve, Point, polyline, with_ends
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.changes import with_piece_replaced, with_pieces, with_seams
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.document import Piece, Project, Run
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import piece_of, the_seam


@dataclass(frozen=True, eq=False, slots=True)
class Chain:
    """A project whose pieces are cut through a row of apexes, and the sides of that cut."""

    project: Project
    left: Run
    right: Run


def chained(project: Project, names: Sequence[str], via_mm: Sequence[PointMm]) -> Chain:
    """The project cut from the apex of the first dart to that of the last, the others closed.

    The cut passes the other apexes, and `via_mm`, in the order in which they lie between the two;
    without such points in the order in which they are named, where that first one is barred. It is
    smooth where that has room, else straight from point to point. EditRefused where it would leave
    the piece all the same, or a dart between has legs that do not close.
    """
    first, *middle, last = (dart_in_ring(project, own) for own in names)
    for one in middle:
        _refuse_uneven(project, one)
    refusals: list[EditRefused] = []
    for order in _orders(first, middle, last, is_free=not via_mm):
        for draw in (smooth_through, polyline):
            try:
                return _cut_along(project, order, _ways(order, via_mm, draw))
            except EditRefused as refusal:
                refusals.append(refusal)
    raise refusals[0]


def _orders(
    first: DartInRing, middle: Sequence[DartInRing], last: DartInRing, *, is_free: bool
) -> list[list[DartInRing]]:
    """The darts as the seam may pass them: as they lie between the ends, and as they are named."""
    lying = sorted(middle, key=lambda one: _along(first, last, one.apex))
    rows = [lying, list(middle)] if is_free and lying != list(middle) else [lying]
    return [[first, *row, last] for row in rows]


def _cut_along(project: Project, darts: Sequence[DartInRing], ways: Sequence[Curve]) -> Chain:
    """The project cut along ways from apex to apex, all darts but the first and last closed."""
    cuts: list[str] = []
    for reached, way in zip(darts[1:], ways, strict=True):
        project, own = _cut_to(project, reached.dart.id, way)
        cuts.append(own)
    for one in darts[1:-1]:
        project = _closed(project, one.dart.id)
    rows = [the_seam(project, own) for own in cuts]
    left = tuple(ref for row in rows for ref in row.a)
    right = tuple(ref for row in rows for ref in row.b)
    bare = with_seams(project, removed=cuts)
    return Chain(_as_two_parts(bare, darts[0].piece, (left, right)), left, right)


def _as_two_parts(project: Project, whole: Piece, sides: tuple[Run, Run]) -> Project:
    """The project with the panels left and right of the cut named as of one single cut."""
    naming = Naming(project)
    now = [piece_of(project, run[0].edge) for run in sides]
    alone = with_pieces(project, removed=[now[1].id])
    given = [one.id for one in now]
    parts = []
    for number, one in enumerate(now, 1):
        own = f"{whole.id}.{number}"
        own = own if own in given else naming.fresh(own)
        parts.append(replace(one, id=own, name=f"{whole.name or whole.id} {number}"))
    return with_piece_replaced(alone, now[0].id, *parts)


def _refuse_uneven(project: Project, one: DartInRing) -> None:
    found = measure_dart(project, one.dart)
    if abs(found.leg_a_mm - found.leg_b_mm) > SAME_STATION_MM:
        raise EditRefused(
            f"The legs of “{one.dart.name or one.dart.id}” are {found.leg_a_mm:.2f} and "
            f"{found.leg_b_mm:.2f} mm long, so it does not close into the seam; make them even "
            "first.",
            culprit=one.dart.id,
        )


def _along(first: DartInRing, last: DartInRing, point: Point) -> float:
    return float((point - first.apex) @ (last.apex - first.apex))


def _ways(
    darts: Sequence[DartInRing], via_mm: Sequence[PointMm], draw: Callable[[list[Point]], Curve]
) -> list[Curve]:
    """The line that `draw` makes through all apexes and points, cut apart at the apexes."""
    first, last = darts[0], darts[-1]
    apexes = [one.apex for one in darts]
    rows = apexes
    if via_mm:
        inner = [*(np.array(point) for point in via_mm), *apexes[1:-1]]
        rows = [apexes[0], *sorted(inner, key=lambda one: _along(first, last, one)), apexes[-1]]
    steps = np.hypot(*np.diff(np.array(rows), axis=0).T)
    if (steps <= SAME_STATION_MM).any():
        raise EditRefused("The points that the line passes must differ.", culprit=first.piece.id)
    whole = polyline(rows) if len(rows) == 2 else draw(rows)
    at = [next(i for i, one in enumerate(rows) if one is apex) for apex in apexes]
    return [
        with_ends(Curve(whole.segments[low:high]), rows[low], rows[high])
        for low, high in pairwise(at)
    ]


def _cut_to(project: Project, own: str, way: Curve) -> tuple[Project, str]:
    """The project cut along a way that ends in the apex of a dart, and the id of the flat seam."""
    reached = dart_in_ring(project, own)
    piece = reached.piece
    through = Through(_corner_at(piece, way.start, own), Place(reached.back[0].id, 0.0), way)
    after = cut_through(project, piece, through)
    return after, next(key for key in after.seams if key not in project.seams)


def _corner_at(piece: Piece, point: Point, own: str) -> Place:
    """The corner of an outline at a point; EditRefused where the piece does not come there."""
    for edge in piece.edges:
        if np.hypot(*(edge.curve.start - point)) <= SAME_STATION_MM:
            return Place(edge.id, 0.0)
    raise EditRefused(
        "No line leads through the points of these darts in turn: the mouth of one lies between. "
        "Begin and end with the two whose mouths are farthest from each other.",
        culprit=own,
    )


def _closed(project: Project, own: str) -> Project:
    """The project with the legs of a dart, now in two panels, laid together; the greater stays."""
    seam = the_seam(project, own)
    sides = [piece_of(project, run[0].edge) for run in (seam.a, seam.b)]
    if _stays_second(*sides):
        seam = replace(seam, a=seam.b, b=seam.a)
        project = with_seams(project, seam)
    return UnitePanels(seam=own).change(project)


def _stays_second(one: Piece, other: Piece) -> bool:
    if (one.fold_edge is None) != (other.fold_edge is None):
        return other.fold_edge is not None
    areas = [ring_area_mm2([edge.curve for edge in piece.edges]) for piece in (one, other)]
    return areas[1] > areas[0]
