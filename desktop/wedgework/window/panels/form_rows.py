"""Fields of an edit's form that hold several values: points, stations, distances, a body."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from msgspec import UNSET
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from wedgework.bench.gestures import Mm2
from wedgework.bench.picking import nearest_edge, piece_under
from wedgework.pattern.body import MEASURES, measure_words
from wedgework.pattern.document import Project
from wedgework.units import NotUnderstood
from wedgework.window.fields import Field
from wedgework.window.icons import icon
from wedgework.window.palette import Scheme
from wedgework.window.panels.form_fields import (
    Argument,
    ThingBox,
    number_field_for,
    read_field,
    suiting,
    unit_words,
)
from wedgework.window.panels.form_keeping import fields_in
from wedgework.window.preferences import Wishes
from wedgework.window.tabbing import tab_through
from wedgework.window.theme import SMALL_PX, font


@dataclass(frozen=True, slots=True)
class Column:
    """One value of a row: its words, its key where a row is named values, its unit or kind."""

    words: str
    key: str = ""
    unit: str = "mm"
    kinds: tuple[str, ...] = ()


DISTANCES: Final = (Column("along"),)
PIXELS: Final = (Column("right", unit="px"), Column("down", unit="px"))
POINTS: Final = (Column("x"), Column("y"))
STATIONS: Final = (Column("along A", "at_mm"), Column("intake", "width_mm"))
LEVEL_POINTS: Final = (Column("piece", "piece", "", ("piece",)), Column("height", "y_mm"))

SLASHES: Final = (
    Column("from edge", "from_edge", "", ("edge",)),
    Column("along", "from_mm"),
    Column("to edge", "to_edge", "", ("edge",)),
    Column("along", "to_mm"),
)

SLITS: Final = (
    Column("edge", "edge", "", ("edge",)),
    Column("along", "at_mm"),
    Column("tip right", "x_mm"),
    Column("tip up", "y_mm"),
)

Picked = Callable[[Project, Mm2, float], tuple[Any, Any] | None]
"""What two cells take from a place of the table that was pressed; None where nothing lies there."""


def _place(project: Project, at_mm: Mm2, reach_mm: float) -> tuple[Any, Any] | None:
    hit = nearest_edge(project, at_mm, reach_mm)
    return None if hit is None else (hit.edge, hit.station_mm)


def _point(_project: Project, at_mm: Mm2, _reach_mm: float) -> tuple[Any, Any] | None:
    return at_mm


def _height(project: Project, at_mm: Mm2, _reach_mm: float) -> tuple[Any, Any] | None:
    hit = piece_under(project, at_mm)
    return None if hit is None else (hit.piece, at_mm[1])


PRESSED: Final[dict[tuple[Column, ...], tuple[tuple[Picked, ...], str]]] = {
    POINTS: ((_point,), "Or press on the table, point by point."),
    LEVEL_POINTS: ((_height,), "Or press on the table: in each piece, at that height."),
    SLASHES: ((_place, _place), "Or press on the table: where it opens, then where it ends."),
    SLITS: ((_place, _point), "Or press on the table: on the edge, then where its tip is."),
}
"""Rows that can be pressed on the table, two cells with each press, and the words that say so."""

MOST_WIDE: Final = 3
"""A row of more columns than this takes two lines, its words over each, as the strip is narrow."""


class RowsArgument(Argument):
    """A table of rows, each of one or more values; a row that is all empty is left out."""

    def __init__(self, columns: tuple[Column, ...], wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._columns, self._wishes, self._scheme = columns, wishes, scheme
        self.kinds = tuple(kind for column in columns for kind in column.kinds)
        self._project = Project()
        self._rows: list[tuple[QWidget, ...]] = []
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(6)
        self._grid.setVerticalSpacing(4)
        self._wide = len(columns) if len(columns) <= MOST_WIDE else (len(columns) + 1) // 2
        if self._wide == len(columns):
            self._place(self._words(), 0)
        self._grid.setColumnStretch(self._wide + 1, 1)
        more = QPushButton("Add a row")
        more.setObjectName("rows_add")
        more.clicked.connect(self._add_empty)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(5)
        whole.addLayout(self._grid)
        self._presses, words = PRESSED.get(columns, ((), ""))
        if words:
            hint = QLabel(words)
            hint.setFont(font(SMALL_PX))
            hint.setObjectName("quiet")
            hint.setWordWrap(True)
            whole.addWidget(hint)
        whole.addWidget(more, 0, Qt.AlignmentFlag.AlignLeft)
        self.add_row()

    def add_row(self) -> tuple[QWidget, ...]:
        """One more empty row."""
        at = self._grid.rowCount()
        words = self._words() if self._wide < len(self._columns) else ()
        row = tuple(self._cell(column) for column in self._columns)
        remove = QToolButton()
        remove.setIcon(icon("close", self._scheme))
        remove.setAutoRaise(True)
        remove.setToolTip("Take this row out")
        remove.setAccessibleName("Take this row out")
        remove.clicked.connect(lambda: self._remove(row, (*words, *row, remove)))
        self._place(words, at)
        self._place(row, at + 1 if words else at)
        self._grid.addWidget(remove, at + 1 if words else at, self._wide)
        self._rows.append(row)
        tab_through(self)
        return row

    def _words(self) -> tuple[QWidget, ...]:
        """What stands in each column, with its unit."""
        labels = []
        for column in self._columns:
            unit = unit_words(column.unit, self._wishes)
            word = QLabel(f"{column.words} {unit}".strip())
            word.setFont(font(SMALL_PX))
            word.setObjectName("quiet")
            labels.append(word)
        return tuple(labels)

    def _place(self, widgets: Sequence[QWidget], at: int) -> None:
        """Side by side from a line of the grid on; what is too many goes two lines further down."""
        for index, widget in enumerate(widgets):
            line, column = divmod(index, self._wide)
            self._grid.addWidget(widget, at + 2 * line, column)

    def _cell(self, column: Column) -> QWidget:
        if column.kinds:
            box = ThingBox(column.kinds, column.words)
            box.renew(self._project)
            box.activated.connect(lambda _index: self.typed.emit())
            box.installEventFilter(self)
            return box
        field = number_field_for(column.unit, self._wishes)
        field.setAccessibleName(column.words)
        field.installEventFilter(self)
        self.listen_to(field)
        return field

    def _add_empty(self) -> None:
        self.add_row()[0].setFocus()

    def _remove(self, row: tuple[QWidget, ...], widgets: tuple[QWidget, ...]) -> None:
        self._rows.remove(row)
        for widget in widgets:
            self._grid.removeWidget(widget)
            widget.deleteLater()
        if not self._rows:
            self.add_row()
        self.typed.emit()

    def plain(self) -> Any:  # noqa: ANN401
        """All rows: named values, lists, or bare numbers."""
        rows = [values for row in self._rows if (values := self._values(row)) is not None]
        return rows or UNSET

    def _values(self, row: tuple[QWidget, ...]) -> Any:  # noqa: ANN401
        """The values of a row; None where nothing is typed in it."""
        values = [_cell_value(widget) for widget in row]
        typed = [value for value, column in zip(values, self._columns, strict=True)
                 if value is not UNSET and not column.kinds]  # fmt: skip
        if not typed:
            return None
        if UNSET in values:
            raise NotUnderstood("A row is half filled: fill it or take it out.")
        if self._columns[0].key:
            keys = (column.key for column in self._columns)
            return dict(zip(keys, values, strict=True))
        return values if len(values) > 1 else values[0]

    def put_back(self, kept: Any) -> None:  # noqa: ANN401
        """As many rows, filled alike."""
        while len(fields_in(self)) < len(kept):
            self.add_row()
        super().put_back(kept)

    def is_empty(self) -> bool:
        """Whether nothing stands in the first column."""
        return all(_cell_value(row[0]) is UNSET for row in self._rows)

    def is_half(self) -> bool:
        """Whether a row waits for more of its cells."""
        return any(0 < self._filled(row) < len(row) for row in self._rows)

    def _filled(self, row: tuple[QWidget, ...]) -> int:
        return sum(_cell_value(cell) is not UNSET for cell in row)

    def take(self, project: Project, ids: Sequence[str]) -> bool:
        """A row for each thing that suits and has none; later on, presses fill what has some."""
        found = suiting(project, ids, self.kinds) if self.kinds else []
        if self._presses and not self.is_empty():
            return False
        taken = {own for row in self._rows if (own := _cell_value(row[0])) is not UNSET}
        for own in found:
            if own in taken:
                continue
            free = next((row for row in self._rows if _cell_value(row[0]) is UNSET), None)
            box = (free or self.add_row())[0]
            if isinstance(box, ThingBox):
                box.show_own(own)
        return bool(found)

    def pick(self, project: Project, at_mm: Mm2, reach_mm: float) -> bool:
        """The next two cells that are not filled take what was pressed."""
        if not self._presses:
            return False
        waiting = [row for row in self._rows if self._filled(row) < len(row)]
        at = self._next_pair(waiting[0]) if waiting else 0
        picked = self._presses[at](project, at_mm, reach_mm)
        if picked is None:
            return False
        row = next(self._suiting_rows(waiting, at, picked[0]), None) or self.add_row()
        for cell, value in zip(row[2 * at : 2 * at + 2], picked, strict=True):
            if isinstance(cell, ThingBox):
                cell.show_own(value)
            elif isinstance(cell, Field):
                cell.show_value(round(value, 3))
        self.typed.emit()
        return True

    def _suiting_rows(
        self,
        waiting: list[tuple[QWidget, ...]],
        at: int,
        first: Any,  # noqa: ANN401
    ) -> Iterator[tuple[QWidget, ...]]:
        """Rows that a press goes into: each piece has its own, an edge takes another's place."""
        named = [row for row in waiting if at == 0 and _cell_value(row[0]) == first]
        yield from named
        for row in waiting:
            if self._columns is not LEVEL_POINTS or _cell_value(row[0]) is UNSET:
                yield row

    def _next_pair(self, row: tuple[QWidget, ...]) -> int:
        pairs = range(len(self._presses))
        return next(at for at in pairs if self._filled(row[2 * at : 2 * at + 2]) < 2)

    def renew(self, project: Project) -> None:
        """List the things that there are now."""
        self._project = project
        for row in self._rows:
            for widget in row:
                if isinstance(widget, ThingBox):
                    widget.renew(project)


