"""From a project to the rows of a `.wedge` file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, TypeVar

from msgspec import UNSET, UnsetType

from wedgework.files.wedge_rows import (
    FORMAT,
    VERSION,
    AcceptedRow,
    BodyRow,
    ClosingRow,
    CutoutRow,
    EdgeRow,
    HoldRow,
    HoleRow,
    LabelRow,
    LevelRow,
    LineRow,
    NotchRow,
    OpeningRow,
    PictureRow,
    PieceRow,
    PinRow,
    RecipeRow,
    SeamRow,
    SheetRow,
    SpotRow,
    WedgeFile,
)
from wedgework.geometry.chains import chain_points
from wedgework.geometry.curve import Curve
from wedgework.pattern.document import (
    Hole,
    Label,
    Line,
    Notch,
    Opening,
    Piece,
    Pin,
    Project,
    Ring,
    Seam,
    Sheet,
    Spot,
)

Struct = TypeVar("Struct")
Value = TypeVar("Value")
Numbers = Iterator[list[float]]


def rows_of(project: Project) -> WedgeFile:
    """The rows that say everything that is in `project`."""
    numbers = _all_numbers(project.pieces.values())
    return WedgeFile(
        format=FORMAT,
        version=VERSION,
        name=project.name,
        notes=project.notes,
        problems=project.problems,
        body=dict(project.body),
        sheets=tuple(map(_sheet_row, project.sheets.values())),
        levels=tuple(_like(LevelRow, level) for level in project.levels.values()),
        pieces=tuple(_piece(piece, numbers) for piece in project.pieces.values()),
        seams=tuple(map(_seam, project.seams.values())),
        notches=tuple(map(_notch, project.notches.values())),
        holes=tuple(map(_hole, project.holes.values())),
        holds=tuple(_like(HoldRow, hold) for hold in project.holds.values()),
        pins=tuple(map(_pin, project.pins.values())),
        pictures=tuple(_like(PictureRow, picture) for picture in project.pictures.values()),
        openings=tuple(map(_opening, project.openings.values())),
        closings=tuple(_like(ClosingRow, one) for one in project.closings.values()),
        bodies=tuple(
            BodyRow(id=one.id, name=one.name, measures=dict(one.measures))
            for one in project.bodies.values()
        ),
        wearer=project.wearer,
        reductions=dict(project.reductions),
        accepted=tuple(_like(AcceptedRow, one) for one in project.accepted),
    )


def _all_numbers(pieces: Iterable[Piece]) -> Numbers:
    """Numbers of each curve in the order in which `_piece` asks for them.

    All arrays become lists in one call: one call for each of some ten thousand edges is the
    dearest step of a save.
    """
    curves: list[Curve] = []
    for piece in pieces:
        curves.extend(edge.curve for edge in piece.all_edges())
        curves.extend(line.curve for line in piece.lines)
    points, counts = chain_points(curves)
    flat = points.ravel().tolist()
    at = 0
    for count in counts:
        yield flat[at : at + 2 * count]
        at += 2 * count


def _piece(piece: Piece, numbers: Numbers) -> PieceRow:
    """A piece's row, taking numbers off `numbers`: outline, then cut-outs, then lines."""
    return PieceRow(
        id=piece.id,
        name=piece.name,
        cutting=piece.cutting,
        fold_edge=_set(piece.fold_edge),
        sheet=_set(piece.sheet),
        quantity=piece.quantity,
        turns_rad=_set(piece.turns_rad),
        edges=_ring(piece.edges, numbers),
        cutouts=tuple(
            CutoutRow(id=one.id, edges=_ring(one.edges, numbers)) for one in piece.cutouts
        ),
        lines=tuple(_line(line, numbers) for line in piece.lines),
        labels=tuple(map(_label, piece.labels)),
        recipe=UNSET if piece.recipe is None else _like(RecipeRow, piece.recipe),
    )


def _ring(ring: Ring, numbers: Numbers) -> list[EdgeRow]:
    return [
        EdgeRow(
            id=edge.id,
            corner=edge.corner,
            name=edge.name,
            finish=edge.finish,
            allowance_mm=edge.allowance_mm,
            points=next(numbers),
        )
        for edge in ring
    ]


def _line(line: Line, numbers: Numbers) -> LineRow:
    return LineRow(
        id=line.id, kind=line.kind, name=line.name, level=_set(line.level), points=next(numbers)
    )


def _label(label: Label) -> LabelRow:
    x, y = label.at_mm.tolist()
    return _like(LabelRow, label, at_mm=(x, y))


def _seam(seam: Seam) -> SeamRow:
    return _like(SeamRow, seam, a=tuple(map(str, seam.a)), b=tuple(map(str, seam.b)))


def _notch(notch: Notch) -> NotchRow:
    return _like(NotchRow, notch, at=_spot(notch.at), mate=_mate(notch.mate))


def _hole(hole: Hole) -> HoleRow:
    return _like(HoleRow, hole, at=_spot(hole.at), mate=_mate(hole.mate))


def _pin(pin: Pin) -> PinRow:
    anchors = tuple(_spot(one) if isinstance(one, Spot) else one for one in pin.anchors)
    return _like(PinRow, pin, anchors=anchors)


def _opening(opening: Opening) -> OpeningRow:
    return _like(OpeningRow, opening, edges=tuple(map(str, opening.edges)))


def _spot(spot: Spot) -> SpotRow:
    return SpotRow(edge=spot.edge, at_mm=spot.at_mm)


def _mate(spot: Spot | None) -> SpotRow | UnsetType:
    return UNSET if spot is None else _spot(spot)


def _set(value: Value | None) -> Value | UnsetType:
    """What there is none of is left out of the file."""
    return UNSET if value is None else value


def _sheet_row(sheet: Sheet) -> SheetRow:
    """A sheet; rubber is not said, so that files of nothing else are read by any version 2."""
    material = UNSET if sheet.material == "rubber" else sheet.material
    return _like(SheetRow, sheet, material=material)


def _like(kind: type[Struct], value: object, **other: Any) -> Struct:  # noqa: ANN401
    """The row whose fields are those of the document's value, name by name, but for `other`."""
    names = kind.__struct_fields__  # type: ignore[attr-defined]
    return kind(
        **{name: _set(getattr(value, name)) for name in names if name not in other}, **other
    )
