"""Words that are cut where there is no room for all of them; the tool tip has the whole."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QLabel, QPushButton, QSizePolicy

LEAST_PX: Final = 40
BUTTON_INSET_PX: Final = 26
"""What a button's frame and inset take of its width."""


def cut(words: str, metrics: QFontMetrics, room_px: int) -> str:
    """The words as far as there is room."""
    return metrics.elidedText(words, Qt.TextElideMode.ElideRight, room_px)


class ShortLabel(QLabel):
    """A label that may be narrower than its words."""

    def __init__(self, words: str = "") -> None:
        super().__init__()
        self._words = ""
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.say(words)

    @property
    def words(self) -> str:
        """All of the words."""
        return self._words

    def say(self, words: str) -> None:
        """Other words."""
        self._words = words
        self._cut()

    def sizeHint(self) -> QSize:
        """Room for all of the words."""
        margins = self.contentsMargins()
        width = self.fontMetrics().horizontalAdvance(self._words) + 4
        return QSize(width + margins.left() + margins.right(), super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """Narrower than its words."""
        return QSize(LEAST_PX, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Cut the words to the room."""
        super().resizeEvent(event)
        self._cut()

    def _cut(self) -> None:
        shown = cut(self._words, self.fontMetrics(), self.contentsRect().width())
        self.setText(shown)
        self.setToolTip(self._words if shown != self._words else "")


class ShortButton(QPushButton):
    """A button that may be narrower than its words."""

    def __init__(self, words: str = "") -> None:
        super().__init__()
        self._words = ""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.say(words)

    @property
    def words(self) -> str:
        """All of the words."""
        return self._words

    def say(self, words: str) -> None:
        """Other words."""
        self._words = words
        self.setToolTip(words)
        self.setAccessibleName(words)
        self._cut()

    def minimumSizeHint(self) -> QSize:
        """Narrower than its words."""
        return QSize(LEAST_PX, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Cut the words to the room."""
        super().resizeEvent(event)
        self._cut()

    def _cut(self) -> None:
        self.setText(cut(self._words, self.fontMetrics(), self.width() - BUTTON_INSET_PX))
