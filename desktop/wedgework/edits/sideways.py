"""Move edges of pieces sideways, by a distance that changes along them, and close the outline.

Where a moved edge meets one that stays, their corner slides along the one that stays, which is cut
off there or goes on straight; two moved edges are lengthened or shortened until they meet.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Final

import numpy as np

from wedgework.edits.carry import Fate, Stretch, cubic_stations, with_marks_carried
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.curve import Curve, Floats, Point, with_ends
from wedgework.geometry.displaced import Displaced
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.length import length_mm
from wedgework.geometry.piecewise import Piecewise
from wedgework.geometry.regions import region
from wedgework.geometry.tolerances import (
    KINK_RAD,
    MEETING_ROUNDS,
    SAME_POINT_MM,
    SAME_STATION_MM,
    VISIBLE_CROSSING_MM,
)
from wedgework.geometry.turning import angle_between, end_tangent, joint_turnings_rad, start_tangent
from wedgework.pattern.changes import with_pieces, with_ring
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Ring
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import piece_of

ALL_BUT_IN_LINE_RAD: Final = math.radians(3.0)
"""Moved edges that meet so straight are drawn together at their joint instead of lengthened until
they cross, which would be far away; common practice, no source."""

BENT_RAD: Final = math.radians(45.0)
"""Where moved edges do not meet (short chords of a bend, say), they are drawn together still, if
they bend by no more than this; common practice, no source."""

NO_SLIDE_RAD: Final = math.radians(10.0)
"""An edge that leaves the moved one so straight gives its corner nothing to slide along."""

LEAST_LEFT: Final = 0.05
"""A curved edge must keep this share of its length everywhere, or it is about to fold."""


def with_edges_moved(project: Project, distances: Mapping[EdgeId, Piecewise]) -> Project:
    """The project with edges moved to their left (into the piece) by distances over their length.

    Raises EditRefused where an edge would fold, a corner finds no place, or an outline crosses
    itself. Marks on the edges and on the neighbours go along.
    """
    groups: defaultdict[str, set[EdgeId]] = defaultdict(set)
    for edge, distance in distances.items():
        if distance.rows[:, 2:].any():
            groups[piece_of(project, edge).id].add(edge)
    pieces: list[Piece] = []
    fates: dict[EdgeId, Fate] = {}
    for name, edges in groups.items():
        piece = project.pieces[name]
        for ring in _rings_of(piece, edges):
            moved = _MovedRing(piece, ring, distances)
            piece = with_ring(piece, ring[0].id, moved.edges())
            fates |= moved.fates
        refuse_unsound(project.pieces[name], piece)
        pieces.append(piece)
    return with_marks_carried(with_pieces(project, *pieces), fates) if pieces else project


def _rings_of(piece: Piece, edges: set[EdgeId]) -> Iterator[Ring]:
    for ring in (piece.edges, *(cutout.edges for cutout in piece.cutouts)):
        if any(edge.id in edges for edge in ring):
            yield ring


def refuse_unsound(before: Piece, after: Piece) -> None:
    """EditRefused where a piece has got an outline that crosses itself, a cut-out, or turned over.

    What was so before the edit is no reason to refuse it.
    """
    name = after.name or after.id
    outline = [edge.curve for edge in after.edges]
    if ring_area_mm2(outline) <= 0:
        raise EditRefused(f"Nothing would be left of piece “{name}”.", culprit=after.id)
    if crosses_itself(outline) and not crosses_itself([edge.curve for edge in before.edges]):
        raise EditRefused(
            f"The outline of piece “{name}” would cross itself: it is too narrow for that.",
            culprit=after.id,
        )
    if after.cutouts and _is_whole(before) and not _is_whole(after):
        raise EditRefused(
            f"The outline of piece “{name}” would run into its cut-out.", culprit=after.id
        )


def _is_whole(piece: Piece) -> bool:
    holes = [[edge.curve for edge in cutout.edges] for cutout in piece.cutouts]
    outline = [edge.curve for edge in piece.edges]
    return bool(region(outline, VISIBLE_CROSSING_MM, holes).is_valid)


@dataclass(eq=False, slots=True, kw_only=True)
class _Arc:
    """A smooth stretch of an edge: from where to where along itself it is kept, and its ends.

    `starts_mm` is where it starts along its edge. `first` and `last` are the new corners there,
    None where nothing changes.
    """

    edge: Edge
    starts_mm: float
    way: Displaced
    is_still: bool
    low: float = 0.0
    high: float = field(default=0.0)
    first: Point | None = None
    last: Point | None = None

    @property
    def is_changed(self) -> bool:
        return self.way.is_moved or self.first is not None or self.last is not None

    def drawn(self) -> tuple[Curve, Floats]:
        """The new curve and the old stations along the edge where its cubics meet."""
        if not self.is_changed:
            curve = self.way.curve
            return curve, np.array(cubic_stations(curve)) + self.starts_mm
        curve, breaks = self.way.chain(self.low, self.high)
        # An end that stays is the corner as it was, bit for bit: its neighbour shares it.
        start = self.way.curve.start if self.first is None else self.first
        end = self.way.curve.end if self.last is None else self.last
        return with_ends(curve, start, end), breaks + self.starts_mm


class _MovedRing:
    """One ring of a piece with some of its edges moved."""

    def __init__(self, piece: Piece, ring: Ring, distances: Mapping[EdgeId, Piecewise]) -> None:
        self._piece = piece
        self._ring = ring
        self.fates: dict[EdgeId, Fate] = {}
        self._arcs = [arc for edge in ring for arc in _arcs_of(edge, distances.get(edge.id))]
        joints = list(zip([self._arcs[-1], *self._arcs[:-1]], self._arcs, strict=True))
        meeting = [joint for joint in joints if not self._needs_no_meeting(*joint)]
        while (failed := self._first_that_fails(meeting)) is not None:
            # What is drawn together changes both arcs, so all meetings are looked for again.
            meeting.remove(failed)
            _draw_together(*failed)

    def _first_that_fails(self, meeting: list[tuple[_Arc, _Arc]]) -> tuple[_Arc, _Arc] | None:
        for before, after in meeting:
            before.high, after.low = before.way.length_mm, 0.0
        for before, after in meeting:
            if not _meet(before, after):
                if before.is_still or after.is_still or abs(_kink(before, after)) > BENT_RAD:
                    raise _no_place(before, after)
                return before, after
        return None

    def edges(self) -> list[Edge]:
        """The edges of the ring with their new curves; `fates` then says what became of them."""
        return [self._redrawn(edge) for edge in self._ring]

    def _redrawn(self, edge: Edge) -> Edge:
        arcs = [arc for arc in self._arcs if arc.edge is edge]
        if not any(arc.is_changed for arc in arcs):
            return edge
        drawn = [arc.drawn() for arc in arcs]
        segments = np.concatenate([curve.segments for curve, _ in drawn])
        segments[1:, 0] = segments[:-1, 3]
        new = replace(edge, curve=Curve(segments))
        self.fates[edge.id] = _fate(edge, new, [breaks for _, breaks in drawn])
        return new

    def _needs_no_meeting(self, before: _Arc, after: _Arc) -> bool:
        """Whether a joint stays where it is, or is so straight that it is drawn together."""
        offsets = before.way.offset_at(before.high), after.way.offset_at(0.0)
        if max(map(abs, offsets)) <= SAME_POINT_MM:
            return True
        kink = abs(_kink(before, after))
        if before.is_still or after.is_still:
            self._refuse_no_slide(kink, after if after.is_still else before)
            return False
        if kink >= ALL_BUT_IN_LINE_RAD:
            return False
        _draw_together(before, after)
        return True

    def _refuse_no_slide(self, kink: float, still: _Arc) -> None:
        if kink < NO_SLIDE_RAD or kink > math.pi - NO_SLIDE_RAD:
            name = still.edge.name or still.edge.id
            raise EditRefused(
                f"The seam runs straight on into “{name}”, so its corner there has nothing to "
                "slide along: the width must be 0 at that end.",
                culprit=still.edge.id,
            )


def _draw_together(before: _Arc, after: _Arc) -> None:
    """Let two moved arcs end in one point, square to the middle of their directions."""
    one, other = before.way.at(before.way.length_mm)[0], after.way.at(0.0)[0]
    normals = [
        np.array([-tangent[1], tangent[0]])
        for tangent in (end_tangent(before.way.curve), start_tangent(after.way.curve))
    ]
    offset = (before.way.offset_at(before.way.length_mm) + after.way.offset_at(0.0)) / 2
    mitre = (normals[0] + normals[1]) / (1.0 + float(normals[0] @ normals[1]))
    point = after.way.curve.start + offset * mitre
    if abs(_kink(before, after)) > KINK_RAD:
        before.way = replace_shift(before.way, shift_to=point - one)
        after.way = replace_shift(after.way, shift_from=point - other)
    before.last = after.first = point


def _meet(before: _Arc, after: _Arc) -> bool:
    """Lengthen or shorten two arcs until they meet; False where they do not, or far off."""
    x, y = before.way.length_mm, 0.0
    for _ in range(MEETING_ROUNDS):
        (p, dp), (q, dq) = before.way.at(x), after.way.at(y)
        gap = q - p
        across = dp[0] * dq[1] - dp[1] * dq[0]
        if np.abs(gap).max() <= SAME_POINT_MM / 8 or across == 0.0:
            break
        x += _held((gap[0] * dq[1] - gap[1] * dq[0]) / across, before.way.length_mm)
        y += _held((gap[0] * dp[1] - gap[1] * dp[0]) / across, after.way.length_mm)
    gap = after.way.at(y)[0] - before.way.at(x)[0]
    if np.abs(gap).max() > SAME_POINT_MM or not _is_near(before, after, x, y):
        return False
    before.high, after.low = x, y
    before.last = after.first = after.way.at(y)[0]
    return True


def _is_near(before: _Arc, after: _Arc, x: float, y: float) -> bool:
    """Whether something is left of both, and neither goes on by more than its own length."""
    return (
        before.low + SAME_STATION_MM < x < 2 * before.way.length_mm
        and -after.way.length_mm < y < after.high - SAME_STATION_MM
    )


def _no_place(before: _Arc, after: _Arc) -> EditRefused:
    one, other = (arc.edge.name or arc.edge.id for arc in (before, after))
    where = f"A bend of “{one}”" if one == other else f"The corner between “{one}” and “{other}”"
    return EditRefused(f"{where} finds no place for so much width.", culprit=after.edge.corner)


def replace_shift(
    way: Displaced, *, shift_from: Point | None = None, shift_to: Point | None = None
) -> Displaced:
    """The same way with another shift at one of its ends."""
    return Displaced(
        way.curve,
        way.distance_mm,
        way.shift_from if shift_from is None else shift_from,
        way.shift_to if shift_to is None else shift_to,
    )


def _held(step: float, most: float) -> float:
    return max(-most, min(most, step))


def _kink(before: _Arc, after: _Arc) -> float:
    return angle_between(end_tangent(before.way.curve), start_tangent(after.way.curve))


def _arcs_of(edge: Edge, distance: Piecewise | None) -> list[_Arc]:
    """The smooth stretches of an edge; one for an edge that stays."""
    if distance is None:
        whole = length_mm(edge.curve)
        nothing = Piecewise(np.array([[0.0, whole, 0.0, 0.0, 0.0, 0.0]]))
        way = Displaced(edge.curve, nothing)
        return [_Arc(edge=edge, starts_mm=0.0, way=way, is_still=True, high=way.length_mm)]
    kinks = np.flatnonzero(joint_turnings_rad(edge.curve)) + 1
    bounds = [0, *kinks.tolist(), len(edge.curve)]
    stations = cubic_stations(edge.curve)
    arcs = []
    for first, last in pairwise(bounds):
        low, high = stations[first], stations[last]
        way = Displaced(Curve(edge.curve.segments[first:last]), distance.between(low, high))
        _refuse_folded(edge, way)
        arcs.append(_Arc(edge=edge, starts_mm=low, way=way, is_still=False, high=way.length_mm))
    return arcs


def _refuse_folded(edge: Edge, way: Displaced) -> None:
    if way.is_moved and way.tightest() < LEAST_LEFT:
        raise EditRefused(
            f"“{edge.name or edge.id}” bends too tightly for so much width: it would fold.",
            culprit=edge.id,
        )


def _fate(old: Edge, new: Edge, breaks: list[Floats]) -> Fate:
    """Each cubic of the new edge, and the stretch of the old one that it has come from."""
    whole = length_mm(old.curve)
    after = cubic_stations(new.curve)
    bounds = [pair for row in breaks for pair in pairwise(row)]
    stretches = [
        Stretch(
            from_mm=max(float(low), 0.0),
            to_mm=min(float(high), whole),
            edge=new.id,
            new_from_mm=after[i],
            new_to_mm=after[i + 1],
        )
        for i, (low, high) in enumerate(bounds)
        if high > 0.0 and low < whole
    ]
    return Fate(walk=(new.id,), stretches=tuple(stretches))
