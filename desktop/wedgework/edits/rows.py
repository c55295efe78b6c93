"""Rows of punched holes: laid out along a seam or an edge, moved and changed as one."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import count
from typing import Annotated, Any, Final

import msgspec
from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import Edit, Id, Mm, NotNegativeMm, PositiveMm
from wedgework.edits.marks import mates_at, spot_on
from wedgework.edits.places import Naming
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.changes import has_id
from wedgework.pattern.document import Hole, Project, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_edge, the_seam
from wedgework.pattern.rows import PunchRow, middle_of_lap_mm, punch_row, rows_by_id
from wedgework.pattern.seams import measure_seam

EDGE_INSET_MM: Final = 6.0
"""A row along one edge lies so far inside of it; common practice, no source."""

END_MM: Final = 10.0
"""No hole nearer to an end of the seam than this; common practice, no source."""

MOST_HOLES: Final = 2000

Number = Annotated[int, Meta(ge=1, le=MOST_HOLES)]


class Spread(msgspec.Struct, frozen=True, kw_only=True):
    """How the holes of a row are spread over a length."""

    pitch_mm: float | None
    number: int | None
    first_mm: float | None
    last_mm: float | None
    end_mm: float = END_MM

    def stations_mm(self, whole_mm: float) -> tuple[float, ...]:
        """Where the holes stand along the datum; EditRefused where they find no room.

        With a pitch as many as fit, the rest shared between both ends:
        n = floor((length - 2 end) / pitch) + 1. With a number alone evenly from margin to margin.
        Where both margins are said the pitch is made exact.
        """
        low = self.end_mm if self.first_mm is None else self.first_mm
        room = whole_mm - low - (self.end_mm if self.last_mm is None else self.last_mm)
        if room < -SAME_STATION_MM:
            raise EditRefused(
                f"Between its margins nothing is left of {whole_mm:.1f} mm for a row of holes."
            )
        pitch, number = self._pitch_and_number(max(room, 0.0))
        taken = pitch * (number - 1)
        if taken > room + SAME_STATION_MM:
            raise EditRefused(
                f"{number} holes {pitch:g} mm apart need {taken:.1f} mm, and there are {room:.1f}."
            )
        start = self._start_mm(low, room - taken)
        return tuple(start + pitch * index for index in range(number))

    def _pitch_and_number(self, room: float) -> tuple[float, int]:
        is_exact = self.first_mm is not None and self.last_mm is not None
        if self.number is not None and self.pitch_mm is not None:
            return self.pitch_mm, self.number
        if self.number is not None:
            return (room / (self.number - 1) if self.number > 1 else 0.0), self.number
        if self.pitch_mm is None:
            raise EditRefused("Say the distance from hole to hole, or how many holes there are.")
        fitting = room / self.pitch_mm
        if fitting >= MOST_HOLES:
            raise EditRefused(f"A row has at most {MOST_HOLES} holes.")
        if is_exact and fitting >= 1 / 2:
            between = max(round(fitting), 1)
            return room / between, between + 1
        return self.pitch_mm, math.floor(fitting + SAME_STATION_MM) + 1

    def _start_mm(self, low: float, spare: float) -> float:
        """The first hole: where it is said, else as the last one is said, else for the middle."""
        if self.first_mm is not None:
            return low
        return low + spare if self.last_mm is not None else low + spare / 2


class AddPunchRow(Edit, frozen=True, kw_only=True):
    """Punch a row of holes along a seam, through both sides from one datum, or along an edge."""

    seam: Annotated[Id | None, Meta(description="seam that gets the row on both sides")] = None
    edge: Annotated[Id | None, Meta(description="edge that gets a row of its own")] = None
    pitch_mm: Annotated[
        PositiveMm | None, Meta(description="from hole to hole, along the seam line")
    ] = None
    number: Annotated[Number | None, Meta(description="how many holes, spread evenly")] = None
    end_mm: Annotated[NotNegativeMm, Meta(description="no hole nearer to an end than this")] = (
        END_MM
    )
    first_mm: Annotated[
        NotNegativeMm | None, Meta(description="from the start to the first hole, where it is said")
    ] = None
    last_mm: Annotated[
        NotNegativeMm | None, Meta(description="from the last hole to the end, where it is said")
    ] = None
    inset_mm: Annotated[
        NotNegativeMm | None,
        Meta(description="inside the seam line; if left out the middle of the lap, on an edge 6"),
    ] = None
    diameter_mm: Annotated[PositiveMm, Meta(description="diameter of the punch")] = 2.0
    through: Annotated[
        bool | None,
        Meta(description="through both layers of a lap at one place; if left out where lapped"),
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where it is not said along what, or the holes find no room there."""
        if (self.seam is None) == (self.edge is None):
            raise EditRefused("Say a seam, or an edge, and only one of them.")
        return self.punched(project, _fresh_row(project, self.seam or self.edge or ""))

    def punched(self, project: Project, own: str) -> Project:
        """The project with the row under an id of its own; EditRefused where it finds no room."""
        seam = None if self.seam is None else the_seam(project, self.seam)
        spread = Spread(
            pitch_mm=self.pitch_mm, number=self.number, first_mm=self.first_mm,
            last_mm=self.last_mm, end_mm=self.end_mm,
        )  # fmt: skip
        like = Hole(
            id="", at=spot_on("", 0.0, 0.0), row=own,
            diameter_mm=self.diameter_mm, **self._depth(seam),
        )  # fmt: skip
        stations = spread.stations_mm(_datum_mm(project, seam, self.edge))
        return _laid_out(project, like, (seam, self.edge), stations, ())

    def _depth(self, seam: Seam | None) -> dict[str, Any]:
        """Inset, and whether the holes go through both layers."""
        lapped = seam is not None and seam.join == "lapped"
        through = lapped if self.through is None else self.through
        inset = self.inset_mm
        if inset is None:
            inset = middle_of_lap_mm(seam) if seam is not None and through else EDGE_INSET_MM
        _refuse_off_lap(seam, inset, through=through)
        return {"inset_mm": inset, "through": through}


