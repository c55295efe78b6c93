"""Neighbouring pieces laid together at the ends of their seams, and the lines that run across.

A hem, a neckline or an armhole is one line over several pieces. Here is the rigid motion that lays
the piece of one open edge to that of the edge before it: the corners meet, and the seam lines leave
them in one direction.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np

from wedgework.geometry.curve import Curve, Point, reversed_curve
from wedgework.geometry.motion import Affine, inverse, moved
from wedgework.geometry.turning import end_tangent, start_tangent
from wedgework.pattern.boundary import Side
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Run, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.instances import flipped, reversed_run
from wedgework.pattern.lookup import edge_in, piece_of, the_edge
from wedgework.pattern.round_corner import (
    Joint,
    Step,
    after_of,
    before_of,
    joint_after,
    joint_round,
    side_before,
    step_over,
)

MOST_TURNED_RAD: Final = math.radians(60.0)
"""A line that misses by more is meant to have a corner; common practice, no source."""

SPLIT_RAD: Final = math.radians(15.0)
"""Edges of one piece that meet straighter than this are one line: what import calls no corner."""


# Laying


def walked_on_left(project: Project, side: Side) -> Curve:
    """The curve of a side where its piece is drawn, in the direction that has it on the left.

    Of a mirror image that is against the edge's own direction.
    """
    curve = the_edge(project, side.edge).curve
    return reversed_curve(curve) if side.mirrored else curve


def laid_at(leaves: Curve, enters: Curve, *, turned_over: bool, between_rad: float = 0.0) -> Affine:
    """The motion that lays the end of `enters` to the start of `leaves`, both going one way there.

    `turned_over`: one of the two is a mirror image of what is drawn.
    """
    ends = (leaves.start, start_tangent(leaves)), (enters.end, -end_tangent(enters))
    return laid_end(*ends, turned_over=turned_over, between_rad=between_rad)


def laid_end(
    leaves: tuple[Point, Point],
    enters: tuple[Point, Point],
    *,
    turned_over: bool,
    between_rad: float = 0.0,
) -> Affine:
    """As `laid_at`, of the ends alone: each its place and its direction away from the corner."""
    (start, along), (end, away) = leaves, enters
    angle = math.atan2(along[1], along[0]) - between_rad
    if turned_over:
        # A mirror image in the line at half the sum of both angles.
        double = angle + math.atan2(away[1], away[0])
        linear = np.array(
            [[math.cos(double), math.sin(double)], [math.sin(double), -math.cos(double)]]
        )
    else:
        turn = angle - math.atan2(away[1], away[0])
        linear = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    return Affine(linear, start - linear @ end)


def over(project: Project, joint: Joint) -> Affine:
    """The motion that lays the last piece round a corner to the first, in the place of that one."""
    motion = STILL
    for step in joint.steps:
        motion = motion.after(_over_step(project, step))
    return motion


def _over_step(project: Project, step: Step) -> Affine:
    leaves, enters = (walked_on_left(project, side) for side in (step.leaves, step.enters))
    turned = step.leaves.mirrored != step.enters.mirrored
    return laid_at(leaves, enters, turned_over=turned, between_rad=step.between_rad)


STILL: Final = Affine(np.eye(2), np.zeros(2))
"""The motion that moves nothing."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Laid:
    """An open side of a line, laid to the ones before it.

    `motion` takes its piece as drawn to the place of the line's first piece; `joint` is the corner
    to the next one, None at the last.
    """

    side: Side
    edge: Edge
    piece: Piece
    motion: Affine
    joint: Joint | None

    @property
    def curve(self) -> Curve:
        """Its curve in the place of the first piece, in the direction of the walk."""
        curve = reversed_curve(self.edge.curve) if self.side.mirrored else self.edge.curve
        return moved(curve, self.motion)


def laid_together(project: Project, edges: Run) -> tuple[Laid, ...]:
    """The sides of a line laid together in the place of its first edge's piece.

    In the order of the garment's boundary, walked on its left, whichever way round `edges` name
    them. Raises EditRefused where one of them does not follow the one before.
    """
    sides, joints = _in_walk(project, edges)
    motions = [STILL]
    for joint in joints:
        motions.append(motions[-1].after(over(project, joint)))
    back = inverse(motions[sides.index(_sides_of(project, edges)[0])])
    return tuple(
        Laid(
            side=side,
            edge=the_edge(project, side.edge),
            piece=piece_of(project, side.edge),
            motion=back.after(motion),
            joint=joint,
        )
        for side, motion, joint in zip(sides, motions, (*joints, None), strict=True)
    )


