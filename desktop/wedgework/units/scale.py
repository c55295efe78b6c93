"""Units of length and what each is in mm, exactly."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction

INCH_MM = Fraction(254, 10)
"""International yard and pound agreement, 1959."""


class Unit(Enum):
    """A unit of length; its value is how it is written.

    px, pt, pc and Q as W3C CSS Values and Units, absolute lengths: 96 px, 72 pt, 6 pc and 101.6 Q
    are an inch.
    """

    MM = "mm"
    CM = "cm"
    M = "m"
    IN = "in"
    PX = "px"
    PT = "pt"
    PC = "pc"
    Q = "Q"

    @property
    def exact_mm(self) -> Fraction:
        """One of this unit in mm, as an exact fraction."""
        return _EXACT_MM[self]

    @property
    def mm(self) -> float:
        """One of this unit in mm, to the last bit."""
        return float(_EXACT_MM[self])


_EXACT_MM = {
    Unit.MM: Fraction(1),
    Unit.CM: Fraction(10),
    Unit.M: Fraction(1000),
    Unit.IN: INCH_MM,
    Unit.PX: INCH_MM / 96,
    Unit.PT: INCH_MM / 72,
    Unit.PC: INCH_MM / 6,
    Unit.Q: Fraction(1, 4),
}
