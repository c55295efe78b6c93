"""What is shown of seams while they are worked on, as plain data for whoever draws it.

Tails (the surplus of the longer side, as the curve that it is), combs (where shaping
sits), both sides unrolled, and the numbers beside the pointer in a drag.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

import numpy as np

from wedgework.bench.changes import Change
from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.geometry.length import length_mm, parameters_about, points_at_parameters
from wedgework.geometry.memo import memoised
from wedgework.geometry.split import split_at_parameters
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.geometry.turning import tangents_at_parameters
from wedgework.pattern.document import Edge, EdgeId, Project, Seam, SeamId, Side
from wedgework.pattern.errors import WedgeworkError
from wedgework.pattern.lookup import hold_of
from wedgework.pattern.runs import WalkedRun, walked
from wedgework.pattern.seams import SeamMeasure, measure_seam, notches_of

TOOTH_MM: Final = 6.0
"""Distance of two teeth of a comb: near enough to show where shaping sits, and still a comb."""

MOST_TEETH: Final = 200
MOST_NUMBERS: Final = 6
"""More numbers than this beside a pointer are not read by anyone."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Tail:
    """The surplus of a seam's longer side, at the end of its walk, in the pieces' own places.

    `curves` are stretches of its edges, together `surplus_mm` long as far as a screen shows.
    `at_mm`, (2,), lies about their middle, and `outward`, (2,), is the unit direction out of the
    piece there, for the figure.
    """

    seam: SeamId
    side: Side
    curves: tuple[Curve, ...]
    surplus_mm: float
    at_mm: Point
    outward: Point


