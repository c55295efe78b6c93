"""`wedgework draft`: make pieces from numbers, into a new project or one that is there."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from wedgework.bench.opening import read_project
from wedgework.commands.base import DONE, add_json, save_project, say, say_json, wedge_target
from wedgework.commands.typed_numbers import typed_numbers
from wedgework.drafting import drafted, kind_named
from wedgework.drafting.numbers import Numbers
from wedgework.drafting.pleats import PleatedSkirtNumbers, what_if
from wedgework.edits.drafted import freely_laid, with_made
from wedgework.files.atomic import read_whole
from wedgework.pattern.document import Project
from wedgework.pattern.plain import read_json
from wedgework.units import format_number


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("kind", metavar="KIND", help="what is drafted: see “wedgework drafts”")
    parser.add_argument("--numbers", metavar="N.json", type=Path, help="its numbers, by name")
    parser.add_argument(
        "--set",
        metavar="NAME=VALUE",
        action="append",
        default=[],
        help="one number as it would be typed, over those of the file: --set waist=72cm",
    )
    target = parser.add_mutually_exclusive_group(required=True)
    target.add_argument("--save", metavar="OUT.wedge", type=Path, help="a new project of it alone")
    target.add_argument("--into", metavar="FILE.wedge", type=Path, help="put it into this one")
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    target = wedge_target(arguments.into or arguments.save)
    numbers = _numbers(arguments)
    project = Project(name=arguments.kind.replace("_", " "))
    if arguments.into is not None:
        project = read_project(arguments.into)
    read, draft = drafted(project, arguments.kind, numbers)
    result = freely_laid(project, read, draft)
    save_project(with_made(project, arguments.kind, result), target)
    made = [piece.id for piece in result.pieces]
    if arguments.json:
        say_json({"made": made, "numbers": result.told})
    else:
        told = [f"Drafted {', '.join(made)}, saved as {target}.", *_told(result.told)]
        say("\n".join([*told, *(f"  {line}" for line in draft.steps), *_others(read)]))
    return DONE


def _numbers(arguments: argparse.Namespace) -> Any:  # noqa: ANN401 - JSON, not checked yet
    """Numbers of the file, if there is one, and those that were typed."""
    numbers: Any = {}
    if arguments.numbers is not None:
        numbers = read_json(read_whole(arguments.numbers), "The numbers")
    typed = typed_numbers(kind_named(arguments.kind), arguments.set)
    return numbers | typed if typed and isinstance(numbers, dict) else numbers


def _others(numbers: Numbers) -> Iterator[str]:
    """What other numbers of pleats would give."""
    if isinstance(numbers, PleatedSkirtNumbers):
        yield "Other numbers of pleats, mm:"
        yield "  pleats  visible  material  strips"
        for count, visible, material, strips in what_if(numbers):
            yield f"  {count:>6}  {visible:>7.2f}  {material:>8.1f}  {strips:>6}"


def _told(numbers: dict[str, Any]) -> list[str]:
    width = max(map(len, numbers), default=0)
    return [f"  {name:<{width}}  {_value(value)}" for name, value in numbers.items()]


def _value(value: object) -> str:
    if isinstance(value, float):
        return format_number(value, 2)
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)
