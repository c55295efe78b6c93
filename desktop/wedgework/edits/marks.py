"""Notches and punched holes: one datum a mark, and its mate on the other side of the seam."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import Edit, Id, NotNegativeMm, PositiveMm
from wedgework.edits.places import Naming
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Hole, Notch, Project, Seam, Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import holes_by_edge, seams_of, the_edge, the_seam
from wedgework.pattern.rows import rows_by_id
from wedgework.pattern.seams import measure_seam

Distances = tuple[NotNegativeMm, ...] | NotNegativeMm


class _AddMarks(Edit, frozen=True, kw_only=True):
    """What notches and holes have in common: where they are put."""

    at_mm: Annotated[
        Distances, Meta(description="distances along side A of the seam, or along the edge")
    ]
    seam: Annotated[Id | None, Meta(description="seam that gets marks on both of its sides")] = None
    edge: Annotated[Id | None, Meta(description="edge that gets marks of its own")] = None

    def spots(self, project: Project) -> Iterator[tuple[Spot, Spot | None]]:
        """Datum and mate of each mark; EditRefused where it is not said which, or off the end."""
        at_mm = self.at_mm if isinstance(self.at_mm, tuple) else (self.at_mm,)
        if (self.seam is None) == (self.edge is None):
            raise EditRefused("Say a seam, or an edge, and only one of them.")
        if self.seam is not None:
            seam = the_seam(project, self.seam)
            yield from (self.mates(project, seam, at) for at in at_mm)
        elif self.edge is not None:
            edge = the_edge(project, self.edge)
            for at in at_mm:
                yield spot_on(edge.id, length_mm(edge.curve), at), None

    def mates(self, project: Project, seam: Seam, at_mm: float) -> tuple[Spot, Spot | None]:
        """The place on A and its mate on B."""
        return mates_at(project, seam, at_mm)

    @property
    def stem(self) -> str:
        """What the marks are named from."""
        return self.seam or self.edge or ""


def spot_on(edge: str, whole_mm: float, at_mm: float) -> Spot:
    """The place on an edge (or a seam) of this length; EditRefused where it is beyond the end."""
    if at_mm > whole_mm + SAME_STATION_MM:
        raise EditRefused(
            f"“{edge}” is {whole_mm:.2f} mm long; there is no place at {at_mm:.2f} mm.",
            culprit=edge,
        )
    return Spot(edge, min(at_mm, whole_mm))


def mates_at(
    project: Project, seam: Seam, at_mm: float, *, walked: bool = False
) -> tuple[Spot, Spot | None]:
    """The place on A and the one on B that lies on it when the seam is made.

    That is by the notches that match, or with `walked` as far from the start on B as on A. No mate
    where both are one place of one outline: a piece joined to its own mirror image gets each mark
    on both copies anyway.
    """
    measured = measure_seam(project, seam)
    spot_on(seam.name or seam.id, measured.a.length_mm, at_mm)
    at = measured.a.spot_at(at_mm)
    on_b = min(at_mm, measured.b.length_mm) if walked else measured.b_of(at_mm)
    mate = measured.b.spot_at(on_b)
    same = at.edge == mate.edge and abs(at.at_mm - mate.at_mm) <= SAME_STATION_MM
    return at, None if same else mate


class AddNotches(_AddMarks, frozen=True, kw_only=True):
    """Add notches to a seam, on both sides where they meet, or to one edge alone."""

    double: Annotated[bool, Meta(description="two dashes side by side: the trade's back")] = False
    walked: Annotated[
        bool, Meta(description="the mate as far along B as along A, not at its share of B")
    ] = False

    def mates(self, project: Project, seam: Seam, at_mm: float) -> tuple[Spot, Spot | None]:
        """The place on A and its mate on B."""
        return mates_at(project, seam, at_mm, walked=self.walked)

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such seam or edge, or it is shorter than that."""
        naming = Naming(project)
        rows = {}
        for at, mate in self.spots(project):
            name = naming.numbered(f"{self.stem}.n")
            rows[name] = Notch(id=name, at=at, mate=mate, double=self.double)
        return replace(project, notches=project.notches.with_rows(rows)) if rows else project


class AddHoles(_AddMarks, frozen=True, kw_only=True):
    """Add punched holes to a seam, on both sides where they meet, or along one edge alone."""

    inset_mm: Annotated[NotNegativeMm, Meta(description="how far inside the seam line")] = 0.0
    diameter_mm: Annotated[PositiveMm, Meta(description="diameter of the punch")] = 2.0

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such seam or edge, or it is shorter than that."""
        naming = Naming(project)
        rows = {}
        for at, mate in self.spots(project):
            name = naming.numbered(f"{self.stem}.o")
            rows[name] = Hole(
                id=name,
                at=at,
                mate=mate,
                inset_mm=self.inset_mm,
                diameter_mm=self.diameter_mm,
            )
        return replace(project, holes=project.holes.with_rows(rows)) if rows else project


class StopTear(Edit, frozen=True, kw_only=True):
    """Punch a round hole at the apex of a dart, where a cut would begin to tear."""

    dart: Annotated[Id, Meta(description="dart")]
    diameter_mm: Annotated[PositiveMm, Meta(description="diameter of the punch")] = 2.0

    def change(self, project: Project) -> Project:
        """EditRefused where this is no dart, or its apex is punched already."""
        dart = the_seam(project, self.dart)
        if not dart.is_dart:
            raise EditRefused(f"“{dart.name or dart.id}” is no dart.", culprit=dart.id)
        at, mate = mates_at(project, dart, measure_seam(project, dart).a.length_mm)
        if any(hole.at == at for hole in holes_by_edge(project.holes).get(at.edge, ())):
            raise EditRefused(
                f"The apex of dart “{dart.name or dart.id}” is punched already.", culprit=dart.id
            )
        name = Naming(project).numbered(f"{dart.id}.o")
        hole = Hole(id=name, at=at, mate=mate, diameter_mm=self.diameter_mm)
        return replace(project, holes=project.holes.with_rows({name: hole}))


class MoveMark(Edit, frozen=True, kw_only=True):
    """Move a notch or a hole along its edge; its mate goes to where it meets it."""

    mark: Annotated[Id, Meta(description="notch or hole")]
    at_mm: Annotated[NotNegativeMm, Meta(description="distance from the start of its edge")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such mark, or its edge is shorter than that."""
        mark = the_mark(project, self.mark)
        whole_mm = length_mm(the_edge(project, mark.at.edge).curve)
        at = spot_on(mark.at.edge, whole_mm, self.at_mm)
        if at == mark.at:
            return project
        mate = None if mark.mate is None else _mate_of(project, mark, at)
        return with_mark(project, replace(mark, at=at, mate=mate))