def _refuse_off_lap(seam: Seam | None, inset_mm: float, *, through: bool) -> None:
    if seam is None or not through:
        return
    if seam.join == "butted":
        raise EditRefused(
            f"The sides of seam “{seam.name or seam.id}” are butted: no hole goes through both.",
            culprit=seam.id,
        )
    if seam.join == "lapped" and inset_mm > max(2 * middle_of_lap_mm(seam), SAME_STATION_MM):
        raise EditRefused(
            f"A hole {inset_mm:g} mm inside the seam line misses the lap of {seam.lap_mm:g} mm on "
            f"seam “{seam.name or seam.id}”.",
            culprit=seam.id,
        )


def _fresh_row(project: Project, stem: str) -> str:
    rows = rows_by_id(project.holes)
    names = (f"{stem}.r{number}" for number in count(1))
    return next(name for name in names if name not in rows and not has_id(project, name))


def _datum_mm(project: Project, seam: Seam | None, edge: str | None) -> float:
    if seam is None:
        return length_mm(the_edge(project, edge or "").curve)
    return measure_seam(project, seam).a.length_mm


def _laid_out(
    project: Project,
    like: Hole,
    along: tuple[Seam | None, str | None],
    stations_mm: Sequence[float],
    old: Sequence[Hole],
) -> Project:
    """The project with the holes of one row at these stations; `old` ones keep their ids."""
    seam, edge = along
    naming = Naming(project)
    names = [hole.id for hole in old[: len(stations_mm)]]
    rows = {}
    for index, at_mm in enumerate(stations_mm):
        name = names[index] if index < len(names) else naming.numbered(f"{like.row}.o")
        if seam is not None:
            at, mate = mates_at(project, seam, at_mm)
        else:
            at, mate = spot_on(edge or "", _datum_mm(project, None, edge), at_mm), None
        rows[name] = replace(like, id=name, at=at, mate=mate)
    gone = [hole.id for hole in old if hole.id not in rows]
    return replace(project, holes=project.holes.with_rows(rows, gone))


