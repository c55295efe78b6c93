"""`wedgework new`: make a project from a drawing."""

from __future__ import annotations

import argparse
import math
from pathlib import Path
from typing import Final

from wedgework.bench.opening import read_project
from wedgework.commands.base import (
    DONE,
    UsageFault,
    add_json,
    save_project,
    say,
    say_json,
    wedge_target,
)
from wedgework.commands.tables import section
from wedgework.files import ReadOptions
from wedgework.files.problems import UnitUnknown
from wedgework.pattern.document import Project
from wedgework.units import NotUnderstood, Unit, parse_length_mm, parse_number

_UNITS: Final = {"mm": Unit.MM, "cm": Unit.CM, "in": Unit.IN, "px": Unit.PX}
_LAP_MM: Final = 8.0
"""A drawn cut line lies this far outside the seam line unless it is said: the lap of the trade."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("out", metavar="OUT.wedge", type=Path, help="project to be made")
    parser.add_argument(
        "--from", dest="source", metavar="IN", type=Path, required=True, help="drawing: .svg, .dxf"
    )
    parser.add_argument(
        "--unit", choices=list(_UNITS), help="what one unit of the drawing is, if it has no size"
    )
    parser.add_argument(
        "--corner",
        metavar="DEG",
        default="15",
        help="a joint that turns by so much is a corner (15)",
    )
    parser.add_argument(
        "--notches", action="store_true", help="cuts in the outline are notches, not its shape"
    )
    parser.add_argument(
        "--line",
        metavar="seam|cut[:MM]",
        default="seam",
        help="what is drawn: the seam line, or the cut line and how far outside it lies (8)",
    )
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    target = wedge_target(arguments.out)
    options = ReadOptions(
        unit=_UNITS.get(arguments.unit),
        corner_rad=_corner_rad(arguments.corner),
        notches=arguments.notches,
        cut_line_mm=_cut_line_mm(arguments.line),
    )
    project = _project_in(arguments.source, options)
    save_project(project, target)
    if arguments.json:
        say_json({"pieces": list(project.pieces), "problems": list(project.problems)})
    else:
        say("\n".join(_lines(project, arguments.source, target)))
    return DONE


def _project_in(source: Path, options: ReadOptions) -> Project:
    if source.suffix.lower() == ".wedge":
        raise UsageFault(f"“{source}” is a project already: open it, or save it by another name.")
    try:
        return read_project(source, options)
    except UnitUnknown as error:
        known = ", ".join(_UNITS)
        raise UnitUnknown(
            f"{error.sentence}\nSay what one of its units is: --unit {known}"
        ) from None


def _corner_rad(text: str) -> float:
    corner_deg = _number(text, "--corner")
    if not 0 < corner_deg < 180:
        raise UsageFault(
            f"--corner {text}: a corner turns by more than 0 and less than 180 degrees."
        )
    return math.radians(corner_deg)


def _number(text: str, option: str) -> float:
    try:
        return parse_number(text)
    except NotUnderstood as error:
        raise UsageFault(f"{option} {text}: {error.sentence}") from None


def _cut_line_mm(text: str) -> float | None:
    """How far outside the seam line the drawn line lies; None where it is the seam line."""
    kind, colon, width = text.partition(":")
    if kind not in {"seam", "cut"} or (kind == "seam" and colon):
        raise UsageFault(f"--line {text}: what is drawn is seam, cut, or cut:MM.")
    if not colon:
        return None if kind == "seam" else _LAP_MM
    try:
        width_mm = parse_length_mm(width)
    except NotUnderstood as error:
        raise UsageFault(f"--line {text}: {error.sentence}") from None
    if width_mm <= 0:
        raise UsageFault(f"--line {text}: the cut line lies outside the seam line, by more than 0.")
    return width_mm


def _lines(project: Project, source: Path, target: Path) -> list[str]:
    count = len(project.pieces)
    pieces = "1 piece" if count == 1 else f"{count} pieces"
    told = (f"  {problem}" for problem in project.problems)
    return [f"{pieces} from {source}, saved as {target}.", *section("What was done", told)]
