"""What a draft is: new pieces, how they join, and every number on the way to them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final, TypeAlias

from wedgework.geometry.curve import Curve
from wedgework.pattern.document import Edge, Finish, Level, Notch, Piece, Ring, Run, Seam
from wedgework.pattern.wording import with_minus

Number: TypeAlias = float | int | str | list[str] | bool | None
"""A number of a draft as `draft --json` tells it."""

APART_MM: Final = 60.0
"""Pieces of a draft lie so far apart on the table: the lengths of their edges stand between."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Draft:
    """Pieces and what belongs to them, with ids of their own that begin with the piece's.

    Edges are named by their role: `collar.neck`, `collar.outer`. `numbers` are those used and
    computed; `steps` the calculation, a line each, for the maker to follow. `measured` is what the
    sources were then, by ref, each (length in mm, turning in rad), so that a change of them is
    seen. `body` are measures that the pieces were made for. `along` is the run of the garment that
    side A of a seam is, as it stands there: its edges may have the very ids that the new ones have.
    """

    pieces: tuple[Piece, ...]
    numbers: Mapping[str, Number]
    seams: tuple[Seam, ...] = ()
    along: Run = ()
    notches: tuple[Notch, ...] = ()
    levels: tuple[Level, ...] = ()
    steps: tuple[str, ...] = ()
    measured: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    body: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Numbers in the calculation have a true minus sign."""
        object.__setattr__(self, "steps", tuple(map(with_minus, self.steps)))


@dataclass(frozen=True, eq=False, kw_only=True)
class Side:
    """One side of a drafted piece: its role, and how it runs."""

    role: str
    curve: Curve
    finish: Finish = "open"


def ring_of_sides(piece: str, sides: Sequence[Side]) -> Ring:
    """The outline of a piece, its sides given counter-clockwise; the ids are named by role.

    A side starts where the one before it ended, bit for bit: ValueError where it does not.
    """
    return tuple(
        Edge(
            id=f"{piece}.{side.role}",
            name=side.role.replace("_", " "),
            curve=side.curve,
            corner=f"{piece}.c{number}",
            finish=side.finish,
        )
        for number, side in enumerate(sides, start=1)
    )


def stated(numbers: Iterable[tuple[str, float]], digits: int = 9) -> dict[str, Number]:
    """Numbers to so many digits behind the point: what rounding left of a sum is no news."""
    return {name: round(value, digits) for name, value in numbers}
