"""Facings: a strip traced along an edge, or a run of edges, and laid on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Name, PositiveMm
from wedgework.edits.move import moved_piece, stitched
from wedgework.edits.places import Naming
from wedgework.edits.seams import RefText, id_from
from wedgework.geometry.crossing import crosses_itself, crossings
from wedgework.geometry.curve import Curve, Floats, Point, joined, line, reversed_curve, with_ends
from wedgework.geometry.extent import bounds_of_all, ring_area_mm2
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import translation
from wedgework.geometry.offset import offset_curve, offset_ring
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import DISPLACED_MM, SAME_STATION_MM
from wedgework.geometry.turning import end_tangent, start_tangent
from wedgework.pattern.changes import with_pieces, with_seams
from wedgework.pattern.document import (
    Cutout,
    Cutting,
    Edge,
    Piece,
    Project,
    Ref,
    Ring,
    Run,
    Seam,
    parse_ref,
)
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.laying import Laid, laid_together
from wedgework.pattern.lookup import piece_of, ring_of

CLEAR_MM: Final = 20.0
"""A facing is laid so far beside the piece that it faces; any clear distance would do."""

LEAST_SINE: Final = 0.5
"""An end that would leave the edge flatter than this is cut square to it instead."""


class AddFacing(Edit, frozen=True, kw_only=True):
    """Trace a facing along edges, or all round a piece or a hole, and lay it on by a seam.

    It is of the edges as they are now; a facing that is to be made again when they change, or stays
    back at its free edge, is a draft (`drafting/bands.py`). Both stay: a draft walks an open line
    of the made-up garment and cannot go round a hole, this one remembers nothing.
    """

    edges: Annotated[
        tuple[RefText, ...],
        Meta(min_length=1, description="edge, or edges that follow each other over several pieces"),
    ]
    width_mm: Annotated[PositiveMm, Meta(description="how wide it is")] = 20.0
    name: Annotated[Name, Meta(description="what the facing is called")] = "facing"

    def change(self, project: Project) -> Project:
        """EditRefused where the edges do not follow each other, or bend too tightly."""
        run = tuple(parse_ref(text) for text in self.edges)
        naming = Naming(project)
        own = naming.fresh(id_from(self.name, "facing"))
        whole = _whole_ring(project, run)
        if whole is not None:
            walk = tuple(Ref(edge.id) for edge in whole)
            facing, sides, closing = _round(whole, self.width_mm, own, naming), whole, None
        else:
            laid = laid_together(project, run)
            walk = tuple(Ref(o.side.edge, o.side.mirrored, o.side.mirrored) for o in laid)
            facing, closing = _strip(laid, self.width_mm, own, naming)
            sides = facing.edges[: len(laid)]
        facing = _beside(project, run, replace(facing, name=self.name))
        seams = [
            Seam(
                id=naming.fresh(f"{own}.laid"),
                name=f"{self.name} laid on",
                a=walk,
                b=_walk_of(facing, len(sides)),
                join="superimposed",
                laid_on=True,
            )
        ]
        if closing is not None:
            ends = (Ref(closing),), (Ref(closing, mirrored=True),)
            seams.append(Seam(id=naming.fresh(f"{own}.join"), name=f"{self.name} join",
                              a=ends[0], b=ends[1]))  # fmt: skip
        return with_seams(with_pieces(project, facing), *seams)


def _walk_of(facing: Piece, count: int) -> Run:
    """The traced edges: the first of the outline, or those of the hole that the facing is round."""
    traced = facing.edges if len(facing.edges) >= count and not _is_round_hole(facing) else ()
    ring = traced[:count] or facing.cutouts[0].edges
    return tuple(Ref(edge.id) for edge in ring)


def _is_round_hole(facing: Piece) -> bool:
    return bool(facing.cutouts) and facing.cutouts[0].edges[0].name == "traced"


def _beside(project: Project, run: Run, facing: Piece) -> Piece:
    right = bounds_of_all([edge.curve for edge in piece_of(project, run[0].edge).edges])[2]
    left = bounds_of_all([edge.curve for edge in facing.edges])[0]
    return moved_piece(facing, translation((float(right - left) + CLEAR_MM, 0.0)))


# All round an outline or a hole


def _whole_ring(project: Project, run: Run) -> Ring | None:
    """The ring that a run walks all round, None where it walks a part of one."""
    piece = piece_of(project, run[0].edge)
    ring = ring_of(piece, run[0].edge)
    named = {ref.edge for ref in run}
    return ring if piece.fold_edge is None and named == {edge.id for edge in ring} else None


def _round(ring: Ring, width_mm: float, own: str, naming: Naming) -> Piece:
    """A facing that goes all round: the ring itself, and the same ring moved into the piece."""
    curves = [edge.curve for edge in ring]
    hole = ring_area_mm2(curves) < 0
    outer = [reversed_curve(curve) for curve in curves[::-1]] if hole else curves
    moved = offset_ring(outer, [width_mm if hole else -width_mm] * len(outer), DISPLACED_MM)
    if len(moved) != 1:
        raise _too_tight(ring[0], width_mm)
    other = joined(*(stretch.curve for stretch in moved[0]))
    closed = with_ends(other, other.start, other.start)
    traced = tuple(
        Edge(
            id=naming.fresh(f"{own}.e{number}"),
            corner=naming.fresh(f"{own}.c{number}"),
            name="traced",
            curve=curve,
        )
        for number, curve in enumerate(curves, start=1)
    )
    inner = Edge(
        id=naming.fresh(f"{own}.e{len(ring) + 1}"),
        corner=naming.fresh(f"{own}.c{len(ring) + 1}"),
        name="",
        curve=closed if hole else reversed_curve(closed),
    )
    rings = ((inner,), traced) if hole else (traced, (inner,))
    cutout = Cutout(id=naming.fresh(f"{own}.k1"), edges=rings[1])
    return Piece(id=own, name=own, edges=rings[0], cutouts=(cutout,))


def _too_tight(edge: Edge, width_mm: float) -> EditRefused:
    return EditRefused(
        f"“{edge.name or edge.id}” bends too tightly for a facing of {width_mm:.1f} mm.",
        culprit=edge.id,
    )


# Along a run


@dataclass(frozen=True, eq=False, slots=True)
class _End:
    """An end of a run: which way the edge beyond leaves it, and whether that is a fold."""

    point: Point
    way: Point
    on_fold: bool


def _strip(
    laid: Sequence[Laid], width_mm: float, own: str, naming: Naming
) -> tuple[Piece, str | None]:
    """The facing along a run, and its end that is joined to its own mirror image, if one is.

    Its first edges are those of the run. It ends where the pieces end, on their folds cut on the
    fold; of two folds one is joined.
    """
    curves = [one.curve for one in laid]
    first, last = _end(laid[0], at_start=True), _end(laid[-1], at_start=False)
    way = _between(_moved_aside(curves, width_mm), first, last, width_mm)
    ring = [*curves, line(last.point, way.end), reversed_curve(way), line(way.start, first.point)]
    edges = stitched(
        [
            Edge(
                id=naming.fresh(f"{own}.e{number}"),
                corner=naming.fresh(f"{own}.c{number}"),
                name="traced" if number <= len(curves) else "",
                curve=curve,
            )
            for number, curve in enumerate(ring, start=1)
        ]
    )
    if ring_area_mm2(ring) <= 0 or crosses_itself([edge.curve for edge in edges]):
        raise _too_tight(laid[0].edge, width_mm)
    ends = [edge for edge, end in ((edges[-1], first), (edges[len(curves)], last)) if end.on_fold]
    fold = ends[0].id if ends else None
    edges = tuple(replace(edge, finish="fold") if edge.id == fold else edge for edge in edges)
    piece = Piece(id=own, name=own, edges=edges, cutting=_cutting(laid, fold), fold_edge=fold)
    return piece, ends[1].id if len(ends) > 1 else None


def _cutting(laid: Sequence[Laid], fold: str | None) -> Cutting:
    if fold is not None:
        return "fold"
    has_images = all(one.piece.cutting != "single" for one in laid)
    return "pair" if has_images and not any(one.side.mirrored for one in laid) else "single"


def _end(one: Laid, *, at_start: bool) -> _End:
    ring = ring_of(one.piece, one.edge.id)
    index = ring.index(one.edge)
    # The walk has the piece on its left; in a mirror image it goes against the edge.
    is_before = at_start != one.side.mirrored
    beyond = ring[index - 1] if is_before else ring[(index + 1) % len(ring)]
    leaving = -end_tangent(beyond.curve) if is_before else start_tangent(beyond.curve)
    point = one.curve.start if at_start else one.curve.end
    return _End(point, np.asarray(one.motion.linear @ leaving), beyond.id == one.piece.fold_edge)


def _moved_aside(curves: Sequence[Curve], width_mm: float) -> Curve:
    """Curves that follow each other, moved to their left and met at their corners, as one."""
    chain = offset_curve(curves[0], width_mm, DISPLACED_MM)
    for curve in curves[1:]:
        chain = _met(chain, offset_curve(curve, width_mm, DISPLACED_MM), width_mm)
    return chain


def _met(before: Curve, after: Curve, width_mm: float) -> Curve:
    """Two moved curves cut off where they cross, or drawn on straight until they meet."""
    if np.hypot(*(before.end - after.start)) <= SAME_STATION_MM:
        return joined(before, with_ends(after, before.end, after.end))
    reach = 4.0 * width_mm
    one, other = _longer(before, reach, at_start=False), _longer(after, reach, at_start=True)
    met = crossings(one, other)
    if len(met) == 0:
        return joined(before, line(before.end, after.start), after)
    on_one, on_other = met[-1]
    head = part(one, 0.0, float(on_one))
    tail = part(other, float(on_other), length_mm(other))
    return joined(head, with_ends(tail, head.end, tail.end))


def _longer(curve: Curve, by_mm: float, *, at_start: bool) -> Curve:
    if at_start:
        return joined(line(curve.start - by_mm * start_tangent(curve), curve.start), curve)
    return joined(curve, line(curve.end, curve.end + by_mm * end_tangent(curve)))


def _between(way: Curve, first: _End, last: _End, width_mm: float) -> Curve:
    """The moved curve from where one end of the facing meets it to where the other does."""
    reach = 4.0 * width_mm
    whole = _longer(_longer(way, reach, at_start=True), reach, at_start=False)
    ends = (
        _cut_at(whole, way, first, reach, at_start=True),
        _cut_at(whole, way, last, reach, at_start=False),
    )
    return part(whole, *ends) if ends[0] < ends[1] else way


def _cut_at(whole: Curve, way: Curve, end: _End, reach: float, *, at_start: bool) -> float:
    """Station where the line of an end meets the moved curve; square to it where that is flat."""
    square = reach if at_start else length_mm(whole) - reach
    along: Floats = start_tangent(way) if at_start else end_tangent(way)
    sine = along[0] * end.way[1] - along[1] * end.way[0]
    if sine < LEAST_SINE:
        return square
    met = crossings(whole, line(end.point, end.point + reach * end.way))[:, 0]
    return float(min(met, key=lambda at: abs(at - square), default=square))
