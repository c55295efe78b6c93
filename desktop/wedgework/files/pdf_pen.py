"""A pen that draws on a page of a PDF, in points from its lower left, at true size.

Coordinates are turned into points here and not by a scale in the file, so whoever reads the file
finds true lengths without following any matrix.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING, Final

import numpy as np

from wedgework.drawing.pen import Ink, Layer, Setting
from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.geometry.extent import bounds_of_all
from wedgework.resources import resource_path
from wedgework.units import points_of_mm

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINTS_PER_MM: Final = points_of_mm(1.0)
PLAIN: Final = "IBMPlexSans-Regular"
STRONG: Final = "IBMPlexSans-SemiBold"

_WIDTH_MM: Final[dict[Layer, float]] = {
    "cut": 0.35, "seam": 0.2, "internal": 0.2, "mark": 0.35, "label": 0.2, "piece": 0.2,
}  # fmt: skip
_GREY: Final[dict[Layer, float]] = {"seam": 0.35, "internal": 0.35}
_DASH_MM: Final[dict[Layer, tuple[float, ...]]] = {"seam": (3, 1.5), "internal": (6, 1.5, 1, 1.5)}
_REACH_MM: Final = 1.0
"""A line so far outside the window still shows half its width in it."""


@cache
def fonts() -> tuple[str, str]:
    """Names of the plain and the strong font, ready for use and embedded where they are used."""
    from reportlab.pdfbase import pdfmetrics  # noqa: PLC0415 - loaded by who writes a PDF alone
    from reportlab.pdfbase.ttfonts import TTFont  # noqa: PLC0415

    for name in (PLAIN, STRONG):
        pdfmetrics.registerFont(TTFont(name, str(resource_path(f"fonts/{name}.ttf"))))
    return PLAIN, STRONG


class PdfPen:
    """Draws what touches `window`, (4,) mm bounds in the drawing.

    The window's lower left corner comes to `at_mm`, (2,), from the page's own lower left.
    """

    def __init__(self, canvas: Canvas, window: Floats, at_mm: Sequence[float]) -> None:
        self._canvas = canvas
        self._window = window
        self._shift = np.asarray(at_mm, dtype=np.float64) - window[:2]

    def begin(self, ink: Ink) -> None:
        """Groups make no difference on paper."""

    def end(self) -> None:
        """Groups make no difference on paper."""

    def stroke(self, curves: Sequence[Curve], ink: Ink, *, closed: bool = False) -> None:
        """Draw a line."""
        if self._shows(bounds_of_all(curves)):
            self._set_line(ink.layer)
            self._canvas.drawPath(self._path([curves], closed=closed), stroke=1, fill=0)

    def fill(self, rings: Sequence[Sequence[Curve]], ink: Ink) -> None:
        """Fill an area."""
        if self._shows(bounds_of_all([curve for ring in rings for curve in ring])):
            self._canvas.setFillGray(_GREY.get(ink.layer, 0.0))
            path = self._path(rings, closed=True)
            self._canvas.drawPath(path, stroke=0, fill=1, fillMode=0)

    def circle(self, centre: Point, radius_mm: float, ink: Ink) -> None:
        """Draw a circle, with a cross in it for the punch to find its middle."""
        if self._shows(np.concatenate([centre - radius_mm, centre + radius_mm])):
            self._set_line(ink.layer)
            x, y = self.points(centre)
            self._canvas.circle(x, y, radius_mm * POINTS_PER_MM)
            arm = 0.5 * radius_mm * POINTS_PER_MM
            self._canvas.lines([(x - arm, y, x + arm, y), (x, y - arm, x, y + arm)])

    def text(self, words: str, setting: Setting, ink: Ink) -> None:
        """Draw a text; one that no letter of which can be in the window is left out."""
        reach = setting.height_mm * (len(words) + 1)
        if self._shows(np.concatenate([setting.at_mm - reach, setting.at_mm + reach])):
            canvas = self._canvas
            canvas.saveState()
            canvas.translate(*self.points(setting.at_mm))
            canvas.rotate(math.degrees(setting.angle_rad))
            canvas.setFillGray(_GREY.get(ink.layer, 0.0))
            canvas.setFont(fonts()[0], setting.height_mm * POINTS_PER_MM)
            draw = canvas.drawCentredString if setting.centred else canvas.drawString
            draw(0, 0, " ".join(words.split()))
            canvas.restoreState()

    def points(self, place: Point) -> tuple[float, float]:
        """Where a place of the drawing, (2,) mm, comes to on the page, in points."""
        x, y = ((place + self._shift) * POINTS_PER_MM).tolist()
        return x, y

    def _shows(self, bounds: Floats) -> bool:
        low, high = self._window[:2] - _REACH_MM, self._window[2:] + _REACH_MM
        return bool((bounds[2:] >= low).all() and (bounds[:2] <= high).all())

    def _set_line(self, layer: Layer) -> None:
        self._canvas.setLineWidth(_WIDTH_MM[layer] * POINTS_PER_MM)
        self._canvas.setStrokeGray(_GREY.get(layer, 0.0))
        self._canvas.setDash([dash * POINTS_PER_MM for dash in _DASH_MM.get(layer, ())])

    def _path(self, rings: Sequence[Sequence[Curve]], *, closed: bool) -> object:
        path = self._canvas.beginPath()
        for ring in rings:
            cubics = np.concatenate([curve.segments for curve in ring])
            cubics = (cubics + self._shift) * POINTS_PER_MM
            path.moveTo(*cubics[0, 0].tolist())
            for cubic in cubics[:, 1:].reshape(-1, 6).tolist():
                path.curveTo(*cubic)
            if closed:
                path.close()
        return path
