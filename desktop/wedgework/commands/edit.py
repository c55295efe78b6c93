"""`wedgework edit`: apply a list of edits, all or nothing, and save the result."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from wedgework.bench.filling import filled
from wedgework.bench.opening import read_project
from wedgework.commands.base import (
    DONE,
    add_file,
    add_json,
    save_project,
    say,
    say_json,
    wedge_target,
)
from wedgework.commands.tables import table, words
from wedgework.edits import Edit, apply_all, decode_edits, edit_name
from wedgework.files.atomic import LARGEST_FILE_BYTES, read_whole
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused

_COLUMNS = words("", "edit", "made", "removed")
_SHOWN = 6
"""More ids than this in one cell are counted, not listed."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    add_file(parser)
    parser.add_argument(
        "--do", metavar="EDITS.json", required=True, help="JSON list of edits; - reads stdin"
    )
    parser.add_argument(
        "--save", metavar="OUT.wedge", type=Path, required=True, help="where the result goes"
    )
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    target = wedge_target(arguments.save)
    edits = decode_edits(_edits_text(arguments.do))
    project, made, removed = _applied(read_project(arguments.file), edits)
    save_project(project, target)
    if arguments.json:
        say_json({"made": made, "removed": removed})
    else:
        say("\n".join(_lines(edits, made, removed, target)))
    return DONE


def _applied(
    project: Project, edits: Iterable[Edit]
) -> tuple[Project, list[list[str]], list[list[str]]]:
    """As `apply_all`, each edit filled in with what it leaves to be looked up at its turn."""
    made: list[list[str]] = []
    removed: list[list[str]] = []
    for edit in edits:
        project, new, old = apply_all(project, [filled(project, edit)])
        made += new
        removed += old
    return project, made, removed


def _edits_text(source: str) -> bytes:
    if source != "-":
        return read_whole(Path(source))
    if sys.stdin is None:
        raise FileRefused("There is nothing on stdin to read edits from.")
    data = sys.stdin.buffer.read(LARGEST_FILE_BYTES + 1)
    if len(data) > LARGEST_FILE_BYTES:
        raise FileRefused("The list of edits is too large.")
    return data


def _lines(
    edits: Sequence[Edit], made: list[list[str]], removed: list[list[str]], target: Path
) -> Iterator[str]:
    rows = [
        (str(number), edit_name(edit), _ids(new), _ids(old))
        for number, (edit, new, old) in enumerate(zip(edits, made, removed, strict=True), start=1)
    ]
    yield from table(_COLUMNS, rows)
    count = "1 edit" if len(edits) == 1 else f"{len(edits)} edits"
    yield f"{count} done, saved as {target}."


def _ids(ids: list[str]) -> str:
    more = f" and {len(ids) - _SHOWN} more" if len(ids) > _SHOWN else ""
    return " ".join(ids[:_SHOWN]) + more
