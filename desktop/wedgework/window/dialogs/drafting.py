"""The form for drafting: a kind, its numbers, and beside them what they come to.

The project stays as it is until the pieces are drafted. While the form is open, edges that are
pressed on the table go into the field that asks for edges.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any, Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from wedgework.bench import Bench, Change
from wedgework.drafting import KINDS, Kind, drafted, kind_named
from wedgework.drafting.starting import first_numbers
from wedgework.edits import decode_plain
from wedgework.edits.drafted import DraftPieces
from wedgework.edits.redraft import DraftAgain
from wedgework.glossary import meaning_of
from wedgework.pattern.errors import DraftUnsaid, WedgeworkError
from wedgework.units import NotUnderstood
from wedgework.window.dialogs.drafting_fields import (
    Folded,
    NumberRow,
    NumberRows,
    numbered,
    plain_numbers,
    row_of,
)
from wedgework.window.dialogs.drafting_result import DraftResult
from wedgework.window.fields import pressed_by_enter
from wedgework.window.form_words import in_form_words
from wedgework.window.icons import has_icon, icon
from wedgework.window.palette import Scheme
from wedgework.window.panels.form_fields import Argument
from wedgework.window.preferences import Wishes

SOON_MS: Final = 40
"""The picture follows typing so soon: a block takes longer than a key press."""

LEFT_PX: Final = 310


def kind_words(kind: str) -> str:
    """A kind's name as words: `Pleated skirt`."""
    return kind.replace("_", " ").capitalize()


