"""The body and its levels, findings that the maker accepts, and sheets."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Any

import msgspec
from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import Edit, Id, Mm, Name, NotNegativeMm, PositiveMm
from wedgework.edits.bodies import with_measures
from wedgework.edits.places import Naming
from wedgework.edits.seams import id_from
from wedgework.geometry.curve import line
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.regions import inside_spans
from wedgework.pattern.body import ALL_NAMES, refuse_unknown
from wedgework.pattern.changes import has_id, with_pieces
from wedgework.pattern.document import (
    Accepted,
    Level,
    Line,
    Marking,
    Material,
    Piece,
    Project,
    Sheet,
)
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_piece


class SetBody(Edit, frozen=True, kw_only=True):
    """Write down measurements of the body; those not named stay, null takes one out."""

    measures: Annotated[
        dict[str, PositiveMm | None],
        Meta(description="measure: length; `bust_girth_mm`, `thigh_girth_left_mm`",
            extra_json_schema={"unit": "mm"}),
    ]  # fmt: skip

    def change(self, project: Project) -> Project:
        """EditRefused where a measure has a name that is not known."""
        for name in self.measures:
            refuse_unknown(name)
        known = {key: value for key, value in self.measures.items() if value is not None}
        gone = [
            key for key, value in self.measures.items() if value is None and key in project.body
        ]
        same = not gone and all(project.body.get(key) == value for key, value in known.items())
        return project if same else with_measures(project, project.body.with_rows(known, gone))


class LevelPoint(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Where a level crosses one piece."""

    piece: Annotated[Id, Meta(description="piece that the level crosses")]
    y_mm: Annotated[Mm, Meta(description="its height there")]


