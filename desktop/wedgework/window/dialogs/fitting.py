"""Fit to the body: levels with the shares of their seams, and the way in section by section.

It stays open beside the table; a press on a row chooses its place there.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QGridLayout,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from wedgework.bench import Bench, Change
from wedgework.bench.fitting import CAUTIONS
from wedgework.checks.levels import intake_at, shaped_word
from wedgework.checks.proposing import shared_intake
from wedgework.geometry.curve import Point
from wedgework.pattern.closings import times_made
from wedgework.pattern.document import Level
from wedgework.pattern.getting_in import Passage, way_in
from wedgework.pattern.levels import LevelFit, level_fit
from wedgework.pattern.wanted import whole_intake
from wedgework.window.dialogs.fit_offers import FitOffers
from wedgework.window.dialogs.forms import open_at
from wedgework.window.fields import Field
from wedgework.window.panels.card_fit import percent
from wedgework.window.panels.stations_body import part_field
from wedgework.window.preferences import Wishes
from wedgework.window.theme import HEADING_PX, font

FIRST = {"feet": "feet first", "head": "over the head", "either": "from both its ends"}
SECTIONS = ("section", "is round", "what passes", "girth", "stretch needed", "allowed", "")
LEVELS = ("level", "flat", "cut girth", "difference", "worn stretch", "intake wanted", "drawn", "")
LENGTHS = frozenset(
    {"is round", "girth", "flat", "cut girth", "difference", "intake wanted", "drawn"}
)
"""Columns of lengths: the unit stands in their heading, once."""
WORDS = frozenset({"section", "level", "what passes", ""})
WRONG = frozenset({"does not pass", "under-shaped", "over-shaped"})
SIZE_PX = (880, 700)
ROOM_PX = 140
"""The way in keeps this much, however many seams cross a level."""

Lead = Callable[[Sequence[str], Point | None], object]
Do = Callable[[list[dict[str, object]]], object]


class FitDialog(QDialog):
    """Levels above, the way in below; it follows what is done on the table."""

    def __init__(self, parent: QWidget, bench: Bench, wishes: Wishes, lead: Lead, do: Do) -> None:
        super().__init__(parent)
        self._bench, self._wishes, self._lead, self._do = bench, wishes, lead, do
        self._places: list[tuple[tuple[str, ...], Point | None]] = []
        self._shares: dict[str, Field] = {}
        self.setObjectName("fitting")
        self.setWindowTitle("Fit to the body")
        open_at(self, *SIZE_PX)
        self.levels = _table("fit_levels", LEVELS, wishes.unit)
        for told in (self.levels.cellClicked, self.levels.cellActivated):
            told.connect(lambda row, _column: self._choose_level(row))
        self.which = QComboBox()
        self.which.setAccessibleName("Level to shape to")
        self.which.activated.connect(lambda _index: self._build_shares())
        self.shape = QPushButton("Shape the seams to the body")
        self.shape.setObjectName("fit_shape")
        # Enter in a table leads to its row; it must not cut into pieces as well.
        self.shape.setAutoDefault(False)
        self.shape.clicked.connect(self._shape)
        self.heading = _heading("Getting in")
        self.sections = _table("fit_sections", SECTIONS, wishes.unit)
        for told in (self.sections.cellClicked, self.sections.cellActivated):
            told.connect(lambda row, _column: self._lead(*self._places[row]))
        self.sections.setMinimumHeight(ROOM_PX)
        self.offers = FitOffers(do)
        self._grid = QGridLayout()
        self._grid.setColumnStretch(0, 1)
        self._lay_out()
        self.show_bench()

    def _lay_out(self) -> None:
        rows = QVBoxLayout(self)
        rows.setContentsMargins(18, 14, 18, 14)
        rows.addWidget(_heading("Levels"))
        rows.addWidget(self.levels, 1)
        line = QHBoxLayout()
        line.addWidget(QLabel("Seams across"))
        line.addWidget(self.which)
        line.addStretch(1)
        line.addWidget(self.shape)
        rows.addLayout(line)
        rows.addLayout(self._grid)
        rows.addWidget(self.heading)
        rows.addWidget(self.sections, 1)
        rows.addWidget(self.offers)
        for sentence in CAUTIONS:
            label = QLabel(sentence)
            label.setWordWrap(True)
            rows.addWidget(label)

    def follow(self, change: Change) -> None:
        """Show the bench anew when something was done."""
        if change.kind in {"opened", "edited"} and self.isVisible():
            self.show_bench()

    def show_bench(self) -> None:
        """Show the project as it is kept."""
        project = self._bench.project
        self._show_levels()
        way = way_in(project)
        if way is None:
            self.heading.setText("Getting in: mark an opening, or close a seam first")
        else:
            ends = "all passes" if not way.fails else "it does not pass"
            self.heading.setText(f"Getting in through {way.entrance}, {FIRST[way.first]}: {ends}")
        passages = () if way is None else way.passages
        self._places = [((one.id, *one.edges), one.at_mm) for one in passages]
        _fill(self.sections, [self._section(one) for one in passages])
        self.sections.setVisible(way is not None)
        self.offers.show_project(project)

    def _section(self, one: Passage) -> tuple[str, ...]:
        girth = (one.girth or "").removesuffix("_mm").replace("_", " ")
        needed = "lies open" if one.is_open else percent(one.needed)
        return (one.name, self._wishes.in_list(one.section_mm), girth,
                self._wishes.in_list(one.girth_mm), needed, percent(one.allowed).lstrip("+"),
                "passes" if one.passes else "does not pass")  # fmt: skip

    def _show_levels(self) -> None:
        project = self._bench.project
        fits = [(one, level_fit(project, one)) for one in project.levels.values()]
        show = self._wishes.in_list
        _fill(self.levels, [
            (level.name or level.id, *(("", "", "", "") if fit is None else (
                show(fit.flat_mm), show(fit.cut_mm), show(fit.difference_mm, signed=True),
                percent(fit.stretch))), *self._intake(level))
            for level, fit in fits
        ])  # fmt: skip
        before = self.which.currentData() or _most_missed(fits)
        self.which.clear()
        for level, fit in fits:
            if fit is not None:
                self.which.addItem(level.name or level.id, level.id)
        self.which.setCurrentIndex(max(self.which.findData(before), 0))
        self._build_shares()

    def _intake(self, level: Level) -> tuple[str, str, str]:
        """Intake from the fullest level on, by the body and drawn, and what is wrong with it."""
        whole = whole_intake(self._bench.project, level)
        if whole is None:
            return ("", "", "")
        if whole.fullest == level.id:
            return ("", "", "fullest")
        show = self._wishes.in_list
        return (show(whole.wanted_mm), show(whole.drawn_mm), shaped_word(whole).lstrip(", "))

    def _choose_level(self, row: int) -> None:
        own = list(self._bench.project.levels)[row]
        self._lead((own,), None)
        index = self.which.findData(own)
        if index >= 0:
            self.which.setCurrentIndex(index)
            self._build_shares()

    def _build_shares(self) -> None:
        """A field for each seam across the level: the parts need not sum to a hundred."""
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        self._shares = {}
        level = self._bench.project.levels.get(self.which.currentData() or "")
        rows = [] if level is None else intake_at(self._bench.project, level)
        for index, (seam, row) in enumerate(rows):
            field = part_field(f"share_{seam.id}", "What this seam takes, beside the others")
            field.show_value(100.0 / len(rows))
            times = " twice" if times_made(self._bench.project, seam) == 2 else ""
            figures = f"has drawn {self._wishes.in_list(row.drawn_mm)} {self._wishes.unit}{times}"
            drawn = QLabel(figures)
            drawn.setAlignment(_side("drawn"))
            for column, one in enumerate((QLabel(seam.name or seam.id), drawn, field, QLabel("%"))):
                self._grid.addWidget(one, index, column)
            self._shares[seam.id] = field
        asks = bool(shared_intake(self._bench.project, {seam.id: 1.0 for seam, _ in rows}))
        self.shape.setEnabled(asks)
        self.shape.setToolTip(
            "Take out what each level has too much, shared among these seams where they cross it"
            if asks
            else "Every level that these seams cross has its girth"
        )

    def _shape(self) -> None:
        parts = {own: float(str(field.now() or 0.0)) for own, field in self._shares.items()}
        edits = shared_intake(self._bench.project, parts)
        if edits:
            self._do(edits)


def _most_missed(fits: Sequence[tuple[Level, LevelFit | None]]) -> str:
    """The level that asks first to be shaped to: that whose girth misses most, if any does."""
    known = [(abs(fit.difference_mm), level.id) for level, fit in fits
             if fit is not None and not fit.fits]  # fmt: skip
    return max(known, default=(0.0, ""))[1]


def open_fit(parent: QWidget, bench: Bench, wishes: Wishes, lead: Lead, do: Do) -> FitDialog:
    """The dialog, shown beside the window; it stays until it is closed."""
    dialog = FitDialog(parent, bench, wishes, lead, do)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    leave = bench.subscribe(dialog.follow)
    dialog.finished.connect(lambda _code: leave())
    dialog.show()
    return dialog


def _heading(words: str) -> QLabel:
    label = QLabel(words)
    label.setFont(font(HEADING_PX, strong=True))
    label.setWordWrap(True)
    return label


def _table(name: str, headings: Sequence[str], unit: str) -> QTableWidget:
    table = QTableWidget(0, len(headings))
    table.setObjectName(name)
    for column, words in enumerate(headings):
        item = QTableWidgetItem(f"{words} {unit}" if words in LENGTHS else words)
        item.setTextAlignment(_side(words))
        table.setHorizontalHeaderItem(column, item)
    table.verticalHeader().hide()
    table.setTabKeyNavigation(False)
    table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
    table.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
    head = table.horizontalHeader()
    head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    head.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
    return table


def _side(words: str) -> Qt.AlignmentFlag:
    """Figures end together, words begin together."""
    side = Qt.AlignmentFlag.AlignLeft if words in WORDS else Qt.AlignmentFlag.AlignRight
    return side | Qt.AlignmentFlag.AlignVCenter


def _fill(table: QTableWidget, rows: Sequence[Sequence[str]]) -> None:
    table.setRowCount(len(rows))
    for at, row in enumerate(rows):
        for column, words in enumerate(row):
            item = QTableWidgetItem(words)
            head = table.horizontalHeaderItem(column)
            side = 0 if head is None else head.textAlignment()
            item.setTextAlignment(Qt.AlignmentFlag(side))
            if words in WRONG:
                item.setData(Qt.ItemDataRole.FontRole, font(strong=True))
            table.setItem(at, column, item)
