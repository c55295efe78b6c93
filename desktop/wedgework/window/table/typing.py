"""Numbers typed while a tool is at work: they take the place of the pointer."""

from __future__ import annotations

import math
import re

from PySide6.QtCore import Qt

from wedgework.bench import Typed
from wedgework.units import NotUnderstood, Unit, parse_angle_rad, parse_length_mm

_SIGNS = re.compile(r"[0-9.,+\-*/()\"'°; a-zµ²%]", re.IGNORECASE)
_FIRST = re.compile(r"[0-9.,+\-(]")


class TypedNumbers:
    """What is being typed; several numbers are parted by a semicolon or a blank between figures."""

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
            parts, kinds = _parts(self.text), types.split(";")
            numbers = tuple(
                _number(part, kinds[min(index, len(kinds) - 1)], unit)
                for index, part in enumerate(parts)
            )
        except NotUnderstood:
            return None
        return Typed(numbers) if numbers else None


def _parts(text: str) -> list[str]:
    return [part for part in text.split(";") if part.strip()]


def _number(text: str, kind: str, unit: Unit) -> float:
    return math.degrees(parse_angle_rad(text)) if kind == "deg" else parse_length_mm(text, unit)
