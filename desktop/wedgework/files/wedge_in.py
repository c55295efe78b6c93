"""From the rows of a `.wedge` file to a project, and what must hold for them to be one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import chain
from typing import Any, Final, TypeVar

import numpy as np
from msgspec import UNSET, UnsetType

from wedgework.files.wedge_rows import (
    CutoutRow,
    EdgeRow,
    HoleRow,
    LabelRow,
    LineRow,
    NotchRow,
    OpeningRow,
    PictureRow,
    PieceRow,
    PinRow,
    SeamRow,
    SheetRow,
    SpotRow,
    WedgeFile,
)
from wedgework.geometry.chains import chains_of_points
from wedgework.geometry.curve import Curve
from wedgework.pattern.changes import owners_of
from wedgework.pattern.document import (
    Accepted,
    Body,
    Closing,
    Cutout,
    Edge,
    Hold,
    Hole,
    Label,
    Level,
    Line,
    Material,
    Notch,
    Opening,
    Picture,
    Piece,
    Pin,
    Project,
    Recipe,
    Ref,
    Ring,
    Run,
    Seam,
    Sheet,
    Spot,
    parse_ref,
)
from wedgework.pattern.errors import FileRefused
from wedgework.pattern.table import Table

LARGEST_MM: Final = 1e9
"""No place lies further out: a thousand kilometres, and areas are still far from overflowing."""

_NO_ID: Final = {"", "-", "~"}

Row = TypeVar("Row")
Value = TypeVar("Value")


def project_of(file: WedgeFile) -> Project:
    """The project of a file's rows; FileRefused, saying where, if they are none."""
    refuse_unsound(file)
    curves = iter(_curves_of(file.pieces))
    pieces = _table(_piece(row, curves) for row in file.pieces)
    return Project(
        name=file.name,
        pieces=pieces,
        seams=_table(map(_seam, file.seams)),
        notches=_table(map(_notch, file.notches)),
        holes=_table(map(_hole, file.holes)),
        holds=_table(_like(Hold, row) for row in file.holds),
        pins=_table(map(_pin, file.pins)),
        pictures=_table(map(_picture, file.pictures)),
        openings=_table(map(_opening, file.openings)),
        closings=_table(_like(Closing, row) for row in file.closings),
        bodies=_table(
            Body(id=row.id, name=row.name, measures=Table(row.measures)) for row in file.bodies
        ),
        wearer=file.wearer,
        reductions=Table(file.reductions),
        levels=_table(_like(Level, row) for row in file.levels),
        sheets=_table(map(_sheet, file.sheets)),
        body=Table(file.body),
        accepted=tuple(_like(Accepted, row) for row in file.accepted),
        notes=file.notes,
        problems=file.problems,
        owners=owners_of(pieces),
    )


def refuse_unsound(file: WedgeFile) -> None:
    """FileRefused where an id stands twice, or something names what is not there."""
    _refuse_bad_ids(list(_all_ids(file)))
    rings = [edge for row in file.pieces for edge in _ring_edges(row)]
    edges = {edge.id for edge in rings}
    lines = {line.id for row in file.pieces for line in row.lines}
    _refuse_missing(_aimed_by_seams(file.seams), edges | lines, "an edge or a line")
    corners = {edge.corner for edge in rings}
    points = ((row.id, at) for row in file.seams for at in (row.apex, row.tip))
    _refuse_missing(points, corners, "a corner")
    held = [(hold.id, hold.seam) for hold in file.holds]
    held += [(closing.id, closing.seam) for closing in file.closings]
    _refuse_missing(held, {row.id for row in file.seams}, "a seam")
    passed = ((row.id, text.lstrip("-~")) for row in file.openings for text in row.edges)
    _refuse_missing(passed, edges, "an edge")
    wearer = [("body", file.wearer)] if file.wearer else []
    _refuse_missing(wearer, {row.id for row in file.bodies}, "a wearer")
    marks = {mark.id for mark in file.notches} | {mark.id for mark in file.holes}
    pinned = _pinned(file.pins)
    _refuse_missing(pinned, corners | marks | edges | {row.id for row in file.levels}, "a place")
    _refuse_missing(_marked((*file.notches, *file.holes)), edges, "an edge")
    sheets = ((row.id, row.sheet) for row in file.pieces)
    _refuse_missing(sheets, {row.id for row in file.sheets}, "a sheet")
    levels = ((line.id, line.level) for row in file.pieces for line in row.lines)
    _refuse_missing(levels, {row.id for row in file.levels}, "a level")
    for row in file.pieces:
        _refuse_bad_fold(row)


