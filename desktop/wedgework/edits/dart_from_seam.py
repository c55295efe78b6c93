"""Make a shaped seam a dart again: where it joins flat, its two panels become one piece.

A stretch of the seam, flat from end to end, is laid together; what is left of the seam before and
beyond it are the legs of a dart. Where the stretch is one point the piece hangs on that, with a
dart on either side.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Name, NotNegativeMm
from wedgework.edits.carry import Fate, carried, whole_stretch
from wedgework.edits.dart_unfolded import apex_between, unfolded_darts
from wedgework.edits.edges import SplitEdge, follow_in_runs
from wedgework.edits.move import moved_piece
from wedgework.edits.places import Naming
from wedgework.edits.since import common_recipe
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.curve import Floats
from wedgework.geometry.ends import end_moved, start_moved
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.motion import Affine, inverse, rotation, translation
from wedgework.geometry.tolerances import JOINT_RAD, SAME_STATION_MM
from wedgework.geometry.turning import angle_between, end_tangent, start_tangent
from wedgework.geometry.unite import united
from wedgework.pattern.changes import has_id, with_piece_replaced, with_pieces, with_seams
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Ring, Run, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.instances import flipped, reversed_run
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.runs import WalkedRun, walked
from wedgework.pattern.seams import SeamMeasure, measure_seam

FLAT_MM: Final = 0.05
"""Sides that part by less lie flat on each other: a tenth of what a glued seam is allowed."""

DIGITS: Final = 9
"""Of distances in mm that are compared: those of two sides then are one number where they meet."""

SAMPLES: Final = 65
"""Places at which two sides are compared; a bend between them would need a wave of a few mm."""


class SeamToDart(Edit, frozen=True, kw_only=True):
    """Make a shaped seam a dart again: where it joins flat, its two panels become one piece."""

    seam: Annotated[Id, Meta(description="seam")]
    from_mm: Annotated[
        NotNegativeMm | None,
        Meta(description="where the flat part begins, along A; where the shaping ends if left out"),
    ] = None
    to_mm: Annotated[
        NotNegativeMm | None,
        Meta(description="where the flat part ends, along A; the end of the seam if left out"),
    ] = None
    name: Annotated[Name, Meta(description="what the dart is called")] = ""

    def change(self, project: Project) -> Project:
        """EditRefused where the sides do not lie flat there, or the panels cannot become one."""
        seam = the_seam(project, self.seam)
        refuse_unfit(seam)
        spans = self._spans(project, seam)
        for side, stations in zip((0, 1), spans, strict=True):
            for station in stations:
                project = split_at(project, self.seam, side, station)
        seam = the_seam(project, self.seam)
        if flipped(seam.a) == seam.b:
            return _unfolded(project, replace(seam, name=self.name or dart_name(seam)), spans[0])
        joint = _joint_of(project, seam, spans)
        return _laid_together(project, joint, self.name)

    def _spans(self, project: Project, seam: Seam) -> tuple[tuple[float, float], ...]:
        """From where to where each side, A and B, lies flat, in mm along it."""
        measured = measure_seam(project, seam)
        whole_a, whole_b = measured.a.length_mm, measured.b.length_mm
        low, high = self.from_mm, whole_a if self.to_mm is None else self.to_mm
        if low is None:
            low = 0.0 if self.to_mm is not None else flat_from(seam, measured.a, measured.b)
        if not low <= high <= whole_a + SAME_STATION_MM:
            raise EditRefused(
                f"Side A is {whole_a:.2f} mm long; the flat part lies on it, and ends after it "
                "begins.",
                culprit=seam.id,
            )
        if low <= SAME_STATION_MM and high >= whole_a - SAME_STATION_MM:
            raise EditRefused("Nothing of the seam would be left for a dart.", culprit=seam.id)
        if high >= whole_a - SAME_STATION_MM:
            return (low, whole_a), (whole_b - (whole_a - low), whole_b)
        first = 0.0 if low <= SAME_STATION_MM else _joint_like(measured, low)
        return (low, high), (first, first + high - low)


def refuse_unfit(seam: Seam) -> None:
    """EditRefused for what cannot become a dart: one already, laid on, or with another's image."""
    if seam.is_dart:
        raise EditRefused("That is a dart already.", culprit=seam.id)
    if seam.laid_on:
        raise EditRefused("What is laid on does not become a dart.", culprit=seam.id)
    if any(ref.mirrored for ref in (*seam.a, *seam.b)) and flipped(seam.a) != seam.b:
        raise EditRefused(
            f"“{seam.name or seam.id}” joins a piece to the mirror image of another; turn one of "
            "them over first.",
            culprit=seam.id,
        )


