"""Where the form for drafting stands: in the card's place, with room for a picture beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt, QTimer

from wedgework.window.dialogs.drafting import DraftForm
from wedgework.window.panels.dock import Panel

if TYPE_CHECKING:
    from wedgework.window.main import MainWindow

WIDE_PX: Final = 640
SHARE: Final = 0.395
"""The form has two columns; of a small window the table keeps 60 %, and all of its height."""


class DraftPlace:
    """The form of one window, and what makes way for it while it is open."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self.form = DraftForm(window.preferences.wishes, window.theme.scheme)
        self.form.closed.connect(self.end)
        self.form.made.connect(self._show_made)
        self.form.taken.connect(self._go_on)
        self._folded: list[Panel] = []
        self._least_px = self._card_px = 0

    def start(self, kind: str = "", piece: str | None = None) -> None:
        """Open the form; `piece` was drafted, and is drafted again with other numbers."""
        window = self._window
        window.show_table()
        window.form.cancel()
        # What the form waits for is chosen on the table.
        window.hand.take("choose")
        window.bench.go_to_step("Draft")
        if piece is not None:
            self.form.start_again(window.bench, piece)
        else:
            self.form.start(window.bench, *filter(None, [kind]))
        window.panels["Card"].fold(False)
        if window.card_space.currentWidget() is not self.form:
            window.card_space.setCurrentWidget(self.form)
            self._make_way()

    def _go_on(self) -> None:
        """What the table was pressed for is there: the keys are the form's again."""
        if self._window.focusWidget() is self._window.table:
            self.form.take_keys()

    def _make_way(self) -> None:
        panels, card = self._window.panels, self._window.panels["Card"]
        card.title.word.setText("Draft")
        self._least_px, self._card_px = card.minimumWidth(), card.width()
        self._folded = [one for one in panels.values() if one is not card and not one.is_folded]
        for panel in self._folded:
            panel.fold(True)
        # Qt shares room out anew when panels fold: what the form needs is told as its least width.
        wide = min(WIDE_PX, int(self._window.width() * SHARE))
        card.setMinimumWidth(wide)
        self._window.resizeDocks([card], [wide], Qt.Orientation.Horizontal)

    def end(self) -> None:
        """Show the card again, and the panels as they were."""
        window = self._window
        if window.card_space.currentWidget() is not self.form:
            return
        card = window.panels["Card"]
        window.card_space.setCurrentWidget(window.card)
        card.title.word.setText("Card")
        # Keys are meant for the table then, not for whatever Qt finds next.
        window.table.setFocus()
        for panel in self._folded:
            panel.fold(False)
        card.setMinimumWidth(self._least_px)
        window.resizeDocks([card], [self._card_px], Qt.Orientation.Horizontal)

    def _show_made(self, own: str) -> None:
        """Show new pieces with all others, and have the keys at the table."""
        if own:
            # The panels have only now come back: the table is not as small yet as it will be.
            QTimer.singleShot(0, self._window.table, self._window.table.fit)
            self._window.status.say("Drafted. Ctrl+Z takes it back.")
        self._window.table.setFocus()
