"""Move corners, handles and points of edges; move and turn whole pieces."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Annotated, Final, Literal

import numpy as np
from msgspec import Meta
from numpy.typing import ArrayLike

from wedgework.edits.base import Degrees, Edit, Id, NotNegativeMm, PointMm
from wedgework.edits.carry import cubic_stations, with_edges_reshaped
from wedgework.geometry.curve import Curve, Floats, Point, with_ends, with_handles
from wedgework.geometry.ends import end_moved, start_moved
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import fill_lengths, length_mm, parameters_at
from wedgework.geometry.motion import Affine, moved, rotation, translation
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.geometry.turning import joint_turnings_rad
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Cutout, Edge, Label, Line, Piece, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import around_corner, piece_of, the_edge, the_piece

MOST_FOLLOWED: Final = 20.0
"""A handle that goes further than this for a pull makes a loop, not an edge; found by trying."""


class MoveCorner(Edit, frozen=True, kw_only=True):
    """Move a corner; straight edges stay straight, on a curved one its handle goes along."""

    corner: Annotated[Id, Meta(description="corner that moves")]
    by_mm: Annotated[PointMm, Meta(description="how far, right and up")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such corner, or an edge would have no length left."""
        piece = piece_of(project, self.corner)
        before, after = around_corner(piece, self.corner)
        if self.by_mm == (0.0, 0.0):
            return project
        to = after.curve.start + np.array(self.by_mm)
        if before is after:
            edges = [replace(after, curve=end_moved(start_moved(after.curve, to), to))]
        else:
            edges = [
                replace(before, curve=end_moved(before.curve, to)),
                replace(after, curve=start_moved(after.curve, to)),
            ]
        refuse_vanished(edges)
        return with_edges_reshaped(project, piece, edges)


def refuse_vanished(edges: list[Edge]) -> None:
    """EditRefused where one of the edges has no length."""
    fill_lengths(edge.curve for edge in edges)
    for edge in edges:
        if length_mm(edge.curve) <= SAME_STATION_MM:
            raise EditRefused(
                f"Edge “{edge.name or edge.id}” would have no length left.", culprit=edge.id
            )


class BendEdge(Edit, frozen=True, kw_only=True):
    """Move a handle of an edge: a control point of one of its cubics."""

    edge: Annotated[Id, Meta(description="edge that bends")]
    cubic: Annotated[int, Meta(ge=0, description="which cubic of its chain, from 0")] = 0
    handle: Annotated[
        Literal["first", "second"], Meta(description="the handle at its start or at its end")
    ]
    by_mm: Annotated[PointMm, Meta(description="how far, right and up")]
    smooth: Annotated[
        bool, Meta(description="whether the handle across a smooth joint stays in line with it")
    ] = True

    def change(self, project: Project) -> Project:
        """EditRefused where the edge has no such cubic."""
        edge = the_edge(project, self.edge)
        if self.cubic >= len(edge.curve):
            raise EditRefused(
                f"Edge “{edge.name or edge.id}” has {len(edge.curve)} parts, not {self.cubic + 1}.",
                culprit=edge.id,
            )
        if self.by_mm == (0.0, 0.0):
            return project
        curve = self._bent(edge.curve)
        return with_edges_reshaped(
            project, piece_of(project, self.edge), [replace(edge, curve=curve)]
        )

    def _bent(self, curve: Curve) -> Curve:
        segments = curve.segments.copy()
        column = 1 if self.handle == "first" else 2
        segments[self.cubic, column] += self.by_mm
        other = self.cubic - 1 if column == 1 else self.cubic + 1
        if self.smooth and 0 <= other < len(curve) and _smooth_at(curve, max(self.cubic, other)):
            joint = segments[self.cubic, 0 if column == 1 else 3]
            opposite = segments[other, 3 - column]
            segments[other, 3 - column] = _in_line(segments[self.cubic, column], joint, opposite)
        return Curve(segments)


def _smooth_at(curve: Curve, joint: int) -> bool:
    return bool(abs(joint_turnings_rad(curve)[joint - 1]) < math.radians(1.0))


def _in_line(handle: Point, joint: Point, opposite: Point) -> Point:
    """`opposite` turned about the joint until it lies in line with `handle`; its length stays."""
    away = joint - handle
    size = float(np.hypot(*away))
    if size <= SAME_STATION_MM:
        return opposite
    return np.asarray(joint + away / size * np.hypot(*(opposite - joint)))


class PullEdge(Edit, frozen=True, kw_only=True):
    """Pull an edge at a point of it: its ends stay, and it passes where the point was put."""

    edge: Annotated[Id, Meta(description="edge that is pulled")]
    at_mm: Annotated[NotNegativeMm, Meta(description="where it is taken hold of, from its start")]
    by_mm: Annotated[PointMm, Meta(description="how far that point goes, right and up")]

    def change(self, project: Project) -> Project:
        """EditRefused where the point is an end of the edge: corners are moved as corners."""
        edge = the_edge(project, self.edge)
        whole = length_mm(edge.curve)
        if not SAME_STATION_MM < self.at_mm < whole - SAME_STATION_MM:
            raise EditRefused(
                f"Take hold between 0 and {whole:.1f} mm, the ends of the edge.", culprit=edge.id
            )
        if self.by_mm == (0.0, 0.0):
            return project
        curve = pulled(edge.curve, self.at_mm, np.array(self.by_mm))
        if curve is None:
            raise EditRefused(
                "So near to a corner an edge cannot be pulled; move the corner instead.",
                culprit=edge.id,
            )
        return with_edges_reshaped(
            project, piece_of(project, self.edge), [replace(edge, curve=curve)]
        )