def _all_ids(file: WedgeFile) -> Iterator[str]:
    for piece in file.pieces:
        yield piece.id
        for edge in _ring_edges(piece):
            yield edge.id
            yield edge.corner
        parts: Iterable[Any] = chain(piece.cutouts, piece.lines, piece.labels)
        yield from (row.id for row in parts)
    tables: tuple[Iterable[Any], ...] = (
        file.seams, file.notches, file.holes, file.levels, file.sheets,
        file.holds, file.pins, file.pictures, file.openings, file.closings, file.bodies,
    )  # fmt: skip
    yield from (row.id for row in chain.from_iterable(tables))


def _ring_edges(piece: PieceRow) -> Iterator[EdgeRow]:
    yield from piece.edges
    for cutout in piece.cutouts:
        yield from cutout.edges


def _refuse_bad_ids(ids: list[str]) -> None:
    if len(set(ids)) != len(ids):
        seen: set[str] = set()
        twice = next(one for one in ids if one in seen or seen.add(one))  # type: ignore[func-returns-value]
        raise FileRefused(f"The id “{twice}” stands twice in the file.", culprit=twice)
    if {one[:1] for one in ids} & _NO_ID:
        bad = next(one for one in ids if one[:1] in _NO_ID)
        raise FileRefused(f"“{bad}” is no id: one is not empty and begins with no - or ~.")


def _refuse_missing(
    aims: Iterable[tuple[str, str | UnsetType]], there: set[str], what: str
) -> None:
    """`aims` are (id of what names it, the id that is named); one left out names nothing."""
    for who, aim in aims:
        if aim is not UNSET and aim not in there:
            raise FileRefused(f"“{who}” names {what} “{aim}” that is not there.", culprit=who)


def _aimed_by_seams(seams: Iterable[SeamRow]) -> Iterator[tuple[str, str]]:
    # No id begins with - or ~, so stripping them is what reading a ref comes to.
    return ((row.id, text.lstrip("-~")) for row in seams for text in (*row.a, *row.b))


def _marked(marks: Iterable[NotchRow | HoleRow]) -> Iterator[tuple[str, str]]:
    for row in marks:
        yield row.id, row.at.edge
        if row.mate is not UNSET:
            yield row.id, row.mate.edge


def _pinned(pins: Iterable[PinRow]) -> Iterator[tuple[str, str]]:
    for row in pins:
        for one in row.anchors:
            if not isinstance(one, tuple):
                yield row.id, one.edge if isinstance(one, SpotRow) else one


def _refuse_bad_fold(row: PieceRow) -> None:
    if (row.cutting == "fold") != (row.fold_edge is not UNSET):
        raise FileRefused(
            f"Piece “{row.id}”: one cut on the fold, and only that, has a fold edge.",
            culprit=row.id,
        )
    if row.fold_edge is not UNSET and all(edge.id != row.fold_edge for edge in row.edges):
        raise FileRefused(
            f"Piece “{row.id}” is cut on a fold edge “{row.fold_edge}” that it does not have.",
            culprit=row.id,
        )


def _curve_rows(pieces: Iterable[PieceRow]) -> Iterator[EdgeRow | LineRow]:
    """Rows that hold a curve, in the order in which `_piece` asks for them."""
    for piece in pieces:
        yield from _ring_edges(piece)
        yield from piece.lines


