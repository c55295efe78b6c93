"""Fields of an edit's form that hold one value: a number, words, a choice, a thing, a place.

Each answers with plain data as JSON would hold it. What names a thing takes what is chosen on the
table while it is the one being filled.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, Final

from msgspec import UNSET
from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMenu,
    QToolButton,
    QWidget,
)

from wedgework.bench.gestures import Mm2
from wedgework.bench.picking import nearest_edge
from wedgework.pattern.darts import darts_at
from wedgework.pattern.document import Project
from wedgework.pattern.lookup import skin_seam_of
from wedgework.units import NotUnderstood, parse_number
from wedgework.window.fields import Field, angle_field, length_field, plain_field, word_field
from wedgework.window.panels.form_keeping import fields_in, put_back, taken_down
from wedgework.window.preferences import Wishes
from wedgework.window.tabbing import stops_in
from wedgework.window.things import ids_of_kind, kind_of, name_of

NUMBER_PX: Final = 96
UNIT_PX: Final = 24


class Argument(QWidget):
    """A field for one argument. `typed` tells that its value may be another."""

    typed = Signal()
    entered = Signal(object)
    kinds: tuple[str, ...] = ()
    """What kinds of things it takes from the table; none where it names no thing."""

    def plain(self) -> Any:  # noqa: ANN401 - plain data
        """The value as JSON says it; UNSET where it is left out; NotUnderstood where it is wrong.

        None is a value: it stands for nothing.
        """
        raise NotUnderstood("This field holds nothing.")

    def plain_or_none(self) -> Any:  # noqa: ANN401 - plain data
        """The value; None where it is left out or cannot be read."""
        try:
            value = self.plain()
        except NotUnderstood:
            return None
        return None if value is UNSET else value

    def is_empty(self) -> bool:
        """Whether nothing is in it yet."""
        return self.plain() is UNSET

    def is_half(self) -> bool:
        """Whether something stands in it that more has to be said of."""
        return False

    def take(self, project: Project, ids: Sequence[str]) -> bool:  # noqa: ARG002
        """Take what suits of these ids; False where nothing does."""
        return False

    def renew(self, project: Project) -> None:
        """Things have come or gone."""

    def taken_down(self) -> Any:  # noqa: ANN401 - what `put_back` takes
        """What stands in it, for one like it that takes its place."""
        return taken_down(fields_in(self))

    def put_back(self, kept: Any) -> None:  # noqa: ANN401 - from `taken_down`
        """Show what stood in another one like it."""
        put_back(fields_in(self), kept)

    def listen_to(self, field: Field) -> None:
        """Tell each value of a field, also while it is being typed."""
        for told in (field.kept, field.tried):
            told.connect(lambda _value: self.typed.emit())
        field.dropped.connect(self.typed)

    def pick(self, project: Project, at_mm: Mm2, reach_mm: float) -> bool:  # noqa: ARG002
        """Take the place that was pressed on the table; False where it asks for none."""
        return False

    def take_keys(self) -> bool:
        """Give the keyboard to what is filled in first; False where nothing in it takes keys."""
        stop = next((one for one in stops_in(self) if one.isEnabledTo(self)), None)
        if stop is not None:
            stop.setFocus()
        return stop is not None

    def lay(self, *widgets: QWidget, wide: int = -1) -> None:
        """Put widgets into one line; the one of index `wide` takes the room that is left."""
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for index, widget in enumerate(widgets):
            row.addWidget(widget, 1 if index == wide else 0)
            widget.installEventFilter(self)
        if wide < 0:
            row.addStretch(1)
        self.setFocusProxy(widgets[0])

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Who has the focus takes what is chosen next."""
        if event.type() == QEvent.Type.FocusIn:
            self.entered.emit(self)
        return super().eventFilter(watched, event)


