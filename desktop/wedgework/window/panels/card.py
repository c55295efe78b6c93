"""The card: the numbers of what is chosen, each of which can be changed where it stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from wedgework.bench import Bench, Change
from wedgework.pattern.document import Project
from wedgework.units import Unit, format_number
from wedgework.window.fields import Field, angle_field, length_field, plain_field, word_field
from wedgework.window.palette import Scheme
from wedgework.window.panels.card_rows import CardPage, CardRow, page_of
from wedgework.window.preferences import Wishes
from wedgework.window.theme import HEADING_PX, SMALL_PX, font

FIELD_PX = 124
AREA_UNITS = {Unit.MM: (100.0, "cm²", 1), Unit.CM: (100.0, "cm²", 1), Unit.IN: (645.16, "in²", 2)}
"""How many mm2 one shown unit of area is, how it is written, and its decimals."""


class Card(QScrollArea):
    """A page of fields. `typed` tells a row and its new value, `led` an id to be chosen."""

    typed = Signal(object, object)
    tried = Signal(object, object)
    dropped = Signal()
    led = Signal(str)

    def __init__(self, bench: Bench, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._bench, self._wishes, self._scheme = bench, wishes, scheme
        self._actions: Mapping[str, QAction] = {}
        self._page: CardPage | None = None
        self._updates: dict[str, Callable[[CardRow], None]] = {}
        self._rows: dict[str, CardRow] = {}
        self._heading, self._kind = QLabel(), QLabel()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QFrame.Shape.NoFrame)

    def offer(self, actions: Mapping[str, QAction]) -> None:
        """The window's actions, from which pages take their buttons."""
        self._actions = actions

    def follow(self, change: Change) -> None:
        """Show what is chosen on the bench."""
        if change.kind in {"opened", "edited", "previewed", "chosen"}:
            self.show_chosen(self._bench.shown, self._bench.chosen)

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other units or colours: the page is built anew."""
        self._wishes, self._scheme = wishes, scheme
        if self._page is not None:
            self._build(self._page)

    def show_chosen(self, project: Project, ids: tuple[str, ...]) -> None:
        """Show what is chosen; fields that stay keep what is being typed in them."""
        page = page_of(project, ids)
        if self._page is not None and _form_of(page) == _form_of(self._page):
            self._page = page
            self._heading.setText(page.heading)
            for row in page.rows:
                self._rows[row.key] = row
                self._updates[row.key](row)
        else:
            self._build(page)

    def _build(self, page: CardPage) -> None:
        self._page, self._updates, self._rows = page, {}, {}
        inside = QWidget()
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(14, 4, 14, 12)
        rows.setSpacing(8)
        rows.addLayout(self._head(page))
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(5)
        grid.setColumnStretch(0, 1)
        for index, row in enumerate(page.rows):
            self._add_row(grid, index, row)
        rows.addLayout(grid)
        rows.addLayout(self._buttons(page))
        rows.addStretch(1)
        self.setWidget(inside)

    def _head(self, page: CardPage) -> QHBoxLayout:
        self._heading, self._kind = QLabel(page.heading), QLabel(page.kind)
        self._heading.setFont(font(HEADING_PX, strong=True))
        self._kind.setFont(font(SMALL_PX))
        self._kind.setStyleSheet(f"color: {self._scheme.quiet};")
        head = QHBoxLayout()
        head.addWidget(self._heading, 1)
        head.addWidget(self._kind, 0, Qt.AlignmentFlag.AlignBottom)
        return head

    def _add_row(self, grid: QGridLayout, index: int, row: CardRow) -> None:
        word = QLabel(row.words)
        word.setStyleSheet(f"color: {self._scheme.quiet};")
        word.setToolTip(row.tip)
        widget, update = self._widget(row)
        widget.setObjectName(f"card_{row.key.replace(' ', '_')}")
        widget.setAccessibleName(row.words)
        widget.setToolTip(row.tip)
        word.setBuddy(widget)
        unit = QLabel(self._unit(row))
        unit.setStyleSheet(f"color: {self._scheme.quiet};")
        unit.setMinimumWidth(24)
        grid.addWidget(word, index, 0)
        grid.addWidget(widget, index, 1)
        grid.addWidget(unit, index, 2)
        self._rows[row.key], self._updates[row.key] = row, update
        update(row)

    def _unit(self, row: CardRow) -> str:
        match row.kind:
            case "length" | "signed":
                return self._wishes.unit
            case "angle":
                return "°"
            case "area":
                return AREA_UNITS[self._wishes.length_unit][1]
        return ""

    def _widget(self, row: CardRow) -> tuple[QWidget, Callable[[CardRow], None]]:
        if row.leads_to is not None:
            return self._link(row)
        if row.kind == "choice":
            return self._choice(row)
        if row.edit is None:
            return self._figure(row)
        return self._field(row)

    def _field(self, row: CardRow) -> tuple[QWidget, Callable[[CardRow], None]]:
        field = self._field_of_kind(row)
        field.setFixedWidth(FIELD_PX)
        field.kept.connect(lambda value: self.typed.emit(self._rows[row.key], value))
        field.tried.connect(lambda value: self.tried.emit(self._rows[row.key], value))
        field.dropped.connect(self.dropped)
        return field, lambda now: field.show_value(now.value)

    def _field_of_kind(self, row: CardRow) -> Field:
        match row.kind:
            case "length" | "signed":
                return length_field(self._wishes.length_unit, self._wishes.decimals)
            case "angle":
                return angle_field(self._wishes.decimals)
            case "count":
                return plain_field()
        return word_field()

    def _figure(self, _row: CardRow) -> tuple[QWidget, Callable[[CardRow], None]]:
        label = QLabel()
        label.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        # The same inset as a field has, so that all figures stand under each other.
        label.setContentsMargins(0, 2, 7, 2)
        label.setFixedWidth(FIELD_PX)
        return label, lambda now: label.setText(self._text(now))

    def _text(self, row: CardRow) -> str:
        decimals = self._wishes.decimals
        match row.kind:
            case "length":
                return self._wishes.in_card(row.value)
            case "signed":
                unit = self._wishes.length_unit
                shown = row.value / unit.mm
                return format_number(shown, decimals + (unit is not Unit.MM), signed=True)
            case "angle":
                return format_number(row.value, decimals)
            case "area":
                size, _, places = AREA_UNITS[self._wishes.length_unit]
                return format_number(row.value / size, places)
        return str(row.value)

    def _link(self, row: CardRow) -> tuple[QWidget, Callable[[CardRow], None]]:
        button = QPushButton()
        button.setFlat(True)
        button.setFixedWidth(FIELD_PX)
        button.setStyleSheet(f"text-align: right; color: {self._scheme.chosen};")
        button.clicked.connect(lambda: self.led.emit(str(self._rows[row.key].leads_to)))

        def update(now: CardRow) -> None:
            text = self._text(now)
            shown = button.fontMetrics().elidedText(
                text, Qt.TextElideMode.ElideRight, FIELD_PX - 18
            )
            button.setText(shown)
            if shown != text:
                button.setToolTip(text)

        return button, update

    def _choice(self, row: CardRow) -> tuple[QWidget, Callable[[CardRow], None]]:
        box = QComboBox()
        box.setFixedWidth(FIELD_PX)
        for value, words in row.choices:
            box.addItem(words, value)
        box.activated.connect(
            lambda index: self.typed.emit(self._rows[row.key], box.itemData(index))
        )
        return box, lambda now: box.setCurrentIndex(box.findData(now.value))

    def _buttons(self, page: CardPage) -> QGridLayout:
        """Deeds that suit what is shown, two beside each other."""
        grid = QGridLayout()
        grid.setSpacing(6)
        for index, name in enumerate(page.deeds):
            action = self._actions[name]
            button = QPushButton(action.text().replace("&", ""))
            button.setToolTip(action.toolTip())
            button.setObjectName(f"card_deed_{name}")
            button.clicked.connect(action.trigger)
            grid.addWidget(button, index // 2, index % 2)
        return grid


def _form_of(page: CardPage) -> tuple[Any, ...]:
    """What decides which fields there are; values may change without a new form."""
    rows = tuple((row.key, row.kind, row.choices, row.edit is None, row.leads_to is None)
                 for row in page.rows)  # fmt: skip
    return page.kind, rows, page.deeds
