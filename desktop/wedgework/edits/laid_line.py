"""A line laid over pieces becomes their edges: it is cut where the seam lines cross it.

Both sides of a seam are cut off, or carried on, by as much, so seams stay as equal as they were.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np

from wedgework.edits.carry import Fate, reshaped_fate
from wedgework.edits.lengthening import end_fate, over_mm
from wedgework.edits.redrawn import with_edges_redrawn
from wedgework.geometry.curve import Curve, Point, reversed_curve
from wedgework.geometry.extend import with_end_moved_along, with_start_moved_along
from wedgework.geometry.fair import led
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.motion import Affine, inverse, moved
from wedgework.geometry.nearest import nearest, signed_distance_mm
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import MEETING_ROUNDS, SAME_POINT_MM, SAME_STATION_MM
from wedgework.geometry.turning import end_tangent
from wedgework.pattern.boundary import Side
from wedgework.pattern.document import Edge, EdgeId, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.laying import STILL, Laid, joints_of, laid_at, line_end, over
from wedgework.pattern.lookup import seams_of, the_edge
from wedgework.pattern.round_corner import Joint

ROUNDS: Final = 40
"""Rounds of leading a line along with its pieces: each leaves a small part of what was left, half
of it where seams bend as tightly as any do."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Leg:
    """An edge that a line crosses or ends at, from inside its piece outwards to the corner.

    `starts`: walked with its piece on the left it starts at the corner.
    """

    side: Side
    edge: Edge
    starts: bool

    @classmethod
    def of(cls, project: Project, side: Side, *, starts: bool) -> Leg:
        """The leg of a side."""
        return cls(side=side, edge=the_edge(project, side.edge), starts=starts)

    @property
    def ends_there(self) -> bool:
        """Whether the corner is where the edge itself ends."""
        return self.side.mirrored == self.starts

    @property
    def outward(self) -> Curve:
        """Its curve where the piece is drawn, towards the corner."""
        return self.edge.curve if self.ends_there else reversed_curve(self.edge.curve)

    def grown(self, by_mm: float) -> Curve:
        """As `outward`, longer at the corner along itself; EditRefused where nothing is left."""
        whole = length_mm(self.edge.curve)
        if by_mm <= SAME_STATION_MM - whole:
            raise EditRefused(
                f"The line would take all of “{self.edge.name or self.edge.id}” away.",
                culprit=self.edge.id,
            )
        if abs(by_mm) <= SAME_POINT_MM:
            return self.outward
        return with_end_moved_along(self.outward, by_mm)

    def changed(self, outward: Curve) -> tuple[Edge, Fate] | None:
        """The edge as it is now and what became of it; None where it is as it was."""
        if outward is self.edge.curve or np.array_equal(outward.segments, self.outward.segments):
            return None
        new = replace(self.edge, curve=outward if self.ends_there else reversed_curve(outward))
        return new, end_fate(self.edge, new, end_moved=self.ends_there)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class LineEnd:
    """An outer end of a line: the edge beyond it, and whether its mirror image goes on there.

    `slides`: the corner may move along the edge beyond. `is_crossed`: the line goes on over that
    edge, to what is the mirror image of its other end.
    """

    leg: Leg
    motion: Affine
    is_mirrored: bool
    slides: bool
    is_crossed: bool = False

    @property
    def corner(self) -> Point:
        """Where the corner lies in the place of the line's first piece."""
        return self.motion.points(self.leg.outward.end)

    @property
    def square(self) -> Point:
        """The direction of the walk square to the edge beyond."""
        x, y = self.motion.linear @ end_tangent(self.leg.outward)
        return np.array([-y, x])

    def corner_near(self, point: Point) -> Point:
        """Where the line ends for a point set at its end: on the edge beyond, if that may give."""
        if not self.slides:
            return self.corner
        here = inverse(self.motion).points(point)
        away = float(np.hypot(*(here - self.leg.outward.end)))
        if away <= SAME_STATION_MM:
            return self.corner
        reach = self.leg.grown(away)
        return self.motion.points(nearest(reach, here).point)

    def leg_to(self, point: Point) -> Curve:
        """The edge beyond, cut off or carried on to a point that lies on it."""
        here = inverse(self.motion).points(point)
        away = float(np.hypot(*(here - self.leg.outward.end)))
        if away <= SAME_STATION_MM or not self.slides:
            return self.leg.outward
        whole = length_mm(self.leg.edge.curve)
        return self.leg.grown(nearest(self.leg.grown(away), here).station_mm - whole)

    def mirrored_back(self, project: Project, mirror: Affine) -> LineEnd:
        """The end of the line's mirror image, walked on its left again."""
        leg = Leg.of(project, self.leg.side.twin, starts=not self.leg.starts)
        return replace(self, leg=leg, motion=mirror.after(self.motion))