def number_field_for(unit: str | None, wishes: Wishes, *, whole: bool = False) -> Field:
    """A field for a number that may be left out: a length, an angle or a plain one."""
    if unit == "mm":
        field = length_field(wishes.length_unit, wishes.decimals)
    elif unit == "deg":
        field = angle_field(wishes.decimals)
    else:
        field = plain_field(0 if whole else 3)
    field.setFixedWidth(NUMBER_PX)
    field.setPlaceholderText("")
    return field.may_be_blank()


def unit_words(unit: str | None, wishes: Wishes) -> str:
    """The unit as it stands beside a field."""
    return {"mm": wishes.unit, "deg": "°"}.get(unit or "", "")


def unit_label(unit: str | None, wishes: Wishes) -> QLabel:
    """The unit beside a field."""
    label = QLabel(unit_words(unit, wishes))
    label.setMinimumWidth(UNIT_PX)
    label.setObjectName("unit")
    return label


def read_field(field: Field) -> Any:  # noqa: ANN401 - plain data
    """What stands in a field, UNSET where it is empty; NotUnderstood where it cannot be read."""
    value = field.now()
    return UNSET if value in {None, ""} else value


class NumberArgument(Argument):
    """One number with its unit."""

    def __init__(self, unit: str | None, wishes: Wishes, first: object, *, whole: bool) -> None:
        super().__init__()
        self.field = number_field_for(unit, wishes, whole=whole)
        self.field.show_value(first)
        self.listen_to(self.field)
        self.lay(self.field, unit_label(unit, wishes))

    def plain(self) -> Any:  # noqa: ANN401
        """The number."""
        return read_field(self.field)


class PointArgument(Argument):
    """Two numbers with one unit: right and up."""

    def __init__(self, unit: str | None, wishes: Wishes, *, is_place: bool = False) -> None:
        super().__init__()
        self.is_place = is_place
        self.fields = tuple(number_field_for(unit, wishes) for _ in range(2))
        for field, words in zip(self.fields, ("right", "up"), strict=True):
            field.setPlaceholderText(words)
            field.setAccessibleName(words)
            self.listen_to(field)
        self.lay(*self.fields, unit_label(unit, wishes))

    def plain(self) -> Any:  # noqa: ANN401
        """Both numbers; one alone counts as nothing in the other direction."""
        values = [read_field(field) for field in self.fields]
        if all(value is UNSET for value in values):
            return UNSET
        return [0.0 if value is UNSET else value for value in values]

    def pick(self, project: Project, at_mm: Mm2, reach_mm: float) -> bool:  # noqa: ARG002
        """A place is taken from the table; a distance is not."""
        if self.is_place:
            for field, value in zip(self.fields, at_mm, strict=True):
                field.show_value(round(value, 3))
            self.typed.emit()
        return self.is_place


class WordArgument(Argument):
    """Words."""

    def __init__(self, first: str) -> None:
        super().__init__()
        self.field = word_field()
        self.field.show_value(first)
        self.listen_to(self.field)
        self.lay(self.field, wide=0)

    def plain(self) -> Any:  # noqa: ANN401
        """The words."""
        return read_field(self.field)


class WordsArgument(WordArgument):
    """Several words, parted by commas."""

    def plain(self) -> Any:  # noqa: ANN401
        """A list of them."""
        text = super().plain()
        return text if text is UNSET else [one.strip() for one in text.split(",") if one.strip()]


class TurnsArgument(WordArgument):
    """Turns in degrees, parted by blanks, or the word `any`."""

    def plain(self) -> Any:  # noqa: ANN401
        """A list of numbers, or the word."""
        text = super().plain()
        if text is UNSET or text == "any":
            return text
        return [parse_number(one) for one in text.replace("°", " ").replace(",", " ").split()]


