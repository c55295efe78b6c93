"""Slash a piece and spread it, along one line or many, hinged or parallel; or close it up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated

import msgspec
import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Mm, NotNegativeMm, Place
from wedgework.edits.carry import carried
from wedgework.edits.cut import way_between
from wedgework.edits.fairing import faired, fate_in_one
from wedgework.edits.outlining import Stations
from wedgework.edits.places import Naming, cut_at
from wedgework.edits.spreading import Slash, spread_of
from wedgework.edits.surgery import Outline
from wedgework.edits.ways import refuse_way_out
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.curve import is_straight, joined, line
from wedgework.geometry.tolerances import STRAIGHT_MM
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import EdgeId, Piece, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_piece


class SlashSpread(Edit, frozen=True, kw_only=True):
    """Slash a piece and spread it: what lies left of the slash stays, the rest moves as one.

    A gap of 0 at one end is a hinge, equal gaps spread in parallel, negative gaps close.
    """

    piece: Annotated[Id, Meta(description="piece that is slashed")]
    from_: Annotated[Place, Meta(description="where the slash starts")] = msgspec.field(name="from")
    to: Annotated[Place, Meta(description="where it ends")]
    open_mm: Annotated[Mm, Meta(description="gap at its start; negative takes out")]
    open_to_mm: Annotated[Mm, Meta(description="gap at its end; 0 is a hinge")] = 0.0

    def change(self, project: Project) -> Project:
        """EditRefused where the slash leaves the piece, or the piece cannot spread so."""
        piece = the_piece(project, self.piece)
        slash = the_slash(piece, (self.from_, self.to), (self.open_mm, self.open_to_mm))
        if self.open_mm == self.open_to_mm == 0.0:
            return project
        return spread(project, piece, [slash], fair=False)


class SlashLine(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A slash as a place on the outline to another."""

    from_edge: Annotated[Id, Meta(description="edge where it starts")]
    from_mm: Annotated[NotNegativeMm, Meta(description="distance along that edge from its start")]
    to_edge: Annotated[Id, Meta(description="edge where it ends")]
    to_mm: Annotated[NotNegativeMm, Meta(description="distance along that edge from its start")]

    @property
    def places(self) -> tuple[Place, Place]:
        """Where it starts and ends."""
        return Place(self.from_edge, self.from_mm), Place(self.to_edge, self.to_mm)


Gaps = tuple[Mm, ...] | Mm
"""One gap for all slashes, two that change evenly from the first to the last, or one for each."""


class SpreadMany(Edit, frozen=True, kw_only=True):
    """Slash a piece along many lines at once and spread them, alike or graded; or close them up.

    What lies left of all slashes stays; each strip between two moves as one.
    """

    piece: Annotated[Id, Meta(description="piece that is slashed")]
    slashes: Annotated[
        tuple[SlashLine, ...],
        Meta(min_length=1, max_length=200, description="where each slash starts and ends"),
    ]
    count: Annotated[
        Annotated[int, Meta(ge=1, le=200)] | None,
        Meta(description="how many, spaced evenly from the first of these to the last"),
    ] = None
    ends: Annotated[
        bool,
        Meta(
            description="the first and the last are slashes themselves; without that the stretch "
            "between them is divided evenly"
        ),
    ] = True
    open_mm: Annotated[
        Gaps,
        Meta(
            description="gap where they start: one for all, two from first to last, or one each; "
            "negative takes out"
        ),
    ]
    open_to_mm: Annotated[
        Gaps, Meta(description="gap where they end, said the same way; 0 is a hinge")
    ] = 0.0
    fair_ends: Annotated[
        bool, Meta(description="draw each edge that was opened as one smooth edge")
    ] = False

    def change(self, project: Project) -> Project:
        """EditRefused where a slash leaves the piece, they cross, or it cannot spread so."""
        piece = the_piece(project, self.piece)
        lines = self._lines(piece)
        gaps = zip(
            graded(self.open_mm, len(lines)), graded(self.open_to_mm, len(lines)), strict=True
        )
        rows = [(places, pair) for places, pair in zip(lines, gaps, strict=True) if any(pair)]
        slashes = [the_slash(piece, places, pair) for places, pair in rows]
        return spread(project, piece, slashes, fair=self.fair_ends) if slashes else project

    def _lines(self, piece: Piece) -> list[tuple[Place, Place]]:
        if self.count is None:
            return [one.places for one in self.slashes]
        if len(self.slashes) != 2:
            raise EditRefused(
                "Slashes are spaced evenly between two: say the first and the last.",
                culprit=piece.id,
            )
        first, last = (one.places for one in self.slashes)
        walk = Stations(piece)
        starts, ends = (
            walk.spaced(one, other, self.count, ends=self.ends)
            for one, other in zip(first, last, strict=True)
        )
        return list(zip(starts, ends, strict=True))


