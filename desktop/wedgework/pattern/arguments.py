"""The fields of a struct in a maker's words: name, type, unit, meaning, default."""

from __future__ import annotations

import re
from typing import Any

import msgspec


def arguments_of(struct: type[msgspec.Struct]) -> list[dict[str, Any]]:
    """Each field of a struct as plain data.

    A row has `name`, `type`, `unit` (None if it has none), `meaning`, `needed` and, where it is
    not needed, `default`.
    """
    schema = msgspec.json.schema(struct)
    own = schema["$defs"][struct.__name__]["properties"]
    return [_argument(field, own[field.encode_name]) for field in msgspec.structs.fields(struct)]


def first_paragraph(docstring: str) -> str:
    """The first paragraph of a docstring, on one line."""
    return " ".join(docstring.split("\n\n", maxsplit=1)[0].split())


def _argument(field: msgspec.structs.FieldInfo, schema: dict[str, Any]) -> dict[str, Any]:
    row: dict[str, Any] = {
        "name": field.encode_name,
        "type": _type_words(schema),
        "unit": _unit(field.encode_name, schema),
        "meaning": schema.get("description", ""),
        "needed": field.required,
    }
    if not field.required:
        row["default"] = _default(field)
    return row


def _default(field: msgspec.structs.FieldInfo) -> Any:  # noqa: ANN401
    if field.default_factory is not msgspec.NODEFAULT:
        return msgspec.to_builtins(field.default_factory())
    return None if field.default is msgspec.UNSET else msgspec.to_builtins(field.default)


def _unit(name: str, schema: dict[str, Any]) -> str | None:
    if "unit" in schema:
        return str(schema["unit"])
    found = re.search(r"_(mm|deg)$", name)
    return found[1] if found else None


_WORDS = {
    "number": "number",
    "integer": "whole number",
    "string": "text",
    "boolean": "true or false",
    "null": "nothing",
}


def _type_words(schema: dict[str, Any]) -> str:
    if "anyOf" in schema:
        return " or ".join(dict.fromkeys(_type_words(one) for one in schema["anyOf"]))
    if "enum" in schema:
        return " | ".join(str(one) for one in schema["enum"])
    if "$ref" in schema:
        return re.sub(r"(?<!^)(?=[A-Z])", " ", schema["$ref"].rsplit("/", 1)[1]).lower()
    if schema.get("type") == "array":
        return _array_words(schema)
    if schema.get("type") == "object":
        return "named values"
    is_base64 = schema.get("contentEncoding") == "base64"
    return "bytes in base64" if is_base64 else _WORDS.get(schema.get("type", ""), "value")


def _array_words(schema: dict[str, Any]) -> str:
    if "prefixItems" in schema:
        return "[" + ", ".join(_type_words(one) for one in schema["prefixItems"]) + "]"
    return "list of " + _type_words(schema.get("items") or {})
