"""What a drag means for each kind of thing that can be held."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Final

from wedgework.bench.gestures import Mm2
from wedgework.bench.picking import Hit, Kind
from wedgework.bench.tools.scene import Scene
from wedgework.edits import Edit
from wedgework.edits.drawn import MoveLabel
from wedgework.edits.marks import MoveMark
from wedgework.edits.move import BendEdge, MoveCorner, MovePiece, PullEdge
from wedgework.geometry.length import length_mm
from wedgework.geometry.nearest import nearest
from wedgework.pattern.lookup import the_edge


def edits_of_drag(scene: Scene, held: Hit, by_mm: Mm2) -> tuple[Edit, ...]:
    """The edits of having dragged something by so much, from where it lay at the press.

    A piece or a corner that is chosen takes along what else of its kind is chosen.
    """
    if held.kind in {"piece", "corner"} and held.id in scene.chosen:
        others = (own for own in scene.chosen if own != held.id and _is_like(scene, own, held))
        owners = scene.project.owners
        hits = (held, *(replace(held, id=own, piece=owners.get(own, own)) for own in others))
    else:
        hits = (held,)
    return tuple(_EDITS[hit.kind](scene, hit, by_mm) for hit in hits)


def _is_like(scene: Scene, own: str, held: Hit) -> bool:
    if held.kind == "piece":
        return own in scene.project.pieces
    piece = scene.project.pieces.get(scene.project.owners.get(own, ""))
    return piece is not None and any(edge.corner == own for edge in piece.all_edges())


def _move_corner(_: Scene, held: Hit, by_mm: Mm2) -> Edit:
    return MoveCorner(corner=held.id, by_mm=by_mm)


def _bend(_: Scene, held: Hit, by_mm: Mm2) -> Edit:
    return BendEdge(edge=held.id, cubic=held.cubic, handle=held.end, by_mm=by_mm)


def _pull(_: Scene, held: Hit, by_mm: Mm2) -> Edit:
    return PullEdge(edge=held.id, at_mm=held.station_mm, by_mm=by_mm)


def _move_piece(_: Scene, held: Hit, by_mm: Mm2) -> Edit:
    return MovePiece(piece=held.piece, by_mm=by_mm)


def _move_label(_: Scene, held: Hit, by_mm: Mm2) -> Edit:
    return MoveLabel(label=held.id, by_mm=by_mm)


def _move_mark(scene: Scene, held: Hit, by_mm: Mm2) -> Edit:
    """A mark slides along its edge to the place nearest to the pointer.

    `move_mark` counts along the edge of the mark's datum, which may be its mate's edge: then the
    datum goes as far along as the mate was dragged.
    """
    mark = scene.project.notches.get(held.id) or scene.project.holes[held.id]
    curve = the_edge(scene.project, held.edge).curve
    to_mm = nearest(curve, (held.at_mm[0] + by_mm[0], held.at_mm[1] + by_mm[1])).station_mm
    if mark.at.edge == held.edge:
        return MoveMark(mark=held.id, at_mm=to_mm)
    whole = length_mm(the_edge(scene.project, mark.at.edge).curve)
    # Mates of an ordinary seam run against each other along their own edges.
    datum_mm = mark.at.at_mm - (to_mm - held.station_mm)
    return MoveMark(mark=held.id, at_mm=min(max(datum_mm, 0.0), whole))


_EDITS: Final[Mapping[Kind, Callable[[Scene, Hit, Mm2], Edit]]] = {
    "corner": _move_corner,
    "handle": _bend,
    "edge": _pull,
    "mark": _move_mark,
    "label": _move_label,
    "line": _move_piece,
    "piece": _move_piece,
}


def typed_shift(numbers: tuple[float, ...], by_mm: Mm2) -> Mm2:
    """The shift that was typed: across and up, or one length in the direction of the drag."""
    if len(numbers) > 1:
        return numbers[0], numbers[1]
    size = math.hypot(*by_mm)
    direction = (by_mm[0] / size, by_mm[1] / size) if size > 0 else (1.0, 0.0)
    return direction[0] * numbers[0], direction[1] * numbers[0]
