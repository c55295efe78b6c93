"""Bytes to and from project or drawing.

`FORMATS` is the one table of what can be read and written: `new`, `export` and the window's
dialogs are built from it. A format's module is loaded when it is first used.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final, TypeAlias

from wedgework.files.problems import Problem, told_to_nobody
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused
from wedgework.units import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadOptions:
    """What a drawing cannot say of itself.

    `unit` is what one unit is where the file gives no true size; a joint that turns by
    `corner_rad` or more is a corner; `notches`: cuts in the outline are notches; `cut_line_mm`:
    the drawn line is the cut line, so far outside the seam line (None: it is the seam line).
    `progress` is told the share that is done; it may raise to stop.
    """

    unit: Unit | None = None
    corner_rad: float = math.radians(15.0)
    notches: bool = False
    cut_line_mm: float | None = None
    progress: Callable[[float], None] = field(default=told_to_nobody, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class WriteOptions:
    """How a drawing is to come out: `paper` as `units.paper_mm` reads it.

    `words`: with what each piece says of itself: name, number, side up, seams.
    """

    paper: str = "A4"
    words: bool = True


Reader: TypeAlias = Callable[[bytes, ReadOptions], tuple[Project, tuple[Problem, ...]]]
Writer: TypeAlias = Callable[[Project, WriteOptions], bytes]


@dataclass(frozen=True, slots=True, kw_only=True)
class Format:
    """A kind of file: its suffix, what it is, and how it is read and written, where it is.

    `instead` is what to do about a format that is not written yet.
    """

    suffix: str
    words: str
    read: Reader | None = None
    write: Writer | None = None
    instead: str = ""


def _read_wedge(data: bytes, _: ReadOptions) -> tuple[Project, tuple[Problem, ...]]:
    from wedgework.files.wedge import read_wedge  # noqa: PLC0415 - see the module's docstring

    return read_wedge(data), ()


def _write_wedge(project: Project, _: WriteOptions) -> bytes:
    from wedgework.files.wedge import write_wedge  # noqa: PLC0415

    return write_wedge(project)


def _read_svg(data: bytes, options: ReadOptions) -> tuple[Project, tuple[Problem, ...]]:
    from wedgework.files.svg_in import read_svg  # noqa: PLC0415

    return read_svg(
        data,
        unit=options.unit,
        corner_rad=options.corner_rad,
        notches=options.notches,
        line="seam" if options.cut_line_mm is None else options.cut_line_mm,
        progress=options.progress,
    )


def _write_svg(project: Project, options: WriteOptions) -> bytes:
    from wedgework.files.svg_out import write_svg  # noqa: PLC0415

    return write_svg(project, words=options.words)


def _write_pdf(project: Project, options: WriteOptions) -> bytes:
    from wedgework.files.pdf_out import write_pdf  # noqa: PLC0415

    return write_pdf(project, options.paper, words=options.words)


def _write_plt(project: Project, options: WriteOptions) -> bytes:
    from wedgework.files.plt_out import write_plt  # noqa: PLC0415

    return write_plt(project, words=options.words)


def _write_csv(project: Project, _: WriteOptions) -> bytes:
    from wedgework.files.csv_out import write_csv  # noqa: PLC0415

    return write_csv(project)


FORMATS: Final = (
    Format(suffix=".wedge", words="project", read=_read_wedge, write=_write_wedge),
    Format(suffix=".svg", words="drawing at true size", read=_read_svg, write=_write_svg),
    Format(suffix=".pdf", words="paper pattern at true size", write=_write_pdf),
    Format(suffix=".dxf", words="drawing for cutters", instead="export .svg"),
    Format(suffix=".plt", words="plotter file (HP-GL)", write=_write_plt),
    Format(suffix=".csv", words="cut list", write=_write_csv),
    Format(suffix=".png", words="picture", instead="export .svg"),
)


def format_of(path: Path) -> Format:
    """The format of a file by its suffix, in any case; FileRefused for an unknown one."""
    found = next((one for one in FORMATS if one.suffix == path.suffix.lower()), None)
    if found is None:
        known = ", ".join(one.suffix for one in FORMATS)
        raise FileRefused(f"“{path.name}” is no kind of file known here: these are {known}.")
    return found


def read_file_bytes(
    path: Path, data: bytes, options: ReadOptions | None = None
) -> tuple[Project, tuple[Problem, ...]]:
    """The project in the bytes of a file named so, and what was repaired or left out on the way.

    FileRefused where this kind of file cannot be read, or this one cannot.
    """
    kind = format_of(path)
    if kind.read is None:
        raise FileRefused(f"A {kind.suffix} file ({kind.words}) cannot be read in.")
    return kind.read(data, options or ReadOptions())


def file_bytes(path: Path, project: Project, options: WriteOptions | None = None) -> bytes:
    """What a file named so holds of a project; FileRefused where this kind is not written yet."""
    kind = format_of(path)
    if kind.write is None:
        raise FileRefused(
            f"A {kind.suffix} file ({kind.words}) cannot be written yet; {kind.instead} instead."
        )
    return kind.write(project, options or WriteOptions())
