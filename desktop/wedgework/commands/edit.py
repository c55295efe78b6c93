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
from wedgework.edits import Edit, decode_edits, edit_name
from wedgework.edits.apply import Applied, with_one_more
from wedgework.files.atomic import LARGEST_FILE_BYTES, read_whole
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused, FileRefused

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
    applied = _applied(read_project(arguments.file), edits)
    save_project(applied.project, target)
    if arguments.json:
        let_go = [[one.hold for one in row] for row in applied.let_go]
        say_json(
            {
                "made": applied.made,
                "removed": applied.removed,
                "let_go": let_go,
                "told": applied.told,
            }
        )
    else:
        say("\n".join(_lines(edits, applied, target)))
    return DONE


def _applied(project: Project, edits: Iterable[Edit]) -> Applied:
    """As `apply_all`, each edit filled in with what it leaves to be looked up at its turn.

    A refusal says which edit of the list it is.
    """
    applied = Applied(project)
    for number, edit in enumerate(edits, start=1):
        try:
            applied = with_one_more(applied, filled(applied.project, edit))
        except EditRefused as refused:
            raise EditRefused(
                f"Edit {number} ({edit_name(edit)}): {refused.sentence}", culprit=refused.culprit
            ) from None
    return applied


def _edits_text(source: str) -> bytes:
    if source != "-":
        return read_whole(Path(source))
    if sys.stdin is None:
        raise FileRefused("There is nothing on stdin to read edits from.")
    data = sys.stdin.buffer.read(LARGEST_FILE_BYTES + 1)
    if len(data) > LARGEST_FILE_BYTES:
        raise FileRefused("The list of edits is too large.")
    return data


def _lines(edits: Sequence[Edit], applied: Applied, target: Path) -> Iterator[str]:
    each = zip(edits, applied.made, applied.removed, strict=True)
    rows = [
        (str(number), edit_name(edit), _ids(new), _ids(old))
        for number, (edit, new, old) in enumerate(each, start=1)
    ]
    yield from table(_COLUMNS, rows)
    said = zip(applied.let_go, applied.told, strict=True)
    for number, (released, told) in enumerate(said, start=1):
        yield from (f"Edit {number}: {one.sentence}" for one in released)
        yield from (f"Edit {number}: {sentence}" for sentence in told)
    count = "1 edit" if len(edits) == 1 else f"{len(edits)} edits"
    yield f"{count} done, saved as {target}."


def _ids(ids: list[str]) -> str:
    more = f" and {len(ids) - _SHOWN} more" if len(ids) > _SHOWN else ""
    return " ".join(ids[:_SHOWN]) + more