def _curves_of(pieces: Iterable[PieceRow]) -> list[Curve]:
    rows = list(_curve_rows(pieces))
    for row in rows:
        if len(row.points) % 6 != 2:
            raise FileRefused(
                f"“{row.id}” has {len(row.points)} numbers as its points, and a chain of n cubics "
                "has 2 (3 n + 1).",
                culprit=row.id,
            )
    counts = [len(row.points) // 2 for row in rows]
    numbers = chain.from_iterable(row.points for row in rows)
    points = np.fromiter(numbers, dtype=np.float64, count=2 * sum(counts)).reshape(-1, 2)
    if not (np.abs(points) <= LARGEST_MM).all():
        bad = np.flatnonzero(~(np.abs(points) <= LARGEST_MM).all(axis=1))[0]
        row = rows[int(np.searchsorted(np.cumsum(counts), bad, side="right"))]
        raise FileRefused(f"“{row.id}” lies too far away to be on a table.", culprit=row.id)
    return chains_of_points(points, counts)


def _piece(row: PieceRow, curves: Iterator[Curve]) -> Piece:
    """A piece, taking its curves off `curves`: outline, then cut-outs, then lines."""
    try:
        return Piece(
            id=row.id,
            name=row.name,
            edges=_ring(row.edges, curves),
            cutouts=tuple(_cutout(one, curves) for one in row.cutouts),
            lines=tuple(_line(one, curves) for one in row.lines),
            labels=tuple(map(_label, row.labels)),
            cutting=row.cutting,
            fold_edge=_set(row.fold_edge),
            sheet=_set(row.sheet),
            quantity=row.quantity,
            turns_rad=_set(row.turns_rad),
            recipe=None if row.recipe is UNSET else _like(Recipe, row.recipe),
        )
    except ValueError as error:
        raise FileRefused(f"Piece “{row.id}”: {error}.", culprit=row.id) from None


def _ring(rows: Iterable[EdgeRow], curves: Iterator[Curve]) -> Ring:
    return tuple(
        Edge(
            id=row.id,
            name=row.name,
            curve=next(curves),
            corner=row.corner,
            finish=row.finish,
            allowance_mm=row.allowance_mm,
        )
        for row in rows
    )


def _cutout(row: CutoutRow, curves: Iterator[Curve]) -> Cutout:
    return Cutout(id=row.id, edges=_ring(row.edges, curves))


def _line(row: LineRow, curves: Iterator[Curve]) -> Line:
    return Line(id=row.id, kind=row.kind, curve=next(curves), name=row.name, level=_set(row.level))


def _label(row: LabelRow) -> Label:
    at_mm = np.array(row.at_mm)
    if not (np.abs(at_mm) <= LARGEST_MM).all():
        raise FileRefused(f"“{row.id}” lies too far away to be on a table.", culprit=row.id)
    at_mm.flags.writeable = False
    return Label(
        id=row.id, text=row.text, at_mm=at_mm, height_mm=row.height_mm, angle_rad=row.angle_rad
    )


def _seam(row: SeamRow) -> Seam:
    return Seam(
        id=row.id,
        name=row.name,
        a=_run(row.a),
        b=_run(row.b),
        join=row.join,
        lap_mm=row.lap_mm,
        over=row.over,
        wanted_mm=row.wanted_mm,
        allowed_mm=row.allowed_mm,
        laid_on=row.laid_on,
        apex=_set(row.apex),
        tip=_set(row.tip),
        tape_mm=row.tape_mm,
        binding_mm=row.binding_mm,
    )


def _run(texts: Iterable[str]) -> Run:
    # Half of all refs are a plain edge, and there is nothing to take apart in one.
    return tuple(parse_ref(text) if text[0] in "-~" else Ref(text) for text in texts)


def _notch(row: NotchRow) -> Notch:
    return Notch(id=row.id, at=_spot(row.at), mate=_mate(row.mate), double=row.double)


def _hole(row: HoleRow) -> Hole:
    spots = {"at": _spot(row.at), "mate": _mate(row.mate)}
    return Hole(**(_fields(row) | spots))


def _pin(row: PinRow) -> Pin:
    anchors = tuple(_spot(one) if isinstance(one, SpotRow) else one for one in row.anchors)
    bare = (number for one in anchors if isinstance(one, tuple) for number in one)
    if not all(abs(number) <= LARGEST_MM for number in bare):
        raise FileRefused(f"“{row.id}” hangs too far away to be on a table.", culprit=row.id)
    return Pin(**(_fields(row) | {"anchors": anchors}))


def _picture(row: PictureRow) -> Picture:
    if not all(abs(number) <= LARGEST_MM for number in row.placing):
        raise FileRefused(f"“{row.id}” lies too far away to be on a table.", culprit=row.id)
    return _like(Picture, row)


def _opening(row: OpeningRow) -> Opening:
    return Opening(**(_fields(row) | {"edges": _run(row.edges)}))


def _sheet(row: SheetRow) -> Sheet:
    material: Material = "rubber" if isinstance(row.material, UnsetType) else row.material
    return Sheet(**(_fields(row) | {"material": material}))


def _spot(row: SpotRow) -> Spot:
    return Spot(row.edge, row.at_mm)


def _mate(row: SpotRow | UnsetType) -> Spot | None:
    return None if isinstance(row, UnsetType) else _spot(row)


def _set(value: Value | UnsetType) -> Value | None:
    """The document says None for what the file leaves out."""
    return None if isinstance(value, UnsetType) else value


def _fields(row: Any) -> dict[str, Any]:  # noqa: ANN401 - any row
    return {name: _set(getattr(row, name)) for name in row.__struct_fields__}


def _like(kind: Callable[..., Row], row: Any) -> Row:  # noqa: ANN401 - any row
    """The document's value whose fields are the row's own, name by name."""
    return kind(**_fields(row))


def _table(rows: Iterable[Any]) -> Table[Any]:
    return Table((row.id, row) for row in rows)
