"""Basic shapes of SVG as subpaths in user units. Source: SVG 2, chapter 10."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

from wedgework.files.ellipses import swept_cubics
from wedgework.files.svg_numbers import BadNumber, length_px, numbers
from wedgework.files.svg_path import PathPen, Subpath, read_path
from wedgework.files.xml_guard import Node


class Measure:
    """Reads the lengths of one element, percentages of the viewport `view`."""

    def __init__(self, node: Node, view: tuple[float, float]) -> None:
        self._node = node
        self._wide, self._high = view

    def x(self, name: str) -> float:
        """A length across; 0 where it is not said."""
        return self._length(name, self._wide) or 0.0

    def y(self, name: str) -> float:
        """A length down; 0 where it is not said."""
        return self._length(name, self._high) or 0.0

    def radius(self, name: str) -> float:
        """A length that lies neither across nor down; 0 where it is not said."""
        return self._length(name, math.hypot(self._wide, self._high) / math.sqrt(2)) or 0.0

    def maybe_x(self, name: str) -> float | None:
        """A length across; None where it is not said, or `auto`, or below nothing."""
        return self._length(name, self._wide)

    def maybe_y(self, name: str) -> float | None:
        """A length down; None where it is not said, or `auto`, or below nothing."""
        return self._length(name, self._high)

    def _length(self, name: str, of_px: float) -> float | None:
        text = self._node.attributes.get(name, "").strip()
        if text in ("", "auto"):
            return None
        return length_px(text, of_px, self._node.id)


def subpaths_of(node: Node, view: tuple[float, float], error: float) -> tuple[list[Subpath], bool]:
    """What a shape draws, and whether all of it was understood."""
    if node.tag == "path":
        return read_path(node.attributes.get("d", ""), error, node.id)
    pen = PathPen(error)
    try:
        SHAPES[node.tag](node, Measure(node, view), pen)
    except BadNumber:
        return pen.subpaths, False
    return pen.subpaths, True


def _rect(_node: Node, measure: Measure, pen: PathPen) -> None:
    x, y, w, h = measure.x("x"), measure.y("y"), measure.x("width"), measure.y("height")
    if w <= 0 or h <= 0:
        return
    rx, ry = measure.maybe_x("rx"), measure.maybe_y("ry")
    rx, ry = (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0
    rx, ry = min(max(rx, 0.0), w / 2), min(max(ry, 0.0), h / 2)
    if rx == 0.0 or ry == 0.0:
        _polygon_of(
            pen, [complex(x, y), complex(x + w, y), complex(x + w, y + h), complex(x, y + h)]
        )
        return
    pen.move_to(complex(x + rx, y))
    corners = [(x + w, y, 0, 1), (x + w, y + h, -1, 0), (x, y + h, 0, -1), (x, y, 1, 0)]
    for cx, cy, ux, uy in corners:
        # Into the corner along one side, out of it along the next.
        enter, leave = complex(cx - uy * rx, cy + ux * ry), complex(cx + ux * rx, cy + uy * ry)
        if pen.here != enter:
            pen.line_to(enter)
        pen.arc_to(rx, ry, 0.0, leave, large=False, sweep=True)
    pen.close()


def _circle(_node: Node, measure: Measure, pen: PathPen) -> None:
    r = measure.radius("r")
    _round(pen, complex(measure.x("cx"), measure.y("cy")), r, r)


def _ellipse(_node: Node, measure: Measure, pen: PathPen) -> None:
    rx, ry = measure.maybe_x("rx"), measure.maybe_y("ry")
    rx, ry = (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0
    _round(pen, complex(measure.x("cx"), measure.y("cy")), rx, ry)


def _round(pen: PathPen, centre: complex, rx: float, ry: float) -> None:
    if rx <= 0 or ry <= 0:
        return
    start = centre + rx
    pen.move_to(start)
    cubics = list(swept_cubics(centre, (rx + 0j, ry * 1j), 0.0, math.tau, pen.error))
    cubics[-1] = (*cubics[-1][:2], start)
    for first, second, end in cubics:
        pen.cubic_to(first, second, end)
    pen.close()


def _line(_node: Node, measure: Measure, pen: PathPen) -> None:
    pen.move_to(complex(measure.x("x1"), measure.y("y1")))
    pen.line_to(complex(measure.x("x2"), measure.y("y2")))


def _points(node: Node) -> list[complex]:
    values = numbers(node.attributes.get("points", ""), node.id)
    return [complex(x, y) for x, y in zip(values[::2], values[1::2], strict=False)]


def _polyline(node: Node, _measure: Measure, pen: PathPen) -> None:
    points = _points(node)
    if len(points) > 1:
        pen.move_to(points[0])
        for point in points[1:]:
            pen.line_to(point)


def _polygon(node: Node, _measure: Measure, pen: PathPen) -> None:
    _polygon_of(pen, _points(node))


def _polygon_of(pen: PathPen, points: list[complex]) -> None:
    if len(points) > 1:
        pen.move_to(points[0])
        for point in points[1:]:
            pen.line_to(point)
        pen.close()


SHAPES: Final[dict[str, Callable[[Node, Measure, PathPen], None]]] = {
    "rect": _rect,
    "circle": _circle,
    "ellipse": _ellipse,
    "line": _line,
    "polyline": _polyline,
    "polygon": _polygon,
}
DRAWN: Final = frozenset(SHAPES) | {"path"}