def _unfolded(project: Project, seam: Seam, span: tuple[float, float]) -> Project:
    """The project where a pair joined to its own mirror image is one piece with a dart."""
    side = side_of_seam(project, seam, seam.a, span)
    if side.piece.cutting != "pair":
        raise EditRefused(
            f"Only a piece that is cut as a pair can be unfolded about “{seam.name or seam.id}”.",
            culprit=seam.id,
        )
    legs = side.before, reversed_run(side.beyond)
    after = unfolded_darts(project, seam, side.flat, legs)
    _refuse_closed_mouth(after, [after.seams[seam.id]])
    return after


def dart_name(seam: Seam) -> str:
    """What a dart is called that was this seam."""
    return f"dart {seam.name.removeprefix('seam ') or seam.id}"


def flat_from(seam: Seam, a: WalkedRun, b: WalkedRun) -> float:
    """The station, in mm along A, from which on both sides lie flat on each other to the end.

    Both are followed from the end, by the distance from it: legs before may differ.
    """
    rests, turned = zip(*(_from_end(run) for run in (a, b)), strict=True)
    at = np.unique(np.concatenate(rests))
    below = sum(_turned_below(at, rest, turns) for rest, turns in zip(rests, turned, strict=True))
    above = sum(np.interp(at, rest, turns) for rest, turns in zip(rests, turned, strict=True))
    flat = np.abs(below) <= JOINT_RAD
    flat[1:] &= np.abs(above[:-1]) <= JOINT_RAD
    shaped = np.flatnonzero(~np.logical_and.accumulate(flat))
    if len(shaped) == 0:
        raise EditRefused("This seam joins flat: it holds no dart.", culprit=seam.id)
    return a.length_mm - float(at[max(int(shaped[0]) - 1, 0)])


def _from_end(run: WalkedRun) -> tuple[Floats, Floats]:
    """Rising distances from the end of a run, (k,) mm, and turning from there, (k,) rad."""
    at, turned = run.turning_profile()
    return np.round((at[-1] - at)[::-1], DIGITS), (turned[-1] - turned)[::-1]


def _turned_below(at: Floats, stations: Floats, turned: Floats) -> Floats:
    """Turning at `at`, (k,), kinks at the very place not passed yet."""
    return np.asarray(np.interp(-at, -stations[::-1], turned[::-1]))


def _joint_like(measured: SeamMeasure, station_mm: float) -> float:
    """The station of B that lies on one of A: joint on joint where both have as many."""
    a, b = ([one.to_mm for one in run.stretches[:-1]] for run in (measured.a, measured.b))
    for mine, other in zip(a, b, strict=False):
        if len(a) == len(b) and abs(mine - station_mm) <= SAME_STATION_MM:
            return other
    return measured.b_of(station_mm)


