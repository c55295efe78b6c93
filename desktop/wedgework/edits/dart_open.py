"""Leave a dart unsewn: its angle lives on as fullness of its edge, or is eased into a seam.

A dart, a pleat, gathers, flare and a curve in a seam are one angle about one apex. Filled round
the apex, the mouth keeps every way from the apex to the edge as long as the legs were.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from wedgework.edits.base import Edit, Id
from wedgework.edits.darts import DartInRing, dart_in_ring, filled_over
from wedgework.geometry.arcs import arc_about
from wedgework.geometry.curve import Curve, line
from wedgework.geometry.length import length_mm
from wedgework.pattern.changes import with_seams
from wedgework.pattern.document import Project, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import seams_of

FillKind: TypeAlias = Annotated[
    Literal["arc", "straight"],
    Meta(description="round the apex, or straight across the mouth"),
]


class DartToFullness(Edit, frozen=True, kw_only=True):
    """Leave a dart unsewn: its mouth is filled, and its angle lives on as flare of the edge."""

    dart: Annotated[Id, Meta(description="dart")]
    fill: FillKind = "arc"

    def change(self, project: Project) -> Project:
        """EditRefused where this is no dart with a mouth."""
        found = dart_in_ring(project, self.dart)
        return filled_over(project, found, _across(found, self.fill))


class DartToEase(Edit, frozen=True, kw_only=True):
    """Ease a dart into the seam past its mouth: that seam's side is meant to be so much longer."""

    dart: Annotated[Id, Meta(description="dart")]
    fill: FillKind = "arc"

    def change(self, project: Project) -> Project:
        """EditRefused where no seam walks past the mouth of the dart."""
        found = dart_in_ring(project, self.dart)
        seam = _seam_past_mouth(project, found)
        fill = _across(found, self.fill)
        more_mm = length_mm(fill) * _times_more(seam, found)
        after = filled_over(project, found, fill)
        eased = after.seams[seam.id]
        return with_seams(after, replace(eased, wanted_mm=eased.wanted_mm + more_mm))


def _across(found: DartInRing, kind: str) -> Curve:
    start, end = found.rest[-1].curve.end, found.rest[0].curve.start
    return line(start, end) if kind == "straight" else arc_about(found.apex, start, end)


def _seam_past_mouth(project: Project, found: DartInRing) -> Seam:
    before, after = found.rest[-1].id, found.rest[0].id
    past = [one for one in seams_of(project, before) if one in seams_of(project, after)]
    for seam in past:
        if any(_walks_past(run, before, after) for run in (seam.a, seam.b)):
            return seam
    raise EditRefused(
        "No seam walks past the mouth of this dart, so there is nothing to ease it into; make it "
        "fullness, or swing it into a seam first.",
        culprit=found.dart.id,
    )


def _walks_past(run: tuple[object, ...], before: str, after: str) -> bool:
    edges = [getattr(ref, "edge", "") for ref in run]
    return before in edges and after in edges


def _times_more(seam: Seam, found: DartInRing) -> int:
    """How much more of side A than of side B the filled mouth lies in: 1, -1, or 0 for both."""
    edges = found.rest[-1].id, found.rest[0].id
    return _walks_past(seam.a, *edges) - _walks_past(seam.b, *edges)
