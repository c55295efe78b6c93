"""A form for any edit, built from its row in the table of edits: every edit can be typed.

Lengths are typed with units and arithmetic; several values are parted by `;`, the two of a point
by a blank or a comma; a place is an edge and a distance along it.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable
from typing import Any, Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from wedgework.bench import Bench
from wedgework.edits import Edit, Row, decode_plain, edit_docs
from wedgework.pattern.document import Project
from wedgework.pattern.errors import WedgeworkError
from wedgework.units import NotUnderstood, Unit, parse_angle_rad, parse_length_mm, parse_number
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.theme import HEADING_PX, SMALL_PX, font

IDS: Final = {
    "piece": ("piece",), "pieces": ("piece",), "edge": ("edge",), "edges": ("edge",),
    "first": ("edge",), "second": ("edge",), "about": ("edge",), "seam": ("seam",),
    "dart": ("seam",), "darts": ("seam",), "corner": ("corner",), "mark": ("mark",),
    "marks": ("mark",), "notches": ("mark",), "holes": ("mark",), "line": ("line",),
    "label": ("label",), "id": ("piece", "seam", "edge", "line", "label"),
}  # fmt: skip
"""Arguments that name things, and what kind of thing may stand there."""


class EditForm(QWidget):
    """One edit as a form: Try shows it, Keep does it."""

    closed = Signal()

    def __init__(self, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._wishes, self._scheme = wishes, scheme
        self._bench: Bench | None = None
        self._row: Row | None = None
        self._read: dict[str, Callable[[], Any]] = {}
        self._says = QLabel()
        self._says.setWordWrap(True)
        self._says.setProperty("wrong", True)
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other units or colours, for the next form."""
        self._wishes, self._scheme = wishes, scheme

    def start(self, row: Row, bench: Bench) -> None:
        """Show the form of an edit, filled with what is chosen."""
        self._row, self._bench, self._read = row, bench, {}
        while (item := self._rows.takeAt(0)) is not None:
            if (widget := item.widget()) is not None and widget is not self._says:
                widget.deleteLater()
        docs = next(one for one in edit_docs() if one["edit"] == row.name)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setWidget(self._page(docs))
        self._rows.addWidget(area)
        self._say("")

    def _page(self, docs: dict[str, Any]) -> QWidget:
        page = QWidget()
        rows = QVBoxLayout(page)
        rows.setContentsMargins(14, 6, 14, 12)
        rows.setSpacing(8)
        head = QLabel(docs["edit"].replace("_", " ").capitalize())
        head.setFont(font(HEADING_PX, strong=True))
        meaning = QLabel(docs["meaning"])
        meaning.setWordWrap(True)
        rows.addWidget(head)
        rows.addWidget(meaning)
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(5)
        for index, argument in enumerate(docs["arguments"]):
            self._add(grid, index, argument)
        rows.addLayout(grid)
        rows.addWidget(self._says)
        rows.addLayout(self._buttons())
        rows.addStretch(1)
        return page

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.addStretch(1)
        for words, deed in (("Cancel", self._cancel), ("Try", self._try), ("Keep", self._keep)):
            button = QPushButton(words)
            button.setObjectName(f"form_{words.lower()}")
            button.clicked.connect(deed)
            row.addWidget(button)
        return row

    def _add(self, grid: QGridLayout, index: int, argument: dict[str, Any]) -> None:
        name, kind = argument["name"], argument["type"]
        words = name.removesuffix("_mm").removesuffix("_deg").replace("_", " ")
        unit = {"mm": self._wishes.unit, "deg": "°"}.get(argument["unit"], "")
        label = QLabel(f"{words} {unit}".strip())
        label.setToolTip(argument["meaning"])
        label.setFont(font(SMALL_PX))
        widget = self._widget(argument, kind)
        widget.setToolTip(argument["meaning"])
        widget.setObjectName(f"argument_{name}")
        label.setBuddy(widget)
        grid.addWidget(label, index, 0)
        grid.addWidget(widget, index, 1)

    def _widget(self, argument: dict[str, Any], kind: str) -> QWidget:
        name = argument["name"]
        if kind == "true or false":
            box = QCheckBox()
            box.setChecked(bool(argument.get("default")))
            self._read[name] = box.isChecked
            return box
        if "|" in kind:
            choice = QComboBox()
            choice.addItems(kind.split(" | "))
            if argument.get("default"):
                choice.setCurrentText(argument["default"])
            self._read[name] = choice.currentText
            return choice
        line = QLineEdit(self._first_text(argument))
        line.setPlaceholderText("" if argument["needed"] else "may stay empty")
        line.returnPressed.connect(self._keep)
        self._read[name] = lambda: self._value(argument, line.text().strip())
        return line

    def _first_text(self, argument: dict[str, Any]) -> str:
        """What stands in a field at first: what is chosen, or what the edit takes if left out."""
        bench = self._bench
        assert bench is not None  # noqa: S101 - started before fields are built
        kinds = IDS.get(argument["name"])
        if kinds is not None:
            ids = [own for own in bench.chosen if kind_of(bench.project, own) in kinds]
            return " ".join(ids if argument["type"].startswith("list") else ids[:1])
        if argument["type"] == "place":
            edges = [own for own in bench.chosen if kind_of(bench.project, own) == "edge"]
            return f"{edges[0]} " if edges else ""
        default = argument.get("default")
        return f"{default:g}" if isinstance(default, float) else ""

    def _value(self, argument: dict[str, Any], text: str) -> Any:  # noqa: ANN401 - plain data
        """The plain value of a text; `...` where it was left out; NotUnderstood if it is wrong."""
        if not text:
            return ...
        read = READERS.get(argument["type"])
        if read is not None:
            return read(text, argument["unit"], self._wishes.length_unit)
        try:
            return json.loads(text)
        except json.JSONDecodeError:
            raise NotUnderstood(
                f"{argument['name']}: write it as data: {argument['meaning']}."
            ) from None

    def _edit(self) -> Edit:
        assert self._row is not None  # noqa: S101 - started before any button is there
        plain = {name: read() for name, read in self._read.items()}
        given = {name: value for name, value in plain.items() if value is not ...}
        return decode_plain({"edit": self._row.name, **given})

    def _try(self) -> None:
        self._doing(keep=False)

    def _keep(self) -> None:
        if self._doing(keep=True):
            self.closed.emit()

    def _doing(self, *, keep: bool) -> bool:
        bench = self._bench
        assert bench is not None  # noqa: S101 - started before any button is there
        try:
            edit = self._edit()
            if keep:
                bench.do(edit)
            elif not bench.preview(edit):
                self._say(bench.refusal or "")
                return False
        except WedgeworkError as error:
            self._say(error.sentence)
            return False
        self._say("")
        return True

    def _cancel(self) -> None:
        if self._bench is not None:
            self._bench.drop_preview()
        self.closed.emit()

    def _say(self, sentence: str) -> None:
        self._says.setText(f"⊘ {sentence}" if sentence else "")
        self._says.setVisible(bool(sentence))


