"""The status line: what the next click does; where the pointer is; zoom and unit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QLabel, QStatusBar

from wedgework.bench import Hand
from wedgework.units import format_number
from wedgework.window.form_words import in_form_words
from wedgework.window.preferences import Wishes

if TYPE_CHECKING:
    from wedgework.window.table.widget import Table

REFUSED_MS: Final = 8000
"""A refusal stays long enough to be read twice."""


FIRST_HINT: Final = "Press on where the pieces come from, or drop a file on this window."


class Status:
    """What stands in the status line."""

    def __init__(self, bar: QStatusBar, wishes: Wishes) -> None:
        self._wishes = wishes
        self._hint, self._pointer, self._zoom = QLabel(), QLabel(), QLabel()
        self._hint.setTextFormat(Qt.TextFormat.PlainText)
        self._hint.setAccessibleName("What the next click does")
        self._pointer.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._pointer.setMinimumWidth(170)
        self._zoom.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._zoom.setMinimumWidth(110)
        bar.addWidget(self._hint, 1)
        bar.addPermanentWidget(self._pointer)
        bar.addPermanentWidget(self._zoom)
        bar.setSizeGripEnabled(False)
        self._said = ""
        self._over = QTimer(bar, singleShot=True, interval=REFUSED_MS)
        self._over.timeout.connect(lambda: self._write(self._said, wrong=False))

    def dress(self, wishes: Wishes) -> None:
        """Another unit."""
        self._wishes = wishes

    def show_hint(self, hand: Hand) -> None:
        """What the tool says, or why the last gesture could not be followed."""
        self._said = hand.hint or hand.tool.hint
        if hand.refusal:
            self.refuse(hand.refusal)
            if not hand.is_idle:
                # It holds as long as the pointer rests there: nothing else tells why.
                self._over.stop()
        elif not (self._over.isActive() and hand.is_idle):
            # What was said before gives way to the hand at work: its snapping needs its reason.
            self._over.stop()
            self._write(self._said, wrong=False)

    def show_first(self) -> None:
        """What the next click does where nothing is open yet."""
        self._said = FIRST_HINT
        self._write(self._said, wrong=False)

    def refuse(self, sentence: str) -> None:
        """Say why something was not done."""
        self._write(in_form_words(sentence), wrong=True)
        self._over.start()

    def say(self, sentence: str) -> None:
        """Say what was done, for a while."""
        self._write(sentence, wrong=False)
        self._over.start()

    def forget(self) -> None:
        """Say again what the next click does: what was said of the project holds no longer."""
        if self._over.isActive() or self._hint.property("wrong"):
            self._over.stop()
            self._write(self._said, wrong=False)

    def _write(self, text: str, *, wrong: bool) -> None:
        # State is never colour alone: a refusal carries a mark before its words.
        self._hint.setText(f"⊘ {text}" if wrong else text)
        self._hint.setProperty("wrong", wrong)
        self._hint.style().unpolish(self._hint)
        self._hint.style().polish(self._hint)

    def show_pointer(self, at_mm: tuple[float, float] | None) -> None:
        """Where the pointer is."""
        if at_mm is None:
            self._pointer.setText("")
            return
        x, y = (self._wishes.in_list(value) for value in at_mm)
        self._pointer.setText(f"{x}, {y} {self._wishes.unit}")

    def show_zoom(self, table: Table) -> None:
        """How large the pieces are shown, against life."""
        share = 100 * table.view.px_per_mm / table.screen_px_per_mm()
        self._zoom.setText(f"{format_number(share, 0)} % of life")
