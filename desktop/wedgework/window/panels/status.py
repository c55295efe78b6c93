"""The status line: what the next click does, where the pointer is, and the unit."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QSizePolicy, QStatusBar, QToolButton

from wedgework.window.icons import picture
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.theme import SMALL_PX, font

PLACE_PX = 190


class Status(QStatusBar):
    """One line under all."""

    unit_pressed = Signal()

    def __init__(self, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self.setSizeGripEnabled(False)
        self._wishes, self._scheme = wishes, scheme
        self.sign = QLabel()
        self.sign.setFixedWidth(20)
        self.says = QLabel()
        self.says.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.says.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.place = QLabel()
        self.place.setFont(font(SMALL_PX))
        self.place.setMinimumWidth(PLACE_PX)
        self.place.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.unit = QToolButton()
        self.unit.setAutoRaise(True)
        self.unit.setToolTip("Millimetres or inches")
        self.unit.clicked.connect(self.unit_pressed)
        self.addWidget(self.sign)
        self.addWidget(self.says, 1)
        self.addPermanentWidget(self.place)
        self.addPermanentWidget(self.unit)
        self.dress(wishes, scheme)

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other unit or colours."""
        self._wishes, self._scheme = wishes, scheme
        self.place.setStyleSheet(f"color: {scheme.quiet};")
        self.unit.setText(wishes.unit)
        self.say(self.says.text())

    def say(self, sentence: str, *, refused: bool = False) -> None:
        """Show a sentence; a refusal with its sign, so that it is not told by colour alone."""
        self.says.setText(sentence)
        self.says.setToolTip(sentence)
        colour = self._scheme.stop if refused else self._scheme.ink
        self.says.setStyleSheet(f"color: {colour};")
        if refused:
            self.sign.setPixmap(picture("stops_cutting", self._scheme, 16))
        else:
            self.sign.clear()

    def show_place(self, at_mm: tuple[float, float] | None) -> None:
        """Show where the pointer is."""
        if at_mm is None:
            self.place.setText("")
        else:
            x, y = (self._wishes.in_list(value) for value in at_mm)
            self.place.setText(f"x {x}   y {y}")
