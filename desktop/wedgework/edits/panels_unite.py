"""Make one piece of two whose shared seam joins flat."""

from __future__ import annotations

import cmath
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, NotNegativeMm
from wedgework.edits.carry import Fate, carried, whole_stretch
from wedgework.edits.edges import follow_in_runs
from wedgework.edits.move import moved_piece
from wedgework.edits.seams import without_seam
from wedgework.edits.since import common_recipe
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.curve import Curve, Floats, is_straight, with_ends
from wedgework.geometry.curve import line as straight_curve
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.motion import Affine, rotation
from wedgework.geometry.tolerances import SAME_POINT_MM, SAME_STATION_MM, STRAIGHT_MM
from wedgework.geometry.turning import angle_between, end_tangent, start_tangent
from wedgework.geometry.unite import united
from wedgework.pattern.changes import has_id, with_piece_replaced, with_pieces
from wedgework.pattern.document import Cutting, Edge, EdgeId, Line, Piece, Project, Run, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import piece_of, the_seam
from wedgework.pattern.runs import WalkedRun
from wedgework.pattern.seams import measure_seam

FLAT_DEG: Final = 1.0
"""Dome and hollow up to this are no shaping that anyone would miss; common practice, no source."""

SMOOTH_RAD: Final = math.radians(1.0)
"""Parts of one edge that meet straighter than this become one again."""

SAMPLES: Final = 17
"""Places along a seam at which its two sides are laid on each other."""


class UnitePanels(Edit, frozen=True, kw_only=True):
    """Make one piece of two whose seam joins flat; all else that they carry stays."""

    seam: Annotated[Id, Meta(description="seam that goes; it has to join flat")]
    within_mm: Annotated[NotNegativeMm, Meta(description="how far its two sides may lie apart")] = (
        0.5
    )

    def change(self, project: Project) -> Project:
        """EditRefused where the seam joins shaped, or joins no two whole sides of two pieces."""
        seam = the_seam(project, self.seam)
        measure = measure_seam(project, seam)
        _refuse_shaped(seam, measure.dome_rad, measure.hollow_rad)
        first, second = _pieces_of(project, seam)
        motion = _laid_on(seam, measure.a, measure.b, self.within_mm)
        second = second if motion is None else moved_piece(second, motion)
        joint = Joint(project, first, second, seam)
        whole, fates = joint.whole()
        if crosses_itself([edge.curve for edge in whole.edges]):
            raise EditRefused("The united piece would run into itself.", culprit=seam.id)
        after = without_seam(project, seam)
        after = with_pieces(after, removed=[second.id])
        return carried(with_piece_replaced(after, first.id, whole), fates)


def _refuse_shaped(seam: Seam, dome_rad: float, hollow_rad: float) -> None:
    dome, hollow = math.degrees(dome_rad), math.degrees(hollow_rad)
    if max(dome, hollow) > FLAT_DEG:
        raise EditRefused(
            f"Seam “{seam.name or seam.id}” does not join flat: {dome:.1f}° of dome and "
            f"{hollow:.1f}° of hollow would be lost.",
            culprit=seam.id,
        )


def _pieces_of(project: Project, seam: Seam) -> tuple[Piece, Piece]:
    sides = [{piece_of(project, ref.edge).id for ref in run} for run in (seam.a, seam.b)]
    if any(len(side) != 1 for side in sides) or sides[0] == sides[1] or seam.laid_on:
        raise EditRefused(
            f"Seam “{seam.name or seam.id}” does not join one piece to one other.", culprit=seam.id
        )
    if len({ref.mirrored for ref in (*seam.a, *seam.b)}) != 1:
        raise EditRefused(
            f"Seam “{seam.name or seam.id}” joins a piece to the mirror image of another; turn "
            "one of them over first.",
            culprit=seam.id,
        )
    first, second = (project.pieces[next(iter(side))] for side in sides)
    return first, second


def _laid_on(seam: Seam, a: WalkedRun, b: WalkedRun, within_mm: float) -> Affine | None:
    """The motion that lays side B on side A, None where it lies there already.

    EditRefused where they then lie further apart than is said.
    """
    shares = np.linspace(0.0, 1.0, SAMPLES)
    to, own = (_along(run, shares) for run in (a, b))
    middle, target = complex(own.mean()), complex(to.mean())
    turn = cmath.phase(complex(np.vdot(own - middle, to - target)))
    laid = (own - middle) * cmath.exp(1j * turn) + target
    gap = float(np.abs(laid - to).max())
    if gap > within_mm:
        raise EditRefused(
            f"The sides of seam “{seam.name or seam.id}” lie {gap:.2f} mm apart when they are laid "
            "on each other; true it first.",
            culprit=seam.id,
        )
    if float(np.abs(own - to).max()) <= SAME_POINT_MM:
        return None
    turned = rotation(turn)
    shift = np.array([target.real, target.imag]) - turned.points([middle.real, middle.imag])
    return Affine(turned.linear, shift)


