"""`wedgework body`: the measures of a body, from and to a list, held against published ranges."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

from wedgework.bench.opening import read_project
from wedgework.commands.base import (
    DONE,
    UsageFault,
    add_file,
    add_json,
    save_project,
    say,
    say_json,
    wedge_target,
)
from wedgework.commands.tables import numbers, section, table, words
from wedgework.edits.bodies import AddBody, WearBody
from wedgework.edits.body import SetBody
from wedgework.files.atomic import read_whole, write_atomically
from wedgework.files.body_csv import MOST_BYTES, UNITS, read_body_csv, write_body_csv
from wedgework.pattern.body import base_of, measure_words
from wedgework.pattern.body_ranges import Group, spreads_of
from wedgework.pattern.document import Project
from wedgework.pattern.plausible import doubts_of
from wedgework.pattern.reductions import USUAL, reduction_of
from wedgework.pattern.stretch import stretch_percent
from wedgework.units import Unit, format_number

_BODIES: Final = (*words("body", "name", "worn"), *numbers("measures"))
_MEASURES: Final = (*words("measure"), *numbers("mm", "least mm", "most mm"))
_REDUCTIONS: Final = (*words("where"), *numbers("reduction %", "stretch %"), *words("of what"))


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    add_file(parser)
    parser.add_argument(
        "--csv", metavar="IN.csv", type=Path, help="write down the measures of this list"
    )
    parser.add_argument("--add", metavar="NAME", help="add a body of this name, and wear it")
    parser.add_argument(
        "--copy", action="store_true", help="the added body begins with the measures worn till then"
    )
    parser.add_argument("--wear", metavar="BODY", help="id of the body that the pieces are for")
    parser.add_argument(
        "--save", metavar="OUT.wedge", type=Path, help="where the project goes if it is changed"
    )
    parser.add_argument(
        "--save-csv", metavar="OUT.csv", type=Path, help="write the measures to a list"
    )
    parser.add_argument(
        "--unit", choices=[unit.value for unit in UNITS], default="mm", help="unit of that list"
    )
    parser.add_argument(
        "--compare", choices=("women", "men"), help="whom the measures are held against, else both"
    )
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    changes = [arguments.csv, arguments.add, arguments.wear]
    if arguments.copy and arguments.add is None:
        raise UsageFault("Say which body begins as a copy: --add NAME --copy.")
    is_changed = any(one is not None for one in changes)
    if is_changed and arguments.save is None:
        raise UsageFault("Say where the changed project goes: --save OUT.wedge.")
    target = wedge_target(arguments.save) if arguments.save else None
    project = _changed(read_project(arguments.file), arguments)
    if target is not None:
        save_project(project, target)
    if arguments.save_csv is not None:
        write_atomically(arguments.save_csv, write_body_csv(project.body, Unit(arguments.unit)))
    if arguments.json:
        say_json(_plain(project, arguments.compare))
    else:
        say("\n".join(_lines(project, arguments.compare)))
    return DONE


def _changed(project: Project, arguments: argparse.Namespace) -> Project:
    if arguments.add is not None:
        project = AddBody(name=arguments.add, like_worn=arguments.copy).apply(project)
    if arguments.wear is not None:
        project = WearBody(body=arguments.wear).apply(project)
    if arguments.csv is not None:
        measures = read_body_csv(read_whole(arguments.csv, MOST_BYTES))
        project = SetBody(measures=dict(measures)).apply(project)
    return project


def _plain(project: Project, group: Group | None) -> dict[str, Any]:
    bodies = [{"id": one.id, "name": one.name, "measures": dict(one.measures)} for one in
              project.bodies.values()]  # fmt: skip
    doubts = [{"measures": list(one.names), "message": one.sentence, "measured_mm":
               one.measured_mm, "wanted_mm": one.wanted_mm}
              for one in doubts_of(project.body, group)]  # fmt: skip
    return {
        "wearer": project.wearer or None,
        "measures": dict(project.body),
        "bodies": bodies,
        "ranges": {name: [low, high] for name in project.body
                   if (low := _range(name, group)[0]) is not None
                   and (high := _range(name, group)[1]) is not None},
        "reductions": {
            where: {"reduction": (share := reduction_of(project, where)),
                    "stretch_percent": stretch_percent(share)}
            for where in USUAL
        },
        "doubts": doubts,
    }  # fmt: skip


def _range(name: str, group: Group | None) -> tuple[float | None, float | None]:
    """The least and the most that is likely of a measure, None where nobody published it."""
    rows = spreads_of(base_of(name)[0], group)
    if not rows:
        return None, None
    return min(one.low_mm for one in rows), max(one.high_mm for one in rows)


def _lines(project: Project, group: Group | None) -> Iterator[str]:
    yield f"{len(project.body)} measures written down"
    bodies = (
        (one.id, one.name, "yes" if one.id == project.wearer else "no", str(len(one.measures)))
        for one in project.bodies.values()
    )
    yield from section("Bodies", table(_BODIES, bodies))
    rows = ((measure_words(name), format_number(value), *_shown(_range(name, group)))
            for name, value in project.body.items())  # fmt: skip
    yield from section("Measures, and what is likely", table(_MEASURES, rows))
    yield from section("Cut smaller by", table(_REDUCTIONS, _reductions(project)))
    yield from section(
        "Look again", (f"  {one.sentence}" for one in doubts_of(project.body, group))
    )


def _shown(low_high: tuple[float | None, float | None]) -> tuple[str, str]:
    low, high = ("" if one is None else format_number(one, 0) for one in low_high)
    return low, high


def _reductions(project: Project) -> Iterator[tuple[str, ...]]:
    for where, usual in USUAL.items():
        share = reduction_of(project, where)
        stretch = format_number(stretch_percent(share), 2)
        yield where, format_number(100 * share, 1), stretch, usual.meaning
