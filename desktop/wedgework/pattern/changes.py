"""A changed project that shares everything else with the one before."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import chain, count

from wedgework.pattern.document import Edge, EdgeId, Piece, PieceId, Project, Ring, Seam, SeamId
from wedgework.pattern.table import Table


def owners_of(pieces: Table[Piece]) -> Table[PieceId]:
    """Which piece holds each id; raises ValueError where two hold the same."""
    rows: dict[str, PieceId] = {}
    for piece in pieces.values():
        for own in piece.own_ids():
            if own in rows or own in pieces:
                raise ValueError(f"the id {own} stands twice in the project")
            rows[own] = piece.id
    return Table(rows)


def new_project(*pieces: Piece, name: str = "", seams: Iterable[Seam] = ()) -> Project:
    """A project of these pieces and seams."""
    table = Table((piece.id, piece) for piece in pieces)
    rows = Table((seam.id, seam) for seam in seams)
    return Project(name=name, pieces=table, seams=rows, owners=owners_of(table))


def with_pieces(project: Project, *changed: Piece, removed: Iterable[PieceId] = ()) -> Project:
    """The project with pieces put in, in the place of the old ones of the same id, or removed."""
    removed = tuple(removed)
    rows = {piece.id: piece for piece in changed}
    return _with_piece_table(project, project.pieces.with_rows(rows, removed), rows, removed)


def with_piece_replaced(project: Project, old: PieceId, *parts: Piece) -> Project:
    """The project where one piece has given its place to `parts`."""
    rows = {piece.id: piece for piece in parts}
    return _with_piece_table(project, project.pieces.with_row_replaced(old, rows), rows, (old,))


def _with_piece_table(
    project: Project,
    pieces: Table[Piece],
    changed: Mapping[PieceId, Piece],
    removed: tuple[PieceId, ...],
) -> Project:
    gone = [project.pieces[key] for key in (*changed, *removed) if key in project.pieces]
    old_ids = {own: piece.id for piece in gone for own in piece.own_ids()}
    new_ids = {own: piece.id for piece in changed.values() for own in piece.own_ids()}
    if old_ids == new_ids:
        return replace(project, pieces=pieces)
    lost = [own for own in old_ids if own not in new_ids]
    return replace(project, pieces=pieces, owners=project.owners.with_rows(new_ids, lost))


def with_seams(project: Project, *changed: Seam, removed: Iterable[SeamId] = ()) -> Project:
    """The project with seams put in, in the place of the old ones of the same id, or removed."""
    rows = {seam.id: seam for seam in changed}
    return replace(project, seams=project.seams.with_rows(rows, removed))


def with_edges_replaced(piece: Piece, changed: Mapping[EdgeId, Edge]) -> Piece:
    """The piece with some edges (of the outline or a cut-out) replaced by edges of the same id."""

    def ring(edges: Ring) -> Ring:
        return tuple(changed.get(edge.id, edge) for edge in edges)

    cutouts = tuple(replace(cutout, edges=ring(cutout.edges)) for cutout in piece.cutouts)
    return replace(piece, edges=ring(piece.edges), cutouts=cutouts)


def with_ring(piece: Piece, edge: EdgeId, ring: Iterable[Edge]) -> Piece:
    """The piece with the ring (outline or cut-out) that holds an edge replaced by another."""
    edges = tuple(ring)
    if any(one.id == edge for one in piece.edges):
        return replace(piece, edges=edges)
    cutouts = tuple(
        replace(cutout, edges=edges) if any(one.id == edge for one in cutout.edges) else cutout
        for cutout in piece.cutouts
    )
    return replace(piece, cutouts=cutouts)


def with_edge_parted(piece: Piece, edge: EdgeId, parts: Iterable[Edge]) -> Piece:
    """The piece with one edge replaced by the parts that it was cut into, in their order."""
    parts = tuple(parts)
    for ring in (piece.edges, *(cutout.edges for cutout in piece.cutouts)):
        if any(one.id == edge for one in ring):
            rows = (parts if one.id == edge else (one,) for one in ring)
            return with_ring(piece, edge, chain.from_iterable(rows))
    raise KeyError(edge)


def fresh_id(project: Project, stem: str, also_taken: Iterable[str] = ()) -> str:
    """`stem` if nothing has that id, else `stem` with the first free number behind a dash.

    The same project and stem give the same id every time. `also_taken` are ids that the same
    edit has given already.
    """
    given = set(also_taken)

    def is_free(candidate: str) -> bool:
        return candidate not in given and not has_id(project, candidate)

    if is_free(stem):
        return stem
    return next(name for n in count(2) if is_free(name := f"{stem}-{n}"))


def has_id(project: Project, name: str) -> bool:
    """Whether anything in the project has this id."""
    return any(name in table for table in project.id_tables)