class SwitchArgument(Argument):
    """Yes or no; it carries its own words, which may take several lines."""

    def __init__(self, words: str, first: object) -> None:
        super().__init__()
        self.box = QCheckBox()
        self.box.setAccessibleName(words)
        self.box.setChecked(bool(first))
        self.box.toggled.connect(lambda _on: self.typed.emit())
        self.words = QLabel(words)
        self.words.setWordWrap(True)
        self.lay(self.box, self.words, wide=1)

    def plain(self) -> Any:  # noqa: ANN401
        """Whether it is on."""
        return self.box.isChecked()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A press on the words is one on the box."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.box.toggle()


class ChoiceArgument(Argument):
    """One of a few words; `missing` is what leaving it out is called, None where it cannot be."""

    def __init__(
        self, rows: Iterable[tuple[object, str]], first: object, missing: str | None = None
    ) -> None:
        super().__init__()
        self.box = QComboBox()
        if missing is not None:
            self.box.addItem(missing, UNSET)
        for value, words in rows:
            self.box.addItem(words, value)
        if isinstance(first, str):
            self.box.setCurrentIndex(max(self.box.findData(first), 0))
        self.box.activated.connect(lambda _index: self.typed.emit())
        self.lay(self.box, wide=0)

    def plain(self) -> Any:  # noqa: ANN401
        """The chosen word."""
        return self.box.currentData()


class ThingBox(QComboBox):
    """A list of the things of some kinds, by name; empty at first."""

    def __init__(self, kinds: tuple[str, ...], empty: str) -> None:
        super().__init__()
        self._kinds, self._empty = kinds, empty
        policy = QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        self.setSizeAdjustPolicy(policy)
        self.setMinimumContentsLength(8)
        self.setMaxVisibleItems(14)
        self.currentTextChanged.connect(self.setToolTip)

    @property
    def own(self) -> Any:  # noqa: ANN401
        """Id of the thing; UNSET where none is taken."""
        return self.currentData()

    def renew(self, project: Project) -> None:
        """List the things of a project; what was taken stays, if it is there."""
        own = self.currentData()
        self.blockSignals(True)
        self.clear()
        self.addItem(self._empty, UNSET)
        for other in ids_of_kind(project, self._kinds):
            self.addItem(name_of(project, other), other)
        self.blockSignals(False)
        self.show_own(own)

    def show_own(self, own: object) -> None:
        """Take a thing."""
        self.setCurrentIndex(max(self.findData(own), 0) if isinstance(own, str) else 0)


def suiting(project: Project, ids: Iterable[str], kinds: tuple[str, ...]) -> list[str]:
    """Those ids that are of these kinds; else what they belong to: a piece, a level, a seam."""
    there = list(ids)
    found = [own for own in there if kind_of(project, own) in kinds]
    for kind, belonging in _BELONGING.items():
        if not found and kind in kinds:
            found = [one for own in there for one in belonging(project, own) if one is not None]
    return list(dict.fromkeys(found))


def _row_of(project: Project, own: str) -> list[str | None]:
    return [project.holes[own].row] if own in project.holes else []


def _level_of(project: Project, own: str) -> list[str | None]:
    piece = project.pieces.get(project.owners.get(own, ""))
    return [line.level for line in piece.lines if line.id == own] if piece else []


def _seam_of(project: Project, own: str) -> list[str | None]:
    seam = skin_seam_of(project, own)
    return [] if seam is None else [seam.id]


_BELONGING: Final[dict[str, Callable[[Project, str], Iterable[str | None]]]] = {
    "piece": lambda project, own: [project.owners.get(own)],
    "row": _row_of,
    "level": _level_of,
    "dart": lambda project, own: [dart.id for dart in darts_at(project, own)],
    "seam": _seam_of,
}
"""What a thing of another kind stands for, where a field asks for one of this kind."""


