"""The one window: strip of steps, table, card, findings, ledger, the chosen seam unrolled, status.

It shows a bench and hands on what the maker asks for; what that means is decided elsewhere.
"""

from __future__ import annotations

import gc
from pathlib import Path
from typing import Final

from PySide6.QtCore import QEvent, QSettings, Qt, QTimer
from PySide6.QtGui import (
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QKeyEvent,
    QKeySequence,
    QShortcut,
)
from PySide6.QtWidgets import QMainWindow, QStackedWidget, QToolBar

from wedgework.bench import STEPS, TOOLS, Bench, Change, Hand
from wedgework.edits import Row
from wedgework.subjects import tool_shows
from wedgework.window.actions import ACTIONS, MENUS, dress, make_actions, rows_of, tip_of
from wedgework.window.deeds import Deeds
from wedgework.window.dialogs.drafting_place import DraftPlace
from wedgework.window.dialogs.forms import open_at
from wedgework.window.fields import pressed_by_enter
from wedgework.window.filing import Filing
from wedgework.window.finder import Finder
from wedgework.window.judging import Judge
from wedgework.window.mnemonics import give_letters
from wedgework.window.offered import Offered
from wedgework.window.panels.card import Card
from wedgework.window.panels.dock import Panel
from wedgework.window.panels.edit_form import EditForm
from wedgework.window.panels.empty import Empty, MayBeEmpty
from wedgework.window.panels.findings import Findings
from wedgework.window.panels.ledger import Ledger, LedgerModel, counted
from wedgework.window.panels.seam import SeamPanel
from wedgework.window.panels.strip import Strip, SubjectWord, ToolWord
from wedgework.window.preferences import Preferences
from wedgework.window.status import Status
from wedgework.window.table.hands import HandTable
from wedgework.window.table_menu import open_table_menu
from wedgework.window.theme import Theme
from wedgework.window.things import called
from wedgework.window.turns import Turns

CARD_PX: Final = 316
CARD_LEAST_PX: Final = 120
LEDGER_PX: Final = 250
SEAM_PX: Final = 960
"""The unrolled seam with its stations beside it reads well from here on."""

LAYOUT: Final = 1
"""Raise when panels change, so that an old layout that Qt kept is not put on them."""