def split_at(project: Project, own: str, side: int, station_mm: float) -> Project:
    """The project with a corner at a station of one side of a seam."""
    seam = the_seam(project, own)
    run = walked(project, (seam.a, seam.b)[side])
    bounds = np.array([0.0, *(one.to_mm for one in run.stretches)])
    if np.abs(bounds - station_mm).min() <= SAME_STATION_MM:
        return project
    spot = run.spot_at(station_mm)
    return SplitEdge(edge=spot.edge, at_mm=spot.at_mm).change(project)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class SeamSide:
    """One side of a seam in its piece: its run in three parts, and the ring's parts likewise.

    `before`, `flat` and `beyond` are as walked; `ring` is the outline from where the flat part
    ends to where it begins, as the outline runs.
    """

    piece: Piece
    before: Run
    flat: Run
    beyond: Run
    run: WalkedRun
    span: tuple[float, float]

    @property
    def is_forward(self) -> bool:
        """Whether the seam walks the outline in its own direction."""
        return not (*self.before, *self.flat, *self.beyond)[0].backward

    def points(self) -> Floats:
        """Points evenly along the flat part, (SAMPLES, 2) mm, as walked."""
        at = np.linspace(*self.span, SAMPLES)
        rows = [self.run.stretch_at(min(max(station, 0.0), self.run.length_mm)) for station in at]
        return np.array(
            [
                points_at(one.edge.curve, [one.own_mm(station)])[0]
                for one, station in zip(rows, at, strict=True)
            ]
        )

    def opened(self) -> Ring:
        """The outline without the flat part, from its one end round to the other."""
        ring, flat = self.piece.edges, {ref.edge for ref in self.flat}
        start = self._after_flat(ring, flat)
        turned = ring[start:] + ring[:start]
        rest = turned[: len(turned) - len(flat)]
        if any(edge.id in flat for edge in rest):
            raise EditRefused("The flat part of this seam is not one line in its piece.")
        return rest

    def _after_flat(self, ring: Ring, flat: set[EdgeId]) -> int:
        """Index of the edge that starts where the flat part, walked as the outline, ends."""
        ids = [edge.id for edge in ring]
        if flat:
            last = (self.flat[-1] if self.is_forward else self.flat[0]).edge
            return (ids.index(last) + 1) % len(ids)
        following = self.beyond[0] if self.is_forward else self.before[-1]
        return ids.index(following.edge)


def side_of_seam(project: Project, seam: Seam, run: Run, span: tuple[float, float]) -> SeamSide:
    """A side parted at a span, in mm along it; EditRefused where it lies in several pieces."""
    laid_out = walked(project, run)
    pieces = dict.fromkeys(one.piece for one in laid_out.stretches)
    if len(pieces) > 1:
        raise EditRefused(
            f"A side of “{seam.name or seam.id}” lies in several pieces; divide the seam where "
            "they meet first, then its part in one piece becomes a dart.",
            culprit=seam.id,
        )
    low, high = span
    middles = [((one.from_mm + one.to_mm) / 2, one.ref) for one in laid_out.stretches]
    return SeamSide(
        piece=laid_out.stretches[0].piece,
        before=tuple(ref for at, ref in middles if at < low),
        flat=tuple(ref for at, ref in middles if low <= at <= high),
        beyond=tuple(ref for at, ref in middles if at > high),
        run=laid_out,
        span=(min(max(low, 0.0), laid_out.length_mm), min(high, laid_out.length_mm)),
    )


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Joint:
    """Two panels about to become one; `onto` lays side B on side A."""

    seam: Seam
    a: SeamSide
    b: SeamSide
    onto: Affine


def _joint_of(project: Project, seam: Seam, spans: tuple[tuple[float, float], ...]) -> _Joint:
    a, b = (
        side_of_seam(project, seam, run, s) for run, s in zip((seam.a, seam.b), spans, strict=True)
    )
    _refuse_no_legs(seam, a, b)
    if a.piece is b.piece:
        raise EditRefused(
            "Both sides of this seam are in one piece already; only two panels become one.",
            culprit=seam.id,
        )
    if a.is_forward == b.is_forward:
        raise EditRefused("This seam is twisted: turn one of its sides round.", culprit=seam.id)
    onto = laid_on(a.points(), b.points(), at_end=not a.before)
    apart_mm = np.hypot(*(onto.points(b.points()) - a.points()).T)
    if apart_mm.max() > FLAT_MM:
        at = np.linspace(*a.span, SAMPLES)[int(apart_mm.argmax())]
        raise EditRefused(
            f"The sides do not lie flat on each other from {a.span[0]:.1f} to {a.span[1]:.1f} mm: "
            f"at {at:.1f} mm they are {apart_mm.max():.2f} mm apart.",
            culprit=seam.id,
        )
    return _Joint(seam=seam, a=a, b=b, onto=onto)


def _refuse_no_legs(seam: Seam, a: SeamSide, b: SeamSide) -> None:
    """A dart has two legs, and panels that hang on a point have one dart on either side of it."""
    alike = bool(a.before) == bool(b.before) and bool(a.beyond) == bool(b.beyond)
    hangs_inside = a.flat or (a.before and a.beyond)
    if not alike or bool(a.flat) != bool(b.flat) or not hangs_inside:
        raise EditRefused(
            f"No part of “{seam.name or seam.id}” there joins flat beside two legs.",
            culprit=seam.id,
        )


