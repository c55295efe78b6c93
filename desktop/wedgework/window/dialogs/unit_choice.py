"""What one unit of a drawing is, with what its largest piece would measure in each."""

from __future__ import annotations

import math
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QButtonGroup, QGridLayout, QLabel, QRadioButton, QWidget

from wedgework.units import Unit, format_number

OFFERED: Final = {
    Unit.MM: "millimetre",
    Unit.CM: "centimetre",
    Unit.IN: "inch",
    Unit.PX: "pixel, 96 to the inch",
    Unit.PT: "point, 72 to the inch",
}
"""Units that drawings come in."""

USUAL_MM: Final = 400.0
"""The largest piece of a garment is about as large; the unit that comes nearest stands first."""


class UnitChoice(QWidget):
    """A row a unit. `changed` tells when another one is chosen."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._group = QButtonGroup(self)
        self._sizes: dict[Unit, QLabel] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(3)
        grid.setColumnStretch(1, 1)
        for row, (unit, words) in enumerate(OFFERED.items()):
            button = QRadioButton(words)
            self._group.addButton(button, row)
            size = QLabel()
            size.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            size.setForegroundRole(QPalette.ColorRole.PlaceholderText)
            self._sizes[unit] = size
            grid.addWidget(button, row, 0)
            grid.addWidget(size, row, 1)
        self._group.button(0).setChecked(True)
        self._group.idToggled.connect(self._tell)

    @property
    def unit(self) -> Unit:
        """The unit that is chosen."""
        return tuple(OFFERED)[self._group.checkedId()]

    def show_size(self, units: tuple[float, float]) -> None:
        """Say what the largest piece, so many units wide and high, would be; choose the likeliest.

        The likeliest is that in which it comes nearest to a garment's size.
        """
        width, height = units
        for unit, label in self._sizes.items():
            sides = (format_number(side * unit.mm, 0) for side in (width, height))
            label.setText(f"{' × '.join(sides)} mm")
        likeliest = min(OFFERED, key=lambda unit: abs(math.log(max(units) * unit.mm / USUAL_MM)))
        self._group.button(tuple(OFFERED).index(likeliest)).setChecked(True)

    def _tell(self, _number: int, on: bool) -> None:  # noqa: FBT001 - Qt hands it over
        if on:
            self.changed.emit()
