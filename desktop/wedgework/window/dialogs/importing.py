"""Bringing in a drawing: only what it cannot say is asked, and what it becomes is shown."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QHBoxLayout, QLabel, QWidget

from wedgework.files import ReadOptions, read_file_bytes
from wedgework.files.problems import UnitUnknown
from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.document import Project
from wedgework.pattern.errors import WedgeworkError
from wedgework.units import Unit, format_number
from wedgework.window.dialogs.forms import Form, Picture, scheme_of
from wedgework.window.fields import length_field, plain_field

USUAL_LAP_MM = 8.0


def ask_import(parent: QWidget, path: Path, data: bytes) -> Project | None:
    """The project that a drawing becomes; None where the maker drops it.

    FileRefused where it cannot be read whatever is answered.
    """
    dialog = ImportDialog(parent, path, data)
    return dialog.project if dialog.exec() and dialog.project is not None else None


class ImportDialog(Form):
    """Questions on the left, the pieces as they would come in on the right."""

    def __init__(self, parent: QWidget, path: Path, data: bytes) -> None:
        super().__init__(parent, "Bring in a drawing", f"Bring in “{path.name}”", "Bring in")
        self._path, self._data = path, data
        self.project: Project | None = None
        self._needs_unit = self._asks_for_unit()
        self._make_fields()
        self._picture = Picture(scheme_of(parent))
        self._says = QLabel()
        self._says.setWordWrap(True)
        self._says.setMinimumWidth(300)
        self._lay_out()
        self.close_form()
        self._read()

    def _asks_for_unit(self) -> bool:
        try:
            read_file_bytes(self._path, self._data, ReadOptions())
        except UnitUnknown:
            return True
        return False

    def _make_fields(self) -> None:
        self.unit = QComboBox()
        for unit in Unit:
            self.unit.addItem(unit.value, unit)
        self.drawn = QComboBox()
        self.drawn.addItem("the seam line", False)
        self.drawn.addItem("the cut line, with its lap", True)
        self.lap = length_field(Unit.MM, 1)
        self.lap.show_value(USUAL_LAP_MM)
        self.notches = QCheckBox("Cuts in the outline are notches")
        self.corner = plain_field(1)
        self.corner.show_value(15.0)
        for box in (self.unit, self.drawn):
            box.currentIndexChanged.connect(self._read)
        for field in (self.lap, self.corner):
            field.kept.connect(self._read)
        self.notches.toggled.connect(self._read)

    def _lay_out(self) -> None:
        questions = QFormLayout()
        questions.setVerticalSpacing(10)
        if self._needs_unit:
            questions.addRow("One unit of the drawing is", self.unit)
        questions.addRow("The outline drawn is", self.drawn)
        questions.addRow("Lap outside the seam line, mm", self.lap)
        questions.addRow(self.notches)
        questions.addRow("A corner turns by at least, °", self.corner)
        questions.addRow(self._says)
        columns = QHBoxLayout()
        columns.setSpacing(22)
        columns.addLayout(questions)
        columns.addWidget(self._picture, 1)
        self.rows.addLayout(columns)

    def _read(self, *_: object) -> None:
        is_cut = bool(self.drawn.currentData())
        self.lap.setEnabled(is_cut)
        options = ReadOptions(
            unit=self.unit.currentData() if self._needs_unit else None,
            corner_rad=math.radians(float(self.corner.value)),  # type: ignore[arg-type]
            notches=self.notches.isChecked(),
            cut_line_mm=float(self.lap.value) if is_cut else None,  # type: ignore[arg-type]
        )
        try:
            project, problems = read_file_bytes(self._path, self._data, options)
        except WedgeworkError as error:
            self._show(None, error.sentence)
            return
        told = tuple(map(str, problems))
        project = replace(project, name=project.name or self._path.stem, problems=told)
        self._show(project, _told(project))

    def _show(self, project: Project | None, says: str) -> None:
        self.project = project
        self.keep.setEnabled(project is not None)
        self._says.setText(says)
        self._picture.show_project(project or Project())


def _told(project: Project) -> str:
    widths = [
        bounds_of_all([edge.curve for edge in piece.edges]) for piece in project.pieces.values()
    ]
    widest = max(max(box[2] - box[0], box[3] - box[1]) for box in widths)
    count = len(project.pieces)
    lines = [
        f"{count} piece{'' if count == 1 else 's'}, the largest {format_number(widest, 0)} mm long."
    ]
    if project.problems:
        lines += ["", "What was repaired or left out:"]
        lines += [f"•  {text}" for text in project.problems[:8]]
        if len(project.problems) > 8:
            lines.append(f"•  … and {len(project.problems) - 8} more")
    return "\n".join(lines)
