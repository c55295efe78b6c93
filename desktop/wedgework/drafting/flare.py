"""Skirts and peplums cut as shares of a circle.

A waist W turning by an angle is an arc of radius W / angle; the hem, l further out, is W + angle l.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.drafting.draft import Draft, Number, Side, ring_of_sides
from wedgework.drafting.numbers import Degrees, Mm, Numbers, PositiveMm
from wedgework.geometry.curve import Curve, line, reversed_curve
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import WHOLE_COUNT
from wedgework.pattern.document import Piece, Project, Ref, Seam
from wedgework.pattern.errors import DraftRefused

FULL: Final = 2.0 * math.pi

PANEL: Final = math.pi
"""A panel turns by no more: beyond half a circle it encloses waste."""

MOST_RAD: Final = 20.0 * FULL
"""No skirt is fuller: its hem would be some forty times its length longer than its waist."""

LEAST_RAD: Final = 1e-3
"""A sector that turns by less is a straight strip: over a metre of waist it bends by 0.1 mm."""

HANDLE_STEP: Final = math.pi / 8.0
"""An arc is drawn in cubics of at most so much: each is right to 1e-7 of its radius (Mortensen,
“Approximate a circle with cubic Bezier curves”)."""

SAMPLES: Final = 33


class FlaredSkirtNumbers(Numbers, frozen=True, kw_only=True):
    """A skirt or peplum cut as a share of a circle, by its angle or by its hem."""

    waist_mm: Annotated[PositiveMm, Meta(description="girth of the waist edge")]
    length_mm: Annotated[PositiveMm, Meta(description="along the slant, at centre back")]
    turn_deg: Annotated[
        Degrees | None, Meta(description="angle of the sector: 360 is a full circle")
    ] = None
    hem_mm: Annotated[PositiveMm | None, Meta(description="girth of the hem")] = None
    waist_drop_mm: Annotated[
        Mm, Meta(description="how much lower the waist is worn at the front")
    ] = 0.0
    hem_dip_mm: Annotated[Mm, Meta(description="how much lower the hem is at the front")] = 0.0
    panels: Annotated[
        Annotated[int, Meta(ge=1, le=64)] | None,
        Meta(description="how many; as few as fit without it"),
    ] = None


def sector_rad(numbers: FlaredSkirtNumbers) -> float:
    """Angle of the whole sector; DraftRefused where it is not said, or said twice."""
    if (numbers.turn_deg is None) == (numbers.hem_mm is None):
        raise DraftRefused("Give either the angle of the sector or the girth of the hem.")
    if numbers.turn_deg is not None:
        angle = math.radians(numbers.turn_deg)
    else:
        angle = ((numbers.hem_mm or 0.0) - numbers.waist_mm) / numbers.length_mm
    if angle > MOST_RAD:
        raise DraftRefused(
            f"A hem that turns {angle / FULL:.0f} times round is more than any skirt has: make it "
            "longer, or the hem narrower."
        )
    if angle < LEAST_RAD:
        raise DraftRefused("The hem must be wider than the waist; a straight skirt is a strip.")
    return angle


def draft_flared_skirt(numbers: FlaredSkirtNumbers, project: Project) -> Draft:
    """The panels, side by side seams, waist and hem lower at the front where that is asked for."""
    del project
    angle = sector_rad(numbers)
    radius = numbers.waist_mm / angle
    if numbers.waist_drop_mm >= numbers.length_mm + min(numbers.hem_dip_mm, 0.0):
        raise DraftRefused("The waist would be dropped below the hem at the front.")
    count = numbers.panels or math.ceil(angle / PANEL - WHOLE_COUNT)
    if angle / count > PANEL * 1.9:
        raise DraftRefused(
            f"{math.degrees(angle):.0f} degrees need at least {math.ceil(angle / PANEL)} panels."
        )
    pieces = tuple(_panel(numbers, angle, radius, index, count) for index in range(count))
    hem = numbers.waist_mm + angle * numbers.length_mm
    told: dict[str, Number] = {
        "waist_radius_mm": radius,
        "turn_deg": math.degrees(angle),
        "hem_mm": hem,
        "hem_radius_mm": radius + numbers.length_mm,
        "circle_share": angle / FULL,
        "panels": count,
        "front_length_mm": numbers.length_mm - numbers.waist_drop_mm + numbers.hem_dip_mm,
        "back_length_mm": numbers.length_mm,
        "waist_mm": numbers.waist_mm,
    }
    if angle <= FULL:
        told["lean_deg"] = math.degrees(math.asin(angle / FULL))
    return Draft(
        pieces=pieces,
        seams=tuple(_seams(count)),
        numbers=told,
        steps=(
            f"angle = {math.degrees(angle):.2f} degrees, {angle / FULL:.3f} of a circle",
            f"waist radius = {numbers.waist_mm:.1f} / {angle:.4f} = {radius:.2f} mm",
            f"hem = {numbers.waist_mm:.1f} + {angle:.4f} x {numbers.length_mm:.1f} = {hem:.1f} mm",
            *_as_lowered(numbers, pieces),
        ),
    )


def _as_lowered(numbers: FlaredSkirtNumbers, pieces: tuple[Piece, ...]) -> Iterator[str]:
    """A line for each edge that is lower at the front, which makes it other than an arc's."""
    for lower, role in ((numbers.waist_drop_mm, "waist"), (numbers.hem_dip_mm, "hem")):
        if lower != 0.0:
            edges = (edge for piece in pieces for edge in piece.edges if edge.name == role)
            along = sum(length_mm(edge.curve) for edge in edges)
            yield f"{role}, {lower:.1f} lower at the front: {along:.1f} mm measured on the edge"


