"""Sizes of paper, and the units that printers and plotters count in."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from wedgework.units.scale import Unit
from wedgework.units.typed import NotUnderstood

PAPER_MM: Final = {
    "A0": (841.0, 1189.0),
    "A1": (594.0, 841.0),
    "A2": (420.0, 594.0),
    "A3": (297.0, 420.0),
    "A4": (210.0, 297.0),
    "Letter": (215.9, 279.4),
}
"""Width and height, upright, in mm. Sources: ISO 216; Letter: ANSI/ASME Y14.1."""

PLOTTER_UNITS_PER_MM: Final = 40
"""HP-GL counts in 0.025 mm. Source: HP PCL/PJL Reference, Technical Reference Manual Part II."""

LEAST_SIDE_MM: Final = 50.0
LARGEST_SIDE_MM: Final = 20_000.0

_SIZE = re.compile(r"(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)", re.IGNORECASE)
_ROLL = re.compile(r"roll:\s*(\d+(?:\.\d+)?)", re.IGNORECASE)
_NAMES = {name.lower(): name for name in PAPER_MM}


@dataclass(frozen=True)
class Roll:
    """Paper of this width and as long as it needs to be."""

    width_mm: float


def paper_mm(text: str) -> tuple[float, float] | Roll:
    """Width and height in mm of `A4`, `Letter`, `420x297`, or the Roll of `roll:900`.

    Raises NotUnderstood for anything else, and for sides under 50 mm or over 20 m.
    """
    word = text.strip()
    if word.lower() in _NAMES:
        return PAPER_MM[_NAMES[word.lower()]]
    if size := _SIZE.fullmatch(word):
        return _side_mm(size[1]), _side_mm(size[2])
    if roll := _ROLL.fullmatch(word):
        return Roll(_side_mm(roll[1]))
    raise NotUnderstood(
        f"Paper “{word[:40]}” is not known: write {', '.join(PAPER_MM)}, "
        "a size in mm such as 420x297, or roll:900."
    )


def _side_mm(digits: str) -> float:
    side_mm = float(digits)
    if not LEAST_SIDE_MM <= side_mm <= LARGEST_SIDE_MM:
        raise NotUnderstood(
            f"A side of {digits[:20]} mm is no paper: "
            f"it is between {LEAST_SIDE_MM:.0f} mm and {LARGEST_SIDE_MM / 1000:.0f} m."
        )
    return side_mm


def points_of_mm(length_mm: float) -> float:
    """A length in points of 1/72 inch, the unit of PDF (ISO 32000-1, UserUnit)."""
    return length_mm / Unit.PT.mm


def plotter_units(length_mm: float) -> int:
    """A length in the whole units of HP-GL, the nearest one: never off by more than 0.0125 mm."""
    return round(length_mm * PLOTTER_UNITS_PER_MM)
