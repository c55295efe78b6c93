"""Where a seam ends: the corners there, and the edges that go on from them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from wedgework.geometry.curve import Point
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.document import CornerId, Edge, Project, Run, Seam, Side
from wedgework.pattern.lookup import around_corner, edge_in, seams_of, skin_seam_of
from wedgework.pattern.runs import Stretch, WalkedRun, walked

End: TypeAlias = Literal["first", "last"]
"""Where the walk of a seam starts, and where it ends."""

ENDS: Final[tuple[End, ...]] = ("last", "first")


@dataclass(frozen=True, eq=False, slots=True)
class RunEnd:
    """One end of one side of a seam: the stretch that ends there and the edge beyond it."""

    stretch: Stretch
    corner: CornerId
    neighbour: Edge

    @property
    def angle_rad(self) -> float:
        """Angle inside the piece at the corner, in rad."""
        return corner_angle(self.stretch.piece, self.corner)

    @property
    def is_at_edge_end(self) -> bool:
        """Whether the corner is where the edge itself ends, not where it starts."""
        return self.stretch.edge.corner != self.corner

    @property
    def point(self) -> Point:
        """Where the corner lies, (2,) mm."""
        curve = self.stretch.edge.curve
        return curve.end if self.is_at_edge_end else curve.start

    @property
    def is_on_fold(self) -> bool:
        """Whether the edge beyond is the fold of the piece."""
        return self.stretch.piece.fold_edge == self.neighbour.id

    def is_open(self, project: Project) -> bool:
        """Whether the edge beyond is free: in no seam of the skin, and no fold."""
        return not self.is_on_fold and skin_seam_of(project, self.neighbour.id) is None


def run_end(run: WalkedRun, end: End) -> RunEnd:
    """The end of a walked run."""
    stretch = run.stretches[-1 if end == "last" else 0]
    corner = stretch.last_corner if end == "last" else stretch.first_corner
    before, after = around_corner(stretch.piece, corner)
    # An edge that closes in itself is its own neighbour.
    neighbour = after if before is stretch.edge else before
    return RunEnd(stretch, corner, neighbour)


def run_of(seam: Seam, side: Side) -> Run:
    """The run of one side."""
    return seam.a if side == "a" else seam.b


def is_of_one_outline(seam: Seam) -> bool:
    """Whether an edge stands on both sides, as where a piece is joined to its own mirror image."""
    return not {ref.edge for ref in seam.a}.isdisjoint(ref.edge for ref in seam.b)


def movable_ends(project: Project, seam: Seam, side: Side) -> tuple[End, ...]:
    """Ends of one side whose corner can move along the side, the far end of the walk first.

    Not the apex of a dart, not where the edge beyond is of the seam itself; none at all where both
    sides are one outline, or the side hangs on an internal line.
    """
    if is_of_one_outline(seam):
        return ()
    own = {ref.edge for ref in (*seam.a, *seam.b)}
    run = walked(project, run_of(seam, side))
    if any(edge_in(one.piece, one.edge.id) is None for one in run.stretches):
        return ()  # it hangs on an internal line, which has no corner
    return tuple(
        end
        for end in ENDS
        if not (end == "last" and seam.is_dart) and run_end(run, end).neighbour.id not in own
    )


def can_change_alone(project: Project, seam: Seam, side: Side) -> bool:
    """Whether a side has a movable end whose edge is in no other seam that would go along."""
    run = walked(project, run_of(seam, side))
    return any(
        seams_of(project, run_end(run, end).stretch.edge.id) == (seam,)
        for end in movable_ends(project, seam, side)
    )
