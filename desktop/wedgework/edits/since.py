"""Remember with a drafted piece what the maker did to it since, so that it can be done again."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import replace

from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Piece, Project, Recipe
from wedgework.pattern.drafts import drafted_groups


def common_recipe(one: Piece, other: Piece) -> Recipe | None:
    """The recipe of a piece that two become: theirs where they were drafted together."""
    if one.recipe is None or other.recipe is None:
        return None
    return one.recipe if one.recipe.group == other.recipe.group else None


def _drafts_lost(before: Project, after: Project) -> dict[str, Piece]:
    """Drafts of which a piece, the answer, has become part of one that was not drafted with it.

    Drafted again it would lie on the table a second time, so they are no draft from then on.
    """
    if before.pieces is after.pieces:
        return {}
    return {
        group: before.pieces[key]
        for key, group in drafted_groups(before.pieces).items()
        if after.pieces.get(key) is not before.pieces[key] and _is_part_of_other(before, after, key)
    }


def _is_part_of_other(before: Project, after: Project, key: str) -> bool:
    edges = before.pieces[key].edges
    owners = {after.owners[edge.id] for edge in edges if edge.id in after.owners}
    return any(after.pieces[own].recipe is None for own in owners)


def lost_words(before: Project, after: Project) -> tuple[str, ...]:
    """A sentence for each draft that is none any more."""
    return tuple(
        f"“{piece.name or piece.id}” can no longer be drafted again: it is part of a piece that "
        "was not drafted with it."
        for piece in _drafts_lost(before, after).values()
    )


def not_again_words(before: Project, after: Project) -> tuple[str, ...]:
    """A sentence for each edit by hand that could not be done again on what was drafted again."""
    words: dict[str, None] = {}
    for own, piece in after.pieces.items():
        old, recipe = before.pieces.get(own), piece.recipe
        if recipe is None or (old is not None and old.recipe is recipe):
            continue
        for sentence in recipe.refused:
            words[f"Not done again on “{piece.name or piece.id}”: {sentence}"] = None
    return tuple(words)


def _without_drafts(project: Project, groups: Collection[str]) -> Project:
    changed = [
        replace(piece, recipe=None)
        for piece in project.pieces.values()
        if piece.recipe is not None and piece.recipe.group in groups
    ]
    return with_pieces(project, *changed) if changed else project


def with_edit_noted(before: Project, after: Project, text: Callable[[], str]) -> Project:
    """`after`, the recipes of drafted pieces that an edit has changed naming it.

    `text` gives the edit as JSON. Where it changed other pieces as well it is named with a `~`
    before it: doing it again would change those twice.
    """
    if before.pieces is after.pieces:
        return after
    known = drafted_groups(before.pieces)
    after = _without_drafts(after, _drafts_lost(before, after))
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
