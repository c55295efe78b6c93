"""Panels follow a drag in turn: each shows in one go what has changed since it last did."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, TypeAlias

from PySide6.QtCore import QObject, QTimer

from wedgework.bench import Change

Follower: TypeAlias = Callable[[Change], None]

ROUND_MS: Final = 33
"""How soon each panel is shown again. Figures that change faster than this nobody reads."""


class Turns(QObject):
    """Panels that are shown one after the other while a hand moves, so that none shares a frame.

    The table follows every move; all panels in one frame with it would make that frame late.
    """

    def __init__(self, panels: Sequence[Follower], parent: QObject) -> None:
        super().__init__(parent)
        self._panels = panels
        self._waiting: list[list[Change]] = [[] for _ in panels]
        self._next = 0
        self._beat = QTimer(self, singleShot=True, interval=ROUND_MS // len(panels))
        self._beat.timeout.connect(self._take_turn)

    def wait(self, change: Change) -> None:
        """Have every panel show a change when its turn comes."""
        for waiting in self._waiting:
            waiting.append(change)
        if not self._beat.isActive():
            self._beat.start()

    def show_now(self) -> None:
        """Have every panel show at once what it has not shown."""
        self._beat.stop()
        for number in range(len(self._panels)):
            self._show(number)

    def _take_turn(self) -> None:
        self._show(self._next)
        self._next = (self._next + 1) % len(self._panels)
        if any(self._waiting):
            self._beat.start()

    def _show(self, number: int) -> None:
        waiting = self._waiting[number]
        if waiting:
            self._waiting[number] = []
            self._panels[number](_together(waiting))


def _together(changes: Sequence[Change]) -> Change:
    return Change(
        kind=changes[-1].kind,
        pieces=frozenset().union(*(change.pieces for change in changes)),
        seams=frozenset().union(*(change.seams for change in changes)),
        others=frozenset().union(*(change.others for change in changes)),
    )
