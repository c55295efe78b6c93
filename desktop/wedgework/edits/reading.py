"""Edits from JSON and back, refused by name where they are not what the table says."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any

import msgspec

from wedgework.edits.base import Edit, numbers_in
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.wording import plain_words

_MOST_DEPTH = 60


def decode_with(data: bytes, kinds: Mapping[str, type[Edit]]) -> tuple[Edit, ...]:
    """The edits of a JSON list, each of one of `kinds` (by name); EditRefused by name if not."""
    rows = _plain_json(data)
    if not isinstance(rows, list):
        raise EditRefused('Edits come as a list: [ {"edit": …}, … ].')
    return tuple(edit_from_plain(row, kinds, number) for number, row in enumerate(rows, start=1))


def edit_from_plain(row: Any, kinds: Mapping[str, type[Edit]], number: int = 1) -> Edit:  # noqa: ANN401
    """One edit from plain data; `number` says in a sentence which of a list it is."""
    kind = _kind_of(row, kinds, number)
    where = f"Edit {number} ({row['edit']})"
    for path, value in numbers_in(row):
        if not math.isfinite(value):
            raise EditRefused(f"{where}: {path} is not a finite number.")
    _refuse_unknown(row, kind, where)
    try:
        return msgspec.convert(row, kind)
    except msgspec.ValidationError as error:
        raise EditRefused(f"{where}: {plain_words(str(error))}") from None


def _kind_of(row: Any, kinds: Mapping[str, type[Edit]], number: int) -> type[Edit]:  # noqa: ANN401
    if not isinstance(row, dict) or not isinstance(row.get("edit"), str):
        raise EditRefused(f'Edit {number} does not say which edit it is: {{"edit": name, …}}.')
    kind = kinds.get(row["edit"])
    if kind is None:
        hint = did_you_mean(row["edit"], kinds)
        raise EditRefused(f"Edit {number}: there is no edit “{row['edit']}”.{hint}")
    return kind


def _refuse_unknown(row: Mapping[str, object], kind: type[Edit], where: str) -> None:
    known = [field.encode_name for field in msgspec.structs.fields(kind)]
    for key in row:
        if key != "edit" and key not in known:
            hint = did_you_mean(key, known)
            raise EditRefused(f"{where}: there is no “{key}” in this edit.{hint}")


def did_you_mean(word: str, known: Mapping[str, object] | list[str]) -> str:
    """A sentence that offers the nearest word, or nothing."""
    near = get_close_matches(word, list(known), n=1)
    return f" Did you mean “{near[0]}”?" if near else ""


def _plain_json(data: bytes) -> Any:  # noqa: ANN401
    try:
        value = json.loads(data, object_pairs_hook=_without_doubles, parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        raise EditRefused(f"The edits are not readable as JSON: {_reason(error)}.") from None
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
            raise EditRefused(f"“{key}” is said twice in one edit.")
        row[key] = value
    return row


def _no_constant(word: str) -> float:
    raise EditRefused(f"{word} is not a finite number.")


def _refuse_depth(value: Any, depth: int = 0) -> None:  # noqa: ANN401
    if depth > _MOST_DEPTH:
        raise EditRefused("The edits are nested too deeply.")
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    for one in inner:
        _refuse_depth(one, depth + 1)


def encode_edit(edit: Edit) -> bytes:
    """One edit as JSON, on one line; what is not finite is refused, as JSON has no word for it."""
    plain = msgspec.to_builtins(edit)
    for path, value in numbers_in(plain):
        if not math.isfinite(value):
            raise EditRefused(f"{path} is not a finite number.")
    return msgspec.json.encode(plain)
