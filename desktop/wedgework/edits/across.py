"""Draw a hem, a neckline or an armhole as one line across the pieces that it runs over.

The pieces are laid together at their seams. The line is cut where the seam lines cross it, each
seam's two sides by as much, and each piece gets its part: so position, direction and curvature
agree at every seam, the corners there sum to 180 degrees, and seams stay as equal as they were.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, NotNegativeMm, PointMm, PositiveMm
from wedgework.edits.laid_ends import Half, Leg, LineEnd, line_end_of
from wedgework.edits.laid_line import with_line_across
from wedgework.edits.move import pulled
from wedgework.edits.seams import RefText
from wedgework.geometry.curve import Curve, Floats, Point, Points
from wedgework.geometry.fair import Tangents, Through, fair_near
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import Affine, inverse, rotation
from wedgework.geometry.nearest import nearest
from wedgework.geometry.tolerances import JOINT_RAD, SAME_STATION_MM
from wedgework.geometry.turning import angle_between, end_tangent, start_tangent
from wedgework.pattern.boundary import Side
from wedgework.pattern.document import Project, Run, parse_ref
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.laying import (
    MOST_TURNED_RAD,
    STILL,
    Laid,
    is_walked_back,
    joints_of,
    laid_together,
    middle_of,
    mirrored_back,
)
from wedgework.pattern.round_corner import Joint, joint_after

BLEND_MM: Final = 60.0
"""A peak or dent of a line is drawn out over so much of it; common practice, no source."""

MERGED_MM: Final = 8.0
"""A point and the mirror image of another so near to it are meant for one place."""

EVEN_SHARE: Final = 8.0
"""Waves of a drawn line that are shorter than this part of it are a hand's, and not meant."""

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
            line = drawing.pulled_line(self.at_mm, np.array(self.by_mm))
        elif drawing.is_true:
            return project
        fair = fair_near(line, self.over_mm, drawing.tangents(line), drawing.fixed)
        return drawing.with_line(fair)


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
        points = drawing.points_here(self.points_mm)
        points[0] = drawing.first.corner_near(points[0])
        points[-1] = drawing.last.corner_near(points[-1])
        if len(points) == 2 and np.hypot(*(points[1] - points[0])) <= SAME_STATION_MM:
            raise EditRefused("A line needs two different points.")
        return drawing.with_line(drawing.smooth_line(points))


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Drawing:
    """A line's pieces laid together, the line as it is, and what holds at its ends.

    Where the line is its own mirror image about a piece in the middle, it is laid there; `mirror`
    is that image, None elsewhere. `from_first` takes places told on its first piece here. Of a
    ring, `closing_rad` is how it turns where it closes.
    """

    project: Project
    laid: tuple[Laid, ...]
    from_first: Affine
    mirror: Affine | None
    is_back: bool
    line: Curve
    first: LineEnd
    last: LineEnd
    closing_rad: float | None

    @classmethod
    def of(cls, project: Project, edges: Sequence[str]) -> _Drawing:
        """EditRefused where the edges make no line, or miss one too far."""
        run: Run = tuple(parse_ref(text) for text in edges)
        laid = laid_together(project, run)
        for _, joint in joints_of(laid):
            _refuse_corner(joint)
        middle = middle_of(project, laid)
        here = next((i for i, one in enumerate(laid) if not one.side.mirrored), None)
        # Pieces as drawn lie as drawn here, on the left of the walk, whichever is named first.
        shown = here if middle is None else middle
        from_first = STILL if shown is None else inverse(laid[shown].motion)
        laid = tuple(replace(one, motion=from_first.after(one.motion)) for one in laid)
        segments = np.concatenate([one.curve.segments for one in laid])
        segments[1:, 0] = segments[:-1, 3]
        return cls(
            project=project,
            laid=laid,
            from_first=from_first,
            mirror=None if middle is None else _between(laid[middle - 1], laid[middle + 1]),
            is_back=is_walked_back(project, run),
            line=Curve(segments),
            first=line_end_of(project, laid[0], at_start=True),
            last=line_end_of(project, laid[-1], at_start=False),
            closing_rad=_closing_rad(project, laid),
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
        misses.append(self.closing_rad or 0.0)
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

    def with_line(self, line: Curve) -> Project:
        """The project where the line has become the edges of its pieces."""
        if self.mirror is None:
            whole = Half(self.laid, (self.first, self.last))
            return with_line_across(self.project, whole, line)
        middle = len(self.laid) // 2
        line = self._own_mirror_image(line, self.mirror)
        half = Half(self.laid[middle:], (self._middle_end(self.laid), self.last))
        image = None
        if any(one.side.twin not in self._sides for one in self.laid[:middle]):
            laid = mirrored_back(self.laid, self.mirror)
            ends = (self._middle_end(laid), self.first.mirrored_back(self.project, self.mirror))
            image = Half(laid[middle:], ends)
        after = with_line_across(self.project, half, line, image)
        self._refuse_uneven(after)
        return after

    @property
    def _sides(self) -> set[Side]:
        return {one.side for one in self.laid}

    def _refuse_uneven(self, after: Project) -> None:
        """EditRefused where the piece in the middle turned out not to be its own mirror image."""
        for one in self.laid[:-1]:
            joint = joint_after(after, one.side)
            if joint is None or abs(joint.angle_rad - np.pi) > JOINT_RAD:
                piece = self.laid[len(self.laid) // 2].piece
                raise EditRefused(
                    f"Piece “{piece.name or piece.id}” in the middle is not its own mirror image, "
                    "so one line cannot be drawn over both of its sides.",
                    culprit=piece.id,
                )

    def _middle_end(self, laid: Sequence[Laid]) -> LineEnd:
        """Where the line enters the piece in the middle."""
        middle = len(laid) // 2
        ((_, joint),) = list(joints_of(laid))[middle - 1 : middle]
        leg = Leg.of(self.project, joint.steps[-1].enters, starts=False)
        return LineEnd(
            leg=leg,
            motion=laid[middle].motion,
            is_mirrored=False,
            slides=False,
            is_crossed=True,
        )

    def _own_mirror_image(self, line: Curve, mirror: Affine) -> Curve:
        """The mean of a line and its mirror image, which is its own."""
        image = mirror.points(line.segments)[::-1, ::-1]
        segments = (line.segments + image) / 2
        segments[1:, 0] = segments[:-1, 3]
        return Curve(segments)

    def points_here(self, points_mm: Sequence[PointMm]) -> Points:
        """Points of a line where it is laid, from its start; their mirror images with them."""
        points = self.from_first.points(points_mm[::-1] if self.is_back else points_mm)
        if self.mirror is None:
            return points
        rows = np.concatenate([points, self.mirror.points(points)])
        at = np.array([nearest(self.line, point).station_mm for point in rows])
        rows, at = rows[at.argsort()], np.sort(at)
        groups = np.split(rows, np.flatnonzero(np.diff(at) > MERGED_MM) + 1)
        return np.array([group.mean(axis=0) for group in groups])

    def pulled_line(self, at_mm: float, by_mm: Floats) -> Curve:
        """The line pulled at a station; EditRefused at its ends."""
        whole = length_mm(self.line)
        at = whole - at_mm if self.is_back else at_mm
        if not SAME_STATION_MM < at < whole - SAME_STATION_MM:
            raise EditRefused(f"Take hold between 0 and {whole:.1f} mm, the ends of the line.")
        by = self.from_first.linear @ by_mm
        pulls = [(at, by)]
        if self.mirror is not None and abs(2 * at - whole) > MERGED_MM:
            pulls.append((whole - at, self.mirror.linear @ by))
        line = self.line
        for place, way in pulls:
            found = pulled(line, place, way)
            if found is None:
                raise EditRefused("So near to its end the line cannot be pulled.")
            line = found
        return line

    def tangents(self, line: Curve) -> tuple[Point, Point]:
        """Directions at both ends: as they are, or square to what the line is mirrored in."""
        if self.closing_rad is not None:
            return self._closing_tangents(line, self.closing_rad)
        first = self.first.square if self.first.is_mirrored else start_tangent(line)
        last = self.last.square if self.last.is_mirrored else end_tangent(line)
        return first, last

    def _closing_tangents(self, line: Curve, closing_rad: float) -> tuple[Point, Point]:
        """Directions at both ends of a ring, each turned by half of what it misses going on by."""
        start, end = start_tangent(line), end_tangent(line)
        turned = angle_between(start_tangent(self.line), start)
        turned -= angle_between(end_tangent(self.line), end)
        half = (closing_rad + turned) / 2
        return rotation(-half).linear @ start, rotation(half).linear @ end

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
        if self.closing_rad is not None:
            line = smooth_through(points, *self.tangents(line))
        if self.mirror is None:
            return line
        # As many cubics on either side, so that it has a mean with its mirror image.
        return fair_near(line, length_mm(line) / EVEN_SHARE, self.tangents(line), self.fixed)

    def _drawn_tangents(self) -> Tangents:
        ends = (self.first, self.last)
        first, last = (end.square if end.is_mirrored else None for end in ends)
        return first, last


def _between(one: Laid, other: Laid) -> Affine:
    """The motion that lays one image of a pair to the other."""
    return other.motion.after(inverse(one.motion))


def _closing_rad(project: Project, laid: Sequence[Laid]) -> float | None:
    """By how much a ring turns to its left where its last edge meets its first; None if none.

    Not where that is meant to be a corner.
    """
    joint = joint_after(project, laid[-1].side)
    if joint is None or joint.side != laid[0].side or not joint.steps:
        return None
    turn = np.pi - joint.angle_rad
    return turn if abs(turn) <= MOST_TURNED_RAD else None


def _refuse_corner(joint: Joint) -> None:
    if abs(joint.angle_rad - np.pi) > MOST_TURNED_RAD:
        miss = np.degrees(abs(joint.angle_rad - np.pi))
        raise EditRefused(
            f"At corner {joint.corners[0]} the edges miss a line by {miss:.1f} degrees: that is a "
            "corner, and no line is drawn through it.",
            culprit=joint.corners[0],
        )