def _mate_of(project: Project, mark: Notch | Hole, at: Spot) -> Spot | None:
    """Where the mate of a mark meets it; where no seam joins the two any more it stays."""
    bare = without_marks(project, [mark.id])
    for seam in seams_of(project, at.edge):
        measured = measure_seam(bare, seam)
        for here, there, across in (
            (measured.a, measured.b, measured.b_of),
            (measured.b, measured.a, measured.a_of),
        ):
            station = here.station_of(at)
            holds = mark.mate is not None and there.station_of(mark.mate) is not None
            if station is not None and holds:
                return there.spot_at(across(station))
    return mark.mate


class SetNotches(Edit, frozen=True, kw_only=True):
    """Make notches single or double."""

    notches: Annotated[tuple[Id, ...], Meta(min_length=1, description="notches")]
    double: Annotated[bool, Meta(description="two dashes side by side")]

    def change(self, project: Project) -> Project:
        """EditRefused where one is no notch."""
        rows = {}
        for own in self.notches:
            if own not in project.notches:
                raise EditRefused(f"There is no notch “{own}” in this project.", culprit=own)
            if project.notches[own].double != self.double:
                rows[own] = replace(project.notches[own], double=self.double)
        return replace(project, notches=project.notches.with_rows(rows)) if rows else project


class SetHoles(Edit, frozen=True, kw_only=True):
    """Set how far inside the seam line holes lie, and how wide they are."""

    holes: Annotated[tuple[Id, ...], Meta(min_length=1, description="holes")]
    inset_mm: Annotated[
        NotNegativeMm | UnsetType, Meta(description="how far inside the seam line")
    ] = UNSET
    diameter_mm: Annotated[PositiveMm | UnsetType, Meta(description="diameter of the punch")] = (
        UNSET
    )

    def change(self, project: Project) -> Project:
        """EditRefused where one is no hole."""
        rows = {}
        for own in self.holes:
            if own not in project.holes:
                raise EditRefused(f"There is no hole “{own}” in this project.", culprit=own)
            hole = project.holes[own]
            inset = hole.inset_mm if isinstance(self.inset_mm, UnsetType) else self.inset_mm
            wide = hole.diameter_mm if isinstance(self.diameter_mm, UnsetType) else self.diameter_mm
            if (inset, wide) != (hole.inset_mm, hole.diameter_mm):
                rows[own] = replace(hole, inset_mm=inset, diameter_mm=wide)
        return replace(project, holes=project.holes.with_rows(rows)) if rows else project


class RemoveMarks(Edit, frozen=True, kw_only=True):
    """Take notches, holes and whole rows of holes away, on both sides of their seam."""

    marks: Annotated[
        tuple[Id, ...], Meta(min_length=1, description="notches, holes, rows of holes")
    ]

    def change(self, project: Project) -> Project:
        """EditRefused where one is none of them."""
        rows = rows_by_id(project.holes)
        gone: list[str] = []
        for own in self.marks:
            holes = rows.get(own, ())
            gone += [hole.id for hole in holes] or [the_mark(project, own).id]
        return without_marks(project, gone)


def the_mark(project: Project, own: str) -> Notch | Hole:
    """The notch or hole of an id; EditRefused where there is none."""
    if own in project.notches:
        return project.notches[own]
    if own in project.holes:
        return project.holes[own]
    raise EditRefused(f"There is no notch or hole “{own}” in this project.", culprit=own)


def with_mark(project: Project, mark: Notch | Hole) -> Project:
    """The project with one mark put in the place of the old one of its id."""
    if isinstance(mark, Notch):
        return replace(project, notches=project.notches.with_rows({mark.id: mark}))
    return replace(project, holes=project.holes.with_rows({mark.id: mark}))


def without_marks(project: Project, marks: list[str] | tuple[str, ...]) -> Project:
    """The project without some notches and holes."""
    notches = dict.fromkeys(own for own in marks if own in project.notches)
    holes = dict.fromkeys(own for own in marks if own in project.holes)
    return replace(
        project,
        notches=project.notches.with_rows({}, notches) if notches else project.notches,
        holes=project.holes.with_rows({}, holes) if holes else project.holes,
    )
