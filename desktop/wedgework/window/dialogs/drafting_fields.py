"""Fields of the drafting form: one for each number of a kind, built from its description."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Final

from msgspec import UNSET
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from wedgework.drafting import Kind
from wedgework.pattern.arguments import arguments_of
from wedgework.units import NotUnderstood, format_number
from wedgework.window.dialogs.drafting_edges import EdgesArgument, LinesArgument
from wedgework.window.fields import Field
from wedgework.window.form_words import number_tip, number_words
from wedgework.window.palette import Scheme
from wedgework.window.panels.form_fields import (
    Argument,
    ChoiceArgument,
    NumberArgument,
    SwitchArgument,
)
from wedgework.window.preferences import Wishes
from wedgework.window.tabbing import tab_through
from wedgework.window.theme import SMALL_PX, font

DRAWN_LINES: Final = frozenset({"outer_line"})
"""Numbers that name lines drawn inside pieces, not edges."""

WORD_PX: Final = 98


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """The rows of a form: those that are seen at once, and those that are folded away."""

    first: tuple[dict[str, Any], ...]
    more: tuple[dict[str, Any], ...]


def numbered(kind: Kind) -> Numbered:
    """The numbers of a kind, needed ones first."""
    docs = arguments_of(kind.numbers)
    by_name = {row["name"]: row for row in docs}
    needed = [row["name"] for row in docs if row["needed"]]
    first = dict.fromkeys((*needed, *kind.first))
    return Numbered(
        first=tuple(by_name[name] for name in first),
        more=tuple(row for row in docs if row["name"] not in first),
    )


class NumberRow:
    """One number of the form: its words, its field, and what is said of where it came from."""

    def __init__(self, docs: dict[str, Any], argument: Argument) -> None:
        self.docs, self.argument = docs, argument
        self.name: str = docs["name"]
        self.said = QLabel()
        self.said.setFont(font(SMALL_PX))
        self.said.setObjectName("quiet")

    @property
    def field(self) -> Field | None:
        """The line that a number is typed in; None for choices and edges."""
        return self.argument.field if isinstance(self.argument, NumberArgument) else None

    def show_first(self, value: object, said: str = "") -> None:
        """What stands in it before anything is typed."""
        if self.field is not None:
            self.field.show_value(value)
        elif isinstance(self.argument, ChoiceArgument):
            self.argument.box.setCurrentIndex(max(self.argument.box.findData(value), 0))
        elif isinstance(self.argument, SwitchArgument):
            self.argument.box.setChecked(bool(value))
        elif isinstance(self.argument, EdgesArgument) and isinstance(value, list | tuple):
            self.argument.show_refs(value)
        self.said.setText(said)

    def show_told(self, value: object, wishes: Wishes) -> None:
        """What was filled in where nothing was typed stands in the empty field, and says so."""
        if self.field is None:
            return
        is_blank = self.argument.plain_or_none() is None
        is_told = is_blank and isinstance(value, int | float) and not isinstance(value, bool)
        shown = shown_number(value, self.docs["unit"], wishes) if is_told else ""
        self.field.setPlaceholderText(shown)
        if is_blank:
            self.said.setText("filled in" if is_told else "")
        elif self.said.text() == "filled in":
            self.said.setText("")


def row_of(docs: dict[str, Any], wishes: Wishes, scheme: Scheme) -> NumberRow:
    """The field that suits a number of a draft."""
    kind, default = docs["type"], docs.get("default")
    argument: Argument
    if "list" in kind:
        kind_of_refs = LinesArgument if docs["name"] in DRAWN_LINES else EdgesArgument
        argument = kind_of_refs(scheme, wishes)
    elif " | " in kind:
        words = [(one, one.replace("_", " ")) for one in kind.split(" | ")]
        argument = ChoiceArgument(words, default)
    elif kind.startswith("true"):
        argument = SwitchArgument(number_words(docs["name"]), default)
    else:
        whole = kind.startswith("whole")
        argument = NumberArgument(docs["unit"], wishes, default, whole=whole)
    argument.setObjectName(f"number_{docs['name']}")
    argument.setAccessibleName(number_words(docs["name"]))
    argument.setToolTip(number_tip(docs))
    return NumberRow(docs, argument)


class NumberRows(QWidget):
    """Rows of numbers under each other; words, field, where its value is from."""

    typed = Signal()

    def __init__(self, rows: Sequence[NumberRow]) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(2, 1)
        for at, row in enumerate(rows):
            self._add(grid, at, row)

    def _add(self, grid: QGridLayout, at: int, row: NumberRow) -> None:
        row.argument.typed.connect(self.typed)
        if isinstance(row.argument, SwitchArgument):
            grid.addWidget(row.argument, at, 0, 1, 3)
            return
        needed = " *" if row.docs["needed"] else ""
        label = QLabel(f"{number_words(row.name)}{needed}")
        label.setWordWrap(True)
        label.setMinimumWidth(WORD_PX)
        label.setMaximumWidth(WORD_PX)
        label.setToolTip(row.argument.toolTip())
        label.setBuddy(row.argument)
        grid.addWidget(label, at, 0)
        if isinstance(row.argument, NumberArgument):
            grid.addWidget(row.argument, at, 1)
            grid.addWidget(row.said, at, 2, Qt.AlignmentFlag.AlignLeft)
        else:
            grid.addWidget(row.argument, at, 1, 1, 2)


class Folded(QWidget):
    """Rows that are folded away under a word."""

    def __init__(self, word: str, inside: QWidget) -> None:
        super().__init__()
        self._inside, self._word = inside, word
        self.button = QToolButton()
        self.button.setObjectName("draft_more")
        self.button.setAutoRaise(True)
        self.button.setCheckable(True)
        self.button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
        self.button.toggled.connect(self.unfold)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 6, 0, 0)
        rows.setSpacing(4)
        rows.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        rows.addWidget(inside)
        # Qt goes by the order in which widgets were made, and the rows were made before the word.
        tab_through(self.button, inside)
        self.unfold(False)

    def unfold(self, is_open: bool) -> None:  # noqa: FBT001 - Qt hands it over
        """Show them, or fold them away."""
        self.button.setText(f"{'▾' if is_open else '▸'} {self._word}")
        self._inside.setVisible(is_open)


def plain_numbers(rows: Iterable[NumberRow]) -> dict[str, Any]:
    """What stands in the form as plain data; NotUnderstood where something is missing or wrong."""
    plain: dict[str, Any] = {}
    for row in rows:
        value = row.argument.plain()
        if value is not UNSET:
            # What is as it would be anyway is not said, so that a recipe tells what the maker did.
            if row.docs["needed"] or value != row.docs.get("default"):
                plain[row.name] = value
        elif row.docs["needed"]:
            raise NotUnderstood(f"Still missing: {number_words(row.name)}.")
    return plain


def shown_number(value: object, unit: str | None, wishes: Wishes) -> str:
    """A number that a draft tells, with its unit; words as they are."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(number_words(str(one)) for one in value)
    if not isinstance(value, int | float):
        return number_words(str(value))
    if unit == "mm":
        return wishes.in_card(value)
    return format_number(value, 0 if isinstance(value, int) else wishes.decimals)
