"""Lay pieces on the table: copy, flip, line up, turn to the grain."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Annotated, Final, Literal

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Mm, Name, PointMm
from wedgework.edits.move import middle_of, moved_piece
from wedgework.edits.places import Naming
from wedgework.edits.twins import (
    copied_piece,
    inner_seams,
    seams_on,
    twin_names,
    with_refs_turned,
    with_twin_marks,
)
from wedgework.geometry.curve import Curve
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import Affine, reflection, rotation, translation
from wedgework.geometry.tolerances import SAME_POINT_MM
from wedgework.pattern.changes import with_pieces, with_seams
from wedgework.pattern.document import (
    Anchor,
    EdgeId,
    Opening,
    Piece,
    Pin,
    Project,
    Ref,
    Run,
    Seam,
    Spot,
)
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import Mark, edge_in, piece_of, the_piece
from wedgework.pattern.table import Table

CLEAR_MM: Final = 20.0
"""A copy is laid so far beside the piece that it was made from; any clear distance would do."""

Pieces = Annotated[tuple[Id, ...], Meta(min_length=1, description="pieces")]


class CopyPiece(Edit, frozen=True, kw_only=True):
    """Lay a copy of a piece beside it, with all that is in it; it is joined to nothing.

    The copy of a drafted piece is a plain piece, which is not drafted again with it.
    """

    piece: Annotated[Id, Meta(description="piece that is copied")]
    name: Annotated[Name, Meta(description="what the copy is called")] = ""
    mirrored: Annotated[bool, Meta(description="the copy is its mirror image")] = False
    by_mm: Annotated[
        PointMm | None,
        Meta(description="how far from the piece, right and up; clear of it if left out"),
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such piece."""
        piece = the_piece(project, self.piece)
        naming = Naming(project)
        names = twin_names(piece, naming, "copy")
        copy = replace(
            copied_piece(piece, self._motion(piece), names),
            id=naming.fresh(f"{piece.id}.copy"),
            name=self.name or f"{piece.name or piece.id} copy",
            recipe=None,
        )
        seams = list(inner_seams(project, piece, names, naming, "copy"))
        if self.mirrored:
            seams = [with_refs_turned(seam, names.values()) for seam in seams]
        after = with_seams(with_pieces(project, copy), *seams)
        return with_twin_marks(after, piece, names, "copy", mirrored=self.mirrored)

    def _motion(self, piece: Piece) -> Affine:
        left, _, right, _ = _box(piece)
        beside = (right - left + CLEAR_MM, 0.0) if self.by_mm is None else self.by_mm
        shift = translation(beside)
        return shift.after(_flip(piece)) if self.mirrored else shift


def _box(piece: Piece) -> tuple[float, float, float, float]:
    left, low, right, high = bounds_of_all([edge.curve for edge in piece.edges]).tolist()
    return left, low, right, high


def _flip(piece: Piece) -> Affine:
    x, y = middle_of(piece).tolist()
    return reflection((x, y), (x, y + 1.0))


class FlipPieces(Edit, frozen=True, kw_only=True):
    """Turn pieces over, left to right, where they lie; their seams stay joined as they were.

    Of a pair, the other one is then the one that is drawn.
    """

    pieces: Pieces

    def change(self, project: Project) -> Project:
        """EditRefused where a single piece is joined to one that is not turned over with it."""
        pieces = [the_piece(project, own) for own in dict.fromkeys(self.pieces)]
        for piece in pieces:
            _refuse_left_behind(project, piece, {one.id for one in pieces})
        after = with_pieces(project, *(copied_piece(piece, _flip(piece), {}) for piece in pieces))
        mirrors = {
            own: piece.cutting != "single"
            for piece in pieces
            for own in (*(edge.id for edge in piece.all_edges()), *(ln.id for ln in piece.lines))
        }
        lengths = {edge.id: length_mm(edge.curve) for piece in pieces for edge in piece.all_edges()}
        return _with_spots_turned(_with_runs_turned(after, mirrors), lengths)


def _refuse_left_behind(project: Project, piece: Piece, flipped: set[str]) -> None:
    """A piece with a mirror image only swaps the two; a single one has to take its mates along."""
    if piece.cutting != "single":
        return
    for seam in seams_on(project, piece):
        mates = {piece_of(project, ref.edge) for ref in (*seam.a, *seam.b)}
        if any(mate.id not in flipped or mate.cutting != "single" for mate in mates):
            raise EditRefused(
                f"Piece “{piece.name or piece.id}” is cut once and joined in seam "
                f"“{seam.name or seam.id}”; turn all its single mates over with it, or unjoin it.",
                culprit=seam.id,
            )


def _with_runs_turned(project: Project, mirrors: Mapping[str, bool]) -> Project:
    """The project with runs along turned edges: backward, and `~` where there is an image."""

    def turned(run: Run) -> Run:
        return tuple(
            Ref(ref.edge, not ref.backward, ref.mirrored != mirrors[ref.edge])
            if ref.edge in mirrors
            else ref
            for ref in run
        )

    def is_hit(run: Iterable[Ref]) -> bool:
        return any(ref.edge in mirrors for ref in run)

    seams: list[Seam] = [
        replace(seam, a=turned(seam.a), b=turned(seam.b))
        for seam in project.seams.values()
        if is_hit((*seam.a, *seam.b))
    ]
    openings: dict[str, Opening] = {
        one.id: replace(one, edges=turned(one.edges))
        for one in project.openings.values()
        if is_hit(one.edges)
    }
    after = with_seams(project, *seams) if seams else project
    return replace(after, openings=after.openings.with_rows(openings)) if openings else after


