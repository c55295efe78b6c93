"""What a decoder says of wrong data, in a maker's words.

It stands here so that reading a project need not bring in every edit.
"""

from __future__ import annotations

import re

_KINDS = {"float": "a number", "int": "a whole number", "str": "a text", "bool": "true or false",
    "array": "a list", "object": "a group of named values", "null": "nothing"}  # fmt: skip


def plain_words(message: str) -> str:
    """A message of the decoder in a maker's words: what stands where, and what should."""
    said, _, where = message.partition(" - at ")
    path = re.sub(r"^\$\.?", "", where.strip("`"))

    def kinds(text: str) -> str:
        return " or ".join(_KINDS.get(one.strip(), one.strip()) for one in text.split("|"))

    if found := re.fullmatch(r"Expected `(.+)`, got `(.+)`", said):
        said = f"should be {kinds(found[1])}, not {kinds(found[2])}"
    elif found := re.fullmatch(r"Expected `(.+)` ([<>]=?) (.+)", said):
        said = f"should be {_SIGNS[found[2]]} {found[3]}"
    elif found := re.fullmatch(r"Object missing required field `(.+)`", said):
        said = f"“{found[1]}” is missing"
    elif found := re.fullmatch(r"Object contains unknown field `(.+)`", said):
        said = f"there is no “{found[1]}” here"
    else:
        said = said.replace("`", "")
    return f"{path}: {said}." if path else f"{said}."


_SIGNS = {"<": "below", "<=": "at most", ">": "above", ">=": "at least"}
