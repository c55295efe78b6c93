"""SVG out: pieces at true size, for a cutter, for a drawing program, and to be read in again.

Width and height are in mm and the viewBox says the same in mm from (0, 0), so one user unit is a
millimetre. Beside what every program shows, attributes say what a drawing alone cannot:

- `<svg data-wedgework="1">`: the file is ours, and what follows holds.
- `<g class="piece" id data-name data-cutting data-quantity data-fold-edge>`: a piece and its id.
- `<path class="seam">`: a closed seam line; the first one in its group is the outline (no id), any
  other is a cut-out (its id). `data-edges` and `data-corners` list, with a space between, the ids
  of its edges and of the corners where these start; `data-cubics` lists how many segments of the
  path (C or L) each edge has. The path starts at the first corner. Ids with a space in them are
  not listed; then the corners stand where the line turns. `data-allowances` (mm) and
  `data-finishes` list what each edge has, where any has other than 0 and `open`.
- `<path class="internal" id data-kind data-name data-level>`: a line that is drawn, not cut.
- `<path class="mark" data-mark data-edge data-at-mm>`: a dash or slit of the notch of that id, so
  far along that edge (a double notch has two); `<circle class="mark" ...>`: a punched hole alike,
  `data-row` the row that it was punched in.
- `<text class="label" id>`: a text of the piece.
- `data-derived="1"`: cut lines and words that are made from the rest; they are not read.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import Final
from xml.etree import ElementTree as Tree

import numpy as np

from wedgework.drawing.pen import Ink, Layer, Setting
from wedgework.drawing.pieces import draw_project
from wedgework.drawing.recorder import Recorder
from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.geometry.tolerances import SAME_POINT_MM
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused

MARGIN_MM: Final = 10.0
DECIMALS: Final = 9
"""A millionth of a micrometre: reading it back moves nothing that a measure shows."""

_LOOK: Final[dict[Layer, dict[str, str]]] = {
    "piece": {},
    "cut": {"fill": "none", "stroke": "#000000", "stroke-width": "0.25"},
    "seam": {"fill": "none", "stroke": "#0F6E84", "stroke-width": "0.2"},
    "internal": {"fill": "none", "stroke": "#62666D", "stroke-width": "0.2"},
    "mark": {"fill": "none", "stroke": "#AB4E07", "stroke-width": "0.3"},
    "label": {"fill": "#22252A", "font-family": "'IBM Plex Sans', sans-serif"},
}
# Characters that XML cannot hold at all, not even escaped.
_UNWRITABLE: Final = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def write_svg(project: Project, *, words: bool = True) -> bytes:
    """The pieces of a project as SVG, alike for like projects; FileRefused where there are none."""
    drawing = Recorder()
    draw_project(project, drawing, words=words)
    bounds = drawing.bounds_mm()
    if bounds is None:
        raise FileRefused("There are no pieces to draw yet.")
    pen = _SvgPen(project.name, bounds)
    drawing.replay(pen)
    Tree.indent(pen.root, " ")
    text: str = Tree.tostring(pen.root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'.encode()


class _SvgPen:
    """Puts what is drawn into a tree of elements, y turned down and moved onto the page."""

    def __init__(self, title: str, bounds: Floats) -> None:
        # Whole millimetres: what is moved by them keeps its decimals.
        left, bottom = np.floor(bounds[:2]) - MARGIN_MM
        right, self._top = np.ceil(bounds[2:]) + MARGIN_MM
        self._left = left
        width, height = _number(right - left), _number(self._top - bottom)
        self.root = Tree.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "width": f"{width}mm",
                "height": f"{height}mm",
                "viewBox": f"0 0 {width} {height}",
                "data-wedgework": "1",
            },
        )
        if title:
            Tree.SubElement(self.root, "title").text = _clean(title)
        self._open = [self.root]

    def begin(self, ink: Ink) -> None:
        """Start a `<g>`."""
        self._open.append(self._add("g", ink))

    def end(self) -> None:
        """End a `<g>`."""
        self._open.pop()

    def stroke(self, curves: Sequence[Curve], ink: Ink, *, closed: bool = False) -> None:
        """Add a `<path>`."""
        self._add("path", ink, d=self._path(curves, closed=closed))

    def fill(self, rings: Sequence[Sequence[Curve]], ink: Ink) -> None:
        """Add a filled `<path>`."""
        path = " ".join(self._path(ring, closed=True) for ring in rings)
        self._add("path", ink, d=path, fill="currentColor", **{"fill-rule": "evenodd"})

    def circle(self, centre: Point, radius_mm: float, ink: Ink) -> None:
        """Add a `<circle>`."""
        x, y = self._place(centre)
        self._add("circle", ink, cx=x, cy=y, r=_number(radius_mm))

    def text(self, words: str, setting: Setting, ink: Ink) -> None:
        """Add a `<text>`."""
        x, y = self._place(setting.at_mm)
        more = {"font-size": _number(setting.height_mm)}
        if setting.centred:
            more["text-anchor"] = "middle"
        if setting.angle_rad:
            more["transform"] = f"rotate({_number(-math.degrees(setting.angle_rad))} {x} {y})"
        self._add("text", ink, x=x, y=y, **more).text = _clean(words)

    def _add(self, tag: str, ink: Ink, **more: str) -> Tree.Element:
        known = {"class": ink.layer} | ({"id": _clean(ink.id)} if ink.id else {})
        said = {f"data-{key}": _clean(text) for key, text in ink.said}
        derived = {"data-derived": "1"} if ink.derived else {}
        look = _LOOK[ink.layer] | more
        return Tree.SubElement(self._open[-1], tag, known | said | derived | look)

    def _path(self, curves: Sequence[Curve], *, closed: bool) -> str:
        steps = [f"M{' '.join(self._place(curves[0].start))}"]
        for curve in curves:
            steps.extend(self._step(cubic) for cubic in curve.segments)
        return " ".join([*steps, "Z"] if closed else steps)

    def _step(self, cubic: Floats) -> str:
        """One cubic; where it is a straight line at even speed, a line says the same."""
        thirds = cubic[0] + np.outer([1 / 3, 2 / 3], cubic[3] - cubic[0])
        if np.abs(thirds - cubic[1:3]).max() <= SAME_POINT_MM:
            return f"L{' '.join(self._place(cubic[3]))}"
        return "C" + " ".join(" ".join(self._place(point)) for point in cubic[1:])

    def _place(self, point: Floats) -> tuple[str, str]:
        x, y = point.tolist()
        return _number(x - self._left), _number(self._top - y)


def _number(value: float) -> str:
    digits = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if digits == "-0" else digits


def _clean(text: str) -> str:
    return _UNWRITABLE.sub("\N{REPLACEMENT CHARACTER}", text)
