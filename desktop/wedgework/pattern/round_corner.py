"""What lies round a corner: which open edge follows which, over seams and folds, and their angles.

Walked on its left, an edge ends at a corner; over the seams and folds there the walk goes from
piece to piece until it comes to an open edge again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wedgework.pattern.angles import angle_between_edges
from wedgework.pattern.boundary import MOST_PIECES_ROUND, Side, across_joint
from wedgework.pattern.document import CornerId, EdgeId, Piece, Project, Ref, Run, Seam
from wedgework.pattern.instances import MadeSeam, has_mirror, reversed_run
from wedgework.pattern.lookup import piece_of, ring_of, seams_of, skin_seam_of


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
        corner, angle, following = after_of(project, here)
        corners.append(corner)
        angles.append(angle)
        step = step_over(project, following)
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
        previous = before_of(project, here)
        back = _step_back(project, previous)
        if back is None:
            return previous
        here = back
        if here == side:
            break
    return None


def before_of(project: Project, side: Side) -> Side:
    """The side of the same piece that comes before, walked on its left."""
    ring = ring_of(piece_of(project, side.edge), side.edge)
    index = next(i for i, one in enumerate(ring) if one.id == side.edge)
    step = 1 if side.mirrored else -1
    return Side(ring[(index + step) % len(ring)].id, side.mirrored)


def after_of(project: Project, side: Side) -> tuple[CornerId, float, Side]:
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


def step_over(project: Project, side: Side) -> Step | None:
    """Over the seam or fold that a side is; None where it is open."""
    if piece_of(project, side.edge).fold_edge == side.edge:
        return Step(side, side.twin, None)
    for seam, a, b in _made(project, side.edge):
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
    for _, left, right in _made(project, side.edge):
        # Walked from its other end the seam's ends have changed places.
        a, b = reversed_run(left), reversed_run(right)
        for in_a, run in ((True, a), (False, b)):
            for index, ref in enumerate(run):
                if (ref.edge, ref.mirrored) == side:
                    return across_joint(a, b, in_a=in_a, index=index)[0]
    return None


def _made(project: Project, edge: EdgeId) -> Iterator[tuple[Seam, Run, Run]]:
    """Seams of the skin at an edge as they are made, left and right: the run on its left first.

    Two seams, where the other side of the edge's pair is joined by one of its own.
    """
    for seam in seams_of(project, edge):
        if seam.laid_on:
            continue
        sides = [MadeSeam(seam)]
        if has_mirror(project, seam):
            sides.append(MadeSeam(seam, mirrored=True))
        for made in sides:
            a, b = (made.a, made.b) if made.a[0].on_left else (made.b, made.a)
            if all(ref.on_left for ref in a) and not any(ref.on_left for ref in b):
                yield seam, a, b


def leaps_between(project: Project, before: Side, after: Side, besides: Seam) -> bool:
    """Whether a walk that has its pieces on the left does not come from one side to the next.

    It may pass over what is joined there, a dart or another piece, but not over the seam itself.
    """
    here = before
    for _ in range(MOST_PIECES_ROUND):
        following = after_of(project, here)[2]
        if following == after:
            return False
        step = step_over(project, following)
        if step is None or step.seam is besides:
            return True
        here = step.enters
    return True
