"""The pen: one small protocol that every output draws with.

What draws calls the pen; what shows (the table, SVG, PDF, a plotter) is a pen. Lengths are mm, x
right and y up, angles rad. A group holds what belongs to one thing, such as a piece, and groups
may hold groups. Each mark says by its `Ink` on which layer it lies and what it stands for; how a
layer looks is the output's own affair.

    pen.begin(Ink("piece", id="front"))
    pen.stroke(curves, Ink("seam"), closed=True)
    pen.end()
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, Protocol, TypeAlias

from wedgework.geometry.curve import Curve, Point

Layer: TypeAlias = Literal["piece", "cut", "seam", "internal", "mark", "label"]
"""`piece` is a group; `cut` is cut and `seam` joined, `internal` drawn only; `mark` is a notch or a
hole, `label` a text."""


@dataclass(frozen=True, slots=True)
class Ink:
    """The layer of a mark, the id of what it stands for, and what else files say of it.

    `derived`: drawn for the eye or the blade and made again from the rest, so nobody reads it
    back. `said` are (key, text) pairs.
    """

    layer: Layer
    id: str = ""
    derived: bool = False
    said: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class Setting:
    """How a text stands: its baseline starts at `at_mm`, (2,) mm, or has its middle there.

    `height_mm` is the size of the type, as fonts count it: capitals are some 0.7 of it.
    """

    at_mm: Point
    height_mm: float
    angle_rad: float = 0.0
    centred: bool = False


class Pen(Protocol):
    """What draws."""

    def begin(self, ink: Ink) -> None:
        """Start a group; what follows lies in it until `end`."""

    def end(self) -> None:
        """End the group that was started last."""

    def stroke(self, curves: Sequence[Curve], ink: Ink, *, closed: bool = False) -> None:
        """A line along `curves`, each of which starts where the last one ended."""

    def fill(self, rings: Sequence[Sequence[Curve]], ink: Ink) -> None:
        """The area inside closed rings, counted even-odd."""

    def circle(self, centre: Point, radius_mm: float, ink: Ink) -> None:
        """A round line about a point, (2,) mm."""

    def text(self, words: str, setting: Setting, ink: Ink) -> None:
        """One line of text."""
