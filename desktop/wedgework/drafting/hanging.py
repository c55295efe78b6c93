"""How a skirt hangs: its slope, and what is worn lower at the front as it lies along the cloth.

A skirt that turns by a share f of a circle hangs as a cone that slopes by asin(f) from the
vertical. What is lower by d on the body is longer by d / cos(slope) along the cloth (plane
geometry). A fuller skirt than a half circle falls into folds instead of standing off as a cone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Final, TypeAlias

import numpy as np
from msgspec import Meta

from wedgework.drafting.draft import Number
from wedgework.pattern.body import measured
from wedgework.pattern.document import Project
from wedgework.pattern.errors import DraftRefused, DraftUnsaid
from wedgework.pattern.reductions import reduction_of

FULL: Final = 2.0 * math.pi

STEEPEST_RAD: Final = math.pi / 6.0
"""The cone of half a circle; a fuller skirt falls into folds and is taken to slope no further.
Common practice, no source."""

SUIT_MM: Final = 0.4
"""The usual thickness of a suit's sheet; common practice, no source."""

PLACES: Final = 512
"""Places at which the length of a tilted waist is summed: it is even and periodic."""

SlopeDeg: TypeAlias = Annotated[
    Annotated[float, Meta(ge=0, le=80, extra_json_schema={"unit": "deg"})] | None,
    Meta(
        description="how far it slopes out from the vertical as it hangs; that of its cone without "
        "it, 30 where it is fuller than half a circle"
    ),
]
"""A slope as a person types it."""


def slope_rad(circle_share: float, said_deg: float | None) -> float:
    """Slope from the vertical of a skirt that turns by a share of a circle, unless it is said."""
    if said_deg is not None:
        return math.radians(said_deg)
    return min(math.asin(min(circle_share, 1.0)), STEEPEST_RAD)


def front_share(turn_rad: float) -> float:
    """1 at centre front and 0 at centre back, by the azimuth from centre back."""
    return (1.0 - math.cos(turn_rad)) / 2.0


def one_of(name: str, one: float | None, other_name: str, other: float | None) -> None:
    """DraftRefused where neither of two numbers is given, or both are."""
    if one is None and other is None:
        raise DraftUnsaid(f"Give either {name} or {other_name}.")
    if one is not None and other is not None:
        raise DraftRefused(f"Give either {name} or {other_name}, not both.")


def refuse_below_hem(front_mm: float) -> None:
    """DraftRefused where nothing is left of the cloth at centre front."""
    if front_mm <= 0.0:
        raise DraftRefused("The waist would be dropped below the hem at the front.")


def tilted_waist_mm(waist_mm: float, drop_mm: float) -> float:
    """How long a waist that is `waist_mm` round is where its front is worn lower: an ellipse."""
    turns = np.linspace(0.0, FULL, PLACES, endpoint=False)
    steps = np.hypot(waist_mm / FULL, drop_mm / 2.0 * np.sin(turns))
    return FULL * float(steps.mean())


def waist_under_mm(project: Project) -> float | None:
    """The body's waist with the suit over it, as thin as that is worn; None where none is known."""
    body_mm = measured(project.body, "waist_girth_mm")
    if body_mm is None:
        return None
    worn = 1.0 - reduction_of(project, "girth")
    return body_mm + FULL * worn * _suit_mm(project)


def over_suit_numbers(waist_mm: float, under_mm: float | None) -> dict[str, Number]:
    """What is under a waist, and by how much the waist is stretched over it; none if not known."""
    if under_mm is None:
        return {}
    stretch = 100.0 * max(under_mm / waist_mm - 1.0, 0.0)
    return {"round_under_it_mm": under_mm, "waist_stretch_percent": stretch}


def over_suit(waist_mm: float, under_mm: float | None) -> Iterator[str]:
    """Lines of the calculation for the same."""
    if under_mm is not None:
        yield f"body and suit under it = {under_mm:.1f} mm round"
        if waist_mm < under_mm:
            percent = 100.0 * (under_mm / waist_mm - 1.0)
            yield f"a waist of {waist_mm:.1f} mm is stretched by {percent:.1f} %"


def _suit_mm(project: Project) -> float:
    """Thickness of the suit's sheet; nothing where no suit was drafted."""
    suits = [
        one for one in project.pieces.values() if one.recipe and one.recipe.kind == "body_block"
    ]
    sheets = (project.sheets.get(one.sheet) for one in suits if one.sheet is not None)
    usual = [SUIT_MM] if suits else [0.0]
    return max([sheet.thickness_mm for sheet in sheets if sheet is not None] or usual)


def along_cloth(name: str, lower_mm: float, slope: float) -> str:
    """A line of the calculation: what is lower on the body, and that along the cloth."""
    way, mm = "lower" if lower_mm > 0.0 else "higher", abs(lower_mm)
    if slope == 0.0:
        return f"{name}, {mm:.1f} mm {way} at the front"
    return (
        f"{name}, {mm:.1f} {way} at the front = {mm:.1f} / cos "
        f"{math.degrees(slope):.2f}° = {mm / math.cos(slope):.2f} mm along the cloth"
    )
