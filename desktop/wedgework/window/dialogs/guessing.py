"""Seams that fit by length and shape: ticked to be joined, other ways where twins are alike."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QLabel, QScrollArea, QWidget

from wedgework.bench import Bench
from wedgework.bench.offers import Offer, offers
from wedgework.edits import Edit
from wedgework.pattern.document import Project, parse_ref
from wedgework.units import format_number
from wedgework.window.dialogs.forms import Form
from wedgework.window.dialogs.telling import tell
from wedgework.window.theme import SMALL_PX, font

TICKED_FROM = 0.4
"""Surer guesses are ticked at first; the maker takes away what is wrong."""

WHY_PX = 300


def ask_guesses(parent: QWidget, bench: Bench) -> tuple[Edit, ...]:
    """The seams that the maker takes, as edits; none where there is nothing to offer."""
    found = offers(bench.project)
    if not found:
        tell(parent, "No seams suggest themselves: no open edges are alike.")
        return ()
    dialog = GuessDialog(parent, bench, found)
    taken = dialog.edits if dialog.exec() else ()
    bench.choose(())
    return taken


class GuessDialog(Form):
    """A row a guess. A row under the pointer or the focus is chosen on the table."""

    def __init__(self, parent: QWidget, bench: Bench, found: tuple[Offer, ...]) -> None:
        super().__init__(parent, "Guess seams", "These edges look as if they were joined", "Join")
        self._bench, self._offers = bench, found
        self._ticks: list[QCheckBox] = []
        self._ways: list[QComboBox] = []
        inside = QWidget()
        self._grid = QGridLayout(inside)
        self._grid.setHorizontalSpacing(16)
        self._grid.setVerticalSpacing(8)
        self._add_heads()
        for row, offer in enumerate(found, start=1):
            self._add_row(row, offer)
        self._grid.setRowStretch(len(found) + 1, 1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setWidget(inside)
        self.rows.addWidget(area, 1)
        self.close_form()
        self.resize(860, min(180 + 46 * len(found), 640))
        self._count()

    def _add_heads(self) -> None:
        for column, words in enumerate(("Seam", "Sure %", "Joined", "Because")):
            head = QLabel(words)
            head.setFont(font(SMALL_PX, strong=True))
            self._grid.addWidget(head, 0, column)

    def _add_row(self, row: int, offer: Offer) -> None:
        tick = QCheckBox(offer.edit.name)
        tick.setChecked(offer.sureness >= TICKED_FROM)
        tick.toggled.connect(self._count)
        tick.toggled.connect(lambda *_: self._show(row - 1))
        sure = QLabel(format_number(100 * offer.sureness, 0))
        sure.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        ways = QComboBox()
        for edit in (offer.edit, *offer.others):
            ways.addItem(_way(self._bench.project, edit), edit)
        ways.setEnabled(bool(offer.others))
        ways.currentIndexChanged.connect(lambda *_: self._show(row - 1))
        why = QLabel(offer.why)
        why.setWordWrap(True)
        why.setFont(font(SMALL_PX))
        why.setMinimumWidth(WHY_PX)
        for column, widget in enumerate((tick, sure, ways, why)):
            self._grid.addWidget(widget, row, column)
        self._ticks.append(tick)
        self._ways.append(ways)

    def _show(self, row: int) -> None:
        edit = self._ways[row].currentData()
        self._bench.choose(parse_ref(text).edge for text in (*edit.a, *edit.b))

    @property
    def edits(self) -> tuple[Edit, ...]:
        """The joins that are ticked, each in the way that was picked."""
        pairs = zip(self._ticks, self._ways, strict=True)
        return tuple(ways.currentData() for tick, ways in pairs if tick.isChecked())

    def _count(self, *_: object) -> None:
        count = len(self.edits)
        self.keep.setText(f"Join {count} seam{'' if count == 1 else 's'}")
        self.keep.setEnabled(count > 0)


def _way(project: Project, edit: Edit) -> str:
    def side(refs: tuple[str, ...] | list[str]) -> str:
        pieces = dict.fromkeys(project.owners[parse_ref(text).edge] for text in refs)
        return " + ".join(project.pieces[own].name or own for own in pieces)

    return f"{side(edit.a)}  with  {side(edit.b)}"  # type: ignore[attr-defined]
