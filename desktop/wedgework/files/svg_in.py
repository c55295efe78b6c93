"""SVG in: what people really have, at true size, as pieces; with all that was done to it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Literal, TypeAlias

from wedgework.files.outline_names import Names
from wedgework.files.outlines import Assembly, Wishes
from wedgework.files.problems import Problem, told_to_nobody
from wedgework.files.svg_own import OwnReader, parted
from wedgework.files.svg_page import page_of
from wedgework.files.svg_walk import Walker
from wedgework.files.xml_guard import Node, read_xml
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused
from wedgework.pattern.table import Table
from wedgework.units.scale import Unit

DrawnLine: TypeAlias = Literal["seam"] | float
"""What the file's outlines are: the seam line, or the cut line so many mm outside it."""


def read_svg(  # noqa: PLR0913 - what a drawing cannot say of itself, each by its own name
    data: bytes,
    *,
    unit: Unit | None = None,
    corner_rad: float,
    notches: bool = False,
    line: DrawnLine = "seam",
    progress: Callable[[float], None] = told_to_nobody,
) -> tuple[Project, tuple[Problem, ...]]:
    """The pieces of an SVG, and what was repaired or left out.

    `unit`: what one user unit is, where the file has no true size. A joint that turns by
    `corner_rad` or more is a corner. `notches`: small cuts into the outline become notches.
    Raises UnitUnknown where only a unit is missing, FileRefused where the file cannot be read.
    """
    root = read_xml(data)
    page = page_of(root, unit)
    walker = Walker(root, page)
    problems = walker.problems
    wishes = Wishes(
        corner_rad=corner_rad,
        notches=notches,
        cut_outside_mm=None if line == "seam" else line,
        progress=progress,
    )
    names = Names()
    own, shapes, words = parted(walker.shapes, walker.words)
    reader = OwnReader(names, corner_rad, problems)
    for piece in own:
        reader.read(piece)
    made = Assembly(wishes, names, problems).made(shapes, words, page.frames_mm)
    pieces = [*reader.found.pieces, *made.pieces]
    if not pieces:
        raise FileRefused("The file holds no closed outline, so there is no piece to read.")
    told = tuple(problems)
    project = replace(
        new_project(*pieces, name=_title(root)),
        problems=tuple(map(str, told)),
        notches=Table(
            (notch.id, notch) for notch in (*reader.found.notches.values(), *made.notches)
        ),
        holes=Table((hole.id, hole) for hole in reader.found.holes.values()),
        levels=Table((level.id, level) for level in reader.found.levels.values()),
    )
    return project, told


def _title(root: Node) -> str:
    """What the file calls itself; "" where it does not."""
    found = next((child for child in root.children if child.tag == "title"), None)
    return "" if found is None else " ".join(found.words().split())
