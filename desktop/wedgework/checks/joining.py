"""Whether a seam goes together at all, ends in a line, and shapes anything."""

from __future__ import annotations

import math
from typing import Final

from wedgework.checks.finding import Finding, Mend, Rule, called
from wedgework.checks.lengths import middle_point
from wedgework.pattern.document import Project, Run, Seam
from wedgework.pattern.ends import ENDS, End, RunEnd, run_end
from wedgework.pattern.lookup import piece_of, seams_of
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


def seam_corner(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """Ends of a seam where the open edges across it do not make one line."""
    if seam.laid_on:
        return ()
    ends: tuple[End, ...] = ENDS[1:] if seam.is_dart else ENDS
    found = (_corner_at(rule, project, seam, end) for end in reversed(ends))
    return tuple(finding for finding in found if finding is not None)


def _corner_at(rule: Rule, project: Project, seam: Seam, end: End) -> Finding | None:
    a, b = run_end(walked(project, seam.a), end), run_end(walked(project, seam.b), end)
    if not (a.is_open(project) and b.is_open(project)):
        return None
    one, other = math.degrees(a.angle_rad), math.degrees(b.angle_rad)
    miss = one + other - 180.0
    if abs(miss) <= CORNER_DEG:
        return None
    shape = "a dent" if miss > 0 else "a peak"
    corners = dict.fromkeys((a.corner, b.corner))
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"Where {called(seam)} {'ends' if end == 'last' else 'begins'}, its corners are "
            f"{one:.1f} and {other:.1f} degrees, {one + other:.1f} together: the edge across it "
            f"has {shape} of {abs(miss):.1f} degrees there."
        ),
        where=(seam.id, *corners),
        at_mm=a.point,
        measured=one + other,
        wanted=180.0,
        mends=_line_mends(project, seam, end, (a, b)),
    )


def _line_mends(
    project: Project, seam: Seam, end: End, across: tuple[RunEnd, RunEnd]
) -> tuple[Mend, ...]:
    """Draw the line through, unless a line so far off is a corner, or something is laid on it."""
    miss = math.degrees(sum(there.angle_rad for there in across)) - 180.0
    if abs(miss) > LINE_DEG or any(seams_of(project, there.neighbour.id) for there in across):
        return ()
    edit = {"edit": "true_corner", "seam": seam.id, "end": end}
    return (Mend("Draw the edge straight on across the seam", (edit,)),)


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
