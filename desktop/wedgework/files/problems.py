"""What an import tells of itself: everything that it repaired or left out, and why it refuses."""

from __future__ import annotations

from dataclasses import dataclass

from wedgework.pattern.errors import FileRefused


@dataclass(frozen=True, slots=True)
class Problem:
    """One repair, or one thing left out: a stable code, a sentence, the element's id or ""."""

    code: str
    sentence: str
    element: str = ""

    def __str__(self) -> str:
        """The sentence, with the element's id before it where there is one."""
        return f"{self.element}: {self.sentence}" if self.element else self.sentence


class UnitUnknown(FileRefused):
    """The file has no true size: only its owner knows what one of its units is."""


def told_to_nobody(share: float) -> None:
    """Progress that nobody wants to hear of."""