class ThingArgument(Argument):
    """One thing, from a list or from the table."""

    def __init__(self, kinds: tuple[str, ...], *, needed: bool) -> None:
        super().__init__()
        self.kinds = kinds
        self.box = ThingBox(kinds, "choose on the table" if needed else "none")
        self.box.activated.connect(lambda _index: self.typed.emit())
        self.lay(self.box, wide=0)

    def plain(self) -> Any:  # noqa: ANN401
        """Its id."""
        return self.box.own

    def take(self, project: Project, ids: Sequence[str]) -> bool:
        """Take the first that suits."""
        found = suiting(project, ids, self.kinds)
        if found:
            self.box.show_own(found[0])
            self.typed.emit()
        return bool(found)

    def renew(self, project: Project) -> None:
        """List the things that there are now."""
        self.box.renew(project)


class ThingsArgument(Argument):
    """Several things, their ids parted by blanks."""

    def __init__(self, kinds: tuple[str, ...]) -> None:
        super().__init__()
        self.kinds, self.project = kinds, Project()
        self.line = QLineEdit()
        self.line.setPlaceholderText("choose on the table")
        self.line.editingFinished.connect(self.typed)
        self.line.textChanged.connect(self.line.setToolTip)
        self._list = QMenu(self)
        button = QToolButton()
        button.setText("▾")
        button.setAutoRaise(True)
        button.setToolTip("Add one from a list")
        button.setAccessibleName("Add one from a list")
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setMenu(self._list)
        self.lay(self.line, button, wide=0)

    def renew(self, project: Project) -> None:
        """List the things that there are now."""
        self.project = project
        self._list.clear()
        for own in ids_of_kind(project, self.kinds):
            entry = self._list.addAction(name_of(project, own))
            entry.triggered.connect(lambda _checked=False, own=own: self._add(own))

    def written(self, ids: Sequence[str]) -> str:
        """What stands in the line for these things."""
        return " ".join(ids)

    def _add(self, own: str) -> None:
        self.line.setText(self.written([*self.line.text().split(), own]))
        self.typed.emit()

    def plain(self) -> Any:  # noqa: ANN401
        """Their ids."""
        return self.line.text().split() or UNSET

    def take(self, project: Project, ids: Sequence[str]) -> bool:
        """Take all that suit."""
        found = suiting(project, ids, self.kinds)
        if found:
            self.line.setText(self.written(found))
            self.line.setCursorPosition(0)
            self.typed.emit()
        return bool(found)


class PlaceArgument(Argument):
    """A place: an edge, and the distance along it from its start."""

    kinds = ("edge",)

    def __init__(self, wishes: Wishes) -> None:
        super().__init__()
        self.box = ThingBox(self.kinds, "edge")
        self.field = number_field_for("mm", wishes)
        self.field.setFixedWidth(78)
        self.field.setPlaceholderText("along")
        self.field.setAccessibleName("Distance along the edge from its start")
        self.listen_to(self.field)
        self.box.activated.connect(lambda _index: self.typed.emit())
        self.lay(self.box, self.field, unit_label("mm", wishes), wide=0)

    def plain(self) -> Any:  # noqa: ANN401
        """Edge and distance."""
        at_mm = read_field(self.field)
        if self.box.own is UNSET:
            return UNSET
        return {"edge": self.box.own, "at_mm": 0.0 if at_mm is UNSET else at_mm}

    def is_empty(self) -> bool:
        """Whether no edge is taken yet."""
        return self.box.own is UNSET

    def pick(self, project: Project, at_mm: Mm2, reach_mm: float) -> bool:
        """The edge that was pressed, and how far along it."""
        hit = nearest_edge(project, at_mm, reach_mm)
        if hit is None:
            return False
        self.box.show_own(hit.edge)
        self.field.show_value(round(hit.station_mm, 3))
        self.typed.emit()
        return True

    def take(self, project: Project, ids: Sequence[str]) -> bool:
        """Take the first edge."""
        found = suiting(project, ids, self.kinds)
        if found:
            self.box.show_own(found[0])
            self.typed.emit()
        return bool(found)

    def renew(self, project: Project) -> None:
        """List the edges that there are now."""
        self.box.renew(project)