class MoveRow(Edit, frozen=True, kw_only=True):
    """Move a row of holes along its seam or edge: the datum, and with it both sides."""

    row: Annotated[Id, Meta(description="row of holes")]
    by_mm: Annotated[Mm, Meta(description="how far along side A, or along the edge")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such row, or a hole would leave the seam."""
        row = punch_row(project, self.row)
        first, last = row.first_mm + self.by_mm, row.last_mm - self.by_mm
        if min(first, last) < -SAME_STATION_MM:
            raise EditRefused(
                f"The row can move by {-row.first_mm:.1f} to {row.last_mm:+.1f} mm; "
                f"{self.by_mm:+.1f} would leave the seam.",
                culprit=self.row,
            )
        if self.by_mm == 0.0:
            return project
        stations = [min(max(at + self.by_mm, 0.0), row.whole_mm) for at in row.stations_mm]
        return _laid_out(project, row.holes[0], (row.seam, row.edge), stations, row.holes)


class SetRow(Edit, frozen=True, kw_only=True):
    """Change a row of holes as one: pitch or number, margins, inset, diameter."""

    row: Annotated[Id, Meta(description="row of holes")]
    pitch_mm: Annotated[
        PositiveMm | UnsetType, Meta(description="from hole to hole, along the seam line")
    ] = UNSET
    number: Annotated[Number | UnsetType, Meta(description="how many holes, spread evenly")] = UNSET
    first_mm: Annotated[
        NotNegativeMm | UnsetType, Meta(description="from the start to the first hole")
    ] = UNSET
    last_mm: Annotated[
        NotNegativeMm | UnsetType, Meta(description="from the last hole to the end")
    ] = UNSET
    end_mm: Annotated[NotNegativeMm, Meta(description="no hole nearer to an end than this")] = (
        END_MM
    )
    inset_mm: Annotated[
        NotNegativeMm | UnsetType, Meta(description="how far inside the seam line")
    ] = UNSET
    diameter_mm: Annotated[PositiveMm | UnsetType, Meta(description="diameter of the punch")] = (
        UNSET
    )
    through: Annotated[
        bool | UnsetType, Meta(description="through both layers of a lap at one place")
    ] = UNSET

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such row, or its holes find no room."""
        row = punch_row(project, self.row)
        like = self._like(row)
        if self._stands_as_said(row):
            return _all_like(project, row, like)
        stations = self._spread(row).stations_mm(row.whole_mm)
        along = (row.seam, row.edge)
        return _laid_out(project, like, along, stations, row.holes)

    def _stands_as_said(self, row: PunchRow) -> bool:
        """Whether no place is said, or each as it is already."""
        stands = {
            "pitch_mm": row.pitch_mm, "number": len(row.holes),
            "first_mm": row.first_mm, "last_mm": row.last_mm,
        }  # fmt: skip
        return all(
            (said := self._said(name)) is None
            or (own is not None and abs(said - own) <= SAME_STATION_MM)
            for name, own in stands.items()
        )

    def _said(self, name: str) -> Any:  # noqa: ANN401 - a number of any kind
        value = getattr(self, name)
        return None if value is UNSET else value

    def _like(self, row: PunchRow) -> Hole:
        """A hole with the depth and the diameter that are wanted; its place counts for nothing."""
        names = ("inset_mm", "diameter_mm", "through")
        said = {name: value for name in names if (value := self._said(name)) is not None}
        like = replace(row.holes[0], **said)
        if said.keys() & {"inset_mm", "through"}:
            _refuse_off_lap(row.seam, like.inset_mm, through=like.through)
        return like

    def _spread(self, row: PunchRow) -> Spread:
        """What is said anew; a row off the middle keeps its first hole, one in it its middle."""
        first, last = self._said("first_mm"), self._said("last_mm")
        pitch, number = self._said("pitch_mm"), self._said("number")
        is_centred = abs(row.first_mm - row.last_mm) <= SAME_STATION_MM
        if first is None and last is None and not is_centred:
            first = row.first_mm
        if pitch is None and number is None:
            number = len(row.holes)
            # Held at both ends it is spread anew; else it keeps its pitch as well.
            pitch = None if None not in (first, last) else row.pitch_mm or None
        ends = min(self.end_mm, row.first_mm, row.last_mm)
        return Spread(pitch_mm=pitch, number=number, first_mm=first, last_mm=last, end_mm=ends)


def _all_like(project: Project, row: PunchRow, like: Hole) -> Project:
    depth = {name: getattr(like, name) for name in ("inset_mm", "diameter_mm", "through")}
    rows = {
        hole.id: replace(hole, **depth)
        for hole in row.holes
        if any(getattr(hole, name) != value for name, value in depth.items())
    }
    return replace(project, holes=project.holes.with_rows(rows)) if rows else project
