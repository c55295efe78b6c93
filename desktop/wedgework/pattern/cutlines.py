"""Cut lines and placement lines, derived from seam lines: never drawn, never edited.

Cut line = seam line + allowance, and on the under side of a lapped seam + the lap (TRADE
convention: the seam line is the visible edge of the over side). A lapped seam of a piece with its
own mirror image takes half the lap on each side, since both copies come from one outline.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, TypeAlias
from weakref import WeakKeyDictionary

from wedgework.geometry.curve import Curve, reversed_curve
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.offset import Joint, offset_curve, offset_ring
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Ring, Seam
from wedgework.pattern.layers import CornerCuts, corner_cuts, lap_of_mm, widest_lap_mm
from wedgework.pattern.lookup import seams_of
from wedgework.pattern.slants import Tagged, with_slant

CUT_ERROR_MM: Final = 0.005
"""How far a cut line may lie from the exact one: a tenth of what a blade can follow."""


@dataclass(frozen=True, eq=False, slots=True)
class CutStretch:
    """A stretch of a cut line and the edge that it belongs to."""

    edge: EdgeId
    curve: Curve


CutRing = tuple[CutStretch, ...]
"""Stretches of one closed cut line, in order, each starting where the last ended."""


def outset_mm(project: Project, edge: Edge) -> float:
    """How far outside its seam line an edge is cut: allowance, and the lap where it lies under."""
    return edge.allowance_mm + widest_lap_mm(project, edge.id)


def cut_outline(project: Project, piece: Piece) -> tuple[CutRing, ...]:
    """The closed lines that the blade follows round a piece: its outline and its cut-outs.

    More than one ring for an outline only where an inward cut parts it. Where three laps meet a
    corner of them is cut off. Remembered while the piece, its outsets and these are the same.
    """
    outsets = tuple(outset_mm(project, edge) for edge in piece.all_edges())
    read = outsets, corner_cuts(project, piece)
    known = _cut.get(piece)
    if known is None or known[0] != read:
        known = _cut[piece] = (read, _cut_rings(piece, *read))
    return known[1]


_Read: TypeAlias = tuple[tuple[float, ...], CornerCuts]
_cut: WeakKeyDictionary[Piece, tuple[_Read, tuple[CutRing, ...]]] = WeakKeyDictionary()


def _cut_rings(piece: Piece, outsets: tuple[float, ...], cuts: CornerCuts) -> tuple[CutRing, ...]:
    rings: list[CutRing] = []
    done = 0
    for ring in (piece.edges, *(cutout.edges for cutout in piece.cutouts)):
        rings += _moved_out(ring, outsets[done : done + len(ring)], cuts)
        done += len(ring)
    return tuple(rings)


def _moved_out(ring: Ring, outsets: tuple[float, ...], cuts: CornerCuts) -> list[CutRing]:
    if not any(outsets):
        return [tuple(CutStretch(edge.id, edge.curve) for edge in ring)]
    curves = [edge.curve for edge in ring]
    if ring_area_mm2(curves) > 0.0:
        return [_tagged(ring, part) for part in _outline(ring, outsets, cuts)]
    # A cut-out runs clockwise, with the piece outside of it: walked backwards it moves inwards.
    backwards = [reversed_curve(curve) for curve in reversed(curves)]
    inwards = [-outset for outset in reversed(outsets)]
    moved = offset_ring(backwards, inwards, CUT_ERROR_MM)
    return [
        tuple(
            CutStretch(ring[-1 - one.edge].id, reversed_curve(one.curve)) for one in reversed(part)
        )
        for part in moved
    ]


def _outline(ring: Ring, outsets: tuple[float, ...], cuts: CornerCuts) -> list[list[Tagged]]:
    joints: list[Joint] = ["bare" if edge.corner in cuts.bare else "mitre" for edge in ring]
    moved = offset_ring([edge.curve for edge in ring], outsets, CUT_ERROR_MM, joints)
    parts = [[(one.edge, one.curve) for one in part] for part in moved]
    numbers = {edge.id: index for index, edge in enumerate(ring)}
    for slant in cuts.slants:
        index = numbers[slant.edge]
        parts = [with_slant(part, index, ring[index], slant, outsets[index]) for part in parts]
    return parts


def _tagged(ring: Ring, part: list[Tagged]) -> CutRing:
    return tuple(CutStretch(ring[index].id, curve) for index, curve in part)


def placement_lines(project: Project, piece: Piece) -> tuple[CutStretch, ...]:
    """Lines on a piece that the over side's edge is laid along, one for each edge that lies under.

    On an ordinary under side that is its own seam line; where a piece is lapped to its own mirror
    image the seam line lies in the middle of the lap, so the line is half a lap inside of it.
    """
    found: list[CutStretch] = []
    for edge in piece.all_edges():
        for seam in seams_of(project, edge.id):
            lap_mm = lap_of_mm(seam, edge.id)
            if lap_mm > 0.0:
                found.append(CutStretch(edge.id, _placement(edge, lap_mm, seam)))
    return tuple(found)


def _placement(edge: Edge, lap_mm: float, seam: Seam) -> Curve:
    if lap_mm == seam.lap_mm:
        return edge.curve
    return offset_curve(edge.curve, lap_mm, CUT_ERROR_MM)


def binding_strip_mm(binding_mm: float, *, stack_mm: float, thickness_mm: float) -> float:
    """Width of the strip that covers an edge to a depth on both sides.

    It goes down, over the stack of sheets at the edge, and up: 2 b + S + pi t / 2, since it folds
    by half a turn about the middle of its own thickness.
    """
    return 2 * binding_mm + stack_mm + math.pi / 2 * thickness_mm
