"""Describe edits from their own fields: help, number forms and the undo list read this."""

from __future__ import annotations

import re
from typing import Any

import msgspec

from wedgework.edits.base import Edit, Place, edit_name
from wedgework.pattern.document import Project
from wedgework.pattern.lookup import edge_in
from wedgework.pattern.table import Table


def described(edit: type[Edit]) -> dict[str, Any]:
    """Name, meaning and arguments of an edit, as plain data."""
    schema = msgspec.json.schema(edit)
    own = schema["$defs"][edit.__name__]["properties"]
    return {
        "edit": edit_name(edit),
        "meaning": _first_paragraph(edit.__doc__ or ""),
        "arguments": [
            _argument(field, own[field.encode_name]) for field in msgspec.structs.fields(edit)
        ],
    }


def _first_paragraph(docstring: str) -> str:
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


def undo_sentence(edit: Edit, says: str, project: Project) -> str:
    """`says` with each field in braces replaced by a name or a value."""
    values = {
        field.name: _said(getattr(edit, field.name), project)
        for field in msgspec.structs.fields(edit)
    }
    return says.format_map(values)


def _said(value: object, project: Project) -> str:
    if isinstance(value, Place):
        return f"{called(value.edge, project)} at {value.at_mm:.1f} mm"
    if isinstance(value, str):
        return called(value, project)
    if isinstance(value, bytes):
        return f"{len(value) / 1024:.0f} kB"
    if isinstance(value, tuple | list):
        return ", ".join(_said(one, project) for one in value)
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def _named_tables(project: Project) -> tuple[Table[Any], ...]:
    return (
        project.pieces,
        project.seams,
        project.levels,
        project.sheets,
        project.pins,
        project.pictures,
    )


def called(own: str, project: Project) -> str:
    """The name of what has this id, or the id where it has no name (or is none)."""
    for table in _named_tables(project):
        if own in table:
            return str(table[own].name or own)
    if own in project.owners:
        edge = edge_in(project.pieces[project.owners[own]], own)
        return (edge.name if edge else "") or own
    return own
