"""How much smaller to cut: reduction beside stretch, and what the sheet then does."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from wedgework.pattern.document import Material, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.reductions import MOST, USUAL, Reduced, reduction_of
from wedgework.pattern.stretch import (
    Worn,
    grams_per_cm,
    law_words,
    reduction_of_percent,
    stretch_percent,
    worn_in,
)
from wedgework.units import format_number
from wedgework.window.fields import Field, plain_field
from wedgework.window.palette import Scheme
from wedgework.window.theme import SMALL_PX, font

PLAIN_MM: Final = 0.4
"""Thickness that is shown where no sheet was added yet: common thin sheet."""

HEADS: Final = ("", "reduction %", "stretch %", "usual %", "thickness", "pull", "feels")
SAYS: Final = (
    "Reduction: share of the body by which the sheet is cut smaller. Stretch: share of the cut "
    "sheet by which it is longer when worn. Either may be typed; empty is as usual."
)
CAUTIONS: Final = (
    "Pull of rubber with the other direction held at its length, for comparison only. Cloth-backed "
    "sheet, vinyl and leather are cut without reduction or with ease, thicker sheet with less. "
    "A neck is never cut tight: it must open at once. What the maker of the sheet says goes first."
)
TOO_STIFF: Final = (
    "Above 40 % stretch the textbook law overstates the pull: try a strip of the sheet."
)
FIELD_PX: Final = 76


class ReductionTable(QWidget):
    """A row a direction or place. `changed` tells which, and the share, None for the usual."""

    changed = Signal(str, object)

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._scheme, self._project = scheme, Project()
        self.sheet = QComboBox()
        self.sheet.setAccessibleName("Sheet")
        self.sheet.setObjectName("body_sheet")
        self._reductions: dict[Reduced, Field] = {}
        self._stretches: dict[Reduced, Field] = {}
        self._told: dict[Reduced, tuple[QLabel, ...]] = {}
        self._usual: dict[Reduced, QLabel] = {}
        self._law = QLabel()
        self._law.setObjectName("body_law")
        self._law.setWordWrap(True)
        self._warning = QLabel(TOO_STIFF)
        self._warning.setObjectName("body_too_stiff")
        self._warning.setStyleSheet(f"color: {scheme.difference};")
        self._lay_out()
        self.sheet.currentIndexChanged.connect(self._write)

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        label = QLabel("What a sheet does when it is worn:")
        label.setBuddy(self.sheet)
        top.addWidget(label)
        top.addWidget(self.sheet)
        top.addStretch(1)
        grid = QGridLayout()
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(8)
        for column, words in enumerate(HEADS):
            grid.addWidget(_quiet(words), 0, column)
        for row, where in enumerate(USUAL, start=1):
            self._add(grid, row, where)
        grid.setColumnStretch(len(HEADS) - 1, 1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(12, 14, 12, 8)
        rows.setSpacing(12)
        rows.addWidget(_quiet(SAYS))
        rows.addLayout(top)
        rows.addWidget(self._law)
        rows.addLayout(grid)
        rows.addWidget(self._warning)
        rows.addStretch(1)
        rows.addWidget(_quiet(CAUTIONS))

    def _add(self, grid: QGridLayout, row: int, where: Reduced) -> None:
        usual = USUAL[where]
        words = QLabel(f"<b>{where}</b>: {usual.meaning}")
        smaller, longer = plain_field(1).may_be_blank(), plain_field(2).may_be_blank()
        words.setBuddy(smaller)
        for name, field in (("reduction", smaller), ("stretch", longer)):
            field.setFixedWidth(FIELD_PX)
            field.setObjectName(f"{name}_{where}")
            field.setAccessibleName(f"{name} of {usual.meaning}, per cent")
        smaller.kept.connect(lambda value: self._keep(where, smaller, value, is_stretch=False))
        longer.kept.connect(lambda value: self._keep(where, longer, value, is_stretch=True))
        told = (QLabel(), QLabel(), QLabel())
        self._usual[where] = QLabel()
        parts = (words, smaller, longer, self._usual[where], *told)
        for column, part in enumerate(parts):
            grid.addWidget(part, row, column)
        self._reductions[where], self._stretches[where], self._told[where] = smaller, longer, told

    def _keep(self, where: Reduced, field: Field, value: object, *, is_stretch: bool) -> None:
        if value is None:
            self.changed.emit(where, None)
            return
        try:
            share = _share(float(value), is_stretch=is_stretch)  # type: ignore[arg-type]
        except EditRefused as error:
            field.refuse(error.sentence)
            return
        self.changed.emit(where, share)

    def show_project(self, project: Project) -> None:
        """Show the reductions of a project, and its sheets."""
        self._project = project
        own = self.sheet.currentData()
        self.sheet.blockSignals(True)
        self.sheet.clear()
        for sheet in project.sheets.values():
            thick = format_number(sheet.thickness_mm, 2)
            self.sheet.addItem(f"{sheet.name or sheet.id}, {thick} mm", sheet.id)
        if not project.sheets:
            self.sheet.addItem(f"rubber sheet, {format_number(PLAIN_MM, 2)} mm", "")
        self.sheet.setCurrentIndex(max(self.sheet.findData(own), 0))
        self.sheet.blockSignals(False)
        self._write()

    def _write(self) -> None:
        sheet = self._project.sheets.get(self.sheet.currentData() or "")
        thickness = PLAIN_MM if sheet is None else sheet.thickness_mm
        material: Material = "rubber" if sheet is None else sheet.material
        beyond = False
        for where in USUAL:
            share = reduction_of(self._project, where)
            self._reductions[where].show_value(100 * share)
            self._stretches[where].show_value(stretch_percent(share))
            self._usual[where].setText(_usual_words(where, material))
            told = worn_in(material, share, thickness)
            beyond = beyond or (told is not None and told.is_beyond_law)
            self._tell(where, told)
        self._warning.setVisible(beyond)
        self._law.setText(f"Pull when worn: {law_words(material)}.")

    def _tell(self, where: Reduced, told: Worn | None) -> None:
        thick, pull, feels = self._told[where]
        if told is None:
            for label in (thick, pull, feels):
                label.setText("not known")
            feels.setToolTip("")
            return
        thick.setText(f"{format_number(told.thickness_mm, 3)} mm")
        pull.setText(f"{format_number(told.pull_n_per_m, 1)} N/m")
        feels.setText(told.words)
        shrinks = format_number(100 * told.shrinks, 1)
        feels.setToolTip(
            f"As if {grams_per_cm(told.pull_n_per_m):.0f} g hung on each centimetre of its width. "
            f"Where its length is free the sheet gets {shrinks} % shorter."
        )


def _share(percent: float, *, is_stretch: bool) -> float:
    """The reduction that per cent of either kind say; EditRefused beyond what can be cut."""
    share = reduction_of_percent(percent) if is_stretch else percent / 100.0
    if not 0.0 <= share <= MOST:
        most = 100.0 * (stretch_percent(MOST) / 100.0 if is_stretch else MOST)
        raise EditRefused(f"Between 0 and {most:.0f} % can be set here.")
    return share


def _usual_words(where: Reduced, material: Material) -> str:
    """How much is usual of a material: of leather and vinyl none, of some what a strip tells."""
    if material != "rubber":
        return "0 or ease" if material in {"leather", "vinyl"} else "as a strip tells"
    usual = USUAL[where]
    return " to ".join(format_number(100 * share, 0) for share in (usual.low, usual.high))


def _quiet(words: str) -> QLabel:
    label = QLabel(words)
    label.setWordWrap(len(words) > 30)
    label.setFont(font(SMALL_PX))
    label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
    label.setAlignment(Qt.AlignmentFlag.AlignLeft)
    return label
