"""What the body asks of a seam: wanted against drawn intake at each level, and a proposal."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from wedgework.checks.joining import FLAT_DEG
from wedgework.pattern.document import Project, Seam
from wedgework.pattern.errors import WedgeworkError
from wedgework.pattern.reductions import reduction_of
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.wanted import (
    SHORT_MM,
    LevelIntake,
    drawn_intake,
    proposed_intake,
    round_of_tips_mm,
)
from wedgework.window.fields import Field, plain_field
from wedgework.window.palette import Scheme
from wedgework.window.panels.slice import Row
from wedgework.window.preferences import Wishes
from wedgework.window.theme import SMALL_PX, font

PART_PX = 64
"""Width of a field for a part of a hundred."""

HEADINGS = ("level", "wanted", "drawn", "too wide")
NEAR_LEVEL_MM = 1.0
"""A station this near to a level carries the level's name."""


class FromBody(QWidget):
    """Levels with their figures, what this seam takes of them, and the button that proposes."""

    asked = Signal()

    def __init__(self, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._wishes, self._scheme = wishes, scheme
        self._project = Project()
        self._takes, self._reduction = 1.0, reduction_of(self._project, "girth")
        self._seam: Seam | None = None
        self._levels: tuple[LevelIntake, ...] = ()
        self._figures: list[tuple[QLabel, ...]] = []
        self.button = QPushButton("Propose from the body")
        self.button.setObjectName("station_propose")
        self.button.clicked.connect(self.asked)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(5)
        rows.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        rows.addLayout(self._parts())
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(2)
        self._grid.setColumnStretch(0, 1)
        rows.addLayout(self._grid)

    def _parts(self) -> QGridLayout:
        self._takes_field = part_field("takes", "What this seam takes of the intake at each level, "
                                       "the rest being that of other seams")  # fmt: skip
        self._takes_field.kept.connect(self._set_takes)
        self._reduction_field = part_field("reduction", "How much smaller than the body girths are "
                                           "cut")  # fmt: skip
        self._reduction_field.kept.connect(self._set_reduction)
        self._takes_field.show_value(100 * self._takes)
        self._reduction_field.show_value(100 * self._reduction)
        return options_grid(
            (
                ("This seam takes", self._takes_field, "%"),
                ("Girths cut smaller by", self._reduction_field, "%"),
            )
        )

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other units or colours."""
        self._wishes, self._scheme = wishes, scheme
        self._build()

    def show_seam(self, project: Project, seam: Seam | None) -> None:
        """Show the levels that a seam crosses, as the pieces are now."""
        self._project, self._seam = project, seam
        before, self._levels = self._levels, self._found()
        if [row.level for row in before] == [row.level for row in self._levels]:
            self._write()
        else:
            self._build()

    def begin(self, project: Project, seam: Seam) -> None:
        """A slice of a seam of the kept project begins: where its levels are, and who takes what.

        All flat seams that cross levels share alike, as the findings propose it.
        """
        takers = [
            other for other in project.seams.values() if other is seam or _is_flat(project, other)
        ]
        crossing = [other for other in takers if _levels_of(project, other)]
        self._takes = 1.0 / max(len(crossing), 1)
        self._takes_field.show_value(100 * self._takes)
        self._reduction = reduction_of(project, "girth")
        self._reduction_field.show_value(100 * self._reduction)
        levels = project.levels
        self._places = tuple(
            (row.at_mm, levels[row.level].name or row.level) for row in _levels_of(project, seam)
        )

    def level_at(self, at_mm: float) -> str:
        """Name of the level at a station of A; nothing where there is none."""
        near = (name for place, name in self._places if abs(place - at_mm) < NEAR_LEVEL_MM)
        return next(near, "")

    def proposal(self, project: Project, seam: Seam) -> tuple[tuple[Row, ...], float]:
        """Stations by the body, none where it asks for nothing, and the rounding of their tips."""
        try:
            found = proposed_intake(project, seam, reduction=self._reduction, share=self._takes)
        except WedgeworkError:
            return (), 0.0
        rows = tuple((one.at_mm, one.width_mm) for one in found)
        if not any(width for _, width in rows):
            return (), 0.0
        return rows, round_of_tips_mm(found, measure_seam(project, seam).a.length_mm)

    def _found(self) -> tuple[LevelIntake, ...]:
        if self._seam is None:
            return ()
        return _levels_of(self._project, self._seam, self._reduction, self._takes)

    def _set_takes(self, percent: float) -> None:
        self._takes = percent / 100
        self.show_seam(self._project, self._seam)

    def _set_reduction(self, percent: float) -> None:
        self._reduction = percent / 100
        self.show_seam(self._project, self._seam)

    def _build(self) -> None:
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        self._figures = []
        has_levels = bool(self._levels)
        self.button.setEnabled(has_levels)
        self.button.setToolTip(
            "Take out what the pieces have too much at each level that the seam crosses"
            if has_levels
            else "The seam crosses no level whose girth on the body is known"
        )
        for column, words in enumerate(HEADINGS if has_levels else ()):
            self._grid.addWidget(self._heading(words), 0, column, _side(column))
        for index, row in enumerate(self._levels, start=1):
            level = self._project.levels[row.level]
            self._grid.addWidget(QLabel(level.name or level.id), index, 0)
            figures = tuple(QLabel() for _ in HEADINGS[1:])
            for column, figure in enumerate(figures, start=1):
                self._grid.addWidget(figure, index, column, _side(column))
            self._figures.append(figures)
        self._write()

    def _heading(self, words: str) -> QLabel:
        label = QLabel(words if words == "level" else f"{words} {self._wishes.unit}")
        label.setFont(font(SMALL_PX))
        label.setStyleSheet(f"color: {self._scheme.quiet};")
        return label

    def _write(self) -> None:
        """Figures of each level: what is too wide still is what the button proposes to take out."""
        for row, figures in zip(self._levels, self._figures, strict=True):
            numbers = (row.wanted_mm, row.drawn_mm, row.excess_mm)
            for column, (figure, value) in enumerate(zip(figures, numbers, strict=True)):
                figure.setText(self._wishes.in_list(value, signed=column == 2))
            misses = abs(row.excess_mm) > SHORT_MM
            colour = self._scheme.difference if misses else self._scheme.ink
            weight = 600 if misses else 400
            figures[-1].setStyleSheet(f"color: {colour}; font-weight: {weight};")


def _levels_of(
    project: Project, seam: Seam, smaller: float | None = None, share: float = 1.0
) -> tuple[LevelIntake, ...]:
    try:
        return drawn_intake(project, seam, reduction=smaller, share=share)
    except WedgeworkError:
        return ()


def _is_flat(project: Project, seam: Seam) -> bool:
    if seam.is_dart:
        return False
    try:
        measure = measure_seam(project, seam)
    except WedgeworkError:
        return False
    return math.degrees(max(measure.dome_rad, measure.hollow_rad)) < FLAT_DEG


def part_field(name: str, tip: str) -> Field:
    """A field for a part of a hundred."""
    field = plain_field(0)
    field.setObjectName(name)
    field.setToolTip(tip)
    field.setFixedWidth(PART_PX)
    return field


def place_option(
    grid: QGridLayout, row: int, words: str, widget: QWidget, unit: str | QLabel
) -> None:
    """A line of words, a field and its unit."""
    word = QLabel(words)
    word.setBuddy(widget)
    widget.setAccessibleName(words)
    shown = QLabel(unit) if isinstance(unit, str) else unit
    shown.setMinimumWidth(22)
    grid.addWidget(word, row, 0)
    grid.addWidget(widget, row, 1, Qt.AlignmentFlag.AlignRight)
    grid.addWidget(shown, row, 2)


def options_grid(rows: Sequence[tuple[str, QWidget, str | QLabel]]) -> QGridLayout:
    """Lines of words, field and unit, one below the other."""
    grid = QGridLayout()
    grid.setHorizontalSpacing(8)
    grid.setVerticalSpacing(4)
    grid.setColumnStretch(0, 1)
    for index, (words, widget, unit) in enumerate(rows):
        place_option(grid, index, words, widget, unit)
    return grid


def _side(column: int) -> Qt.AlignmentFlag:
    return Qt.AlignmentFlag.AlignRight if column else Qt.AlignmentFlag.AlignLeft
