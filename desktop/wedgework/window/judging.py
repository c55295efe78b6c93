"""Findings for the window: asked for a moment after an edit, never within a drag."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from PySide6.QtCore import QObject, QTimer, Signal

from wedgework.bench import Bench, Change, StepName
from wedgework.bench.watch import Left, Watch
from wedgework.checks import Finding

SOON_MS: Final = 60
"""Long enough that a burst of edits is checked once, short enough to seem at once."""


class Judge(QObject):
    """Tells the window when findings may have become others."""

    judged = Signal()

    def __init__(self, bench: Bench, parent: QObject) -> None:
        super().__init__(parent)
        self._watch = Watch(bench)
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
        self._soon.stop()
        self.judged.emit()

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All that is found in the kept project, the gravest first."""
        return self._watch.findings

    @property
    def left(self) -> Mapping[StepName, Left]:
        """How many findings are left in each step, accepted ones not counted."""
        return self._watch.left
