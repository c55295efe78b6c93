"""Findings for the window: checked again a moment after an edit, never within a drag."""

from __future__ import annotations

from collections import Counter
from typing import Final

from PySide6.QtCore import QObject, QTimer, Signal

from wedgework.bench import STEPS, Bench, Change
from wedgework.checks import CHECKS, Finding, check
from wedgework.window.panels.strip import Left

SOON_MS: Final = 60
"""Long enough that a burst of edits is checked once, short enough to seem at once."""


class Judge(QObject):
    """Keeps the findings of the kept project."""

    judged = Signal()

    def __init__(self, bench: Bench, parent: QObject) -> None:
        super().__init__(parent)
        self._bench = bench
        self.findings: tuple[Finding, ...] = ()
        self._soon = QTimer(self, singleShot=True, interval=SOON_MS)
        self._soon.timeout.connect(self.now)

    def follow(self, change: Change) -> None:
        """Check again after what was kept."""
        if change.kind in {"edited", "opened"}:
            self._soon.start()

    def soon(self) -> None:
        """Check when the window is at rest."""
        self._soon.start()

    def now(self) -> None:
        """Check at once."""
        self.findings = check(self._bench.project)
        self.judged.emit()

    @property
    def left(self) -> dict[str, Left]:
        """How many findings are left in each step, accepted ones not counted."""
        step_of = {row.code: row.step for row in CHECKS}
        open_ones = [one for one in self.findings if not one.accepted]
        counts = Counter(step_of[one.code] for one in open_ones)
        stops = {step_of[one.code] for one in open_ones if one.grave == "stops_cutting"}
        return {step: Left(counts[step], step in stops) for step in STEPS}
