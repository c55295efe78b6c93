"""The findings, gravest first: each leads to its place and offers what would mend it."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
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
from wedgework.window.icons import picture
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.theme import SMALL_PX, font

GRAVE_WORDS = {
    "stops_cutting": "stops cutting",
    "look_again": "look again",
    "good_to_know": "good to know",
}
MOST_MENDS = 3


class FindingBox(QFrame):
    """One finding. A press, or Enter, leads to its place."""

    led_to = Signal(object)
    mended = Signal(object)
    accepted = Signal(object)

    def __init__(self, finding: Finding, scheme: Scheme) -> None:
        super().__init__()
        self.finding = finding
        self.setObjectName("finding")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(f"{GRAVE_WORDS[finding.grave]}: {finding.message}")
        self.setStyleSheet(
            f"QFrame#finding {{ border: 1px solid transparent; border-bottom: 1px solid"
            f" {scheme.hair}; }} QFrame#finding:focus {{ border: 1px solid {scheme.chosen}; }}"
        )
        rows = QVBoxLayout(self)
        rows.setContentsMargins(12, 8, 12, 9)
        rows.setSpacing(5)
        rows.addLayout(self._head(scheme))
        rows.addWidget(self._sentence())
        rows.addLayout(self._buttons())

    def _head(self, scheme: Scheme) -> QHBoxLayout:
        sign = QLabel()
        sign.setPixmap(picture(self.finding.grave, scheme, 16))
        word = "accepted" if self.finding.accepted else GRAVE_WORDS[self.finding.grave]
        grave = QLabel(word)
        grave.setFont(font(SMALL_PX))
        grave.setStyleSheet(f"color: {scheme.quiet};")
        head = QHBoxLayout()
        head.setSpacing(7)
        head.addWidget(sign)
        head.addWidget(grave, 1)
        return head

    def _sentence(self) -> QLabel:
        sentence = QLabel(self.finding.message)
        sentence.setWordWrap(True)
        return sentence

    def _buttons(self) -> QVBoxLayout:
        rows = QVBoxLayout()
        rows.setSpacing(4)
        for mend in self.finding.mends[:MOST_MENDS]:
            rows.addWidget(self._mend_button(mend))
        if not self.finding.accepted and self.finding.grave != "good_to_know":
            button = QPushButton("Accept…")
            button.setFlat(True)
            button.setToolTip("Accept this, with a reason; it is told again when it grows")
            button.clicked.connect(lambda: self.accepted.emit(self.finding))
            rows.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        return rows

    def _mend_button(self, mend: Mend) -> QPushButton:
        button = QPushButton(mend.label)
        button.setObjectName("mend")
        button.setToolTip(mend.label)
        button.clicked.connect(lambda: self.mended.emit(mend))
        return button

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Lead to the place."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.led_to.emit(self.finding)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter leads to the place."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.led_to.emit(self.finding)
        else:
            super().keyPressEvent(event)


class Findings(QScrollArea):
    """The list. It is built anew only when other findings are found."""

    led_to = Signal(object)
    mended = Signal(object)
    accepted = Signal(object)

    MOST = 60
    """More rows than this nobody reads; the rest is counted."""

    def __init__(self, _wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self._shown: tuple[Finding, ...] = ()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self._build()

    def dress(self, _wishes: Wishes, scheme: Scheme) -> None:
        """Other colours; messages carry their numbers as the checks say them."""
        self._scheme = scheme
        self._build()

    def show_findings(self, findings: Iterable[Finding]) -> None:
        """Show these, accepted ones last."""
        wanted = tuple(sorted(findings, key=lambda one: one.accepted))
        if len(wanted) != len(self._shown) or any(
            one is not other for one, other in zip(wanted, self._shown, strict=True)
        ):
            self._shown = wanted
            self._build()

    def _build(self) -> None:
        inside = QWidget()
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        for finding in self._shown[: self.MOST]:
            box = FindingBox(finding, self._scheme)
            box.led_to.connect(self.led_to)
            box.mended.connect(self.mended)
            box.accepted.connect(self.accepted)
            rows.addWidget(box)
        if len(self._shown) > self.MOST:
            rows.addWidget(QLabel(f"  … and {len(self._shown) - self.MOST} more."))
        rows.addStretch(1)
        place = self.verticalScrollBar().value()
        self.setWidget(inside)
        self.verticalScrollBar().setValue(place)