def graded(gaps: Gaps, count: int) -> list[float]:
    """A gap for each of `count` slashes; EditRefused where there are neither one, two nor all."""
    given = gaps if isinstance(gaps, tuple) else (gaps,)
    if len(given) == 1:
        return list(given) * count
    if len(given) == count:
        return list(given)
    if len(given) == 2:
        return [float(gap) for gap in np.linspace(*given, count)]
    raise EditRefused(
        f"There are {count} slashes and {len(given)} gaps: say one gap, the first and the last, "
        "or one for each."
    )


def spread(project: Project, piece: Piece, slashes: Sequence[Slash], *, fair: bool) -> Project:
    """The project with one of its pieces opened or closed along slashes.

    With `fair` each edge that was opened becomes one smooth edge. EditRefused as the edits say.
    """
    parts = spread_of(piece, slashes)
    naming = Naming(project)
    outline = _with_one_fold(piece, parts.outline(naming))
    if fair:
        outline = faired(piece, outline)
    if piece.fold_edge is not None and piece.fold_edge in outline.fates:
        _refuse_lost_fold(piece, outline.fates[piece.fold_edge].walk)
    changed, fates = parts.with_drawings(replace(piece, edges=outline.edges), naming)
    refuse_new_crossing(piece, changed)
    return carried(with_pieces(project, changed), fates | outline.fates)


def the_slash(piece: Piece, places: tuple[Place, Place], gaps_mm: tuple[float, float]) -> Slash:
    """A slash through a piece; EditRefused where it leaves it, or its gaps are of opposite sign."""
    if gaps_mm[0] * gaps_mm[1] < 0:
        raise EditRefused("The two gaps must both open or both close.", culprit=piece.id)
    way = way_between(piece, *places, ())
    refuse_way_out(piece, way, "The slash")
    return Slash(from_=places[0], to=places[1], way=way, open_mm=gaps_mm[0], open_to_mm=gaps_mm[1])


def refuse_cut_fold(piece: Piece, places: tuple[Place, ...]) -> None:
    """EditRefused where a place lies inside the edge that the piece is folded about."""
    for place in places:
        cut = cut_at(piece, place)
        if cut.at_mm > 0.0 and piece.edges[cut.index].id == piece.fold_edge:
            raise _bent_fold(piece, "set the piece's cutting first")


def _bent_fold(piece: Piece, way_out: str) -> EditRefused:
    return EditRefused(
        f"“{piece.fold_edge}” is the fold of piece “{piece.name or piece.id}” and has to "
        f"stay one straight line: {way_out}.",
        culprit=piece.fold_edge,
    )


def _with_one_fold(piece: Piece, outline: Outline) -> Outline:
    """The outline with a fold that was slashed square across, and so stays straight, as one edge.

    EditRefused where the slash bends it.
    """
    fold = next((edge for edge in piece.edges if edge.id == piece.fold_edge), None)
    fate = None if fold is None else outline.fates.get(fold.id)
    if fold is None or fate is None or fold.id in fate.walk or len(fate.walk) < 2:
        return outline
    by_id = {edge.id: edge for edge in outline.edges}
    parts = [by_id[own] for own in fate.walk]
    whole = joined(*(part.curve for part in parts))
    if not is_straight(whole, STRAIGHT_MM):
        raise _bent_fold(
            piece,
            "slash square across it and open equally far at both ends, or unfold the piece first",
        )
    one = replace(fold, corner=parts[0].corner, curve=line(whole.start, whole.end))
    edges = tuple(
        one if edge is parts[0] else edge for edge in outline.edges if edge not in parts[1:]
    )
    return Outline(edges=edges, fates=outline.fates | {fold.id: fate_in_one(fate, parts, one)})


def _refuse_lost_fold(piece: Piece, walk: tuple[EdgeId, ...]) -> None:
    if piece.fold_edge not in walk:
        raise EditRefused(
            f"The wedge would take “{piece.fold_edge}” out, the fold of piece "
            f"“{piece.name or piece.id}”.",
            culprit=piece.fold_edge,
        )


def refuse_new_crossing(old: Piece, new: Piece) -> None:
    """EditRefused where the outline has come to cross itself."""
    before, after = ([edge.curve for edge in piece.edges] for piece in (old, new))
    if crosses_itself(after) and not crosses_itself(before):
        raise EditRefused(f"Piece “{old.name or old.id}” would run into itself.", culprit=old.id)