def laid_on(a: Floats, b: Floats, *, at_end: bool) -> Affine:
    """The turn and shift that lays points B on points A, exact where the dart's apex is.

    Where the stretch is one point there is no turn: the panels lie to each other as they lie.
    """
    chords = a[-1] - a[0], b[-1] - b[0]
    about = -1 if at_end else 0
    shift = translation(a[about] - b[about])
    if min(np.hypot(*chord) for chord in chords) <= SAME_STATION_MM:
        return shift
    return shift.after(rotation(angle_between(chords[1], chords[0]), b[about]))


def _laid_together(project: Project, joint: _Joint, name: str) -> Project:
    stays, comes, motion = _who_moves(joint)
    _refuse_unlike(stays.piece, comes.piece)
    bare = with_seams(project, removed=[joint.seam.id])
    arrived = moved_piece(comes.piece, motion)
    ring, fates = _ring(bare, stays, replace(comes, piece=arrived))
    fates |= {ref.edge: Fate() for ref in (*stays.flat, *comes.flat)}
    _refuse_overlap(stays.piece, ring)
    whole = replace(
        stays.piece,
        id=_stem(project, stays.piece.id, comes.piece.id),
        name=_common_name(stays.piece, comes.piece),
        edges=ring,
        lines=stays.piece.lines + arrived.lines,
        cutouts=stays.piece.cutouts + arrived.cutouts,
        labels=stays.piece.labels + arrived.labels,
        fold_edge=_fold(stays.piece, comes.piece, fates),
        recipe=common_recipe(stays.piece, comes.piece),
    )
    alone = with_pieces(bare, removed=[comes.piece.id])
    after = carried(with_piece_replaced(alone, stays.piece.id, whole), fates)
    darts = _darts(after, joint, ring, name)
    _refuse_closed_mouth(after, darts)
    return with_seams(after, *darts)


def _refuse_closed_mouth(project: Project, darts: Sequence[Seam]) -> None:
    for dart in darts:
        found, shaped = measure_dart(project, dart), measure_seam(project, dart)
        angle_rad = abs(math.remainder(found.angle_rad, math.tau))
        is_flat = max(angle_rad, shaped.dome_rad, shaped.hollow_rad) <= JOINT_RAD
        if is_flat or found.intake_mm <= SAME_STATION_MM:
            raise EditRefused(
                "Where this seam would open into a dart its sides lie together: it holds no dart. "
                "If it is flat at both ends, make it a double-pointed dart.",
                culprit=dart.id,
            )


def _who_moves(joint: _Joint) -> tuple[SeamSide, SeamSide, Affine]:
    """The side that stays, the one that comes, and its motion."""
    stays, comes = greater_first(joint.a, joint.b)
    return stays, comes, joint.onto if stays is joint.a else inverse(joint.onto)


def greater_first(a: SeamSide, b: SeamSide) -> tuple[SeamSide, SeamSide]:
    """The side that stays and the one that comes to it: a fold stays, else the greater."""
    areas = [ring_area_mm2([edge.curve for edge in side.piece.edges]) for side in (a, b)]
    b_stays = b.piece.fold_edge is not None or (a.piece.fold_edge is None and areas[1] > areas[0])
    return (b, a) if b_stays else (a, b)


def _refuse_unlike(stays: Piece, comes: Piece) -> None:
    if (stays.cutting == "single") != (comes.cutting == "single"):
        raise EditRefused(
            f"“{stays.name or stays.id}” is cut as {stays.cutting} and “{comes.name or comes.id}” "
            f"as {comes.cutting}; they cannot be one piece.",
            culprit=comes.id,
        )


def _fold(stays: Piece, comes: Piece, fates: Mapping[EdgeId, Fate]) -> EdgeId | None:
    """The fold of both panels; EditRefused where it would not be one edge."""
    folds = {
        fates[own].walk[0] if own in fates else own
        for own in (stays.fold_edge, comes.fold_edge)
        if own is not None
    }
    if len(folds) > 1:
        raise EditRefused("The folds of the two panels would not be one line.", culprit=comes.id)
    return next(iter(folds), None)


