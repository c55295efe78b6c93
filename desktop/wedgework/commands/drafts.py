"""`wedgework drafts`: every kind of piece that can be drafted, with its numbers and their units."""

from __future__ import annotations

import argparse

from wedgework.commands.base import DONE, add_json, say, say_json
from wedgework.commands.tables import argument_lines
from wedgework.drafting import draft_docs, kind_named


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("name", metavar="KIND", nargs="?", help="one kind instead of all")
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    wanted = None if arguments.name is None else kind_named(arguments.name).name
    docs = [row for row in draft_docs() if wanted in (None, row["kind"])]
    if arguments.json:
        say_json(docs)
        return DONE
    lines: list[str] = []
    for row in docs:
        lines += ["", f"{row['kind']}: {row['meaning']}", *argument_lines(row["numbers"])]
    say("\n".join(lines).strip("\n"))
    return DONE
