"""What it takes to remove things of different kinds in one step."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Set

from wedgework.edits import Edit
from wedgework.edits.darts import RemoveDart
from wedgework.edits.drawn import RemoveLabel, RemoveLevel, RemoveLine
from wedgework.edits.marks import RemoveMarks
from wedgework.edits.pictures import RemovePicture
from wedgework.edits.pieces import RemovePiece
from wedgework.edits.pins import Unpin
from wedgework.edits.seams import Unjoin
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.lookup import piece_of


def edits_removing(project: Project, things: Iterable[str]) -> tuple[Edit, ...]:
    """The edits that take things away, in an order in which none takes another's away before it.

    What goes with its piece is not removed twice. Corners, edges and sheets stay: nothing is made
    of them.
    """
    ids = dict.fromkeys(things)
    pieces = {own for own in ids if own in project.pieces}
    pins = tuple(own for own in ids if own in project.pins)
    marks = tuple(dict.fromkeys(_marks(project, ids)))
    return (
        *((Unpin(pins=pins),) if pins else ()),
        *((RemoveMarks(marks=marks),) if marks else ()),
        *_of_seams(project, ids, pieces),
        *(edit for own in ids for edit in _drawn(project, own, pieces)),
        *(RemoveLevel(level=own) for own in ids if own in project.levels),
        *(RemovePicture(picture=own) for own in ids if own in project.pictures),
        *(RemovePiece(piece=own) for own in ids if own in pieces),
    )


def _marks(project: Project, ids: Iterable[str]) -> Iterator[str]:
    """Notches and holes; a hole of a row goes with its whole row."""
    for own in ids:
        if own in project.holes:
            yield project.holes[own].row or own
        elif own in project.notches:
            yield own


def _of_seams(project: Project, ids: Iterable[str], pieces: Set[str]) -> Iterator[Edit]:
    """Darts are filled and seams taken apart, but for those that go with their pieces."""
    for seam in (project.seams[own] for own in ids if own in project.seams):
        if any(piece_of(project, ref.edge).id in pieces for ref in (*seam.a, *seam.b)):
            if not seam.is_dart:
                yield Unjoin(seam=seam.id)
        else:
            yield RemoveDart(dart=seam.id) if seam.is_dart else Unjoin(seam=seam.id)


def _drawn(project: Project, own: str, pieces: Set[str]) -> Iterator[Edit]:
    piece: Piece | None = project.pieces.get(project.owners.get(own, ""))
    if piece is None or piece.id in pieces:
        return
    if any(line.id == own for line in piece.lines):
        yield RemoveLine(line=own)
    elif any(label.id == own for label in piece.labels):
        yield RemoveLabel(label=own)
