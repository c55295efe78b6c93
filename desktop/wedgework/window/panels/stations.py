"""The stations of a slice, typed: where along the seam, how wide, tried while they are typed.

What is tried is shown on the table and unrolled beside; Keep makes it one step, Escape drops it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from wedgework.bench import Bench, Change
from wedgework.pattern.ends import is_of_one_outline
from wedgework.pattern.errors import WedgeworkError
from wedgework.pattern.seams import measure_seam
from wedgework.window.fields import Field, length_field, pressed_by_enter
from wedgework.window.icons import icon
from wedgework.window.palette import Scheme
from wedgework.window.panels.slice import Row, Slice, fresh
from wedgework.window.panels.stations_body import PART_PX, FromBody, options_grid, part_field
from wedgework.window.preferences import Wishes
from wedgework.window.theme import SMALL_PX, font

WIDTH_PX = 312
PLACE_PX = 76
LEVEL_PX = 68


class Stations(QFrame):
    """The panel beside the unrolled seam; it is there while a slice is being set."""

    changed = Signal()
    refused = Signal(str)
    worked = Signal(bool)
    """A slice is being set from now on, or no longer: it wants room beside the unrolled seam."""

    def __init__(self, bench: Bench, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._bench, self._wishes, self._scheme = bench, wishes, scheme
        self._seam: str | None = None
        self._slice: Slice | None = None
        self._is_at_work = False
        self._fields: list[tuple[Field, Field, QLabel]] = []
        self.setFixedWidth(WIDTH_PX)
        self.setObjectName("stations")
        self._make()
        self.dress(wishes, scheme)
        self.hide()
        bench.subscribe(self._follow)

    # What others ask and tell

    @property
    def stations(self) -> tuple[Row, ...]:
        """Along A and intake there, in mm, in the order of the seam; none while none are set."""
        return () if self._slice is None else self._slice.rows

    def show_seam(self, seam: str | None) -> None:
        """Another seam was chosen: what was being set for the one before is dropped."""
        if seam != self._seam:
            self.drop()
            self._seam = seam

    def begin(self) -> None:
        """Set a slice for the chosen seam, beginning with what the body asks for, if it does."""
        if self._slice is None and (whole_mm := self._whole_mm()) is not None:
            self._begin_body()
            rows, round_mm = self._proposal()
            proposed = Slice(whole_mm=whole_mm, rows=rows, round_mm=round_mm)
            self._put(proposed if rows else fresh(whole_mm))
        if self._fields:
            # The first one inside the seam: its ends mostly stay as they are.
            self._fields[1 if len(self._fields) > 2 else 0][1].setFocus()

    def move_station(self, index: int, at_mm: float) -> None:
        """A station is dragged along the seam, to `at_mm` along A."""
        if self._slice is not None and index < len(self._slice.rows):
            self._put(self._slice.dragged(index, at_mm))

    def add_station(self, at_mm: float) -> None:
        """One more station, `at_mm` along A; the first one begins the slice."""
        slice_, whole_mm = self._slice, self._whole_mm()
        if whole_mm is None:
            return
        if slice_ is None:
            self._begin_body()
            slice_ = Slice(whole_mm=whole_mm, rows=((0.0, 0.0), (whole_mm, 0.0)))
        more = slice_.with_row(at_mm)
        self._put(more)
        for index, row in enumerate(more.rows):
            if row not in slice_.rows:
                self._fields[index][1].setFocus()

    def keep(self) -> None:
        """Keep what is being tried as one step."""
        if self._slice is None or self._seam is None:
            return
        with self._working():
            try:
                self._bench.do(self._slice.edit(self._seam))
            except WedgeworkError as error:
                self._say(error.sentence)
                self.refused.emit(error.sentence)
                return
        self._end()

    def drop(self) -> None:
        """Drop what is being tried."""
        if self._slice is None:
            return
        with self._working():
            self._bench.drop_preview()
        self._end()

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other units or colours."""
        self._wishes, self._scheme = wishes, scheme
        self.setStyleSheet(
            f"QFrame#stations {{ border-left: 1px solid {scheme.hair}; }}"
            f"QFrame#hair {{ background: {scheme.hair}; border: none; }}"
        )
        self._dress_round()
        self._body.dress(wishes, scheme)
        self._build_rows()

    # Building

    def _make(self) -> None:
        inside = QWidget()
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(12, 2, 12, 6)
        rows.setSpacing(6)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(2, 1)
        self._body = FromBody(self._wishes, self._scheme)
        self._body.asked.connect(self._fill_from_body)
        rows.addLayout(self._grid)
        rows.addWidget(self._adding(), 0, Qt.AlignmentFlag.AlignLeft)
        rows.addWidget(_hair_line())
        rows.addLayout(self._options())
        rows.addWidget(self._true)
        rows.addWidget(_hair_line())
        rows.addWidget(self._body)
        rows.addStretch(1)
        space = QScrollArea()
        space.setWidgetResizable(True)
        space.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        space.setWidget(inside)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(1, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(space, 1)
        whole.addWidget(self._refusal())
        whole.addLayout(self._foot())

    def _adding(self) -> QPushButton:
        add = QPushButton("Add a station")
        add.setObjectName("station_add")
        add.setToolTip("In the middle of the longest stretch without one; "
                       "a double click on the unrolled seam sets one at its place")  # fmt: skip
        add.clicked.connect(self._add_in_gap)
        return add

    def _options(self) -> QGridLayout:
        self._share = part_field(
            "share_a", "What side A gives up of the width; half bends both sides least"
        )
        self._share.kept.connect(self._set_share)
        self._round_unit = QLabel()
        self._round_space = QHBoxLayout()
        self._round_space.setContentsMargins(0, 0, 0, 0)
        holder = QWidget()
        holder.setLayout(self._round_space)
        self._round: Field | None = None
        self._true = QCheckBox("True both sides after")
        self._true.setToolTip("Make both sides equally long afterwards, half the change on each")
        self._true.clicked.connect(self._set_then_true)
        return options_grid(
            (
                ("Side A gives", self._share, "%"),
                ("Tips rounded over", holder, self._round_unit),
            )
        )

    def _dress_round(self) -> None:
        """The field for the rounding anew, since a field reads one unit all its life."""
        value = 0.0 if self._round is None else self._round.value
        if self._round is not None:
            self._round_space.removeWidget(self._round)
            self._round.deleteLater()
        self._round = length_field(self._wishes.length_unit, self._wishes.decimals)
        self._round.setObjectName("round_mm")
        self._round.setAccessibleName("Tips rounded over")
        self._round.setFixedWidth(PART_PX)
        self._round.kept.connect(self._set_round)
        self._round.show_value(value)
        self._round_space.addWidget(self._round)
        self._round_unit.setText(self._wishes.unit)

    def _refusal(self) -> QLabel:
        self._why = QLabel()
        self._why.setObjectName("station_refusal")
        self._why.setWordWrap(True)
        self._why.setProperty("wrong", True)
        self._why.setContentsMargins(12, 4, 12, 0)
        self._why.hide()
        return self._why

    def _foot(self) -> QHBoxLayout:
        self._keep = QPushButton("Keep")
        self._keep.setObjectName("station_keep")
        self._keep.setToolTip("Cut the slice as it is shown, as one step (Enter)")
        self._keep.clicked.connect(self.keep)
        drop = QPushButton("Drop")
        drop.setObjectName("station_drop")
        drop.setToolTip("Leave the seam as it was (Escape)")
        drop.clicked.connect(self.drop)
        row = QHBoxLayout()
        row.setContentsMargins(12, 6, 12, 8)
        row.setSpacing(8)
        row.addStretch(1)
        row.addWidget(drop)
        row.addWidget(self._keep)
        return row

    def _build_rows(self) -> None:
        """Fields for every station, anew; while only numbers change the same ones stay."""
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        for column, words in enumerate(("along A", "intake")):
            self._grid.addWidget(self._quiet(f"{words} {self._wishes.unit}"), 0, column,
                                 Qt.AlignmentFlag.AlignRight)  # fmt: skip
        self._fields = [self._row_of_fields(index) for index in range(len(self.stations))]
        self._show_numbers()

    def _row_of_fields(self, index: int) -> tuple[Field, Field, QLabel]:
        at = self._length(f"station_at_{index}", f"Station {index + 1}, along A")
        at.kept.connect(lambda value: self._change(lambda one: one.moved(index, value)))
        width = self._length(f"station_width_{index}", f"Station {index + 1}, intake")
        width.setToolTip("What is taken out there; what is below nothing is put in")
        width.kept.connect(lambda value: self._change(lambda one: one.widened(index, value)))
        width.tried.connect(lambda value: self._try_width(index, value))
        width.dropped.connect(self._try)
        level = self._quiet("")
        for column, widget in enumerate((at, width, level, self._remover(index))):
            self._grid.addWidget(widget, index + 1, column)
        return at, width, level

    def _remover(self, index: int) -> QToolButton:
        remove = QToolButton()
        remove.setIcon(icon("close", self._scheme))
        remove.setAutoRaise(True)
        remove.setToolTip("Take this station out")
        remove.setAccessibleName(f"Take station {index + 1} out")
        remove.setObjectName(f"station_remove_{index}")
        remove.clicked.connect(lambda: self._change(lambda one: one.without_row(index)))
        return remove

    def _length(self, name: str, words: str) -> Field:
        field = length_field(self._wishes.length_unit, self._wishes.decimals)
        field.setFixedWidth(PLACE_PX)
        field.setObjectName(name)
        field.setAccessibleName(words)
        return field

    def _quiet(self, words: str) -> QLabel:
        label = QLabel(words)
        label.setFont(font(SMALL_PX))
        label.setStyleSheet(f"color: {self._scheme.quiet};")
        return label

    # Showing

    def _change(self, change: Callable[[Slice], Slice]) -> None:
        if self._slice is not None:
            self._put(change(self._slice))

    def _put(self, slice_: Slice) -> None:
        """Take this slice and show what it would do."""
        same_rows = len(slice_.rows) == len(self._fields)
        self._slice = slice_
        if self.isHidden():
            self.show()
            self.worked.emit(True)
        if not same_rows:
            self._build_rows()
        self._try()
        self._show_numbers()
        self.changed.emit()

    def _show_numbers(self) -> None:
        if self._slice is None:
            return
        for (at, width, level), row in zip(self._fields, self._slice.rows, strict=True):
            at.show_value(row[0])
            width.show_value(row[1])
            _write_short(level, self._body.level_at(row[0]))
        self._share.show_value(100 * self._slice.share_a)
        self._true.setChecked(self._slice.then_true)
        if self._round is not None:
            self._round.show_value(self._slice.round_mm)

    def _try(self) -> None:
        if self._slice is not None:
            self._try_slice(self._slice)

    def _try_width(self, index: int, width_mm: float) -> None:
        if self._slice is not None:
            self._try_slice(self._slice.widened(index, width_mm))

    def _try_slice(self, slice_: Slice) -> None:
        """Show what a slice would do; where it cannot be cut, say why and leave what is shown."""
        bench = self._bench
        if self._seam is None:
            return
        with self._working():
            if slice_.is_nothing:
                bench.drop_preview()
            elif not bench.preview(slice_.edit(self._seam)):
                self._say(bench.refusal or "")
                self._keep.setEnabled(False)
                return
        self._say("")
        self._keep.setEnabled(not slice_.is_nothing)
        self._body.show_seam(bench.shown, bench.shown.seams.get(self._seam))

    def _say(self, sentence: str) -> None:
        # State is never colour alone.
        self._why.setText(f"⊘ {sentence}" if sentence else "")
        self._why.setVisible(bool(sentence))

    # What is asked of it

    def _whole_mm(self) -> float | None:
        """How long side A is in the kept project; None where there is no such seam."""
        project = self._bench.project
        seam = project.seams.get(self._seam or "")
        if seam is None:
            return None
        try:
            whole_mm = measure_seam(project, seam).a.length_mm
        except WedgeworkError as error:
            self.refused.emit(error.sentence)
            return None
        # Both sides of one outline can only give alike.
        self._share.setEnabled(not is_of_one_outline(seam))
        return whole_mm

    def _begin_body(self) -> None:
        project = self._bench.project
        self._body.begin(project, project.seams[self._seam or ""])

    def _proposal(self) -> tuple[tuple[Row, ...], float]:
        project = self._bench.project
        return self._body.proposal(project, project.seams[self._seam or ""])

    def _fill_from_body(self) -> None:
        rows, round_mm = self._proposal()
        if rows:
            self._change(lambda one: replace(one, rows=rows, round_mm=round_mm))
        else:
            self._say("The pieces are as wide as the body asks for at every level here.")

    def _add_in_gap(self) -> None:
        if self._slice is not None:
            self.add_station(self._slice.widest_gap_mm())

    def _set_share(self, percent: float) -> None:
        self._change(lambda one: replace(one, share_a=percent / 100))

    def _set_round(self, round_mm: float) -> None:
        self._change(lambda one: replace(one, round_mm=round_mm))

    def _set_then_true(self, then_true: bool) -> None:  # noqa: FBT001 - Qt's signal hands it on
        self._change(lambda one: replace(one, then_true=then_true))

    # Following the bench

    @contextmanager
    def _working(self) -> Iterator[None]:
        """What the bench tells meanwhile comes from here and is no surprise."""
        before, self._is_at_work = self._is_at_work, True
        try:
            yield
        finally:
            self._is_at_work = before

    def _follow(self, change: Change) -> None:
        """Another step or file under what is being set: it no longer fits and ends."""
        if self._slice is not None and not self._is_at_work and change.kind in {"edited", "opened"}:
            self._end()

    def _end(self) -> None:
        self._slice = None
        self._say("")
        self.hide()
        self.worked.emit(False)
        self._build_rows()
        self.changed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter keeps, on a button it presses that one; Escape drops."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            if not pressed_by_enter(self):
                self.keep()
        elif event.key() == Qt.Key.Key_Escape:
            self.drop()
        else:
            super().keyPressEvent(event)


def _write_short(label: QLabel, text: str) -> None:
    """Text as far as there is room; the whole of it in the tool tip."""
    shown = label.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, LEVEL_PX)
    label.setText(shown)
    label.setToolTip(text if shown != text else "")


def _hair_line() -> QFrame:
    line = QFrame()
    line.setObjectName("hair")
    line.setFixedHeight(1)
    return line