@dataclass(frozen=True, slots=True)
class Half:
    """Sides of a line that are cut one after the other, and the ends of that; all, or half."""

    laid: Sequence[Laid]
    ends: tuple[LineEnd, LineEnd]


def line_end_of(project: Project, one: Laid, *, at_start: bool) -> LineEnd:
    """The outer end of a line at its first or last side."""
    found = line_end(project, one.side, at_start=at_start)
    return LineEnd(
        leg=Leg.of(project, found.beyond, starts=not at_start),
        motion=one.motion,
        is_mirrored=found.is_mirrored,
        slides=found.is_mirrored or found.is_open,
    )


@dataclass(eq=False, slots=True)
class _Changes:
    """Edges that are other now, and what became of them.

    `growths` are by how much legs grew when the line was cut last: a start for the next time.
    `ends` says which ends of legs have moved. With `is_image` the mirror image of the line is cut:
    what stands on both sides has changed already.
    """

    project: Project
    edges: dict[EdgeId, Edge] = field(default_factory=dict)
    fates: dict[EdgeId, Fate] = field(default_factory=dict)
    growths: dict[Side, float] = field(default_factory=dict)
    ends: set[tuple[EdgeId, bool]] = field(default_factory=set)
    is_image: bool = False

    def put(self, edge: Edge, fate: Fate) -> None:
        if edge.id in self.edges:
            if self.is_image:
                return
            raise EditRefused(
                f"The line would change “{edge.name or edge.id}” at both of its ends.",
                culprit=edge.id,
            )
        self.edges[edge.id], self.fates[edge.id] = edge, fate

    def put_leg(self, leg: Leg, outward: Curve) -> None:
        changed = leg.changed(outward)
        end, other = ((leg.edge.id, at_end) for at_end in (leg.ends_there, not leg.ends_there))
        if changed is None or (self.is_image and end in self.ends):
            return
        if other in self.ends:
            self._put_other_end(leg, outward)
        else:
            self.put(*changed)
        self.ends.add(end)

    def _put_other_end(self, leg: Leg, outward: Curve) -> None:
        """An edge that has moved at one end already moves at its other one as well."""
        own, first = self.edges[leg.edge.id], self.fates[leg.edge.id].stretches[0]
        by_mm = length_mm(outward) - length_mm(leg.edge.curve)
        if leg.ends_there:
            curve = with_end_moved_along(own.curve, by_mm)
            curve = _put_to(curve, own.curve.start, outward.end)
        else:
            curve = with_start_moved_along(own.curve, by_mm)
            curve = _put_to(curve, outward.end, own.curve.end)
        new = replace(own, curve=curve)
        second = end_fate(own, new, end_moved=leg.ends_there).stretches[0]
        self.edges[new.id] = new
        self.fates[new.id] = Fate(walk=(new.id,), stretches=(first.then(second),))

    def applied(self) -> Project:
        """EditRefused where an outline would cross itself or turn over."""
        after = with_edges_redrawn(self.project, self.edges, self.fates)
        self._refuse_others_harmed(after)
        return after

    def _refuse_others_harmed(self, after: Project) -> None:
        """EditRefused where a seam of the skin would differ that did not, or by more."""
        touched = {seam.id: seam for edge in self.edges for seam in seams_of(self.project, edge)}
        for seam in touched.values():
            if seam.laid_on:
                continue
            by = over_mm(after, seam) - over_mm(self.project, seam)
            if abs(by) > SAME_STATION_MM:
                raise EditRefused(
                    f"The line would end at another place on “{seam.name or seam.id}”, whose one "
                    f"side would change by {abs(by):.2f} mm: an edge of it lies in two seams.",
                    culprit=seam.id,
                )


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Crossing:
    """Where a joint has come to lie: along the line, and in the places of both pieces."""

    station_mm: float
    here: Point
    there: Point
    motion: Affine
    missed_mm: float = 0.0


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Cut:
    """A line cut to its pieces: what changes, and how far pieces have come to lie elsewhere.

    `drifts` are the motions from where a piece was laid to where it is now: of the piece before
    each corner that cannot move, and of the last one. `missed_mm` is the most that the line passes
    such a corner, or one that ends it, by; `first_mm` where along it the first piece ends.
    """

    changes: _Changes
    drifts: tuple[Affine, ...]
    missed_mm: float
    first_mm: float


