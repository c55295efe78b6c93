"""Closings: a seam, or a part of one, is left open and closed with snaps, a zip or lacing."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import Edit, Id, NotNegativeMm, PositiveMm
from wedgework.edits.flaps import with_flap, without_flap
from wedgework.edits.lengthening import with_both_sides_lengthened
from wedgework.edits.places import Naming
from wedgework.edits.rows import AddPunchRow
from wedgework.edits.seam_parts import MergeSeams, SplitSeam
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.changes import with_seams
from wedgework.pattern.closings import (
    USUAL_OVERLAP_MM,
    closing_length_mm,
    closing_of,
    closing_row,
    free_end,
    short_of_worn_mm,
)
from wedgework.pattern.document import Closing, ClosingKind, Join, Project, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.rows import punch_row, rows_by_id
from wedgework.pattern.runs import walked

EYELET_INSET_MM: Final = 10.0
"""Eyelets sit so far inside the edge, in doubled sheet; common practice, no source."""

Kind = Annotated[ClosingKind, Meta(description="what closes it, or nothing where it is left open")]
Pitch = Annotated[PositiveMm, Meta(description="from snap to snap, or from eyelet to eyelet")]
Flap = Annotated[NotNegativeMm, Meta(description="width of a flap behind it; 0 for none")]
Overlap = Annotated[
    NotNegativeMm, Meta(description="how far its sides lie on each other when it is closed")
]


class CloseSeam(Edit, frozen=True, kw_only=True):
    """Leave a seam, or a part of it, open to get in, and say what closes it.

    A flap is drafted with it, on the edge of the under side.
    """

    seam: Annotated[Id, Meta(description="seam that opens")]
    kind: Kind = "snaps"
    from_mm: Annotated[
        NotNegativeMm | None,
        Meta(description="where it starts on side A; at its start if left out"),
    ] = None
    to_mm: Annotated[
        NotNegativeMm | None, Meta(description="where it ends on side A; at its end if left out")
    ] = None
    overlap_mm: Annotated[
        Overlap | None,
        Meta(description="how far its sides lie on each other; if left out 22 for snaps, else 0"),
    ] = None
    flap_mm: Flap = 0.0
    pitch_mm: Pitch = 20.0
    also: Annotated[
        tuple[Id, ...],
        Meta(description="seams that follow it and open with it as one; all are one seam then"),
    ] = ()

    def change(self, project: Project) -> Project:
        """EditRefused for a dart, what is closed or laid on, and where holes find no room."""
        project, seam = _as_one(project, self.seam, self.also)
        _refuse_no_opening(project, seam)
        project, own = _with_part(project, seam, self.from_mm, self.to_mm)
        naming = Naming(project)
        overlap = USUAL_OVERLAP_MM[self.kind] if self.overlap_mm is None else self.overlap_mm
        closing = Closing(
            id=naming.fresh(f"{own}.closing"), seam=own, kind=self.kind,
            overlap_mm=overlap, flap_mm=self.flap_mm, pitch_mm=self.pitch_mm,
        )  # fmt: skip
        return with_flap(_closed(project, closing), closing)


def _as_one(project: Project, own: str, also: tuple[str, ...]) -> tuple[Project, Seam]:
    """A seam and those that follow it as one seam, with the project where they are."""
    if not also:
        return project, the_seam(project, own)
    after = MergeSeams(seams=(own, *also)).change(project)
    fresh = [seam for seam in after.seams.values() if seam.id not in project.seams]
    return after, fresh[0] if fresh else the_seam(after, own)


def _refuse_no_opening(project: Project, seam: Seam) -> None:
    called = seam.name or seam.id
    if seam.is_dart or seam.laid_on:
        what = "is a dart" if seam.is_dart else "is laid on"
        raise EditRefused(f"“{called}” {what}; nobody gets in through it.", culprit=seam.id)
    if closing_of(project, seam.id) is not None:
        raise EditRefused(f"Seam “{called}” has a closing already.", culprit=seam.id)


def _with_part(
    project: Project, seam: Seam, from_mm: float | None, to_mm: float | None
) -> tuple[Project, str]:
    """The project where the part is a seam of its own, and the id of that."""
    whole = walked(project, seam.a).length_mm
    low, high = from_mm or 0.0, whole if to_mm is None else to_mm
    if not low < high <= whole + SAME_STATION_MM:
        raise EditRefused(
            f"Side A of seam “{seam.name or seam.id}” is {whole:.2f} mm long: a closing from "
            f"{low:.2f} to {high:.2f} mm is no part of it.",
            culprit=seam.id,
        )
    at = tuple(one for one in (low, high) if SAME_STATION_MM < one < whole - SAME_STATION_MM)
    if not at:
        return project, seam.id
    after = SplitSeam(seam=seam.id, at_mm=at).change(project)
    parts = [own for own in after.seams if own not in project.seams]
    return after, parts[1 if low > SAME_STATION_MM else 0]


def _closed(project: Project, closing: Closing) -> Project:
    """The project with a closing: its seam overlaps as far as it says, and its holes are punched.

    What was punched for it before goes.
    """
    if closing.kind == "snaps" and closing.overlap_mm <= 0.0:
        raise EditRefused("Snaps sit where both sides lie on each other: say an overlap.")
    project = _without_row(project, closing)
    seam = project.seams[closing.seam]
    join: Join = "lapped" if closing.overlap_mm > 0.0 else "butted"
    lap_mm = closing.overlap_mm or seam.lap_mm
    if (seam.join, seam.lap_mm) != (join, lap_mm):
        project = with_seams(project, replace(seam, join=join, lap_mm=lap_mm))
    project = replace(project, closings=project.closings.with_rows({closing.id: closing}))
    return _punched(project, closing)


def _punched(project: Project, closing: Closing) -> Project:
    """The project with one row on both sides: where the sides overlap in the middle of that."""
    row = closing_row(closing)
    if closing.kind == "snaps":
        punch = AddPunchRow(seam=closing.seam, pitch_mm=closing.pitch_mm)
    elif closing.kind == "lacing":
        punch = AddPunchRow(
            seam=closing.seam, pitch_mm=closing.pitch_mm, inset_mm=EYELET_INSET_MM, through=False
        )
    else:
        return project
    return punch.punched(project, row)


def _without_row(project: Project, closing: Closing) -> Project:
    gone = [hole.id for hole in rows_by_id(project.holes).get(closing_row(closing), ())]
    return replace(project, holes=project.holes.with_rows({}, gone)) if gone else project


def the_closing(project: Project, own: str) -> Closing:
    """The closing of an id; EditRefused where there is none."""
    if own not in project.closings:
        raise EditRefused(f"There is no closing “{own}” in this project.", culprit=own)
    return project.closings[own]


class SetClosing(Edit, frozen=True, kw_only=True):
    """Set what a closing is; its row of holes is punched anew, a flap of another width drafted."""

    closing: Annotated[Id, Meta(description="closing")]
    kind: Kind | UnsetType = UNSET
    overlap_mm: Overlap | UnsetType = UNSET
    flap_mm: Flap | UnsetType = UNSET
    pitch_mm: Pitch | UnsetType = UNSET

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such closing, or its holes find no room."""
        old = the_closing(project, self.closing)
        names = ("kind", "overlap_mm", "flap_mm", "pitch_mm")
        said = {name: value for name in names if (value := getattr(self, name)) is not UNSET}
        if "kind" in said and "overlap_mm" not in said and said["kind"] != old.kind:
            said["overlap_mm"] = USUAL_OVERLAP_MM[said["kind"]]
        is_same = all(getattr(old, name) == value for name, value in said.items())
        if is_same and not ("pitch_mm" in said and _is_spread_otherwise(project, old)):
            return project
        closing = replace(old, **said)
        after = _closed(project, closing)
        return after if closing.flap_mm == old.flap_mm else with_flap(after, closing)


