"""What the card shows of a thing: its numbers, and the edit that each typed value makes.

Plain data, so that it can be tested without a window; the card turns each row into a field.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Final, Literal, TypeAlias, get_args

from wedgework.pattern.document import Material

EditData: TypeAlias = dict[str, Any]
Edits: TypeAlias = Callable[[Any], list[EditData]]
Kind: TypeAlias = Literal[
    "length",
    "signed",
    "angle",
    "area",
    "count",
    "words",
    "choice",
    "note",
    "range",
    "share",
    "plain",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class CardRow:
    """One number or word. `edit` makes edits of a typed value; without it the row is only read.

    `choices` are values with their words. `leads_to` is the id of a thing that the row names.
    `value` None is unknown, and may be typed as nothing where `may_be_blank`. A row that `sets` a
    wish of the card itself makes no edit.
    """

    key: str
    words: str
    kind: Kind
    value: Any
    edit: Edits | None = None
    choices: tuple[tuple[str, str], ...] = ()
    leads_to: str | None = None
    tip: str = ""
    may_be_blank: bool = False
    sets: Literal["", "span"] = ""

    @property
    def is_typed(self) -> bool:
        """Whether it can be changed."""
        return self.edit is not None or bool(self.sets)


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPage:
    """A heading, what kind of thing it is, its rows, and deeds of the window that suit it."""

    heading: str
    kind: str
    rows: tuple[CardRow, ...]
    deeds: tuple[str, ...] = field(default=())


@dataclass(frozen=True, slots=True, kw_only=True)
class CardWishes:
    """What the maker has set on the card itself: the span over which room is told, in mm."""

    span_mm: float = 100.0


CUTTINGS: Final = (("single", "single"), ("pair", "pair"), ("fold", "on the fold"))
FINISHES: Final = (("open", "open"), ("hem", "hem"), ("fold", "fold"))
JOINS: Final = (("lapped", "lapped"), ("butted", "butted"), ("superimposed", "superimposed"),
                ("bound", "bound"))  # fmt: skip
HOLDS: Final = (("none", "not held"), ("length", "in length"), ("shape", "in shape"))
SIDES: Final = (("a", "side A"), ("b", "side B"))
MARKINGS: Final = (("dash", "dashes of a pen"), ("slit", "slits"))
MATERIALS: Final = tuple((one, one.replace("_", " ")) for one in get_args(Material))
NOTCHES: Final = (("single", "one dash"), ("double", "two dashes"))
SEVERAL: Final = (("", "several"),)


def read(key: str, words: str, kind: Kind, value: Any, tip: str = "") -> CardRow:  # noqa: ANN401
    """A row that is only read."""
    return CardRow(key=key, words=words, kind=kind, value=value, tip=tip)


def typed(  # noqa: PLR0913 - a row with its tip
    key: str,
    words: str,
    kind: Kind,
    value: Any,  # noqa: ANN401
    edit: Edits,
    *,
    tip: str = "",
) -> CardRow:
    """A row that can be typed."""
    return CardRow(key=key, words=words, kind=kind, value=value, edit=edit, tip=tip)


def link(key: str, words: str, name: str, own: str) -> CardRow:
    """A row that leads to another thing."""
    return CardRow(key=key, words=words, kind="note", value=name, leads_to=own)


def name_row(own: str, name: str) -> CardRow:
    """The name of a thing."""
    return typed("name", "name", "words", name,
                 lambda value: [{"edit": "rename", "id": own, "name": value}])  # fmt: skip


def step_along(axis: int, by_mm: float) -> list[float]:
    """A step along one axis, as edits say it."""
    return [by_mm, 0.0] if axis == 0 else [0.0, by_mm]