def pulled(curve: Curve, at_mm: float, by_mm: Floats) -> Curve | None:
    """The curve with the point at a station moved by (2,) mm, both ends where they were.

    Every point follows with a weight that falls off towards the ends; at a joint both handles turn
    alike, so that a smooth chain stays smooth. The weights are made greater until the point itself
    has gone all the way; None where some point would then go more than MOST_FOLLOWED times as far.
    """
    curve = with_handles(curve)
    parameter = float(parameters_at(curve, [at_mm])[0])
    index = min(int(parameter), len(curve) - 1)
    t = parameter - index
    basis = np.array([(1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t * t, t**3])
    weight = _pull_weights(curve, at_mm)
    own = float(basis @ weight[index])
    if float(np.abs(weight).max()) > MOST_FOLLOWED * own:
        return None
    weight /= own
    segments = curve.segments + weight[..., None] * by_mm
    segments[1:, 0] = segments[:-1, 3]
    return with_ends(Curve(segments), curve.start, curve.end)


def _pull_weights(curve: Curve, peak_mm: float) -> Floats:
    """(n, 4): how far each control point follows, by its joint's weight and that weight's slope."""
    stations = np.array(cubic_stations(curve))
    rest_mm = stations[-1] - peak_mm
    before = stations <= peak_mm
    reach = np.where(before, peak_mm, rest_mm)
    phase = math.pi / 2 * np.where(before, stations, stations[-1] - stations) / reach
    weight = np.sin(phase)
    slope = np.where(before, 1.0, -1.0) * math.pi / 2 / reach * np.cos(phase)
    handles = np.hypot(*np.moveaxis(np.diff(curve.segments, axis=1)[:, [0, 2]], -1, 0))
    first, last = weight[:-1], weight[1:]
    inner = first + slope[:-1] * handles[:, 0], last - slope[1:] * handles[:, 1]
    return np.stack([first, *inner, last], axis=1)


class MovePiece(Edit, frozen=True, kw_only=True):
    """Move a piece on the table, with all that is in it."""

    piece: Annotated[Id, Meta(description="piece that moves")]
    by_mm: Annotated[PointMm, Meta(description="how far, right and up")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such piece."""
        piece = the_piece(project, self.piece)
        if self.by_mm == (0.0, 0.0):
            return project
        return with_pieces(project, moved_piece(piece, translation(self.by_mm)))


class TurnPiece(Edit, frozen=True, kw_only=True):
    """Turn a piece on the table about a point, with all that is in it."""

    piece: Annotated[Id, Meta(description="piece that turns")]
    turn_deg: Annotated[Degrees, Meta(description="counter-clockwise")]
    about_mm: Annotated[
        PointMm | None, Meta(description="point that stays; the middle of its box if left out")
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such piece."""
        piece = the_piece(project, self.piece)
        if self.turn_deg == 0.0:
            return project
        about = middle_of(piece) if self.about_mm is None else self.about_mm
        motion = rotation(math.radians(self.turn_deg), about)
        return with_pieces(project, moved_piece(piece, motion))


def middle_of(piece: Piece) -> Point:
    """The middle of the piece's box, (2,) mm."""
    low, high = bounds_of_all([edge.curve for edge in piece.edges]).reshape(2, 2)
    return np.asarray((low + high) / 2)


def moved_piece(piece: Piece, motion: Affine) -> Piece:
    """The piece with all that is in it under a rigid motion (no mirror image)."""
    return replace(
        piece,
        edges=moved_ring(piece.edges, motion),
        lines=tuple(moved_line(line, motion) for line in piece.lines),
        labels=tuple(moved_label(label, motion) for label in piece.labels),
        cutouts=tuple(moved_cutout(cutout, motion) for cutout in piece.cutouts),
    )


def moved_ring(edges: tuple[Edge, ...], motion: Affine) -> tuple[Edge, ...]:
    """Edges under a motion; joints stay joints bit for bit, whatever the rounding."""
    rows = [replace(edge, curve=moved(edge.curve, motion)) for edge in edges]
    return stitched(rows)


def stitched(edges: list[Edge]) -> tuple[Edge, ...]:
    """A ring whose edges each start bit for bit where the last one ended.

    The starts give way to the ends, by what rounding has put between them.
    """
    rows = list(edges)
    for index, edge in enumerate(rows):
        end = rows[index - 1].curve.end
        if not np.array_equal(edge.curve.start, end):
            rows[index] = replace(edge, curve=with_ends(edge.curve, end, edge.curve.end))
    return tuple(rows)


def moved_line(line: Line, motion: Affine) -> Line:
    """An internal line under a motion."""
    return replace(line, curve=moved(line.curve, motion))


def moved_label(label: Label, motion: Affine) -> Label:
    """A label under a motion; its text turns along."""
    turn = math.atan2(motion.linear[1, 0], motion.linear[0, 0])
    at_mm = stored_point(motion.points(label.at_mm))
    return replace(label, at_mm=at_mm, angle_rad=label.angle_rad + turn)


def moved_cutout(cutout: Cutout, motion: Affine) -> Cutout:
    """A cut-out under a motion."""
    return replace(cutout, edges=moved_ring(cutout.edges, motion))


def stored_point(point: ArrayLike) -> Point:
    """A point, (2,) mm, as the document stores it: float64, read-only."""
    stored = np.array(point, dtype=np.float64)
    stored.flags.writeable = False
    return stored
