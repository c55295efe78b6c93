"""Pin measurements to the table, say what they should be, and take them away."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Annotated, Any

from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import MOST_MM, Edit, Id, Mm, Name, Place
from wedgework.edits.marks import spot_on
from wedgework.edits.places import Naming
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Anchor, Pin, PinKind, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.pins import pin_value

Wanted = Annotated[float, Meta(ge=-MOST_MM, le=MOST_MM)]
Allowed = Annotated[float, Meta(ge=0, le=MOST_MM)]

# No tuple[Mm, Mm]: beside a text of limited length msgspec 0.23 mistakes its size for that limit.
BareMm = Annotated[tuple[Mm, ...], Meta(min_length=2, max_length=2)]

STEM = "pin"
"""What pins are named from: `pin1`, `pin2`."""

LEAST_ALLOWED = 0.5
"""What a pinned measure may miss by if nothing else is said, mm or degrees: as a seam's."""


class PinMeasure(Edit, frozen=True, kw_only=True):
    """Keep a measurement on the table; with a wanted value it is checked from then on."""

    name: Annotated[Name, Meta(description="what it is called")] = ""
    kind: Annotated[
        PinKind,
        Meta(
            description="distance or along (between two places, straight or by the outline), angle "
            "(at a corner, or at the second of three places), girth (at a level)"
        ),
    ]
    anchors: Annotated[
        tuple[Place | BareMm | Id, ...],
        Meta(
            min_length=1,
            max_length=3,
            description="places on edges, ids of corners, notches, holes or a level, or x and y "
            "of a bare place",
        ),
    ]
    wanted: Annotated[
        Wanted | None, Meta(description="what it should measure, in mm, of an angle in degrees")
    ] = None
    allowed: Annotated[
        Allowed, Meta(description="how far from that is well enough, mm or degrees")
    ] = LEAST_ALLOWED

    def change(self, project: Project) -> Project:
        """EditRefused where it cannot be measured: an anchor is not there, or there are too few."""
        pin = Pin(
            id=Naming(project).numbered(STEM),
            name=self.name,
            kind=self.kind,
            anchors=tuple(_anchor(project, one) for one in self.anchors),
            wanted=None if self.wanted is None else _stored(self.kind, self.wanted),
            allowed=_stored(self.kind, self.allowed),
        )
        pin_value(project, pin)
        return replace(project, pins=project.pins.with_rows({pin.id: pin}))


def _anchor(project: Project, one: Place | BareMm | str) -> Anchor:
    if isinstance(one, str):
        return one
    if isinstance(one, tuple):
        return one[0], one[1]
    return spot_on(one.edge, length_mm(the_edge(project, one.edge).curve), one.at_mm)


def _stored(kind: PinKind, value: float) -> float:
    """A value as the document has it: angles in rad."""
    return math.radians(value) if kind == "angle" else value


class SetPin(Edit, frozen=True, kw_only=True):
    """Say what a pinned measurement is called, what it should be, and how far off it may be."""

    pin: Annotated[Id, Meta(description="pinned measurement")]
    name: Annotated[Name | UnsetType, Meta(description="what it is called")] = UNSET
    wanted: Annotated[
        Wanted | UnsetType | None,
        Meta(description="what it should measure, mm or degrees; null takes the check away"),
    ] = UNSET
    allowed: Annotated[
        Allowed | UnsetType, Meta(description="how far from that is well enough, mm or degrees")
    ] = UNSET

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such pin."""
        pin = the_pin(project, self.pin)
        said: dict[str, Any] = {"name": self.name, "allowed": self.allowed, "wanted": self.wanted}
        stored: dict[str, Any] = {
            key: _stored(pin.kind, value) if isinstance(value, float) else value
            for key, value in said.items()
            if not isinstance(value, UnsetType)
        }
        if all(getattr(pin, key) == value for key, value in stored.items()):
            return project
        return replace(project, pins=project.pins.with_rows({pin.id: replace(pin, **stored)}))


class Unpin(Edit, frozen=True, kw_only=True):
    """Take pinned measurements off the table."""

    pins: Annotated[tuple[Id, ...], Meta(min_length=1, description="pinned measurements")]

    def change(self, project: Project) -> Project:
        """EditRefused where one is not there."""
        gone = dict.fromkeys(the_pin(project, own).id for own in self.pins)
        return replace(project, pins=project.pins.with_rows({}, gone))


def the_pin(project: Project, own: str) -> Pin:
    """The pin of an id; EditRefused where there is none."""
    if own not in project.pins:
        raise EditRefused(f"There is no pinned measurement “{own}” in this project.", culprit=own)
    return project.pins[own]
