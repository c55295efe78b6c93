"""Numbers typed while a tool is at work: they take the place of the pointer."""

from __future__ import annotations

import math
import re

from PySide6.QtCore import Qt

from wedgework.bench import Typed
from wedgework.units import NotUnderstood, Unit, parse_angle_rad, parse_length_mm

_SIGNS = re.compile(r"[0-9.,+\-*/()\"'°; a-zµ²%]", re.IGNORECASE)
_FIRST = re.compile(r"[0-9.,+\-(]")
_BLANK = re.compile(r"\s+")
# A sign that hangs on its number after a blank begins another number; one between blanks adds.
_SIGNED = re.compile(r"(?<=[\w.\"'°%)])\s+(?=[+\-][0-9.,(])")


class TypedNumbers:
    """What is being typed; several numbers are parted by a semicolon or a blank."""

    def __init__(self) -> None:
        self.text = ""

    def clear(self) -> None:
        """Nothing is typed."""
        self.text = ""

    def wants(self, text: str, key: int) -> bool:
        """Whether a key is part of a number, or takes back a sign of one that is begun."""
        if key == Qt.Key.Key_Backspace:
            return bool(self.text)
        pattern = _SIGNS if self.text else _FIRST
        return len(text) == 1 and pattern.fullmatch(text) is not None

    def takes(self, text: str, key: int) -> bool:
        """Take a key if it is part of a number; whether it was."""
        if not self.wants(text, key):
            return False
        self.text = self.text[:-1] if key == Qt.Key.Key_Backspace else self.text + text
        return True

    def gesture(self, types: str, unit: Unit) -> Typed | None:
        """The gesture of what is typed; None while it cannot be read."""
        try:
            numbers = tuple(numbers_of(self.text, types, unit))
        except NotUnderstood:
            return None
        return Typed(numbers) if numbers else None


def numbers_of(text: str, types: str, unit: Unit) -> list[float]:
    """The numbers of a text: `12.5`, `12 -5` (two), `12 - 5` (one), `1 cm; 2 cm`, `34 1/8`.

    `types` are their kinds, `mm` or `deg`, parted by semicolons; the last one goes on for all that
    follow. NotUnderstood where a part cannot be read as one number or as two.
    """
    kinds, numbers = types.split(";"), list[float]()
    for part in (found for one in text.split(";") for found in _SIGNED.split(one)):
        if part.strip():
            numbers += _one_or_two(part, kinds[min(len(numbers), len(kinds) - 1) :], unit)
    return numbers


def _one_or_two(text: str, kinds: list[str], unit: Unit) -> list[float]:
    try:
        return [_number(text, kinds[0], unit)]
    except NotUnderstood:
        for blank in _BLANK.finditer(text.strip()):
            halves = text.strip()[: blank.start()], text.strip()[blank.end() :]
            try:
                pairs = zip(halves, (kinds[0], kinds[-1]), strict=True)
                return [_number(half, kind, unit) for half, kind in pairs]
            except NotUnderstood:
                continue
        raise


def _number(text: str, kind: str, unit: Unit) -> float:
    return math.degrees(parse_angle_rad(text)) if kind == "deg" else parse_length_mm(text, unit)
