"""Edges that a line over pieces crosses or ends at, and how they are cut off or carried on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from wedgework.edits.carry import Fate
from wedgework.edits.lengthening import end_fate
from wedgework.geometry.curve import Curve, Point, reversed_curve
from wedgework.geometry.extend import end_moved_along, with_end_moved_along
from wedgework.geometry.length import length_mm
from wedgework.geometry.memo import memoised
from wedgework.geometry.motion import Affine, inverse
from wedgework.geometry.nearest import nearest
from wedgework.geometry.tolerances import SAME_POINT_MM, SAME_STATION_MM
from wedgework.geometry.turning import end_tangent
from wedgework.pattern.boundary import Side
from wedgework.pattern.document import Edge, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.laying import Laid, line_end
from wedgework.pattern.lookup import the_edge


@memoised
def _turned_round(curve: Curve) -> Curve:
    # Asked over and over in a drag: what is measured of it is then remembered with it.
    return reversed_curve(curve)


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
        return self.edge.curve if self.ends_there else _turned_round(self.edge.curve)

    def grown(self, by_mm: float) -> Curve:
        """As `outward`, longer at the corner along itself; EditRefused where nothing is left."""
        self._refuse_gone(by_mm)
        if abs(by_mm) <= SAME_POINT_MM:
            return self.outward
        return with_end_moved_along(self.outward, by_mm)

    def grown_end(self, by_mm: float) -> tuple[Point, Point]:
        """Where `grown` ends, (2,) mm, and its direction there; as cheap as that can be."""
        self._refuse_gone(by_mm)
        return end_moved_along(self.outward, 0.0 if abs(by_mm) <= SAME_POINT_MM else by_mm)

    def _refuse_gone(self, by_mm: float) -> None:
        if by_mm <= SAME_STATION_MM - length_mm(self.edge.curve):
            raise EditRefused(
                f"The line would take all of “{self.edge.name or self.edge.id}” away.",
                culprit=self.edge.id,
            )

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
