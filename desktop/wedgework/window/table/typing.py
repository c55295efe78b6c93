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

    def takes(self, text: str, key: int) -> bool:
        """Take a key if it is part of a number; whether it was."""
        if key == Qt.Key.Key_Backspace and self.text:
            self.text = self.text[:-1]
            return True
        pattern = _SIGNS if self.text else _FIRST
        if len(text) == 1 and pattern.fullmatch(text):
            self.text += text
            return True
        return False

    def gesture(self, types: str, unit: Unit) -> Typed | None:
        """The gesture of what is typed; None while it cannot be read."""
        try:
            numbers = tuple(_number(part, types, unit) for part in _parts(self.text))
        except NotUnderstood:
            return None
        return Typed(numbers) if numbers else None


def _parts(text: str) -> list[str]:
    return [part for part in text.split(";") if part.strip()]


def _number(text: str, types: str, unit: Unit) -> float:
    return math.degrees(parse_angle_rad(text)) if types == "deg" else parse_length_mm(text, unit)