def _along(run: WalkedRun, shares: Floats) -> Floats:
    """Places along a run, complex mm, at shares of its length."""
    rows = []
    for share in shares.tolist():
        at_mm = share * run.length_mm
        stretch = run.stretch_at(at_mm)
        rows.append(points_at(stretch.edge.curve, [stretch.own_mm(at_mm)])[0])
    places = np.array(rows)
    return np.asarray(places[:, 0] + 1j * places[:, 1])


@dataclass(frozen=True, eq=False)
class Joint:
    """Two pieces that lie side by side along a seam."""

    project: Project
    first: Piece
    second: Piece
    seam: Seam

    def whole(self) -> tuple[Piece, dict[EdgeId, Fate]]:
        """The one piece, and what has become of edges and lines."""
        rest, other = _without(self.first, self.seam.a), _without(self.second, self.seam.b)
        ring, fates = _closed(rest, other), dict[EdgeId, Fate]()
        for joint in ((rest[-1].id, other[0].id), (other[-1].id, rest[0].id)):
            ring = self._merged(ring, joint, fates)
        lines, line_fates = _lines_met(self.project, self.first, self.second)
        own = _parent(self.project, self.first.id, self.second.id) or self.first.id
        whole = replace(
            self.first,
            id=own,
            name=_parent_name(self.first, self.second) if own != self.first.id else self.first.name,
            edges=tuple(ring),
            lines=lines,
            labels=(*self.first.labels, *self.second.labels),
            cutouts=(*self.first.cutouts, *self.second.cutouts),
            cutting=_cutting(self.first, self.second),
            fold_edge=self._fold(fates),
            recipe=common_recipe(self.first, self.second),
        )
        gone = {ref.edge: Fate() for ref in (*self.seam.a, *self.seam.b)}
        return whole, gone | fates | line_fates

    def _fold(self, fates: dict[EdgeId, Fate]) -> EdgeId | None:
        """The fold of the whole; EditRefused where the two would not be one straight line."""
        folds = [one for one in (self.first.fold_edge, self.second.fold_edge) if one is not None]
        now = {fates[own].walk[0] if own in fates else own for own in folds}
        if len(now) > 1:
            raise EditRefused(
                "Both pieces are cut on the fold, and their folds would not be one straight line.",
                culprit=self.seam.id,
            )
        return next(iter(now), None)

    def _merged(
        self, ring: list[Edge], joint: tuple[EdgeId, EdgeId], fates: dict[EdgeId, Fate]
    ) -> list[Edge]:
        """The ring where two parts of one edge that meet at an end of the seam are one again.

        `joint` are their ids as they were; `fates` is told what has become of them.
        """
        now = [fates[own].walk[0] if own in fates else own for own in joint]
        by_id = {edge.id: edge for edge in ring}
        lead, trail = (by_id[own] for own in now)
        stem = self._whole_name(joint, set(by_id))
        if lead is trail or stem is None or not self._was_one(joint, lead, trail):
            return ring
        one = replace(lead, id=stem, curve=_one_curve(lead.curve, trail.curve))
        # The second part first: what is on the whole already is not moved along it again.
        for edge, at_mm in ((trail, length_mm(lead.curve)), (lead, 0.0)):
            fates.setdefault(edge.id, Fate(walk=(edge.id,), stretches=(whole_stretch(edge, edge),)))
            fates |= {own: _on(fate, one, at_mm) for own, fate in fates.items()
                      if fate.walk == (edge.id,)}  # fmt: skip
        return [one if edge is lead else edge for edge in ring if edge is not trail]

    def _whole_name(self, joint: tuple[EdgeId, EdgeId], given: set[EdgeId]) -> EdgeId | None:
        if {self.first.fold_edge, self.second.fold_edge} == set(joint):
            return _parent(self.project, *joint) or joint[0]
        stem = _stem(joint[0])
        is_free = stem is not None and (stem in given or not has_id(self.project, stem))
        return stem if is_free and stem == _stem(joint[1]) else None

    def _was_one(self, joint: tuple[EdgeId, EdgeId], lead: Edge, trail: Edge) -> bool:
        turn = angle_between(end_tangent(lead.curve), start_tangent(trail.curve))
        alike = (lead.finish, lead.allowance_mm) == (trail.finish, trail.allowance_mm)
        return alike and abs(turn) <= SMOOTH_RAD and follow_in_runs(self.project, *joint)


