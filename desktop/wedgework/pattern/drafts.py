"""Which pieces were drafted together."""

from __future__ import annotations

from collections.abc import Mapping

from wedgework.geometry.memo import memoised
from wedgework.pattern.document import Piece
from wedgework.pattern.table import Table


@memoised
def drafted_groups(pieces: Table[Piece]) -> Mapping[str, str]:
    """The group of each drafted piece and of what it was cut into, by id."""
    return {
        key: piece.recipe.group
        for key, piece in pieces.rows.items()
        if piece.recipe is not None and piece.recipe.group
    }


@memoised
def first_drafted(pieces: Table[Piece]) -> frozenset[str]:
    """The first piece of each group that is there: what is told of a draft is told of it."""
    firsts: dict[str, str] = {}
    for key, group in drafted_groups(pieces).items():
        firsts.setdefault(group, key)
    return frozenset(firsts.values())
