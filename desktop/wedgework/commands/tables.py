"""Tables of text with aligned columns, for answers that a person reads."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any
from unicodedata import combining, east_asian_width


@dataclass(frozen=True, slots=True)
class Column:
    """A column: what its first line says, and whether it holds numbers, which end together."""

    heading: str
    is_number: bool = False


def words(*headings: str) -> tuple[Column, ...]:
    """Columns of text."""
    return tuple(Column(heading) for heading in headings)


def numbers(*headings: str) -> tuple[Column, ...]:
    """Columns of numbers; the unit stands in the heading, once."""
    return tuple(Column(heading, is_number=True) for heading in headings)


def table(columns: Sequence[Column], rows: Iterable[Sequence[str]]) -> list[str]:
    """Lines of a table, indented by two; none at all where there are no rows."""
    cells = [[column.heading for column in columns], *(list(row) for row in rows)]
    if len(cells) == 1:
        return []
    widths = [max(_width(row[i]) for row in cells) for i in range(len(columns))]
    return [_line(row, columns, widths) for row in cells]


def _line(row: Sequence[str], columns: Sequence[Column], widths: Sequence[int]) -> str:
    cells = (
        _padded(cell, width, at_right=column.is_number)
        for cell, column, width in zip(row, columns, widths, strict=True)
    )
    return ("  " + "  ".join(cells)).rstrip()


def _padded(cell: str, width: int, *, at_right: bool) -> str:
    space = " " * (width - _width(cell))
    return space + cell if at_right else cell + space


def _width(cell: str) -> int:
    """Places that a text takes on a terminal."""
    return sum(
        0 if combining(sign) else 2 if east_asian_width(sign) in "WF" else 1 for sign in cell
    )


def section(title: str, lines: Iterable[str]) -> list[str]:
    """A titled block with an empty line before it; nothing where it holds nothing."""
    lines = list(lines)
    return ["", title, *lines] if lines else []


_ARGUMENTS = words("argument", "kind", "if left out", "meaning")


def argument_lines(rows: list[dict[str, Any]]) -> list[str]:
    """A table of arguments or numbers, as `arguments_of` describes them."""
    return list(table(_ARGUMENTS, [(r["name"], _kind(r), _default(r), r["meaning"]) for r in rows]))


def _kind(argument: dict[str, Any]) -> str:
    unit = argument["unit"]
    return f"{argument['type']}, {unit}" if unit else str(argument["type"])


def _default(argument: dict[str, Any]) -> str:
    return "needed" if argument["needed"] else json.dumps(argument["default"], ensure_ascii=False)
