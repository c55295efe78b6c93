"""Numbers as a maker reads them: decimals that line up, a real minus sign, inch fractions."""

from __future__ import annotations

import math
from fractions import Fraction

from wedgework.units.scale import Unit

MINUS = "\N{MINUS SIGN}"

_FINER = {Unit.CM: 1, Unit.IN: 1, Unit.M: 3}
# A unit larger than the mm shows this many decimals more, so that no step hides 0.3 mm.


def format_number(value: float, decimals: int = 1, *, signed: bool = False) -> str:
    """`value` with fixed decimals and a real minus sign; an en dash where it is not finite.

    `signed`: `+` before what is above nothing and `±` before nothing itself, so that the figures
    of differences stand under each other.
    """
    if not math.isfinite(value):
        return "\N{EN DASH}"
    digits = f"{abs(value):.{decimals}f}"
    return f"{_sign(value, signed, nothing=float(digits) == 0)}{digits}"


def format_length(
    length_mm: float, unit: Unit = Unit.MM, decimals: int = 1, *, signed: bool = False
) -> str:
    """A length in `unit`, without naming it; cm and in show one more than the `decimals` in mm."""
    return format_number(length_mm / unit.mm, decimals + _FINER.get(unit, 0), signed=signed)


def with_unit(
    length_mm: float, unit: Unit = Unit.MM, decimals: int = 1, *, signed: bool = False
) -> str:
    """A length with its unit, never broken between two lines: `12.5 mm`."""
    shown = format_length(length_mm, unit, decimals, signed=signed)
    return f"{shown}\N{NO-BREAK SPACE}{unit.value}"


def format_angle(angle_rad: float, decimals: int = 1, *, signed: bool = False) -> str:
    """An angle in degrees, without naming them."""
    return format_number(math.degrees(angle_rad), decimals, signed=signed)


def format_inch_fraction(length_mm: float, parts: int = 16, *, signed: bool = False) -> str:
    """A length in whole inches and the nearest of `parts` parts of one: `34 1/8`."""
    if not math.isfinite(length_mm):
        return "\N{EN DASH}"
    count = round(abs(length_mm) * parts / Unit.IN.mm)
    whole, rest = divmod(Fraction(count, parts), 1)
    words = [str(whole)] * (whole > 0 or rest == 0) + [str(rest)] * (rest > 0)
    return _sign(length_mm, signed, nothing=count == 0) + " ".join(words)


def _sign(value: float, signed: bool, *, nothing: bool) -> str:  # noqa: FBT001 - private
    if nothing:
        return "±" if signed else ""
    if value < 0:
        return MINUS
    return "+" if signed else ""
