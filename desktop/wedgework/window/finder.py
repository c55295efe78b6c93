"""Find a command: a field in the strip, and under it what fits, with key, step and picture.

Found are names, meanings of the glossary and other words for the same; the nearest come first.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, cast

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QSize, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
)

from wedgework.bench import TOOLS
from wedgework.edits import EDITS
from wedgework.glossary import meaning_of
from wedgework.subjects import DRAFT, other_words, shown_drafts, shown_edits, tool_shows
from wedgework.window.actions import ACTIONS
from wedgework.window.finding import Command, found
from wedgework.window.pictures.example import example_picture, example_words
from wedgework.window.theme import SMALL_PX, TEXT_PX, font

if TYPE_CHECKING:
    from PySide6.QtCore import QModelIndex, QPersistentModelIndex

    from wedgework.window.main import MainWindow

MOST: Final = 9
LEAST: Final = 6
"""Rows; the picture beside them is so high."""

ROW_PX: Final = 42
LIST_PX: Final = 430
SIDE_PX: Final = 300


class Finder(QFrame):
    """The list under the field. It lies in the window, so that nothing else loses the keyboard."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window, self._own = window, QLineEdit()
        self._commands: list[Command] = []
        self.setObjectName("finder")
        self.setAutoFillBackground(True)
        self._list = QListWidget()
        self._list.setItemDelegate(_Rows(self))
        self._list.setFixedWidth(LIST_PX)
        self._list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._list.currentRowChanged.connect(self._show_picture)
        self._list.itemClicked.connect(lambda _item: self.run())
        self._name, self._says, self._picture, self._shift = (QLabel() for _ in range(4))
        self._lay_out()
        for field in (window.strip.search, self._own):
            self._prepare(field)
        window.installEventFilter(self)
        self.hide()

    def _prepare(self, field: QLineEdit) -> None:
        field.setPlaceholderText("Find a command   Ctrl+F")
        field.setClearButtonEnabled(True)
        field.setAccessibleName("Find a command")
        field.setToolTip("By name, by meaning, or by another word for it")
        field.textEdited.connect(self._renew)
        field.installEventFilter(self)

    def _lay_out(self) -> None:
        side = QVBoxLayout()
        side.setContentsMargins(14, 12, 14, 12)
        side.setSpacing(8)
        self._name.setFont(font(TEXT_PX, strong=True))
        for label in (self._name, self._says, self._picture, self._shift):
            label.setWordWrap(True)
            label.setFixedWidth(SIDE_PX)
            side.addWidget(label)
        side.addStretch(1)
        rows = QHBoxLayout()
        rows.setSpacing(0)
        rows.addWidget(self._list)
        rows.addLayout(side)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(1, 1, 1, 1)
        whole.setSpacing(0)
        whole.addWidget(self._own)
        whole.addLayout(rows)

    # Opening and closing

    @property
    def field(self) -> QLineEdit:
        """Where the words are typed: in the strip; where that steps aside, over the list."""
        search = self._window.strip.search
        return search if search.isVisible() else self._own

    def open(self) -> None:
        """To the field, with its words marked, so that the next ones take their place."""
        # A panel that was pulled out is a window of its own, and its keys would stay with it.
        self._window.activateWindow()
        self._renew(self.field.text())
        self.field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.field.selectAll()

    def _place(self) -> None:
        field, rows = self.field, min(MOST, max(self._list.count(), LEAST))
        self._own.setVisible(field is self._own)
        over = self._own.sizeHint().height() if field is self._own else 0
        self.resize(LIST_PX + SIDE_PX + 32, rows * ROW_PX + 8 + over)
        if field is self._own:
            at = QPoint((self._window.width() - self.width()) // 2, self._window.middle.y() + 8)
        else:
            at = field.mapTo(self._window, QPoint(0, field.height() + 4))
        left = min(at.x(), self._window.width() - self.width() - 8)
        self.move(max(left, 8), at.y())
        self.raise_()

    def close_list(self) -> None:
        """Away with the list; the field keeps nothing, and the table has the keyboard again."""
        self.field.clear()
        self.hide()
        table = self._window.table
        (table if table.isVisible() else self._window.first).setFocus()

    def _renew(self, typed: str) -> None:
        if not self._commands:
            self._commands = commands_of(self._window)
        self._list.clear()
        for command in found(self._commands, typed):
            item = QListWidgetItem(command.words)
            item.setData(Qt.ItemDataRole.UserRole, command)
            self._list.addItem(item)
        self._list.setCurrentRow(0)
        if not self._list.count():
            self._say_nothing_fits()
        self.show()
        self._place()

    def _say_nothing_fits(self) -> None:
        self._name.setText("Nothing fits.")
        self._says.setText("Try another word for it, or a part of one.")
        self._picture.clear()
        self._shift.clear()

    # Choosing

    @property
    def current(self) -> Command | None:
        """The command that Enter would do."""
        item = self._list.currentItem()
        return None if item is None else cast("Command", item.data(Qt.ItemDataRole.UserRole))

    def _show_picture(self, _row: int) -> None:
        command, scheme = self.current, self._window.theme.scheme
        if command is None:
            return
        self._name.setText(f"{command.words}   {command.key}".strip())
        self._says.setText(command.says)
        if command.shows:
            self._picture.setPixmap(example_picture(command.shows, scheme))
            self._shift.setText(example_words(command.shows))
        else:
            self._picture.clear()
            self._shift.clear()
        self._shift.setStyleSheet(f"color: {scheme.quiet};")

    def run(self) -> None:
        """Do the command; where it cannot be done now, say what it needs."""
        command = self.current
        if command is None:
            return
        self.close_list()
        if command.action.isEnabled():
            command.action.trigger()
        else:
            self._window.status.refuse(f"{command.words}: nothing is there for it.")

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keys of the field that belong to the list; who goes elsewhere closes it."""
        if watched is self._window:
            if event.type() == QEvent.Type.Resize and self.isVisible():
                QTimer.singleShot(0, self, self._place)  # once the field has its own new place
        elif event.type() == QEvent.Type.FocusOut:
            self.hide()
        elif event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return self._take_key(event.key())
        return super().eventFilter(watched, event)

    def _take_key(self, key: int) -> bool:
        steps = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_PageDown: MOST - 1,
                 Qt.Key.Key_PageUp: 1 - MOST}  # fmt: skip
        if key == Qt.Key.Key_Escape:
            self.close_list()
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.run()
        elif key in steps and self._list.count():
            row = self._list.currentRow() + steps[Qt.Key(key)]
            self._list.setCurrentRow(min(max(row, 0), self._list.count() - 1))
        else:
            return False
        return True


class _Rows(QStyledItemDelegate):
    """A row: words and key, and under them in quiet ink where it stands and what it does."""

    def __init__(self, finder: Finder) -> None:
        super().__init__(finder)
        self._finder = finder

    def sizeHint(
        self, _option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """All alike."""
        return QSize(LIST_PX - 14, ROW_PX)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Two lines."""
        command: Command = index.data(Qt.ItemDataRole.UserRole)
        palette, box = option.palette, option.rect.adjusted(12, 4, -12, -4)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(option.rect, palette.highlight())
        upper, lower = box.adjusted(0, 0, 0, -box.height() // 2), box.adjusted(0, 18, 0, 0)
        is_there = command.action.isEnabled()
        painter.setPen((palette.text() if is_there else palette.mid()).color())
        painter.setFont(font(TEXT_PX, strong=True))
        _write(painter, upper, command.words)
        painter.setPen(palette.placeholderText().color())
        painter.setFont(font(SMALL_PX))
        _write(painter, upper, command.key, Qt.AlignmentFlag.AlignRight)
        _write(painter, lower, f"{command.place}  ·  {command.says}")


def _write(
    painter: QPainter, box: QRect, text: str, side: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft
) -> None:
    cut = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, box.width())
    painter.drawText(box, side | Qt.AlignmentFlag.AlignVCenter, cut)


def commands_of(window: MainWindow) -> list[Command]:
    """Everything that can be found: edits, what can be drafted, tools, then the other actions."""
    return [*_edits(window), *_drafts(window), *_tools(window), *_actions(window)]


def _edits(window: MainWindow) -> Iterable[Command]:
    for row in (row for row in EDITS if row.name in shown_edits()):
        shown = shown_edits()[row.name]
        yield Command(
            words=shown.words,
            says=meaning_of("edit", row.name),
            key=shown.key,
            place=f"{row.step}, {shown.subject}",
            also=shown.also,
            shows=row.name,
            action=window.offered.edits[row.name],
        )


def _drafts(window: MainWindow) -> Iterable[Command]:
    for name, shown in shown_drafts().items():
        yield Command(
            words=shown.words,
            says=meaning_of("draft", name),
            key=shown.key,
            place=f"Draft, {shown.subject}",
            also=f"{name.replace('_', ' ')} {shown.also}",
            shows=f"{DRAFT}{name}",
            action=window.offered.drafts[name],
        )


def _tools(window: MainWindow) -> Iterable[Command]:
    for tool in TOOLS:
        shows = tool_shows(tool.name)
        yield Command(
            words=f"{tool.word} by hand" if shows else tool.word,
            says=tool.hint,
            key=tool.key,
            place=f"{tool.step}, tool" if tool.step else "Tool",
            also=f"{other_words(f'take_{tool.name}')} {shown_edits()[shows].also if shows else ''}",
            shows=shows,
            action=window.offered.tools[tool.name],
        )


def _actions(window: MainWindow) -> Iterable[Command]:
    for row in ACTIONS:
        yield Command(
            words=row.words.replace("&", "").removesuffix("…"),
            says=row.tip,
            key=row.key,
            place=f"Menu {row.menu}",
            also=other_words(row.name),
            shows="",
            action=window.actions_by_name[row.name],
        )
