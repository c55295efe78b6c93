"""Edits from JSON and back, refused by name where they are not what the table says."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec

from wedgework.edits.base import Edit
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.plain import did_you_mean, read_json, refuse_not_finite
from wedgework.pattern.wording import plain_words


def decode_with(data: bytes, kinds: Mapping[str, type[Edit]]) -> tuple[Edit, ...]:
    """The edits of a JSON list, each of one of `kinds` (by name); EditRefused by name if not."""
    rows = read_json(data, "The edits")
    if not isinstance(rows, list):
        raise EditRefused('Edits come as a list: [ {"edit": …}, … ].')
    return tuple(edit_from_plain(row, kinds, number) for number, row in enumerate(rows, start=1))


def edit_from_plain(row: Any, kinds: Mapping[str, type[Edit]], number: int = 1) -> Edit:  # noqa: ANN401
    """One edit from plain data; `number` says in a sentence which of a list it is."""
    kind = _kind_of(row, kinds, number)
    where = f"Edit {number} ({row['edit']})"
    refuse_not_finite(row, f"{where}: ")
    _refuse_unknown(row, kind, where)
    try:
        return msgspec.convert(row, kind)
    except msgspec.ValidationError as error:
        raise EditRefused(f"{where}: {plain_words(_with_key(str(error), row, kind))}") from None


def _with_key(message: str, row: Mapping[str, Any], kind: type[Edit]) -> str:
    """The decoder's message; where it leaves out under which name a bad value stands, with that."""
    argument = message.partition(" - at `$.")[2].partition("[...]")[0]
    named = row.get(argument) if "[...]" in message else None
    for key, value in named.items() if isinstance(named, dict) else ():
        try:
            msgspec.convert({**row, argument: {key: value}}, kind)
        except msgspec.ValidationError as error:
            return str(error).replace("[...]", f".{key}")
    return message


def _kind_of(row: Any, kinds: Mapping[str, type[Edit]], number: int) -> type[Edit]:  # noqa: ANN401
    if not isinstance(row, dict) or not isinstance(row.get("edit"), str):
        raise EditRefused(f'Edit {number} does not say which edit it is: {{"edit": name, …}}.')
    kind = kinds.get(row["edit"])
    if kind is None:
        hint = did_you_mean(row["edit"], kinds)
        raise EditRefused(f"Edit {number}: there is no edit “{row['edit']}”.{hint}")
    return kind


def _refuse_unknown(row: Mapping[str, object], kind: type[Edit], where: str) -> None:
    known = kind.__struct_encode_fields__
    for key in row:
        if key != "edit" and key not in known:
            hint = did_you_mean(key, known)
            raise EditRefused(f"{where}: there is no “{key}” in this edit.{hint}")


def encode_edit(edit: Edit) -> bytes:
    """One edit as JSON, on one line; what is not finite is refused, as JSON has no word for it."""
    plain = msgspec.to_builtins(edit)
    refuse_not_finite(plain)
    return msgspec.json.encode(plain)
