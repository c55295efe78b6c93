"""What an edit changed that no line shows, in a few words: `wanted 0 → 6`."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any, Final

from wedgework.pattern.body import MEASURES, measure_words
from wedgework.pattern.document import Project
from wedgework.pattern.table import Table

PLAIN: Final = (str, int, float, bool, type(None))
MOST: Final = 2
UNITS: Final = {"mm": " mm", "deg": "°", "rad": "°", "ratio": ""}
UNSAID: Final = {"id", "owners", "corner", "data", "edge", "at_mm", "problems", "placing"}
"""Ids, derived values, and places, which the lines of the picture show already."""

MINUS: Final = "−"

FINE: Final = 100
"""A smaller number is said in three figures."""

NOUNS: Final = {
    "seams": "seam", "levels": "level", "sheets": "sheet", "holds": "hold", "pins": "measurement",
    "pictures": "photograph", "openings": "opening", "pieces": "piece",
    "bodies": "body",
}  # fmt: skip


def said_changes(before: Project, after: Project) -> list[str]:
    """At most a few words of what is other: new things by name, settings with old and new value."""
    found = list(dict.fromkeys(_changes(before, after)))
    return found[:MOST]


def _changes(before: Any, after: Any) -> Iterator[str]:  # noqa: ANN401 - rows of any table
    for one in fields(after):
        old, new = getattr(before, one.name), getattr(after, one.name)
        if old is new or one.name in UNSAID:
            continue
        if isinstance(new, Table):
            yield from _rows(one.name, old, new)
        elif isinstance(new, PLAIN) and isinstance(old, PLAIN):
            yield from _value(one.name, old, new)
        elif isinstance(new, tuple) and isinstance(old, tuple):
            yield from _listed(one.name, old, new)


def _rows(name: str, before: Table[Any], after: Table[Any]) -> Iterator[str]:
    for own, row in after.items():
        old = before.get(own)
        if old is None:
            yield from _new(name, own, row)
        elif old is not row and is_dataclass(row):
            yield from _changes(old, row)
    for own, row in before.items():
        if own not in after and name in NOUNS and not getattr(row, "is_dart", False):
            yield f"no {NOUNS[name]} any more"


def _new(name: str, own: str, row: object) -> Iterator[str]:
    if isinstance(row, PLAIN):
        yield from _value(own, None, row)
    elif name in NOUNS and not getattr(row, "is_dart", False):
        called = getattr(row, "name", "") or getattr(row, "text", "")
        article = "an" if NOUNS[name][0] in "aeiou" else "a"
        yield f"{article} {NOUNS[name]}" + (f" “{called}”" if called else "")


def _listed(name: str, before: tuple[Any, ...], after: tuple[Any, ...]) -> Iterator[str]:
    if name == "accepted" and len(after) > len(before):
        yield "accepted, with a reason"
    if all(hasattr(row, "id") for row in (*before, *after)):
        known = {row.id: row for row in before}
        for row in after:
            if row.id in known and known[row.id] is not row:
                yield from _changes(known[row.id], row)


def _value(name: str, old: object, new: object) -> Iterator[str]:
    if old == new:
        return
    words, _, unit = name.rpartition("_")
    words, unit = (words, unit) if unit in UNITS else (name, "")
    was = "" if old is None else f"{_plain(old, unit)} → "
    yield f"{words.replace('_', ' ')}: {was}{_plain(new, unit)}{UNITS.get(unit, '')}"


def _plain(value: object, unit: str) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if unit == "rad" and isinstance(value, float):
        value = math.degrees(value)
    if isinstance(value, float):
        return f"{value:.3g}".replace("-", MINUS) if abs(value) < FINE else f"{value:g}"
    return measure_words(value) if value in MEASURES else str(value)
