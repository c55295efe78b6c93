"""Every measure of the body by the part that it belongs to, with what is written down."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent
from PySide6.QtWidgets import QHeaderView, QTreeWidget, QTreeWidgetItem

from wedgework.pattern.body import MEASURES, SIDED, SIDES, measure_words, measured, of_side
from wedgework.pattern.body_ranges import Group
from wedgework.pattern.plausible import doubts_of
from wedgework.pattern.table import Table
from wedgework.window.dialogs.body_figure import groups
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.theme import font

MEASURE, VALUE = range(2)
NAME: Final = Qt.ItemDataRole.UserRole
DOUBTED: Final = "!"
"""Stands before the figure of a measure to look at again: colour alone is no sign."""


class MeasureList(QTreeWidget):
    """`chosen` tells another measure, `entered` that its figure is to be typed."""

    chosen = Signal(str)
    entered = Signal()
    figured = Signal(str)

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self._items: dict[str, QTreeWidgetItem] = {}
        self.setObjectName("body_measures")
        self.setAccessibleName("Measures")
        self.setColumnCount(2)
        self.setRootIsDecorated(False)
        self.setIndentation(12)
        self.setUniformRowHeights(True)
        self.header().setStretchLastSection(False)
        self.header().setSectionResizeMode(MEASURE, QHeaderView.ResizeMode.Stretch)
        self.header().setSectionResizeMode(VALUE, QHeaderView.ResizeMode.ResizeToContents)
        self._fill()
        self.currentItemChanged.connect(lambda item, _: self._tell(item))
        self.itemDoubleClicked.connect(self.entered)

    def _fill(self) -> None:
        for group, names in groups().items():
            head = QTreeWidgetItem([group, ""])
            head.setFlags(Qt.ItemFlag.ItemIsEnabled)
            head.setFont(MEASURE, font(strong=True))
            self.addTopLevelItem(head)
            head.setExpanded(True)
            for name in names:
                item = QTreeWidgetItem([measure_words(name), ""])
                item.setData(0, NAME, name)
                item.setToolTip(MEASURE, MEASURES[name])
                item.setTextAlignment(VALUE, Qt.AlignmentFlag.AlignRight)
                head.addChild(item)
                self._items[name] = item

    @property
    def name(self) -> str:
        """The measure that is chosen."""
        item = self.currentItem()
        return str(item.data(0, NAME)) if item is not None else next(iter(self._items))

    def _tell(self, item: QTreeWidgetItem | None) -> None:
        if item is not None and item.data(0, NAME):
            self.chosen.emit(str(item.data(0, NAME)))

    def first_missing(self, body: Mapping[str, float]) -> str:
        """The first measure that is not written down; the first of all where none is missing."""
        missing = (name for name in self._items if measured(body, name) is None)
        return next(missing, next(iter(self._items)))

    def choose(self, name: str) -> None:
        """Choose a measure and bring it into view."""
        self.setCurrentItem(self._items[name])

    def go_on(self) -> None:
        """Choose the next measure of the list; the last one stays."""
        names = list(self._items)
        at = names.index(self.name) + 1
        if at < len(names):
            self.choose(names[at])

    def show_body(self, body: Table[float], group: Group | None, wishes: Wishes) -> None:
        """Write every figure; what to look at again carries a sign."""
        self.setHeaderLabels(["measure", wishes.unit])
        self.headerItem().setTextAlignment(VALUE, Qt.AlignmentFlag.AlignRight)
        doubted = {name for one in doubts_of(body, group) for name in one.names}
        for name, item in self._items.items():
            names = {name, *(of_side(name, side) for side in SIDES if name in SIDED)}
            is_doubted = bool(names & doubted)
            words = _figures(body, name, wishes)
            item.setText(VALUE, f"{DOUBTED} {words}" if is_doubted and words else words)
            colour = self._scheme.difference if is_doubted else self._scheme.ink
            item.setForeground(VALUE, QColor(colour))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter goes to the figure of the measure that is chosen; a figure begins it anew."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.entered.emit()
        elif event.text()[:1].isdigit():
            self.figured.emit(event.text())
        else:
            super().keyPressEvent(event)


def _figures(body: Mapping[str, float], name: str, wishes: Wishes) -> str:
    """One figure, or those of left and right where they were taken apart."""
    sides = [measured(body, name, side) for side in SIDES] if name in SIDED else []
    whole = measured(body, name)
    if whole is None:
        return ""
    apart = [one for one in sides if one is not None]
    if len(set(apart)) > 1:
        return " | ".join(wishes.in_list(one) for one in apart)
    return wishes.in_list(whole)
