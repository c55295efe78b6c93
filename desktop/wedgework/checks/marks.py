"""Whether the marks of both sides of a seam meet when it is made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np

from wedgework.checks.finding import EditData, Finding, Mend, Rule, called
from wedgework.checks.lengths import point_of
from wedgework.geometry.curve import Point
from wedgework.geometry.length import point_at
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Edge, Hole, Notch, Piece, Project, Seam, Spot
from wedgework.pattern.ends import is_of_one_outline
from wedgework.pattern.lookup import holes_by_edge, notches_by_edge, seams_of
from wedgework.pattern.runs import WalkedRun
from wedgework.pattern.seams import SeamMeasure, measure_seam, notches_of

MATES_MM: Final = 0.5
"""Marks that meet within this are one: the tolerance of glued rubber; common practice, no
source."""


@dataclass(frozen=True, slots=True)
class _Stood:
    """A mark where it stands on one side of a seam."""

    mark: Notch | Hole
    at_mm: float


def seam_notches(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """Notches of a seam that have none within MATES_MM on its other side."""
    notches = notches_of(project, seam)
    if not notches or is_of_one_outline(seam):
        return ()
    found = measure_seam(project, seam)
    a, b = _standing(found.a, notches), _standing(found.b, notches)
    lonely = [(one, "A") for one in a if not _has_mate(one.at_mm, b, found, towards_b=True)]
    lonely += [(one, "B") for one in b if not _has_mate(one.at_mm, a, found, towards_b=False)]
    told: dict[str, Finding] = {}
    for stood, side in lonely:
        # A notch of an edge with several seams is right if it has its mate in one of them.
        if stood.mark.id not in told and not _meets_elsewhere(project, seam, stood.mark):
            told[stood.mark.id] = _notch_finding(rule, seam, found, stood, side)
    return tuple(told.values())


def _standing(run: WalkedRun, marks: Sequence[Notch | Hole]) -> list[_Stood]:
    spots = ((mark, spot) for mark in marks for spot in (mark.at, mark.mate) if spot is not None)
    placed = ((mark, run.station_of(spot)) for mark, spot in spots)
    return [_Stood(mark, at) for mark, at in placed if at is not None]


def _has_mate(
    at_mm: float, others: Sequence[_Stood], found: SeamMeasure, *, towards_b: bool
) -> bool:
    return _gap_mm(at_mm, others, found, towards_b=towards_b) <= MATES_MM + SAME_STATION_MM


def _gap_mm(
    at_mm: float, others: Sequence[_Stood], found: SeamMeasure, *, towards_b: bool
) -> float:
    """How far the nearest of the other marks is from where the walk would have it, in mm.

    Where sides differ in length, wanted or not, it may lie anywhere from the same length to as
    much behind as one whole side is behind the other: what is eased in need not be spread evenly.
    """
    over = found.a.length_mm - found.b.length_mm
    low, high = min(0.0, over), max(0.0, over)
    ahead = [(at_mm - one.at_mm) * (1.0 if towards_b else -1.0) for one in others]
    return min((max(low - by, by - high, 0.0) for by in ahead), default=float("inf"))


def _meets_elsewhere(project: Project, seam: Seam, mark: Notch | Hole) -> bool:
    for other in seams_of(project, mark.at.edge):
        if other is seam or not isinstance(mark, Notch):
            continue
        found = measure_seam(project, other)
        a, b = _standing(found.a, [mark]), _standing(found.b, [mark])
        marks = notches_of(project, other)
        if any(_has_mate(s.at_mm, _standing(found.b, marks), found, towards_b=True) for s in a):
            return True
        if any(_has_mate(s.at_mm, _standing(found.a, marks), found, towards_b=False) for s in b):
            return True
    return False


def _notch_finding(rule: Rule, seam: Seam, found: SeamMeasure, stood: _Stood, side: str) -> Finding:
    run, other = (found.a, "B") if side == "A" else (found.b, "A")
    gap = None if stood.mark.mate is None else _drift_mm(found, stood.mark)
    words = "has none to meet" if gap is None else f"is {abs(gap):.2f} mm from its mate"
    on_a = stood.at_mm if side == "A" else found.a_of(stood.at_mm)
    remake: tuple[EditData, ...] = (
        {"edit": "remove_marks", "marks": [stood.mark.id]},
        {"edit": "add_notches", "seam": seam.id, "at_mm": [on_a], "double": _is_double(stood.mark)},
    )
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"The notch at {stood.at_mm:.1f} mm on side {side} of seam {called(seam)} {words} on "
            f"side {other}."
        ),
        where=(seam.id, stood.mark.id),
        at_mm=point_of(run, stood.at_mm),
        measured=gap,
        wanted=None if gap is None else 0.0,
        mends=(Mend("Set it again on both sides", remake),),
    )


def _is_double(mark: Notch | Hole) -> bool:
    return isinstance(mark, Notch) and mark.double


def _drift_mm(found: SeamMeasure, mark: Notch | Hole) -> float | None:
    """How far along the seam a mark and its mate are apart; None unless they face each other."""
    spots: tuple[Spot | None, ...] = (mark.at, mark.mate)
    on_a = [at for spot in spots if spot and (at := found.a.station_of(spot)) is not None]
    on_b = [at for spot in spots if spot and (at := found.b.station_of(spot)) is not None]
    return on_a[0] - on_b[0] if on_a and on_b else None


def notches_meet(rule: Rule, project: Project, piece: Piece) -> tuple[Finding, ...]:
    """Notches of a piece that lie on one place, and are cut and read as one."""
    by_edge = notches_by_edge(project.notches)
    stood = [
        (notch, edge, spot)
        for edge in piece.all_edges()
        for notch in by_edge.get(edge.id, ())
        for spot in (notch.at, notch.mate)
        if spot is not None and spot.edge == edge.id
    ]
    found: dict[tuple[str, str], Finding] = {}
    for (one, edge, spot), (other, beside, mate) in combinations(stood, 2):
        # Where both are mates, the pair is told on the piece of the datums.
        if one is other or (spot is one.mate and mate is other.mate):
            continue
        here = point_at(edge.curve, spot.at_mm)
        apart = float(np.hypot(*(here - point_at(beside.curve, mate.at_mm))))
        if apart <= MATES_MM:
            found.setdefault(
                (one.id, other.id), _meeting(rule, (piece, edge), (one, other), (here, apart))
            )
    return tuple(found.values())


def _meeting(
    rule: Rule, on: tuple[Piece, Edge], pair: tuple[Notch, Notch], at: tuple[Point, float]
) -> Finding:
    (piece, edge), (point, apart_mm) = on, at
    # That which says less goes: one without a mate, or else a single one beside a double.
    kept, spare = sorted(pair, key=lambda notch: (notch.mate is None, not notch.double))
    place = "at one place" if apart_mm <= SAME_STATION_MM else f"{apart_mm:.2f} mm apart"
    remove: EditData = {"edit": "remove_marks", "marks": [spare.id]}
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=f"Two notches lie {place} on “{edge.name or edge.id}”: on the sheet they are one.",
        where=(piece.id, kept.id, spare.id),
        at_mm=point,
        measured=apart_mm,
        wanted=MATES_MM,
        mends=(Mend("Keep one of the two", (remove,)),),
    )


def holes_apart(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """Rows of holes on both sides of a seam that do not meet; one finding for the worst hole."""
    by_edge = holes_by_edge(project.holes)
    edges = {ref.edge for ref in (*seam.a, *seam.b)}
    holes = {hole.id: hole for edge in edges for hole in by_edge.get(edge, ())}
    if not holes or is_of_one_outline(seam):
        return ()
    found = measure_seam(project, seam)
    rows = list(holes.values())
    a, b = _standing(found.a, rows), _standing(found.b, rows)
    # A row on one side alone meets no other: it may be for snaps or lacing.
    if not a or not b:
        return ()
    gaps = [(_gap_mm(one.at_mm, b, found, towards_b=True), one, "A") for one in a]
    gaps += [(_gap_mm(one.at_mm, a, found, towards_b=False), one, "B") for one in b]
    worst, stood, side = max(gaps, key=lambda row: row[0])
    if worst <= MATES_MM + SAME_STATION_MM:
        return ()
    finding = Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"The rows of holes on seam {called(seam)} do not meet: that at {stood.at_mm:.1f} mm "
            f"on side {side} is {worst:.2f} mm from the nearest on the other."
        ),
        where=(seam.id, stood.mark.id),
        at_mm=point_of(found.a if side == "A" else found.b, stood.at_mm),
        measured=worst,
        wanted=0.0,
        mends=_row_mends(seam, a, rows),
    )
    return (finding,)


def _row_mends(
    seam: Seam, on_a: Sequence[_Stood], rows: Sequence[Notch | Hole]
) -> tuple[Mend, ...]:
    holes = [stood.mark for stood in on_a if isinstance(stood.mark, Hole)]
    if len({(hole.inset_mm, hole.diameter_mm) for hole in holes}) != 1:
        return ()
    again: EditData = {
        "edit": "add_holes",
        "seam": seam.id,
        "at_mm": sorted(stood.at_mm for stood in on_a),
        "inset_mm": holes[0].inset_mm,
        "diameter_mm": holes[0].diameter_mm,
    }
    remove: EditData = {"edit": "remove_marks", "marks": sorted(mark.id for mark in rows)}
    return (Mend("Punch both sides from the row of side A", (remove, again)),)
