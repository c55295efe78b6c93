"""What stands in the fields of a form, taken down and put back when they are built anew.

Values, not texts, so that a length that was typed in cm stands there in inches afterwards; what
cannot be read yet stays as it was typed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QWidget

from wedgework.units import NotUnderstood
from wedgework.window.fields import Field


@dataclass(frozen=True, slots=True)
class Unread:
    """A text that is no value yet."""

    text: str


def fields_in(widget: QWidget) -> list[QWidget]:
    """The lines, boxes and switches inside a widget, in the order in which they were made."""
    kinds = (QLineEdit, QComboBox, QCheckBox)
    return [one for one in widget.findChildren(QWidget) if isinstance(one, kinds)]


def taken_down(fields: Sequence[QWidget]) -> list[Any]:
    """What stands in each of some fields."""
    return [_standing_in(field) for field in fields]


def put_back(fields: Sequence[QWidget], kept: Sequence[Any]) -> None:
    """Put what was taken down into fields of the same kinds."""
    for field, value in zip(fields, kept, strict=False):
        _put(field, value)


def _standing_in(field: QWidget) -> Any:  # noqa: ANN401 - a field's own value
    match field:
        case Field():
            try:
                return field.now()
            except NotUnderstood:
                return Unread(field.text())
        case QLineEdit():
            return field.text()
        case QComboBox():
            return field.currentIndex()
        case QCheckBox():
            return field.isChecked()
    return None


def _put(field: QWidget, value: Any) -> None:  # noqa: ANN401 - a field's own value
    match field:
        case Field():
            if isinstance(value, Unread):
                field.setText(value.text)
                field.setModified(True)
            else:
                field.show_value(value)
        case QLineEdit():
            field.setText(value)
        case QComboBox():
            field.setCurrentIndex(value)
        case QCheckBox():
            field.setChecked(value)
