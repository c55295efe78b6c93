"""Refusals as a maker reads them: in the words of a form, not in the names that files use."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from wedgework.glossary import meaning_of

_SAID_OF: Final = re.compile(
    r"(?:\w+|Edit \d+ \(\w+\)): (?P<name>[a-z]\w*)(?P<where>[\w.\[\]]*):? (?P<rest>.+)"
)
"""`collar: width_mm: should be above 0`: of which edit or draft, of which number, and what."""

_NAME: Final = re.compile(r"(?<![\w“])[a-z]+(?:_[a-z]+)*_(?:mm|deg)(?!\w|\.\w)")

_WRITTEN: Final = re.compile(r"; `.*")
"""How a thing is written in a file, after what it is: in a form it is pressed on the table."""

NO_WORDS: Final[Mapping[str, str]] = MappingProxyType({})


def number_words(name: str) -> str:
    """A number's name as words: `waist girth`."""
    for suffix in ("_mm", "_deg", "_percent"):
        name = name.removesuffix(suffix)
    return name.replace("_", " ")


def number_tip(docs: Mapping[str, Any]) -> str:
    """What a number means: the glossary's row, and what its own kind adds to it."""
    general, here = meaning_of("number", docs["name"]), _WRITTEN.sub("", docs["meaning"])
    return f"{general} Here: {here}." if here else general


def in_form_words(sentence: str, words: Mapping[str, str] = NO_WORDS) -> str:
    """A sentence with the name of a field as the words that stand over it."""
    found = _SAID_OF.fullmatch(sentence)
    if found is not None:
        said = words.get(found["name"]) or number_words(found["name"])
        sentence = f"{said[:1].upper()}{said[1:]} {found['rest']}"
    return _NAME.sub(lambda name: number_words(name[0]), sentence)
