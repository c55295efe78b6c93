"""What a draft comes to, beside its numbers: a picture, the numbers it tells, the calculation."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from wedgework.drafting import Draft
from wedgework.drafting.draft import Number
from wedgework.drafting.numbers import Numbers
from wedgework.drafting.pleats import PleatedSkirtNumbers, what_if
from wedgework.drawing.pieces import draw_project
from wedgework.geometry.curve import Curve
from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Project
from wedgework.window.dialogs.drafting_fields import shown_number
from wedgework.window.form_words import number_words
from wedgework.window.palette import Scheme
from wedgework.window.pictures.pen import PicturePen
from wedgework.window.preferences import Wishes
from wedgework.window.table.view import fitting
from wedgework.window.theme import SMALL_PX, TEXT_PX, font

PICTURE_PX: Final = 210
LEAST_PX: Final = 180
MARGIN_PX: Final = 14.0
UNITS: Final = {"mm": "mm", "deg": "°", "percent": "%"}
"""How a number of a draft ends, and the unit that it is shown with."""


def drawn_project(draft: Draft) -> Project:
    """The pieces of a draft with what lies on them alone: what they are drafted for is left out."""
    project = with_pieces(Project(), *(replace(piece, recipe=None) for piece in draft.pieces))
    own = project.owners
    seams = {one.id: one for one in draft.seams if all(ref.edge in own for ref in (*one.a, *one.b))}
    notches = {
        one.id: replace(one, mate=one.mate if one.mate and one.mate.edge in own else None)
        for one in draft.notches
        if one.at.edge in own
    }
    levels = {one.id: one for one in draft.levels}
    return replace(
        project,
        seams=project.seams.with_rows(seams),
        notches=project.notches.with_rows(notches),
        levels=project.levels.with_rows(levels),
    )


class DraftPicture(QWidget):
    """The pieces that would be made, as large as they go, with the size of the whole under them."""

    def __init__(self, scheme: Scheme, wishes: Wishes) -> None:
        super().__init__()
        self._scheme, self._wishes = scheme, wishes
        self._project: Project | None = None
        self.setFixedHeight(PICTURE_PX)
        self.setAccessibleName("Picture of the pieces")

    def sizeHint(self) -> QSize:
        """Room for a picture."""
        return QSize(220, PICTURE_PX)

    def show_draft(self, draft: Draft | None) -> None:
        """Show another draft; nothing where there is none."""
        self._project = None if draft is None else drawn_project(draft)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Every piece by the pens that also draw files."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.setPen(QColor(self._scheme.hair))
        painter.setBrush(QColor(self._scheme.ground))
        painter.drawRoundedRect(box, 4, 4)
        if self._project is not None:
            self._draw(painter, self._project, box)
        painter.end()

    def _draw(self, painter: QPainter, project: Project, box: QRectF) -> None:
        bounds = bounds_of_all(_outlines(project))
        foot = painter.fontMetrics().height()
        frame = box.adjusted(MARGIN_PX, MARGIN_PX, -MARGIN_PX, -MARGIN_PX - foot)
        draw_project(project, PicturePen(painter, fitting(bounds, frame), self._scheme))
        painter.setFont(font(SMALL_PX))
        painter.setPen(QColor(self._scheme.quiet))
        flags = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom
        words = size_words(project, self._wishes)
        painter.drawText(box.adjusted(4, 0, -4, -5), flags, words)


def _outlines(project: Project) -> list[Curve]:
    return [edge.curve for piece in project.pieces.values() for edge in piece.edges]


def size_words(project: Project, wishes: Wishes) -> str:
    """How many pieces, and how wide and high they lie together; the unit once: room is short."""
    bounds, count = bounds_of_all(_outlines(project)), len(project.pieces)
    width_mm, height_mm = (float(bounds[at + 2] - bounds[at]) for at in (0, 1))
    size = f"{wishes.in_list(width_mm)} × {wishes.with_unit(height_mm)}"
    return f"{count} piece{'s' * (count != 1)}, {size}"


class DraftResult(QWidget):
    """Picture, told numbers, the calculation, what other numbers of pleats would give."""

    pleats_chosen = Signal(int)

    def __init__(self, scheme: Scheme, wishes: Wishes) -> None:
        super().__init__()
        self._scheme, self._wishes = scheme, wishes
        self.picture = DraftPicture(scheme, wishes)
        self._told, self._others, self._steps = QWidget(), QWidget(), QWidget()
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(4, 2, 12, 10)
        self._rows.setSpacing(8)
        self._rows.addWidget(self.picture)
        for part in (self._told, self._steps, self._others):
            self._rows.addWidget(part)
        self._rows.addStretch(1)

    def show_draft(self, numbers: Numbers, draft: Draft) -> None:
        """Show what these numbers come to."""
        # What was filled in is told at its field.
        typed = {*numbers.__struct_fields__, "filled_in"}
        told = {name: value for name, value in draft.numbers.items() if name not in typed}
        self.picture.show_draft(draft)
        self._told = self._put(self._told, self._told_rows(told))
        self._others = self._put(self._others, self._what_if(numbers))
        self._steps = self._put(self._steps, self._lines(draft.steps))
        self._keep_height()

    def _keep_height(self) -> None:
        """As high as its words need at this width: Qt does not ask wrapped words by itself."""
        # Without wrapped words there is no height for a width: Qt answers with -1 then.
        needed = self._rows.totalHeightForWidth(max(self.width(), LEAST_PX))
        self.setMinimumHeight(max(needed, self._rows.totalMinimumSize().height()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width wraps words otherwise."""
        super().resizeEvent(event)
        self._keep_height()

    def show_nothing(self) -> None:
        """Nothing can be drafted from what is typed."""
        self.picture.show_draft(None)
        for name in ("_told", "_others", "_steps"):
            setattr(self, name, self._put(getattr(self, name), QWidget()))

    def _put(self, before: QWidget, after: QWidget) -> QWidget:
        # What is taken away may hold the button whose press led here.
        self._rows.replaceWidget(before, after)
        before.hide()
        before.deleteLater()
        return after

    def _head(self, grid: QGridLayout, words: str, columns: int) -> None:
        head = QLabel(words)
        head.setFont(font(TEXT_PX, strong=True))
        grid.addWidget(head, 0, 0, 1, columns)

    def _figure(self, name: str, shown: str) -> QLabel:
        figure = QLabel(shown)
        figure.setObjectName(f"told_{name}")
        figure.setWordWrap(" " in shown)
        figure.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        return figure

    def _told_rows(self, told: Mapping[str, Number]) -> QWidget:
        part, grid = _grid()
        if told:
            self._head(grid, "What comes of it", 3)
        grid.setColumnStretch(0, 1)
        for at, (name, value) in enumerate(told.items(), start=1):
            words = QLabel(number_words(name))
            words.setWordWrap(True)
            words.setObjectName("quiet")
            if isinstance(value, list):
                # A list under its word leaves the figures their column.
                grid.addWidget(words, 2 * at, 0, 1, 3)
                grid.addWidget(
                    self._figure(name, shown_number(value, None, self._wishes)), 2 * at + 1, 0, 1, 3
                )
                continue
            unit = next((one for one in UNITS if name.endswith(f"_{one}")), None)
            figure = self._figure(name, shown_number(value, unit, self._wishes))
            grid.addWidget(words, 2 * at, 0)
            grid.addWidget(figure, 2 * at, 1, Qt.AlignmentFlag.AlignRight)
            shown_unit = self._wishes.unit if unit == "mm" else UNITS.get(unit or "", "")
            grid.addWidget(QLabel(shown_unit), 2 * at, 2)
        return part

    def _what_if(self, numbers: Numbers) -> QWidget:
        if not isinstance(numbers, PleatedSkirtNumbers):
            return QWidget()
        part, grid = _grid()
        self._head(grid, f"Other numbers of pleats, {self._wishes.unit}", 4)
        for column, words in enumerate(("pleats", "visible", "material", "strips")):
            grid.addWidget(_small(words, quiet=True), 1, column, Qt.AlignmentFlag.AlignRight)
        for at, row in enumerate(what_if(numbers), start=2):
            self._add_other(grid, at, row)
        return part

    def _add_other(self, grid: QGridLayout, at: int, row: tuple[int, float, float, int]) -> None:
        count, visible, material, strips = row
        button = QToolButton()
        button.setText(str(count))
        button.setObjectName(f"pleats_{count}")
        button.setToolTip(f"Take {count} pleats")
        button.clicked.connect(lambda: self.pleats_chosen.emit(count))
        grid.addWidget(button, at, 0, Qt.AlignmentFlag.AlignRight)
        shown = (self._wishes.in_card(visible), self._wishes.in_list(material), str(strips))
        for column, words in enumerate(shown, start=1):
            grid.addWidget(_small(words), at, column, Qt.AlignmentFlag.AlignRight)

    def _lines(self, steps: Sequence[str]) -> QWidget:
        part, grid = _grid()
        if steps:
            self._head(grid, "The calculation", 1)
        for at, line in enumerate(steps, start=1):
            label = QLabel(line)
            label.setObjectName(f"step_{at}")
            label.setWordWrap(True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            grid.addWidget(label, at, 0)
        return part


def _small(words: str, *, quiet: bool = False) -> QLabel:
    label = QLabel(words)
    label.setFont(font(SMALL_PX))
    if quiet:
        label.setObjectName("quiet")
    return label


def _grid() -> tuple[QWidget, QGridLayout]:
    part = QWidget()
    grid = QGridLayout(part)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(8)
    grid.setVerticalSpacing(2)
    return part, grid
