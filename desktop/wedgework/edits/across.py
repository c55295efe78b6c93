"""Draw a hem, a neckline or an armhole as one line across the pieces that it runs over.

The pieces are laid together at their seams. The line is cut where the seam lines cross it, each
seam's two sides by as much, and each piece gets its part: so position, direction and curvature
agree at every seam, the corners there sum to 180 degrees, and seams stay as equal as they were.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, NotNegativeMm, PointMm, PositiveMm
from wedgework.edits.carry import Fate, reshaped_fate
from wedgework.edits.lengthening import end_fate, over_mm
from wedgework.edits.move import pulled
from wedgework.edits.redrawn import with_edges_redrawn
from wedgework.edits.seams import RefText
from wedgework.geometry.curve import Curve, Floats, Point, Points, reversed_curve, with_ends
from wedgework.geometry.extend import with_end_moved_along
from wedgework.geometry.fair import Tangents, Through, fair_near
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import Affine, inverse, moved
from wedgework.geometry.nearest import nearest, signed_distance_mm
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import (
    JOINT_RAD,
    MEETING_ROUNDS,
    SAME_POINT_MM,
    SAME_STATION_MM,
)
from wedgework.geometry.turning import end_tangent, start_tangent
from wedgework.pattern.boundary import Side
from wedgework.pattern.document import Edge, EdgeId, Project, Run, parse_ref
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.laying import (
    MOST_TURNED_RAD,
    Joint,
    Laid,
    is_walked_back,
    laid_at,
    laid_together,
    line_end,
    over,
)
from wedgework.pattern.lookup import seams_of, the_edge

BLEND_MM: Final = 60.0
"""A peak or dent of a line is drawn out over so much of it; common practice, no source."""

NEAR_MM: Final = 1.0
"""A point set this near to a corner that stays is meant for it."""


class TrueAcross(Edit, frozen=True, kw_only=True):
    """Draw the line over several pieces through as one smooth line, changed as little as can be."""

    edges: Annotated[
        tuple[RefText, ...],
        Meta(min_length=1, description="edges of the line, in the order in which they follow"),
    ]
    over_mm: Annotated[
        PositiveMm, Meta(description="length over which a peak or dent is drawn out")
    ] = BLEND_MM
    at_mm: Annotated[
        NotNegativeMm, Meta(description="where the line is taken hold of, from its start")
    ] = 0.0
    by_mm: Annotated[
        PointMm, Meta(description="how far that point is pulled, right and up on the first piece")
    ] = (0.0, 0.0)

    def change(self, project: Project) -> Project:
        """EditRefused where the edges make no line, or miss one too far."""
        drawing = _Drawing.of(project, self.edges)
        line = drawing.line
        if self.by_mm != (0.0, 0.0):
            line = _pulled(drawing, self.at_mm, np.array(self.by_mm))
        elif drawing.is_true:
            return project
        fair = fair_near(line, self.over_mm, drawing.tangents(line), drawing.fixed)
        return with_line_across(drawing, fair)


class DrawAcross(Edit, frozen=True, kw_only=True):
    """Draw one smooth line over several pieces, laid together at their seams."""

    edges: Annotated[
        tuple[RefText, ...],
        Meta(min_length=1, description="edges of the line, in the order in which they follow"),
    ]
    points_mm: Annotated[
        tuple[PointMm, ...],
        Meta(
            min_length=2,
            description="points that the line passes, from its start, in the first piece's place",
        ),
    ]

    def change(self, project: Project) -> Project:
        """EditRefused where the edges make no line, or the line misses a seam."""
        drawing = _Drawing.of(project, self.edges)
        points = np.array(self.points_mm[::-1] if drawing.is_back else self.points_mm)
        points[0] = drawing.first.corner_near(points[0])
        points[-1] = drawing.last.corner_near(points[-1])
        if len(points) == 2 and np.hypot(*(points[1] - points[0])) <= SAME_STATION_MM:
            raise EditRefused("A line needs two different points.")
        return with_line_across(drawing, drawing.smooth_line(points))


def _pulled(drawing: _Drawing, at_mm: float, by_mm: Floats) -> Curve:
    whole = length_mm(drawing.line)
    at = whole - at_mm if drawing.is_back else at_mm
    if not SAME_STATION_MM < at < whole - SAME_STATION_MM:
        raise EditRefused(f"Take hold between 0 and {whole:.1f} mm, the ends of the line.")
    line = pulled(drawing.line, at, by_mm)
    if line is None:
        raise EditRefused("So near to its end the line cannot be pulled.")
    return line


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Leg:
    """An edge that a line crosses or ends at, from inside its piece outwards to the corner.

    `starts`: walked with its piece on the left it starts at the corner.
    """

    side: Side
    edge: Edge
    starts: bool

    @classmethod
    def of(cls, project: Project, side: Side, *, starts: bool) -> _Leg:
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
class _LineEnd:
    """An outer end of a line: the edge beyond it, and whether its mirror image goes on there."""

    leg: _Leg
    motion: Affine
    is_mirrored: bool
    slides: bool

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
        if away <= SAME_STATION_MM:
            return self.leg.outward
        whole = length_mm(self.leg.edge.curve)
        return self.leg.grown(nearest(self.leg.grown(away), here).station_mm - whole)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Drawing:
    """A line's pieces laid together, the line as it is, and what holds at its ends."""

    project: Project
    laid: tuple[Laid, ...]
    is_back: bool
    line: Curve
    first: _LineEnd
    last: _LineEnd

    @classmethod
    def of(cls, project: Project, edges: Sequence[str]) -> _Drawing:
        """EditRefused where the edges make no line, or miss one too far."""
        run: Run = tuple(parse_ref(text) for text in edges)
        laid = laid_together(project, run)
        for _, joint in _joints(laid):
            _refuse_corner(joint)
        segments = np.concatenate([one.curve.segments for one in laid])
        segments[1:, 0] = segments[:-1, 3]
        return cls(
            project=project,
            laid=laid,
            is_back=is_walked_back(project, run),
            line=Curve(segments),
            first=_line_end(project, laid[0], at_start=True),
            last=_line_end(project, laid[-1], at_start=False),
        )

    @property
    def is_true(self) -> bool:
        """Whether the line goes straight on at every joint already, and square to its mirror."""
        misses = [one.joint.angle_rad - np.pi for one in self.laid if one.joint]
        tangents = self.tangents(self.line)
        for wanted, found in zip(
            tangents, (start_tangent(self.line), end_tangent(self.line)), strict=True
        ):
            misses.append(float(np.hypot(*(found - wanted))))
        return max(map(abs, misses)) <= JOINT_RAD

    @property
    def fixed(self) -> Through:
        """Stations and points of corners that cannot move: three pieces or more meet there."""
        rows = []
        at = 0.0
        for one in self.laid:
            at += length_mm(one.edge.curve)
            if one.joint is not None and len(one.joint.steps) > 1:
                rows.append((at, one.curve.end))
        return rows

    def tangents(self, line: Curve) -> tuple[Point, Point]:
        """Directions at both ends: as they are, or square to what the line is mirrored in."""
        first = self.first.square if self.first.is_mirrored else start_tangent(line)
        last = self.last.square if self.last.is_mirrored else end_tangent(line)
        return first, last

    def smooth_line(self, points: Points) -> Curve:
        """A smooth line through points, and through the corners that cannot move."""
        tangents = self._drawn_tangents()
        line = smooth_through(points, *tangents)
        for _, corner in self.fixed:
            away = np.hypot(*(points - corner).T)
            if away.min() <= NEAR_MM:
                points[int(away.argmin())] = corner
            else:
                index = min(int(nearest(line, corner).parameter), len(points) - 2) + 1
                points = np.insert(points, index, corner, axis=0)
            line = smooth_through(points, *tangents)
        return line

    def _drawn_tangents(self) -> Tangents:
        ends = (self.first, self.last)
        first, last = (end.square if end.is_mirrored else None for end in ends)
        return first, last


