"""One measure of the body: typed twice, held against what others have, and what contradicts it."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLabel, QVBoxLayout, QWidget

from wedgework.pattern.body import (
    AGREE_MM,
    base_of,
    meaning_of_measure,
    measure_words,
    measured,
    settled_mm,
)
from wedgework.pattern.body_ranges import Group
from wedgework.pattern.document import Project
from wedgework.pattern.plausible import doubts_of
from wedgework.window.dialogs.body_range import RangeBar
from wedgework.window.fields import Field, length_field
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.theme import HEADING_PX, SMALL_PX, font

WORDS: Final = ("Tape says", "again", "a third time")
FIELD_PX: Final = 110


class MeasureEntry(QWidget):
    """Fields for the readings of one measure. `kept` tells what to write down, None to take out."""

    kept = Signal(str, object)
    done = Signal()

    def __init__(self, scheme: Scheme, wishes: Wishes, *, twice: bool) -> None:
        super().__init__()
        self._wishes, self._name, self._readings = wishes, "", list[float]()
        self._title, self._meaning, self._says = QLabel(), QLabel(), QLabel()
        self._says.setObjectName("body_readings")
        self._range, self._doubts = RangeBar(scheme), QLabel()
        self._stop = scheme.difference
        self.twice = QCheckBox("Type each measure twice")
        self.twice.setChecked(twice)
        self.twice.setToolTip("A slip of the tape or of the hand shows: more than 5 mm apart, a "
                              "third reading is asked for and the middle one kept")  # fmt: skip
        self._grid = QGridLayout()
        self._labels = [QLabel(words) for words in WORDS]
        self._fields: list[Field] = []
        self._lay_out()
        self.show_wishes(wishes)
        self.twice.toggled.connect(self._begin)

    def _lay_out(self) -> None:
        self._title.setFont(font(HEADING_PX, strong=True))
        for label in (self._title, self._meaning, self._says, self._doubts):
            label.setWordWrap(True)
        for label in (self._meaning, self._says):
            label.setFont(font(SMALL_PX))
            label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self._doubts.setObjectName("body_doubts")
        self._doubts.setStyleSheet(f"color: {self._stop};")
        self._grid.setHorizontalSpacing(10)
        self._grid.setColumnStretch(2, 1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(8)
        above: tuple[QWidget, ...] = (self._title, self._meaning)
        below: tuple[QWidget, ...] = (self._says, self.twice, self._range, self._doubts)
        for part in above:
            rows.addWidget(part)
        rows.addLayout(self._grid)
        for part in below:
            rows.addWidget(part)
        rows.addStretch(1)

    def show_wishes(self, wishes: Wishes) -> None:
        """Fields in another unit."""
        self._wishes = wishes
        for field in self._fields:
            field.hide()
            field.deleteLater()
        self._fields = [self._field(index) for index in range(len(WORDS))]
        self._begin()

    def _field(self, index: int) -> Field:
        field = length_field(self._wishes.length_unit, self._wishes.list_decimals, self)
        field.may_be_blank()
        field.setObjectName(f"reading_{index}")
        field.setAccessibleName(WORDS[index])
        field.setFixedWidth(FIELD_PX)
        field.kept.connect(lambda value: self._take(index, value))
        self._labels[index].setBuddy(field)
        self._grid.addWidget(self._labels[index], index, 0)
        self._grid.addWidget(field, index, 1)
        return field

    def show_measure(self, name: str, project: Project, group: Group | None) -> None:
        """Show a measure of the body; readings of another one that were not settled are lost."""
        before, self._name = self._name, name
        value = project.body.get(name)
        self._title.setText(measure_words(name).capitalize())
        self._meaning.setText(meaning_of_measure(name))
        self._fields[0].show_value(value)
        base, side = base_of(name)
        shown = measured(project.body, base, side)
        self._range.show_measure(name, shown, group, self._wishes)
        self._show_doubts(name, base, project, group)
        if name != before:
            lost = bool(self._readings)
            self._begin()
            if lost:
                self._say(f"{measure_words(before).capitalize()} was not settled and is not kept.")

    def _show_doubts(self, name: str, base: str, project: Project, group: Group | None) -> None:
        found = [one.sentence for one in doubts_of(project.body, group)
                 if {name, base} & set(one.names)]  # fmt: skip
        self._doubts.setText("\n\n".join(found))
        self._doubts.setVisible(bool(found))

    def begin_typing(self, text: str = "") -> None:
        """Put the keyboard into the first field; `text` takes the place of what stands there."""
        self._fields[0].setFocus(Qt.FocusReason.OtherFocusReason)
        self._fields[0].selectAll()
        if text:
            self._fields[0].insert(text)

    def _begin(self) -> None:
        self._readings = []
        for field in self._fields[1:]:
            field.show_value(None)
        self._show_fields(2 if self.twice.isChecked() else 1)
        self._say("")

    def _say(self, sentence: str) -> None:
        self._says.setText(sentence)
        self._says.setVisible(bool(sentence))

    def _show_fields(self, count: int) -> None:
        for index, field in enumerate(self._fields):
            field.setVisible(index < count)
            self._labels[index].setVisible(index < count)

    def _take(self, index: int, value: object) -> None:
        """A reading was typed; nothing typed in the first field takes the measure out."""
        if value is None or not isinstance(value, float):
            if index == 0:
                self._settle(None)
            return
        if value <= 0:
            self._fields[index].refuse(f"The {measure_words(self._name)} is more than 0.")
            return
        if index == 0 and not self.twice.isChecked():
            self._settle(value)
            return
        self._readings = [*self._readings[:index], value]
        settled = settled_mm(self._readings)
        if settled is not None:
            self._settle(settled)
        else:
            self._ask_again()

    def _ask_again(self) -> None:
        count = len(self._readings)
        if count == 2:
            apart = abs(self._readings[0] - self._readings[1])
            self._show_fields(3)
            self._say(
                f"The two are {self._wishes.with_unit(apart)} apart, more than "
                f"{self._wishes.with_unit(AGREE_MM)}: measure a third time, the middle one is kept."
            )
        else:
            self._say("Not kept yet: lay the tape round again and type what it says.")
        self._fields[count].setFocus(Qt.FocusReason.OtherFocusReason)

    def _settle(self, value: float | None) -> None:
        name = self._name
        self._begin()
        self.kept.emit(name, value)
        self._fields[0].show_value(value)
        self.done.emit()
