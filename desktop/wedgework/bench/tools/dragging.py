"""What a drag means for each kind of thing that can be held."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from typing import Final

from wedgework.bench.gestures import Mm2
from wedgework.bench.picking import Hit, Kind
from wedgework.bench.tools.notch import station_on_a
from wedgework.bench.tools.scene import Scene
from wedgework.edits import Edit
from wedgework.edits.dart_apex import MoveApex
from wedgework.edits.drawn import MoveLabel
from wedgework.edits.marks import MoveMark
from wedgework.edits.move import BendEdge, MoveCorner, MovePiece, PullEdge
from wedgework.edits.moving import MoveThings
from wedgework.edits.rows import MoveRow
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.nearest import nearest
from wedgework.pattern.document import Hole, Project, Spot
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.rows import punch_row


def edits_of_drag(scene: Scene, held: Hit, by_mm: Mm2) -> tuple[Edit, ...]:
    """The edits of having dragged something by so much, from where it lay at the press.

    What is one of several chosen things takes the others along.
    """
    if held.kind == "pin":
        # It stands where what it measures lies.
        return ()
    if held.kind != "handle" and held.id in scene.chosen and len(scene.chosen) > 1:
        return edits_of_move(scene, scene.chosen, by_mm)
    return (_EDITS[held.kind](scene, held, by_mm),)


def edits_of_move(scene: Scene, things: tuple[str, ...], by_mm: Mm2) -> tuple[Edit, ...]:
    """The edits that move things by so much: marks slide along their edges, seams stay."""
    project = scene.project
    movable = tuple(own for own in things if _is_movable(scene, own))
    slid = (_slid_mark(scene, own, by_mm) for own in _marks_once(project, things))
    return (*_moved(scene, movable, by_mm), *slid)


def _marks_once(project: Project, things: tuple[str, ...]) -> Iterator[str]:
    """The marks among some things; of a row one hole stands for all."""
    rows: set[str] = set()
    for own in things:
        row = project.holes[own].row if own in project.holes else None
        if row not in rows and (own in project.notches or own in project.holes):
            yield own
        rows |= {row} if row is not None else set()


def _is_movable(scene: Scene, own: str) -> bool:
    if own in scene.project.pieces:
        return True
    piece = scene.project.pieces.get(scene.project.owners.get(own, ""))
    # A level lies at one height on every piece.
    return piece is not None and all(line.id != own or not line.level for line in piece.lines)


def _moved(scene: Scene, things: tuple[str, ...], by_mm: Mm2) -> tuple[Edit, ...]:
    """One edit; for one thing alone that of its own kind, whose name says what it did."""
    if len(things) != 1:
        return (MoveThings(things=things, by_mm=by_mm),) if things else ()
    own = things[0]
    if own in scene.project.pieces:
        return (MovePiece(piece=own, by_mm=by_mm),)
    piece = scene.project.pieces[scene.project.owners[own]]
    if any(edge.corner == own for edge in piece.all_edges()):
        return (MoveCorner(corner=own, by_mm=by_mm),)
    if any(label.id == own for label in piece.labels):
        return (MoveLabel(label=own, by_mm=by_mm),)
    return (MoveThings(things=things, by_mm=by_mm),)


def _slid_mark(scene: Scene, own: str, by_mm: Mm2) -> Edit:
    """A mark goes to the place of its edge that is nearest to where it would have been moved."""
    mark = scene.project.notches.get(own) or scene.project.holes[own]
    curve = the_edge(scene.project, mark.at.edge).curve
    x, y = point_at(curve, mark.at.at_mm).tolist()
    to_mm = nearest(curve, (x + by_mm[0], y + by_mm[1])).station_mm
    if isinstance(mark, Hole) and mark.row is not None:
        return _move_row(scene.project, mark.row, mark.at, to_mm)
    return MoveMark(mark=own, at_mm=to_mm)


def _move_corner(scene: Scene, held: Hit, by_mm: Mm2) -> Edit:
    dart = scene.dart_ending_at(held.id)
    if dart is not None:
        return MoveApex(dart=dart, by_mm=by_mm)
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
    # A hole may lie far inside its edge: what counts is how far along it goes.
    x, y = point_at(curve, held.station_mm).tolist()
    to_mm = nearest(curve, (x + by_mm[0], y + by_mm[1])).station_mm
    if isinstance(mark, Hole) and mark.row is not None:
        return _move_row(scene.project, mark.row, Spot(held.edge, held.station_mm), to_mm)
    if mark.at.edge == held.edge:
        return MoveMark(mark=held.id, at_mm=to_mm)
    whole = length_mm(the_edge(scene.project, mark.at.edge).curve)
    # Mates of an ordinary seam run against each other along their own edges.
    datum_mm = mark.at.at_mm - (to_mm - held.station_mm)
    return MoveMark(mark=held.id, at_mm=min(max(datum_mm, 0.0), whole))


def _move_row(project: Project, own: str, held: Spot, to_mm: float) -> MoveRow:
    """A row moves as one with the hole that is held, no further than its seam goes."""
    row = punch_row(project, own)
    if row.seam is None:
        by_mm = to_mm - held.at_mm
    else:
        here, there = (station_on_a(project, row.seam, held.edge, at) for at in (held.at_mm, to_mm))
        by_mm = there - here
    return MoveRow(row=own, by_mm=min(max(by_mm, -row.first_mm), row.last_mm))


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
