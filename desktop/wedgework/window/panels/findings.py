"""The list of findings, the gravest first: each leads to its place and offers what would mend it.

Up and down go from one to the next, Enter leads there, M does the first mend, A accepts. What was
accepted lies folded at the end.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Final, cast

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from wedgework.checks import Finding, Mend
from wedgework.window.fields import pressed_by_enter
from wedgework.window.icons import picture
from wedgework.window.palette import Scheme
from wedgework.window.panels.empty import Empty
from wedgework.window.panels.short import ShortButton, ShortLabel
from wedgework.window.preferences import Wishes
from wedgework.window.tabbing import tab_through
from wedgework.window.theme import SMALL_PX, font

GRAVE_WORDS: Final = {
    "stops_cutting": "stops cutting",
    "look_again": "look again",
    "good_to_know": "good to know",
}
SIGN_PX: Final = 16
MOST_PLACES: Final = 3
LETTERS: Final = frozenset({Qt.Key.Key_M, Qt.Key.Key_A})


class FindingBox(QFrame):
    """One finding. A press leads to its place; keys are those of the list."""

    led_to = Signal(object)
    mended = Signal(object)
    accepted = Signal(object)
    stepped = Signal(object, int)

    def __init__(self, finding: Finding, scheme: Scheme, place: str) -> None:
        super().__init__()
        self.finding = finding
        self.setObjectName("finding")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAccessibleName(f"{self._grave_words()}: {finding.message}")
        self.setStyleSheet(
            f"QFrame#finding {{ border: 1px solid transparent; border-bottom: 1px solid"
            f" {scheme.hair}; }} QFrame#finding:focus {{ border: 1px solid {scheme.chosen}; }}"
        )
        rows = QVBoxLayout(self)
        rows.setContentsMargins(12, 8, 12, 9)
        rows.setSpacing(5)
        rows.addLayout(self._head(scheme, place))
        rows.addWidget(self._sentence())
        rows.addLayout(self._buttons())

    def _grave_words(self) -> str:
        words = GRAVE_WORDS[self.finding.grave]
        return f"accepted, {words}" if self.finding.accepted else words

    def _head(self, scheme: Scheme, place: str) -> QHBoxLayout:
        sign = QLabel()
        grave = self.finding.grave
        sign.setPixmap(picture(grave, scheme, SIGN_PX, quiet=self.finding.accepted))
        words = QLabel(self._grave_words())
        where = ShortLabel(place)
        where.setAlignment(Qt.AlignmentFlag.AlignRight)
        for label in (words, where):
            label.setFont(font(SMALL_PX))
            label.setStyleSheet(f"color: {scheme.quiet};")
        head = QHBoxLayout()
        head.setSpacing(7)
        head.addWidget(sign)
        head.addWidget(words)
        head.addWidget(where, 1)
        return head

    def _sentence(self) -> QLabel:
        sentence = QLabel(_bound(self.finding.message))
        sentence.setWordWrap(True)
        sentence.setTextFormat(Qt.TextFormat.PlainText)
        return sentence

    def _buttons(self) -> QVBoxLayout:
        rows = QVBoxLayout()
        rows.setSpacing(4)
        for mend in () if self.finding.accepted else self.finding.mends:
            rows.addWidget(self._mend_button(mend))
        if self.can_accept:
            button = QPushButton("Accept…")
            button.setObjectName("accept")
            button.setFlat(True)
            button.setToolTip("Accept this, with a reason; it is told again when it grows (A)")
            # Qt hands `checked` to whatever takes an argument.
            button.clicked.connect(lambda _checked=False: self.accepted.emit(self.finding))
            rows.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        return rows

    @property
    def can_accept(self) -> bool:
        """Whether there is something to accept: what is only good to know asks for nothing."""
        return not self.finding.accepted and self.finding.grave != "good_to_know"

    def _mend_button(self, mend: Mend) -> QPushButton:
        button = ShortButton(mend.label)
        button.setObjectName("mend")
        button.setCursor(Qt.CursorShape.ArrowCursor)
        button.clicked.connect(lambda _checked=False: self.mended.emit(mend))
        return button

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """The press is for this box; what follows depends on where it is let go."""
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Lead to the place."""
        is_inside = self.rect().contains(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton and is_inside:
            self.led_to.emit(self.finding)

    def event(self, event: QEvent) -> bool:
        """M and A are the list's while it has the keys, and no tool's."""
        if event.type() == QEvent.Type.ShortcutOverride:
            pressed = cast("QKeyEvent", event)
            if pressed.key() in LETTERS and not pressed.modifiers():
                event.accept()
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter leads there or presses the button that has the keys, M mends, A accepts."""
        is_enter = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
        if is_enter and pressed_by_enter(self):
            return
        deed = self._deeds().get(event.key())
        if deed is None or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            super().keyPressEvent(event)
        else:
            deed()

    def _deeds(self) -> dict[int, Callable[[], None]]:
        found: dict[int, Callable[[], None]] = {
            Qt.Key.Key_Return: lambda: self.led_to.emit(self.finding),
            Qt.Key.Key_Enter: lambda: self.led_to.emit(self.finding),
            Qt.Key.Key_Down: lambda: self.stepped.emit(self, 1),
            Qt.Key.Key_Up: lambda: self.stepped.emit(self, -1),
        }
        if self.finding.mends and not self.finding.accepted:
            found[Qt.Key.Key_M] = lambda: self.mended.emit(self.finding.mends[0])
        if self.can_accept:
            found[Qt.Key.Key_A] = lambda: self.accepted.emit(self.finding)
        return found


class Findings(QScrollArea):
    """The list. Boxes of findings that stay are kept, so an edit builds only what is new."""

    led_to = Signal(object)
    mended = Signal(object)
    accepted = Signal(object)
    cut_asked = Signal()
    """The one button of the empty list was pressed: on to cutting."""

    MOST = 60
    """More rows than this nobody reads; the rest is counted."""

    def __init__(self, _wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self._call: Callable[[str], str] = str
        self._shown: tuple[Finding, ...] = ()
        self._boxes: list[FindingBox] = []
        self._folded = True
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self._build()

    def dress(self, _wishes: Wishes, scheme: Scheme) -> None:
        """Other colours; messages carry their numbers as the checks say them."""
        self._scheme, self._boxes = scheme, []
        self._build()

    def show_findings(
        self, findings: Iterable[Finding], call: Callable[[str], str] | None = None
    ) -> None:
        """Show these, accepted ones last. `call` gives the name of what has an id."""
        self._call = call or self._call
        wanted = tuple(sorted(findings, key=lambda one: one.accepted))
        if len(wanted) != len(self._shown) or any(
            one is not other for one, other in zip(wanted, self._shown, strict=True)
        ):
            self._shown = wanted
            self._build()

    @property
    def boxes(self) -> tuple[FindingBox, ...]:
        """What is listed, in order."""
        return tuple(self._boxes)

    def _build(self) -> None:
        held = next((i for i, box in enumerate(self._boxes) if _has_focus(box)), None)
        old = {id(box.finding): box for box in self._boxes}
        inside = QWidget()
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        open_ones = [one for one in self._shown if not one.accepted]
        done = [one for one in self._shown if one.accepted]
        listed = open_ones[: self.MOST] + ([] if self._folded else done)
        self._boxes = [old.get(id(one)) or self._box(one) for one in listed]
        for box in self._boxes[: len(open_ones)]:
            rows.addWidget(box)
        self._add_ends(rows, open_ones, done)
        place = self.verticalScrollBar().value()
        # What is taken away may be the sender of the very signal that led here.
        if (before := self.takeWidget()) is not None:
            before.deleteLater()
        self.setWidget(inside)
        tab_through(self)
        self.verticalScrollBar().setValue(place)
        if held is not None and self._boxes:
            self._boxes[min(held, len(self._boxes) - 1)].setFocus()

    def _add_ends(self, rows: QVBoxLayout, open_ones: list[Finding], done: list[Finding]) -> None:
        """What follows on the open ones: that there are none, how many more, accepted ones."""
        if not open_ones:
            nothing = Empty("Nothing stops cutting.", "Export…", self.cut_asked.emit)
            nothing.dress(self._scheme)
            rows.addWidget(nothing)
        if len(open_ones) > self.MOST:
            rows.addWidget(self._quiet(f"… and {len(open_ones) - self.MOST} more."))
        if done:
            rows.addWidget(self._fold_button(len(done)), 0, Qt.AlignmentFlag.AlignLeft)
        for box in self._boxes[min(len(open_ones), self.MOST) :]:
            rows.addWidget(box)
        rows.addStretch(1)

    def _quiet(self, words: str) -> QLabel:
        label = QLabel(words)
        label.setStyleSheet(f"color: {self._scheme.quiet};")
        label.setContentsMargins(12, 8, 12, 8)
        return label

    def _fold_button(self, count: int) -> QPushButton:
        button = QPushButton(f"{count} accepted {'▸' if self._folded else '▾'}")
        button.setObjectName("accepted_ones")
        button.setFlat(True)
        button.setToolTip("Show or hide what was accepted")
        button.clicked.connect(self._swap_fold)
        return button

    def _swap_fold(self) -> None:
        self._folded = not self._folded
        self._build()

    def _box(self, finding: Finding) -> FindingBox:
        names = list(dict.fromkeys(self._call(own) for own in finding.where))
        place = ", ".join(names[:MOST_PLACES])
        box = FindingBox(finding, self._scheme, place)
        box.led_to.connect(self.led_to)
        box.mended.connect(self.mended)
        box.accepted.connect(self.accepted)
        box.stepped.connect(self._step)
        return box

    def _step(self, box: FindingBox, by: int) -> None:
        """The focus goes to the next box, or the one before."""
        at = min(max(self._boxes.index(box) + by, 0), len(self._boxes) - 1)
        self._boxes[at].setFocus(Qt.FocusReason.TabFocusReason)
        self.ensureWidgetVisible(self._boxes[at], 0, 8)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The list itself has nothing to type in: its first finding takes the keys."""
        super().focusInEvent(event)
        if self._boxes:
            self._boxes[0].setFocus(event.reason())


def _bound(sentence: str) -> str:
    """A sentence in which no number is parted from its unit at the end of a line."""
    return re.sub(r"(?<=\d) (?=mm|%|degrees)", "\N{NO-BREAK SPACE}", sentence)


def _has_focus(box: FindingBox) -> bool:
    focused = box.window().focusWidget()
    return focused is not None and (focused is box or box.isAncestorOf(focused))
