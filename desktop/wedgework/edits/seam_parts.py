"""Divide a seam into several, and make one seam of several that follow each other."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Annotated

from msgspec import Meta

from wedgework.edits.base import Edit, Id, PositiveMm
from wedgework.edits.edges import SplitEdge
from wedgework.edits.places import Naming
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.changes import has_id, with_seams
from wedgework.pattern.closings import closing_of
from wedgework.pattern.document import CornerId, Piece, Project, Ref, Run, Seam, Side
from wedgework.pattern.ends import ENDS, run_end, run_of
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.instances import reversed_run
from wedgework.pattern.lookup import (
    end_corner,
    piece_of,
    seams_of,
    the_edge,
    the_seam,
)
from wedgework.pattern.runs import WalkedRun, walked
from wedgework.pattern.seams import SeamMeasure, measure_seam


class SplitSeam(Edit, frozen=True, kw_only=True):
    """Divide a seam into several: at places along it, or wherever one panel follows another."""

    seam: Annotated[Id, Meta(description="seam that is divided")]
    at_mm: Annotated[
        tuple[PositiveMm, ...] | PositiveMm,
        Meta(description="distances along its side A; where panels meet if left out"),
    ] = ()

    def change(self, project: Project) -> Project:
        """EditRefused where a place is not inside the seam, or no panels meet along it."""
        seam = the_seam(project, self.seam)
        if seam.is_dart:
            raise EditRefused("A dart is shared out by dividing the dart.", culprit=seam.id)
        _refuse_closing(project, seam)
        measure = measure_seam(project, seam)
        given = self.at_mm if isinstance(self.at_mm, tuple) else (self.at_mm,)
        places = [(at, measure.b_of(at)) for at in sorted(set(given))]
        places = places or _panel_joints(measure, seam.allowed_mm)
        _refuse_off_seam(seam, measure, places)
        for on_a, on_b in places:
            project = _with_joint(_with_joint(project, seam, "a", on_a), seam, "b", on_b)
            seam = project.seams[seam.id]
        return with_seams(project, *_parts(project, seam, places), removed=[seam.id])


def _refuse_closing(project: Project, seam: Seam) -> None:
    if closing_of(project, seam.id) is not None:
        raise EditRefused(
            f"Seam “{seam.name or seam.id}” is a closing; make it a glued seam first.",
            culprit=seam.id,
        )


def _refuse_off_seam(
    seam: Seam, measure: SeamMeasure, places: Sequence[tuple[float, float]]
) -> None:
    if not places:
        raise EditRefused(
            f"No panels meet along seam “{seam.name or seam.id}”; say where it is divided.",
            culprit=seam.id,
        )
    first, last = places[0][0], places[-1][0]
    if not SAME_STATION_MM < first <= last < measure.a.length_mm - SAME_STATION_MM:
        raise EditRefused(
            f"Side A of seam “{seam.name or seam.id}” is {measure.a.length_mm:.2f} mm long: divide "
            "it between its ends.",
            culprit=seam.id,
        )


def _panel_joints(measure: SeamMeasure, allowed_mm: float) -> list[tuple[float, float]]:
    """Stations of A and B where panels meet on either side; such as face each other are one."""
    on_b = list(_joints(measure.b))
    pairs = []
    for at in _joints(measure.a):
        there = measure.b_of(at)
        near = [one for one in on_b if abs(one - there) <= allowed_mm]
        on_b = [one for one in on_b if one not in near]
        pairs.append((at, near[0] if near else there))
    return sorted([*pairs, *((measure.a_of(one), one) for one in on_b)])


def _joints(run: WalkedRun) -> Iterator[float]:
    for one, other in pairwise(run.stretches):
        if one.piece is not other.piece or one.ref.mirrored != other.ref.mirrored:
            yield one.to_mm


def _with_joint(project: Project, seam: Seam, side: Side, at_mm: float) -> Project:
    """The project where two edges meet at a station of one side."""
    run = walked(project, run_of(project.seams[seam.id], side))
    ends = [0.0, *(one.to_mm for one in run.stretches)]
    if any(abs(end - at_mm) <= SAME_STATION_MM for end in ends):
        return project
    stretch = run.stretch_at(at_mm)
    return SplitEdge(edge=stretch.edge.id, at_mm=stretch.own_mm(at_mm)).change(project)


def _parts(project: Project, seam: Seam, places: Sequence[tuple[float, float]]) -> Iterator[Seam]:
    naming = Naming(project)
    a, b = walked(project, seam.a), walked(project, seam.b)
    bounds = [(0.0, 0.0), *places, (a.length_mm, b.length_mm)]
    for number, (low, high) in enumerate(pairwise(bounds), start=1):
        yield replace(
            seam,
            id=naming.fresh(f"{seam.id}.{number}"),
            name=f"{seam.name or seam.id} {number}",
            a=_between(a, low[0], high[0]),
            b=_between(b, low[1], high[1]),
            wanted_mm=seam.wanted_mm * (high[0] - low[0]) / a.length_mm,
        )


def _between(run: WalkedRun, low: float, high: float) -> Run:
    return tuple(one.ref for one in run.stretches if low < (one.from_mm + one.to_mm) / 2 < high)


class MergeSeams(Edit, frozen=True, kw_only=True):
    """Make one seam of several that follow each other and are made alike."""

    seams: Annotated[
        tuple[Id, ...], Meta(min_length=2, description="seams; the first one's settings stay")
    ]

    def change(self, project: Project) -> Project:
        """EditRefused where they do not follow each other on both sides, or are made otherwise."""
        given = [the_seam(project, own) for own in dict.fromkeys(self.seams)]
        for seam in given:
            if seam.is_dart:
                raise EditRefused("A dart is no part of a seam.", culprit=seam.id)
            _refuse_closing(project, seam)
        whole, rest = given[0], given[1:]
        while rest:
            found = next(
                ((seam, one) for seam in rest if (one := _joined(project, whole, seam))), None
            )
            if found is None:
                raise EditRefused(
                    f"Seam “{rest[0].name or rest[0].id}” does not follow the others on both of "
                    "its sides, or is made otherwise.",
                    culprit=rest[0].id,
                )
            whole = found[1]
            rest.remove(found[0])
        named = _named(project, whole, given)
        return with_seams(project, named, removed=[one.id for one in given if one.id != named.id])


def _named(project: Project, whole: Seam, given: Sequence[Seam]) -> Seam:
    """The seam with the id and name that its parts were named from, where those are free."""
    found = [re.fullmatch(r"(.+)\.\d+", seam.id) for seam in given]
    stems = {one[1] if one else None for one in found}
    stem = stems.pop() if len(stems) == 1 else None
    if stem is None or has_id(project, stem):
        return whole
    return replace(whole, id=stem, name=re.sub(r" \d+$", "", whole.name))


def _joined(project: Project, one: Seam, other: Seam) -> Seam | None:
    """The two as one seam, whichever follows and however the second is walked; None if neither."""
    for variant in _variants(other):
        if _made(one) != _made(variant):
            continue
        for first, second in ((one, variant), (variant, one)):
            if _follows(project, first, second):
                return replace(
                    one,
                    a=first.a + second.a,
                    b=first.b + second.b,
                    wanted_mm=one.wanted_mm + variant.wanted_mm,
                )
    return None


def _variants(seam: Seam) -> Iterator[Seam]:
    over: Side = "b" if seam.over == "a" else "a"
    swapped = replace(seam, a=seam.b, b=seam.a, over=over, wanted_mm=-seam.wanted_mm)
    for one in (seam, swapped):
        yield one
        yield replace(one, a=reversed_run(one.a), b=reversed_run(one.b))


def _made(seam: Seam) -> tuple[object, ...]:
    return seam.join, seam.lap_mm, seam.over, seam.laid_on, seam.tape_mm, seam.binding_mm


def _follows(project: Project, first: Seam, second: Seam) -> bool:
    """Whether a walk goes on from one seam to another: round one corner on a side at least.

    On the other side it may pass from piece to piece, but not to elsewhere on the same one. It may
    pass from piece to piece on both sides where those pieces are joined there.
    """
    ways = [
        _goes_on(project, run_of(first, side)[-1], run_of(second, side)[0]) for side in ("a", "b")
    ]
    if ways == [None, None]:
        return all(
            _goes_over(project, run_of(first, side)[-1], run_of(second, side)[0])
            for side in ("a", "b")
        )
    return True in ways and False not in ways


def _goes_over(project: Project, last: Ref, first: Ref) -> bool:
    """Whether two edges of different pieces follow each other over the end of a seam of those."""
    before, after = (
        run_end(walked(project, (last,)), "last"), run_end(walked(project, (first,)), "first")
    )  # fmt: skip
    corners = {before.corner, after.corner}
    return last.mirrored == first.mirrored and any(
        {run_end(walked(project, run), end).corner for run in (seam.a, seam.b)} == corners
        for seam in seams_of(project, before.neighbour.id)
        for end in ENDS
        if not seam.laid_on
    )


def _goes_on(project: Project, last: Ref, first: Ref) -> bool | None:
    """Whether one edge follows another round a corner; None where they are of other pieces."""
    one, other = piece_of(project, last.edge), piece_of(project, first.edge)
    if one is not other or last.mirrored != first.mirrored:
        return None
    left = _corner(project, one, last, at_end=True)
    return left == _corner(project, other, first, at_end=False)


def _corner(project: Project, piece: Piece, ref: Ref, *, at_end: bool) -> CornerId:
    """The corner where the walk of an edge ends, or where it starts."""
    if at_end != ref.backward:
        return end_corner(piece, ref.edge)
    return the_edge(project, ref.edge).corner