def joints_of(laid: Sequence[Laid]) -> Iterator[tuple[Laid, Joint]]:
    """The sides of a line that have a next one, each with the joint to it."""
    return ((one, one.joint) for one in laid if one.joint is not None)


def mirrored_back(laid: Sequence[Laid], mirror: Affine) -> tuple[Laid, ...]:
    """The mirror image of a line, walked on its left again: what came last comes first."""
    joints = [None if one.joint is None else _turned_back(one, one.joint) for one in laid]
    return tuple(
        Laid(
            side=one.side.twin,
            edge=one.edge,
            piece=one.piece,
            motion=mirror.after(one.motion),
            joint=joint,
        )
        for one, joint in zip(reversed(laid), [*reversed(joints[:-1]), None], strict=True)
    )


def _turned_back(before: Laid, joint: Joint) -> Joint:
    """A joint as it is in the mirror image, from what comes after it to what comes before."""
    return Joint(
        before.side.twin,
        tuple(
            replace(step, leaves=step.enters.twin, enters=step.leaves.twin)
            for step in reversed(joint.steps)
        ),
        joint.corners[::-1],
        joint.angles_rad[::-1],
    )


def is_walked_back(project: Project, edges: Run) -> bool:
    """Whether a line's edges are named against the walk that has the pieces on the left."""
    if len(edges) == 1:
        return edges[0].backward
    first, second = _sides_of(project, edges)[:2]
    joint = joint_after(project, first)
    return joint is None or joint.side != second


def _sides_of(project: Project, edges: Run) -> list[Side]:
    """The sides of a line; told from a mirror image, those of its other half, if it has one."""
    run = flipped(edges) if edges[0].mirrored and _has_other_half(project, edges) else edges
    return [Side(ref.edge, ref.mirrored) for ref in run]


def _has_other_half(project: Project, edges: Run) -> bool:
    return all(piece_of(project, ref.edge).cutting != "single" for ref in edges)


def _in_walk(project: Project, edges: Run) -> tuple[list[Side], list[Joint]]:
    """The sides of a line in walking order and the joints between; EditRefused if it is none."""
    if not edges:
        raise EditRefused("A line across pieces needs its edges.")
    sides = _sides_of(project, edges)
    _refuse_doubled(project, sides)
    for side in sides:
        if step_over(project, side) is not None:
            raise EditRefused(
                f"“{_called(project, side.edge)}” is joined or folded; a line across pieces runs "
                "along open edges.",
                culprit=side.edge,
            )
    if is_walked_back(project, edges):
        sides.reverse()
    joints: list[Joint] = []
    for before, after in pairwise(sides):
        joint = joint_after(project, before)
        if joint is None or joint.side != after:
            raise EditRefused(
                f"“{_called(project, after.edge)}” does not follow “"
                f"{_called(project, before.edge)}” round the garment: name the edges in the order "
                "in which they lie there.",
                culprit=after.edge,
            )
        joints.append(joint)
    return sides, joints


def _refuse_doubled(project: Project, sides: Sequence[Side]) -> None:
    """An edge may stand with its mirror image only about a piece that lies in the middle."""
    if _is_mirrored_about_middle(project, sides):
        return
    for number, side in enumerate(sides):
        if any(side.edge == one.edge for one in sides[:number]):
            raise EditRefused(
                f"“{side.edge}” stands twice in the line: name one half, the mirror image follows; "
                "or as much on either side of a piece in the middle.",
                culprit=side.edge,
            )


def _is_mirrored_about_middle(project: Project, sides: Sequence[Side]) -> bool:
    middle = len(sides) // 2
    if len(sides) % 2 == 0 or not middle or sides[middle - 1].twin != sides[middle + 1]:
        return False
    pairs = zip(sides, reversed(sides), strict=True)
    return all(_are_images(project, one, other) for one, other in list(pairs)[:middle])


def _are_images(project: Project, one: Side, other: Side) -> bool:
    """Whether two sides lie as mirror images: twins, or two edges of a piece that has no twin.

    A band round a hood ends on both sides of the face: it is its own mirror image.
    """
    piece = piece_of(project, one.edge)
    is_own = piece.cutting == "single" and piece is piece_of(project, other.edge)
    return one.twin == other or (is_own and one != other)


