"""Cut lines and placement lines, derived from seam lines: never drawn, never edited.

Cut line = seam line + allowance, and on the under side of a lapped seam + the lap (TRADE
convention: the seam line is the visible edge of the over side). A lapped seam of a piece with its
own mirror image takes half the lap on each side, since both copies come from one outline. Sides
that are butted, bound or laid on each other (superimposed) have what allowance their edges have.
The ends of a turned hem are the sides mirrored in it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias
from weakref import WeakKeyDictionary

from wedgework.geometry.curve import Curve, reversed_curve
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.offset import Joint, offset_curve, offset_ring
from wedgework.pattern.closings import closing_of
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Ring
from wedgework.pattern.hems import turned_hems, with_hems
from wedgework.pattern.layers import CornerCuts, corner_cuts, lap_of_mm, widest_lap_mm
from wedgework.pattern.lookup import ring_of, seams_of
from wedgework.pattern.mouths import Fold, folds_of, with_folds
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
    folds, hems = folds_of(project, piece), turned_hems(project, piece)
    read = outsets, corner_cuts(project, piece), folds, hems
    known = _cut.get(piece)
    if known is None or known[0] != read:
        known = _cut[piece] = (read, _cut_rings(piece, *read))
    return known[1]


_Read: TypeAlias = tuple[tuple[float, ...], CornerCuts, tuple[Fold, ...], frozenset[EdgeId]]
_cut: WeakKeyDictionary[Piece, tuple[_Read, tuple[CutRing, ...]]] = WeakKeyDictionary()


def _cut_rings(
    piece: Piece,
    outsets: tuple[float, ...],
    cuts: CornerCuts,
    folds: tuple[Fold, ...],
    hems: frozenset[EdgeId],
) -> tuple[CutRing, ...]:
    done = len(piece.edges)
    legs = {own for fold in folds for own in (*fold.towards, *fold.away)}
    folded = with_folds(piece.edges, outsets[:done], folds)
    # At the mouth of a folded dart a hem goes on, as beside another hem: nothing is mirrored there.
    rings = _moved_out(*with_hems(*folded, hems, legs, piece.fold_edge), cuts)
    for ring in (cutout.edges for cutout in piece.cutouts):
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


DerivedKind: TypeAlias = Literal["placement", "tape", "binding", "hem"]
"""Where an over side's edge is laid; where a tape, a binding, a turned hem reach to."""


@dataclass(frozen=True, eq=False, slots=True)
class DerivedLine:
    """A line in a piece that its seams and finishes make, so far inside of one of its edges."""

    edge: EdgeId
    curve: Curve
    kind: DerivedKind
    inside_mm: float


def placement_lines(project: Project, piece: Piece) -> tuple[DerivedLine, ...]:
    """Lines on a piece that the over side's edge is laid along, one for each edge that lies under.

    On an ordinary under side that is its own seam line; where a piece is lapped to its own mirror
    image the seam line lies in the middle of the lap, so the line is half a lap inside of it.
    """
    return tuple(one for one in derived_lines(project, piece) if one.kind == "placement")


def derived_lines(project: Project, piece: Piece) -> tuple[DerivedLine, ...]:
    """All lines that show on a piece how its edges are joined and finished, edge by edge.

    A tape reaches half its width inside of both butted edges, a binding as far as it covers, and
    the edge of a turned hem comes to lie as far inside its fold as its allowance is wide. Behind
    a closing there is no tape: it would glue what is to open.
    """
    found: list[DerivedLine] = []
    for edge in piece.all_edges():
        for kind, inside_mm in _wanted_lines(project, edge):
            curves = _inside(piece, edge, inside_mm) if inside_mm else [edge.curve]
            found += [DerivedLine(edge.id, curve, kind, inside_mm) for curve in curves]
    return tuple(found)


def _wanted_lines(project: Project, edge: Edge) -> Iterator[tuple[DerivedKind, float]]:
    """Kind of each line, and how far inside the seam line it lies."""
    seams = seams_of(project, edge.id)
    for seam in seams:
        lap_mm = lap_of_mm(seam, edge.id)
        if lap_mm > 0.0:
            yield "placement", 0.0 if lap_mm == seam.lap_mm else lap_mm
        elif seam.join == "butted" and closing_of(project, seam.id) is None:
            yield "tape", seam.tape_mm / 2
        elif seam.join == "bound":
            yield "binding", seam.binding_mm
    if not seams and edge.finish == "hem" and edge.allowance_mm > 0.0:
        yield "hem", edge.allowance_mm


def _inside(piece: Piece, edge: Edge, inside_mm: float) -> list[Curve]:
    """An edge moved inwards, as far as the edges beside it let it run."""
    ring = ring_of(piece, edge.id)
    if ring is not piece.edges:
        # A cut-out has the piece on its left like any outline, but outside of it.
        return [offset_curve(edge.curve, inside_mm, CUT_ERROR_MM)]
    distances = [-inside_mm if one is edge else 0.0 for one in ring]
    index = ring.index(edge)
    parts = offset_ring([one.curve for one in ring], distances, CUT_ERROR_MM)
    return [one.curve for part in parts for one in part if one.edge == index and not one.joint]


def binding_strip_mm(binding_mm: float, *, stack_mm: float, thickness_mm: float) -> float:
    """Width of the strip that covers an edge to a depth on both sides.

    It goes down, over the stack of sheets at the edge, and up: 2 b + S + pi t / 2, since it folds
    by half a turn about the middle of its own thickness.
    """
    return 2 * binding_mm + stack_mm + math.pi / 2 * thickness_mm
