"""How sentences are worded for a maker: numbers in them, and what a decoder says of wrong data.

It stands here so that reading a project need not bring in every edit, and since checks and edits
may not know how the window writes numbers.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final, TypeAlias

_KINDS: Final = {"float": "a number", "int": "a whole number", "str": "a text",
    "bool": "true or false", "array": "a list", "object": "a group of named values",
    "null": "nothing"}  # fmt: skip
_SIGNS: Final = {"<": "below", "<=": "at most", ">": "above", ">=": "at least"}

Match: TypeAlias = re.Match[str]


_SIGNED: Final = re.compile(
    r"(?P<kept>“[^”]*”)|(?<![\w.])-(?=\d)(?=(?P<nothing>0+(?:\.0+)?(?!\.?\d))?)"
)
"""A hyphen before a number, and whether the number is 0; what stands in quotes is a name."""


def with_minus(sentence: str) -> str:
    """The sentence with a true minus sign before each number below 0, and none before 0.00."""
    return _SIGNED.sub(_signed, sentence)


def _signed(found: Match) -> str:
    return found["kept"] or ("" if found["nothing"] else "\N{MINUS SIGN}")


def plain_words(message: str) -> str:
    """A message of the decoder in a maker's words: what stands where, and what should."""
    said, _, where = message.partition(" - at ")
    path = re.sub(r"^\$\.?", "", where.strip("`"))
    told = next(
        (words(found) for form, words in _FORMS if (found := re.fullmatch(form, said))),
        said.replace("`", ""),
    )
    return f"{path}: {told}." if path else f"{told}."


def _kinds(text: str) -> str:
    return " or ".join(_KINDS.get(one.strip(), one.strip()) for one in text.split("|"))


def _count(found: Match) -> str:
    """How long a list or a text should be; a text counts letters."""
    kind, sign, count = found[1], found[2], found[3]
    most = f"{_SIGNS[sign]} " if sign else ""
    if kind == "str":
        is_empty = (sign, count) == (">=", "1")
        return "should not be empty" if is_empty else f"has over {count} letters"
    return f"should be a list of {most}{count}"


_FORMS: Final[tuple[tuple[str, Callable[[Match], str]], ...]] = (
    (r"Expected `(\w+)` of length ([<>]=?)? ?(\d+)(?:, got \d+)?", _count),
    (r"Expected `int.*`, got `float`", lambda _found: "should be a whole number"),
    (r"Expected `(.+)`, got `(.+)`",
     lambda found: f"should be {_kinds(found[1])}, not {_kinds(found[2])}"),
    (r"Expected `.+` ([<>]=?) (.+?)(?:\.0)?",
     lambda found: f"should be {_SIGNS[found[1]]} {found[2]}"),
    (r"Object missing required field `(.+)`", lambda found: f"“{found[1]}” is missing"),
    (r"Object contains unknown field `(.+)`", lambda found: f"there is no “{found[1]}” here"),
    (r"Invalid enum value '?(.+?)'?",
     lambda found: f"“{found[1]}” is no word for this; “wedgework edits” lists them"),
)  # fmt: skip