def middle_of(project: Project, laid: Sequence[Laid]) -> int | None:
    """The number of the piece about which a line is its own mirror image; None where it is not."""
    if _is_mirrored_about_middle(project, [one.side for one in laid]):
        return len(laid) // 2
    return None


def _called(project: Project, edge: EdgeId) -> str:
    return the_edge(project, edge).name or edge


# Finding a line


def line_through(project: Project, edge: EdgeId) -> Run:
    """The line that an open edge is part of: all open edges that follow it both ways.

    It ends where it has gone round, where its own mirror image begins, and at a corner that turns
    too far for a line. About a piece that has no mirror image it goes as far on either side. A
    joined edge, or what is no edge, is a line of none.
    """
    start = Side(edge, mirrored=False)
    if not _is_edge(project, edge) or step_over(project, start) is not None:
        return ()
    line = [start]
    while (joint := joint_after(project, line[-1])) and _goes_on(joint):
        if joint.side in line or joint.side == line[-1].twin:
            break
        line.append(joint.side)
    while (before := side_before(project, line[0])) is not None:
        joint = joint_after(project, before)
        if joint is None or not _goes_on(joint) or before in line or before == line[0].twin:
            break
        line.insert(0, before)
    line = _evenly_mirrored(project, line)
    run = tuple(side.ref for side in line)
    if not line[0].mirrored:
        return run
    # It begins with a piece as drawn, if one of its ends is that, or its other half has one.
    return flipped(run) if _has_other_half(project, run) else reversed_run(run)


def _evenly_mirrored(project: Project, line: list[Side]) -> list[Side]:
    """The line, where it holds mirror images only so far as it is its own about its middle."""
    twins = [i + line.index(side.twin) for i, side in enumerate(line) if side.twin in line]
    if not twins:
        return line
    reach = 0
    middle = twins[0] // 2
    while middle - reach > 0 and middle + reach + 1 < len(line):
        if not _are_images(project, line[middle - reach - 1], line[middle + reach + 1]):
            break
        reach += 1
    return line[middle - reach : middle + reach + 1]


@dataclass(frozen=True, slots=True)
class LineEnd:
    """An outer end of a line: the side beyond the corner, and what lies beyond that.

    `is_mirrored`: the line's own mirror image; `is_open`: nothing, the side beyond is open itself.
    """

    beyond: Side
    is_mirrored: bool
    is_open: bool


def line_end(project: Project, side: Side, *, at_start: bool) -> LineEnd:
    """What lies beyond a line whose first (or last) side this is, walked on its left."""
    if at_start:
        beyond, following = before_of(project, side), side_before(project, side)
    else:
        beyond = after_of(project, side)[2]
        joint = joint_after(project, side)
        following = None if joint is None else joint.side
    step = step_over(project, beyond)
    is_own = step is not None and step.enters.edge == beyond.edge
    return LineEnd(
        beyond=beyond, is_mirrored=is_own and following == side.twin, is_open=step is None
    )


def line_at_seam(project: Project, seam: Seam) -> tuple[Run, EdgeId]:
    """The line that runs over an end of a seam, its far end first, and its edge at side A.

    Nothing where both ends lie inside the garment.
    """
    for is_last in (True, False):
        ref = seam.a[-1 if is_last else 0]
        side = Side(ref.edge, ref.mirrored)
        found = joint_round(project, side, at_end=is_last == ref.on_left)
        if found is not None and not seam.laid_on:
            before, after = found[0].edge, found[1].side.edge
            line = line_through(project, before)
            own = piece_of(project, after).id == piece_of(project, ref.edge).id
            is_there = own and any(one.edge == after for one in line)
            return line, after if is_there else before
    return (), ""


def laid_pieces(project: Project, laid: Sequence[Laid]) -> Iterator[tuple[Piece, Affine]]:
    """Every piece that a line's laying places, those that touch it in a corner alone as well."""
    for one in laid:
        yield one.piece, one.motion
        motion = one.motion
        for step in one.joint.steps[:-1] if one.joint else ():
            motion = motion.after(_over_step(project, step))
            yield piece_of(project, step.enters.edge), motion


def _is_edge(project: Project, own: str) -> bool:
    piece = project.pieces.get(project.owners.get(own, ""))
    return piece is not None and edge_in(piece, own) is not None


def _goes_on(joint: Joint) -> bool:
    miss = abs(joint.angle_rad - math.pi)
    return miss <= (MOST_TURNED_RAD if joint.steps else SPLIT_RAD)