class MainWindow(QMainWindow):
    """The window of one bench."""

    def __init__(
        self, bench: Bench, theme: Theme, preferences: Preferences, state_folder: Path
    ) -> None:
        super().__init__()
        self.bench, self.theme, self.preferences = bench, theme, preferences
        self.hand = Hand(bench)
        self.setObjectName("main")
        self.setAcceptDrops(True)
        self.setDockNestingEnabled(True)
        self._widths: list[int] = []
        self._unfolds = False
        self.filing = Filing(self, state_folder)
        self._make_widgets()
        self.offered = Offered(self)
        self.finder = Finder(self)
        self.deeds = Deeds(self)
        self.actions_by_name = make_actions(self, self.deeds.table(), theme.scheme)
        self.card.offer(self.actions_by_name)
        self._fill_menus()
        self._place()
        self._connect()
        self._back_to_size()
        self._show_all()

    @property
    def settings(self) -> QSettings:
        """Where the window's shape is kept."""
        return self.preferences.settings

    # Building

    def _make_widgets(self) -> None:
        wishes, scheme = self.preferences.wishes, self.theme.scheme
        self.strip = Strip(scheme)
        self.table = HandTable(self.bench, self.hand, wishes, scheme)
        self.first = self.filing.first_page()
        self.middle = QStackedWidget()
        self.middle.addWidget(self.first)
        self.middle.addWidget(self.table)
        self.ledger_model = LedgerModel(wishes, scheme)
        self.ledger = Ledger(self.ledger_model)
        self.card = Card(self.bench, wishes, scheme)
        self.form = EditForm(wishes, scheme)
        self.card_space = QStackedWidget()
        self.card_space.addWidget(self.card)
        self.card_space.addWidget(self.form)
        self.drafting = DraftPlace(self)
        self.card_space.addWidget(self.drafting.form)
        # A form that is not shown must not make the card wider, or the window taller than a screen.
        self.card_space.setMinimumSize(CARD_PX, CARD_LEAST_PX)
        self.findings = Findings(wishes, scheme)
        self.seam = SeamPanel(self.bench, wishes, scheme)
        self.status = Status(self.statusBar(), wishes)
        self.judge = Judge(self.bench, self)
        self.turns = Turns((self.seam.follow, self._show_rows, self.card.follow), self)

    def _place(self) -> None:
        self.bar = bar = QToolBar("Steps")
        bar.setObjectName("steps")
        bar.setMovable(False)
        bar.addWidget(self.strip)
        bar.toggleViewAction().setVisible(False)
        self.addToolBar(Qt.ToolBarArea.TopToolBarArea, bar)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)
        self.setCentralWidget(self.middle)
        self.setCorner(Qt.Corner.BottomRightCorner, Qt.DockWidgetArea.BottomDockWidgetArea)
        self.panels = self._make_panels()
        right, bottom = (
            Qt.DockWidgetArea.RightDockWidgetArea,
            Qt.DockWidgetArea.BottomDockWidgetArea,
        )
        for word in ("Card", "Findings"):
            self.addDockWidget(right, self.panels[word])
        self.addDockWidget(bottom, self.panels["Ledger"])
        self.splitDockWidget(
            self.panels["Ledger"], self.panels["Chosen seam"], Qt.Orientation.Horizontal
        )

    def _make_panels(self) -> dict[str, Panel]:
        scheme = self.theme.scheme
        guess = Empty(
            "No seams yet. Seams that fit by length and shape can be guessed.",
            "Guess seams…",
            self.deeds.guess_seams,
        )
        pick = Empty(
            "Choose a seam to see both sides unrolled, with its shaping under them.",
            "Choose the first seam",
            self.deeds.next_seam,
        )
        self.ledger_space = MayBeEmpty(self.ledger, guess)
        self.seam_space = MayBeEmpty(self.seam, pick)
        made = {
            "Card": Panel("Card", self.card_space, scheme),
            "Findings": Panel("Findings", self.findings, scheme),
            "Ledger": Panel("Ledger", self.ledger_space, scheme),
            "Chosen seam": Panel("Chosen seam", self.seam_space, scheme),
        }
        made["Card"].setMinimumWidth(CARD_PX)
        return made

    def _fill_menus(self) -> None:
        for menu in MENUS:
            shown = self.menuBar().addMenu(f"&{menu}")
            for row in rows_of(menu):
                if row.part:
                    shown.addSeparator()
                shown.addAction(self.actions_by_name[row.name])
            self.offered.fill(menu, shown)
            if menu == "View":
                self.offered.add_tools(shown)
            give_letters(shown.actions())
        give_letters(self.menuBar().actions())

    def _connect(self) -> None:
        self.bench.subscribe(self._follow)
        self.bench.subscribe(self.deeds.hear)
        self.preferences.changed.connect(self._dress)
        self.theme.changed.connect(self._dress)
        self.strip.step_chosen.connect(self.bench.go_to_step)
        self.strip.tool_chosen.connect(self._take_tool)
        self.strip.state_pressed.connect(self.show_findings)
        self.table.pressed.connect(self.form.press)
        self.table.give_up = self._give_up_form
        self.table.menu_wanted.connect(lambda at: open_table_menu(self, at))
        self.table.pointer_moved.connect(self.status.show_pointer)
        self.table.view_changed.connect(lambda: self.status.show_zoom(self.table))
        self.ledger.chosen.connect(lambda own: self.bench.choose([own]))
        self.ledger_model.typed.connect(self.deeds.type_in_ledger)
        self.card.led.connect(lambda own: self.bench.choose([own]))
        for source in (self.ledger_model, self.seam, self.card):
            source.refused.connect(self.status.refuse)
        self.findings.led_to.connect(self.deeds.lead_to)
        self.findings.mended.connect(self.deeds.mend)
        self.findings.accepted.connect(self.deeds.accept)
        self.findings.cut_asked.connect(self.filing.export)
        self.form.closed.connect(self.end_form)
        self.form.taken.connect(self._go_on_with_form)
        self.seam.stations.worked.connect(self._make_room_for_stations)
        self.judge.judged.connect(self._show_findings)
        for number, step in enumerate(STEPS, start=1):
            shortcut = QShortcut(QKeySequence(f"Alt+{number}"), self)
            shortcut.activated.connect(lambda step=step: self.bench.go_to_step(step))

    # Showing

    def _follow(self, change: Change) -> None:
        if change.kind not in {"previewed", "hint", "asked"}:
            self.setWindowModified(self.bench.is_dirty)
        if change.kind == "opened":
            self.show_table()
            self.table.setFocus()
            self._show_all()
        self.table.follow(change)
        if change.kind in {"hint", "tool"}:
            self.status.show_hint(self.hand)
        if change.kind in {"tool", "step"}:
            self._show_tools()
        if change.kind == "previewed":
            if self.hand.is_idle and self.bench.refusal is None:
                # A form tries each letter: what its last one could not do is done by this one.
                self.status.forget()
            self.turns.wait(change)
        elif change.kind not in {"hint", "tool", "asked"}:
            self.turns.show_now()
            self._follow_panels(change)

    def _show_rows(self, change: Change) -> None:
        self.ledger_model.show(self.bench.shown, change.seams)

    def _follow_panels(self, change: Change) -> None:
        self.card.follow(change)
        self.seam.follow(change)
        if change.kind == "edited":
            self._show_rows(change)
            self.status.forget()
        if change.kind in {"chosen", "edited", "opened"}:
            self.ledger.follow(self._seams_of_chosen())
        self._show_state()
        if change.kind == "edited" and self.bench.told:
            self.status.refuse(" ".join(self.bench.told))
        self.judge.follow(change)

    def _seams_of_chosen(self) -> list[str]:
        return [own for own in self.bench.chosen if own in self.bench.shown.seams]

    def _show_all(self) -> None:
        self.ledger_model.show(self.bench.shown)
        self.strip.show_step(self.bench.step)
        self._show_tools()
        self._show_state()
        self.status.show_hint(self.hand)
        self.judge.soon()
        # A fit asked for before the layout is settled would be that of another size.
        QTimer.singleShot(0, self.table.fit)
        QTimer.singleShot(0, _lay_project_aside)

    def _show_state(self) -> None:
        """Title, menu entries, empty panels, summaries: what depends on the kept project."""
        bench = self.bench
        self.setWindowTitle(f"{bench.name}[*] · Wedgework")
        self.ledger_space.show_empty(not bench.project.seams)
        self.seam_space.show_empty(not self.seam.has_seam)
        self.panels["Ledger"].say(counted(bench.project))
        self.panels["Chosen seam"].say(self.seam.title)
        self._show_undo("undo", "&Undo", bench.next_undo)
        self._show_undo("redo", "&Redo", bench.next_redo)
        has_pieces = bool(bench.project.pieces)
        can = {
            "": True,
            "project": has_pieces or bool(bench.project.pictures),
            "pieces": has_pieces,
            "chosen": bool(bench.chosen),
            "seam": self.seam.has_seam,
        }
        for row in ACTIONS:
            if row.name not in {"undo", "redo"}:
                self.actions_by_name[row.name].setEnabled(can[row.needs])
        self._show_switches()

    def _show_undo(self, name: str, word: str, what: str | None) -> None:
        action = self.actions_by_name[name]
        action.setEnabled(what is not None)
        action.setText(f"{word}: {what}" if what else word)

    def _show_switches(self) -> None:
        wishes = self.preferences.wishes
        for row in ACTIONS:
            if row.is_switch:
                self.actions_by_name[row.name].setChecked(bool(getattr(wishes, row.name)))

    def _show_tools(self) -> None:
        step = self.bench.step
        self.strip.show_step(step)
        held = self.hand.tool.name
        words = [
            ToolWord(name=tool.icon, words=tool.word, tip=tip_of(tool.word, tool.hint, tool.key),
                     shows=tool_shows(tool.name), is_chosen=tool.name == held)
            for tool in TOOLS if tool.step in {None, step}
        ]  # fmt: skip
        subjects = [
            SubjectWord(name=one.name, list=self.offered.list_named(one.name),
                        tip=tip_of(one.name, one.meaning, f"Shift+{one.letter}"))
            for one in self.offered.of_step(step)
        ]  # fmt: skip
        self.strip.show_tools(words, subjects, self.offered.tips.watch)

    def _take_tool(self, picture: str) -> None:
        """A tool of the strip was pressed: buttons carry the name of their picture."""
        self.hand.take(next(tool.name for tool in TOOLS if tool.icon == picture))
        self.table.setFocus()

    def show_findings(self) -> None:
        """Unfold the findings and go to them."""
        self.panels["Findings"].fold(False)
        self.findings.setFocus()

    def start_form(self, row: Row) -> None:
        """Show the number form of an edit in the card's place."""
        if row.name == "draft":
            self.drafting.start()
            return
        self.show_table()
        self.drafting.form.cancel()
        # What a form waits for is chosen on the table.
        self.hand.take("choose")
        self.panels["Card"].fold(False)
        if self.card_space.currentWidget() is not self.form:
            self.card_space.setCurrentWidget(self.form)
            # A form is longer than a card: the findings make room for it while it is open.
            findings = self.panels["Findings"]
            self._unfolds = not findings.is_folded
            findings.fold(True)
        # What is not shown yet would not keep the keyboard.
        self.form.start(row, self.bench)

    def _go_on_with_form(self) -> None:
        """What the table was pressed for is there: the next thing is typed."""
        if self.focusWidget() is self.table:
            self.form.take_keys()

    def _give_up_form(self) -> bool:
        """Close the form that is open; False where none is."""
        for form in (self.form, self.drafting.form):
            if form is self.card_space.currentWidget():
                form.cancel()
                return True
        return False

    def end_form(self) -> None:
        """Show the card again, and the findings as high as they were."""
        if self.card_space.currentWidget() is self.form:
            self.card_space.setCurrentWidget(self.card)
            if self._unfolds:
                self.panels["Findings"].fold(False)
            # Keys are meant for the table then, not for the name that the card begins with.
            self.table.setFocus()

    def _make_room_for_stations(self, is_working: bool) -> None:  # noqa: FBT001 - Qt hands it over
        """While a slice is set the ledger gives its room to the unrolled seam."""
        bottom = [self.panels[word] for word in ("Ledger", "Chosen seam")]
        widths = [panel.width() for panel in bottom]
        if is_working and sum(widths) - widths[0] < SEAM_PX:
            self._widths = widths
            self.resizeDocks(bottom, [sum(widths) - SEAM_PX, SEAM_PX], Qt.Orientation.Horizontal)
        elif not is_working and self._widths:
            self.resizeDocks(bottom, self._widths, Qt.Orientation.Horizontal)
            self._widths = []

    def _show_findings(self) -> None:
        project = self.bench.project
        self.findings.show_findings(self.judge.findings, lambda own: called(project, own))
        self.strip.show_left(self.judge.left, has_pieces=bool(project.pieces))
        count = len(self.judge.findings)
        self.panels["Findings"].say("nothing to see" if not count else f"{count} to see")

    def _dress(self) -> None:
        wishes, scheme = self.preferences.wishes, self.theme.scheme
        panels = (self.ledger_model, self.card, self.form, self.drafting.form, self.findings)
        for one in (self.table, self.seam, *panels):
            one.dress(wishes, scheme)
        self.strip.dress(scheme)
        self.first.dress(scheme)
        self.status.dress(wishes)
        for panel in self.panels.values():
            panel.dress(scheme)
        dress(self.actions_by_name, scheme)
        self.offered.dress()
        self._show_tools()
        self._show_state()
        self._show_findings()

    def show_table(self) -> None:
        """Go to the table: whoever takes a tool or a form on the first page is done with it."""
        if self.middle.currentWidget() is not self.table:
            self.middle.setCurrentWidget(self.table)
            self._show_work(visible=True)

    def show_first_page(self) -> None:
        """Ask where the pieces come from; strip and panels step aside."""
        self.middle.setCurrentWidget(self.first)
        self._show_work(visible=False)
        self.status.show_first()

    def _show_work(self, *, visible: bool) -> None:
        for one in (self.bar, *self.panels.values()):
            if visible and one.isHidden() and one.property("aside"):
                one.show()
            elif not visible and not one.isHidden():
                one.setProperty("aside", True)
                one.hide()

    # Size and place

    def _back_to_size(self) -> None:
        open_at(self, 1440, 900)
        geometry = self.settings.value("window/geometry")
        if geometry is not None:
            self.restoreGeometry(geometry)
        state = self.settings.value("window/state")
        if state is None or not self.restoreState(state, LAYOUT):
            right = [self.panels["Card"], self.panels["Findings"]]
            self.resizeDocks(right, [CARD_PX, CARD_PX], Qt.Orientation.Horizontal)
            self.resizeDocks(right, [380, 240], Qt.Orientation.Vertical)
            bottom = [self.panels["Ledger"], self.panels["Chosen seam"]]
            self.resizeDocks(bottom, [LEDGER_PX, LEDGER_PX], Qt.Orientation.Vertical)
            self.resizeDocks(bottom, [760, 600], Qt.Orientation.Horizontal)
        for panel in self.panels.values():
            panel.come_back(self.settings)

    def keep_size(self) -> None:
        """Remember how the window stands."""
        self._show_work(visible=True)
        self.settings.setValue("window/geometry", self.saveGeometry())
        self.settings.setValue("window/state", self.saveState(LAYOUT))
        for panel in self.panels.values():
            panel.keep(self.settings)

    # Qt's events

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask for unsaved work, then remember the window's shape."""
        if not self.filing.may_leave():
            event.ignore()
            return
        self.keep_size()
        self.bench.close()
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that has the keys; Qt does so in dialogs alone."""
        is_enter = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
        if not (is_enter and pressed_by_enter(self)):
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """A window that is left lets go of what is in hand."""
        if event.type() == QEvent.Type.ActivationChange and not self.isActiveWindow():
            self.table.hand_cancel()
        super().changeEvent(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """A file may be dropped on the window."""
        if event.mimeData().hasUrls() or event.mimeData().hasImage():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the file that was dropped."""
        paths = [url.toLocalFile() for url in event.mimeData().urls() if url.isLocalFile()]
        if paths:
            event.acceptProposedAction()
            self.filing.open(Path(paths[0]))
        elif event.mimeData().hasImage():
            event.acceptProposedAction()
            self.filing.lay_image(event.mimeData().imageData())


def _lay_project_aside() -> None:
    """Let the collector pass over what was just opened.

    It lives on, and a walk through thousands of pieces in the middle of a drag would be felt.
    """
    gc.unfreeze()
    gc.collect()
    gc.freeze()