def _cell_value(widget: QWidget) -> Any:  # noqa: ANN401
    if isinstance(widget, Field):
        return read_field(widget)
    return widget.own if isinstance(widget, ThingBox) else UNSET


class OutlineArgument(RowsArgument):
    """Corners of a new piece, joined by straight edges."""

    def __init__(self, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__(POINTS, wishes, scheme)

    def plain(self) -> Any:  # noqa: ANN401
        """Its edges, each one straight cubic from a corner to the next."""
        points = super().plain()
        if points is UNSET:
            return UNSET
        ends = [*points[1:], points[0]]
        return [_straight(start, end) for start, end in zip(points, ends, strict=True)]


def _straight(start: list[float], end: list[float]) -> dict[str, Any]:
    thirds = [[a + (b - a) * part / 3 for a, b in zip(start, end, strict=True)] for part in (1, 2)]
    return {"cubics_mm": [[start, *thirds, end]]}


class BodyArgument(Argument):
    """Every measure of a body with a field; those that became others are told."""

    def __init__(self, wishes: Wishes) -> None:
        super().__init__()
        self._before: dict[str, float] = {}
        self._fields: dict[str, Field] = {}
        self._lines: dict[str, tuple[QWidget, ...]] = {}
        self.search = QLineEdit()
        self.search.setPlaceholderText("search a measure")
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._sift)
        grid = QGridLayout()
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(0, 1)
        for index, (name, meaning) in enumerate(MEASURES.items()):
            self._add(grid, index, name, meaning, wishes)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.search)
        whole.addLayout(grid)

    def _add(self, grid: QGridLayout, index: int, name: str, meaning: str, wishes: Wishes) -> None:
        words = measure_words(name)
        label, field = QLabel(words), number_field_for("mm", wishes)
        unit = QLabel(wishes.unit)
        field.setObjectName(f"measure_{name}")
        field.setAccessibleName(words)
        self.listen_to(field)
        for column, widget in enumerate((label, field, unit)):
            widget.setToolTip(meaning)
            grid.addWidget(widget, index, column)
        label.setBuddy(field)
        self._fields[name], self._lines[name] = field, (label, field, unit)

    def _sift(self, text: str) -> None:
        wanted = text.strip().lower()
        for name, widgets in self._lines.items():
            found = wanted in f"{measure_words(name)} {MEASURES[name]}".lower()
            for widget in widgets:
                widget.setVisible(found)

    def plain(self) -> Any:  # noqa: ANN401
        """Measures that became others; None for one that was cleared."""
        changed: dict[str, float | None] = {}
        for name, field in self._fields.items():
            value = read_field(field)
            if value is UNSET and name in self._before:
                changed[name] = None
            elif value is not UNSET and value != self._before.get(name):
                changed[name] = value
        return changed

    def renew(self, project: Project) -> None:
        """Show the body as it is written down."""
        self._before = dict(project.body)
        for name, field in self._fields.items():
            field.show_value(self._before.get(name))


def line_of(*widgets: QWidget) -> QHBoxLayout:
    """Widgets beside each other, to the right."""
    row = QHBoxLayout()
    row.setSpacing(8)
    row.addStretch(1)
    for widget in widgets:
        row.addWidget(widget)
    return row