def _on(fate: Fate, one: Edge, at_mm: float) -> Fate:
    """The fate of an edge that now is part of another, from a station of that on."""
    stretches = tuple(
        replace(
            stretch,
            edge=one.id,
            new_from_mm=at_mm + stretch.new_from_mm,
            new_to_mm=at_mm + stretch.new_to_mm,
        )
        for stretch in fate.stretches
    )
    return Fate(walk=(one.id,), stretches=stretches)


def _one_curve(lead: Curve, trail: Curve) -> Curve:
    """Two curves that meet as one; two straight ones in line become one straight one."""
    whole = united(lead, trail)
    return straight_curve(whole.start, whole.end) if is_straight(whole, STRAIGHT_MM) else whole


def _without(piece: Piece, run: Run) -> list[Edge]:
    """The outline from behind a run round to before it; EditRefused where that is not one way."""
    own = {ref.edge for ref in run}
    ring = list(piece.edges)
    starts = [
        index for index, edge in enumerate(ring) if edge.id not in own and ring[index - 1].id in own
    ]
    if len(starts) != 1 or len(own) + len(_turned(ring, starts[0], own)) != len(ring):
        raise EditRefused(
            f"The seam is not one stretch of the outline of “{piece.name or piece.id}”.",
            culprit=piece.id,
        )
    return _turned(ring, starts[0], own)


def _turned(ring: list[Edge], start: int, own: set[EdgeId]) -> list[Edge]:
    return [edge for edge in ring[start:] + ring[:start] if edge.id not in own]


def _closed(rest: Sequence[Edge], other: Sequence[Edge]) -> list[Edge]:
    """The two outlines as one ring; the second gives way where they meet, by a hair."""
    rows = list(other)
    first = rows[0].curve
    rows[0] = replace(rows[0], curve=with_ends(first, rest[-1].curve.end, first.end))
    last = rows[-1].curve
    rows[-1] = replace(rows[-1], curve=with_ends(last, last.start, rest[0].curve.start))
    return [*rest, *rows]


def _cutting(first: Piece, second: Piece) -> Cutting:
    """One of a fold and a pair is on the fold; EditRefused for one that is cut once and a pair."""
    kinds = {first.cutting, second.cutting}
    if len(kinds) > 1 and "single" in kinds:
        raise EditRefused(
            f"One of “{first.name or first.id}” and “{second.name or second.id}” is cut once and "
            "the other is not.",
            culprit=second.id,
        )
    return "fold" if "fold" in kinds else first.cutting


# Names that a cut gave, given back


def _stem(own: str) -> str | None:
    found = re.fullmatch(r"(.+)\.\d+", own)
    return found[1] if found else None


def _parent(project: Project, one: str, other: str) -> str | None:
    """The id that two parts were named from, where it is free again."""
    stem = _stem(one)
    return stem if stem is not None and stem == _stem(other) and not has_id(project, stem) else None


def _parent_name(first: Piece, second: Piece) -> str:
    names = [re.sub(r" \d+$", "", piece.name) for piece in (first, second)]
    return names[0] if names[0] == names[1] else first.name


def _lines_met(
    project: Project, first: Piece, second: Piece
) -> tuple[tuple[Line, ...], dict[EdgeId, Fate]]:
    """Lines of both pieces, those that the cut had parted as one again."""
    kept = list(first.lines)
    fates: dict[EdgeId, Fate] = {}
    for line in second.lines:
        match = next((own for own in kept if _meets(project, own, line)), None)
        if match is None:
            kept.append(line)
            continue
        one = replace(
            match,
            id=_parent(project, match.id, line.id) or match.id,
            curve=_met(match.curve, line.curve),
        )
        kept[kept.index(match)] = one
        fates |= {match.id: Fate(walk=(one.id,)), line.id: Fate(walk=(one.id,))}
    return tuple(kept), fates


def _meets(project: Project, one: Line, other: Line) -> bool:
    alike = (one.kind, one.level, one.name) == (other.kind, other.level, other.name)
    ends = one.curve.end - other.curve.start, other.curve.end - one.curve.start
    near = min(float(np.hypot(*gap)) for gap in ends) <= SAME_STATION_MM
    return alike and near and _parent(project, one.id, other.id) is not None


def _met(one: Curve, other: Curve) -> Curve:
    lead, trail = (one, other) if np.hypot(*(one.end - other.start)) <= SAME_STATION_MM else (
        other, one
    )  # fmt: skip
    return _one_curve(lead, with_ends(trail, lead.end, trail.end))
