"""Make the demo projects again from what they were drawn and edited from.

    python demo_projects/build.py [FOLDER]

Each demo is a drawing in `sources/` and the lists of edits that turn it into the project, so it
shows what can be done by command line and a test can make it again.
"""

from __future__ import annotations

import math
import sys
from dataclasses import dataclass, replace
from pathlib import Path

from wedgework.edits import apply_all, decode_edits
from wedgework.files import ReadOptions, read_file_bytes
from wedgework.files.wedge import write_wedge
from wedgework.pattern.document import Project

HERE = Path(__file__).resolve().parent


@dataclass(frozen=True)
class Demo:
    """A demo: the file it becomes, what it is made from, and what its notes say.

    One without a drawing starts from nothing but edits.
    """

    file: str
    name: str
    drawing: str
    edits: tuple[str, ...]
    notes: str
    notches: bool = False


DEMOS = (
    Demo(
        file="kingfisher_flat.wedge",
        name="Kingfisher suit, joined flat",
        drawing="kingfisher_block.svg",
        edits=("kingfisher_flat.json",),
        notes="The kingfisher of the river pageant: a one-piece suit in panels. Its chest seam and "
        "its back seam were cut from one line each, so they join flat and shape nothing: the waist "
        "is far too wide. All numbers are invented.",
    ),
    Demo(
        file="kingfisher_shaped.wedge",
        name="Kingfisher suit, shaped",
        drawing="kingfisher_block.svg",
        edits=("kingfisher_flat.json", "kingfisher_shaped.json"),
        notes="The same suit after the work: a slice is taken out along the chest seam and the "
        "back seam, both sides are true, and the waist has the girth that was asked for. All "
        "numbers are invented.",
    ),
    Demo(
        file="heron_costume.wedge",
        name="Heron costume, drafted from measurements",
        drawing="",
        edits=("heron_costume.json",),
        notes="The heron of the river pageant, from measurements alone: a one-piece suit is "
        "drafted, cut through the bust point and shaped by what the side seam left; a collar, "
        "rolled armholes and a bow are drafted for it, and a pleated skirt, wide enough to go over "
        "the suit, hangs on a line across its waist. It is laced at the back, over a flap, so that "
        "its wearer gets in. All numbers are invented.",
    ),
    Demo(
        file="pike_hood.wedge",
        name="Pike hood",
        drawing="pike_hood_untidy.svg",
        edits=("pike_hood.json",),
        notes="The hood of the pike bearer, from an untidy drawing as people send them: inches, "
        "hidden layers, lines that do not meet, a seam line inside a cut line, a curve in chords "
        "with one decimal, a notch drawn into the outline. All numbers are invented.",
        notches=True,
    ),
)


def built(demo: Demo) -> Project:
    """The project of a demo, from its drawing and its edits."""
    project = drawn(demo) if demo.drawing else Project()
    for name in demo.edits:
        edits = decode_edits((HERE / "sources" / name).read_bytes())
        project = apply_all(project, edits).project
    return replace(project, name=demo.name, notes=demo.notes)


def drawn(demo: Demo) -> Project:
    """The pieces of a demo's drawing."""
    drawing = HERE / "sources" / demo.drawing
    options = ReadOptions(unit=None, corner_rad=math.radians(15), notches=demo.notches)
    return read_file_bytes(drawing, drawing.read_bytes(), options)[0]


def main(folder: Path = HERE) -> None:
    """Write every demo into a folder."""
    for demo in DEMOS:
        (folder / demo.file).write_bytes(write_wedge(built(demo)))


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:2]))
