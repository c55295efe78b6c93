"""True sizes of what was marked on a photograph: a distance, or which rectangle it is."""

from __future__ import annotations

from typing import Final

from PySide6.QtWidgets import QButtonGroup, QGridLayout, QLabel, QRadioButton, QWidget

from wedgework.bench.wishes import Ask
from wedgework.units import PAPER_MM, format_number
from wedgework.window.dialogs.forms import Form
from wedgework.window.fields import Field, length_field
from wedgework.window.preferences import Wishes

OFFERED: Final = ("A4", "A3", "Letter")
TYPED: Final = "A cutting mat, or another rectangle"
SQUARE_RATIO: Final = 1.05
"""Sides that differ by less were taken of something square, or so aslant that nothing is told."""


def ask(parent: QWidget, asked: Ask, wishes: Wishes) -> tuple[float, ...] | None:
    """The numbers that a tool has asked for, in mm; None where the maker drops it."""
    kind = DistanceDialog if asked.question == "distance" else RectangleDialog
    dialog = kind(parent, asked.seen_mm, wishes)
    return dialog.numbers_mm if dialog.exec() else None


def _read_mm(field: Field) -> float | None:
    """A length above nothing that stands in a field; None where there is none."""
    if not field.keep() or not isinstance(field.value, int | float) or field.value <= 0:
        return None
    return float(field.value)


class DistanceDialog(Form):
    """One length."""

    def __init__(self, parent: QWidget, seen_mm: tuple[float, ...], wishes: Wishes) -> None:
        super().__init__(parent, "Scale the photograph", "How far apart are the two points?",
                         "Scale")  # fmt: skip
        self.setObjectName("scaling_photograph")
        self.field = length_field(wishes.length_unit, wishes.decimals)
        self.field.setAccessibleName("Distance")
        self.field.show_value(seen_mm[0])
        self.field.tried.connect(lambda _value: self.keep.setEnabled(True))
        row = QGridLayout()
        row.addWidget(QLabel("distance"), 0, 0)
        row.addWidget(self.field, 0, 1)
        row.addWidget(QLabel(wishes.unit), 0, 2)
        self.rows.addLayout(row)
        self.close_form()
        self.field.setFocus()

    @property
    def numbers_mm(self) -> tuple[float, ...] | None:
        """What stands in the field; None where that is no length."""
        length = _read_mm(self.field)
        return None if length is None else (length,)

    def accept(self) -> None:
        """Only with a length."""
        if self.numbers_mm is not None:
            super().accept()


class RectangleDialog(Form):
    """A sheet of paper, lying as it was seen, or width and height typed."""

    def __init__(self, parent: QWidget, seen_mm: tuple[float, ...], wishes: Wishes) -> None:
        super().__init__(parent, "Square the photograph up", "What rectangle is this?", "Square up")
        self.setObjectName("squaring_photograph")
        self._group = QButtonGroup(self)
        self._sizes = [_lying(PAPER_MM[name], seen_mm) for name in OFFERED]
        grid = QGridLayout()
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(5)
        for row, (name, size) in enumerate(zip(OFFERED, self._sizes, strict=True)):
            self._add_choice(grid, row, name)
            words = " × ".join(format_number(side / wishes.length_unit.mm, 1) for side in size)
            grid.addWidget(QLabel(f"{words} {wishes.unit}"), row, 1, 1, 3)
        self._add_choice(grid, len(OFFERED), TYPED)
        self.fields = tuple(self._field(words, wishes) for words in ("width", "height"))
        for column, field in enumerate(self.fields, 1):
            grid.addWidget(field, len(OFFERED), column)
        grid.addWidget(QLabel(wishes.unit), len(OFFERED), 3)
        self.rows.addLayout(grid)
        self._group.button(0).setChecked(True)
        self.close_form()
        self._group.button(0).setFocus()

    def _add_choice(self, grid: QGridLayout, row: int, words: str) -> None:
        button = QRadioButton(words)
        self._group.addButton(button, row)
        grid.addWidget(button, row, 0)

    def _field(self, words: str, wishes: Wishes) -> Field:
        field = length_field(wishes.length_unit, wishes.decimals)
        field.setPlaceholderText(words)
        field.setAccessibleName(words)
        # Who types a size means it.
        field.textEdited.connect(lambda _text: self._group.button(len(OFFERED)).setChecked(True))
        return field

    @property
    def numbers_mm(self) -> tuple[float, ...] | None:
        """Width and height of what is chosen; None where one of them is none."""
        chosen = self._group.checkedId()
        if chosen < len(OFFERED):
            return self._sizes[chosen]
        width, height = (_read_mm(field) for field in self.fields)
        return None if width is None or height is None else (width, height)

    def accept(self) -> None:
        """Only with a size."""
        if self.numbers_mm is not None:
            super().accept()


def _lying(upright_mm: tuple[float, float], seen_mm: tuple[float, ...]) -> tuple[float, float]:
    """A sheet across where its picture is clearly wider than high, else upright."""
    width, height = upright_mm
    return (height, width) if seen_mm[0] > SQUARE_RATIO * seen_mm[1] else (width, height)
