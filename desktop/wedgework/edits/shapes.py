"""Pieces of a plain shape, by their sizes: rectangles, circles, sectors of a ring."""

from __future__ import annotations

import math
from typing import Annotated

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Name, NotNegativeMm, PointMm, PositiveMm
from wedgework.edits.move import stitched
from wedgework.edits.places import Naming
from wedgework.edits.seams import id_from
from wedgework.geometry.arcs import arc
from wedgework.geometry.curve import Curve, line
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Edge, Piece, Project
from wedgework.pattern.errors import EditRefused

Side = tuple[str, Curve]
_QUARTER = math.pi / 2


class AddRectangle(Edit, frozen=True, kw_only=True):
    """Put a rectangle on the table, with its corners rounded if that is wanted."""

    name: Annotated[Name, Meta(min_length=1, description="what it is called")]
    width_mm: Annotated[PositiveMm, Meta(description="how wide it is")]
    height_mm: Annotated[PositiveMm, Meta(description="how high it is")]
    corner_radius_mm: Annotated[NotNegativeMm, Meta(description="radius of its corners")] = 0.0
    at_mm: Annotated[PointMm, Meta(description="its lower left corner")] = (0.0, 0.0)

    def change(self, project: Project) -> Project:
        """EditRefused where a corner is rounder than half of a side."""
        radius_mm = self.corner_radius_mm
        if 2 * radius_mm > min(self.width_mm, self.height_mm) + SAME_STATION_MM:
            raise EditRefused(
                f"A corner of radius {radius_mm:g} mm needs sides of {2 * radius_mm:g} mm or more."
            )
        low = np.array(self.at_mm)
        corners = low + np.array([self.width_mm, self.height_mm]) * _UNIT_SQUARE
        inner = (
            low
            + radius_mm
            + _UNIT_SQUARE * (np.array([self.width_mm, self.height_mm]) - 2 * radius_mm)
        )
        return _with_shape(project, self.name, _rounded(corners, inner, radius_mm))


_UNIT_SQUARE = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
_SIDES = ("bottom", "right", "top", "left")


def _rounded(corners: np.ndarray, centres: np.ndarray, radius_mm: float) -> list[Side]:
    """Four sides, and between them quarters of circles about `centres` if there is a radius."""
    found: list[Side] = []
    for index, name in enumerate(_SIDES):
        after = (index + 1) % 4
        way = np.array([math.cos(index * _QUARTER), math.sin(index * _QUARTER)]).round()
        start, end = corners[index] + radius_mm * way, corners[after] - radius_mm * way
        if float(np.hypot(*(end - start))) > SAME_STATION_MM:
            found.append((name, line(start, end)))
        if radius_mm > SAME_STATION_MM:
            turn = arc(centres[after], radius_mm, (index - 1) * _QUARTER, _QUARTER)
            found.append((f"{name} {_SIDES[after]}", turn))
    return found


class AddCircle(Edit, frozen=True, kw_only=True):
    """Put a circle on the table; its one corner lies at its right."""

    name: Annotated[Name, Meta(min_length=1, description="what it is called")]
    diameter_mm: Annotated[PositiveMm, Meta(description="from side to side")]
    middle_mm: Annotated[PointMm, Meta(description="where its middle lies")] = (0.0, 0.0)

    def change(self, project: Project) -> Project:
        """It can always be done."""
        outline = arc(self.middle_mm, self.diameter_mm / 2, 0.0, 2 * math.pi)
        return _with_shape(project, self.name, [("round", outline)])


class AddSector(Edit, frozen=True, kw_only=True):
    """Put a part of a circle, or of a ring, on the table: a flare, a cone, a curved band.

    It hangs down from its middle, half of its angle to each side.
    """

    name: Annotated[Name, Meta(min_length=1, description="what it is called")]
    radius_mm: Annotated[PositiveMm, Meta(description="from its middle to its outer edge")]
    angle_deg: Annotated[
        float,
        Meta(gt=0, lt=360, description="how far it goes round", extra_json_schema={"unit": "deg"}),
    ]
    inner_radius_mm: Annotated[
        NotNegativeMm, Meta(description="from its middle to its inner edge; 0 for a point")
    ] = 0.0
    middle_mm: Annotated[PointMm, Meta(description="the middle of its circles")] = (0.0, 0.0)

    def change(self, project: Project) -> Project:
        """EditRefused where the inner edge does not lie inside the outer one."""
        if self.inner_radius_mm > self.radius_mm - SAME_STATION_MM:
            raise EditRefused("The inner radius must be less than the outer one.")
        angle = math.radians(self.angle_deg)
        start = -_QUARTER - angle / 2
        outer = arc(self.middle_mm, self.radius_mm, start, angle)
        if self.inner_radius_mm > SAME_STATION_MM:
            inner = arc(self.middle_mm, self.inner_radius_mm, start + angle, -angle)
            sides = [("right side", line(outer.end, inner.start)), ("inner", inner),
                     ("left side", line(inner.end, outer.start))]  # fmt: skip
        else:
            sides = [("right side", line(outer.end, self.middle_mm)),
                     ("left side", line(self.middle_mm, outer.start))]  # fmt: skip
        return _with_shape(project, self.name, [("outer", outer), *sides])


def _with_shape(project: Project, name: str, sides: list[Side]) -> Project:
    """The project with one more piece of these edges, counter-clockwise."""
    naming = Naming(project)
    own = naming.fresh(id_from(name, "piece"))
    edges = [
        Edge(
            id=naming.fresh(f"{own}.e{number}"),
            corner=naming.fresh(f"{own}.c{number}"),
            name=said,
            curve=curve,
        )
        for number, (said, curve) in enumerate(sides, 1)
    ]
    return with_pieces(project, Piece(id=own, name=name, edges=stitched(edges)))
