"""The menu of the right button: what can be done with what lies under the pointer.

It is built from the table of edits: those stand in it that need a thing of the kind that is chosen.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QPoint
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu

from wedgework.bench.gestures import PICK_PX
from wedgework.bench.picking import under
from wedgework.edits import edit_docs
from wedgework.pattern.lookup import seams_of
from wedgework.subjects import subjects
from wedgework.window.mnemonics import give_letters
from wedgework.window.panels.edit_form import KINDS
from wedgework.window.things import called, kind_of
from wedgework.window.tips import SHOWS

if TYPE_CHECKING:
    from wedgework.window.main import MainWindow

COMMON: Final = ("fit_chosen", "rename", "delete")
NOTHING: Final = ("choose_all", "fit", "find")
"""Where nothing lies under the pointer."""

MOST_FLAT: Final = 10
"""More entries than this stand in lists by subject."""


def open_table_menu(window: MainWindow, at: QPoint) -> None:
    """Choose what lies there, unless it is chosen already, and offer what fits it."""
    _choose(window, at)
    menu = table_menu(window)
    menu.popup(window.table.mapToGlobal(at))


def _choose(window: MainWindow, at: QPoint) -> None:
    view, bench = window.table.view, window.bench
    hits = under(bench.project, view.to_mm(at.x(), at.y()), PICK_PX * view.px_mm)
    ids = [hit.id for hit in hits]
    if not set(ids) & set(bench.chosen):
        bench.choose(ids[:1])


def table_menu(window: MainWindow) -> QMenu:
    """What can be done with what is chosen."""
    menu = QMenu(window)
    menu.setObjectName("table_menu")
    window.offered.tips.watch(menu)
    chosen = window.bench.chosen
    if chosen:
        _add_edits(window, menu, chosen)
        for own in _around(window, chosen[0]):
            kind = kind_of(window.bench.project, own)
            name = called(window.bench.project, own)
            listed = menu.addMenu(f"{kind.capitalize()} “{name}”")
            _add_edits(window, listed, [own])
            _give_letters(listed)
        menu.addSeparator()
    for name in COMMON if chosen else NOTHING:
        _add(menu, window.actions_by_name[name])
    _give_letters(menu)
    return menu


def _add(menu: QMenu, action: QAction) -> None:
    """An entry that does what an action does, with a letter of its own in this menu."""
    words, _, key = action.text().partition("\t")
    entry = menu.addAction(action.icon(), words)
    entry.setObjectName(action.objectName())
    entry.setData(key or action.shortcut().toString(QKeySequence.SequenceFormat.NativeText))
    entry.setToolTip(action.toolTip())
    entry.setStatusTip(action.statusTip())
    entry.setProperty(SHOWS, action.property(SHOWS))
    entry.setEnabled(action.isEnabled())
    entry.triggered.connect(action.trigger)


def _give_letters(menu: QMenu) -> None:
    """No two entries answer to one letter, whatever letters they have elsewhere; keys follow."""
    give_letters(menu.actions())
    for entry in menu.actions():
        if entry.data():
            entry.setText(f"{entry.text()}\t{entry.data()}")


def _around(window: MainWindow, own: str) -> Iterable[str]:
    """The seams and the piece that a thing belongs to."""
    project = window.bench.project
    if own in project.owners:
        yield from (seam.id for seam in seams_of(project, own))
        yield project.owners[own]


def _add_edits(window: MainWindow, menu: QMenu, ids: Iterable[str]) -> None:
    window.offered.tips.watch(menu)
    project = window.bench.project
    names = edits_for({kind_of(project, own) for own in ids})
    by_subject = {
        one.name: [name for name in one.edits if name in names] for one in subjects().values()
    }
    for subject, rows in by_subject.items():
        actions = [window.offered.edits[name] for name in rows]
        if len(names) > MOST_FLAT and len(actions) > 1:
            listed = menu.addMenu(subject)
            window.offered.tips.watch(listed)
            listed.addActions(actions)
        else:
            for action in actions:
                _add(menu, action)


def edits_for(kinds: set[str]) -> list[str]:
    """Names of the edits that cannot be done without a thing of one of these kinds."""
    return [name for name, needed in _needed_kinds().items() if kinds & needed]


@cache
def _needed_kinds() -> dict[str, set[str]]:
    """For each edit the kinds of things that it needs."""
    return {docs["edit"]: set(_kinds_in(docs["arguments"])) for docs in edit_docs()}


def _kinds_in(arguments: Iterable[dict[str, object]]) -> Iterable[str]:
    for one in arguments:
        if one["type"] == "place":
            yield "edge"
        elif one["needed"]:
            yield from KINDS.get(str(one["name"]), ())