def _with_spots_turned(project: Project, lengths: Mapping[EdgeId, float]) -> Project:
    """The project with every place on an edge counted from its other end."""

    def turned(spot: Spot) -> Spot:
        whole = lengths.get(spot.edge)
        return spot if whole is None else Spot(spot.edge, max(whole - spot.at_mm, 0.0))

    def marks(table: Table[Mark]) -> Table[Mark]:
        rows = {}
        for mark in table.values():
            spots = turned(mark.at), mark.mate and turned(mark.mate)
            if spots != (mark.at, mark.mate):
                rows[mark.id] = replace(mark, at=spots[0], mate=spots[1])
        return table.with_rows(rows) if rows else table

    def anchor(one: Anchor) -> Anchor:
        return turned(one) if isinstance(one, Spot) else one

    pins: dict[str, Pin] = {}
    for pin in project.pins.values():
        anchors = tuple(map(anchor, pin.anchors))
        if anchors != pin.anchors:
            pins[pin.id] = replace(pin, anchors=anchors)
    return replace(
        project,
        notches=marks(project.notches),
        holes=marks(project.holes),
        pins=project.pins.with_rows(pins) if pins else project.pins,
    )


Way = Literal["left", "right", "bottom", "top", "middle across", "middle up"]


class AlignPieces(Edit, frozen=True, kw_only=True):
    """Move pieces so that one side of each, or its middle, lies on one line."""

    pieces: Pieces
    by: Annotated[Way, Meta(description="what of them comes to lie on the line")]
    to_mm: Annotated[
        Mm | None,
        Meta(description="where the line lies, across or up; through the first piece if left out"),
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where one piece alone is to lie on a line of its own."""
        pieces = [the_piece(project, own) for own in dict.fromkeys(self.pieces)]
        if self.to_mm is None and len(pieces) < 2:
            raise EditRefused("Say a second piece, or where the line lies.", culprit=pieces[0].id)
        to_mm = _place_of(pieces[0], self.by) if self.to_mm is None else self.to_mm
        moved = []
        for piece in pieces:
            by_mm = to_mm - _place_of(piece, self.by)
            if abs(by_mm) > SAME_POINT_MM:
                shift = (by_mm, 0.0) if self.by in _ACROSS else (0.0, by_mm)
                moved.append(moved_piece(piece, translation(shift)))
        return with_pieces(project, *moved) if moved else project


_ACROSS: Final = frozenset({"left", "right", "middle across"})


def _place_of(piece: Piece, by: Way) -> float:
    left, low, right, high = _box(piece)
    return {
        "left": left,
        "right": right,
        "bottom": low,
        "top": high,
        "middle across": (left + right) / 2,
        "middle up": (low + high) / 2,
    }[by]


class TurnToGrain(Edit, frozen=True, kw_only=True):
    """Turn a piece so that its grain line, or an edge or line of it, lies across or upright."""

    piece: Annotated[Id, Meta(description="piece that turns about its middle")]
    by: Annotated[
        Id | None,
        Meta(description="edge or line that comes to lie so; its grain line if left out"),
    ] = None
    along: Annotated[Literal["up", "across"], Meta(description="how it comes to lie")] = "up"

    def change(self, project: Project) -> Project:
        """EditRefused where the piece has no grain line and none is said, or it has no direction.

        The piece turns by no more than a quarter: which end is up stays as it is.
        """
        piece = the_piece(project, self.piece)
        curve = self._curve(piece)
        chord = curve.end - curve.start
        if np.hypot(*chord) <= SAME_POINT_MM:
            raise EditRefused("It ends where it starts and has no direction.", culprit=self.by)
        wanted = math.pi / 2 if self.along == "up" else 0.0
        turn = math.remainder(wanted - math.atan2(chord[1], chord[0]), math.pi)
        if abs(turn) * float(np.hypot(*chord)) <= SAME_POINT_MM:
            return project
        return with_pieces(project, moved_piece(piece, rotation(turn, middle_of(piece))))

    def _curve(self, piece: Piece) -> Curve:
        if self.by is None:
            found = next((line for line in piece.lines if line.kind == "grain"), None)
            if found is None:
                raise EditRefused(
                    f"Piece “{piece.name or piece.id}” has no grain line; say an edge or a line.",
                    culprit=piece.id,
                )
            return found.curve
        edge = edge_in(piece, self.by)
        line = next((line for line in piece.lines if line.id == self.by), None)
        if edge is None and line is None:
            raise EditRefused(
                f"“{self.by}” is no edge or line of piece “{piece.name or piece.id}”.",
                culprit=self.by,
            )
        return edge.curve if edge is not None else line.curve  # type: ignore[union-attr]
