"""The body: who it is, its measures with a drawing, and how much smaller to cut.

Each measure that is kept is a step of its own, as if it had been typed in the card.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Final, cast

from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QInputDialog,
    QLabel,
    QPushButton,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from wedgework.bench import Bench, Change
from wedgework.edits import Edit
from wedgework.edits.bodies import RemoveBody, SetReductions, WearBody
from wedgework.edits.body import SetBody
from wedgework.edits.names import Rename
from wedgework.files.atomic import read_whole, write_atomically
from wedgework.files.body_csv import MOST_BYTES, UNITS, read_body_csv, write_body_csv
from wedgework.pattern.body import SIDED, SIDES, Side, base_of, of_side
from wedgework.pattern.body_ranges import Group
from wedgework.pattern.errors import WedgeworkError
from wedgework.window.dialogs.body_entry import MeasureEntry
from wedgework.window.dialogs.body_figure import BodyFigure
from wedgework.window.dialogs.body_list import MeasureList
from wedgework.window.dialogs.body_new import NewBody
from wedgework.window.dialogs.body_reductions import ReductionTable
from wedgework.window.dialogs.forms import Form, open_at, scheme_of
from wedgework.window.fields import pressed_by_enter
from wedgework.window.preferences import Preferences, Wishes
from wedgework.window.tabbing import tab_through

LISTS: Final = "Lists of measures (*.csv)"
TWICE: Final = "body/twice"
LIST_PX, ENTRY_PX = 300, 310


class BodyDialog(Form):
    """The body of a bench's project, changed step by step."""

    def __init__(self, parent: QWidget, bench: Bench, preferences: Preferences) -> None:
        super().__init__(parent, "Body", "Who wears it", "Close")
        self.setObjectName("body")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for button in self.buttons.buttons():
            if button is not self.keep:
                self.buttons.removeButton(button)
        self.keep.setDefault(False)
        self.keep.setAutoDefault(False)
        self._bench, self._preferences = bench, preferences
        self._wishes: Wishes = preferences.wishes
        scheme = scheme_of(parent)
        self.bodies, self.unit, self.side = QComboBox(), QComboBox(), QComboBox()
        self.compare, self._says = QComboBox(), QLabel()
        self.list, self.figure = MeasureList(scheme), BodyFigure(scheme)
        self.entry = MeasureEntry(scheme, self._wishes, twice=self._types_twice())
        self.reductions = ReductionTable(scheme)
        self._leave = bench.subscribe(self._hear)
        self._buttons: dict[str, QPushButton] = {}
        self._lay_out()
        open_at(self, 1080, 660)
        self._show()
        self._connect()
        self.list.choose(self.list.first_missing(bench.project.body))
        self._order_keys()
        self.list.setFocus()

    def _order_keys(self) -> None:
        tab_through(self.list, self.side, self.compare, self.entry, self.keep)

    @property
    def _settings(self) -> QSettings:
        return self._preferences.settings

    def _types_twice(self) -> bool:
        return bool(cast("bool", self._settings.value(TWICE, True, bool)))

    # Building

    def _lay_out(self) -> None:
        self.rows.addLayout(self._who())
        tabs = QTabWidget()
        tabs.setObjectName("body_tabs")
        tabs.addTab(self._measures(), "&Measures")
        tabs.addTab(self.reductions, "How much &smaller to cut")
        self.rows.addWidget(tabs, 1)
        self._says.setWordWrap(True)
        self._says.setObjectName("body_says")
        self.rows.addWidget(self._says)
        self._says.hide()
        self.close_form()

    def _who(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(6)
        self.bodies.setMinimumWidth(150)
        self._add_choice(row, "&Body", self.bodies)
        for words, tip in (
            ("New…", "Another body, empty or as a copy of this one, which is kept"),
            ("Rename…", "Call this body something else"),
            ("Remove", "Take this body out of the project"),
            ("Read a list…", "Measures from a CSV file: measure, value, unit"),
            ("Write a list…", "These measures as a CSV file"),
        ):
            button = QPushButton(words)
            button.setObjectName(f"body_{words.split()[0].strip('…').lower()}")
            button.setToolTip(tip)
            button.setAutoDefault(False)
            row.addWidget(button)
            self._buttons[words.split()[0].strip("…")] = button
        row.addStretch(1)
        self.unit.addItems([unit.value for unit in UNITS])
        self._add_choice(row, "&Unit", self.unit)
        return row

    def _add_choice(self, row: QHBoxLayout, words: str, choice: QComboBox) -> None:
        label = QLabel(words)
        label.setBuddy(choice)
        choice.setAccessibleName(words.replace("&", ""))
        row.addWidget(label)
        row.addWidget(choice)

    def _measures(self) -> QWidget:
        self.side.addItem("both", None)
        for side in SIDES:
            self.side.addItem(side, side)
        for words, group in (("women and men", None), ("women", "women"), ("men", "men")):
            self.compare.addItem(words, group)
        right = QVBoxLayout()
        right.setSpacing(10)
        choices = QHBoxLayout()
        self._add_choice(choices, "S&ide", self.side)
        choices.addSpacing(10)
        self._add_choice(choices, "&Against", self.compare)
        choices.addStretch(1)
        right.addLayout(choices)
        right.addWidget(self.entry, 1)
        self.entry.setFixedWidth(ENTRY_PX)
        self.list.setFixedWidth(LIST_PX)
        page = QWidget()
        columns = QHBoxLayout(page)
        columns.setContentsMargins(2, 10, 12, 2)
        columns.setSpacing(18)
        columns.addWidget(self.list)
        columns.addWidget(self.figure, 1)
        columns.addLayout(right)
        return page

    def _connect(self) -> None:
        self.bodies.activated.connect(lambda: self._do(WearBody(body=self.bodies.currentData())))
        self.unit.currentTextChanged.connect(self._take_unit)
        self.side.currentIndexChanged.connect(self._show_measure)
        self.compare.currentIndexChanged.connect(self._show_measure)
        self.list.chosen.connect(lambda _: self._show_measure())
        self.list.entered.connect(self.entry.begin_typing)
        self.list.figured.connect(self.entry.begin_typing)
        # Who chose a side types its measure next.
        self.side.activated.connect(lambda _index: self.entry.begin_typing())
        self.entry.kept.connect(self._keep)
        self.entry.done.connect(self._go_on)
        self.entry.twice.toggled.connect(lambda on: self._settings.setValue(TWICE, on))
        self.reductions.changed.connect(
            lambda where, share: self._do(SetReductions(**{where: share}))
        )
        deeds = {"New": self._add, "Rename": self._rename, "Remove": self._remove,
                 "Read": self._read, "Write": self._write}  # fmt: skip
        for word, deed in deeds.items():
            self._buttons[word].clicked.connect(deed)

    # Showing

    def lead_to(self, name: str) -> None:
        """Choose a measure by its name."""
        base, side = base_of(name)
        self.side.setCurrentIndex(self.side.findData(side))
        self.list.choose(base)

    def _hear(self, change: Change) -> None:
        if change.kind in {"opened", "edited"}:
            self._show()

    def _show(self) -> None:
        project = self._bench.project
        self.bodies.clear()
        if not project.wearer:
            self.bodies.addItem("nobody named", "")
        for own, body in project.bodies.items():
            self.bodies.addItem(body.name or own, own)
        self.bodies.setCurrentIndex(self.bodies.findData(project.wearer))
        self.bodies.setEnabled(bool(project.bodies))
        for word in ("Rename", "Remove"):
            self._buttons[word].setEnabled(bool(project.wearer))
        self._buttons["Write"].setEnabled(bool(project.body))
        self.unit.setCurrentText(self._wishes.unit)
        self.list.show_body(project.body, self._group(), self._wishes)
        self.reductions.show_project(project)
        self._show_measure()

    def _group(self) -> Group | None:
        return cast("Group | None", self.compare.currentData())

    def _show_measure(self) -> None:
        base = self.list.name
        side = cast("Side | None", self.side.currentData())
        self.side.setEnabled(base in SIDED)
        name = of_side(base, side) if side is not None and base in SIDED else base
        self.figure.show_measure(base, side)
        self.entry.show_measure(name, self._bench.project, self._group())
        self.list.show_body(self._bench.project.body, self._group(), self._wishes)

    def _take_unit(self, unit: str) -> None:
        if unit == self._wishes.unit:
            return
        self._wishes = replace(self._wishes, unit=unit)
        self._preferences.change(self._wishes)
        self.entry.show_wishes(self._wishes)
        self._order_keys()
        self._show()

    # Doing

    def _do(self, *edits: Edit) -> bool:
        """Keep edits as one step; why they cannot be done stands under the tabs."""
        try:
            self._bench.do(*edits)
        except WedgeworkError as error:
            self._say(error.sentence)
            self._show()
            return False
        self._say("")
        return True

    def _say(self, sentence: str) -> None:
        self._says.setText(f"⊘ {sentence}" if sentence else "")
        self._says.setVisible(bool(sentence))

    def _keep(self, name: str, value: float | None) -> None:
        self._do(SetBody(measures={name: value}))

    def _go_on(self) -> None:
        """After a measure the next one, ready to be typed."""
        self.list.go_on()
        self.entry.begin_typing()

    def _add(self) -> None:
        asked = NewBody(self, self._bench.project)
        if asked.exec() == QDialog.DialogCode.Accepted:
            self._do(asked.edit())

    def _rename(self) -> None:
        own = self._bench.project.wearer
        before = self._bench.project.bodies[own].name
        name, kept = QInputDialog.getText(self, "Rename", "Name", text=before)
        if kept and name.strip():
            self._do(Rename(id=own, name=name.strip()))

    def _remove(self) -> None:
        self._do(RemoveBody(body=self._bench.project.wearer))

    def _read(self) -> None:
        name, _ = QFileDialog.getOpenFileName(self, "Read a list of measures", "", LISTS)
        if name:
            self.read_list(Path(name))

    def read_list(self, path: Path) -> None:
        """Write down the measures of a list, in one step; those not in it stay."""
        try:
            measures = read_body_csv(read_whole(path, MOST_BYTES))
        except WedgeworkError as error:
            self._say(error.sentence)
            return
        self._do(SetBody(measures=dict(measures)))

    def _write(self) -> None:
        name, _ = QFileDialog.getSaveFileName(self, "Write a list of measures", "body.csv", LISTS)
        if name:
            self.write_list(Path(name))

    def write_list(self, path: Path) -> None:
        """Write the measures as a list, in the unit that is shown."""
        data = write_body_csv(self._bench.project.body, self._wishes.length_unit)
        try:
            write_atomically(path, data)
        except WedgeworkError as error:
            self._say(error.sentence)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that has the keys, and never closes from a field."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            pressed_by_enter(self)
        else:
            super().keyPressEvent(event)

    def showEvent(self, event: QShowEvent) -> None:
        """No button looks as if Enter would press it."""
        super().showEvent(event)
        self.keep.setDefault(False)

    def done(self, result: int) -> None:
        """Hear no more of the bench."""
        self._leave()
        super().done(result)
