"""JSON from outside, read strictly: no doubled keys, no endless depth; and words for it."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from typing import Any

from wedgework.pattern.errors import EditRefused

_MOST_DEPTH = 60


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A sentence that offers the nearest word, or nothing."""
    near = get_close_matches(word, list(known), n=1)
    return f" Did you mean “{near[0]}”?" if near else ""


def read_json(data: bytes, what: str) -> Any:  # noqa: ANN401
    """The one JSON value in `data`; EditRefused, saying `what` was to be read, if it is none.

    NaN and Infinity are read: `refuse_not_finite` then says by name where they stand.
    """
    try:
        value = json.loads(data, object_pairs_hook=_without_doubles)
    except (ValueError, RecursionError) as error:
        raise EditRefused(f"{what} are not readable as JSON: {_reason(error)}.") from None
    _refuse_depth(value)
    return value


def _reason(error: Exception) -> str:
    if isinstance(error, json.JSONDecodeError):
        return f"{error.msg}, line {error.lineno}"
    if isinstance(error, UnicodeDecodeError):
        return "the text is not UTF-8"
    return "it is nested too deeply" if isinstance(error, RecursionError) else str(error)


def _without_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    row: dict[str, Any] = {}
    for key, value in pairs:
        if key in row:
            raise EditRefused(f"“{key}” is said twice in one place.")
        row[key] = value
    return row


def _refuse_depth(value: Any, depth: int = 0) -> None:  # noqa: ANN401
    if depth > _MOST_DEPTH:
        raise EditRefused("The values are nested too deeply.")
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    for one in inner:
        _refuse_depth(one, depth + 1)


def numbers_in(value: Any, path: str = "") -> Iterator[tuple[str, float]]:  # noqa: ANN401
    """Every number in plain data, with where it is: `by_mm[1]`."""
    if isinstance(value, float | int) and not isinstance(value, bool):
        try:
            yield path, float(value)
        except OverflowError:  # a whole number with hundreds of digits
            yield path, math.inf
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from numbers_in(inner, f"{path}.{key}" if path else str(key))
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            yield from numbers_in(inner, f"{path}[{index}]")


def refuse_not_finite(value: Any, where: str = "") -> None:  # noqa: ANN401
    """EditRefused by name for the first number in plain data that is not finite."""
    for path, number in numbers_in(value):
        if not math.isfinite(number):
            word = json.dumps(number)
            raise EditRefused(f"{where}{path} is not a finite number, but {word}.")
