"""`wedgework edits`: every edit with its arguments, units and meaning."""

from __future__ import annotations

import argparse
from typing import Any

from wedgework.commands.base import DONE, add_json, say, say_json
from wedgework.commands.tables import argument_lines
from wedgework.edits import edit_docs
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.plain import did_you_mean
from wedgework.subjects import shown_edits


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("name", metavar="NAME", nargs="?", help="one edit instead of all")
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    docs = [row | _shown(row["edit"]) for row in _asked_for(edit_docs(), arguments.name)]
    if arguments.json:
        say_json(docs)
    else:
        say("\n".join(line for row in docs for line in _lines(row)).strip("\n"))
    return DONE


def _shown(name: str) -> dict[str, Any]:
    """Subject, key in the window, and an example that starts from nothing and ends in the edit."""
    shown = shown_edits().get(name)
    if shown is None:
        return {}
    return {"subject": shown.subject, "key": shown.key, "example": list(shown.example)}


def _asked_for(docs: list[dict[str, Any]], name: str | None) -> list[dict[str, Any]]:
    if name is None:
        return docs
    found = [row for row in docs if row["edit"] == name]
    if not found:
        hint = did_you_mean(name, [row["edit"] for row in docs])
        raise EditRefused(f"There is no edit “{name}”.{hint}", culprit=name)
    return found


def _lines(row: dict[str, Any]) -> list[str]:
    head = f"{row['edit']} ({row['step']}): {row['meaning']}"
    return ["", head, *argument_lines(row["arguments"])]
