"""Remember with a drafted piece what the maker did to it since, so that it can be done again."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from wedgework.geometry.memo import memoised
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.table import Table


@memoised
def _drafted(pieces: Table[Piece]) -> Mapping[str, str]:
    """Which pieces were drafted, and with which others, by id."""
    return {
        key: piece.recipe.group
        for key, piece in pieces.rows.items()
        if piece.recipe is not None and piece.recipe.group
    }


def with_edit_noted(before: Project, after: Project, text: Callable[[], str]) -> Project:
    """`after`, the recipes of drafted pieces that an edit has changed naming it.

    `text` gives the edit as JSON. Where it changed other pieces as well it is named with a `~`
    before it: doing it again would change those twice.
    """
    if before.pieces is after.pieces:
        return after
    known = _drafted(before.pieces)
    touched = {known[key] for key in known if after.pieces.get(key) is not before.pieces[key]}
    if not touched:
        return after
    others = any(
        after.pieces.get(key) is not piece and known.get(key) not in touched
        for key, piece in before.pieces.rows.items()
    )
    note = f"~{text()}" if others or len(touched) > 1 else text()
    changed = [
        replace(piece, recipe=replace(piece.recipe, edits_since=(*piece.recipe.edits_since, note)))
        for piece in after.pieces.values()
        if piece.recipe is not None and piece.recipe.group in touched
    ]
    return with_pieces(after, *changed) if changed else after
