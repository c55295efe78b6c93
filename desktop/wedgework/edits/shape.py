"""Shape a seam: take a slice out of it, so that it joins into a rounded form."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

import msgspec
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Mm, NotNegativeMm
from wedgework.edits.dart_consumed import shaped_like, without_consumed
from wedgework.edits.mates import with_mates_placed
from wedgework.edits.sideways import with_edges_moved
from wedgework.edits.true import trued
from wedgework.geometry.piecewise import Piecewise
from wedgework.pattern.document import EdgeId, Project, Seam
from wedgework.pattern.ends import is_of_one_outline
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.intake import Station, width_along
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.runs import Stretch, WalkedRun
from wedgework.pattern.seams import SeamMeasure, measure_seam


class IntakeStation(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A place along side A of a seam, and how wide the slice is there."""

    at_mm: Annotated[NotNegativeMm, Meta(description="distance along A from the walk's start")]
    width_mm: Annotated[Mm, Meta(description="taken out there; negative puts in")]


class ShapeSeam(Edit, frozen=True, kw_only=True):
    """Give a seam intake at stations: a smooth slice is taken out, so that it joins shaped."""

    seam: Annotated[Id, Meta(description="seam that gets the slice")]
    intake: Annotated[
        tuple[IntakeStation, ...],
        Meta(description="two stations or more; the outer ones are 0 wide unless at an end"),
    ] = ()
    share_a: Annotated[
        float, Meta(ge=0, le=1, description="part of the width that side A gives up")
    ] = 0.5
    then_true: Annotated[bool, Meta(description="make both sides equally long afterwards")] = True
    round_mm: Annotated[NotNegativeMm, Meta(description="length over which tips are rounded")] = 0.0
    consume: Annotated[
        Id | None,
        Meta(description="dart that goes; without stations the seam shapes as much as it did"),
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where the stations make no slice, or the pieces have no room for it."""
        seam = the_seam(project, self.seam)
        stations = tuple(Station(one.at_mm, one.width_mm) for one in self.intake)
        if self.consume is None:
            return self._shaped(project, seam, stations)
        bare = without_consumed(project, seam, self.consume)
        if stations:
            return self._shaped(bare, seam, stations)
        return shaped_like(project, seam, self.consume, lambda at: self._shaped(bare, seam, at))

    def _shaped(self, project: Project, seam: Seam, stations: tuple[Station, ...]) -> Project:
        measured = measure_seam(project, seam)
        width = width_along(stations, measured.a.length_mm, self.round_mm)
        _refuse_at_apex(seam, width)
        moved = with_edges_moved(project, _distances(seam, measured, width, self.share_a))
        after = with_mates_placed(project, moved, seam, "a")
        if not self.then_true or is_of_one_outline(seam):
            return after
        return trued(after, seam, "both")


def _refuse_at_apex(seam: Seam, width: Piecewise) -> None:
    at_tip = seam.tip is not None and width.rows[0, 2] != 0.0
    if seam.is_dart and (at_tip or width.rows[-1, 4] != 0.0):
        raise EditRefused(
            "At its apex a dart has no width: end the slice with a station of 0 there.",
            culprit=seam.tip if at_tip else seam.apex,
        )


def _distances(
    seam: Seam, measured: SeamMeasure, width: Piecewise, share_a: float
) -> Mapping[EdgeId, Piecewise]:
    """How far each edge of the seam moves into its piece, over its own length."""
    over_b = width.stretched(measured.matches[:, 0], measured.matches[:, 1])
    a = _by_edge(measured.a, width.scaled(share_a))
    b = _by_edge(measured.b, over_b.scaled(1.0 - share_a))
    both = a.keys() & b.keys()
    if both and (a.keys() != b.keys() or not _walk_alike(seam)):
        raise EditRefused(
            f"Edge “{min(both)}” stands on both sides of the seam at different places; it cannot "
            "be cut two ways.",
            culprit=min(both),
        )
    if both and share_a != 0.5:
        raise EditRefused(
            "Both sides of this seam are cut from one outline, so each gives up half: set the "
            "share to 0.5.",
            culprit=seam.id,
        )
    return {**b, **a}


def _walk_alike(seam: Seam) -> bool:
    """Whether run B is run A in the mirror image, edge by edge the same way."""
    return [(r.edge, r.backward) for r in seam.a] == [(r.edge, r.backward) for r in seam.b]


def _by_edge(run: WalkedRun, width: Piecewise) -> dict[EdgeId, Piecewise]:
    return {one.edge.id: _over_edge(one, width) for one in run.stretches}


def _over_edge(stretch: Stretch, width: Piecewise) -> Piecewise:
    own = width.between(stretch.from_mm, stretch.to_mm)
    return own.backwards(stretch.to_mm - stretch.from_mm) if stretch.ref.backward else own
