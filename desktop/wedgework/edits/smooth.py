"""Make a corner smooth or sharp: turn the handles of its two edges."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id
from wedgework.edits.carry import with_edges_reshaped
from wedgework.geometry.curve import Curve, Floats, Point, is_straight
from wedgework.geometry.tolerances import KINK_RAD, SAME_STATION_MM, STRAIGHT_MM
from wedgework.geometry.turning import angle_between, end_tangent, start_tangent
from wedgework.pattern.document import Edge, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import around_corner, piece_of


class SmoothCorner(Edit, frozen=True, kw_only=True):
    """Draw the outline smoothly through a corner; a straight edge beside a curved one stays."""

    corner: Annotated[Id, Meta(description="corner that becomes smooth")]

    def change(self, project: Project) -> Project:
        """EditRefused where the outline turns straight back there, or a fold would bend."""
        piece = piece_of(project, self.corner)
        before, after = around_corner(piece, self.corner)
        if piece.fold_edge in (before.id, after.id):
            raise EditRefused(
                "A fold is straight up to its corners; they stay corners.", culprit=self.corner
            )
        incoming, outgoing = end_tangent(before.curve), start_tangent(after.curve)
        if abs(angle_between(incoming, outgoing)) < KINK_RAD:
            return project
        along = self._direction(before, after, incoming + outgoing)
        return _with_handles(project, before, after, (-along, along), piece_id=piece.id)

    def _direction(self, before: Edge, after: Edge, between: Floats) -> Floats:
        straight = [is_straight(edge.curve, STRAIGHT_MM) for edge in (before, after)]
        if straight == [True, False]:
            return end_tangent(before.curve)
        if straight == [False, True]:
            return start_tangent(after.curve)
        size = float(np.hypot(*between))
        if size <= SAME_STATION_MM:
            raise EditRefused(
                "The outline turns straight back at this corner; it cannot run on smoothly.",
                culprit=self.corner,
            )
        return np.asarray(between / size)


class SharpenCorner(Edit, frozen=True, kw_only=True):
    """Let the outline turn at a corner: both edges come in straight from where they bend next."""

    corner: Annotated[Id, Meta(description="corner that becomes sharp")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such corner."""
        piece = piece_of(project, self.corner)
        before, after = around_corner(piece, self.corner)
        first, last = before.curve.segments[-1], after.curve.segments[0]
        ways = _unit(first[1] - first[3]), _unit(last[2] - last[0])
        return _with_handles(project, before, after, ways, piece_id=piece.id)


def _unit(away: Floats) -> Floats:
    size = float(np.hypot(*away))
    return away if size == 0.0 else np.asarray(away / size)


def _with_handles(
    project: Project, before: Edge, after: Edge, ways: tuple[Floats, Floats], *, piece_id: str
) -> Project:
    """The project with the handles at a corner pointing along `ways`, as long as they were."""
    corner = after.curve.start
    start, end = after.curve.segments.copy(), before.curve.segments.copy()
    if before is after:
        end = start
    handles = _handle(end[-1, ::-1], ways[0]), _handle(start[0], ways[1])
    end[-1, 2], start[0, 1] = corner + handles[0], corner + handles[1]
    rows = [(before, end), (after, start)][before is after :]
    changed = [
        replace(edge, curve=Curve(segments))
        for edge, segments in rows
        if not np.array_equal(segments, edge.curve.segments)
    ]
    if not changed:
        return project
    return with_edges_reshaped(project, project.pieces[piece_id], changed)


def _handle(cubic: Floats, way: Floats) -> Point:
    """A handle, (2,) mm from the corner, along `way`: as long as before, a third if it had none."""
    length = float(np.hypot(*(cubic[1] - cubic[0])))
    if length <= SAME_STATION_MM:
        length = float(np.hypot(*(cubic[3] - cubic[0]))) / 3
    return np.asarray(way * length)
