"""A line laid over pieces becomes their edges: it is cut where the seam lines cross it.

Both sides of a seam are cut off, or carried on, by as much, so seams stay as equal as they were.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from wedgework.edits.carry import Fate, reshaped_fate
from wedgework.edits.laid_ends import Half, Leg, LineEnd
from wedgework.edits.laid_walk import Met, Way, walked_line, way_along
from wedgework.edits.lengthening import end_fate, over_mm
from wedgework.edits.redrawn import with_edges_redrawn
from wedgework.geometry.curve import Curve, Point, reversed_curve
from wedgework.geometry.extend import with_end_moved_along, with_start_moved_along
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import Affine, inverse, moved
from wedgework.geometry.nearest import nearest
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Edge, EdgeId, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.laying import Laid, joints_of
from wedgework.pattern.lookup import seams_of, the_edge
from wedgework.pattern.round_corner import Joint


@dataclass(eq=False, slots=True)
class _Changes:
    """Edges that are other now, and what became of them.

    `ends` says which ends of legs have moved. With `is_image` the mirror image of the line is cut:
    what stands on both sides has changed already.
    """

    project: Project
    edges: dict[EdgeId, Edge] = field(default_factory=dict)
    fates: dict[EdgeId, Fate] = field(default_factory=dict)
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


def with_line_across(
    project: Project, half: Half, line: Curve, image: Half | None = None
) -> Project:
    """The project where a line laid over the pieces has become their edges.

    Of a line that is its own mirror image one half is cut; `image` is the other, walked like it,
    where that has pieces of its own. EditRefused where a seam line does not cross the line, or not
    in its order.
    """
    way = way_along(project, half, line)
    if way.missed_mm > SAME_STATION_MM:
        raise EditRefused(
            f"A corner that cannot move would lie {way.missed_mm:.2f} mm off the line: where "
            "several pieces meet, and where joined edges end it, the line has to pass through."
        )
    changes = _Changes(project)
    _cut(changes, half, way)
    if image is not None:
        changes.is_image = True
        _cut(changes, image, walked_line(project, image, way.line, {}))
    return changes.applied()


def _cut(changes: _Changes, half: Half, way: Way) -> None:
    line, motion = way.line, half.laid[0].motion
    outward, from_mm = _first_end(half.ends[0], way)
    changes.put_leg(half.ends[0].leg, outward)
    start = outward.end
    for (one, joint), met in zip(joints_of(half.laid), way.mets, strict=True):
        here, there = _corners(changes, (one, joint), met, motion)
        to_mm = nearest(line, met.here).station_mm
        _put_part(changes, one, (line, from_mm, to_mm), motion, (start, here))
        start, from_mm, motion = there, to_mm, met.motion
    last = replace(half.ends[1], motion=motion)
    outward = last.leg_to(line.end)
    changes.put_leg(last.leg, outward)
    span = (line, from_mm, length_mm(line))
    _put_part(changes, half.laid[-1], span, motion, (start, outward.end))


def _first_end(end: LineEnd, way: Way) -> tuple[Curve, float]:
    """The edge beyond the first end as it becomes, and where along the line that is."""
    if way.crossed_mm is None:
        return end.leg_to(way.line.start), 0.0
    outward = end.leg.grown(way.crossed_mm)
    return outward, nearest(way.line, end.motion.points(outward.end)).station_mm


def _corners(
    changes: _Changes, at: tuple[Laid, Joint], met: Met, motion: Affine
) -> tuple[Point, Point]:
    """The corner at a joint in both of its pieces, whose sides are cut off or carried on to it."""
    one, joint = at
    if met.by_mm is not None:
        (step,) = joint.steps
        leaves = Leg.of(changes.project, step.leaves, starts=True)
        enters = Leg.of(changes.project, step.enters, starts=False)
        grown, mate = leaves.grown(met.by_mm), enters.grown(met.by_mm)
        changes.put_leg(leaves, grown)
        changes.put_leg(enters, mate)
        return grown.end, mate.end
    if not joint.steps:
        here = inverse(motion).points(met.here)
        return here, here
    following = the_edge(changes.project, joint.side.edge).curve
    own = one.edge.curve
    return (
        own.start if one.side.mirrored else own.end,
        following.end if joint.side.mirrored else following.start,
    )


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
