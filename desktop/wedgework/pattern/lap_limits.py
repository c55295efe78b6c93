"""How far a lap may be too long or too short for the sheet that it lies on."""

from __future__ import annotations

from typing import Final

SURPLUS: Final = 0.03
"""Share by which the free edge of a lap may be too long (a dome): more puckers; common practice,
no source."""

SHORTAGE: Final = 0.06
"""Share by which it may be too short (a hollow): more does not hold; common practice, no source."""

LEAST_LAP_MM: Final = 4.0
"""A narrower lap does not hold; common practice, no source."""