class DraftForm(QWidget):
    """What can be drafted, as one form. `closed` tells its end, `made` the first new piece.

    `taken` tells that something was taken from the table.
    """

    closed = Signal()
    made = Signal(str)
    taken = Signal()

    def __init__(self, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._wishes, self._scheme = wishes, scheme
        self._bench: Bench | None = None
        self._kind: Kind | None = None
        self._leave: Callable[[], None] | None = None
        self._rows: list[NumberRow] = []
        self._hidden: list[NumberRow] = []
        self._piece: str | None = None
        self._active: Argument | None = None
        self._soon = QTimer(self, singleShot=True, interval=SOON_MS)
        self._soon.timeout.connect(self.try_it)
        self._kinds, self._meaning = QComboBox(), QLabel()
        self._left, self._right = QScrollArea(), QScrollArea()
        self._about, self._says = QLabel(), QLabel()
        self._result = DraftResult(scheme, wishes)
        self._lay_out()
        self.dress(wishes, scheme)

    def _lay_out(self) -> None:
        for kind in KINDS:
            self._kinds.addItem(kind_words(kind.name), kind.name)
        self._kinds.setObjectName("draft_kind")
        self._kinds.setAccessibleName("What is drafted")
        self._kinds.setMaxVisibleItems(len(KINDS))
        self._kinds.activated.connect(lambda _index: self.show_kind(self._kinds.currentData()))
        self._meaning.setWordWrap(True)
        self._meaning.setObjectName("quiet")
        for space in (self._left, self._right):
            space.setWidgetResizable(True)
            space.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
            space.setFrameShape(QFrame.Shape.NoFrame)
        self._left.setFixedWidth(LEFT_PX)
        self._about.setObjectName("quiet")
        self._about.setWordWrap(True)
        self._says.setObjectName("draft_refusal")
        self._says.setWordWrap(True)
        head = QHBoxLayout()
        head.addWidget(self._kinds)
        head.addWidget(self._meaning, 1)
        both = QHBoxLayout()
        both.setSpacing(8)
        both.addWidget(self._left)
        both.addWidget(self._right, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(14, 6, 6, 10)
        whole.addLayout(head)
        whole.addLayout(both, 1)
        whole.addWidget(self._about)
        whole.addWidget(self._says)
        whole.addLayout(self._foot())

    def _foot(self) -> QHBoxLayout:
        self.keep_button, cancel = QPushButton("Draft"), QPushButton("Cancel")
        self.keep_button.setObjectName("draft_keep")
        self.keep_button.setToolTip("Lay these pieces on the table, as one step (Enter)")
        self.keep_button.clicked.connect(lambda _checked=False: self.keep())
        cancel.setObjectName("draft_cancel")
        cancel.setToolTip("Draft nothing (Escape)")
        cancel.clicked.connect(lambda _checked=False: self.cancel())
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(cancel)
        foot.addWidget(self.keep_button)
        return foot

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other units or colours; what was typed stays, as far as it can be read."""
        self._wishes, self._scheme = wishes, scheme
        self.setStyleSheet(f"QLabel#unit, QLabel#quiet {{ color: {scheme.quiet}; }}")
        for at, kind in enumerate(KINDS):
            if has_icon(f"draft_{kind.name}"):
                self._kinds.setItemIcon(at, icon(f"draft_{kind.name}", scheme))
        if self._kind is not None:
            self._build(self._kind, self._read_so_far())

    # Opening

    @property
    def is_open(self) -> bool:
        """Whether something is being drafted."""
        return self._kind is not None

    @property
    def title(self) -> str:
        """What is being drafted, as words."""
        return "" if self._kind is None else kind_words(self._kind.name)

    def start(self, bench: Bench, kind: str = KINDS[0].name) -> None:
        """Draft something new, from the body of the project and the edges that are chosen."""
        self._begin(bench, None)
        self.show_kind(kind)

    def start_again(self, bench: Bench, piece: str) -> None:
        """Change the numbers of a piece that was drafted, and draft it again."""
        recipe = bench.project.pieces[piece].recipe
        if recipe is None:
            return
        self._begin(bench, piece)
        self._build(kind_named(recipe.kind), json.loads(recipe.numbers))

    def _begin(self, bench: Bench, piece: str | None) -> None:
        self._stop()
        self._bench, self._piece = bench, piece
        self._kinds.setEnabled(piece is None)
        self.keep_button.setText("Draft" if piece is None else "Draft again")
        self._leave = bench.subscribe(self._follow)

    def show_kind(self, name: str) -> None:
        """Another kind, filled in with the body's measures, its reductions and the chosen edges."""
        if self._bench is not None:
            first = first_numbers(self._bench.project)
            self._build(kind_named(name), {own: one.value for own, one in first.items()})
            if self._active is not None and self._bench.chosen:
                self._active.take(self._bench.project, self._bench.chosen)

    def _build(self, kind: Kind, values: Mapping[str, Any]) -> None:
        self._kind = kind
        self._kinds.setCurrentIndex(self._kinds.findData(kind.name))
        self._meaning.setText(meaning_of("draft", kind.name))
        self._about.clear()
        docs = numbered(kind)
        first = [row_of(one, self._wishes, self._scheme) for one in docs.first]
        more = [row_of(one, self._wishes, self._scheme) for one in docs.more]
        self._rows, self._hidden = [*first, *more], more
        page = QWidget()
        rows = QVBoxLayout(page)
        rows.setContentsMargins(0, 2, 8, 8)
        parts = [NumberRows(first), NumberRows(more)]
        rows.addWidget(parts[0])
        if more:
            self.more = Folded(f"More ({len(more)})", parts[1])
            rows.addWidget(self.more)
        rows.addStretch(1)
        self._left.setWidget(page)
        self._result = DraftResult(self._scheme, self._wishes)
        self._result.pleats_chosen.connect(self._take_pleats)
        self._right.setWidget(self._result)
        self._fill(values)
        if self._piece is not None and any(row.name in values for row in more):
            self.more.button.setChecked(True)
        for part in parts:
            part.typed.connect(self._soon.start)
        self.try_it()
        self._focus_first()

    def _fill(self, values: Mapping[str, Any]) -> None:
        bench = self._bench
        first = {} if bench is None else first_numbers(bench.project)
        self._active = None
        for row in self._rows:
            if bench is not None:
                row.argument.renew(bench.project)
            if row.name in values:
                known = first.get(row.name)
                is_known = known is not None and values[row.name] == known.value
                row.show_first(values[row.name], known.said if known and is_known else "")
            if row.argument.kinds and self._active is None:
                self._active = row.argument
            row.argument.entered.connect(self._enter)

    def _enter(self, argument: Argument) -> None:
        """Say what the number means; edges that are pressed go into its field, if it takes such."""
        if argument.kinds:
            self._active = argument
        self._about.setText(f"{argument.accessibleName().capitalize()}: {argument.toolTip()}")

    def take_keys(self) -> None:
        """The keys go to what is missing, else to the button that drafts."""
        missing = self._missing()
        if not (missing and missing[0].argument.take_keys()) and self.try_it():
            self.keep_button.setFocus()

    def _focus_first(self) -> None:
        (*self._missing(), self._rows[0])[0].argument.take_keys()

    def _missing(self) -> list[NumberRow]:
        return [row for row in self._rows
                if row.docs["needed"] and row.argument.plain_or_none() is None]  # fmt: skip

    def _read_so_far(self) -> dict[str, Any]:
        values = {row.name: row.argument.plain_or_none() for row in self._rows}
        return {name: value for name, value in values.items() if value is not None}

    def _take_pleats(self, count: int) -> None:
        for row in self._rows:
            if row.name in {"pleats", "visible_mm"}:
                row.show_first(count if row.name == "pleats" else None)
        self._soon.start()

    # Following the bench

    def _follow(self, change: Change) -> None:
        bench = self._bench
        if bench is None:
            return
        if change.kind == "opened":
            self.cancel()
        elif change.kind == "edited":
            for row in self._rows:
                row.argument.renew(bench.project)
            self._soon.start()
        elif change.kind == "chosen" and bench.chosen:
            self._take_chosen(bench)

    def _take_chosen(self, bench: Bench) -> None:
        """What was pressed goes into the field that asks for it, else into another that can."""
        asking = [row.argument for row in self._rows if row.argument.kinds]
        asking.sort(key=lambda one: one is not self._active)
        taken = next((one for one in asking if one.take(bench.project, bench.chosen)), None)
        if taken is not None and any(row.argument is taken for row in self._hidden):
            self.more.button.setChecked(True)
        if taken is not None:
            self.taken.emit()

    # Drafting

    def edit(self) -> DraftPieces | DraftAgain:
        """The edit as it is filled in; NotUnderstood where a number is missing."""
        if self._kind is None:
            raise NotUnderstood("Nothing is being drafted.")
        numbers = plain_numbers(self._rows)
        if self._piece is None:
            return DraftPieces(kind=self._kind.name, numbers=numbers)
        # A number that was taken out is told as nothing, else the recipe's own would stay.
        left_out = {row.name: None for row in self._rows if row.name not in numbers}
        return DraftAgain(piece=self._piece, numbers=numbers | left_out)

    def try_it(self) -> bool:
        """Show what comes of the numbers, or why nothing does; the project stays as it is."""
        self._soon.stop()
        if self._kind is None or self._bench is None:
            return False
        try:
            plain = plain_numbers(self._rows)
            numbers, draft = drafted(self._bench.project, self._kind.name, plain)
        except WedgeworkError as error:
            self._say(error.sentence, wrong=not isinstance(error, NotUnderstood | DraftUnsaid))
            self._result.show_nothing()
            return False
        self._say("")
        self._result.show_draft(numbers, draft)
        for row in self._rows:
            row.show_told(draft.numbers.get(row.name), self._wishes)
        return True

    def keep(self) -> bool:
        """Draft the pieces as one step, and close the form; False where they cannot be."""
        bench, kind = self._bench, self._kind
        if bench is None or kind is None or not self.try_it():
            return False
        before = {*bench.project.pieces}
        again = self._piece
        try:
            bench.do(decode_plain(json.loads(self.edit().as_json())))
        except WedgeworkError as error:
            self._say(error.sentence, wrong=True)
            return False
        new = [own for own in bench.project.pieces if own not in before]
        self._end()
        bench.choose(new[:1] or [own for own in [again] if own is not None and bench.has(own)])
        self.made.emit(next(iter(bench.chosen), ""))
        return True

    def cancel(self) -> None:
        """Close the form and draft nothing."""
        self._end()

    def _stop(self) -> None:
        self._soon.stop()
        if self._leave is not None:
            self._leave()
            self._leave = None

    def _end(self) -> None:
        was_open = self.is_open
        self._stop()
        self._kind, self._piece, self._active = None, None, None
        if was_open:
            self.closed.emit()

    def _say(self, sentence: str, *, wrong: bool = False) -> None:
        # State is never colour alone.
        said = in_form_words(sentence)
        self._says.setText(f"⊘ {said}" if wrong else said)
        self._says.setVisible(bool(sentence))
        self._says.setStyleSheet(f"color: {self._scheme.stop if wrong else self._scheme.quiet};")
        self.keep_button.setEnabled(not sentence)

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter drafts, or goes to what is missing; on a button it presses that. Escape closes."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            if not pressed_by_enter(self) and not self.keep() and self._missing():
                self._focus_first()
        elif event.key() == Qt.Key.Key_Escape:
            self.cancel()
        else:
            super().keyPressEvent(event)
