"""What an empty panel says: one sentence and one button."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from wedgework.window.palette import Scheme


class Empty(QWidget):
    """A sentence in the middle of a panel with one button under it."""

    def __init__(self, sentence: str, button: str, deed: Callable[[], object]) -> None:
        super().__init__()
        self.sentence = QLabel(sentence)
        self.sentence.setWordWrap(True)
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.button = QPushButton(button)
        # Qt hands `checked` to whatever takes an argument.
        self.button.clicked.connect(lambda _checked=False: deed())
        rows = QVBoxLayout(self)
        rows.setContentsMargins(20, 12, 20, 12)
        rows.setSpacing(10)
        rows.addStretch(1)
        rows.addWidget(self.sentence)
        rows.addWidget(self.button, 0, Qt.AlignmentFlag.AlignCenter)
        rows.addStretch(1)

    def dress(self, scheme: Scheme) -> None:
        """Quiet ink for the sentence."""
        self.sentence.setStyleSheet(f"color: {scheme.quiet};")


class MayBeEmpty(QStackedWidget):
    """A panel's content, or the sentence in its place."""

    def __init__(self, content: QWidget, empty: Empty) -> None:
        super().__init__()
        self.empty = empty
        self.addWidget(content)
        self.addWidget(empty)
        self.show_empty(True)

    def show_empty(self, is_empty: bool) -> None:  # noqa: FBT001 - one obvious argument
        """Show the sentence, or the content."""
        self.setCurrentIndex(1 if is_empty else 0)