def _is_spread_otherwise(project: Project, closing: Closing) -> bool:
    """Whether the holes of a closing have been spread by hand since they were punched."""
    own = closing_row(closing)
    if len(rows_by_id(project.holes).get(own, ())) < 2:
        return False
    return abs(punch_row(project, own).pitch_mm - closing.pitch_mm) > SAME_STATION_MM


class RemoveClosing(Edit, frozen=True, kw_only=True):
    """Make a closing a glued seam again; its row of holes and its flap go."""

    closing: Annotated[Id, Meta(description="closing that ends")]
    lap_mm: Annotated[PositiveMm, Meta(description="lap of the seam that is glued again")] = 8.0

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such closing."""
        closing = the_closing(project, self.closing)
        bare = without_flap(_without_row(project, closing), closing)
        seam = replace(bare.seams[closing.seam], join="lapped", lap_mm=self.lap_mm)
        closings = bare.closings.with_rows({}, [closing.id])
        return replace(with_seams(bare, seam), closings=closings)


class LengthenClosing(Edit, frozen=True, kw_only=True):
    """Cut the edges of a zip at worn length: both sides get longer at the end that is free."""

    closing: Annotated[Id, Meta(description="closing, a zip")]
    by_mm: Annotated[
        PositiveMm | None, Meta(description="how much longer; if left out up to worn length")
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where it is at worn length, or runs out at neither end."""
        closing = the_closing(project, self.closing)
        by_mm = short_of_worn_mm(project, closing) if self.by_mm is None else self.by_mm
        if by_mm <= SAME_STATION_MM:
            raise EditRefused("This closing is at worn length already.", culprit=closing.id)
        seam = project.seams[closing.seam]
        end = free_end(project, seam)
        if end is None:
            raise EditRefused(
                f"Seam “{seam.name or seam.id}” runs out at neither end, so it cannot get longer.",
                culprit=seam.id,
            )
        after = with_both_sides_lengthened(project, seam, end, by_mm)
        grown = closing_length_mm(after, closing) - closing_length_mm(project, closing)
        longer = replace(closing, lengthened_mm=closing.lengthened_mm + grown)
        return _closed(after, longer)
