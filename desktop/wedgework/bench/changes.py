"""What has changed on the bench: told to everyone who listens, so that they redraw that alone."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass
from itertools import chain
from typing import Any, Literal, TypeAlias

from wedgework.pattern.document import Edge, Line, PieceId, Project, SeamId
from wedgework.pattern.lookup import seams_by_edge
from wedgework.pattern.table import Table, differing

Kind: TypeAlias = Literal[
    "opened", "edited", "previewed", "saved", "chosen", "step", "tool", "hint", "asked", "findings"
]
"""`opened`: everything may be another; `edited`: an edit, undo or redo was kept; `previewed`: a
preview came, moved or went; `asked`: the hand's tool asks for numbers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What became another between two shown projects, by id; what came and what went too.

    `seams` holds, besides seams that changed themselves, those that hang on a changed edge or
    mark: their measures may be others. A run over several edges reads the corners between them, so
    there a changed piece is enough. A seam that was held or let go counts as changed, and so do
    its pieces, which show it. `others` are ids in the remaining tables (marks, levels,
    sheets, photographs) and names of measures of the body.
    """

    kind: Kind
    pieces: frozenset[PieceId] = frozenset()
    seams: frozenset[SeamId] = frozenset()
    others: frozenset[str] = frozenset()

    @property
    def touched(self) -> frozenset[str]:
        """All ids at once."""
        return self.pieces | self.seams | self.others


def change_between(kind: Kind, before: Project, after: Project) -> Change:
    """The change from one project to another; what both share is not looked into."""
    pieces = frozenset(differing(before.pieces, after.pieces))
    marks = [*_changed_marks(before.notches, after.notches)]
    marks += _changed_marks(before.holes, after.holes)
    held = tuple(_held_otherwise(before, after))
    own = tuple(differing(before.seams, after.seams))
    marked = {spot.edge for mark in marks for spot in (mark.at, mark.mate) if spot}
    # What lies on a piece and where it is cut belongs to how it looks: marks, laps, its sheet.
    shown = chain(_pieces_of((*held, *own), after), _owners(marked, after), _from(before, after))
    old, new = (_lines_of(one, pieces) for one in (before, after))
    changed = marked.union(
        key for key in old.keys() | new.keys() if old.get(key) is not new.get(key)
    )
    edges = marked | old.keys() | new.keys()
    hanging = (_seams_on(edges, changed, one.seams) for one in (before, after))
    others = (differing(one, other) for one, other in _other_tables(before, after))
    return Change(
        kind=kind,
        pieces=pieces.union(shown),
        seams=frozenset(chain(own, held, *hanging)),
        others=frozenset(chain.from_iterable(others)),
    )


def _held_otherwise(before: Project, after: Project) -> Iterator[SeamId]:
    for key in differing(before.holds, after.holds):
        yield from (one.holds[key].seam for one in (before, after) if key in one.holds)


def _pieces_of(seams: Iterable[SeamId], project: Project) -> Iterator[PieceId]:
    for key in seams:
        if key in project.seams:
            seam = project.seams[key]
            yield from (project.owners[ref.edge] for ref in (*seam.a, *seam.b))


def _owners(edges: Iterable[str], project: Project) -> Iterator[PieceId]:
    yield from (project.owners[edge] for edge in edges if edge in project.owners)


def _from(before: Project, after: Project) -> Iterator[PieceId]:
    """Pieces that are cut from sheets that have changed."""
    sheets = differing(before.sheets, after.sheets)
    if sheets:
        yield from (piece.id for piece in after.pieces.values() if (piece.sheet or "") in sheets)


def _changed_marks(before: Table[Any], after: Table[Any]) -> Iterator[Any]:
    for key in differing(before, after):
        yield from (table[key] for table in (before, after) if key in table)


def _lines_of(project: Project, pieces: Iterable[PieceId]) -> dict[str, Edge | Line]:
    """All that a seam may walk on some pieces, by id."""
    lines: dict[str, Edge | Line] = {}
    for piece in (project.pieces[own] for own in pieces if own in project.pieces):
        lines.update((edge.id, edge) for edge in piece.all_edges())
        lines.update((line.id, line) for line in piece.lines)
    return lines


def _seams_on(edges: Iterable[str], changed: Container[str], seams: Table[Any]) -> Iterator[SeamId]:
    """Seams that walk a changed edge, and of the others those that have a joint."""
    index = seams_by_edge(seams)
    for edge in edges:
        for seam in index.get(edge, ()):
            if edge in changed or len(seam.a) > 1 or len(seam.b) > 1:
                yield seam.id


def _other_tables(before: Project, after: Project) -> Iterator[tuple[Table[Any], Table[Any]]]:
    names = (
        "notches",
        "holes",
        "levels",
        "sheets",
        "body",
        "holds",
        "pins",
        "pictures",
        "openings",
        "closings",
        "bodies",
        "reductions",
    )
    for name in names:
        yield getattr(before, name), getattr(after, name)
