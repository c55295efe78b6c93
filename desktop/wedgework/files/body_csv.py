"""Measures of a body as CSV: a header line, then measure, value and unit.

Written as a spreadsheet reads it. Read from what spreadsheets write: commas, semicolons or tabs
between, quotes or none, UTF-8 with its mark or UTF-16, the unit in its own column, in the heading
or beside the number, inch fractions, words for names, and rows that were left free.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from wedgework.pattern.body import ALL_NAMES, measure_words, refuse_unknown
from wedgework.pattern.errors import EditRefused, FileRefused
from wedgework.units import NotUnderstood, Unit, parse_length_mm

COLUMNS: Final = ("measure", "value", "unit")
MOST_BYTES: Final = 1_000_000
"""A hundred measures are a few kilobytes; what is larger is another file."""

MOST_LINES: Final = 2000
UNITS: Final = (Unit.MM, Unit.CM, Unit.IN)
_SIGNS: Final = (",", ";", "\t")
_UNIT_WORDS: Final = {
    **{unit.value: unit for unit in UNITS},
    **dict.fromkeys(("inch", "inches", '"', "″"), Unit.IN),
    **dict.fromkeys(("millimetre", "millimetres"), Unit.MM),
    **dict.fromkeys(("centimetre", "centimetres"), Unit.CM),
}
_VALUE_IN: Final = re.compile(r"value[\s_]*(?:in\s+)?[(\[]?(mm|cm|in)[)\]]?")
_NAME: Final = re.compile("“(\\w+_mm)”")
_HAS_UNIT: Final = re.compile(r"[^\W\d_]|[\"″”']")


def write_body_csv(measures: Mapping[str, float], unit: Unit = Unit.MM) -> bytes:
    """Measures in the order of the program's own list, as UTF-8, points in numbers."""
    text = io.StringIO(newline="")
    rows = csv.writer(text, lineterminator="\r\n")
    rows.writerow(COLUMNS)
    for name in ALL_NAMES:
        if name in measures:
            value = f"{measures[name] / unit.mm:.13g}"
            rows.writerow((name.removesuffix("_mm"), value, unit.value))
    return text.getvalue().encode("utf-8")


def read_body_csv(data: bytes) -> dict[str, float]:
    """Measures in mm by name; FileRefused, naming the line, for what is no list of measures."""
    lines = _lines(_text(data))
    heads, unit = _heads(lines[0][1])
    if not {"measure", "value"} <= set(heads) or len(set(heads)) != len(heads):
        raise FileRefused("The first line of the list has to read: measure,value,unit.")
    found: dict[str, float] = {}
    for number, row in lines[1:]:
        cells = {"unit": unit} | _by_head(heads, row, number)
        if not cells.get("value"):
            continue  # a row that was left free on a form to be filled in
        name, value_mm = _measure(number, cells)
        if name in found:
            raise FileRefused(f"Line {number}: “{measure_words(name)}” stands twice in the list.")
        found[name] = value_mm
    if not found:
        raise FileRefused("There are no measures under the first line of the list.")
    return found


def _heads(row: Sequence[str]) -> tuple[list[str], str]:
    """Headings in small letters, and the unit that the heading of the values says: `value (cm)`."""
    heads, unit = [head.strip().lower() for head in row], ""
    for at, head in enumerate(heads):
        found = _VALUE_IN.fullmatch(head)
        if found is not None:
            heads[at], unit = "value", found[1]
    return heads, unit


def _text(data: bytes) -> str:
    if len(data) > MOST_BYTES:
        raise FileRefused("The list is far too long for measures of a body.")
    try:
        is_wide = data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
        text = data.decode("utf-16" if is_wide else "utf-8-sig")
    except UnicodeDecodeError:
        raise FileRefused("The list is no text in UTF-8: save it as CSV UTF-8.") from None
    if "\0" in text:
        raise FileRefused("The list is no text: save it as CSV UTF-8.")
    return text


def _lines(text: str) -> list[tuple[int, list[str]]]:
    """Lines that hold anything, with their number; the first of them is the header."""
    head = next((line for line in text.splitlines() if line.strip()), "")
    between = max(_SIGNS, key=head.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=between, strict=True)
    try:
        lines = list(_filled(reader))
    except csv.Error as error:
        raise FileRefused(f"Line {reader.line_num} of the list is broken: {error}.") from None
    if not lines:
        raise FileRefused("The list is empty.")
    if len(lines) > MOST_LINES:
        raise FileRefused("The list is far too long for measures of a body.")
    return lines


def _filled(reader: Iterator[list[str]]) -> Iterator[tuple[int, list[str]]]:
    number = 0
    for row in reader:
        number = getattr(reader, "line_num", number + 1)
        if any(cell.strip() for cell in row):
            yield number, row


def _by_head(heads: Sequence[str], row: Sequence[str], number: int) -> dict[str, str]:
    if len(row) > len(heads) and any(cell.strip() for cell in row[len(heads) :]):
        raise FileRefused(
            f"Line {number} has more cells than the first line: a comma in a number needs quotes."
        )
    return dict(zip(heads, (cell.strip() for cell in row), strict=False))


def _measure(number: int, cells: Mapping[str, str]) -> tuple[str, float]:
    name = _name(number, cells.get("measure", ""))
    text, unit = cells.get("value", ""), _unit(number, cells)
    try:
        value_mm = parse_length_mm(text, unit)
    except NotUnderstood as error:
        raise FileRefused(f"Line {number}, {measure_words(name)}: {error.sentence}") from None
    if value_mm <= 0:
        raise FileRefused(f"Line {number}: {measure_words(name)} is not above 0.")
    return name, value_mm


def _name(number: int, text: str) -> str:
    plain = re.sub(r"[\s\-]+", "_", text.strip().lower())
    stem = plain.removesuffix("_mm")
    # “waist” alone is the waist girth: no other measure is called by its place alone.
    if f"{stem}_girth_mm" in ALL_NAMES:
        return f"{stem}_girth_mm"
    try:
        refuse_unknown(f"{stem}_mm")
    except EditRefused as error:
        said = _NAME.sub(lambda found: f"“{measure_words(found[1])}”", error.sentence[:200])
        raise FileRefused(f"Line {number}: {said}") from None
    return f"{stem}_mm"


def _unit(number: int, cells: Mapping[str, str]) -> Unit:
    """The unit of a line; a name that ends in `_mm` says it too, a bare number nowhere does not."""
    word = cells.get("unit", "").lower()
    if word in _UNIT_WORDS:
        return _UNIT_WORDS[word]
    if word:
        raise FileRefused(f"Line {number}: “{word[:20]}” is no unit; these are: mm, cm, in.")
    if cells.get("measure", "").endswith("_mm") or _HAS_UNIT.search(cells.get("value", "")):
        return Unit.MM
    raise FileRefused(f"Line {number} does not say its unit: mm, cm or in.")
