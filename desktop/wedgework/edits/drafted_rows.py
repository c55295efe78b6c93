"""What a draft made, as plain rows that a journal can hold, and back to pieces and seams.

An edit carries its result, so that it replays alike with another version of the draft.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from typing import Annotated, Any, Final

import msgspec
import numpy as np
from msgspec import Meta

from wedgework.drafting import Draft, said
from wedgework.drafting.numbers import Numbers
from wedgework.edits.base import Id, Mm, Name, NotNegativeMm, Place
from wedgework.edits.pieces import CubicMm
from wedgework.geometry.curve import Curve
from wedgework.pattern.document import (
    Cutting,
    Edge,
    Finish,
    Join,
    Level,
    Line,
    LineKind,
    Notch,
    Piece,
    Recipe,
    Ref,
    Run,
    Seam,
    Side,
    Spot,
    parse_ref,
)
from wedgework.pattern.errors import EditRefused

OUTSIDE: Final = "\x1f"
"""Stands before the id of an edge of the garment: a facing of a facing has edges of its names."""

Cubics = Annotated[
    tuple[CubicMm, ...], Meta(min_length=1, max_length=5000, description="control points")
]


class _Row(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A row of what was made."""


class MadeEdge(_Row, frozen=True, kw_only=True):
    """An edge of a drafted piece."""

    id: Id
    corner: Id
    name: Name = ""
    finish: Finish = "open"
    cubics_mm: Cubics


class MadeLine(_Row, frozen=True, kw_only=True):
    """A line inside a drafted piece."""

    id: Id
    kind: LineKind
    name: Name = ""
    level: Id | None = None
    cubics_mm: Cubics


class MadePiece(_Row, frozen=True, kw_only=True):
    """A drafted piece."""

    id: Id
    name: Name = ""
    cutting: Cutting = "single"
    fold_edge: Id | None = None
    quantity: Annotated[int, Meta(ge=1, le=10_000)] = 1
    edges: Annotated[tuple[MadeEdge, ...], Meta(min_length=1)]
    lines: tuple[MadeLine, ...] = ()


class MadeSeam(_Row, frozen=True, kw_only=True):
    """A seam of drafted pieces."""

    id: Id
    name: Name = ""
    a: Annotated[tuple[str, ...], Meta(min_length=1)]
    b: Annotated[tuple[str, ...], Meta(min_length=1)]
    join: Join = "lapped"
    lap_mm: NotNegativeMm = 8.0
    over: Side = "a"
    wanted_mm: Mm = 0.0
    allowed_mm: NotNegativeMm = 0.5
    laid_on: bool = False
    apex: Id | None = None


class MadeNotch(_Row, frozen=True, kw_only=True):
    """A notch of drafted pieces."""

    id: Id
    at: Place
    mate: Place | None = None
    double: bool = False


class MadeLevel(_Row, frozen=True, kw_only=True):
    """A level of drafted pieces."""

    id: Id
    name: Name = ""
    measure: str | None = None


