"""Lengths and angles as people write and read them: units, typed numbers, shown numbers, paper.

Everything inside the program is in mm and rad; this is the border.
"""

from wedgework.units.paper import PAPER_MM, Roll, paper_mm, plotter_units, points_of_mm
from wedgework.units.scale import Unit
from wedgework.units.shown import (
    format_angle,
    format_inch_fraction,
    format_length,
    format_number,
    with_unit,
)
from wedgework.units.typed import (
    NotUnderstood,
    parse_angle_rad,
    parse_length_mm,
    parse_number,
)

__all__ = [
    "PAPER_MM",
    "NotUnderstood",
    "Roll",
    "Unit",
    "format_angle",
    "format_inch_fraction",
    "format_length",
    "format_number",
    "paper_mm",
    "parse_angle_rad",
    "parse_length_mm",
    "parse_number",
    "plotter_units",
    "points_of_mm",
    "with_unit",
]
