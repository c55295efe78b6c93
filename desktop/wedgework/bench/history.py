"""What was done and can be undone: each step with the projects before and after it."""

from __future__ import annotations

from dataclasses import dataclass

from wedgework.edits import Edit
from wedgework.pattern.document import Project


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Done:
    """One step of the maker's: edits that were kept together, and what the undo list says."""

    text: str
    edits: tuple[Edit, ...]
    before: Project
    after: Project


class History:
    """Steps done and steps undone, without limit: they share all that they did not touch."""

    def __init__(self) -> None:
        self._done: list[Done] = []
        self._undone: list[Done] = []

    @property
    def done(self) -> tuple[Done, ...]:
        """Steps that can be undone, the first one first."""
        return tuple(self._done)

    @property
    def undone(self) -> tuple[Done, ...]:
        """Steps that can be done again, the next one first."""
        return tuple(reversed(self._undone))

    def push(self, step: Done) -> None:
        """A new step; what had been undone before it cannot be done again."""
        self._done.append(step)
        self._undone.clear()

    def back(self) -> Done | None:
        """Undo the last step; None where there is none."""
        if not self._done:
            return None
        self._undone.append(self._done.pop())
        return self._undone[-1]

    def forth(self) -> Done | None:
        """Do the last undone step again; None where there is none."""
        if not self._undone:
            return None
        self._done.append(self._undone.pop())
        return self._done[-1]

    def clear(self) -> None:
        """Forget all steps."""
        self._done.clear()
        self._undone.clear()
