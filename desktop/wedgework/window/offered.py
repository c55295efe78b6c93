"""Every tool and every edit as an action, by subject: for menus, strip, search and right click.

All of them are built from the tables: TOOLS, EDITS, and subjects with their keys.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QPoint
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from wedgework.bench import TOOLS, StepName
from wedgework.drafting import KINDS
from wedgework.edits import EDITS, Row
from wedgework.glossary import meaning_of
from wedgework.subjects import (
    DRAFT,
    Subject,
    shown_drafts,
    shown_edits,
    subjects,
    tool_shows,
    words_of_edit,
)
from wedgework.window.actions import tip_of
from wedgework.window.dialogs.drafting import kind_words
from wedgework.window.icons import has_icon, icon
from wedgework.window.tips import SHOWS, PictureTips

if TYPE_CHECKING:
    from wedgework.window.main import MainWindow

PICTURES: Final = {tool.name: tool.icon for tool in TOOLS}
_CORNER: Final = QPoint(40, 12)

ROWS: Final = {row.name: row for row in EDITS}


class Offered:
    """The actions of one window's tools and edits."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self.tips = PictureTips(window, window.theme.scheme)
        self.tools = {tool.name: self._tool_action(tool.name) for tool in TOOLS}
        self.edits = {row.name: self._edit_action(row) for row in EDITS}
        self.drafts = {kind.name: self._draft_action(kind.name) for kind in KINDS}
        self._lists = {name: self._list_of(one, window) for name, one in subjects().items()}
        self._leaders = [self._leader(one) for one in subjects().values()]
        self.dress()

    def dress(self) -> None:
        """Icons and pictures in the colours in use."""
        scheme = self.tips.scheme = self._window.theme.scheme
        for name, action in (*self.tools.items(), *self.edits.items()):
            picture = PICTURES.get(name, name)
            if has_icon(picture):
                action.setIcon(icon(picture, scheme))
        for name, action in self.drafts.items():
            action.setIcon(icon(f"draft_{name}", scheme))

    # Making

    def _tool_action(self, name: str) -> QAction:
        tool = next(one for one in TOOLS if one.name == name)
        action = QAction(tool.word, self._window)
        action.setObjectName(f"take_{name}")
        action.setShortcut(tool.key)
        action.setToolTip(tip_of(tool.word, tool.hint, tool.key))
        action.setStatusTip(tool.hint)
        action.setProperty(SHOWS, tool_shows(name))
        action.triggered.connect(self._taking(name, tool.step))
        return action

    def _taking(self, name: str, step: StepName | None) -> Callable[[], None]:
        def take() -> None:
            if step is not None:
                self._window.bench.go_to_step(step)
            self._window.show_table()
            self._window.hand.take(name)
            self._window.table.setFocus()

        return take

    def _edit_action(self, row: Row) -> QAction:
        words, says = words_of_edit(row.name), meaning_of("edit", row.name)
        key = shown_edits()[row.name].key if row.name in shown_edits() else ""
        action = QAction(f"{with_letter(words, key[-1:])}…\t{key}", self._window)
        action.setObjectName(f"edit_{row.name}")
        action.setToolTip(tip_of(words, says, key))
        action.setStatusTip(says)
        action.setProperty(SHOWS, row.name)
        action.triggered.connect(self._starting(row))
        return action

    def _starting(self, row: Row) -> Callable[[], None]:
        if row.name == "accept":
            # Which finding is meant can only be seen in their list.
            return self._window.show_findings
        return lambda: self._window.start_form(row)

    def _draft_action(self, kind: str) -> QAction:
        """Open the form of a kind that can be drafted."""
        words, says, key = kind_words(kind), meaning_of("draft", kind), shown_drafts()[kind].key
        action = QAction(f"{with_letter(words, key[-1:])}…\t{key}", self._window)
        action.setObjectName(f"draft_{kind}")
        action.setToolTip(tip_of(words, says, key))
        action.setStatusTip(says)
        action.setProperty(SHOWS, f"{DRAFT}{kind}")
        action.triggered.connect(lambda: self._window.drafting.start(kind))
        return action

    # By subject

    def _list_of(self, subject: Subject, parent: QWidget) -> QMenu:
        """The list of a subject's edits, which its letter opens and their own letters choose."""
        menu = QMenu(subject.name, parent)
        menu.setObjectName(f"subject_{subject.name}")
        menu.setToolTip(subject.meaning)
        menu.addActions([self.edits[name] for name in subject.edits if name in self.edits])
        if subject.name == "Drafts":
            menu.addSeparator()
            menu.addActions(list(self.drafts.values()))
        self.tips.watch(menu)
        return menu

    def _leader(self, subject: Subject) -> QAction:
        """Shift and the subject's letter open its list."""
        action = QAction(subject.name, self._window)
        action.setObjectName(f"lead_{subject.letter}")
        action.setShortcut(QKeySequence(f"Shift+{subject.letter}"))
        action.triggered.connect(lambda: self.open_list(subject.name))
        self._window.addAction(action)
        return action

    def list_named(self, subject: str) -> QMenu:
        """The list of a subject's edits."""
        return self._lists[subject]

    def open_list(self, subject: str) -> None:
        """Open it where its word stands in the strip, else in the corner of the table."""
        at = self._window.strip.place_of(subject)
        self._lists[subject].popup(at or self._window.table.mapToGlobal(_CORNER))

    def of_step(self, step: StepName) -> list[Subject]:
        """Subjects that have an edit in a step, in their order."""
        return [
            one
            for one in subjects().values()
            if any(name in ROWS and ROWS[name].step == step for name in one.edits)
        ]

    def fill(self, menu: str, shown: QMenu) -> None:
        """Put the subjects of a menu of the bar into it."""
        if not shown.isEmpty():
            shown.addSeparator()
        for subject in subjects().values():
            if subject.menu == menu:
                shown.addMenu(self._lists[subject.name])

    def add_tools(self, view: QMenu) -> None:
        """The tools stand in the View menu under Tools."""
        tools = QMenu("&Tools", view)
        tools.addActions(list(self.tools.values()))
        self.tips.watch(tools)
        view.addSeparator()
        view.addMenu(tools)


def with_letter(words: str, letter: str) -> str:
    """Words with the letter marked that chooses them in a list."""
    at = _place_of(words, letter)
    if not letter:
        return words
    return f"{words} (&{letter})" if at is None else f"{words[:at]}&{words[at:]}"


def _place_of(words: str, letter: str) -> int | None:
    """Where a letter stands: where a word begins with it, else anywhere."""
    starts: Iterable[int] = (i for i in range(len(words)) if i == 0 or words[i - 1] == " ")
    places = [*starts, *range(len(words))]
    return next((i for i in places if words[i].upper() == letter.upper()), None)
