"""The ledger: a row a seam, with both lengths, difference, shaping and state.

Only rows of seams that changed are told to the view, and a row is measured when it is looked at.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, TypeAlias

from PySide6.QtCore import (
    QAbstractTableModel,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from wedgework.pattern.darts import darts_of
from wedgework.pattern.document import Hold, Project, Seam, SeamId
from wedgework.pattern.errors import WedgeworkError
from wedgework.pattern.lookup import hold_of
from wedgework.pattern.seams import SeamMeasure, measure_seam
from wedgework.units import NotUnderstood, parse_length_mm
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.theme import TEXT_PX, font

Index: TypeAlias = QModelIndex | QPersistentModelIndex

ROOT = QModelIndex()
ROW_PX = 26

HEADINGS: Final = (
    ("seam", "", "Name of the seam"),
    ("A", "length", "Length of side A, along the seam line"),
    ("B", "length", "Length of side B, along the seam line"),
    ("difference", "length", "Side A less side B, less what is wanted"),
    ("allowed", "length", "How far off it may be"),
    ("shaping", "°", "Curvature that the seam puts into the sheet, in degrees"),
    ("state", "", "Whether the sides agree, and whether the seam joins flat or shaped"),
    ("wanted", "length", "The difference that is meant"),
    ("dome", "°", "The rounded part of the shaping"),
    ("hollow", "°", "The flaring part of the shaping"),
)
NAME, A, B, DIFFERENCE, ALLOWED, SHAPING, STATE, WANTED, DOME, HOLLOW = range(10)
NAME_PX: Final = 104
"""A name gets no less than this; it takes what room is left over."""

PAD_PX: Final = 12
"""Left and right of what stands in a cell."""

FOLDING: Final = (HOLLOW, DOME, WANTED, ALLOWED, STATE, SHAPING)
"""Columns that step aside, the first of them first, where the ledger is narrow: the card of a seam
has them too."""

USUAL_STATE: Final = "A is longer · joins shaped"
LONG_MM: Final = 2000.0
LONG_RAD: Final = math.pi
"""Numbers longer than these are rare; a column has room for them."""

QUIET: Final = frozenset({WANTED, ALLOWED, DOME, HOLLOW, STATE})
FLAT_DEG = 5.0
BESIDE_PX: Final = 11
"""Room beside a cell's text: 8 of the style sheet, and the 3 that Qt's own cells add."""

# Made once: Qt's flags are slow to put together, and a frame of a drag asks some thousand times.
PLAIN: Final = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
TYPED: Final = PLAIN | Qt.ItemFlag.ItemIsEditable
AT_LEFT: Final = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
AT_RIGHT: Final = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
SHOWN_ROLES: Final = frozenset({
    Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole, Qt.ItemDataRole.TextAlignmentRole,
    Qt.ItemDataRole.ForegroundRole, Qt.ItemDataRole.ToolTipRole,
})  # fmt: skip

STATES = {"agrees": "agrees", "a_longer": "A is longer", "b_longer": "B is longer"}


@dataclass(frozen=True, slots=True)
class Words:
    """What stands in a row, a text a column, and whether its sides differ."""

    texts: tuple[str, ...]
    differs: bool


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed into the ledger: a seam, one of its numbers, and the value."""

    seam: SeamId
    column: int
    value: float | str


