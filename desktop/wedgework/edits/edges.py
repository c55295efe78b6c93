"""Split and merge edges."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from msgspec import Meta

from wedgework.edits.base import Edit, Id, PositiveMm
from wedgework.edits.carry import Fate, carried, parts_fate, whole_stretch
from wedgework.edits.places import Naming
from wedgework.geometry.length import length_mm
from wedgework.geometry.split import split
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.geometry.unite import united
from wedgework.pattern.changes import with_edge_parted, with_pieces, with_ring
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Ref, Run
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import piece_of, ring_of, seams_of, the_edge


class SplitEdge(Edit, frozen=True, kw_only=True):
    """Split an edge in two at a place inside it; a seam walks both parts from then on."""

    edge: Annotated[Id, Meta(description="edge that is split")]
    at_mm: Annotated[PositiveMm, Meta(description="distance from its start")]

    def change(self, project: Project) -> Project:
        """EditRefused where the place is not inside the edge, or the edge is a fold."""
        edge = the_edge(project, self.edge)
        piece = piece_of(project, self.edge)
        refuse_fold_edge(piece, edge.id, "split")
        whole = length_mm(edge.curve)
        if not SAME_STATION_MM < self.at_mm < whole - SAME_STATION_MM:
            raise EditRefused(
                f"Edge “{edge.name or edge.id}” is {whole:.2f} mm long: split it between its ends, "
                f"not at {self.at_mm:.2f} mm.",
                culprit=edge.id,
            )
        naming = Naming(project)
        curves = split(edge.curve, self.at_mm)
        first = replace(edge, id=naming.fresh(f"{edge.id}.1"), curve=curves[0])
        second = replace(
            edge,
            id=naming.fresh(f"{edge.id}.2"),
            curve=curves[1],
            corner=naming.fresh(f"{edge.id}.c"),
        )
        after = with_pieces(project, with_edge_parted(piece, edge.id, [first, second]))
        return carried(after, {edge.id: parts_fate([(first, 0.0), (second, self.at_mm)])})


class MergeEdges(Edit, frozen=True, kw_only=True):
    """Make two neighbouring edges one; it keeps the id, the name and the finish of the first."""

    first: Annotated[Id, Meta(description="edge that stays")]
    second: Annotated[Id, Meta(description="neighbour that it takes in")]

    def change(self, project: Project) -> Project:
        """EditRefused where they are no neighbours, or seams, darts or a fold need the corner."""
        piece = piece_of(project, self.first)
        kept, taken = the_edge(project, self.first), the_edge(project, self.second)
        lead, trail = _in_order(piece, kept, taken)
        for edge in (kept, taken):
            refuse_fold_edge(piece, edge.id, "merged")
        _refuse_unless_one_run(project, lead.id, trail.id)
        curve = united(lead.curve, trail.curve)
        merged = replace(kept, curve=curve, corner=lead.corner)
        ring = [merged if edge is kept else edge for edge in ring_of(piece, kept.id)]
        ring.remove(taken)
        after = with_pieces(project, with_ring(piece, kept.id, ring))
        lead_mm = length_mm(lead.curve)
        fates = {
            lead.id: Fate(walk=(kept.id,), stretches=(whole_stretch(lead, merged),)),
            trail.id: Fate(walk=(kept.id,), stretches=(whole_stretch(trail, merged, lead_mm),)),
        }
        return carried(after, fates)


def _in_order(piece: Piece, first: Edge, second: Edge) -> tuple[Edge, Edge]:
    ring = ring_of(piece, first.id)
    if second not in ring or first is second:
        raise EditRefused(f"“{first.id}” and “{second.id}” are no neighbours.", culprit=second.id)
    step = (ring.index(second) - ring.index(first)) % len(ring)
    if step == 1:
        return first, second
    if step == len(ring) - 1:
        return second, first
    raise EditRefused(f"“{first.id}” and “{second.id}” are no neighbours.", culprit=second.id)


def refuse_fold_edge(piece: Piece, edge: EdgeId, done: str) -> None:
    """EditRefused where the edge is the one that the piece is folded about."""
    if piece.fold_edge == edge:
        raise EditRefused(
            f"“{edge}” is the fold of piece “{piece.name or piece.id}” and cannot be {done}; "
            "set the piece's cutting first.",
            culprit=edge,
        )


def _refuse_unless_one_run(project: Project, lead: EdgeId, trail: EdgeId) -> None:
    """A run must walk both edges one after the other, or neither."""
    for seam in dict.fromkeys((*seams_of(project, lead), *seams_of(project, trail))):
        if not all(_walks_as_one(run, lead, trail) for run in (seam.a, seam.b)):
            raise EditRefused(
                f"“{lead}” and “{trail}” do not follow each other in one side of seam "
                f"“{seam.name or seam.id}”, so they cannot become one edge.",
                culprit=seam.id,
            )


def follow_in_runs(project: Project, lead: EdgeId, trail: EdgeId) -> bool:
    """Whether every run that walks one of two edges walks them one after the other."""
    seams = dict.fromkeys((*seams_of(project, lead), *seams_of(project, trail)))
    return all(_walks_as_one(run, lead, trail) for seam in seams for run in (seam.a, seam.b))


def _walks_as_one(run: Run, lead: EdgeId, trail: EdgeId) -> bool:
    rest: list[Ref] = list(run)
    while rest:
        ref = rest.pop(0)
        if ref.edge not in (lead, trail):
            continue
        expected = (trail, lead) if ref.backward else (lead, trail)
        if ref.edge != expected[0] or not rest or rest.pop(0) != replace(ref, edge=expected[1]):
            return False
    return True