class Made(_Row, frozen=True, kw_only=True):
    """Everything that a draft made: its rows, the numbers it told, and what it read."""

    pieces: Annotated[tuple[MadePiece, ...], Meta(min_length=1)]
    seams: tuple[MadeSeam, ...] = ()
    notches: tuple[MadeNotch, ...] = ()
    levels: tuple[MadeLevel, ...] = ()
    said: dict[str, Any] = {}
    told: dict[str, Any] = {}
    sources: tuple[str, ...] = ()
    measured: dict[str, tuple[float, ...]] = {}
    names: dict[str, str] = {}
    body: dict[str, float] = {}
    moved_mm: tuple[float, float] = (0.0, 0.0)

    def moved(self, by_mm: tuple[float, float]) -> Made:
        """The same rows, laid elsewhere on the table by so much."""
        pieces = tuple(_moved_piece(piece, by_mm) for piece in self.pieces)
        whole = (self.moved_mm[0] + by_mm[0], self.moved_mm[1] + by_mm[1])
        return msgspec.structs.replace(self, pieces=pieces, moved_mm=whole)

    def with_ids(self, renamed: Callable[[str], str]) -> Made:
        """The same rows under other ids; refs keep their signs."""

        def ref(text: str) -> str:
            return text[: len(text) - len(text.lstrip("-~"))] + renamed(text.lstrip("-~"))

        def place(one: Place | None) -> Place | None:
            return None if one is None else Place(renamed(one.edge), one.at_mm)

        change = msgspec.structs.replace
        return change(
            self,
            pieces=tuple(_piece_with_ids(piece, renamed) for piece in self.pieces),
            seams=tuple(
                change(seam, id=renamed(seam.id), a=tuple(map(ref, seam.a)),
                    b=tuple(map(ref, seam.b)), apex=seam.apex and renamed(seam.apex))
                for seam in self.seams
            ),
            notches=tuple(
                change(one, id=renamed(one.id), at=place(one.at), mate=place(one.mate))
                for one in self.notches
            ),
            levels=tuple(change(level, id=renamed(level.id)) for level in self.levels),
        )  # fmt: skip


def _moved_piece(piece: MadePiece, by_mm: tuple[float, float]) -> MadePiece:
    def moved(cubics: Cubics) -> Cubics:
        return msgspec.convert((np.array(cubics) + by_mm).tolist(), Cubics)

    change = msgspec.structs.replace
    edges = tuple(change(one, cubics_mm=moved(one.cubics_mm)) for one in piece.edges)
    lines = tuple(change(one, cubics_mm=moved(one.cubics_mm)) for one in piece.lines)
    return change(piece, edges=edges, lines=lines)


def _piece_with_ids(piece: MadePiece, renamed: Callable[[str], str]) -> MadePiece:
    change = msgspec.structs.replace
    edges = tuple(change(e, id=renamed(e.id), corner=renamed(e.corner)) for e in piece.edges)
    lines = tuple(
        change(one, id=renamed(one.id), level=one.level and renamed(one.level))
        for one in piece.lines
    )
    fold = piece.fold_edge and renamed(piece.fold_edge)
    return change(piece, id=renamed(piece.id), edges=edges, lines=lines, fold_edge=fold)


def made_of(numbers: Numbers, draft: Draft) -> Made:
    """A draft as rows, under its own ids."""
    return Made(
        pieces=tuple(map(_row_of_piece, draft.pieces)),
        seams=tuple(_row_of_seam(one, draft.along) for one in draft.seams),
        notches=tuple(_row_of_notch(one, draft.along) for one in draft.notches),
        levels=tuple(
            MadeLevel(id=one.id, name=one.name, measure=one.measure) for one in draft.levels
        ),
        said=_as_read(said(numbers)),
        told=_as_read(dict(draft.numbers)),
        sources=tuple(draft.measured),
        measured=dict(draft.measured),
        body=dict(draft.body),
    )


def _as_read(plain: dict[str, Any]) -> dict[str, Any]:
    """Plain data as it comes back from a file: what was a tuple is a list."""
    return dict(msgspec.json.decode(msgspec.json.encode(plain)))


def _row_of_piece(piece: Piece) -> MadePiece:
    return MadePiece(
        id=piece.id,
        name=piece.name,
        cutting=piece.cutting,
        fold_edge=piece.fold_edge,
        quantity=piece.quantity,
        edges=tuple(map(_row_of_edge, piece.edges)),
        lines=tuple(map(_row_of_line, piece.lines)),
    )


def _row_of_edge(edge: Edge) -> MadeEdge:
    return MadeEdge(
        id=edge.id,
        corner=edge.corner,
        name=edge.name,
        finish=edge.finish,
        cubics_mm=_cubics(edge.curve),
    )


def _row_of_line(line: Line) -> MadeLine:
    return MadeLine(
        id=line.id, kind=line.kind, name=line.name, level=line.level, cubics_mm=_cubics(line.curve)
    )


