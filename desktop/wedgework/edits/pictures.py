"""Photographs and scans under the table: laid there, moved, scaled, squared up, taken away."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Annotated, Any, Final, TypeAlias

import numpy as np
from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import MOST_MM, Degrees, Edit, Id, Name, PointMm, PositiveMm
from wedgework.edits.places import Naming
from wedgework.edits.seams import id_from
from wedgework.geometry.curve import Floats, Points
from wedgework.geometry.motion import Affine, rotation, translation
from wedgework.geometry.projective import (
    NotProjective,
    followed,
    homography,
    is_convex,
    mapped,
    with_last_one,
)
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Picture, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.pictures import (
    NoPicture,
    PictureSize,
    in_sight,
    picture_size,
    placing_of,
    refuse_broken,
    size_of,
    stored_placing,
    upright,
)

LARGEST_BYTES: Final = 32 * 1024 * 1024
"""A photograph of 50 megapixels as JPEG has some 20 MB; the project's file holds it in text."""

LARGEST_PX: Final = 60_000_000
"""What a picture unpacks to in memory is four times this many bytes."""

FINE_PX_PER_MM: Final = 3.9
"""A file that says 100 dots an inch or more was scanned, and lies at true size; what a camera
writes there (72, 96) says nothing about the sheet."""

LONG_SIDE_MM: Final = 420.0
"""How long a photograph is until it is scaled: an A3 sheet, which most show a little of."""

Px: TypeAlias = Annotated[float, Meta(ge=-1e6, le=1e6, extra_json_schema={"unit": "px"})]
PointPx: TypeAlias = tuple[Px, Px]
"""A place in a photograph: pixels to the right and down from its upper left corner."""


