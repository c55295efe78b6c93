"""Bringing in a drawing: only what it cannot say is asked, and what it becomes is shown."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Final

from PySide6.QtCore import QTimer
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import (
    QCheckBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from wedgework.files import ReadOptions, read_file_bytes
from wedgework.files.problems import UnitUnknown
from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused, WedgeworkError
from wedgework.units import (
    NotUnderstood,
    Unit,
    format_number,
    parse_angle_rad,
    parse_length_mm,
)
from wedgework.window.dialogs.forms import Form, open_at, scheme_of
from wedgework.window.dialogs.preview import Preview
from wedgework.window.dialogs.reading import Stopped, read_beside
from wedgework.window.dialogs.unit_choice import OFFERED, UnitChoice
from wedgework.window.fields import Field, number_field

USUAL_LAP_MM: Final = 8.0
USUAL_CORNER_DEG: Final = 15.0
LEAST_CORNER_DEG: Final = 1.0
MOST_CORNER_DEG: Final = 170.0
SOON_MS: Final = 200
"""A drawing is read again when typing has rested for so long."""

QUESTIONS_PX: Final = 330
FIELD_PX: Final = 84


def ask_import(parent: QWidget, path: Path, data: bytes) -> Project | None:
    """The project that a drawing becomes; None where the maker drops it.

    FileRefused where it cannot be read whatever is answered.
    """
    try:
        dialog = ImportDialog(parent, path, data)
    except Stopped:
        return None
    return dialog.project if dialog.exec() and dialog.project is not None else None


class ImportDialog(Form):
    """Questions on the left; on the right the pieces as they would come in, and what was done."""

    def __init__(self, parent: QWidget, path: Path, data: bytes) -> None:
        super().__init__(parent, "Bring in a drawing", f"Bring in “{path.name}”", "Bring in")
        self.setObjectName("importing")
        self._path, self._data, self._asking = path, data, parent
        self._known: dict[ReadOptions, Project | WedgeworkError] = {}
        self.project: Project | None = None
        self._needs_unit = self._asks_for_unit()
        self._soon = QTimer(self, singleShot=True, interval=SOON_MS)
        self._soon.timeout.connect(self._read)
        self._make_fields()
        self._preview = Preview(scheme_of(parent))
        self._says, self._done = QLabel(), QListWidget()
        self._lay_out()
        self.close_form()
        open_at(self, 940, 600)
        self._connect()
        self._read()

    # What is asked

    def _asks_for_unit(self) -> bool:
        try:
            self._known[ReadOptions()] = self._read_with(ReadOptions())
        except UnitUnknown:
            return True
        return False

    def _make_fields(self) -> None:
        self.unit = UnitChoice()
        self.seam_drawn = QRadioButton("the seam line, where pieces join")
        self.cut_drawn = QRadioButton("the cut line, outside it by")
        self.seam_drawn.setChecked(True)
        self.lap = _field(_lap_mm, lambda mm: format_number(mm, 1), USUAL_LAP_MM)
        self.notches = QCheckBox("Small cuts in the outline are notches")
        self.corner = _field(_corner_deg, lambda deg: format_number(deg, 1), USUAL_CORNER_DEG)
        self.lap.setAccessibleName("Lap outside the seam line, in mm")
        self.corner.setAccessibleName("Least turn of a corner, in degrees")
        self.lap.setEnabled(False)
        if self._needs_unit:
            self.unit.show_size(self._size_in_units())

    def _size_in_units(self) -> tuple[float, float]:
        """Width and height of the largest piece in units of the drawing."""
        # In the largest unit nothing is so small that it would be left out.
        unit = max(OFFERED, key=lambda unit: unit.mm)
        read = self._read_known(ReadOptions(unit=unit))
        if isinstance(read, WedgeworkError):
            raise read
        width, height = _largest_mm(read)
        return width / unit.mm, height / unit.mm

    def _connect(self) -> None:
        self.unit.changed.connect(self._read)
        self.notches.toggled.connect(self._read)
        self.cut_drawn.toggled.connect(self._take_line)
        for field in (self.lap, self.corner):
            field.kept.connect(self._read)
            field.tried.connect(lambda *_: self._soon.start())

    def _take_line(self, is_cut: bool) -> None:  # noqa: FBT001 - Qt hands it over
        self.lap.setEnabled(is_cut)
        self._read()

    # How it stands

    def _lay_out(self) -> None:
        columns = QHBoxLayout()
        columns.setSpacing(24)
        columns.addWidget(self._questions())
        right = QVBoxLayout()
        right.setSpacing(8)
        right.addWidget(self._preview, 1)
        right.addWidget(self._says)
        self._done.setWordWrap(True)
        self._done.setFixedHeight(118)
        self._done.setAccessibleName("What was repaired or left out")
        right.addWidget(self._done)
        columns.addLayout(right, 1)
        self.rows.addLayout(columns, 1)

    def _questions(self) -> QFrame:
        box = QFrame()
        box.setFixedWidth(QUESTIONS_PX)
        rows = QVBoxLayout(box)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        if self._needs_unit:
            rows.addWidget(_quiet("The file does not say its size. One unit of it is a"))
            rows.addWidget(self.unit)
            rows.addWidget(_quiet("Beside each: what the largest piece would be."))
            rows.addSpacing(14)
        rows.addWidget(_quiet("The outline that is drawn is"))
        rows.addWidget(self.seam_drawn)
        rows.addLayout(_beside(self.cut_drawn, self.lap, "mm"))
        rows.addSpacing(14)
        rows.addWidget(self.notches)
        rows.addSpacing(14)
        rows.addLayout(_beside(_label("Corners turn by at least"), self.corner, "°"))
        rows.addStretch(1)
        return box

    # What it becomes

    @property
    def options(self) -> ReadOptions:
        """What was answered."""
        lap_mm, corner_deg = _held(self.lap, _lap_mm), _held(self.corner, _corner_deg)
        return ReadOptions(
            unit=self.unit.unit if self._needs_unit else None,
            corner_rad=math.radians(corner_deg),
            notches=self.notches.isChecked(),
            cut_line_mm=lap_mm if self.cut_drawn.isChecked() else None,
        )

    def _read(self, *_: object) -> None:
        self._soon.stop()
        options = self.options
        read = self._read_known(options)
        self.project = read if isinstance(read, Project) else None
        self.keep.setEnabled(self.project is not None)
        drawn = self._read_known(replace(options, cut_line_mm=None))
        under = drawn if options.cut_line_mm and isinstance(drawn, Project) else None
        self._preview.show_project(self.project or Project(), under)
        self._tell(read)

    def _tell(self, read: Project | WedgeworkError) -> None:
        self._done.clear()
        is_wrong = not isinstance(read, Project)
        self._says.setProperty("wrong", is_wrong)
        self._says.style().polish(self._says)
        if isinstance(read, Project):
            self._says.setText(_counted(read))
            self._done.addItems(read.problems or ("Nothing had to be repaired or left out.",))
        else:
            self._says.setText(f"⊘ {read.sentence}")

    def _read_known(self, options: ReadOptions) -> Project | WedgeworkError:
        """The project for these answers, or why there is none; each read once."""
        if options not in self._known:
            try:
                self._known[options] = self._read_with(options)
            except WedgeworkError as error:
                self._known[options] = error
            except Stopped:
                return FileRefused("Stopped: it is not read yet for these answers.")
        return self._known[options]

    def _read_with(self, options: ReadOptions) -> Project:
        # While the dialog is being made, the window that asked is what waits.
        waiting = self if self.isVisible() else self._asking
        return read_beside(waiting, f"Reading “{self._path.name}”", self._read_now, options)

    def _read_now(self, options: ReadOptions) -> Project:
        project, problems = read_file_bytes(self._path, self._data, options)
        told = project.problems or tuple(map(str, problems))
        return replace(project, name=project.name or self._path.stem, problems=told)

    def accept(self) -> None:
        """Take what is typed; stay where that gives no pieces."""
        if self.lap.keep() and self.corner.keep():
            self._read()
            if self.project is not None:
                super().accept()


def _lap_mm(text: str) -> float:
    value = parse_length_mm(text, Unit.MM)
    if value < 0:
        raise NotUnderstood("A lap is not less than nothing.")
    return value


def _corner_deg(text: str) -> float:
    value = math.degrees(parse_angle_rad(text))
    if not LEAST_CORNER_DEG <= value <= MOST_CORNER_DEG:
        raise NotUnderstood(f"A corner turns by {LEAST_CORNER_DEG:.0f}° to {MOST_CORNER_DEG:.0f}°.")
    return value


def _held(field: Field, read: Callable[[str], float]) -> float:
    """What a field holds: what is being typed, if it can be read, else what is kept."""
    kept = float(field.value)  # type: ignore[arg-type]
    if not field.isModified():
        return kept
    try:
        return read(field.text())
    except NotUnderstood:
        return kept


def _field(read: Callable[[str], float], write: Callable[[float], str], value: float) -> Field:
    field = number_field(Field(read, write))  # type: ignore[arg-type]
    field.setFixedWidth(FIELD_PX)
    field.show_value(value)
    return field


def _label(text: str) -> QLabel:
    label = QLabel(text)
    label.setWordWrap(True)
    return label


def _quiet(text: str) -> QLabel:
    label = _label(text)
    label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
    return label


def _beside(words: QWidget, field: Field, unit: str) -> QGridLayout:
    row = QGridLayout()
    row.setHorizontalSpacing(6)
    row.setColumnStretch(0, 1)
    row.addWidget(words, 0, 0)
    row.addWidget(field, 0, 1)
    told = QLabel(unit)
    told.setFixedWidth(22)
    row.addWidget(told, 0, 2)
    return row


def _largest_mm(project: Project) -> tuple[float, float]:
    """Width and height of the piece with the longest side."""
    boxes = (bounds_of_all([edge.curve for edge in one.edges]) for one in project.pieces.values())
    sizes = [(float(box[2] - box[0]), float(box[3] - box[1])) for box in boxes]
    return max(sizes, key=max)


def _counted(project: Project) -> str:
    pieces, notches = len(project.pieces), len(project.notches)
    corners = sum(len(piece.edges) for piece in project.pieces.values())
    width, height = (format_number(side, 0) for side in _largest_mm(project))
    said = [_many(pieces, "piece"), _many(corners, "corner")]
    said += [_many(notches, "notch", "notches")] if notches else []
    return f"{', '.join(said)}; the largest piece is {width} × {height} mm."


def _many(count: int, one: str, many: str = "") -> str:
    return f"{count} {one if count == 1 else many or one + 's'}"