def with_line_across(
    project: Project, half: Half, line: Curve, image: Half | None = None
) -> Project:
    """The project where a line laid over the pieces has become their edges.

    Of a line that is its own mirror image one half is cut; `image` is the other, walked like it,
    where that has pieces of its own.

    Where curved seams end elsewhere, the pieces beyond come to lie a little otherwise; the line is
    led along with them until it ends where the last piece does. EditRefused where a seam line does
    not cross it, or not in its order.
    """
    laid, ends = half.laid, half.ends
    stations = [nearest(line, corner).station_mm for corner in _still_corners(laid)]
    stations.append(length_mm(line))
    drifts: tuple[Affine, ...] = (STILL,) * len(stations)
    led_line = line
    growths: dict[Side, float] = {}
    for _ in range(ROUNDS):
        changes = _Changes(project, growths=growths)
        cut = _cut(changes, half, led_line)
        if _is_settled(drifts, cut.drifts, line, stations):
            break
        drifts = cut.drifts
        # What lies before a first end that is crossed is the mirror image: the piece in the middle
        # keeps its part as it is.
        held = [(cut.first_mm, STILL)] if ends[0].is_crossed else []
        led_line = led(line, [*held, *zip(stations, drifts, strict=True)])
    if cut.missed_mm > SAME_STATION_MM:
        raise EditRefused(
            f"A corner that cannot move would lie {cut.missed_mm:.2f} mm off the line: where "
            "several pieces meet, and where joined edges end it, the line has to pass through."
        )
    if image is not None:
        cut.changes.is_image = True
        _cut(cut.changes, image, led_line)
    return cut.changes.applied()


def _is_settled(
    before: Sequence[Affine], now: Sequence[Affine], line: Curve, stations: Sequence[float]
) -> bool:
    """Whether no piece has moved since, at the places where the line is led."""
    places = points_at(line, stations)
    gaps = [
        np.abs(one.points(place) - other.points(place)).max()
        for one, other, place in zip(before, now, places, strict=True)
    ]
    turns = [np.abs(a.linear - b.linear).max() for a, b in zip(before, now, strict=True)]
    return bool(max(*gaps, *turns) <= SAME_POINT_MM / 8)


def _still_corners(laid: Sequence[Laid]) -> list[Point]:
    """Corners where three pieces or more meet, in the place of the line."""
    return [one.curve.end for one, joint in joints_of(laid) if len(joint.steps) > 1]


def _cut(changes: _Changes, half: Half, line: Curve) -> _Cut:
    laid, ends = half.laid, half.ends
    motion = laid[0].motion
    outward, from_mm = _first_end(changes, ends[0], line)
    changes.put_leg(ends[0].leg, outward)
    start, missed_mm = outward.end, 0.0
    firsts = []
    drifts = []
    for one, joint in joints_of(laid):
        crossing = _crossing(changes, (one, joint), line, motion)
        span = (line, from_mm, crossing.station_mm)
        firsts.append(crossing.station_mm)
        _put_part(changes, one, span, motion, (start, crossing.here))
        if len(joint.steps) > 1:
            drifts.append(motion.after(inverse(one.motion)))
            missed_mm = max(missed_mm, crossing.missed_mm)
        start, from_mm, motion = crossing.there, crossing.station_mm, crossing.motion
    last = replace(ends[1], motion=motion)
    outward = last.leg_to(line.end)
    changes.put_leg(last.leg, outward)
    _put_part(changes, laid[-1], (line, from_mm, length_mm(line)), motion, (start, outward.end))
    drifts.append(motion.after(inverse(laid[-1].motion)))
    if not last.slides:
        end = motion.points(last.leg.outward.end)
        missed_mm = max(missed_mm, float(np.hypot(*(end - line.end))))
    first_mm = min(firsts, default=length_mm(line))
    return _Cut(changes=changes, drifts=tuple(drifts), missed_mm=missed_mm, first_mm=first_mm)