def tail_of(project: Project, seam: Seam) -> Tail | None:
    """The tail of a seam; None where its sides agree within what is allowed.

    Lengths alone are asked for: every frame of a drag draws tails, and shaping costs more.
    """
    a, b = walked(project, seam.a), walked(project, seam.b)
    difference_mm = a.length_mm - b.length_mm - seam.wanted_mm
    if abs(difference_mm) <= seam.allowed_mm:
        return None
    side: Side = "a" if difference_mm > 0 else "b"
    run = a if side == "a" else b
    surplus_mm = min(abs(difference_mm), run.length_mm)
    curves = tuple(_stretches(run, run.length_mm - surplus_mm))
    if not curves:
        return None
    at_mm, outward = _middle_of(curves[len(curves) // 2])
    return Tail(
        seam=seam.id,
        side=side,
        curves=curves,
        surplus_mm=surplus_mm,
        at_mm=at_mm,
        outward=outward,
    )


def _middle_of(curve: Curve) -> tuple[Point, Point]:
    """A point about the middle of an edge's stretch and the direction out of the piece, (2,) each.

    By parameter, not by length: a figure stands there, and each frame of a drag asks for it.
    """
    p0, p1, p2, p3 = curve.segments[len(curve) // 2]
    x, y = (p3 + p2 - p1 - p0).tolist()
    size = math.hypot(x, y) or 1.0
    return (p0 + 3 * p1 + 3 * p2 + p3) / 8, np.array([y / size, -x / size])


def _outward(curve: Curve, parameters: Floats) -> Floats:
    """Unit directions, (k, 2), out of the piece, which lies on the left of its own edge."""
    along = tangents_at_parameters(curve, parameters)
    return np.column_stack([along[:, 1], -along[:, 0]])


def _stretches(run: WalkedRun, start_mm: float) -> Iterator[Curve]:
    """Parts of the run's edges from about a station to its end: to be drawn, not measured."""
    for stretch in run.stretches:
        curve = stretch.edge.curve
        if start_mm <= stretch.from_mm:
            yield curve
        elif start_mm < stretch.to_mm:
            cut = parameters_about(curve, [stretch.own_mm(start_mm)])
            if 0.0 < cut[0] < len(curve):
                yield split_at_parameters(curve, cut)[0 if stretch.ref.backward else 1]


def _stands(run: WalkedRun, stations_mm: Floats) -> tuple[Floats, Floats]:
    """About where rising stations lie and unit directions out of their pieces, (k, 2) each."""
    points, outward = [], []
    ends = np.array([stretch.to_mm for stretch in run.stretches[:-1]])
    owners = np.searchsorted(ends, stations_mm)
    for index, stretch in enumerate(run.stretches):
        own_mm = np.array([stretch.own_mm(at) for at in stations_mm[owners == index].tolist()])
        if len(own_mm):
            curve = stretch.edge.curve
            parameters = parameters_about(curve, own_mm)
            points.append(points_at_parameters(curve, parameters))
            outward.append(_outward(curve, parameters))
    return np.concatenate(points), np.concatenate(outward)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Comb:
    """Teeth on side A of a seam: where they stand and how much shaping each gathers.

    `stations_mm` (k,) along A, `points_mm` (k, 2), `outward` (k, 2) unit, `shaping_deg` (k,):
    the shaping of the stretch about the tooth, so that all teeth together make the seam's own.
    `dome_deg` and `hollow_deg` are the seam's: in one tooth what rounds and what flares may meet.
    """

    seam: SeamId
    stations_mm: Floats
    points_mm: Floats
    outward: Floats
    shaping_deg: Floats
    dome_deg: float
    hollow_deg: float

    @property
    def begins(self) -> list[int]:
        """The teeth at which the comb begins anew, as side A goes on along another piece there.

        A chord is no longer than its arc: feet that lie farther apart are on different pieces.
        """
        apart_mm = np.hypot(*np.diff(self.points_mm, axis=0).T)
        jumps = apart_mm > np.diff(self.stations_mm) + SAME_STATION_MM
        return (np.flatnonzero(jumps) + 1).tolist()


def comb_of(project: Project, seam: Seam, tooth_mm: float = TOOTH_MM) -> Comb:
    """The comb of a seam, a tooth about every `tooth_mm`.

    It is remembered for as long as its measure: a pointer that moves over the table asks for the
    same comb with each step.
    """
    measure = measure_seam(project, seam)
    combs = _combs_of(measure)
    if tooth_mm not in combs:
        combs.clear()
        combs[tooth_mm] = _comb(measure, seam.id, tooth_mm)
    return combs[tooth_mm]


@memoised
def _combs_of(_measure: SeamMeasure) -> dict[float, Comb]:
    """Where the comb of a measured seam is kept, by the distance of its teeth."""
    return {}


def _comb(measure: SeamMeasure, seam: SeamId, tooth_mm: float) -> Comb:
    whole = measure.a.length_mm
    count = int(np.clip(round(whole / tooth_mm), 1, MOST_TEETH))
    bounds = np.linspace(0.0, whole, count + 1)
    stations = (bounds[1:] + bounds[:-1]) / 2
    points, outward = _stands(measure.a, stations)
    return Comb(
        seam=seam,
        stations_mm=stations,
        points_mm=points,
        outward=outward,
        shaping_deg=np.degrees(np.diff(_gathered(measure, bounds))),
        dome_deg=math.degrees(measure.dome_rad),
        hollow_deg=math.degrees(measure.hollow_rad),
    )


def _gathered(measure: SeamMeasure, stations_mm: Floats) -> Floats:
    """Shaping in rad gathered up to stations, (k,); a kink at a station counts after it.

    The last station counts everything, so the steps between add up to the whole.
    """
    at, turned = measure.shaping[:, 0], measure.shaping[:, 1]
    before = np.searchsorted(at, stations_mm, side="left").clip(1, len(at) - 1)
    low, high = at[before - 1], at[before]
    width = high - low
    share = np.divide(stations_mm - low, width, out=np.zeros_like(low), where=width > 0)
    gathered = turned[before - 1] + share.clip(0.0, 1.0) * (turned[before] - turned[before - 1])
    gathered[0], gathered[-1] = turned[0], turned[-1]
    return np.asarray(gathered)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Unrolled:
    """A seam as two rulers that face each other, stations in mm from the start of the walk.

    `joints_a` and `joints_b` are where one edge ends and the next begins, `notches` pairs of
    stations (None on a side where there is no mate), `shaping` (m, 2) station along A in mm and
    shaping gathered up to it in degrees.
    """

    seam: SeamId
    length_a_mm: float
    length_b_mm: float
    joints_a: tuple[float, ...]
    joints_b: tuple[float, ...]
    notches: tuple[tuple[float | None, float | None], ...]
    shaping: Floats


def unrolled(project: Project, seam: Seam) -> Unrolled:
    """A seam unrolled; EditRefused where it names an edge that is not there."""
    measure = measure_seam(project, seam)
    return Unrolled(
        seam=seam.id,
        length_a_mm=measure.a.length_mm,
        length_b_mm=measure.b.length_mm,
        joints_a=_joints(measure.a),
        joints_b=_joints(measure.b),
        notches=tuple(_notch_stations(project, seam, measure)),
        shaping=np.column_stack([measure.shaping[:, 0], np.degrees(measure.shaping[:, 1])]),
    )


def _joints(run: WalkedRun) -> tuple[float, ...]:
    return tuple(before.to_mm for before, _ in pairwise(run.stretches))


def _notch_stations(
    project: Project, seam: Seam, measure: SeamMeasure
) -> Iterator[tuple[float | None, float | None]]:
    for notch in notches_of(project, seam):
        spots = [spot for spot in (notch.at, notch.mate) if spot is not None]
        on_a, on_b = (
            next((at for spot in spots if (at := run.station_of(spot)) is not None), None)
            for run in (measure.a, measure.b)
        )
        if on_a is not None or on_b is not None:
            yield on_a, on_b


@dataclass(frozen=True, slots=True)
class Number:
    """A number that changes under the hand: what it is, what it was and what it is now, in mm.

    `signed`: it is a difference, and shown with its sign. `note` is what is said behind it: `held`
    of a length that both sides of a seam have, `let go` of a difference that is held no more.
    """

    words: str
    before_mm: float
    now_mm: float
    signed: bool = False
    note: Literal["", "held", "let go"] = ""


def numbers_of_drag(before: Project, shown: Project, change: Change) -> tuple[Number, ...]:
    """What changes beside the pointer: differences of seams first, then lengths of edges.

    Of a seam that is held it is the length that changes, on both sides alike.

    Only what the change names is looked at; seams and edges that are not in both projects are
    left out.
    """
    found: list[Number] = []
    for own in sorted(change.seams):
        if own in before.seams and own in shown.seams and len(found) < MOST_NUMBERS:
            found += _difference(before, shown, own)
    for piece in sorted(change.pieces):
        if piece in before.pieces and piece in shown.pieces:
            found += _changed_lengths(before, shown, piece)
    return tuple(found[:MOST_NUMBERS])


def _difference(before: Project, shown: Project, own: SeamId) -> Iterator[Number]:
    try:
        # Lengths alone: measuring shaping of the seam as it was would cost as much as the frame.
        was, now = (_lengths_mm(one, one.seams[own]) for one in (before, shown))
    except WedgeworkError:
        return
    name = shown.seams[own].name or own
    was_held, is_held = (hold_of(one, own) is not None for one in (before, shown))
    if is_held and abs(was[0] - now[0]) > SAME_STATION_MM:
        yield Number(name, was[0], now[0], note="held")
    elif not is_held and abs(was[1] - now[1]) > SAME_STATION_MM:
        yield Number(name, was[1], now[1], signed=True, note="let go" if was_held else "")


def _lengths_mm(project: Project, seam: Seam) -> tuple[float, float]:
    """Length of side A, and the difference of the sides."""
    lengths = (walked(project, run).length_mm for run in (seam.a, seam.b))
    a_mm = next(lengths)
    return a_mm, a_mm - next(lengths) - seam.wanted_mm


def _changed_lengths(before: Project, shown: Project, piece: str) -> Iterator[Number]:
    now = {edge.id: edge for edge in shown.pieces[piece].all_edges()}
    for old in before.pieces[piece].all_edges():
        # What was slashed or split is told as the whole of what became of it, named from it.
        become = [now[old.id]] if old.id in now else _named_from(old.id, now.values())
        if not become or become[0] is old:
            continue
        was_mm, now_mm = length_mm(old.curve), sum(length_mm(edge.curve) for edge in become)
        if abs(was_mm - now_mm) > SAME_STATION_MM:
            yield Number(old.name or old.id, was_mm, now_mm)
    known = {edge.id for edge in before.pieces[piece].all_edges()}
    yield from _first_gap(edge for own, edge in now.items() if own not in known)


def _first_gap(new: Iterable[Edge]) -> Iterator[Number]:
    """The first gap that a slash has opened: what is typed, beside what comes of it."""
    gap = next((edge for edge in new if ".fill" in edge.id), None)
    if gap is not None:
        yield Number("gap", 0.0, length_mm(gap.curve))


def _named_from(own: EdgeId, edges: Iterable[Edge]) -> list[Edge]:
    return [edge for edge in edges if edge.id.startswith(f"{own}.")]
