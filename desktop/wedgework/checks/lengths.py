"""Whether the sides of a seam, and the legs of a dart, have the lengths that they should."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Final

import numpy as np

from wedgework.checks.finding import Finding, Mend, Rule, called
from wedgework.geometry.curve import Point
from wedgework.geometry.length import (
    length_mm,
    parameters_about,
    point_at,
    points_at_parameters,
)
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Project, Seam, Side, parse_ref
from wedgework.pattern.ends import can_change_alone, is_of_one_outline
from wedgework.pattern.runs import WalkedRun
from wedgework.pattern.seams import SeamMeasure, measure_seam

LEGS_MM: Final = 0.5
"""Legs of a dart may differ by so much: the tolerance of glued rubber; common practice, no
source."""


def seam_length(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """A seam whose sides differ by more than it allows; darts have a finding of their own."""
    if seam.is_dart:
        return ()
    found = measure_seam(project, seam)
    return _differing(rule, project, seam, found) if found.state != "agrees" else ()


def dart_legs(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """A dart whose legs differ by more than LEGS_MM."""
    if not seam.is_dart:
        return ()
    found = measure_seam(project, seam)
    differs = abs(found.difference_mm) > LEGS_MM
    return _differing(rule, project, seam, found) if differs else ()


def _differing(rule: Rule, project: Project, seam: Seam, found: SeamMeasure) -> tuple[Finding, ...]:
    longer = found.a if found.difference_mm > 0 else found.b
    finding = Finding(
        code=rule.code,
        grave=rule.grave,
        message=_length_words(seam, found),
        where=(seam.id,),
        at_mm=last_point(longer),
        measured=found.a.length_mm - found.b.length_mm,
        wanted=seam.wanted_mm,
        mends=tuple(_length_mends(project, seam, found)),
    )
    return (finding,)


def _length_words(seam: Seam, found: SeamMeasure) -> str:
    a, b, over = found.a.length_mm, found.b.length_mm, found.difference_mm
    side, what = ("A" if over > 0 else "B"), ("leg" if seam.is_dart else "side")
    allowed = LEGS_MM if seam.is_dart else seam.allowed_mm
    wanted = f" than wanted ({seam.wanted_mm:+.2f} mm)" if seam.wanted_mm else ""
    name = f"Dart {called(seam)}" if seam.is_dart else f"Seam {called(seam)}"
    return (
        f"{name}: {what} A is {a:.2f} mm long, {what} B {b:.2f} mm. {side} is {abs(over):.2f} mm "
        f"longer{wanted}; {allowed:g} mm are allowed."
    )


def _length_mends(project: Project, seam: Seam, found: SeamMeasure) -> Iterator[Mend]:
    yield from _drafting_mends(found)
    over = found.difference_mm
    sides: tuple[Side, ...] = ("a", "b")
    free = [side for side in sides if can_change_alone(project, seam, side)]
    if len(free) == 2:
        label = f"Meet in the middle: A {-over / 2:+.2f} mm, B {over / 2:+.2f} mm".replace("-", "−")
        yield _true(seam, "both", label)
    for side in free:
        by_mm = -over if side == "a" else over
        change = "Lengthen" if by_mm > 0 else "Shorten"
        yield _true(seam, side, f"{change} {side.upper()} by {abs(by_mm):.2f} mm")
    if is_of_one_outline(seam) and not seam.is_dart:
        wanted = found.a.length_mm - found.b.length_mm
        edit = {"edit": "set_seam", "seam": seam.id, "wanted_mm": wanted}
        yield Mend(f"Take {wanted:.2f} mm as the difference that is wanted", (edit,))


def _drafting_mends(found: SeamMeasure) -> Iterator[Mend]:
    """Draft a side again that was drafted from the other one, where that is as long no more."""
    for run, other in ((found.a, found.b), (found.b, found.a)):
        piece = run.stretches[0].piece
        if piece.recipe is None or not piece.recipe.sources:
            continue
        now = {one.edge.id: length_mm(one.edge.curve) for one in other.stretches}
        then = {
            parse_ref(ref).edge: row[0] for ref, row in json.loads(piece.recipe.measured).items()
        }
        if then.keys() <= now.keys() and any(
            abs(now[own] - mm) > SAME_STATION_MM for own, mm in then.items()
        ):
            again = {"edit": "draft_again", "piece": piece.id}
            yield Mend(f"Draft {called(piece)} again", (again,))


def _true(seam: Seam, change: str, label: str) -> Mend:
    return Mend(label, ({"edit": "true_seam", "seam": seam.id, "change": change},))


def last_point(run: WalkedRun) -> Point:
    """Where a run ends, (2,) mm, in its last piece."""
    return run.curve_of(run.stretches[-1]).end


def point_of(run: WalkedRun, station_mm: float) -> Point:
    """Where a station of a run lies, (2,) mm, in its piece."""
    stretch = run.stretch_at(station_mm)
    return point_at(stretch.edge.curve, stretch.own_mm(station_mm))


def point_near(run: WalkedRun, station_mm: float) -> Point:
    """A point of a run about where a station lies, (2,) mm, in its piece: to be looked at."""
    stretch = run.stretch_at(station_mm)
    curve = stretch.edge.curve
    near = parameters_about(curve, [stretch.own_mm(station_mm)])
    return np.asarray(points_at_parameters(curve, near)[0])


def middle_point(run: WalkedRun) -> Point:
    """A point about the middle of a run, (2,) mm, in its piece."""
    segments = run.stretch_at(run.length_mm / 2).edge.curve.segments
    p0, p1, p2, p3 = segments[len(segments) // 2]
    return np.asarray((p0 + 3 * p1 + 3 * p2 + p3) / 8)