def _refuse_corner(joint: Joint) -> None:
    if abs(joint.angle_rad - np.pi) > MOST_TURNED_RAD:
        miss = np.degrees(abs(joint.angle_rad - np.pi))
        raise EditRefused(
            f"At corner {joint.corners[0]} the edges miss a line by {miss:.1f} degrees: that is a "
            "corner, and no line is drawn through it.",
            culprit=joint.corners[0],
        )


def _line_end(project: Project, one: Laid, *, at_start: bool) -> _LineEnd:
    found = line_end(project, one.side, at_start=at_start)
    return _LineEnd(
        leg=_Leg.of(project, found.beyond, starts=not at_start),
        motion=one.motion,
        is_mirrored=found.is_mirrored,
        slides=found.is_mirrored or found.is_open,
    )


@dataclass(eq=False, slots=True)
class _Changes:
    """Edges that are other now, and what became of them."""

    project: Project
    edges: dict[EdgeId, Edge] = field(default_factory=dict)
    fates: dict[EdgeId, Fate] = field(default_factory=dict)

    def put(self, edge: Edge, fate: Fate) -> None:
        if edge.id in self.edges:
            raise EditRefused(
                f"The line would change “{edge.name or edge.id}” at both of its ends.",
                culprit=edge.id,
            )
        self.edges[edge.id], self.fates[edge.id] = edge, fate

    def put_leg(self, leg: _Leg, outward: Curve) -> None:
        changed = leg.changed(outward)
        if changed is not None:
            self.put(*changed)

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
            was, now = abs(over_mm(self.project, seam)), abs(over_mm(after, seam))
            if now > was + SAME_STATION_MM:
                raise EditRefused(
                    f"The line would end at another place on “{seam.name or seam.id}”, whose sides "
                    f"would then differ by {now:.2f} mm: an edge of it lies in two seams.",
                    culprit=seam.id,
                )


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Crossing:
    """Where a joint has come to lie: along the line, and in the places of both pieces."""

    station_mm: float
    here: Point
    there: Point
    motion: Affine


