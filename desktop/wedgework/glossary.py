"""The words that a maker may meet, with their meanings and sources: `resources/glossary.toml`."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from wedgework.resources import resource_path


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One row. `kind` is `word`, `step`, `command`, `edit`, `finding`, `draft` and the like."""

    kind: str
    word: str
    meaning: str
    source: str


@cache
def glossary() -> Mapping[tuple[str, str], Entry]:
    """Every row by kind and word, in the order of the file.

    Raises TypeError or KeyError where the file, which is ours, is not as it should be.
    """
    tables = tomllib.loads(resource_path("glossary.toml").read_text(encoding="utf-8"))
    rows = (
        Entry(kind=kind, word=word, **row)
        for kind, words in tables.items()
        for word, row in words.items()
    )
    return MappingProxyType({(entry.kind, entry.word): entry for entry in rows})


def words_of(kind: str) -> tuple[Entry, ...]:
    """Every row of one kind, in the order of the file."""
    return tuple(entry for entry in glossary().values() if entry.kind == kind)


def meaning_of(kind: str, word: str) -> str:
    """What a word means; raises KeyError for a word without a row, which a test rules out."""
    return glossary()[kind, word].meaning
