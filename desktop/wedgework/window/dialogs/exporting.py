"""Writing the pieces out: format, paper and place, and a warning of what is not ready."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette, QPixmap
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QComboBox,
    QFileDialog,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QRadioButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from wedgework.checks import Finding
from wedgework.files import FORMATS, Format, WriteOptions, file_bytes
from wedgework.files.atomic import write_atomically
from wedgework.pattern.document import Project
from wedgework.pattern.errors import WedgeworkError
from wedgework.units import PAPER_MM, format_number, parse_length_mm
from wedgework.window.dialogs.forms import Form, open_at, scheme_of
from wedgework.window.dialogs.page_picture import PagePicture
from wedgework.window.dialogs.pages import Pages, Paginator
from wedgework.window.dialogs.telling import asks
from wedgework.window.fields import Field, length_field
from wedgework.window.icons import picture
from wedgework.window.preferences import Wishes

PAGED: Final = ".pdf"
FIRST_PAPERS: Final = ("A4", "A3", "Letter")
WITHOUT_DRAWING: Final = (".csv",)
OWN, ROLL = "Own size", "Roll"
OWN_MM: Final = (610.0, 914.0)
ROLL_MM: Final = 914.0
"""At first; both are common widths of plotters (24 and 36 inches). Common practice, no source."""

LEFT_PX: Final = 340
FIELD_PX: Final = 88
WARNING_PX: Final = 128
CONTENTS: Final = {
    ".svg": "Cut lines, seam lines, marks and labels of every piece. It can be read back "
    "without loss.",
    ".pdf": "Every piece with its cut line, seam line, marks and labels, and a test square to be "
    "measured both ways before anything is cut.",
    ".plt": "Pen and knife moves at true size, in steps of 0.025 mm.",
    ".csv": "A row for each piece: name, how often it is cut, sheet, size and area.",
}


def ask_export(parent: QWidget, project: Project, findings: Sequence[Finding]) -> Path | None:
    """Ask, then write; the file that was written, None where the maker drops it."""
    dialog = ExportDialog(parent, project, findings)
    return dialog.written if dialog.exec() else None


class ExportDialog(Form):
    """Format and paper on the left; on the right what comes out. Findings never forbid it."""

    def __init__(self, parent: QWidget, project: Project, findings: Sequence[Finding]) -> None:
        super().__init__(parent, "Export", "Write the pieces at true size", "Choose a file…")
        self.setObjectName("exporting")
        preferences = getattr(parent.window(), "preferences", None)
        self._wishes: Wishes = preferences.wishes if preferences else Wishes()
        self._project, self._paginator = project, Paginator(project)
        self._scheme = scheme_of(parent)
        self.written: Path | None = None
        self._kinds = [one for one in FORMATS if one.write is not None and one.suffix != ".wedge"]
        self._picture, self._contents = PagePicture(project, self._scheme), QLabel()
        self._says = QLabel()
        self._make_fields()
        self._lay_out(findings)
        self.close_form()
        open_at(self, 900, 560)
        self._follow()

    # Building

    def _make_fields(self) -> None:
        self._formats = QButtonGroup(self)
        for number, kind in enumerate(self._kinds):
            button = QRadioButton(f"{_large(kind.words)} ({kind.suffix})")
            self._formats.addButton(button, number)
        self._formats.button(0).setChecked(True)
        self._formats.idToggled.connect(self._follow)
        self._words = QCheckBox("Words on the pieces")
        self._words.setToolTip("Name, number, side up, seams; labels of your own stay in any case")
        self._words.setChecked(True)
        self._papers = QComboBox()
        others = [name for name in reversed(PAPER_MM) if name not in FIRST_PAPERS]
        self._papers.addItems([*FIRST_PAPERS, *others, OWN, ROLL])
        self._papers.setAccessibleName("Paper")
        self._papers.currentIndexChanged.connect(self._follow)
        self._width, self._height = self._size_field("Width"), self._size_field("Height")
        self._roll = self._size_field("Width of the roll")
        for field, value in ((self._width, OWN_MM[0]), (self._height, OWN_MM[1]),
                             (self._roll, ROLL_MM)):  # fmt: skip
            field.show_value(value)

    def _size_field(self, words: str) -> Field:
        field = length_field(self._wishes.length_unit, 1)
        field.setFixedWidth(FIELD_PX)
        field.setAccessibleName(words)
        field.kept.connect(self._follow)
        field.tried.connect(self._follow)
        return field

    def _lay_out(self, findings: Sequence[Finding]) -> None:
        left = QVBoxLayout()
        left.setSpacing(6)
        left.addWidget(_quiet("Format"))
        for button in self._formats.buttons():
            left.addWidget(button)
        left.addSpacing(14)
        left.addWidget(self._words)
        left.addSpacing(8)
        left.addWidget(self._paper_box())
        left.addStretch(1)
        stopping = [one for one in findings if one.stops]
        if stopping:
            left.addWidget(self._warning(stopping))
        right = QVBoxLayout()
        right.setSpacing(8)
        right.addWidget(self._picture, 1)
        right.addWidget(self._says)
        right.addWidget(self._contents)
        for label in (self._says, self._contents):
            label.setWordWrap(True)
        self._contents.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        frame = QFrame()
        frame.setFixedWidth(LEFT_PX)
        left.setContentsMargins(0, 0, 0, 0)
        frame.setLayout(left)
        columns = QHBoxLayout()
        columns.setSpacing(24)
        columns.addWidget(frame)
        columns.addLayout(right, 1)
        self.rows.addLayout(columns, 1)

    def _paper_box(self) -> QFrame:
        self._paper = QFrame()
        grid = QGridLayout(self._paper)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(8)
        grid.setColumnStretch(3, 1)
        grid.addWidget(_quiet("Paper"), 0, 0, 1, 4)
        grid.addWidget(self._papers, 1, 0, 1, 3)
        self._times = QLabel("×")
        self._unit = QLabel(self._wishes.unit)
        grid.addWidget(self._width, 2, 0)
        grid.addWidget(self._roll, 2, 0)
        grid.addWidget(self._times, 2, 1)
        grid.addWidget(self._height, 2, 2)
        grid.addWidget(self._unit, 2, 3)
        return self._paper

    def _warning(self, stopping: Sequence[Finding]) -> QFrame:
        count = len(stopping)
        words = "1 finding stops" if count == 1 else f"{count} findings stop"
        head = QLabel(f"{words} cutting. The file can be written all the same.")
        head.setWordWrap(True)
        inside = QWidget()
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(0, 0, 6, 0)
        rows.setSpacing(6)
        for finding in stopping:
            rows.addLayout(_told(finding, picture(finding.grave, self._scheme, 16)))
        rows.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(inside)
        area.setMaximumHeight(WARNING_PX)
        box = QFrame()
        whole = QVBoxLayout(box)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(head)
        whole.addWidget(area)
        return box

    # What is chosen

    @property
    def kind(self) -> Format:
        """The format that is chosen."""
        return self._kinds[self._formats.checkedId()]

    @property
    def paper(self) -> str:
        """The paper as `units.paper_mm` reads it."""
        name = self._papers.currentText()
        if name == ROLL:
            return f"roll:{self._held_mm(self._roll):g}"
        if name == OWN:
            return f"{self._held_mm(self._width):g}x{self._held_mm(self._height):g}"
        return name

    def _held_mm(self, field: Field) -> float:
        """What a field says: what is being typed where it can be read, else what is kept."""
        kept = float(field.value)  # type: ignore[arg-type]
        if not field.isModified():
            return kept
        try:
            return parse_length_mm(field.text(), self._wishes.length_unit)
        except WedgeworkError:
            return kept

    # What comes out

    def _follow(self, *_: object) -> None:
        name, is_paged = self._papers.currentText(), self.kind.suffix == PAGED
        self._paper.setVisible(is_paged)
        self._words.setVisible(self.kind.suffix not in WITHOUT_DRAWING)
        for widget, names in ((self._width, {OWN}), (self._times, {OWN}), (self._height, {OWN}),
                              (self._roll, {ROLL}), (self._unit, {OWN, ROLL})):  # fmt: skip
            widget.setVisible(name in names)
        self._contents.setText(CONTENTS.get(self.kind.suffix, ""))
        pages, fault = self._pages() if is_paged else (None, "")
        self._picture.show_pages(pages.boxes if pages is not None else None)
        self.keep.setEnabled(not fault)
        self._say(fault or self._counted(pages), wrong=bool(fault))

    def _pages(self) -> tuple[Pages | None, str]:
        try:
            return self._paginator.pages(self.paper), ""
        except WedgeworkError as error:
            return None, error.sentence

    def _counted(self, pages: Pages | None) -> str:
        count = len(self._project.pieces)
        pieces = f"{count} piece{'' if count == 1 else 's'}"
        if pages is None:
            return f"{pieces}."
        if pages.is_roll:
            return f"{pieces} on one page of {format_number(self._held_mm(self._roll), 0)} mm."
        return f"{pieces} on {pages.count} page{'' if pages.count == 1 else 's'}, and a page map."

    def _say(self, text: str, *, wrong: bool) -> None:
        self._says.setText(f"⊘ {text}" if wrong else text)
        self._says.setProperty("wrong", wrong)
        self._says.style().unpolish(self._says)
        self._says.style().polish(self._says)

    def accept(self) -> None:
        """Let the maker choose a file and write it; stay, and say why, where that fails."""
        path = self._asked_path()
        if path is None:
            return
        try:
            options = WriteOptions(paper=self.paper, words=self._words.isChecked())
            write_atomically(path, file_bytes(path, self._project, options))
        except WedgeworkError as error:
            self._say(error.sentence, wrong=True)
            return
        self.written = path
        super().accept()

    def _asked_path(self) -> Path | None:
        suffix = self.kind.suffix
        start = f"{self._project.name.replace('/', ' ') or 'pieces'}{suffix}"
        filters = f"{_large(self.kind.words)} (*{suffix})"
        name, _ = QFileDialog.getSaveFileName(self, "Export", start, filters)
        path = Path(name)
        if not name or path.suffix.lower() == suffix:
            return path if name else None
        # The system has asked about the name without its suffix only.
        path = path.with_name(path.name + suffix)
        is_free = not path.exists() or asks(self, f"“{path.name}” is there.", "Write over it")
        return path if is_free else None


def _told(finding: Finding, sign: QPixmap) -> QHBoxLayout:
    mark, words = QLabel(), QLabel(finding.message)
    mark.setPixmap(sign)
    words.setWordWrap(True)
    row = QHBoxLayout()
    row.setSpacing(8)
    row.addWidget(mark, 0, Qt.AlignmentFlag.AlignTop)
    row.addWidget(words, 1)
    return row


def _quiet(text: str) -> QLabel:
    label = QLabel(text)
    label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
    return label


def _large(words: str) -> str:
    return words[:1].upper() + words[1:]
