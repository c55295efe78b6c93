"""A form for any edit, built from its row in the table of edits: every edit can be typed.

Things are taken from lists or from the table: while a field that names a thing is the one being
filled, what is chosen on the table goes into it, and a place that is pressed goes into a field for
one. As soon as nothing is missing the table shows what the edit would do, or the form why it cannot
be done; Keep makes it one step.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from msgspec import UNSET
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from wedgework.bench import Bench, Change
from wedgework.bench.gestures import Mm2
from wedgework.edits import Edit, Row, decode_plain, edit_docs
from wedgework.pattern.body import MEASURES, measure_words
from wedgework.pattern.darts import darts_of
from wedgework.pattern.errors import EditRefused, WedgeworkError
from wedgework.subjects import shown_edits, words_of_edit
from wedgework.units import NotUnderstood
from wedgework.window.fields import pressed_by_enter
from wedgework.window.form_words import in_form_words
from wedgework.window.palette import Scheme
from wedgework.window.panels.form_anchors import AnchorsArgument
from wedgework.window.panels.form_fields import (
    Argument,
    ChoiceArgument,
    NumberArgument,
    PlaceArgument,
    PointArgument,
    SwitchArgument,
    ThingArgument,
    ThingsArgument,
    TurnsArgument,
    WordArgument,
    WordsArgument,
)
from wedgework.window.panels.form_file import FileArgument
from wedgework.window.panels.form_mate import MateArgument
from wedgework.window.panels.form_rows import (
    DISTANCES,
    LEVEL_POINTS,
    PIXELS,
    POINTS,
    SLASHES,
    SLITS,
    STATIONS,
    BodyArgument,
    OutlineArgument,
    RowsArgument,
    line_of,
)
from wedgework.window.pictures.example import SMALL, example_picture
from wedgework.window.preferences import Wishes
from wedgework.window.tabbing import stops_in, tab_through
from wedgework.window.theme import HEADING_PX, SMALL_PX, font
from wedgework.window.things import kind_of

KINDS: Final[dict[str, tuple[str, ...]]] = {
    "piece": ("piece",), "pieces": ("piece",), "edge": ("edge",), "edges": ("edge",),
    "first": ("edge",), "second": ("edge",), "about": ("edge",), "a": ("edge",), "b": ("edge",),
    "seam": ("seam", "dart"), "dart": ("dart",), "darts": ("dart",), "corner": ("corner",),
    "mark": ("notch", "hole"), "marks": ("notch", "hole"), "notches": ("notch",),
    "between": ("notch",),
    "holes": ("hole",), "line": ("line",), "label": ("label",), "level": ("level",),
    "sheet": ("sheet",), "other": ("piece",), "by": ("edge", "line"), "seams": ("seam",),
    "body": ("body",),
    "picture": ("photograph",), "pin": ("pin",), "pins": ("pin",),
    "opening": ("opening",), "closing": ("closing",), "row": ("row",),
    "things": ("piece", "edge", "corner", "line", "label"),
    "id": ("piece", "seam", "dart", "edge", "line", "label", "level", "sheet", "photograph",
        "body"),
}  # fmt: skip
"""Arguments that name things, and what kinds of things may stand there."""

ROOM_PX: Final = 24
"""The field that gets the keys is not at the very rim of the form: its words are seen as well."""

ONE_BY_ONE: Final = ("a", "b")
"""Lists that take one thing each, so that two chosen edges become the two sides of a seam."""


class EditForm(QWidget):
    """One edit as a form. `taken` tells that something was taken from the table."""

    closed = Signal()
    taken = Signal()

    def __init__(self, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._wishes, self._scheme = wishes, scheme
        self._bench: Bench | None = None
        self._row: Row | None = None
        self._leave: Callable[[], None] | None = None
        self._arguments: dict[str, Argument] = {}
        self._needed: set[str] = set()
        self._active: Argument | None = None
        self._is_at_work = False
        self._space = QScrollArea()
        self._space.setWidgetResizable(True)
        self._space.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self._space.setFrameShape(QFrame.Shape.NoFrame)
        self._says = QLabel()
        self._says.setObjectName("form_refusal")
        self._says.setWordWrap(True)
        self._says.setContentsMargins(14, 6, 14, 0)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self._space, 1)
        whole.addWidget(self._says)
        whole.addWidget(self._foot())
        self.dress(wishes, scheme)
        self._say("")

    def _foot(self) -> QWidget:
        self._buttons = {word: QPushButton(word) for word in ("Cancel", "Keep")}
        deeds = {"Cancel": self.cancel, "Keep": self.keep}
        tips = {"Cancel": "Do nothing (Escape)", "Keep": "Do it, as one step (Enter)"}
        for word, button in self._buttons.items():
            button.setObjectName(f"form_{word.lower()}")
            button.setToolTip(tips[word])
            # Qt hands `checked` to whatever takes an argument.
            button.clicked.connect(lambda _checked=False, deed=deeds[word]: deed())
        foot = QWidget()
        keys = QLabel("Enter keeps, Escape drops")
        keys.setObjectName("quiet")
        keys.setFont(font(SMALL_PX))
        row = line_of(*self._buttons.values())
        row.insertWidget(0, keys)
        row.setContentsMargins(14, 8, 14, 10)
        foot.setLayout(row)
        return foot

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other units or colours; a form that is open is built anew, and stays filled in."""
        self._wishes, self._scheme = wishes, scheme
        self.setStyleSheet(f"QLabel#unit, QLabel#quiet {{ color: {scheme.quiet}; }}")
        if self._row is not None and self._bench is not None:
            kept = {name: one.taken_down() for name, one in self._arguments.items()}
            at = self._place_of_keys()
            self._show(self._row, self._bench)
            for name, value in kept.items():
                self._arguments[name].put_back(value)
            self.try_it()
            if at is not None:
                list(stops_in(self))[at].setFocus()

    def _place_of_keys(self) -> int | None:
        """Which stop of Tab has the keys; None where none of them has."""
        held = self.window().focusWidget()
        return next((at for at, one in enumerate(stops_in(self)) if one is held), None)

    # Building

    def start(self, row: Row, bench: Bench) -> None:
        """Show the form of an edit, filled with what is chosen, and give it the keys."""
        self._show(row, bench)
        self.take_keys()

    def _show(self, row: Row, bench: Bench) -> None:
        self._stop()
        self._row, self._bench = row, bench
        self._arguments, self._needed, self._active = {}, set(), None
        docs = next(one for one in edit_docs() if one["edit"] == row.name)
        self._space.setWidget(self._page(docs))
        self._leave = bench.subscribe(self._follow)
        self._fill()
        tab_through(self)
        self.try_it()

    def take_keys(self) -> None:
        """The keys go to what is missing, else to a value that can be said, else to Keep."""
        values = [one for one in self._arguments.values() if not one.kinds]
        blank = [one for one in values if _is_blank(one)]
        for one in (*self._missing(), *blank, *values):
            if one.take_keys():
                self._space.ensureWidgetVisible(one, 0, ROOM_PX)
                return
        self._buttons["Keep"].setFocus()

    def _missing(self) -> list[Argument]:
        """What has to be said and is not yet."""
        return [one for name, one in self._arguments.items()
                if name in self._needed and _is_blank(one)]  # fmt: skip

    @property
    def title(self) -> str:
        """The edit's name as words; nothing while no form is open."""
        return "" if self._row is None else words_of_edit(self._row.name)

    def _page(self, docs: dict[str, Any]) -> QWidget:
        page = QWidget()
        rows = QVBoxLayout(page)
        rows.setContentsMargins(14, 6, 14, 12)
        rows.setSpacing(5)
        head = QLabel(self.title)
        head.setFont(font(HEADING_PX, strong=True))
        meaning = QLabel(_sentence(docs["meaning"]))
        meaning.setWordWrap(True)
        meaning.setObjectName("quiet")
        rows.addWidget(head)
        rows.addWidget(meaning)
        if docs["edit"] in shown_edits():
            example = QLabel()
            example.setPixmap(example_picture(docs["edit"], self._scheme, SMALL))
            example.setAccessibleName("Before and after")
            rows.addWidget(example)
        for argument in docs["arguments"]:
            rows.addSpacing(5)
            self._add(rows, docs["edit"], argument)
        rows.addStretch(1)
        return page

    def _add(self, rows: QVBoxLayout, edit: str, docs: dict[str, Any]) -> None:
        name, words = docs["name"], _sentence(docs["meaning"])
        made = make_argument(edit, docs, self._wishes, self._scheme)
        made.setObjectName(f"argument_{name}")
        made.setAccessibleName(words)
        made.typed.connect(self.try_it)
        made.entered.connect(self._enter)
        if docs["needed"]:
            self._needed.add(name)
        if not isinstance(made, SwitchArgument | BodyArgument):
            label = QLabel(words if docs["needed"] else f"{words} (may stay empty)")
            label.setWordWrap(True)
            label.setBuddy(made)
            rows.addWidget(label)
        rows.addWidget(made)
        self._arguments[name] = made
        first = self._arguments.get("a")
        if isinstance(made, MateArgument) and isinstance(first, ThingsArgument):
            made.follow(first)

    # Filling from what is chosen

    def _fill(self) -> None:
        """Each field that names a thing takes what is chosen, one after the other."""
        bench = self._bench
        if bench is None:
            return
        left = list(bench.chosen)
        for name, argument in self._arguments.items():
            argument.renew(bench.project)
            if not argument.kinds or not self._takes_first(name):
                continue
            takes_all = isinstance(argument, ThingsArgument) and name not in ONE_BY_ONE
            for own in [tuple(left)] if takes_all else [(one,) for one in left]:
                if argument.take(bench.project, own):
                    # The piece of a chosen edge leaves the edge for a field that asks for one.
                    named = {one for one in own if kind_of(bench.project, one) in argument.kinds}
                    left = [one for one in left if one not in named]
                    break
        self._go_on()

    def _takes_first(self, name: str) -> bool:
        """Only what is needed is filled unasked, and the seam that marks may be set on."""
        return name in self._needed or name == "seam"

    def _enter(self, argument: Argument) -> None:
        self._active = argument

    def _go_on(self) -> None:
        """The next empty field that names a thing takes what is chosen next."""
        rows = self._arguments.items()
        empty = [one for name, one in rows if one.kinds and name in self._needed and one.is_empty()]
        if empty:
            self._active = empty[0]

    def _follow(self, change: Change) -> None:
        bench = self._bench
        if bench is None or self._is_at_work:
            return
        if change.kind == "opened":
            self.cancel()
        elif change.kind == "edited":
            for argument in self._arguments.values():
                argument.renew(bench.project)
        elif change.kind == "chosen" and bench.chosen:
            self._take_chosen(bench)

    def press(self, at_mm: Mm2, reach_mm: float) -> None:
        """A place of the table was pressed while the form waits."""
        if self._bench is None or self._row is None:
            return
        # What is half filled is gone on with, whatever field is typed in.
        waiting = [one for one in self._arguments.values() if one.is_half()]
        for argument in (self._active, *waiting):
            if argument is not None and argument.pick(self._bench.project, at_mm, reach_mm):
                break

    def _take_chosen(self, bench: Bench) -> None:
        if self._active is not None and self._active.take(bench.project, bench.chosen):
            self._go_on()
            self.taken.emit()

    # Doing

    def edit(self) -> Edit:
        """The edit as it is filled in; EditRefused or NotUnderstood where something is missing."""
        if self._row is None:
            raise EditRefused("No form is open.")
        plain: dict[str, Any] = {"edit": self._row.name}
        for name, argument in self._arguments.items():
            value = argument.plain()
            if value is not UNSET:
                plain[name] = value
            elif name in self._needed:
                words = argument.accessibleName().split(":")[0].lower()
                raise NotUnderstood(f"Still missing: {words}.")
        return decode_plain(plain)

    def try_it(self) -> bool:
        """Show on the table what the edit would do, or here why it cannot be done."""
        return self._doing(self._preview)

    def keep(self) -> bool:
        """Do it, and close the form; False where it cannot be done."""
        is_done = self._doing(self._do)
        if is_done:
            self._end()
        return is_done

    def cancel(self) -> None:
        """Close the form and do nothing."""
        if self._bench is not None and self._row is not None:
            self._bench.drop_preview()
        self._end()

    def _preview(self, bench: Bench) -> None:
        if not bench.preview(self.edit()):
            raise EditRefused(bench.refusal or "It cannot be done.")

    def _do(self, bench: Bench) -> None:
        before = bench.project.seams
        bench.do(self.edit())
        # As the tools leave them: a dart just made is chosen, and its card says what it is.
        made = [dart.id for dart in darts_of(bench.project) if dart.id not in before]
        if made:
            bench.choose(made)

    def _doing(self, deed: Callable[[Bench], None]) -> bool:
        if self._bench is None:
            return False
        self._is_at_work = True
        try:
            deed(self._bench)
        except WedgeworkError as error:
            # What is not filled in yet is no mistake.
            self._say(error.sentence, wrong=not isinstance(error, NotUnderstood))
            self._bench.drop_preview()
            return False
        finally:
            self._is_at_work = False
        self._say("")
        return True

    def _stop(self) -> None:
        if self._leave is not None:
            self._leave()
            self._leave = None

    def _end(self) -> None:
        self._stop()
        self._row = None
        self.closed.emit()

    def _say(self, sentence: str, *, wrong: bool = False) -> None:
        # State is never colour alone.
        words = {name: row.accessibleName() for name, row in self._arguments.items()}
        said = in_form_words(sentence, words)
        self._says.setText(f"⊘ {said}" if wrong else said)
        self._says.setVisible(bool(sentence))
        self._says.setStyleSheet(f"color: {self._scheme.stop if wrong else self._scheme.quiet};")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter keeps, or goes to what is missing; on a button it presses that one. Escape closes.

        With Ctrl it keeps from everywhere.
        """
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            has_ctrl = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
            if has_ctrl or not pressed_by_enter(self):
                self._enter_pressed()
        elif event.key() == Qt.Key.Key_Escape:
            self.cancel()
        else:
            super().keyPressEvent(event)

    def _enter_pressed(self) -> None:
        if not self.keep() and self._missing():
            self.take_keys()


def _is_blank(argument: Argument) -> bool:
    """Whether nothing stands in it; what cannot be read is something."""
    try:
        return argument.is_empty()
    except NotUnderstood:
        return False


def _sentence(meaning: str) -> str:
    """A meaning as the words over a field; what it quotes as code is shown as words."""
    plain = meaning.replace("`", "")
    return plain[:1].upper() + plain[1:]


def make_argument(edit: str, docs: dict[str, Any], wishes: Wishes, scheme: Scheme) -> Argument:
    """The field that suits an argument of an edit."""
    name, kind = docs["name"], docs["type"]
    if name in KINDS and kind in {"text", "text or nothing"}:
        return ThingArgument(KINDS[name], needed=docs["needed"])
    if name in KINDS and kind == "list of text":
        is_mate = (edit, name) == ("join", "b")
        return MateArgument(KINDS[name]) if is_mate else ThingsArgument(KINDS[name])
    if kind in TABLES:
        return RowsArgument(TABLES[kind], wishes, scheme)
    maker = MAKERS.get(kind)
    return maker(docs, wishes, scheme) if maker else _plain_argument(docs, wishes)


def _plain_argument(docs: dict[str, Any], wishes: Wishes) -> Argument:
    kind, first = docs["type"], docs.get("default")
    if "number" in kind:
        return NumberArgument(docs["unit"], wishes, first, whole=kind.startswith("whole"))
    if " | " in kind:
        missing = None if docs["needed"] or first is not None else "as it is"
        words = ((word, word.replace("_", " ")) for word in kind.split(" | "))
        return ChoiceArgument(words, first, missing)
    if docs["name"] == "measure":
        rows = [(name, measure_words(name)) for name in MEASURES if "girth" in name]
        return ChoiceArgument(rows, None, "none")
    return WordArgument(str(first or ""))


def _point(docs: dict[str, Any], wishes: Wishes) -> PointArgument:
    """Two numbers: how far, or a place, which can be pressed on the table."""
    return PointArgument(docs["unit"], wishes, is_place=not docs["name"].startswith("by_"))


def _switch(docs: dict[str, Any]) -> Argument:
    """Yes or no; where leaving it out leaves things as they are, that is a choice too."""
    if not docs["needed"] and docs.get("default") is None:
        return ChoiceArgument(((True, "yes"), (False, "no")), None, "as it is")
    return SwitchArgument(_sentence(docs["meaning"]), docs.get("default"))


TABLES: Final = {
    "list of [number, number]": POINTS,
    "list of number or number": DISTANCES,
    "list of intake station": STATIONS,
    "list of level point": LEVEL_POINTS,
    "list of slash line": SLASHES,
    "[[number, number], [number, number], [number, number], [number, number]]": PIXELS,
    "list of slit": SLITS,
}
"""Kinds of lists that are typed as rows, with their columns."""

MAKERS: Final[dict[str, Callable[[dict[str, Any], Wishes, Scheme], Argument]]] = {
    "list of edge data": lambda _docs, wishes, scheme: OutlineArgument(wishes, scheme),
    "list of number or any": lambda docs, *_: TurnsArgument(str(docs.get("default") or "")),
    "list of text": lambda *_: WordsArgument(""),
    "bytes in base64": lambda *_: FileArgument(),
    "named values": lambda _docs, wishes, _scheme: BodyArgument(wishes),
    "list of list of number or text or place": lambda *given: AnchorsArgument(given[2]),
    "place or nothing": lambda _docs, wishes, _scheme: PlaceArgument(wishes),
    "place": lambda _docs, wishes, _scheme: PlaceArgument(wishes),
    "[number, number]": lambda docs, wishes, _scheme: _point(docs, wishes),
    "[number, number] or nothing": lambda docs, wishes, _scheme: _point(docs, wishes),
    "true or false or nothing": lambda docs, *_: _switch(docs),
    "true or false": lambda docs, *_: _switch(docs),
}  # fmt: skip
"""Fields of the other kinds of arguments."""
