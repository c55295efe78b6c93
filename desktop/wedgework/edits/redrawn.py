"""Edges of any pieces redrawn at once: pieces are looked at when all is done, and marks follow."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from wedgework.edits.carry import Fate, with_marks_carried
from wedgework.edits.sideways import refuse_unsound
from wedgework.pattern.changes import with_edges_replaced, with_pieces
from wedgework.pattern.document import Edge, EdgeId, Project
from wedgework.pattern.lookup import piece_of


def with_edges_redrawn(
    project: Project, edges: Mapping[EdgeId, Edge], fates: Mapping[EdgeId, Fate]
) -> Project:
    """The project with other edges of the same ids, which meet at their corners bit for bit.

    Raises EditRefused where an outline would cross itself, turn over or run into a cut-out.
    """
    by_piece: defaultdict[str, dict[EdgeId, Edge]] = defaultdict(dict)
    for key, edge in edges.items():
        by_piece[piece_of(project, key).id][key] = edge
    pieces = []
    for name, own in by_piece.items():
        pieces.append(with_edges_replaced(project.pieces[name], own))
        refuse_unsound(project.pieces[name], pieces[-1])
    return with_marks_carried(with_pieces(project, *pieces), fates) if pieces else project