def kind_of(project: Project, own: str) -> str:
    """What kind of thing an id names: piece, seam, mark, edge, corner, line, label or nothing."""
    tables = (("piece", project.pieces), ("seam", project.seams), ("mark", project.notches),
              ("mark", project.holes))  # fmt: skip
    whole = next((kind for kind, table in tables if own in table), "")
    owner = project.owners.get(own)
    if whole or owner is None:
        return whole
    piece = project.pieces[owner]
    if any(edge.id == own for edge in piece.all_edges()):
        return "edge"
    if any(edge.corner == own for edge in piece.all_edges()):
        return "corner"
    return "line" if any(line.id == own for line in piece.lines) else "label"


# Texts to plain values. Each takes the text, the argument's unit and the unit lengths are typed in.


def _number(text: str, unit: str | None, typed: Unit) -> float:
    if unit == "mm":
        return parse_length_mm(text, typed)
    if unit == "deg":
        return _degrees(text)
    return parse_number(text)


def _degrees(text: str) -> float:
    return math.degrees(parse_angle_rad(text))


def _whole(text: str, _unit: str | None, _typed: Unit) -> int:
    value = parse_number(text)
    if value != round(value):
        raise NotUnderstood("A whole number is needed here.")
    return round(value)


def _point(text: str, unit: str | None, typed: Unit) -> list[float]:
    parts = [part for part in re.split(r"[,\s]+", text.strip()) if part]
    if len(parts) != 2:
        raise NotUnderstood(f"“{text}” should be two numbers, x and y.")
    return [_number(part, unit, typed) for part in parts]


def _points(text: str, unit: str | None, typed: Unit) -> list[list[float]]:
    return [_point(part, unit, typed) for part in text.split(";") if part.strip()]


def _numbers(text: str, unit: str | None, typed: Unit) -> list[float]:
    return [_number(part, unit, typed) for part in text.split(";") if part.strip()]


def _place(text: str, unit: str | None, typed: Unit) -> dict[str, Any]:
    edge, _, rest = text.partition(" ")
    if not rest.strip():
        raise NotUnderstood("A place is an edge and a distance along it: front.e1 120.")
    return {"edge": edge, "at_mm": _number(rest, unit or "mm", typed)}


def _stations(text: str, _unit: str | None, typed: Unit) -> list[dict[str, float]]:
    rows = _points(text, "mm", typed)
    return [{"at_mm": at, "width_mm": width} for at, width in rows]


def _measures(text: str, unit: str | None, typed: Unit) -> dict[str, float]:
    found = {}
    for part in filter(None, (one.strip() for one in text.split(";"))):
        name, _, value = part.replace("=", " ").partition(" ")
        found[name if name.endswith("_mm") else f"{name}_mm"] = _number(value, unit, typed)
    return found


READERS: Final[dict[str, Callable[[str, str | None, Unit], Any]]] = {
    "text": lambda text, *_: text,
    "text or nothing": lambda text, *_: text,
    "list of text": lambda text, *_: text.split(),
    "number": _number,
    "number or nothing": _number,
    "whole number": _whole,
    "[number, number]": _point,
    "[number, number] or nothing": _point,
    "list of [number, number]": _points,
    "list of number or number": _numbers,
    "list of number or any": lambda text, *rest: "any" if text == "any" else _numbers(text, *rest),
    "place": _place,
    "list of intake station": _stations,
    "named values": _measures,
}
