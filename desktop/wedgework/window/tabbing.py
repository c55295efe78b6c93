"""The order in which Tab goes: as things are laid out, not as they were made."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TypeAlias, cast

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QGridLayout, QLayout, QScrollArea, QWidget

Cell: TypeAlias = tuple[int, int, int, int]
"""Row and column of a cell, and how many of each it takes."""


def tab_through(*parts: QWidget) -> None:
    """Let Tab go through these one after the other; the first stop keeps its place."""
    stops = [stop for part in parts for stop in stops_in(part)]
    for before, after in pairwise(stops):
        QWidget.setTabOrder(before, after)


def stops_in(part: QWidget) -> Iterator[QWidget]:
    """Where Tab stops in it, in the order in which it is laid out."""
    if part.focusPolicy() & Qt.FocusPolicy.TabFocus and part.focusProxy() is None:
        yield part
    inner = part.widget() if isinstance(part, QScrollArea) else None
    layout = part.layout()
    if inner is not None:
        yield from stops_in(inner)
    elif layout is not None and not isinstance(part, QComboBox):
        yield from _stops_of(layout)


def _stops_of(layout: QLayout) -> Iterator[QWidget]:
    for place in _places(layout):
        item = layout.itemAt(place)
        widget, inner = (None, None) if item is None else (item.widget(), item.layout())
        if widget is not None:
            yield from stops_in(widget)
        elif inner is not None:
            yield from _stops_of(inner)


def _places(layout: QLayout) -> list[int]:
    """Places in the order of reading: a grid row by row."""
    places = list(range(layout.count()))
    if isinstance(layout, QGridLayout):
        places.sort(key=lambda place: cast("Cell", layout.getItemPosition(place)))
    return places
