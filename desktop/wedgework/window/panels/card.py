"""The card: the numbers of what is chosen, each of which can be changed where it stands.

A value that is being typed is tried on the table; Enter or Tab keeps it as one step, Escape drops
it. What cannot be done is said at the field.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSlider,
    QVBoxLayout,
    QWidget,
)

from wedgework.bench import Bench, Change
from wedgework.edits import Edit, decode_plain
from wedgework.pattern.errors import WedgeworkError
from wedgework.units import Unit, format_number
from wedgework.window.fields import Field, angle_field, length_field, plain_field, word_field
from wedgework.window.form_words import in_form_words
from wedgework.window.palette import Scheme
from wedgework.window.panels.card_pages import page_of
from wedgework.window.panels.card_rows import CardPage, CardRow, CardWishes
from wedgework.window.panels.short import ShortButton, ShortLabel
from wedgework.window.preferences import Wishes
from wedgework.window.tabbing import tab_through
from wedgework.window.theme import HEADING_PX, SMALL_PX, font

FIELD_PX: Final = 124
FIGURE_INSET_PX: Final = 12
"""How far the last figure stands from the right side of a field."""

UNIT_PX: Final = 24
SHARES: Final = 100
PLAIN_PLACES: Final = 3
"""Steps of a slider: hundredths."""

AREA_UNITS: Final = {Unit.IN: (645.16, "in²", 2)}
DEED_WORDS: Final = {"fit_chosen": "Show it large", "delete": "Delete",
                     "photographs": "Show or hide all"}  # fmt: skip
"""Words of deeds where it is plain what is meant; the menu says it in full."""

PLAIN_AREA: Final = (100.0, "cm²", 1)
"""How many mm2 one shown unit of area is, how it is written, and its decimals."""


@dataclass(frozen=True, eq=False, slots=True)
class Shown:
    """A row on the card: what it says now, its widget, and how a value is written into it."""

    row: CardRow
    widget: QWidget
    write: Callable[[CardRow], None]


class Card(QScrollArea):
    """A page of fields. `led` tells the id of a thing that is to be chosen."""

    led = Signal(str)
    refused = Signal(str)

    def __init__(self, bench: Bench, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._bench, self._wishes, self._scheme = bench, wishes, scheme
        self._own = CardWishes()
        self._actions: Mapping[str, QAction] = {}
        self._page: CardPage | None = None
        self._shown: dict[str, Shown] = {}
        self._heading = ShortLabel()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QFrame.Shape.NoFrame)

    def offer(self, actions: Mapping[str, QAction]) -> None:
        """The window's actions, from which pages take their buttons."""
        self._actions = actions

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other units or colours: the page is built anew."""
        self._wishes, self._scheme, self._page = wishes, scheme, None
        self.refresh()

    def follow(self, change: Change) -> None:
        """Show what is chosen on the bench; a preview changes nothing but the figures."""
        if change.kind == "previewed":
            self._write_preview()
        elif change.kind in {"opened", "edited", "chosen", "step"}:
            self.refresh()

    def take_words(self) -> None:
        """Give the keyboard to the name of what is chosen: what is typed now replaces it."""
        shown = self._shown.get("name")
        if shown is not None and isinstance(shown.widget, Field):
            shown.widget.setFocus()
            shown.widget.selectAll()

    def refresh(self) -> None:
        """Show what is chosen, as it is kept; what is being typed stays in its field."""
        page = self._page_of_kept()
        if self._page is None or _form_of(page) != _form_of(self._page):
            self._build(page)
        self._page = page
        self._shown = {row.key: replace(self._shown[row.key], row=row) for row in page.rows}
        self._write(page)
        if self._bench.is_previewing:
            self._write_preview()

    def _page_of_kept(self) -> CardPage:
        bench = self._bench
        # What a typed value becomes is reckoned from what is kept, never from what is being tried.
        return page_of(bench.project, bench.chosen, step=bench.step, wishes=self._own)

    def _write_preview(self) -> None:
        bench = self._bench
        page = page_of(bench.shown, bench.chosen, step=bench.step, wishes=self._own)
        if self._page is not None and _form_of(page) == _form_of(self._page):
            self._write(page)

    def _write(self, page: CardPage) -> None:
        self._heading.say(page.heading)
        for row in page.rows:
            self._shown[row.key].write(row)

    # Building

    def _build(self, page: CardPage) -> None:
        held = self._held()
        self._shown = {}
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
        # What is taken away may be the sender of the very signal that led here.
        if (before := self.takeWidget()) is not None:
            before.deleteLater()
        self.setWidget(inside)
        tab_through(self)
        if held in self._shown:
            self._shown[held].widget.setFocus()

    def _held(self) -> str:
        """Key of the row that has the keyboard; nothing where none has."""
        focused = self.window().focusWidget()
        return next((key for key, one in self._shown.items() if one.widget is focused), "")

    def _head(self, page: CardPage) -> QHBoxLayout:
        self._heading, kind = ShortLabel(page.heading), QLabel(page.kind)
        self._heading.setFont(font(HEADING_PX, strong=True))
        kind.setFont(font(SMALL_PX))
        kind.setStyleSheet(f"color: {self._scheme.quiet};")
        head = QHBoxLayout()
        head.addWidget(self._heading, 1)
        head.addWidget(kind, 0, Qt.AlignmentFlag.AlignBottom)
        return head

    def _add_row(self, grid: QGridLayout, index: int, row: CardRow) -> None:
        widget, write = self._widget(row)
        widget.setObjectName(f"card_{row.key.replace(' ', '_')}")
        widget.setAccessibleName(row.words)
        if row.tip:
            widget.setToolTip(row.tip)
        word, unit = ShortLabel(row.words), QLabel(self._unit(row))
        for label in (word, unit):
            label.setStyleSheet(f"color: {self._scheme.quiet};")
        word.setBuddy(widget)
        unit.setMinimumWidth(UNIT_PX)
        for column, one in enumerate((word, widget, unit)):
            grid.addWidget(one, index, column)
        self._shown[row.key] = Shown(row, widget, write)

    def _unit(self, row: CardRow) -> str:
        match row.kind:
            case "length" | "signed" | "range":
                return self._wishes.unit
            case "angle":
                return "°"
            case "area":
                return self._area_unit[1]
        return ""

    @property
    def _area_unit(self) -> tuple[float, str, int]:
        return AREA_UNITS.get(self._wishes.length_unit, PLAIN_AREA)

    def _widget(self, row: CardRow) -> tuple[QWidget, Callable[[CardRow], None]]:
        if row.leads_to is not None:
            return self._link(row.key)
        if not row.is_typed:
            return self._figure()
        if row.kind == "share":
            return self._slider(row)
        return self._choice(row) if row.kind == "choice" else self._field(row)

    def _slider(self, row: CardRow) -> tuple[QWidget, Callable[[CardRow], None]]:
        """A share of the whole, tried while it is drawn and kept when it is let go."""
        slider = QSlider(Qt.Orientation.Horizontal)
        slider.setRange(0, SHARES)
        slider.setFixedWidth(FIELD_PX)
        slider.sliderMoved.connect(lambda value: self._try(row.key, value / SHARES))
        slider.sliderReleased.connect(lambda: self._keep(row.key, slider.value() / SHARES))
        slider.actionTriggered.connect(
            # Keys and presses beside the handle are one step each; the value comes after this.
            lambda _action: (
                slider.isSliderDown()
                or QTimer.singleShot(0, lambda: self._keep(row.key, slider.value() / SHARES))
            )
        )

        def write(now: CardRow) -> None:
            if not slider.isSliderDown():
                slider.setValue(round(now.value * SHARES))

        return slider, write

    def _field(self, row: CardRow) -> tuple[QWidget, Callable[[CardRow], None]]:
        field = self._field_of_kind(row)
        if row.may_be_blank:
            field.may_be_blank()
        field.setFixedWidth(FIELD_PX)
        field.kept.connect(lambda value: self._keep(row.key, value))
        field.tried.connect(lambda value: self._try(row.key, value))
        field.dropped.connect(self._bench.drop_preview)
        return field, lambda now: field.show_value(now.value)

    def _field_of_kind(self, row: CardRow) -> Field:
        match row.kind:
            case "length" | "signed":
                field = length_field(self._wishes.length_unit, self._wishes.decimals)
                field.setPlaceholderText("")
                return field
            case "angle":
                return angle_field(self._wishes.decimals)
            case "count":
                return plain_field()
            case "plain":
                return plain_field(PLAIN_PLACES)
        return word_field()

    def _figure(self) -> tuple[QWidget, Callable[[CardRow], None]]:
        label = ShortLabel()
        label.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        # The same inset as a field has, so that all figures stand under each other.
        label.setContentsMargins(0, 2, FIGURE_INSET_PX, 2)
        label.setFixedWidth(FIELD_PX)
        return label, lambda now: label.say(self._text(now))

    def _link(self, key: str) -> tuple[QWidget, Callable[[CardRow], None]]:
        button = ShortButton()
        button.setFlat(True)
        button.setFixedWidth(FIELD_PX)
        button.setStyleSheet(
            f"text-align: right; color: {self._scheme.chosen};"
            f" padding: 1px {FIGURE_INSET_PX - 1}px 1px 4px;"
        )
        button.clicked.connect(lambda: self.led.emit(str(self._shown[key].row.leads_to)))
        return button, lambda now: button.say(self._text(now))

    def _choice(self, row: CardRow) -> tuple[QWidget, Callable[[CardRow], None]]:
        box = QComboBox()
        box.setFixedWidth(FIELD_PX)
        for value, words in row.choices:
            box.addItem(words, value)
        box.activated.connect(lambda index: self._keep(row.key, box.itemData(index)))
        return box, lambda now: box.setCurrentIndex(box.findData(now.value))

    def _text(self, row: CardRow) -> str:
        wishes = self._wishes
        match row.kind:
            case "length":
                return wishes.in_card(row.value)
            case "signed":
                return wishes.in_card(row.value, signed=True)
            case "range":
                return " to ".join(wishes.in_list(value) for value in row.value)
            case "angle":
                return format_number(row.value, wishes.decimals)
            case "area":
                size, _, places = self._area_unit
                return format_number(row.value / size, places)
        return str(row.value)

    def _buttons(self, page: CardPage) -> QGridLayout:
        """Deeds that suit what is shown, two beside each other."""
        grid = QGridLayout()
        grid.setSpacing(6)
        offered = [self._actions[name] for name in page.deeds if name in self._actions]
        for index, action in enumerate(offered):
            words = DEED_WORDS.get(action.objectName()) or action.text().replace("&", "")
            button = QPushButton(words)
            button.setToolTip(action.toolTip())
            button.setObjectName(f"card_deed_{action.objectName()}")
            button.clicked.connect(action.trigger)
            grid.addWidget(button, index // 2, index % 2)
        return grid

    # Typing

    def _edits(self, row: CardRow, value: Any) -> list[Edit]:  # noqa: ANN401 - as a row takes it
        return [] if row.edit is None else [decode_plain(one) for one in row.edit(value)]

    def _keep(self, key: str, value: Any) -> None:  # noqa: ANN401
        """Keep a value as one step, or say at its field why it cannot be."""
        shown = self._shown[key]
        if shown.row.sets == "span":
            self._own = replace(self._own, span_mm=value)
            self.refresh()
            return
        try:
            edits = self._edits(shown.row, value)
            if edits:
                self._bench.do(*edits)
        except WedgeworkError as error:
            self._refuse(shown, in_form_words(error.sentence))
        else:
            self.refresh()

    def _refuse(self, shown: Shown, sentence: str) -> None:
        """The table shows what is kept; the text stays for mending while the maker is at it."""
        text = shown.widget.text() if isinstance(shown.widget, Field) else ""
        self._bench.drop_preview()
        shown.write(shown.row)
        if isinstance(shown.widget, Field) and shown.widget.hasFocus():
            shown.widget.setText(text)
            shown.widget.setModified(True)
            shown.widget.refuse(sentence)
        self.refused.emit(sentence)

    def _try(self, key: str, value: Any) -> None:  # noqa: ANN401
        """Show on the table what a value would do while it is typed."""
        shown = self._shown[key]
        try:
            edits = self._edits(shown.row, value)
        except WedgeworkError as error:
            edits, refusal = [], in_form_words(error.sentence)
        else:
            is_done = not edits or self._bench.preview(*edits)
            refusal = "" if is_done else in_form_words(self._bench.refusal or "")
        if refusal and isinstance(shown.widget, Field):
            shown.widget.refuse(refusal)


def _form_of(page: CardPage) -> tuple[Any, ...]:
    """What decides which fields there are; values may change without a new form."""
    rows = tuple((row.key, row.words, row.kind, row.choices, row.is_typed, row.leads_to is None)
                 for row in page.rows)  # fmt: skip
    return page.kind, rows, page.deeds
