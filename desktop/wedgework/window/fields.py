"""Fields for numbers and words: Enter keeps, Escape drops, Tab keeps and goes on.

What cannot be read stays in the field with the reason under it; leaving the field drops it.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QPushButton, QToolButton, QToolTip, QWidget

from wedgework.units import (
    NotUnderstood,
    Unit,
    format_angle,
    format_number,
    parse_angle_rad,
    parse_length_mm,
    parse_number,
)


class Field(QLineEdit):
    """A line that holds one value. `kept` tells a new one; `tried` tells each one on the way."""

    kept = Signal(object)
    tried = Signal(object)
    dropped = Signal()

    def __init__(
        self,
        read: Callable[[str], object],
        write: Callable[[object], str],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._read, self._write = read, write
        self._value: object = None
        self.textEdited.connect(self._try)

    @property
    def value(self) -> object:
        """The value that is kept; None where the field is empty."""
        return self._value

    def now(self) -> object:
        """What stands in the field, kept or not; NotUnderstood where it cannot be read."""
        return self._read(self.text()) if self.isModified() else self._value

    def may_be_blank(self) -> Field:
        """The same field, which may be empty from now on: its value is None then."""
        read = self._read
        self._read = lambda text: read(text) if text.strip() else None
        return self

    def show_value(self, value: object) -> None:
        """Show a value, unless the maker is typing another one at this moment."""
        self._value = value
        if not (self.hasFocus() and self.isModified()):
            self._show()

    def _show(self) -> None:
        text = "" if self._value is None else self._write(self._value)
        if text != self.text():
            # Text that is shown anew is no longer chosen, and typing would go on behind it.
            self.setText(text)
            if self.hasFocus():
                self.selectAll()
            else:
                self.setCursorPosition(0)  # a long name is read from its beginning
        self.setModified(False)
        self._mark(wrong=None)

    def _try(self) -> None:
        try:
            value = self._read(self.text())
        except NotUnderstood as error:
            self._mark(wrong=error.sentence)
        else:
            self._mark(wrong=None)
            self.tried.emit(value)

    def keep(self) -> bool:
        """Keep what is typed; False where it cannot be read."""
        if not self.isModified():
            return True
        try:
            value = self._read(self.text())
        except NotUnderstood as error:
            self._mark(wrong=error.sentence)
            return False
        # What is shown may be the preview of this very value: that it was typed is what counts.
        self._value = value
        self._show()
        self.kept.emit(value)
        return True

    def drop(self) -> None:
        """Show again what is kept, chosen whole, so that typing replaces it."""
        self._show()
        self.dropped.emit()
        if self.hasFocus():
            self.selectAll()

    def refuse(self, sentence: str) -> None:
        """Say why the value could not be taken; the text stays for mending."""
        self._mark(wrong=sentence)

    def _mark(self, *, wrong: str | None) -> None:
        was_wrong = bool(self.property("wrong"))
        if not was_wrong and wrong is None:
            return  # a drag writes into fields thirty times a second, and polishing is slow
        if was_wrong != (wrong is not None):
            self.setProperty("wrong", wrong is not None)
            self.style().unpolish(self)
            self.style().polish(self)
        self.setAccessibleDescription(wrong or "")
        if wrong and self.isVisible():
            QToolTip.showText(self.mapToGlobal(QPoint(0, self.height())), wrong, self)
        elif not wrong:
            QToolTip.hideText()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter keeps, Escape drops what was typed; anything else is typing.

        A form or a dialog around hears of Enter as well, and does what it is there for.
        """
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            if self.keep():
                if self.hasFocus():  # what is kept may have led the keys elsewhere
                    self.selectAll()
                event.ignore()
        elif event.key() == Qt.Key.Key_Escape and self.isModified():
            self.drop()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Select all, so that typing replaces."""
        super().focusInEvent(event)
        self.selectAll()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Keep on leaving; what cannot be read is dropped."""
        super().focusOutEvent(event)
        if event.reason() == Qt.FocusReason.PopupFocusReason:
            return
        if not self.keep():
            self.drop()
        # Two fields with all chosen would look as if both had the keys.
        self.deselect()


def pressed_by_enter(form: QWidget) -> bool:
    """Press the button of a form that has the keys; False where none has them."""
    held = form.window().focusWidget()
    if isinstance(held, QPushButton | QToolButton) and form.isAncestorOf(held):
        held.click()
        return True
    return False


def number_field(field: Field) -> Field:
    """The field with its figures to the right, so that they stand under each other."""
    field.setAlignment(Qt.AlignmentFlag.AlignRight)
    return field


def length_field(unit: Unit, decimals: int, parent: QWidget | None = None) -> Field:
    """A field for a length in mm, shown and typed in `unit`."""

    def write(value: object) -> str:
        shown = float(value) / unit.mm  # type: ignore[arg-type]
        return format_number(shown, decimals + (unit is not Unit.MM))

    field = Field(lambda text: parse_length_mm(text, unit), write, parent)
    field.setPlaceholderText(unit.value)
    return number_field(field)


def angle_field(decimals: int = 2, parent: QWidget | None = None) -> Field:
    """A field for an angle in degrees."""

    def write(value: object) -> str:
        return format_angle(math.radians(float(value)), decimals)  # type: ignore[arg-type]

    return number_field(Field(lambda text: math.degrees(parse_angle_rad(text)), write, parent))


def plain_field(decimals: int = 0, parent: QWidget | None = None) -> Field:
    """A field for a plain number; a whole one where it has no decimals."""

    def read(text: str) -> object:
        value = parse_number(text)
        if decimals == 0 and value != round(value):
            raise NotUnderstood("A whole number is needed here.")
        return round(value) if decimals == 0 else value

    def write(value: object) -> str:
        return format_number(float(value), decimals)  # type: ignore[arg-type]

    return number_field(Field(read, write, parent))


def word_field(parent: QWidget | None = None) -> Field:
    """A field for words."""
    return Field(lambda text: text.strip(), str, parent)
