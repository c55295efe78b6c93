"""What findings offer and no other family holds: turn a side, set apexes back, true a corner."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Annotated, Final

from msgspec import Meta

from wedgework.edits.base import Edit, Id
from wedgework.edits.carry import with_edges_reshaped
from wedgework.edits.sideways import refuse_unsound
from wedgework.geometry.curve import Curve
from wedgework.geometry.motion import rotation
from wedgework.geometry.tolerances import KINK_RAD
from wedgework.pattern.changes import with_seams
from wedgework.pattern.document import Project, Seam, Side
from wedgework.pattern.ends import End, RunEnd, run_end
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.instances import reversed_run
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.runs import walked


class TurnSide(Edit, frozen=True, kw_only=True):
    """Walk one side of a seam from its other end, so that its piece lies on the other side."""

    seam: Annotated[Id, Meta(description="seam")]
    side: Annotated[Side, Meta(description="side that is turned")] = "b"

    def change(self, project: Project) -> Project:
        """EditRefused for a dart: its legs are walked from the mouth to the apex."""
        seam = the_seam(project, self.seam)
        if seam.is_dart:
            raise EditRefused("The legs of a dart are walked to its apex.", culprit=seam.id)
        if self.side == "a":
            return with_seams(project, replace(seam, a=reversed_run(seam.a)))
        return with_seams(project, replace(seam, b=reversed_run(seam.b)))


class TrueCorner(Edit, frozen=True, kw_only=True):
    """Draw the edges across an end of a seam as one line, straight on where they meet."""

    seam: Annotated[Id, Meta(description="seam or dart")]
    end: Annotated[End, Meta(description="where its walk starts, or where it ends")]

    def change(self, project: Project) -> Project:
        """EditRefused where the edges across are joined themselves, or would turn too far."""
        seam = the_seam(project, self.seam)
        a, b = _ends(project, seam, self.end)
        for there in (a, b):
            if not there.is_open(project):
                name = there.neighbour.name or there.neighbour.id
                raise EditRefused(
                    f"“{name}” is joined or folded; no line is drawn across the seam there.",
                    culprit=there.neighbour.id,
                )
        miss = a.angle_rad + b.angle_rad - math.pi
        if abs(miss) <= KINK_RAD:
            return project
        if abs(miss) > MOST_TURNED_RAD:
            raise EditRefused(
                f"The edges across the seam miss a line by {math.degrees(miss):.1f} degrees: that "
                "is a corner, not a line to be trued.",
                culprit=seam.id,
            )
        after = _with_neighbour_turned(project, a, miss / 2)
        if a.corner == b.corner:
            return after
        return _with_neighbour_turned(after, _ends(after, seam, self.end)[1], miss / 2)


MOST_TURNED_RAD: Final = math.radians(60.0)
"""A line that misses by more is meant to have a corner; common practice, no source."""


def _ends(project: Project, seam: Seam, end: End) -> tuple[RunEnd, RunEnd]:
    return run_end(walked(project, seam.a), end), run_end(walked(project, seam.b), end)


def _with_neighbour_turned(project: Project, there: RunEnd, less_rad: float) -> Project:
    """The project where the corner's angle is smaller by `less_rad`: the edge beyond has turned."""
    edge, piece = there.neighbour, there.stretch.piece
    segments = edge.curve.segments.copy()
    # The seam's edge ends here: the other starts, and turning it to the left closes the corner.
    if there.is_at_edge_end:
        segments[0, 1] = rotation(less_rad, segments[0, 0]).points(segments[0, 1])
    else:
        segments[-1, 2] = rotation(-less_rad, segments[-1, 3]).points(segments[-1, 2])
    changed = with_edges_reshaped(project, piece, [replace(edge, curve=Curve(segments))])
    refuse_unsound(piece, changed.pieces[piece.id])
    return changed