class AddPicture(Edit, frozen=True, kw_only=True):
    """Lay a photograph or a scan under the table: a PNG or JPEG file, kept in the project.

    A scan lies there at true size, a photograph some 420 mm long until it is scaled or squared.
    """

    name: Annotated[Name, Meta(min_length=1, description="what it is called")]
    data: Annotated[bytes, Meta(min_length=1, description="the file, PNG or JPEG, up to 32 MB")]
    middle_mm: Annotated[PointMm, Meta(description="where its middle lies")] = (0.0, 0.0)
    width_mm: Annotated[
        PositiveMm | None, Meta(description="how wide it lies there; as the file says if left out")
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where it is no PNG or JPEG, breaks off, is damaged, or is too large."""
        size = _refusing(self.data)
        picture = Picture(
            id=Naming(project).fresh(id_from(self.name, "photograph")),
            name=self.name,
            data=self.data,
            placing=stored_placing(_first_placing(size, self.width_mm, self.middle_mm)),
        )
        return replace(project, pictures=project.pictures.with_rows({picture.id: picture}))


def _refusing(data: bytes) -> PictureSize:
    if len(data) > LARGEST_BYTES:
        raise EditRefused(
            f"The picture has {len(data) / 2**20:.0f} MB; the most is "
            f"{LARGEST_BYTES // 2**20}. Save it smaller."
        )
    try:
        size = picture_size(data)
        refuse_broken(data)
    except NoPicture as error:
        raise EditRefused(str(error)) from None
    if size.width_px == 0 or size.height_px == 0:
        raise EditRefused("The picture has no pixel.")
    if size.width_px * size.height_px > LARGEST_PX:
        raise EditRefused(
            f"The picture has {size.width_px} x {size.height_px} pixels, more than "
            f"{LARGEST_PX // 10**6} million. Save it smaller."
        )
    return size


def _first_placing(size: PictureSize, width_mm: float | None, middle_mm: PointMm) -> Floats:
    """Upright, its middle where it is wanted, as large as is said or may be thought."""
    turned, (width_px, height_px) = upright(size)
    fine = size.px_per_mm or 0.0
    scale = 1.0 / fine if fine >= FINE_PX_PER_MM else LONG_SIDE_MM / max(width_px, height_px)
    if width_mm is not None:
        scale = width_mm / width_px
    left, top = middle_mm[0] - scale * width_px / 2, middle_mm[1] + scale * height_px / 2
    onto_table = np.array([[scale, 0.0, left], [0.0, -scale, top], [0.0, 0.0, 1.0]])
    return with_last_one(onto_table @ turned)


class RemovePicture(Edit, frozen=True, kw_only=True):
    """Take a photograph away from under the table."""

    picture: Annotated[Id, Meta(description="photograph")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such photograph."""
        picture = the_picture(project, self.picture)
        return replace(project, pictures=project.pictures.with_rows({}, [picture.id]))


class SetPicture(Edit, frozen=True, kw_only=True):
    """Say what a photograph is called, how strongly it shows, and whether it shows at all."""

    picture: Annotated[Id, Meta(description="photograph")]
    name: Annotated[Name | UnsetType, Meta(description="what it is called")] = UNSET
    strength_ratio: Annotated[
        Annotated[float, Meta(ge=0, le=1)] | UnsetType,
        Meta(description="how strongly it shows: 1 as it is, 0 not at all"),
    ] = UNSET
    shown: Annotated[bool | UnsetType, Meta(description="whether it is shown")] = UNSET

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such photograph."""
        picture = the_picture(project, self.picture)
        said: dict[str, Any] = {
            name: value
            for name in ("name", "strength_ratio", "shown")
            if (value := getattr(self, name)) is not UNSET and value != getattr(picture, name)
        }
        return with_picture(project, replace(picture, **said)) if said else project


class MovePicture(Edit, frozen=True, kw_only=True):
    """Move a photograph under the table; pieces stay."""

    picture: Annotated[Id, Meta(description="photograph")]
    by_mm: Annotated[PointMm, Meta(description="how far, right and up")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such photograph."""
        picture = the_picture(project, self.picture)
        if self.by_mm == (0.0, 0.0):
            return project
        return _with_motion(project, picture, translation(self.by_mm))


class TurnPicture(Edit, frozen=True, kw_only=True):
    """Turn a photograph under the table about a point."""

    picture: Annotated[Id, Meta(description="photograph")]
    turn_deg: Annotated[Degrees, Meta(description="counter-clockwise")]
    about_mm: Annotated[
        PointMm | None, Meta(description="point that stays; its middle if left out")
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such photograph."""
        picture = the_picture(project, self.picture)
        if self.turn_deg == 0.0:
            return project
        about = middle_mm(picture) if self.about_mm is None else self.about_mm
        return _with_motion(project, picture, rotation(math.radians(self.turn_deg), about))


class ScalePicture(Edit, frozen=True, kw_only=True):
    """Make a photograph as large as it has to be for two of its points to lie so far apart.

    The first point stays where it is. A photograph taken aslant is squared up instead.
    """

    picture: Annotated[Id, Meta(description="photograph")]
    one_px: Annotated[PointPx, Meta(description="a point of it, pixels right and down")]
    other_px: Annotated[PointPx, Meta(description="another point of it")]
    distance_mm: Annotated[PositiveMm, Meta(description="how far apart they are in truth")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such photograph, or both points are one."""
        picture = the_picture(project, self.picture)
        ends = _in_sight(picture, np.array([self.one_px, self.other_px]))
        away_mm = float(np.hypot(*(ends[1] - ends[0])))
        if away_mm <= SAME_STATION_MM:
            raise EditRefused("The two points of the photograph are one.", culprit=picture.id)
        ratio = self.distance_mm / away_mm
        scaling = Affine(ratio * np.eye(2), (1.0 - ratio) * ends[0])
        return _with_motion(project, picture, scaling)


class SquarePicture(Edit, frozen=True, kw_only=True):
    """Undo the slant of a photograph: four of its points are the corners of a true rectangle.

    The rectangle lies upright where its picture lay; all that is as flat as it comes out true.
    """

    picture: Annotated[Id, Meta(description="photograph")]
    corners_px: Annotated[
        tuple[PointPx, PointPx, PointPx, PointPx],
        Meta(description="its corners: upper left, upper right, lower right, lower left"),
    ]
    width_mm: Annotated[PositiveMm, Meta(description="how wide the rectangle is in truth")]
    height_mm: Annotated[PositiveMm, Meta(description="how high it is in truth")]

    def change(self, project: Project) -> Project:
        """EditRefused where the corners are crossed, doubled, or nearly in a line."""
        picture = the_picture(project, self.picture)
        corners = np.array(self.corners_px)
        if not is_convex(corners):
            raise EditRefused(
                "These four points are no picture of a rectangle: two are crossed, or three lie "
                "in a line. Go round it from corner to corner.",
                culprit=picture.id,
            )
        middle = _in_sight(picture, corners).mean(axis=0)
        half = np.array([self.width_mm, self.height_mm]) / 2
        rectangle = middle + half * np.array([[-1, 1], [1, 1], [1, -1], [-1, -1]])
        placing = self._placing(picture, corners, rectangle)
        return project if placing == picture.placing else _placed(project, picture, placing)

    def _placing(self, picture: Picture, corners: Points, rectangle: Points) -> tuple[float, ...]:
        try:
            placing = homography(corners, rectangle)
            if in_sight(picture, placing, corners):
                return stored_placing(placing)
        except NotProjective:
            pass
        raise EditRefused(
            "Seen so flat from the side, the photograph cannot be squared up.", culprit=picture.id
        )


def the_picture(project: Project, own: str) -> Picture:
    """The photograph of an id; EditRefused where there is none."""
    if own not in project.pictures:
        raise EditRefused(f"There is no photograph “{own}”.", culprit=own)
    return project.pictures[own]


def with_picture(project: Project, picture: Picture) -> Project:
    """The project with a photograph in place of the one of its id."""
    return replace(project, pictures=project.pictures.with_rows({picture.id: picture}))


def _with_motion(project: Project, picture: Picture, motion: Affine) -> Project:
    return _placed(project, picture, stored_placing(followed(placing_of(picture), motion)))


def _placed(project: Project, picture: Picture, placing: tuple[float, ...]) -> Project:
    if not all(abs(number) <= MOST_MM for number in placing):
        raise EditRefused("The photograph would lie too far away.", culprit=picture.id)
    return with_picture(project, replace(picture, placing=placing))


def middle_mm(picture: Picture) -> PointMm:
    """Where the middle pixel of a photograph lies, in mm."""
    size = size_of(picture)
    x, y = mapped(placing_of(picture), (size.width_px / 2, size.height_px / 2)).tolist()
    return x, y


def _in_sight(picture: Picture, points_px: Points) -> Points:
    """Places of pixels, in mm; EditRefused for one beyond the horizon of a slanted photograph."""
    placing = placing_of(picture)
    if not in_sight(picture, placing, points_px):
        raise EditRefused("A point lies beyond the horizon of the photograph.", culprit=picture.id)
    return mapped(placing, points_px)
