"""Describe edits from their own fields: help, number forms and the undo list read this."""

from __future__ import annotations

import re
from typing import Any, Final

import msgspec

from wedgework.edits.base import Edit, Place, edit_name
from wedgework.pattern.arguments import arguments_of, first_paragraph
from wedgework.pattern.document import Project
from wedgework.pattern.lookup import edge_in
from wedgework.pattern.table import Table
from wedgework.pattern.wording import with_minus

_TWICE: Final = re.compile(r"\b(dart|seam) (?=\1\b)")
"""A dart that nobody named is called `dart front.d1`: the word stands before its name already."""


def described(edit: type[Edit]) -> dict[str, Any]:
    """Name, meaning and arguments of an edit, as plain data."""
    return {
        "edit": edit_name(edit),
        "meaning": first_paragraph(edit.__doc__ or ""),
        "arguments": arguments_of(edit),
    }


def undo_sentence(edit: Edit, says: str, project: Project) -> str:
    """`says` with each field in braces replaced by a name or a value."""
    values = {
        field.name: _said(getattr(edit, field.name), project)
        for field in msgspec.structs.fields(edit)
    }
    return _TWICE.sub("", says.format_map(values))


def _said(value: object, project: Project) -> str:
    if isinstance(value, Place):
        return f"{called(value.edge, project)} at {value.at_mm:.1f} mm"
    if isinstance(value, str):
        return called(value, project)
    if isinstance(value, bytes):
        return f"{len(value) / 1024:.0f} kB"
    if isinstance(value, tuple | list):
        return ", ".join(_said(one, project) for one in value)
    return with_minus(f"{value:.6g}") if isinstance(value, float) else str(value)


def _named_tables(project: Project) -> tuple[Table[Any], ...]:
    return (
        project.pieces,
        project.seams,
        project.levels,
        project.sheets,
        project.pins,
        project.pictures,
        project.bodies,
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
