"""Neighbouring pieces laid together at the ends of their seams, and the lines that run across.

A hem, a neckline or an armhole is one line over several pieces. Here is which open edge follows
which round the garment, and the rigid motion that lays the piece of the one to that of the other:
the corners meet, and the seam lines leave them in one direction.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from wedgework.geometry.curve import Curve, reversed_curve
from wedgework.geometry.motion import Affine, inverse, moved
from wedgework.geometry.turning import start_tangent
from wedgework.pattern.angles import angle_between_edges
from wedgework.pattern.boundary import MOST_PIECES_ROUND, Side, across_joint
from wedgework.pattern.document import CornerId, Edge, EdgeId, Piece, Project, Ref, Run, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.instances import MadeSeam, flipped, has_mirror, reversed_run
from wedgework.pattern.lookup import edge_in, piece_of, ring_of, skin_seam_of, the_edge

MOST_TURNED_RAD: Final = math.radians(60.0)
"""A line that misses by more is meant to have a corner; common practice, no source."""

SPLIT_RAD: Final = math.radians(15.0)
"""Edges of one piece that meet straighter than this are one line: what import calls no corner."""


@dataclass(frozen=True, slots=True)
class Step:
    """From one piece to the next, round a corner: over a seam, or over a fold (no seam).

    `leaves` starts at the corner, walked with its piece on the left, and `enters` ends there.
    `between_rad` is the angle of a third piece that lies straight through between the two.
    """

    leaves: Side
    enters: Side
    seam: Seam | None
    between_rad: float = 0.0


@dataclass(frozen=True, slots=True)
class Joint:
    """What lies round a corner between an open side and `side`, the open one that follows it."""

    side: Side
    steps: tuple[Step, ...]
    corners: tuple[CornerId, ...]
    angles_rad: tuple[float, ...]

    @property
    def angle_rad(self) -> float:
        """All angles at the corner together; pi where the line goes straight on."""
        return sum(self.angles_rad) + sum(step.between_rad for step in self.steps)


def joint_after(project: Project, side: Side) -> Joint | None:
    """The corner at the end of an open side, walked on its left; None where nothing follows."""
    steps: list[Step] = []
    corners: list[CornerId] = []
    angles: list[float] = []
    here = side
    for _ in range(MOST_PIECES_ROUND):
        corner, angle, following = _following(project, here)
        corners.append(corner)
        angles.append(angle)
        step = _step_over(project, following)
        if step is None:
            return Joint(following, tuple(steps), tuple(corners), tuple(angles))
        steps.append(step)
        here = step.enters
        if here == side:
            break
    return None


def joint_round(project: Project, side: Side, *, at_end: bool) -> tuple[Side, Joint] | None:
    """The open side before the corner at an end of a joined side, and the joint there.

    The ends are those of its walk on the left. None where the corner lies inside the garment.
    """
    start = _step_back(project, side) if at_end else side
    before = None if start is None else side_before(project, start)
    joint = None if before is None else joint_after(project, before)
    return None if before is None or joint is None else (before, joint)


def pieces_round(project: Project, seam: Seam) -> tuple[Piece, ...]:
    """The pieces that meet where a seam ends at an opening, if there are more than its own."""
    found: dict[str, Piece] = {}
    for is_last in (False, True):
        refs = [run[-1 if is_last else 0] for run in (seam.a, seam.b)]
        # Two pieces with open edges beyond their seam are the usual case, and soon told.
        if all(_is_open_beyond(project, ref, is_last=is_last) for ref in refs):
            continue
        side = Side(refs[0].edge, refs[0].mirrored)
        at = joint_round(project, side, at_end=is_last == refs[0].on_left)
        for step in at[1].steps if at else ():
            for one in (step.leaves, step.enters):
                piece = piece_of(project, one.edge)
                found[piece.id] = piece
    return tuple(found.values())


def _is_open_beyond(project: Project, ref: Ref, *, is_last: bool) -> bool:
    """Whether the edge beyond an end of a run is in no seam of the skin, and no fold."""
    piece = piece_of(project, ref.edge)
    ring = ring_of(piece, ref.edge)
    index = next(i for i, one in enumerate(ring) if one.id == ref.edge)
    beyond = ring[(index + (1 if is_last != ref.backward else -1)) % len(ring)]
    return piece.fold_edge != beyond.id and skin_seam_of(project, beyond.id) is None


def side_before(project: Project, side: Side) -> Side | None:
    """The open side that comes before an open one, walked on its left."""
    here = side
    for _ in range(MOST_PIECES_ROUND):
        previous = _before(project, here)
        back = _step_back(project, previous)
        if back is None:
            return previous
        here = back
        if here == side:
            break
    return None


def _before(project: Project, side: Side) -> Side:
    """The side of the same piece that comes before, walked on its left."""
    ring = ring_of(piece_of(project, side.edge), side.edge)
    index = next(i for i, one in enumerate(ring) if one.id == side.edge)
    step = 1 if side.mirrored else -1
    return Side(ring[(index + step) % len(ring)].id, side.mirrored)


def _following(project: Project, side: Side) -> tuple[CornerId, float, Side]:
    """The corner where a side ends, walked on its left, its angle, and the side beyond."""
    piece = piece_of(project, side.edge)
    ring = ring_of(piece, side.edge)
    index = next(i for i, one in enumerate(ring) if one.id == side.edge)
    edge = ring[index]
    if side.mirrored:
        beyond = ring[index - 1]
        return edge.corner, angle_between_edges(beyond, edge), Side(beyond.id, mirrored=True)
    beyond = ring[(index + 1) % len(ring)]
    return beyond.corner, angle_between_edges(edge, beyond), Side(beyond.id, mirrored=False)


def _step_over(project: Project, side: Side) -> Step | None:
    """Over the seam or fold that a side is; None where it is open."""
    if piece_of(project, side.edge).fold_edge == side.edge:
        return Step(side, side.twin, None)
    seam = skin_seam_of(project, side.edge)
    for a, b in _made(project, seam):
        for in_a, run in ((True, a), (False, b)):
            for index, ref in enumerate(run):
                if (ref.edge, ref.mirrored) == side:
                    enters, between = across_joint(a, b, in_a=in_a, index=index)
                    return Step(side, enters, seam, between)
    return None


def _step_back(project: Project, side: Side) -> Side | None:
    """The side that starts, walked on its left, where `side` ends; None where that is open."""
    if piece_of(project, side.edge).fold_edge == side.edge:
        return side.twin
    for left, right in _made(project, skin_seam_of(project, side.edge)):
        # Walked from its other end the seam's ends have changed places.
        a, b = reversed_run(left), reversed_run(right)
        for in_a, run in ((True, a), (False, b)):
            for index, ref in enumerate(run):
                if (ref.edge, ref.mirrored) == side:
                    return across_joint(a, b, in_a=in_a, index=index)[0]
    return None


def _made(project: Project, seam: Seam | None) -> Iterator[tuple[Run, Run]]:
    """The runs of a seam as it is made, left and right, the one walked on its left first."""
    if seam is None:
        return
    sides = [MadeSeam(seam)]
    if has_mirror(project, seam):
        sides.append(MadeSeam(seam, mirrored=True))
    for made in sides:
        a, b = (made.a, made.b) if made.a[0].on_left else (made.b, made.a)
        if all(ref.on_left for ref in a) and not any(ref.on_left for ref in b):
            yield a, b


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
    along = start_tangent(leaves)
    away = start_tangent(reversed_curve(enters))
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
    return Affine(linear, leaves.start - linear @ enters.end)


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
    _refuse_doubled(sides)
    for side in sides:
        if _step_over(project, side) is not None:
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


def _refuse_doubled(sides: Sequence[Side]) -> None:
    """An edge may stand with its mirror image only about a piece that lies in the middle."""
    if _is_mirrored_about_middle(sides):
        return
    for number, side in enumerate(sides):
        if any(side.edge == one.edge for one in sides[:number]):
            raise EditRefused(
                f"“{side.edge}” stands twice in the line: name one half, the mirror image follows; "
                "or as much on either side of a piece in the middle.",
                culprit=side.edge,
            )


def _is_mirrored_about_middle(sides: Sequence[Side]) -> bool:
    pairs = zip(sides, reversed(sides), strict=True)
    return len(sides) % 2 == 1 and all(
        one.twin == other for one, other in list(pairs)[: len(sides) // 2]
    )


def middle_of(laid: Sequence[Laid]) -> int | None:
    """The number of the piece about which a line is its own mirror image; None where it is not."""
    if len(laid) > 1 and _is_mirrored_about_middle([one.side for one in laid]):
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
    if not _is_edge(project, edge) or _step_over(project, start) is not None:
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
    line = _evenly_mirrored(line)
    run = tuple(side.ref for side in line)
    if not line[0].mirrored:
        return run
    # It begins with a piece as drawn, if one of its ends is that, or its other half has one.
    return flipped(run) if _has_other_half(project, run) else reversed_run(run)


def _evenly_mirrored(line: list[Side]) -> list[Side]:
    """The line, where it holds mirror images only so far as it is its own about its middle."""
    twins = [i + line.index(side.twin) for i, side in enumerate(line) if side.twin in line]
    if not twins:
        return line
    reach = 0
    middle = twins[0] // 2
    while middle - reach > 0 and middle + reach + 1 < len(line):
        if line[middle - reach - 1] != line[middle + reach + 1].twin:
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
        beyond, following = _before(project, side), side_before(project, side)
    else:
        beyond = _following(project, side)[2]
        joint = joint_after(project, side)
        following = None if joint is None else joint.side
    step = _step_over(project, beyond)
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
