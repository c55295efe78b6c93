"""Whether a seam goes together at all, ends in a line, and shapes anything."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from wedgework.checks.finding import EditData, Finding, Mend, Rule, called
from wedgework.checks.lengths import middle_point
from wedgework.pattern.boundary import Side
from wedgework.pattern.document import Project, Ref, Run, Seam
from wedgework.pattern.ends import ENDS, End, run_end
from wedgework.pattern.instances import reversed_run
from wedgework.pattern.lookup import edge_in, piece_of, seams_of, the_edge
from wedgework.pattern.round_corner import Joint, joint_round, leaps_between
from wedgework.pattern.runs import walked
from wedgework.pattern.seams import measure_seam

CORNER_DEG: Final = 3.0
"""A line across a seam may miss being straight there by so much; common practice, no source."""

LINE_DEG: Final = 45.0
"""What misses a line by more may be meant as a corner; common practice, no source."""

FLAT_DEG: Final = 5.0
"""A seam with less dome and less hollow than this joins flat; common practice, no source."""


def seam_twisted(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """A seam of the skin that would lay the pieces of both sides on one side of it."""
    if seam.laid_on or not _is_twisted(seam.a, seam.b):
        return ()
    # Of two ordinary pieces the walk leaves A on its left, so B is the one to turn; else A is.
    side = "b" if seam.a[0].on_left else "a"
    turn = {"edit": "turn_side", "seam": seam.id, "side": side}
    finding = Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"Seam {called(seam)} would lay the pieces of both sides on one side of it: one side "
            "must be walked from its other end."
        ),
        where=(seam.id,),
        at_mm=run_end(walked(project, seam.a), "first").point,
        mends=(Mend(f"Turn side {side.upper()} round", (turn,)),),
    )
    return (finding,)


def _is_twisted(a: Run, b: Run) -> bool:
    lefts_a, lefts_b = ({ref.on_left for ref in run} for run in (a, b))
    return bool(lefts_a & lefts_b)


def run_jumps(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """Sides of a seam that leap from one edge of a piece to one that does not come next there."""
    return tuple(
        _leap_finding(rule, project, seam, side, pair)
        for side, run in (("A", seam.a), ("B", seam.b))
        for pair in _leaps(project, seam, run)
    )


def _leaps(project: Project, seam: Seam, run: Run) -> Iterator[tuple[Ref, Ref]]:
    back = not run[0].on_left
    for before, after in pairwise(reversed_run(run) if back else run):
        pair = (after, before) if back else (before, after)
        if _are_of_one_outline(project, pair) and leaps_between(
            project,
            Side(before.edge, before.mirrored),
            Side(after.edge, after.mirrored),
            besides=seam,
        ):
            yield pair


def _are_of_one_outline(project: Project, pair: tuple[Ref, Ref]) -> bool:
    """Whether both are edges of one piece as it lies, walked one way; an internal line is none."""
    one, other = pair
    piece = piece_of(project, one.edge)
    return (
        piece is piece_of(project, other.edge)
        and (one.mirrored, one.on_left) == (other.mirrored, other.on_left)
        and all(edge_in(piece, ref.edge) for ref in pair)
    )


def _leap_finding(
    rule: Rule, project: Project, seam: Seam, side: str, pair: tuple[Ref, Ref]
) -> Finding:
    edges = [the_edge(project, ref.edge) for ref in pair]
    first, second = (edge.name or edge.id for edge in edges)
    from_end = edges[0].curve.start if pair[0].backward else edges[0].curve.end
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"Side {side} of seam {called(seam)} leaps from “{first}” to “{second}” of "
            f"{called(piece_of(project, pair[0].edge))}: what lies between is not joined."
        ),
        where=(seam.id, *(ref.edge for ref in pair)),
        at_mm=from_end,
    )


def seam_corner(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """Ends of a seam where the open edges across it do not make one line.

    Where three pieces or more meet at an opening all their angles count, and the first seam round
    the corner tells it.
    """
    if seam.laid_on or seam.tip is not None:
        return ()
    ends: tuple[End, ...] = ENDS[1:] if seam.is_dart else ENDS
    found = (_corner_at(rule, project, seam, end) for end in reversed(ends))
    return tuple(finding for finding in found if finding is not None)


def _corner_at(rule: Rule, project: Project, seam: Seam, end: End) -> Finding | None:
    there = run_end(walked(project, seam.a), end)
    ref = there.stretch.ref
    own = Side(ref.edge, ref.mirrored)
    found = joint_round(project, own, at_end=there.is_at_edge_end != ref.mirrored)
    if found is None or _first_seam(found[1]) is not seam:
        return None
    before, joint = found
    miss = math.degrees(joint.angle_rad) - 180.0
    if abs(miss) <= CORNER_DEG:
        return None
    # Side A is told first, whichever way round the corner is walked.
    back = joint.corners[0] != there.corner
    corners = joint.corners[::-1] if back else joint.corners
    angles = [math.degrees(angle) for angle in joint.angles_rad]
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=_corner_words(seam, end, angles[::-1] if back else angles, miss),
        where=(seam.id, *dict.fromkeys(corners)),
        at_mm=there.point,
        measured=180.0 + miss,
        wanted=180.0,
        mends=_line_mends(project, (seam, end), before, joint),
    )


def _first_seam(joint: Joint) -> Seam | None:
    return next((step.seam for step in joint.steps if step.seam is not None), None)


def _corner_words(seam: Seam, end: End, angles_deg: list[float], miss_deg: float) -> str:
    shape = "a dent" if miss_deg > 0 else "a peak"
    told = ", ".join(f"{angle:.1f}" for angle in angles_deg[:-1])
    return (
        f"Where {called(seam)} {'ends' if end == 'last' else 'begins'}, its corners are "
        f"{told} and {angles_deg[-1]:.1f} degrees, {180.0 + miss_deg:.1f} together: the edge "
        f"across it has {shape} of {abs(miss_deg):.1f} degrees there."
    )


def _line_mends(
    project: Project, at: tuple[Seam, End], before: Side, joint: Joint
) -> tuple[Mend, ...]:
    """Draw the line through, unless a line so far off is a corner, or something is laid on it."""
    miss = math.degrees(joint.angle_rad) - 180.0
    sides = (before, joint.side)
    if abs(miss) > LINE_DEG or any(seams_of(project, side.edge) for side in sides):
        return ()
    seam, end = at
    turn = {"edit": "true_corner", "seam": seam.id, "end": end}
    across = Mend("Draw the edge across it as one smooth line", (_smooth_edit(before, joint),))
    mends = [Mend("Draw the edge straight on across the seam", (turn,))]
    if len(joint.steps) > 1:
        return (across,)
    return (*mends, across) if _ends_may_slide(project, joint) else tuple(mends)


def _smooth_edit(before: Side, joint: Joint) -> EditData:
    edges = [before] if joint.side == before.twin else [before, joint.side]
    return {"edit": "true_across", "edges": [str(side.ref) for side in edges]}


def _ends_may_slide(project: Project, joint: Joint) -> bool:
    """Whether no other seam hangs on the sides of the seam, which end a little elsewhere then."""
    sides = (side for step in joint.steps for side in (step.leaves, step.enters))
    return all(len(seams_of(project, side.edge)) == 1 for side in sides)


def flat_seam(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """A seam of the skin between two different pieces that shapes nothing."""
    if seam.laid_on or seam.is_dart or _joins_one_piece(project, seam):
        return ()
    found = measure_seam(project, seam)
    dome, hollow = math.degrees(found.dome_rad), math.degrees(found.hollow_rad)
    if max(dome, hollow) >= FLAT_DEG:
        return ()
    finding = Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"Seam {called(seam)} joins flat: {dome:.1f} degrees of dome and {hollow:.1f} of "
            "hollow. It decorates, and makes no room."
        ),
        where=(seam.id,),
        at_mm=middle_point(found.a),
        measured=max(dome, hollow),
        wanted=FLAT_DEG,
    )
    return (finding,)


def _joins_one_piece(project: Project, seam: Seam) -> bool:
    a, b = ({piece_of(project, ref.edge).id for ref in run} for run in (seam.a, seam.b))
    return a == b
