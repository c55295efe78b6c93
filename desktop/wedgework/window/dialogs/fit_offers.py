"""What would put the fit right, each a press: openings to mark, and mends of what was found."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from wedgework.bench.fitting import marks_offered, mends_offered
from wedgework.pattern.document import Project

MOST: Final = 5
"""So many are shown at once; those of findings first. What is done makes room for the next."""


class FitOffers(QWidget):
    """A button for each thing that could be done."""

    def __init__(self, do: Callable[[list[dict[str, object]]], object]) -> None:
        super().__init__()
        self.setObjectName("fit_offers")
        self._do = do
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(6)

    def show_project(self, project: Project) -> None:
        """Offer anew."""
        while (item := self._rows.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for offer in [*mends_offered(project), *marks_offered(project)][:MOST]:
            self._rows.addWidget(self._button(offer), 0, Qt.AlignmentFlag.AlignLeft)

    def _button(self, offer: dict[str, Any]) -> QPushButton:
        button = QPushButton(offer["label"])
        button.setAutoDefault(False)
        button.setToolTip(offer.get("message", "Then the way in and its stretch are told"))
        button.clicked.connect(lambda: self._do(offer["edits"]))
        return button
