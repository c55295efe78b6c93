"""What a hand does, in mm: frozen, and without a toolkit. The window's border makes them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, TypeAlias

Mm2: TypeAlias = tuple[float, float]
"""x and y in mm, as plain numbers."""

PICK_PX: Final = 8.0
"""A press takes what lies within this many pixels."""

DRAG_PX: Final = 4.0
"""A hand that moves less than this many pixels meant to press, not to drag."""


@dataclass(frozen=True, slots=True)
class Press:
    """The button goes down; `px_mm` is one screen pixel at the present zoom."""

    at_mm: Mm2
    px_mm: float = 1.0
    shift: bool = False
    alt: bool = False


@dataclass(frozen=True, slots=True)
class Move:
    """The pointer moves, with the button down or up."""

    at_mm: Mm2
    px_mm: float = 1.0
    shift: bool = False
    alt: bool = False


@dataclass(frozen=True, slots=True)
class Release:
    """The button goes up."""

    at_mm: Mm2
    px_mm: float = 1.0
    shift: bool = False
    alt: bool = False


@dataclass(frozen=True, slots=True)
class Typed:
    """Numbers were typed (mm, or degrees where the tool turns): they replace the pointer."""

    numbers: tuple[float, ...]


NUDGE_MM: Final = 1.0
"""What an arrow key moves by; with Shift ten times, with Alt a tenth of it. Common practice."""


@dataclass(frozen=True, slots=True)
class Nudge:
    """An arrow key: by so much, right and up."""

    by_mm: Mm2


@dataclass(frozen=True, slots=True)
class Enter:
    """What is being tried is to be kept."""


@dataclass(frozen=True, slots=True)
class Back:
    """The last point that was set is taken back; what came before it stays."""


@dataclass(frozen=True, slots=True)
class Swap:
    """The last point that was set becomes of the other kind: a corner, or a point of a curve."""


@dataclass(frozen=True, slots=True)
class Cancel:
    """Escape, lost focus, or another tool."""


Pointer: TypeAlias = Press | Move | Release
Gesture: TypeAlias = Press | Move | Release | Typed | Nudge | Enter | Back | Swap | Cancel


def distance_mm(one: Mm2, other: Mm2) -> float:
    """Distance of two points, in mm."""
    return float(((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5)


def shift_between(start: Mm2, end: Mm2) -> Mm2:
    """From one point to another, in mm."""
    return end[0] - start[0], end[1] - start[1]


def sum_of(one: Mm2, other: Mm2) -> Mm2:
    """Two shifts one after the other, in mm."""
    return one[0] + other[0], one[1] + other[1]


def is_drag(start: Mm2, now: Pointer) -> bool:
    """Whether the pointer has gone so far from the press that the hand means to drag."""
    return distance_mm(start, now.at_mm) > DRAG_PX * now.px_mm
