"""Find things in a project by id, and what hangs on an edge.

Indexes are remembered for the table that they are built from, so a drag that changes no seam
finds its seams without building anything.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TypeVar

from wedgework.geometry.memo import memoised
from wedgework.pattern.document import (
    CornerId,
    Edge,
    EdgeId,
    Hold,
    Hole,
    Notch,
    Piece,
    Pin,
    Project,
    Ring,
    Seam,
    SeamId,
    Spot,
)
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.table import Table

Mark = TypeVar("Mark", Notch, Hole)


def piece_of(project: Project, own: str) -> Piece:
    """The piece that holds an edge, corner, line, cut-out or label; EditRefused if none does."""
    owner = project.owners.get(own)
    if owner is None:
        raise EditRefused(f"There is no “{own}” in this project.", culprit=own)
    return project.pieces[owner]


def the_piece(project: Project, piece: str) -> Piece:
    """The piece of an id; EditRefused where there is none."""
    try:
        return project.pieces[piece]
    except KeyError:
        raise EditRefused(f"There is no piece “{piece}” in this project.", culprit=piece) from None


def the_seam(project: Project, seam: str) -> Seam:
    """The seam or dart of an id; EditRefused where there is none."""
    try:
        return project.seams[seam]
    except KeyError:
        raise EditRefused(f"There is no seam “{seam}” in this project.", culprit=seam) from None


def the_edge(project: Project, edge: EdgeId) -> Edge:
    """The edge of an id; EditRefused where there is none."""
    piece = piece_of(project, edge)
    found = edge_in(piece, edge)
    if found is None:
        raise EditRefused(f"“{edge}” is no edge.", culprit=edge)
    return found


def edge_in(piece: Piece, edge: EdgeId) -> Edge | None:
    """The edge of an id in one piece, its cut-outs included."""
    return next((one for one in piece.all_edges() if one.id == edge), None)


def ring_of(piece: Piece, edge: EdgeId) -> Ring:
    """The ring, outline or cut-out, that holds an edge."""
    rings = (piece.edges, *(cutout.edges for cutout in piece.cutouts))
    return next(ring for ring in rings if any(one.id == edge for one in ring))


def around_corner(piece: Piece, corner: CornerId) -> tuple[Edge, Edge]:
    """The edge that ends at a corner and the one that starts there; EditRefused if none does."""
    for ring in (piece.edges, *(cutout.edges for cutout in piece.cutouts)):
        for before, after in zip((ring[-1], *ring[:-1]), ring, strict=True):
            if after.corner == corner:
                return before, after
    raise EditRefused(f"“{corner}” is no corner.", culprit=corner)


def end_corner(piece: Piece, edge: EdgeId) -> CornerId:
    """Id of the corner where an edge ends."""
    ring = ring_of(piece, edge)
    index = next(i for i, one in enumerate(ring) if one.id == edge)
    return ring[(index + 1) % len(ring)].corner


@memoised
def seams_by_edge(seams: Table[Seam]) -> dict[EdgeId, tuple[Seam, ...]]:
    """Seams and darts that walk each edge, in order."""
    found: defaultdict[EdgeId, list[Seam]] = defaultdict(list)
    for seam in seams.values():
        for edge in dict.fromkeys(ref.edge for ref in (*seam.a, *seam.b)):
            found[edge].append(seam)
    return {edge: tuple(rows) for edge, rows in found.items()}


@memoised
def darts_by_apex(seams: Table[Seam]) -> dict[CornerId, str]:
    """Id of the dart that ends at each corner that is an apex."""
    return {seam.apex: seam.id for seam in seams.values() if seam.apex is not None}


def seams_of(project: Project, edge: EdgeId) -> tuple[Seam, ...]:
    """Seams and darts that walk an edge."""
    return seams_by_edge(project.seams).get(edge, ())


def skin_seam_of(project: Project, edge: EdgeId) -> Seam | None:
    """The one seam or dart of the skin that an edge belongs to, if any."""
    return next((seam for seam in seams_of(project, edge) if not seam.laid_on), None)


@memoised
def holds_by_seam(holds: Table[Hold]) -> dict[SeamId, Hold]:
    """The hold on each seam that is held; the first, should a file say two."""
    return {hold.seam: hold for hold in reversed(tuple(holds.values()))}


def hold_of(project: Project, seam: SeamId) -> Hold | None:
    """The hold on a seam, if it is held."""
    return holds_by_seam(project.holds).get(seam)


@memoised
def notches_by_edge(notches: Table[Notch]) -> dict[EdgeId, tuple[Notch, ...]]:
    """Notches that lie on each edge, as datum or as mate."""
    return _by_edge(notches)


@memoised
def holes_by_edge(holes: Table[Hole]) -> dict[EdgeId, tuple[Hole, ...]]:
    """Holes that lie on each edge, as datum or as mate."""
    return _by_edge(holes)


@memoised
def pins_by_edge(pins: Table[Pin]) -> dict[EdgeId, tuple[Pin, ...]]:
    """Pinned measurements that hang on a place of each edge."""
    found: defaultdict[EdgeId, list[Pin]] = defaultdict(list)
    for pin in pins.values():
        edges = (one.edge for one in pin.anchors if isinstance(one, Spot))
        for edge in dict.fromkeys(edges):
            found[edge].append(pin)
    return {edge: tuple(rows) for edge, rows in found.items()}


def _by_edge(marks: Table[Mark]) -> dict[EdgeId, tuple[Mark, ...]]:
    found: defaultdict[EdgeId, list[Mark]] = defaultdict(list)
    for mark in marks.values():
        edges = [mark.at.edge] + ([mark.mate.edge] if mark.mate else [])
        for edge in dict.fromkeys(edges):
            found[edge].append(mark)
    return {edge: tuple(rows) for edge, rows in found.items()}