def _first_end(changes: _Changes, end: LineEnd, line: Curve) -> tuple[Curve, float]:
    """The edge beyond the first end as it becomes, and where along the line that is."""
    if not end.is_crossed:
        return end.leg_to(line.start), 0.0
    outward = end.leg.grown(_growth_to(changes, end.leg, line, end.motion))
    return outward, nearest(line, end.motion.points(outward.end)).station_mm


def _put_part(
    changes: _Changes,
    one: Laid,
    stretch: tuple[Curve, float, float],
    motion: Affine,
    ends: tuple[Point, Point],
) -> None:
    """Give an edge its stretch of the line, between two corners bit for bit."""
    line, from_mm, to_mm = stretch
    if to_mm - from_mm <= SAME_STATION_MM:
        raise EditRefused(
            f"The line leaves nothing of “{one.edge.name or one.edge.id}”.", culprit=one.edge.id
        )
    own = _put_to(moved(part(line, from_mm, to_mm), inverse(motion)), *ends)
    curve = reversed_curve(own) if one.side.mirrored else own
    new = replace(one.edge, curve=curve)
    changes.put(new, reshaped_fate(one.edge, new))


def _put_to(curve: Curve, start: Point, end: Point) -> Curve:
    """The curve with its ends put to corners that lie all but there, its directions kept.

    A cubic with no length to speak of, left over where a cut falls beside a joint, goes.
    """
    sizes = np.abs(curve.segments - curve.segments[:, :1]).max(axis=(1, 2))
    kept = np.flatnonzero(sizes > SAME_STATION_MM)
    segments = curve.segments[kept[0] : kept[-1] + 1].copy()
    segments[0, 1] += start - segments[0, 0]
    segments[-1, 2] += end - segments[-1, 3]
    segments[0, 0], segments[-1, 3] = start, end
    return Curve(segments)


def _crossing(changes: _Changes, at: tuple[Laid, Joint], line: Curve, motion: Affine) -> _Crossing:
    one, joint = at
    if len(joint.steps) == 1 and joint.steps[0].between_rad == 0.0:
        return _seam_crossing(changes, joint, line, motion)
    curve = one.edge.curve
    corner = curve.start if one.side.mirrored else curve.end
    foot = nearest(line, motion.points(corner))
    if not joint.steps:
        here = inverse(motion).points(foot.point)
        return _Crossing(station_mm=foot.station_mm, here=here, there=here, motion=motion)
    following = the_edge(changes.project, joint.side.edge).curve
    return _Crossing(
        station_mm=foot.station_mm,
        missed_mm=foot.distance_mm,
        here=corner,
        there=following.end if joint.side.mirrored else following.start,
        motion=motion.after(over(changes.project, joint)),
    )


def _seam_crossing(changes: _Changes, joint: Joint, line: Curve, motion: Affine) -> _Crossing:
    """Cut both sides of a seam off, or carry them on, by as much as brings one to the line."""
    (step,) = joint.steps
    leaves = Leg.of(changes.project, step.leaves, starts=True)
    enters = Leg.of(changes.project, step.enters, starts=False)
    by_mm = _growth_to(changes, leaves, line, motion)
    grown, mate = leaves.grown(by_mm), enters.grown(by_mm)
    changes.put_leg(leaves, grown)
    changes.put_leg(enters, mate)
    turned = step.leaves.mirrored != step.enters.mirrored
    laid = laid_at(reversed_curve(grown), mate, turned_over=turned)
    return _Crossing(
        station_mm=nearest(line, motion.points(grown.end)).station_mm,
        here=grown.end,
        there=mate.end,
        motion=motion.after(laid),
    )


def _growth_to(changes: _Changes, leg: Leg, line: Curve, motion: Affine) -> float:
    """By how much a seam line grows to end on a line; EditRefused where it does not meet it."""

    def inside_mm(by_mm: float) -> float:
        return signed_distance_mm(line, motion.points(leg.grown(by_mm).end))

    # Inside the piece is on the line's left, so a corner that lies there has to grow.
    by = changes.growths.get(leg.side, 0.0)
    value = inside_mm(by)
    after = by + value
    for _ in range(MEETING_ROUNDS):
        if abs(value) <= SAME_POINT_MM / 4:
            changes.growths[leg.side] = by
            return by
        following = inside_mm(after)
        if following == value:
            break
        step = following * (after - by) / (following - value)
        by, value, after = after, following, after - step
    if abs(value) <= SAME_POINT_MM:
        return by
    raise EditRefused(
        f"The line does not cross “{leg.edge.name or leg.edge.id}”.", culprit=leg.edge.id
    )
