"""What the things of a project are called in lists, and which things there are of a kind."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from wedgework.geometry.memo import memoised
from wedgework.pattern.document import Edge, Hole, Line, Piece, Project
from wedgework.pattern.table import Table

Kinds = tuple[str, ...]


def kind_of(project: Project, own: str) -> str:
    """The kind of a thing: piece, seam, dart, mark, level, sheet, photograph, pin, or in a piece.

    Nothing where the project has no such thing.
    """
    if own in project.seams:
        return "dart" if project.seams[own].is_dart else "seam"
    tables: dict[str, Table[Any]] = {
        "piece": project.pieces,
        "notch": project.notches,
        "hole": project.holes,
        "level": project.levels,
        "sheet": project.sheets,
        "photograph": project.pictures,
        "pin": project.pins,
        "opening": project.openings,
        "closing": project.closings,
        "body": project.bodies,
        "row": rows_of_holes(project.holes),
    }
    for kind, table in tables.items():
        if own in table:
            return kind
    owner = project.owners.get(own)
    return "" if owner is None else _kind_inside(project.pieces[owner], own)


def _kind_inside(piece: Piece, own: str) -> str:
    return next((kind for kind, other in _inside(piece) if other == own), "")


def _inside(piece: Piece) -> Iterator[tuple[str, str]]:
    for edge in piece.all_edges():
        yield "edge", edge.id
        yield "corner", edge.corner
    for line in piece.lines:
        yield "line", line.id
    for label in piece.labels:
        yield "label", label.id


@memoised
def rows_of_holes(holes: Table[Hole]) -> Table[str]:
    """The rows that holes were punched in, by their own id."""
    return Table({hole.row: hole.row for hole in holes.values() if hole.row is not None})


def ids_of_kind(project: Project, kinds: Kinds) -> list[str]:
    """Ids of all things of these kinds, in the project's order."""
    tables: tuple[Table[Any], ...] = (
        project.pieces, project.seams, project.notches, project.holes, project.levels,
        project.sheets, project.pictures, project.pins, project.openings, project.closings,
        project.bodies,
        rows_of_holes(project.holes),
    )  # fmt: skip
    found = [own for table in tables for own in table if kind_of(project, own) in kinds]
    for piece in project.pieces.values():
        found += [own for kind, own in _inside(piece) if kind in kinds]
    return found


def name_of(project: Project, own: str) -> str:
    """A thing's name, with its id where that says more."""
    name = bare_name(project, own)
    return f"{name} · {own}" if name and name != own else own


def called(project: Project, own: str) -> str:
    """A thing's name, or its id where it has none."""
    return bare_name(project, own) or own


def bare_name(project: Project, own: str) -> str:
    """A thing's name; nothing where it has none, or is not there."""
    named: tuple[Table[Any], ...] = (
        project.pieces, project.seams, project.levels, project.sheets, project.pictures,
        project.pins,
    )  # fmt: skip
    for table in named:
        if own in table:
            return str(table[own].name)
    if own in project.openings:
        return project.openings[own].name
    if own in project.closings:
        return bare_name(project, project.closings[own].seam)
    owner = project.owners.get(own)
    if owner is None:
        return ""
    piece = project.pieces[owner]
    rows: tuple[Edge | Line, ...] = (*piece.all_edges(), *piece.lines)
    name = next((row.name for row in rows if row.id == own), "")
    return name or next((label.text for label in piece.labels if label.id == own), "")
