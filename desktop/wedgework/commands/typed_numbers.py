"""Numbers of a draft typed on the command line, as in its form: `waist=72 cm`, `pleats=24`."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import Any, Final

from wedgework.drafting import Kind
from wedgework.pattern.arguments import arguments_of
from wedgework.pattern.errors import DraftRefused
from wedgework.pattern.plain import did_you_mean
from wedgework.units import parse_angle_rad, parse_length_mm, parse_number

YES_OR_NO: Final = {"yes": True, "true": True, "no": False, "false": False}


def typed_numbers(kind: Kind, settings: Iterable[str]) -> dict[str, Any]:
    """Plain data of settings `name=value`; a name may be said without its unit.

    DraftRefused where one has no value or no such name, NotUnderstood where it is no number.
    """
    rows = {row["name"]: row for row in arguments_of(kind.numbers)}
    by_word = {name.removesuffix("_mm").removesuffix("_deg"): name for name in rows}
    plain: dict[str, Any] = {}
    for setting in settings:
        word, sign, text = (part.strip() for part in setting.partition("="))
        if not sign or not text:
            raise DraftRefused(f"“{setting}” says no number: write a name, =, and a value.")
        name = by_word.get(word, word)
        if name not in rows:
            known = {*rows, *by_word}
            raise DraftRefused(
                f"“{word}” is no number of “{kind.name}”.{did_you_mean(word, known)}"
            )
        plain[name] = _value(rows[name], text)
    return plain


def _value(row: Mapping[str, Any], text: str) -> Any:  # noqa: ANN401 - JSON
    """A value as its number asks for it; what is none is left for the draft to refuse by name."""
    kind = str(row["type"])
    if "list" in kind:
        return [one.strip() for one in text.split(",")]
    if kind.startswith("true"):
        return YES_OR_NO.get(text.lower(), text)
    if "number" not in kind:
        return text
    if row["unit"] == "mm":
        return parse_length_mm(text)
    if row["unit"] == "deg":
        return math.degrees(parse_angle_rad(text))
    number = parse_number(text)
    return int(number) if kind.startswith("whole") and number.is_integer() else number