class AddLevel(Edit, frozen=True, kw_only=True):
    """Draw a level: a named height of the body, as a line across every piece that it crosses."""

    name: Annotated[Name, Meta(min_length=1, description="what it is called: bust, waist, …")]
    points: Annotated[
        tuple[LevelPoint, ...], Meta(min_length=1, description="its height on each piece")
    ]
    measure: Annotated[
        str | None, Meta(description="girth of the body there, as `set_body` names it")
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where a piece is named twice, or the level misses it."""
        if self.measure is not None:
            refuse_unknown(self.measure)
        naming = Naming(project)
        level = Level(
            id=naming.fresh(id_from(self.name, "level")), name=self.name, measure=self.measure
        )
        pieces = {point.piece: the_piece(project, point.piece) for point in self.points}
        if len(pieces) != len(self.points):
            raise EditRefused("A level has one height on each piece; one is named twice.")
        changed = [
            _with_level(pieces[point.piece], level, point.y_mm, naming) for point in self.points
        ]
        levels = project.levels.with_rows({level.id: level})
        return replace(with_pieces(project, *changed), levels=levels)


def _with_level(piece: Piece, level: Level, y_mm: float, naming: Naming) -> Piece:
    ring = [edge.curve for edge in piece.edges]
    holes = [[edge.curve for edge in cutout.edges] for cutout in piece.cutouts]
    left, _, right, _ = bounds_of_all(ring)
    spans = inside_spans((left, y_mm), (right, y_mm), ring, holes, endless=True)
    if len(spans) == 0:
        raise EditRefused(
            f"At {y_mm:.1f} mm the level does not cross piece “{piece.name or piece.id}”.",
            culprit=piece.id,
        )
    lines = tuple(
        Line(
            id=naming.fresh(f"{piece.id}.{level.id}"),
            kind="level",
            curve=line((left + start, y_mm), (left + end, y_mm)),
            name=level.name,
            level=level.id,
        )
        for start, end in spans
    )
    return replace(piece, lines=(*piece.lines, *lines))


class Accept(Edit, frozen=True, kw_only=True):
    """Accept a finding, with the reason: it no longer stops cutting until it grows."""

    code: Annotated[str, Meta(min_length=1, max_length=100, description="the finding's code")]
    where: Annotated[tuple[Id, ...], Meta(description="where it stands, as the check says")]
    reason: Annotated[str, Meta(max_length=1000, description="why it is all right")]
    measured: Annotated[
        float | None, Meta(description="what was measured then; more than that is a new finding")
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where the finding names something that is not there."""
        for own in self.where:
            if own not in ALL_NAMES and not has_id(project, own):
                raise EditRefused(f"There is no “{own}” in this project.", culprit=own)
        row = Accepted(code=self.code, where=self.where, reason=self.reason, measured=self.measured)
        if any(_same_finding(old, row) for old in project.accepted):
            return project
        others = (old for old in project.accepted if (old.code, old.where) != (row.code, row.where))
        return replace(project, accepted=(*others, row))


def _same_finding(one: Accepted, other: Accepted) -> bool:
    names = ("code", "where", "reason", "measured")
    return all(getattr(one, name) == getattr(other, name) for name in names)


class AddSheet(Edit, frozen=True, kw_only=True):
    """Add a sheet of material that pieces are cut from."""

    name: Annotated[Name, Meta(description="what it is called")]
    width_mm: Annotated[PositiveMm, Meta(description="width of the roll or the sheet")]
    length_mm: Annotated[PositiveMm | None, Meta(description="endless if left out")] = None
    thickness_mm: Annotated[PositiveMm, Meta(description="thickness")] = 0.4
    colour: Annotated[str, Meta(max_length=100, description="colour")] = ""
    spacing_mm: Annotated[NotNegativeMm, Meta(description="kept free between pieces")] = 5.0
    margin_mm: Annotated[NotNegativeMm, Meta(description="kept free along the sheet's edge")] = 5.0
    stains: Annotated[tuple[str, ...], Meta(description="colours that it stains")] = ()
    marking: Annotated[
        Marking, Meta(description="notches: dash (of a pen, on what tears) or slit (in cloth)")
    ] = "dash"
    material: Annotated[Material, Meta(description="what it is made of")] = "rubber"

    def change(self, project: Project) -> Project:
        """EditRefused where the margins leave nothing of the sheet."""
        sheet = Sheet(
            id=Naming(project).fresh(id_from(self.name, "sheet")),
            name=self.name,
            width_mm=self.width_mm,
            length_mm=self.length_mm,
            thickness_mm=self.thickness_mm,
            colour=self.colour,
            spacing_mm=self.spacing_mm,
            margin_mm=self.margin_mm,
            stains=self.stains,
            marking=self.marking,
            material=self.material,
        )
        _refuse_no_room(sheet)
        return replace(project, sheets=project.sheets.with_rows({sheet.id: sheet}))


def _refuse_no_room(sheet: Sheet) -> None:
    least = min(sheet.width_mm, sheet.length_mm or sheet.width_mm)
    if 2 * sheet.margin_mm >= least:
        raise EditRefused("The margins leave nothing of the sheet.", culprit=sheet.id or None)


class SetSheet(Edit, frozen=True, kw_only=True):
    """Set what a sheet is: its material, size and colour, and how notches are made in it."""

    sheet: Annotated[Id, Meta(description="sheet")]
    width_mm: Annotated[
        PositiveMm | UnsetType, Meta(description="width of the roll or the sheet")
    ] = UNSET
    length_mm: Annotated[PositiveMm | UnsetType | None, Meta(description="null: endless")] = UNSET
    thickness_mm: Annotated[PositiveMm | UnsetType, Meta(description="thickness")] = UNSET
    colour: Annotated[Name | UnsetType, Meta(description="colour")] = UNSET
    spacing_mm: Annotated[
        NotNegativeMm | UnsetType, Meta(description="kept free between pieces")
    ] = UNSET
    margin_mm: Annotated[
        NotNegativeMm | UnsetType, Meta(description="kept free along the sheet's edge")
    ] = UNSET
    stains: Annotated[tuple[str, ...] | UnsetType, Meta(description="colours that it stains")] = (
        UNSET
    )
    marking: Annotated[
        Marking | UnsetType,
        Meta(description="notches: dash (of a pen, on what tears) or slit (in cloth)"),
    ] = UNSET
    material: Annotated[Material | UnsetType, Meta(description="what it is made of")] = UNSET

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such sheet, or its margins leave nothing of it."""
        if self.sheet not in project.sheets:
            raise EditRefused(f"There is no sheet “{self.sheet}”.", culprit=self.sheet)
        old = project.sheets[self.sheet]
        said: dict[str, Any] = {
            name: value
            for name in self.__struct_fields__[1:]
            if (value := getattr(self, name)) is not UNSET and value != getattr(old, name)
        }
        if not said:
            return project
        new = replace(old, **said)
        _refuse_no_room(new)
        return replace(project, sheets=project.sheets.with_rows({new.id: new}))
