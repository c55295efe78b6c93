"""Unit, decimals and colours."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QSpinBox, QWidget

from wedgework.window.dialogs.forms import Form
from wedgework.window.preferences import Preferences, Wishes
from wedgework.window.theme import Theme, Wish

UNITS = ("mm", "cm", "in")
SWITCHES = {
    "names": "Names on the pieces",
    "lengths": "Lengths beside every edge",
    "combs": "The comb of the chosen seam",
    "bends": "Bend combs of chosen edges",
    "laid": "Neighbours laid together at what is chosen",
    "grid": "A grid on the table",
    "snapping": "Snap to corners, levels and notches",
}


def ask_preferences(parent: QWidget, preferences: Preferences, theme: Theme) -> None:
    """Ask, and put the answers in force."""
    dialog = PreferenceDialog(parent, preferences.wishes)
    if dialog.exec():
        preferences.change(dialog.wishes)
        theme.choose(dialog.wishes.colours)


class PreferenceDialog(Form):
    """The wishes as fields."""

    def __init__(self, parent: QWidget, wishes: Wishes) -> None:
        super().__init__(parent, "Preferences", "How things are shown", "Keep")
        self._before = wishes
        self._unit, self._colours, self._decimals = QComboBox(), QComboBox(), QSpinBox()
        self._unit.addItems(UNITS)
        self._unit.setCurrentText(wishes.unit)
        self._colours.addItems(["system", "light", "dark"])
        self._colours.setCurrentText(wishes.colours)
        self._decimals.setRange(0, 4)
        self._decimals.setValue(wishes.decimals)
        self._switches = {name: QCheckBox(words) for name, words in SWITCHES.items()}
        form = QFormLayout()
        form.setVerticalSpacing(10)
        form.addRow("Lengths in", self._unit)
        form.addRow("Decimals in the card", self._decimals)
        form.addRow("Colours", self._colours)
        for name, box in self._switches.items():
            box.setChecked(bool(getattr(wishes, name)))
            form.addRow(box)
        self.rows.addLayout(form)
        self.close_form()

    @property
    def wishes(self) -> Wishes:
        """What was answered."""
        return replace(
            self._before,
            unit=self._unit.currentText(),
            colours=cast(Wish, self._colours.currentText()),
            decimals=self._decimals.value(),
            **{name: box.isChecked() for name, box in self._switches.items()},
        )
