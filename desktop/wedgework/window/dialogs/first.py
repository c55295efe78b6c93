"""The first page, which asks where the pieces come from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt, Signal, SignalInstance
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from wedgework.window.icons import picture
from wedgework.window.palette import Scheme
from wedgework.window.pictures.whole import project_picture
from wedgework.window.theme import HEADING_PX, SMALL_PX, TEXT_PX, font

COLUMN_PX = 268
PICTURE_PX, WORD_PX = 96, 26


@dataclass(frozen=True, slots=True)
class Offer:
    """Something that can be opened: a word for it, what is said of it, and its path."""

    words: str
    says: str
    path: Path
    has_picture: bool = False


class DemoButton(QPushButton):
    """A demo: its pieces as they lie on the table, and its name under them.

    The picture is drawn when it is first seen, so that the window opens at once.
    """

    def __init__(self, offer: Offer, scheme: Scheme, chosen: SignalInstance) -> None:
        super().__init__()
        self._offer, self._scheme = offer, scheme
        self.setObjectName(f"offer_{offer.path.name}")
        self.setAccessibleName(offer.words)
        self.setAccessibleDescription(offer.says)
        self.setToolTip(offer.says)
        self.setFixedHeight(PICTURE_PX + WORD_PX)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(lambda: chosen.emit(offer.path))

    def paintEvent(self, event: QPaintEvent) -> None:
        """The button's frame, the picture, the name."""
        super().paintEvent(event)
        painter = QPainter(self)
        size = QSize(self.width() - 20, PICTURE_PX - 14)
        painter.drawPixmap(10, 8, project_picture(self._offer.path, self._scheme, size))
        painter.setFont(font(TEXT_PX))
        painter.setPen(QColor(self._scheme.ink))
        box = QRectF(12, PICTURE_PX - 6, self.width() - 24, WORD_PX)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, self._offer.words)
        painter.end()


