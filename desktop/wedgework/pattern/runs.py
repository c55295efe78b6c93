"""A run of a seam, walked: which edge comes after which, and where a station falls.

Turning is always that of the edge as its own piece sees it (piece on the left, convex positive),
summed in the order of the walk. A mirror image seen from its own piece turns like the piece
itself, so `~` changes nothing here; only `-` does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from wedgework.geometry.curve import Curve, Floats, reversed_curve
from wedgework.geometry.length import length_mm
from wedgework.geometry.memo import memoised
from wedgework.geometry.profile import turning_profile
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.document import CornerId, Edge, Line, Piece, Project, Ref, Run, Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import edge_in, end_corner, piece_of


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Stretch:
    """One edge of a run, with its piece and the station, in mm, where the walk enters it."""

    ref: Ref
    edge: Edge
    piece: Piece
    from_mm: float
    to_mm: float

    @property
    def is_line(self) -> bool:
        """Whether it is an internal line, which what is laid on may be joined to: no corners."""
        return not self.edge.corner

    @property
    def first_corner(self) -> CornerId:
        """The corner where the walk enters the edge."""
        return end_corner(self.piece, self.edge.id) if self.ref.backward else self.edge.corner

    @property
    def last_corner(self) -> CornerId:
        """The corner where the walk leaves the edge."""
        return self.edge.corner if self.ref.backward else end_corner(self.piece, self.edge.id)

    def own_mm(self, station_mm: float) -> float:
        """Distance from the edge's own start of a station of the run."""
        along = min(max(station_mm, self.from_mm), self.to_mm) - self.from_mm
        return (self.to_mm - self.from_mm) - along if self.ref.backward else along

    def station_mm(self, own_mm: float) -> float:
        """Station of the run at a distance from the edge's own start."""
        return self.to_mm - own_mm if self.ref.backward else self.from_mm + own_mm


@dataclass(frozen=True, eq=False)
class WalkedRun:
    """A run laid out along its walk."""

    stretches: tuple[Stretch, ...]

    @property
    def length_mm(self) -> float:
        """Length of the seam line of the whole run, in mm."""
        return self.stretches[-1].to_mm

    def stretch_at(self, station_mm: float) -> Stretch:
        """The stretch that holds a station; at a joint, the one that ends there."""
        return next((one for one in self.stretches if station_mm <= one.to_mm), self.stretches[-1])

    def spot_at(self, station_mm: float) -> Spot:
        """The place on an edge of a station, in mm from the start of the walk."""
        stretch = self.stretch_at(station_mm)
        return Spot(stretch.edge.id, stretch.own_mm(station_mm))

    def station_of(self, spot: Spot) -> float | None:
        """Station of a place on an edge, in mm; None where the run does not walk that edge."""
        found = (one for one in self.stretches if one.edge.id == spot.edge)
        return next((one.station_mm(spot.at_mm) for one in found), None)

    def curve_of(self, stretch: Stretch) -> Curve:
        """The curve of one stretch in the direction of the walk, in its own piece's place."""
        return reversed_curve(stretch.edge.curve) if stretch.ref.backward else stretch.edge.curve

    def joint_turnings(self) -> list[tuple[float, float]]:
        """(station in mm, turning in rad) at each joint between two stretches.

        pi minus the corner's angle; where the walk passes from one piece (or mirror image) to
        another, or over the mouth of a dart, pi minus the sum of both angles.
        """
        return [
            (before.to_mm, math.pi - _joint_angle(before, after))
            for before, after in pairwise(self.stretches)
        ]

    def turning_profile(self) -> tuple[Floats, Floats]:
        """Rising stations, (k,) mm, and the turning, (k,) rad, gathered up to each.

        A kink stands as two rows at one station, before and after it; see `geometry.profile`.
        """
        rows: list[Floats] = []
        turned = 0.0
        joints = [*(turning for _, turning in self.joint_turnings()), 0.0]
        for stretch, joint in zip(self.stretches, joints, strict=True):
            profile = turning_profile(stretch.edge.curve)
            if stretch.ref.backward:
                profile = (profile[-1] - profile)[::-1]
            rows.append(profile + np.array([stretch.from_mm, turned]))
            turned += float(profile[-1, 1]) + joint
        table = np.concatenate(rows)
        return table[:, 0], table[:, 1]


def _joint_angle(before: Stretch, after: Stretch) -> float:
    if before.is_line or after.is_line:
        return math.pi  # what is laid on a line goes straight on from piece to piece
    one = corner_angle(before.piece, before.last_corner)
    same_place = before.last_corner == after.first_corner
    if same_place and before.ref.mirrored == after.ref.mirrored:
        return one
    return one + corner_angle(after.piece, after.first_corner)


def walked(project: Project, run: Run) -> WalkedRun:
    """The run laid out along its walk; EditRefused where an edge or line of it is not there."""
    stretches: list[Stretch] = []
    at_mm = 0.0
    for ref in run:
        piece = piece_of(project, ref.edge)
        edge = edge_in(piece, ref.edge) or _line_in(piece, ref.edge)
        if edge is None:
            raise EditRefused(f"“{ref.edge}” is no edge.", culprit=ref.edge)
        to_mm = at_mm + length_mm(edge.curve)
        stretches.append(Stretch(ref=ref, edge=edge, piece=piece, from_mm=at_mm, to_mm=to_mm))
        at_mm = to_mm
    return WalkedRun(tuple(stretches))


def _line_in(piece: Piece, own: str) -> Edge | None:
    found = next((line for line in piece.lines if line.id == own), None)
    return None if found is None else _as_edge(found)


@memoised
def _as_edge(line: Line) -> Edge:
    """An internal line as a run walks it: an edge without corners, the same one each time."""
    return Edge(id=line.id, name=line.name, curve=line.curve, corner="")
