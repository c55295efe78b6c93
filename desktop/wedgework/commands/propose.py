"""`wedgework propose`: what a seam should take out, from the girths of the body."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import Any, Final

from wedgework.bench.opening import read_project
from wedgework.commands.base import DONE, UsageFault, add_file, add_json, say, say_json
from wedgework.commands.tables import numbers, section, table, words
from wedgework.pattern.document import Project, Seam
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.wanted import LevelIntake, drawn_intake, proposed_intake
from wedgework.units import NotUnderstood, format_number, parse_number

_LEVELS: Final = (*words("level"), *numbers("along A mm", "wanted mm", "drawn mm", "short mm"))
_STATIONS: Final = numbers("along A mm", "intake mm")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    add_file(parser)
    parser.add_argument("seam", metavar="SEAM", help="id of the seam")
    parser.add_argument(
        "--reduction",
        metavar="PART",
        help="part by which girths are cut smaller than the body, else as the project says: 0.08 "
        "or 8%%",
    )
    parser.add_argument(
        "--share",
        metavar="PART",
        default="1",
        help="part of the intake that this seam takes, the rest being that of others",
    )
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    project = read_project(arguments.file)
    seam = the_seam(project, arguments.seam)
    share = _part(arguments.share, 1.0)
    reduction = None if arguments.reduction is None else _part(arguments.reduction, 0.5)
    levels = drawn_intake(project, seam, reduction=reduction, share=share)
    edit = _edit(project, seam, reduction, share)
    if arguments.json:
        rows = [_level(row) for row in levels]
        say_json({"seam": seam.id, "levels": rows, "edits": [edit]})
    else:
        say("\n".join(_lines(seam, levels, edit)))
    return DONE


def _part(text: str, most: float) -> float:
    try:
        part = parse_number(text)
    except NotUnderstood as error:
        raise UsageFault(error.sentence) from None
    if not 0 <= part <= most:
        raise UsageFault(f"{text} is no such part: it is between 0 and {most:g}.")
    return part


def _edit(project: Project, seam: Seam, reduction: float | None, share: float) -> dict[str, Any]:
    stations = proposed_intake(project, seam, reduction=reduction, share=share)
    intake = [{"at_mm": row.at_mm, "width_mm": row.width_mm} for row in stations]
    return {"edit": "shape_seam", "seam": seam.id, "intake": intake}


def _level(row: LevelIntake) -> dict[str, Any]:
    return {
        "level": row.level,
        "at_mm": row.at_mm,
        "wanted_mm": row.wanted_mm,
        "drawn_mm": row.drawn_mm,
        "short_mm": row.short_mm,
    }


def _lines(seam: Seam, levels: tuple[LevelIntake, ...], edit: dict[str, Any]) -> Iterator[str]:
    yield f"Seam {seam.name or seam.id}"
    rows = (
        (row.level, *map(format_number, (row.at_mm, row.wanted_mm, row.drawn_mm, row.short_mm)))
        for row in levels
    )
    yield from section("At the levels that it crosses", table(_LEVELS, rows))
    stations = (
        (format_number(row["at_mm"]), format_number(row["width_mm"])) for row in edit["intake"]
    )
    yield from section("Proposed intake", table(_STATIONS, stations))
