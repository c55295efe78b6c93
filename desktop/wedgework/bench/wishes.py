"""What a tool wishes for; the hand carries it out on the bench."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from wedgework.bench.gestures import Mm2
from wedgework.edits import Edit
from wedgework.geometry.curve import Curve
from wedgework.geometry.motion import Affine
from wedgework.pattern.document import Piece
from wedgework.pattern.wording import with_minus


@dataclass(frozen=True, slots=True)
class Preview:
    """Try these edits on the kept project."""

    edits: tuple[Edit, ...]


@dataclass(frozen=True, slots=True)
class Commit:
    """Keep these edits as one step; `chosen` names what is chosen afterwards, None: as before."""

    edits: tuple[Edit, ...]
    chosen: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class DropPreview:
    """Show the kept project again."""


@dataclass(frozen=True, slots=True)
class Choose:
    """Choose these and nothing else."""

    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Hint:
    """What the status line says: what the next click does, or what lies under the pointer."""

    text: str
    hovered: str | None = None

    def __post_init__(self) -> None:
        """Numbers have a true minus sign."""
        object.__setattr__(self, "text", with_minus(self.text))


@dataclass(frozen=True, slots=True)
class Figure:
    """A number beside the pointer: mm, an angle degrees; a difference is shown to be looked at."""

    words: str
    value: float
    kind: Literal["length", "signed", "difference", "angle", "count"] = "length"


@dataclass(frozen=True, slots=True)
class Trace:
    """Points joined by a line of the tool's own, drawn over the table; none takes it away.

    `lines_mm` are further straight lines, each from one point to another.
    `marks` are the places that carry a mark, each with whether it is a corner (a square) or not (a
    ring); None marks every point. `says` stand beside the pointer.
    """

    points_mm: tuple[Mm2, ...] = ()
    closed: bool = False
    lines_mm: tuple[tuple[Mm2, Mm2], ...] = ()
    marks: tuple[tuple[Mm2, bool], ...] | None = None
    says: tuple[Figure, ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class Ghost:
    """A piece shown where it is not: as if it were moved so."""

    piece: Piece
    motion: Affine


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Overlay:
    """What a tool shows over the pieces without trying an edit; none of it takes it away.

    `curves` are drawn as chosen ones, `places_mm` marked; `figures` stand beside the pointer.
    """

    ghosts: tuple[Ghost, ...] = ()
    curves: tuple[Curve, ...] = ()
    places_mm: tuple[Mm2, ...] = ()
    figures: tuple[Figure, ...] = ()


@dataclass(frozen=True, slots=True)
class Ask:
    """Ask the maker for numbers, and hand them on as typed: a distance, or a rectangle's size.

    `seen_mm` are the numbers as they lie on the table. Or ask what the thing that is chosen now
    says: it is typed where the thing is shown.
    """

    question: Literal["distance", "rectangle", "words"]
    seen_mm: tuple[float, ...] = ()


Wish: TypeAlias = Preview | Commit | DropPreview | Choose | Hint | Trace | Overlay | Ask


def preview(*edits: Edit) -> Preview:
    """Try edits."""
    return Preview(edits)


def commit(*edits: Edit) -> Commit:
    """Keep edits."""
    return Commit(edits)


def say(*figures: Figure) -> Overlay:
    """Stand these numbers beside the pointer."""
    return Overlay(figures=figures)