def with_line_across(drawing: _Drawing, line: Curve) -> Project:
    """The project where a line laid over the pieces has become their edges.

    EditRefused where a seam line does not cross it, or not in its order.
    """
    changes = _Changes(drawing.project)
    motion, laid = drawing.laid[0].motion, drawing.laid
    outward = drawing.first.leg_to(line.start)
    changes.put_leg(drawing.first.leg, outward)
    start, from_mm = outward.end, 0.0
    for one, joint in _joints(laid):
        crossing = _crossing(changes, (one, joint), line, motion)
        _put_part(
            changes, one, (line, from_mm, crossing.station_mm), motion, (start, crossing.here)
        )
        start, from_mm, motion = crossing.there, crossing.station_mm, crossing.motion
    last = replace(drawing.last, motion=motion)
    outward = last.leg_to(line.end)
    changes.put_leg(last.leg, outward)
    _put_part(changes, laid[-1], (line, from_mm, length_mm(line)), motion, (start, outward.end))
    return changes.applied()


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
    own = with_ends(moved(part(line, from_mm, to_mm), inverse(motion)), *ends)
    curve = reversed_curve(own) if one.side.mirrored else own
    new = replace(one.edge, curve=curve)
    changes.put(new, reshaped_fate(one.edge, new))


def _joints(laid: Sequence[Laid]) -> Iterator[tuple[Laid, Joint]]:
    return ((one, one.joint) for one in laid if one.joint is not None)


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
    if foot.distance_mm > SAME_STATION_MM:
        raise EditRefused(
            f"Several pieces meet at corner {joint.corners[0]}, so it cannot move: the line has to "
            "pass through it.",
            culprit=joint.corners[0],
        )
    following = the_edge(changes.project, joint.side.edge).curve
    return _Crossing(
        station_mm=foot.station_mm,
        here=corner,
        there=following.end if joint.side.mirrored else following.start,
        motion=motion.after(over(changes.project, joint)),
    )


def _seam_crossing(changes: _Changes, joint: Joint, line: Curve, motion: Affine) -> _Crossing:
    """Cut both sides of a seam off, or carry them on, by as much as brings one to the line."""
    (step,) = joint.steps
    leaves = _Leg.of(changes.project, step.leaves, starts=True)
    enters = _Leg.of(changes.project, step.enters, starts=False)
    by_mm = _growth_to(leaves, line, motion)
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


def _growth_to(leg: _Leg, line: Curve, motion: Affine) -> float:
    """By how much a seam line grows to end on a line; EditRefused where it does not meet it."""

    def inside_mm(by_mm: float) -> float:
        return signed_distance_mm(line, motion.points(leg.grown(by_mm).end))

    # Inside the piece is on the line's left, so a corner that lies there has to grow.
    by, value = 0.0, inside_mm(0.0)
    after = value
    for _ in range(MEETING_ROUNDS):
        if abs(value) <= SAME_POINT_MM / 4:
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
