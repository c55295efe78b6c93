"""Seams that fit by length and shape: ticked to be joined, other ways where twins are alike."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from wedgework.bench import Bench
from wedgework.bench.offers import Offer, offers
from wedgework.edits import Edit, apply_all
from wedgework.edits.seams import JoinEdges
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import piece_of
from wedgework.units import format_number
from wedgework.window.dialogs.forms import Form, open_at, scheme_of
from wedgework.window.dialogs.guess_choices import Choices, runs_of, sure_words
from wedgework.window.dialogs.runs_picture import RunsPicture
from wedgework.window.dialogs.telling import tell
from wedgework.window.preferences import Wishes
from wedgework.window.theme import SMALL_PX, font

NAME, SURE, LENGTH_A, LENGTH_B, DIFFERENCE = range(5)
ROW_PX: Final = 30
SIDE_PX: Final = 340
NAMED = Qt.ItemFlag.ItemIsEditable | Qt.ItemFlag.ItemIsUserCheckable
FIGURE_SPACE: Final = "\N{FIGURE SPACE}"
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
PLAIN = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable


def ask_guesses(parent: QWidget, bench: Bench) -> tuple[Edit, ...]:
    """The seams that the maker takes, as edits; none where there is nothing to offer."""
    found = offers(bench.project)
    if not found:
        tell(parent, "No seams suggest themselves: no open edges are alike.")
        return ()
    dialog = GuessDialog(parent, bench.project, found)
    return dialog.edits if dialog.exec() else ()


class GuessDialog(Form):
    """A row a guess on the left; on the right the chosen one, both of its sides drawn."""

    def __init__(self, parent: QWidget, project: Project, found: tuple[Offer, ...]) -> None:
        super().__init__(parent, "Guess seams", "These edges look as if they were joined", "Join")
        self.setObjectName("guessing")
        preferences = getattr(parent.window(), "preferences", None)
        self._wishes: Wishes = preferences.wishes if preferences else Wishes()
        self._project, self._choices = project, Choices(project, found)
        self._table = self._make_table()
        self._picture = RunsPicture(scheme_of(parent))
        self._why, self._says = _quiet(), _quiet()
        self._ways, self._turned = QComboBox(), QCheckBox("Walk side B the other way round")
        self._lay_out()
        self.close_form()
        open_at(self, 1000, 620)
        self._fill()
        self._connect()
        self._table.setCurrentCell(0, NAME)
        self._table.setFocus()

    @property
    def edits(self) -> tuple[Edit, ...]:
        """The joins that are ticked, each in the way that was picked."""
        return self._choices.edits

    # Building

    def _make_table(self) -> QTableWidget:
        unit = self._wishes.unit
        heads = ("Seam", "How sure", f"A {unit}", f"B {unit}", f"Difference {unit}")
        table = QTableWidget(len(self._choices.rows), len(heads))
        for column, words in enumerate(heads):
            head = QTableWidgetItem(words)
            head.setTextAlignment(LEFT if column in {NAME, SURE} else RIGHT)
            table.setHorizontalHeaderItem(column, head)
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(ROW_PX)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setEditTriggers(QAbstractItemView.EditTrigger.DoubleClicked
                              | QAbstractItemView.EditTrigger.EditKeyPressed)  # fmt: skip
        table.setTabKeyNavigation(False)
        table.setShowGrid(False)
        line = table.horizontalHeader()
        line.setHighlightSections(False)
        line.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        line.setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)
        return table

    def _lay_out(self) -> None:
        side = QVBoxLayout()
        side.setSpacing(8)
        side.addWidget(self._picture, 1)
        side.addWidget(self._why)
        side.addWidget(self._ways)
        side.addWidget(self._turned)
        self._picture.setFixedWidth(SIDE_PX)
        self._why.setFixedWidth(SIDE_PX)
        self._ways.setFixedWidth(SIDE_PX)
        columns = QHBoxLayout()
        columns.setSpacing(20)
        columns.addWidget(self._table, 1)
        columns.addLayout(side)
        self.rows.addLayout(columns, 1)
        self.rows.addWidget(self._says)
        self._ways.setAccessibleName("Ways that are as good")

    def _fill(self) -> None:
        for row, choice in enumerate(self._choices.rows):
            name = self._put(row, NAME)
            name.setText(choice.name)
            name.setFlags(PLAIN | NAMED)
            name.setToolTip("Space takes or leaves it; F2 gives it another name")
            for column in (SURE, LENGTH_A, LENGTH_B, DIFFERENCE):
                cell = self._put(row, column)
                cell.setFlags(PLAIN)
                cell.setTextAlignment(LEFT if column == SURE else RIGHT)
            self._write(row)
        self._count()

    def _put(self, row: int, column: int) -> QTableWidgetItem:
        self._table.setItem(row, column, QTableWidgetItem())
        return self._cell(row, column)

    def _cell(self, row: int, column: int) -> QTableWidgetItem:
        cell = self._table.item(row, column)
        if cell is None:
            raise IndexError(f"row {row} has no cell {column}")
        return cell

    def _connect(self) -> None:
        self._table.itemChanged.connect(self._take_item)
        self._table.currentCellChanged.connect(lambda row, *_: self._show(row))
        self._ways.activated.connect(self._go_way)
        self._turned.toggled.connect(self._turn)

    # Showing

    def _write(self, row: int) -> None:
        choice, (a, b) = self._choices.rows[row], self._choices.lengths_mm(row)
        sure = choice.offer.sureness
        words = {
            SURE: f"{format_number(100 * sure, 0).rjust(3, FIGURE_SPACE)} %  {sure_words(sure)}",
            LENGTH_A: self._wishes.in_list(a),
            LENGTH_B: self._wishes.in_list(b),
            DIFFERENCE: self._wishes.in_list(a - b, signed=True),
        }
        for column, text in words.items():
            self._cell(row, column).setText(text)
        state = Qt.CheckState.Checked if choice.taken else Qt.CheckState.Unchecked
        self._cell(row, NAME).setCheckState(state)

    def _show(self, row: int) -> None:
        if row < 0:
            return
        choice = self._choices.rows[row]
        self._picture.show_runs(self._project, *runs_of(choice.edit))
        self._why.setText(f"Because: {choice.offer.why}.")
        self._turned.blockSignals(True)
        self._turned.setChecked(choice.turned)
        self._turned.blockSignals(False)
        self._ways.clear()
        for edit in (choice.offer.edit, *choice.offer.others):
            self._ways.addItem(_way(self._project, edit))
        self._ways.setCurrentIndex(choice.way)
        self._ways.setVisible(bool(choice.offer.others))

    def _count(self) -> None:
        count = len(self.edits)
        self.keep.setText(f"Join {count} seam{'' if count == 1 else 's'}")
        self.keep.setEnabled(count > 0)

    # Choosing

    def _take_item(self, item: QTableWidgetItem) -> None:
        row = item.row()
        if item.column() != NAME:
            return
        choice = self._choices.rows[row]
        choice.name = item.text().strip() or choice.offer.edit.name
        taken = item.checkState() == Qt.CheckState.Checked
        if taken != choice.taken:
            self._table.setCurrentCell(row, NAME)
            self._tell_left(self._choices.take(row, taken=taken))

    def _go_way(self, way: int) -> None:
        row = self._table.currentRow()
        self._tell_left(self._choices.go_way(row, way))
        self._write_quietly(row)
        self._show(row)

    def _turn(self, turned: bool) -> None:  # noqa: FBT001 - Qt hands it over
        row = self._table.currentRow()
        self._choices.rows[row].turned = turned
        self._show(row)

    def _tell_left(self, left: list[int]) -> None:
        """Say which guesses had to be left, since they take an edge that another one has now."""
        names = ", ".join(f"“{self._choices.rows[row].name}”" for row in left)
        self._says.setText(f"Left for it, as an edge has one seam: {names}." if left else "")
        for row in left:
            self._write_quietly(row)
        self._count()

    def _write_quietly(self, row: int) -> None:
        self._table.blockSignals(True)
        self._write(row)
        self._table.blockSignals(False)

    def accept(self) -> None:
        """Stay, and say why, where the joins do not go together."""
        try:
            apply_all(self._project, self.edits)
        except EditRefused as error:
            self._says.setText(f"⊘ {error.sentence}")
            return
        super().accept()


def _quiet() -> QLabel:
    label = QLabel()
    label.setWordWrap(True)
    label.setFont(font(SMALL_PX))
    label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
    return label


def _way(project: Project, edit: JoinEdges) -> str:
    """A join in words, with the edges' names where they have some."""
    sides = []
    for run in runs_of(edit):
        pieces = dict.fromkeys(piece_of(project, ref.edge) for ref in run)
        edges = ", ".join(str(ref) for ref in run)
        sides.append(f"{' + '.join(one.name or one.id for one in pieces)} ({edges})")
    return "  with  ".join(sides)
