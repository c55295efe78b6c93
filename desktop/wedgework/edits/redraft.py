"""Draft pieces again when their sources have changed, keeping what the maker did since."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any, ClassVar

import msgspec
from msgspec import Meta

from wedgework.drafting import drafted
from wedgework.drafting.sources import has_changed
from wedgework.edits.base import Edit, Id
from wedgework.edits.drafted import kept_names, renamed, with_made, without_reductions
from wedgework.edits.drafted_rows import Made, ids_of, made_of
from wedgework.edits.hanging import drafted_together, lost_in, taken_out, with_kept
from wedgework.edits.places import Naming
from wedgework.edits.series import following
from wedgework.pattern.changes import has_id, with_pieces
from wedgework.pattern.document import Project, Recipe
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_piece


class DraftAgain(Edit, frozen=True, kw_only=True):
    """Draft pieces again from what they were made from, and do again what was changed by hand."""

    remakes: ClassVar[bool] = True

    piece: Annotated[Id, Meta(description="one of the pieces that were drafted together")]
    numbers: Annotated[
        dict[str, Any] | None,
        Meta(description="numbers that are different from now on; null drops one"),
    ] = None
    made: Annotated[
        Made | None, Meta(description="what was made; filled in when the edit is done")
    ] = None

    def filled(self, project: Project) -> DraftAgain:
        """The edit with its result; EditRefused where nothing can be made of the numbers."""
        return msgspec.structs.replace(self, made=self.made_in(project))

    def made_in(self, project: Project) -> Made:
        """What it made, or would make of a project."""
        if self.made is not None:
            return self.made
        recipe = recipe_of_piece(project, self.piece)
        numbers = json.loads(recipe.numbers) | (self.numbers or {})
        said = {name: value for name, value in numbers.items() if value is not None}
        made = made_of(*drafted(project, recipe.kind, said)).moved(recipe.moved_mm)
        return renamed(made, _names_kept(project, recipe, made))

    def change(self, project: Project) -> Project:
        """EditRefused where the piece was not drafted, or the numbers no longer make one."""
        made = self.made_in(project)
        recipe = recipe_of_piece(project, self.piece)
        if _is_as_it_was(recipe, made):
            return project
        bare, kept = taken_out(project, recipe)
        # What hangs on edges that only the maker's edits make can be put back after them alone.
        free = without_reductions(bare, json.loads(recipe.numbers))
        fresh = with_made(free, recipe.kind, made)
        new = (fresh.pieces[row.id] for row in made.pieces)
        kept = following(kept, drafted_together(project, recipe), new)
        early = with_kept(fresh, kept)
        edited, refused = _with_hand_edits(early, recipe)
        whole = with_kept(edited, kept)
        return with_recipes(whole, made.pieces[0].id, (*refused, *lost_in(whole, kept)))


def _is_as_it_was(recipe: Recipe, made: Made) -> bool:
    """Whether neither a number nor a source has changed since."""
    before = {ref: tuple(row) for ref, row in json.loads(recipe.measured).items()}
    return made.said == json.loads(recipe.numbers) and not has_changed(before, made.measured)


def _names_kept(project: Project, recipe: Recipe, made: Made) -> dict[str, str]:
    """Ids for what is drafted again: those it has, and free ones for what is new."""
    kept: dict[str, str] = json.loads(recipe.names)
    bare, _ = taken_out(project, recipe)
    naming = Naming(bare)
    names = {own: kept.get(own, own) for own in ids_of(made)}
    clear = {
        own: name if not has_id(bare, name) else naming.fresh(name) for own, name in names.items()
    }
    return clear | kept_names(made, clear)


def _with_hand_edits(project: Project, recipe: Recipe) -> tuple[Project, tuple[str, ...]]:
    """The project with the maker's edits done again, and a sentence for each that was refused."""
    from wedgework.edits import decode_plain  # noqa: PLC0415 - the table knows this module

    refused: list[str] = []
    for text in recipe.edits_since:
        plain = json.loads(text.removeprefix("~"))
        if text.startswith("~"):
            refused.append(f"{_words(plain)}: it changed other pieces too.")
            continue
        try:
            project = decode_plain(plain).apply(project)
        except EditRefused as refusal:
            refused.append(f"{_words(plain)}: {refusal.sentence}")
    return project, tuple(refused)


def _words(plain: Mapping[str, Any]) -> str:
    return str(plain["edit"]).replace("_", " ").capitalize()


def recipe_of_piece(project: Project, piece: str) -> Recipe:
    """The recipe of a drafted piece; EditRefused where it was not drafted."""
    found = the_piece(project, piece)
    if found.recipe is None:
        raise EditRefused(
            f"Piece “{found.name or found.id}” was not drafted, so it cannot be drafted again.",
            culprit=piece,
        )
    return found.recipe


def with_recipes(project: Project, group: str, refused: tuple[str, ...]) -> Project:
    """The project, the pieces of a draft naming the edits that could not be done again."""
    changed = [
        replace(piece, recipe=replace(piece.recipe, refused=refused))
        for piece in project.pieces.values()
        if piece.recipe is not None and piece.recipe.group == group
    ]
    return with_pieces(project, *changed)
