"""How edits are found and shown: by subject, by key, by example (`resources/edits.toml`).

An example is a list of plain edits that starts from nothing, so that it can be replayed anywhere;
the last of them is the edit itself.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, Final, TypeAlias

from wedgework.edits import decode_plain
from wedgework.pattern.document import Project
from wedgework.resources import resource_path

Plain: TypeAlias = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """What edits are about. `letter`, with Shift, leads to their keys; `menu` holds them."""

    name: str
    letter: str
    menu: str
    meaning: str
    edits: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Shown:
    """How one edit is found: `key` as Qt writes two strokes, `also` synonyms, `example` edits.

    `words` are what it is called where a maker reads it.
    """

    edit: str
    words: str
    subject: str
    key: str
    also: str
    example: tuple[Plain, ...]


@cache
def _file() -> Plain:
    return tomllib.loads(resource_path("edits.toml").read_text(encoding="utf-8"))


@cache
def subjects() -> Mapping[str, Subject]:
    """Every subject by its name, in the order of the file, with its edits."""
    return MappingProxyType({
        name: Subject(
            name=name,
            edits=tuple(own for own, row in _file()["edit"].items() if row["subject"] == name),
            **row,
        )
        for name, row in _file()["subject"].items()
    })  # fmt: skip


@cache
def shown_edits() -> Mapping[str, Shown]:
    """How each edit is found, by its name; KeyError where the file names no subject of its own."""
    return MappingProxyType({own: _shown(own, row) for own, row in _file()["edit"].items()})


def _shown(own: str, row: Plain) -> Shown:
    letter = subjects()[row["subject"]].letter
    return Shown(
        edit=own,
        words=row.get("words") or own.replace("_", " ").capitalize(),
        subject=row["subject"],
        key=f"Shift+{letter}, {row['key']}",
        also=row.get("also", ""),
        example=(*_start(row["on"]), {"edit": own, **row["does"]}),
    )


def words_of_edit(name: str) -> str:
    """What a maker calls an edit."""
    return shown_edits()[name].words


@cache
def shown_drafts() -> Mapping[str, Shown]:
    """How each kind of draft is found, by its name; its example drafts it."""
    letter = subjects()["Drafts"].letter
    return MappingProxyType({
        own: Shown(
            edit="draft",
            words=f"Draft a {own.replace('_', ' ')}",
            subject="Drafts",
            key=f"Shift+{letter}, {row['key']}",
            also=row["also"],
            example=(*_start(row["on"]), {"edit": "draft", "kind": own, "numbers": row["numbers"]}),
        )
        for own, row in _file()["draft"].items()
    })  # fmt: skip


@cache
def tool_shows(name: str) -> str:
    """The edit whose example shows what a tool does; nothing where it changes nothing."""
    return str(_file()["tool"].get(name, ""))


@cache
def other_words(action: str) -> str:
    """Other words for an entry of a menu that is no edit."""
    return str(_file()["action"].get(action, ""))


def _start(name: str) -> tuple[Plain, ...]:
    """The edits that make a small pattern, which may go on from another."""
    row = _file()["start"][name]
    first = _start(row["from"]) if "from" in row else ()
    pieces = (_outline(piece, points) for piece, points in row.get("pieces", {}).items())
    return (*first, *pieces, *row.get("then", ()))


def _outline(name: str, points: list[list[float]]) -> Plain:
    """`add_piece` from corner to corner: a straight line is a cubic with its handles in thirds."""
    after = [*points[1:], points[0]]
    edges = [
        {"cubics_mm": [[_between(a, b, third / 3) for third in range(4)]]}
        for a, b in zip(points, after, strict=True)
    ]
    return {"edit": "add_piece", "name": name, "edges": edges}


def _between(a: list[float], b: list[float], share: float) -> list[float]:
    # Rounded, so that the last point of an edge is the first of the next, digit for digit.
    return [round(x + (y - x) * share, 6) for x, y in zip(a, b, strict=True)]


def has_example(name: str) -> bool:
    """Whether an edit, or a kind of draft (`draft collar`), has an example."""
    return name in shown_edits() or name.removeprefix(DRAFT) in shown_drafts()


DRAFT: Final = "draft "
"""Before the name of a kind, where an example is asked for."""


@cache
def example_of(name: str) -> tuple[Project, Project]:
    """The example of an edit or a draft, before and after it; EditRefused where it does not apply.

    KeyError where it has none.
    """
    found = shown_edits().get(name) or shown_drafts()[name.removeprefix(DRAFT)]
    *start, last = found.example
    before = _applied(Project(), start)
    return before, _applied(before, [last])


def _applied(project: Project, rows: Iterable[Plain]) -> Project:
    for row in rows:
        project = decode_plain(row).apply(project)
    return project