def _refuse_overlap(stays: Piece, ring: Ring) -> None:
    curves = [edge.curve for edge in ring]
    if crosses_itself(curves) or ring_area_mm2(curves) <= 0:
        raise EditRefused("The two panels would lie over each other.", culprit=stays.id)


def _ring(project: Project, stays: SeamSide, comes: SeamSide) -> tuple[Ring, dict[EdgeId, Fate]]:
    """The outline round both panels, and what has become of edges that are one again."""
    one = stays.opened()
    other = _fitted(comes.opened(), one)
    fates: dict[EdgeId, Fate] = {}
    first_is_open, last_is_open = not stays.before, not stays.beyond
    if not stays.is_forward:
        first_is_open, last_is_open = last_is_open, first_is_open
    if last_is_open:
        head, one, other = _made_one(project, other, one, fates)
        one = (head, *one)
    if first_is_open:
        head, other, one = _made_one(project, one, other, fates)
        other = (head, *other)
    return _told_from(stays.piece, (*one, *other)), fates


def _fitted(ring: Ring, between: Ring) -> Ring:
    """The edges with their outer ends where the other panel's outline ends and starts."""
    rows = list(ring)
    rows[0] = replace(rows[0], curve=start_moved(rows[0].curve, between[-1].curve.end))
    rows[-1] = replace(rows[-1], curve=end_moved(rows[-1].curve, between[0].curve.start))
    return tuple(rows)


def _made_one(
    project: Project, lead: Ring, trail: Ring, fates: dict[EdgeId, Fate]
) -> tuple[Edge, Ring, Ring]:
    """The first edge of `trail` (with the last of `lead`, if they were one), and what is left."""
    before, after = lead[-1], trail[0]
    stem = _stem_of(before.id, after.id)
    bend = angle_between(end_tangent(before.curve), start_tangent(after.curve))
    fits = stem and not has_id(project, stem) and follow_in_runs(project, before.id, after.id)
    if not fits or abs(bend) > JOINT_RAD or len(lead) == 1:
        return after, trail[1:], lead
    curve = united(before.curve, after.curve)
    whole = replace(before, id=stem, curve=curve)
    at_mm = length_mm(curve) - length_mm(after.curve)
    fates |= {
        before.id: Fate(walk=(stem,), stretches=(whole_stretch(before, whole),)),
        after.id: Fate(walk=(stem,), stretches=(whole_stretch(after, whole, at_mm),)),
    }
    return whole, trail[1:], lead[:-1]


def _told_from(piece: Piece, ring: Ring) -> Ring:
    """The ring from the first edge of the piece that stays that is still in it."""
    ids = [edge.id for edge in ring]
    at = next((ids.index(edge.id) for edge in piece.edges if edge.id in ids), 0)
    return ring[at:] + ring[:at]


def _stem_of(first: str, second: str) -> str:
    """What two ids were parts of: `side` of `side.1` and `side.2`, else nothing."""
    (stem, _, one), (other, _, two) = first.rpartition("."), second.rpartition(".")
    return stem if stem == other and (one, two) == ("1", "2") else ""


def _stem(project: Project, one: str, other: str) -> str:
    stem = _stem_of(*sorted((one, other)))
    return stem if stem and not has_id(project, stem) else one


def _common_name(one: Piece, other: Piece) -> str:
    stem = one.name[:-2]
    return stem if {one.name, other.name} == {f"{stem} 1", f"{stem} 2"} else one.name


def _darts(project: Project, joint: _Joint, ring: Ring, name: str) -> list[Seam]:
    """The dart of what comes before the flat part, then that of what lies beyond it."""
    seam, a, b = joint.seam, joint.a, joint.b
    made: list[Seam] = []
    for legs in ((a.before, b.before), (reversed_run(a.beyond), reversed_run(b.beyond))):
        if not legs[0] or not legs[1]:
            continue
        own = Naming(project).fresh(f"{seam.id}.2") if made else seam.id
        called = f"dart {own}" if made else name or dart_name(seam)
        apex = apex_between(ring, legs[0][-1].edge, legs[1][-1].edge)
        wanted_mm = 0.0 if made else seam.wanted_mm
        dart = replace(
            seam, id=own, name=called, a=legs[0], b=legs[1], apex=apex, wanted_mm=wanted_mm
        )
        made.append(dart)
    return made
