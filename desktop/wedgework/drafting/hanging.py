"""How a skirt hangs: its slope, and what is worn lower at the front as it lies along the cloth.

A skirt that turns by a share f of a circle hangs as a cone that slopes by asin(f) from the
vertical. What is lower by d on the body is longer by d / cos(slope) along the cloth (plane
geometry). A fuller skirt than a half circle falls into folds instead of standing off as a cone.
"""

from __future__ import annotations

import math
from typing import Annotated, Final, TypeAlias

from msgspec import Meta

from wedgework.pattern.errors import DraftRefused

FULL: Final = 2.0 * math.pi

STEEPEST_RAD: Final = math.pi / 6.0
"""The cone of half a circle; a fuller skirt falls into folds and is taken to slope no further.
Common practice, no source."""

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


def refuse_below_hem(front_mm: float) -> None:
    """DraftRefused where nothing is left of the cloth at centre front."""
    if front_mm <= 0.0:
        raise DraftRefused("The waist would be dropped below the hem at the front.")


def along_cloth(name: str, lower_mm: float, slope: float) -> str:
    """A line of the calculation: what is lower on the body, and that along the cloth."""
    way, mm = "lower" if lower_mm > 0.0 else "higher", abs(lower_mm)
    return (
        f"{name}, {mm:.1f} {way} at the front = {mm:.1f} / cos "
        f"{math.degrees(slope):.2f}° = {mm / math.cos(slope):.2f} mm along the cloth"
    )
