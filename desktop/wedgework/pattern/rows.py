"""Rows of punched holes, told from their holes, and where a hole lies on each of its sides.

A row has one datum: its holes stand along side A of their seam (or along one edge), and their
mates at the matching stations of side B. So both rows match by length along the seam line, also
round a curve, whatever the edges of the laps do.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace

import numpy as np

from wedgework.geometry.curve import Floats, Point
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.memo import memoised
from wedgework.geometry.turning import tangents_at
from wedgework.pattern.closings import closing_row
from wedgework.pattern.document import EdgeId, Hole, Piece, PieceId, Project, Seam, Spot
from wedgework.pattern.ends import is_of_one_outline
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import seams_of, the_edge
from wedgework.pattern.runs import walked
from wedgework.pattern.table import Table


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class PunchRow:
    """A row as it stands: its holes in order along the datum, and their stations there.

    The datum is side A of `seam`, or the edge `edge` where there is no seam; it is `whole_mm` long.
    """

    id: str
    holes: tuple[Hole, ...]
    stations_mm: tuple[float, ...]
    whole_mm: float
    seam: Seam | None
    edge: EdgeId

    @property
    def first_mm(self) -> float:
        """From the start of the datum to the first hole."""
        return self.stations_mm[0]

    @property
    def last_mm(self) -> float:
        """From the last hole to the end of the datum."""
        return self.whole_mm - self.stations_mm[-1]

    @property
    def pitch_mm(self) -> float:
        """Mean distance from hole to hole; 0 for a row of one."""
        between = len(self.holes) - 1
        return (self.stations_mm[-1] - self.first_mm) / between if between else 0.0


@memoised
def rows_by_id(holes: Table[Hole]) -> dict[str, tuple[Hole, ...]]:
    """Holes of each row, in the order of the table."""
    found: defaultdict[str, list[Hole]] = defaultdict(list)
    for hole in holes.values():
        if hole.row is not None:
            found[hole.row].append(hole)
    return {row: tuple(own) for row, own in found.items()}


def punch_row(project: Project, row: str) -> PunchRow:
    """The row of an id, measured; EditRefused where there is none."""
    holes = rows_by_id(project.holes).get(row)
    if holes is None:
        raise EditRefused(f"There is no row of holes “{row}” in this project.", culprit=row)
    seam = _seam_of_row(project, holes)
    placed = sorted(_stations(project, holes, seam), key=lambda one: one[0])
    return PunchRow(
        id=row,
        holes=tuple(hole for _, hole in placed),
        stations_mm=tuple(at_mm for at_mm, _ in placed),
        whole_mm=_whole_mm(project, holes[0], seam),
        seam=seam,
        edge=holes[0].at.edge,
    )


def _seam_of_row(project: Project, holes: tuple[Hole, ...]) -> Seam | None:
    """The seam along which a row is laid out, None where that is one edge.

    Eyelets stand on each copy of a piece that is laced to its own mirror image, so none of them
    has a mate; what tells that they are the seam's is their closing, or that they go on from edge
    to edge.
    """
    found = seam_of_hole(project, holes[0])
    if found is not None or holes[0].mate is not None:
        return found
    closed = {one.seam for one in project.closings.values() if closing_row(one) == holes[0].row}
    goes_on = len({hole.at.edge for hole in holes}) > 1
    seams = (one for one in seams_of(project, holes[0].at.edge) if is_of_one_outline(one))
    return next((one for one in seams if goes_on or one.id in closed), None)


def _stations(
    project: Project, holes: tuple[Hole, ...], seam: Seam | None
) -> list[tuple[float, Hole]]:
    if seam is None:
        return [(hole.at.at_mm, hole) for hole in holes]
    run = walked(project, seam.a)
    found = []
    for hole in holes:
        spots = (run.station_of(spot) for spot in (hole.at, hole.mate) if spot is not None)
        # A hole that an edit has left beyond the seam still belongs to the row, at its start.
        found.append((next((at for at in spots if at is not None), 0.0), hole))
    return found


def _whole_mm(project: Project, hole: Hole, seam: Seam | None) -> float:
    if seam is None:
        return length_mm(the_edge(project, hole.at.edge).curve)
    return walked(project, seam.a).length_mm


def seam_of_hole(project: Project, hole: Hole) -> Seam | None:
    """The seam whose two sides a hole goes through, None where it stands on one edge alone.

    A hole without a mate is of a seam where a piece is joined to its own mirror image: both
    copies are cut from the one outline that it stands on.
    """
    for seam in seams_of(project, hole.at.edge):
        if hole.mate is None:
            if hole.through and is_of_one_outline(seam):
                return seam
        elif any(ref.edge == hole.mate.edge for ref in (*seam.a, *seam.b)):
            return seam
    return None


def inset_on_mm(project: Project, hole: Hole, edge: EdgeId) -> float:
    """How far inside the seam line a hole lies on one of its edges, below 0 outside of it.

    When the over side's edge is laid on the seam line of the under side, what lies inside of it
    above lies as far outside of it below, in the lap: so a hole through both layers does.
    """
    if not hole.through:
        return hole.inset_mm
    seam = seam_of_hole(project, hole)
    if seam is None or seam.join != "lapped" or is_of_one_outline(seam):
        return hole.inset_mm
    over = seam.a if seam.over == "a" else seam.b
    lies_over = any(ref.edge == edge for ref in over)
    return hole.inset_mm if lies_over else -hole.inset_mm


@memoised
def hole_places(
    pieces: Table[Piece], seams: Table[Seam], holes: Table[Hole], owners: Table[PieceId]
) -> tuple[tuple[tuple[Hole, Spot], ...], Floats]:
    """Each hole on each of its edges, and where its middle is punched there, (k, 2) mm."""
    project = Project(pieces=pieces, seams=seams, holes=holes, owners=owners)
    found: list[tuple[Hole, Spot]] = []
    centres: list[Point] = []
    for hole in holes.values():
        for spot in (hole.at, hole.mate):
            if spot is not None:
                found.append((hole, spot))
                centres.append(_centre(project, hole, spot))
    return tuple(found), np.array(centres).reshape(-1, 2)


def _centre(project: Project, hole: Hole, spot: Spot) -> Point:
    curve = the_edge(project, spot.edge).curve
    along = tangents_at(curve, [spot.at_mm])[0]
    inward = np.array([-along[1], along[0]])
    return np.asarray(point_at(curve, spot.at_mm) + inset_on_mm(project, hole, spot.edge) * inward)


def alone_on(project: Project, hole: Hole, edge: EdgeId) -> Hole:
    """The hole as it stands on one of its edges when the other side is no longer its own."""
    inset_mm = inset_on_mm(project, hole, edge)
    row = None if hole.row is None else f"{hole.row}.{edge}"
    return replace(hole, mate=None, inset_mm=inset_mm, through=False, row=row)


def middle_of_lap_mm(seam: Seam) -> float:
    """How far inside the seam line of the over side the middle of a lap lies.

    Where a piece is lapped to its own mirror image half of the lap is cut outside on each copy,
    and the middle is the seam line itself.
    """
    return 0.0 if seam.join != "lapped" or is_of_one_outline(seam) else seam.lap_mm / 2