def _panel(
    numbers: FlaredSkirtNumbers, angle: float, radius: float, index: int, count: int
) -> Piece:
    """One panel of the sector, standing upright; the whole starts and ends at centre back."""
    from_rad, to_rad = angle * index / count, angle * (index + 1) / count
    middle = (from_rad + to_rad) / 2.0
    shift = (
        index
        * (2.0 * (radius + numbers.length_mm) + 40.0)
        * math.sin(min(angle / count, math.pi) / 2.0)
    )

    def ring(base: float, lower: float) -> Curve:
        def point(turn: float) -> tuple[float, float]:
            front = (1.0 - math.cos(FULL * turn / angle)) / 2.0
            reach = base + lower * front
            return (shift + reach * math.sin(turn - middle), -reach * math.cos(turn - middle))

        if lower == 0.0:
            return _arc(base, from_rad - middle, to_rad - middle, shift)
        return smooth_through([point(t) for t in np.linspace(from_rad, to_rad, SAMPLES)])

    waist = ring(radius, numbers.waist_drop_mm)
    hem = ring(radius + numbers.length_mm, numbers.hem_dip_mm)
    name = f"panel_{index + 1}"
    sides = [
        Side(role="hem", curve=hem, finish="hem"),
        Side(role="last", curve=line(hem.end, waist.end)),
        Side(role="waist", curve=reversed_curve(waist)),
        Side(role="first", curve=line(waist.start, hem.start)),
    ]
    return Piece(
        id=name, name=name.replace("_", " ").capitalize(), edges=ring_of_sides(name, sides)
    )


def _arc(radius: float, start: float, end: float, shift: float) -> Curve:
    """An arc about (shift, 0), angles from straight down, in cubics of HANDLE_STEP at most."""
    count = max(math.ceil((end - start) / HANDLE_STEP), 1)
    turns = np.linspace(start, end, count + 1)
    places = np.stack([shift + radius * np.sin(turns), -radius * np.cos(turns)], axis=1)
    ahead = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    reach = radius * 4.0 / 3.0 * math.tan((end - start) / count / 4.0)
    return Curve(
        np.stack(
            [places[:-1], places[:-1] + reach * ahead[:-1], places[1:] - reach * ahead[1:],
             places[1:]],
            axis=1,
        )
    )  # fmt: skip


def _seams(count: int) -> Iterator[Seam]:
    for number in range(1, count):
        yield Seam(
            id=f"panel_{number}.join",
            name=f"panel {number} to {number + 1}",
            a=(Ref(f"panel_{number}.last"),),
            b=(Ref(f"panel_{number + 1}.first", backward=True),),
        )