def _cubics(curve: Curve) -> tuple[CubicMm, ...]:
    return msgspec.convert(curve.segments.tolist(), tuple[CubicMm, ...])


def _row_of_seam(seam: Seam, along: Run) -> MadeSeam:
    names = ("id", "name", "join", "lap_mm", "over", "wanted_mm", "allowed_mm", "laid_on", "apex")
    same = {name: getattr(seam, name) for name in names}
    side_a = map(_outside, seam.a) if seam.a is along else map(str, seam.a)
    return MadeSeam(a=tuple(side_a), b=tuple(map(str, seam.b)), **same)


def _outside(ref: Ref) -> str:
    """A ref to an edge of the garment, marked until the new pieces have ids of their own."""
    return str(Ref(OUTSIDE + ref.edge, ref.backward, ref.mirrored))


def _row_of_notch(notch: Notch, along: Run) -> MadeNotch:
    mate = None if notch.mate is None else Place(notch.mate.edge, notch.mate.at_mm)
    if mate is not None and any(ref.edge == mate.edge for ref in along):
        mate = Place(OUTSIDE + mate.edge, mate.at_mm)
    at = Place(notch.at.edge, notch.at.at_mm)
    return MadeNotch(id=notch.id, at=at, mate=mate, double=notch.double)


def ids_of(made: Made) -> Iterable[str]:
    """Every id in the rows, those of pieces before those of what is in them."""
    for piece in made.pieces:
        yield piece.id
        for edge in piece.edges:
            yield from (edge.id, edge.corner)
        yield from (line.id for line in piece.lines)
    yield from (seam.id for seam in made.seams)
    yield from (level.id for level in made.levels)
    yield from (notch.id for notch in made.notches)


def piece_of_row(row: MadePiece, recipe: Recipe | None) -> Piece:
    """The piece of a row; EditRefused where its outline does not close."""
    try:
        return Piece(
            id=row.id,
            name=row.name,
            edges=tuple(map(_edge, row.edges)),
            lines=tuple(map(_line, row.lines)),
            cutting=row.cutting,
            fold_edge=row.fold_edge,
            quantity=row.quantity,
            recipe=recipe,
        )
    except ValueError as error:
        raise EditRefused(f"Piece “{row.id}”: {error}.", culprit=row.id) from None


def _edge(row: MadeEdge) -> Edge:
    return Edge(
        id=row.id,
        name=row.name,
        curve=_curve(row.cubics_mm),
        corner=row.corner,
        finish=row.finish,
    )


def _line(row: MadeLine) -> Line:
    return Line(
        id=row.id, kind=row.kind, curve=_curve(row.cubics_mm), name=row.name, level=row.level
    )


def _curve(cubics: Cubics) -> Curve:
    return Curve(np.array(cubics))


def seam_of_row(row: MadeSeam) -> Seam:
    """The seam of a row."""
    names = ("id", "name", "join", "lap_mm", "over", "wanted_mm", "allowed_mm", "laid_on", "apex")
    same = {name: getattr(row, name) for name in names}
    return Seam(a=tuple(map(parse_ref, row.a)), b=tuple(map(parse_ref, row.b)), **same)


def notch_of_row(row: MadeNotch) -> Notch:
    """The notch of a row."""
    mate: Spot | None = None if row.mate is None else row.mate.spot
    return Notch(id=row.id, at=row.at.spot, mate=mate, double=row.double)


def level_of_row(row: MadeLevel) -> Level:
    """The level of a row."""
    return Level(id=row.id, name=row.name, measure=row.measure)


def recipe_of(kind: str, made: Made) -> Recipe:
    """What each of the pieces keeps, so that they can be made again."""
    return Recipe(
        kind=kind,
        numbers=json.dumps(made.said),
        sources=made.sources,
        measured=json.dumps(made.measured),
        group=made.pieces[0].id,
        names=json.dumps(made.names),
        moved_mm=made.moved_mm,
    )
