"""Draft pieces from numbers, and put them on the table with their seams and levels."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Annotated, Any, ClassVar, Final

import msgspec
import numpy as np
from msgspec import Meta

from wedgework.drafting import Draft, drafted
from wedgework.drafting.numbers import Numbers
from wedgework.edits.base import Edit
from wedgework.edits.drafted_rows import (
    OUTSIDE,
    Made,
    ids_of,
    level_of_row,
    made_of,
    notch_of_row,
    piece_of_row,
    recipe_of,
    seam_of_row,
)
from wedgework.edits.places import Naming
from wedgework.geometry.curve import Curve, Floats
from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.changes import has_id, with_pieces, with_seams
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.reductions import USUAL
from wedgework.pattern.table import Table

BESIDE_MM: Final = 40.0
"""New pieces lie so far from those that are there."""


class DraftPieces(Edit, frozen=True, kw_only=True, tag="draft"):
    """Draft new pieces from numbers: a suit block, a collar, a skirt, a tube and others."""

    remakes: ClassVar[bool] = True

    kind: Annotated[str, Meta(min_length=1, max_length=100, description="what is drafted")]
    numbers: Annotated[
        dict[str, Any], Meta(description="its numbers; “wedgework drafts” lists them")
    ]
    made: Annotated[
        Made | None, Meta(description="what was made; filled in when the edit is done")
    ] = None

    def filled(self, project: Project) -> DraftPieces:
        """The edit with its result; EditRefused where nothing can be made of the numbers."""
        return msgspec.structs.replace(self, made=self.made_in(project))

    def made_in(self, project: Project) -> Made:
        """What it made, or would make of a project."""
        return self.made or freshly_made(project, self.kind, self.numbers)

    def change(self, project: Project) -> Project:
        """EditRefused where nothing can be made of the numbers, or an id is taken."""
        return with_made(project, self.kind, self.made_in(project))


def freshly_made(project: Project, kind: str, numbers: object) -> Made:
    """What a draft makes, under ids that are free in the project, in a free place on the table."""
    return freely_laid(project, *drafted(project, kind, numbers))


def freely_laid(project: Project, numbers: Numbers, draft: Draft) -> Made:
    """A draft as rows, under ids that are free and in a free place on the table."""
    made = made_of(numbers, draft)
    free = made.moved(_way_to_free_place(project, made))
    return renamed(free, _renaming(project, free))


def _way_to_free_place(project: Project, made: Made) -> tuple[float, float]:
    """How far pieces have to move to lie clear of others: right of all, their tops level."""
    own = bounds_of_all([Curve(np.array(e.cubics_mm)) for p in made.pieces for e in p.edges])
    boxes = [
        bounds_of_all([edge.curve for edge in piece.edges]) for piece in project.pieces.values()
    ]
    if not any(_overlap(own, box) for box in boxes):
        return (0.0, 0.0)
    right, top = max(box[2] for box in boxes), max(box[3] for box in boxes)
    return (round(float(right - own[0]) + BESIDE_MM, 3), round(float(top - own[3]), 3))


def _overlap(box: Floats, other: Floats) -> bool:
    """Whether two boxes (x0, y0, x1, y1) come nearer to each other than pieces should."""
    low, high = np.maximum(box[:2], other[:2]), np.minimum(box[2:], other[2:])
    return bool(np.all(low < high + BESIDE_MM))


def renamed(made: Made, names: Mapping[str, str]) -> Made:
    """The rows under other ids, which they remember."""
    other = {own: name for own, name in names.items() if own != name}
    return msgspec.structs.replace(made.with_ids(names.__getitem__), names=other)


def _renaming(project: Project, made: Made) -> dict[str, str]:
    """New ids where one is taken: what lies in a piece takes the new name of its piece along."""
    naming = Naming(project)
    names = {piece.id: naming.fresh(piece.id) for piece in made.pieces}
    for own in ids_of(made):
        if own not in names:
            owner, dot, role = own.partition(".")
            names[own] = naming.fresh(f"{names.get(owner, owner)}{dot}{role}")
    return names | kept_names(made, names)


def kept_names(made: Made, names: Mapping[str, str]) -> dict[str, str]:
    """The garment's own ids in seams and notches, without the mark that they have there."""
    return {own: own.removeprefix(OUTSIDE) for own in outside_ids(made) if own not in names}


def outside_ids(made: Made) -> Iterator[str]:
    """Ids in seams and notches: what a draft reads from the project keeps its name there."""
    for seam in made.seams:
        yield from (ref.lstrip("-~") for ref in (*seam.a, *seam.b))
    for one in made.notches:
        yield from (spot.edge for spot in (one.at, one.mate) if spot is not None)


def with_made(project: Project, kind: str, made: Made) -> Project:
    """The project with what a draft made; EditRefused where an id is taken or an edge missing."""
    for own in ids_of(made):
        if has_id(project, own):
            raise EditRefused(f"There is a “{own}” in this project already.", culprit=own)
    recipe = recipe_of(kind, made)
    after = with_pieces(project, *(piece_of_row(row, recipe) for row in made.pieces))
    seams = [seam_of_row(row) for row in made.seams]
    for seam in seams:
        for ref in (*seam.a, *seam.b):
            if not has_id(after, ref.edge):
                raise EditRefused(f"There is no edge “{ref.edge}”.", culprit=ref.edge)
    after = with_seams(after, *seams) if seams else after
    notches = {row.id: notch_of_row(row) for row in made.notches}
    levels = {row.id: level_of_row(row) for row in made.levels}
    body = {name: value for name, value in made.body.items() if name not in project.body}
    return replace(
        after,
        notches=after.notches.with_rows(notches) if notches else after.notches,
        levels=after.levels.with_rows(levels) if levels else after.levels,
        body=after.body.with_rows(body) if body else after.body,
        reductions=_reductions(project, made),
    )


def _reductions(project: Project, made: Made) -> Table[float]:
    """How much smaller the sheet is cut from now on, where a block was drafted otherwise.

    What the maker has set stands, as measures of the body do.
    """
    shares: dict[str, float] = {}
    for where in USUAL if made.levels else ():
        share = made.said.get(f"{where}_reduction", USUAL[where].share)
        if share != USUAL[where].share and where not in project.reductions:
            shares[where] = share
    return project.reductions.with_rows(shares) if shares else project.reductions


def without_reductions(project: Project, said: Mapping[str, Any]) -> Project:
    """The project without the reductions that came of a draft which is made again."""
    gone = [
        where
        for where, share in project.reductions.items()
        if said.get(f"{where}_reduction") == share
    ]
    return replace(project, reductions=project.reductions.with_rows({}, gone)) if gone else project