class LedgerModel(QAbstractTableModel):
    """The seams of a project as rows."""

    typed = Signal(object)
    refused = Signal(str)

    def __init__(self, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._project = Project()
        self._rows: list[SeamId] = []
        self._places: dict[SeamId, int] = {}
        self._words: dict[int, Words] = {}
        self._wishes, self._scheme = wishes, scheme
        self._inks = _inks(scheme)
        self.rows_told = 0

    @property
    def seams(self) -> list[SeamId]:
        """Seam ids in the order of the rows."""
        return self._rows

    def row_of(self, seam: SeamId) -> int | None:
        """The row of a seam; None where it has none."""
        return self._places.get(seam)

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other units or colours: everything is written anew."""
        self._wishes, self._scheme = wishes, scheme
        self._inks = _inks(scheme)
        self._words.clear()
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(HEADINGS) - 1)
        self._tell(range(len(self._rows)))

    def show(self, project: Project, changed: Iterable[SeamId] | None = None) -> None:
        """Take over a project; `changed` are the seams to be told, None for all that there are."""
        is_same_table = project.seams is self._project.seams
        rows = self._rows if is_same_table else list(project.seams)
        if rows != self._rows:
            self.beginResetModel()
            self._project, self._rows = project, rows
            self._places = {own: row for row, own in enumerate(rows)}
            self._words.clear()
            self.endResetModel()
            return
        self._project = project
        touched = rows if changed is None else [own for own in changed if own in self._places]
        self._tell(sorted(self._places[own] for own in touched))

    def _tell(self, rows: Iterable[int]) -> None:
        for row in rows:
            self.rows_told += 1
            before = self._words.pop(row, None)
            if before is None:
                self.dataChanged.emit(self.index(row, 0), self.index(row, len(HEADINGS) - 1))
            else:
                self._tell_cells(row, before, self.words(row))

    def _tell_cells(self, row: int, before: Words, now: Words) -> None:
        """Only cells that read otherwise: half a row less to paint in a frame of a drag."""
        for column in range(len(HEADINGS)):
            if before.differs != now.differs or before.texts[column] != now.texts[column]:
                index = self.index(row, column)
                self.dataChanged.emit(index, index)

    def measure(self, row: int) -> SeamMeasure | None:
        """The seam of a row, measured; None where one of its edges is gone at this moment."""
        try:
            return measure_seam(self._project, self.seam(row))
        except WedgeworkError:
            return None

    def seam(self, row: int) -> Seam:
        """The seam of a row."""
        return self._project.seams[self._rows[row]]

    def rowCount(self, parent: Index = ROOT) -> int:
        """Number of seams."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = ROOT) -> int:
        """Number of columns."""
        return 0 if parent.isValid() else len(HEADINGS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Headings, with the unit said once."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        words, unit, tip = HEADINGS[section]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                shown = self._wishes.unit if unit == "length" else unit
                return f"{words} {shown}".strip()
            case Qt.ItemDataRole.ToolTipRole:
                return tip
            case Qt.ItemDataRole.TextAlignmentRole:
                return _alignment(section)
        return None

    def least_px(self, column: int) -> int:
        """How wide a column has to be for its heading and for what it usually holds."""
        if column == NAME:
            return NAME_PX
        heading = str(self.headerData(column, Qt.Orientation.Horizontal))
        held = USUAL_STATE if column == STATE else self._wishes.in_list(-LONG_MM, signed=True)
        if column in {SHAPING, DOME, HOLLOW}:
            held = self._wishes.degrees(math.degrees(-LONG_RAD))
        metrics = QFontMetrics(font(TEXT_PX))
        return max(map(metrics.horizontalAdvance, (heading, held))) + 2 * PAD_PX

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """What stands in a cell, and how."""
        if role not in SHOWN_ROLES:
            return None
        row, column = index.row(), index.column()
        match role:
            case Qt.ItemDataRole.DisplayRole | Qt.ItemDataRole.EditRole:
                return self.words(row).texts[column]
            case Qt.ItemDataRole.TextAlignmentRole:
                return _alignment(column)
            case Qt.ItemDataRole.ForegroundRole:
                return self.ink(self.words(row), column)
        # What is left is the tip: the words of a cell that may be cut short.
        return self.words(row).texts[column] if column in {NAME, STATE} else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Names, what is wanted and what is allowed can be typed."""
        return TYPED if index.column() in {NAME, WANTED, ALLOWED} else PLAIN

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Hand on what was typed; the row changes when the bench has kept it."""
        if role != Qt.ItemDataRole.EditRole:
            return False
        text = str(value).strip()
        try:
            read = text if index.column() == NAME else self._length(text)
        except NotUnderstood as error:
            self.refused.emit(error.sentence)
            return False
        self.typed.emit(Typed(self._rows[index.row()], index.column(), read))
        return True

    def _length(self, text: str) -> float:
        return parse_length_mm(text.replace("±", "").replace("+", ""), self._wishes.length_unit)

    def words(self, row: int) -> Words:
        """What stands in a row, kept until the row is told again."""
        kept = self._words.get(row)
        if kept is None:
            seam, measure = self.seam(row), self.measure(row)
            texts = tuple(self._text(seam, measure, column) for column in range(len(HEADINGS)))
            differs = measure is not None and measure.state != "agrees"
            kept = self._words[row] = Words(texts, differs)
        return kept

    def ink(self, words: Words, column: int) -> QColor:
        """The colour of a cell's text."""
        plain, quiet, difference = self._inks
        if words.differs and column in {DIFFERENCE, STATE}:
            return difference
        return quiet if column in QUIET else plain

    def _text(self, seam: Seam, measure: SeamMeasure | None, column: int) -> str:
        if column == NAME:
            return seam.name or seam.id
        if measure is None:
            return "–"
        if column == STATE:
            return _state(measure, seam, hold_of(self._project, seam.id))
        return self._number(seam, measure, column)

    def _number(self, seam: Seam, measure: SeamMeasure, column: int) -> str:
        wishes = self._wishes
        lengths = {A: measure.a.length_mm, B: measure.b.length_mm, ALLOWED: seam.allowed_mm}
        signed = {DIFFERENCE: measure.difference_mm, WANTED: seam.wanted_mm}
        turned = {SHAPING: measure.shaping_rad, DOME: measure.dome_rad, HOLLOW: measure.hollow_rad}
        if column in lengths:
            return wishes.in_list(lengths[column])
        if column in signed:
            return wishes.in_list(signed[column], signed=True)
        shown = wishes.degrees(math.degrees(turned[column]), signed=column == SHAPING)
        return shown.removesuffix("°")


def _inks(scheme: Scheme) -> tuple[QColor, QColor, QColor]:
    return QColor(scheme.ink), QColor(scheme.quiet), QColor(scheme.difference)


def _state(measure: SeamMeasure, seam: Seam, hold: Hold | None) -> str:
    # What is held agrees as long as it is held; only the contrary is worth the room.
    words = [STATES[measure.state]] if hold is None or measure.state != "agrees" else []
    if hold is not None:
        words.append("held" if hold.kind == "length" else "held in shape")
    if seam.is_dart:
        words.append("dart")
    else:
        flat = max(measure.dome_rad, measure.hollow_rad) < math.radians(FLAT_DEG)
        words.append("joins flat" if flat else "joins shaped")
    return " · ".join(words)


def _alignment(column: int) -> Qt.AlignmentFlag:
    return AT_LEFT if column in {NAME, STATE} else AT_RIGHT


class CellPainter(QStyledItemDelegate):
    """Paints a cell in one call from what the model keeps of its row.

    Qt would ask the model eight times a cell, and a drag draws rows thirty times a second. Cells
    keep their own ink when their row is chosen: a difference stays one.
    """

    def __init__(self, model: LedgerModel, parent: QWidget) -> None:
        super().__init__(parent)
        self._model = model
        self._fonts = font(TEXT_PX), font(TEXT_PX, strong=True)
        self._metrics = tuple(QFontMetrics(one) for one in self._fonts)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Ground and border as the style has them, then the words."""
        option.widget.style().drawPrimitive(
            QStyle.PrimitiveElement.PE_PanelItemViewItem, option, painter, option.widget
        )
        column, words = index.column(), self._model.words(index.row())
        is_strong = words.differs and column == DIFFERENCE
        box = option.rect.adjusted(BESIDE_PX, 0, -BESIDE_PX, -1)
        metrics = self._metrics[is_strong]
        text = metrics.elidedText(words.texts[column], Qt.TextElideMode.ElideRight, box.width())
        painter.setFont(self._fonts[is_strong])
        painter.setPen(self._model.ink(words, column))
        painter.drawText(box, _alignment(column), text)


def counted(project: Project) -> str:
    """How many seams and how many darts the ledger lists: “16 seams, 1 dart”."""
    darts = len(darts_of(project))
    kinds = ((len(project.seams) - darts, "seam"), (darts, "dart"))
    said = [f"{count} {word}{'' if count == 1 else 's'}" for count, word in kinds if count]
    return ", ".join(said) or "no seams"


class Ledger(QTableView):
    """The view of the ledger. Choosing a row chooses the seam, and the other way round."""

    chosen = Signal(object)

    def __init__(self, model: LedgerModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = model
        self.setModel(model)
        self.setItemDelegate(CellPainter(model, self))
        self.setObjectName("ledger")
        self.setAccessibleName("Ledger of seams")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self._set_headers()
        self.selectionModel().currentRowChanged.connect(self._choose)
        self._following = False

    def _set_headers(self) -> None:
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(ROW_PX)
        self.verticalHeader().setMinimumSectionSize(ROW_PX)
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header.setMinimumSectionSize(NAME_PX // 2)
        self._model.headerDataChanged.connect(self._fit_columns)
        self._fit_columns()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Columns that have no room fold away, and come back with it."""
        super().resizeEvent(event)
        self._fit_columns()

    def _fit_columns(self) -> None:
        """As many columns as have room side by side; names take what is left."""
        wide = {column: self._model.least_px(column) for column in range(len(HEADINGS))}
        over = sum(wide.values()) - self.viewport().width()
        for column in FOLDING:
            self.setColumnHidden(column, over > 0)
            over -= wide[column] if over > 0 else 0
        wide[NAME] += max(-over, 0)
        for column, px in wide.items():
            self.setColumnWidth(column, px)

    def follow(self, ids: Iterable[str]) -> None:
        """Show the row of the first chosen seam, or none."""
        rows = [row for own in ids if (row := self._model.row_of(own)) is not None]
        self._following = True
        try:
            if rows:
                index = self._model.index(rows[0], max(self.currentIndex().column(), 0))
                flags = QItemSelectionModel.SelectionFlag.ClearAndSelect
                self.selectionModel().setCurrentIndex(
                    index, flags | QItemSelectionModel.SelectionFlag.Rows
                )
                self.scrollTo(index)
            else:
                self.clearSelection()
                self.selectionModel().clearCurrentIndex()
        finally:
            self._following = False

    def _choose(self, current: QModelIndex) -> None:
        if current.isValid() and not self._following:
            self.chosen.emit(self._model.seams[current.row()])