class FirstPage(QScrollArea):
    """The ways in, and what was open lately."""

    open_pressed = Signal()
    measures_pressed = Signal()
    draft_pressed = Signal()
    photograph_pressed = Signal()
    piece_pressed = Signal()
    path_chosen = Signal(object)
    recovery_chosen = Signal(object)

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self._demos: Sequence[Offer] = ()
        self._recent: Sequence[Offer] = ()
        self._lost: Sequence[Offer] = ()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.renew()

    def dress(self, scheme: Scheme) -> None:
        """Other colours."""
        self._scheme = scheme
        self.renew()

    def offer(self, demos: Sequence[Offer], recent: Sequence[Offer], lost: Sequence[Offer]) -> None:
        """What can be opened: demos, what was open lately, and work that was never saved."""
        self._demos, self._recent, self._lost = demos, recent, lost
        self.renew()

    def renew(self) -> None:
        """Build the page."""
        page = QWidget()
        page.setStyleSheet(f"QWidget#page {{ background: {self._scheme.ground}; }}")
        page.setObjectName("page")
        rows = QVBoxLayout(page)
        rows.setContentsMargins(40, 40, 40, 40)
        rows.setSpacing(22)
        rows.addStretch(2)
        rows.addLayout(self._head())
        if self._lost:
            rows.addWidget(self._lost_box(), 0, Qt.AlignmentFlag.AlignHCenter)
        columns = QHBoxLayout()
        columns.setSpacing(20)
        columns.addStretch(1)
        first = QVBoxLayout()
        first.setSpacing(20)
        first.addWidget(self._from_file())
        first.addWidget(self._from_paper())
        first.addStretch(1)
        columns.addLayout(first)
        for column in (self._from_measures(), self._from_demo()):
            columns.addWidget(column, 0, Qt.AlignmentFlag.AlignTop)
        columns.addStretch(1)
        rows.addLayout(columns)
        rows.addStretch(3)
        self.setWidget(page)

    def _head(self) -> QVBoxLayout:
        head = QVBoxLayout()
        head.setSpacing(6)
        sign = QLabel()
        sign.setPixmap(picture("wedgework", self._scheme, 52))
        sign.setAlignment(Qt.AlignmentFlag.AlignCenter)
        head.addWidget(sign)
        head.addWidget(self._words("Where do the pieces come from?", HEADING_PX + 7, strong=True))
        line = "Will these pieces join, and will the joined shape fit? Find out before you cut."
        head.addWidget(self._words(line, TEXT_PX, quiet=True))
        return head

    def _words(
        self, text: str, size_px: int, *, strong: bool = False, quiet: bool = False
    ) -> QLabel:
        label = QLabel(text)
        label.setFont(font(size_px, strong=strong))
        label.setAlignment(Qt.AlignmentFlag.AlignCenter)
        label.setStyleSheet(f"color: {self._scheme.quiet if quiet else self._scheme.ink};")
        return label

    def _column(self, picture_name: str, title: str, says: str) -> tuple[QFrame, QVBoxLayout]:
        box = QFrame()
        box.setObjectName("way")
        box.setFixedWidth(COLUMN_PX)
        scheme = self._scheme
        box.setStyleSheet(
            f"QFrame#way {{ background: {scheme.panel}; border: 1px solid {scheme.hair};"
            " border-radius: 6px; }"
        )
        rows = QVBoxLayout(box)
        rows.setContentsMargins(18, 16, 18, 18)
        rows.setSpacing(8)
        head = QHBoxLayout()
        sign = QLabel()
        sign.setPixmap(picture(picture_name, scheme, 22))
        word = QLabel(title)
        word.setFont(font(HEADING_PX, strong=True))
        head.addWidget(sign)
        head.addWidget(word, 1)
        rows.addLayout(head)
        text = QLabel(says)
        text.setWordWrap(True)
        text.setStyleSheet(f"color: {scheme.quiet};")
        rows.addWidget(text)
        return box, rows

    def _from_file(self) -> QFrame:
        says = "A project, or a drawing at true size as SVG. Or drop it on this window."
        box, rows = self._column("open", "From a file", says)
        button = QPushButton("Open a file…")
        button.setObjectName("first_open")
        button.setDefault(True)
        button.clicked.connect(self.open_pressed)
        rows.addWidget(button)
        if self._recent:
            rows.addWidget(self._small("Open lately"))
            for offer in self._recent:
                rows.addWidget(self._link(offer))
        return box

    def _from_paper(self) -> QFrame:
        says = (
            "Photograph or scan the pieces beside something of a known size, and trace them. "
            "Or draw them by lengths and angles."
        )
        box, rows = self._column("photograph", "From paper", says)
        ways = (("photograph", "Lay a photograph…", self.photograph_pressed),
                ("piece", "Draw a piece", self.piece_pressed))  # fmt: skip
        for name, words, pressed in ways:
            button = QPushButton(words)
            button.setObjectName(f"first_{name}")
            button.clicked.connect(pressed)
            rows.addWidget(button)
        return box

    def _from_measures(self) -> QFrame:
        says = (
            "Type the measures of a body, and a one-piece suit is drafted from them: "
            "front and back with their seams and levels."
        )
        box, rows = self._column("set_body", "From measurements", says)
        draft = QPushButton("Draft a suit block…")
        draft.setObjectName("first_draft")
        draft.clicked.connect(self.draft_pressed)
        rows.addWidget(draft)
        button = QPushButton("Enter measures…")
        button.setObjectName("first_measures")
        button.clicked.connect(self.measures_pressed)
        rows.addWidget(button)
        return box

    def _from_demo(self) -> QFrame:
        says = "Costumes of an invented river pageant, to try things on."
        box, rows = self._column("wedgework", "From a demo", says)
        for offer in self._demos:
            if offer.has_picture:
                rows.addWidget(DemoButton(offer, self._scheme, self.path_chosen))
            else:
                rows.addWidget(self._link(offer))
        return box

    def _small(self, text: str) -> QLabel:
        label = QLabel(text)
        label.setFont(font(SMALL_PX))
        label.setStyleSheet(f"color: {self._scheme.quiet}; margin-top: 6px;")
        return label

    def _link(self, offer: Offer) -> QPushButton:
        button = QPushButton(offer.words)
        button.setObjectName(f"offer_{offer.path.name}")
        button.setToolTip(offer.says)
        button.setAccessibleDescription(offer.says)
        button.setStyleSheet("text-align: left;")
        button.clicked.connect(lambda: self.path_chosen.emit(offer.path))
        return button

    def _lost_box(self) -> QFrame:
        says = "This work was never saved. Nothing that was let go of the mouse is lost."
        box, rows = self._column("history", "Go on where it ended", says)
        box.setFixedWidth(2 * COLUMN_PX)
        for offer in self._lost:
            button = QPushButton(f"Go on with {offer.words}")
            button.setToolTip(offer.says)
            button.clicked.connect(lambda _=False, path=offer.path: self.recovery_chosen.emit(path))
            rows.addWidget(button)
        return box
