"""Which part of the plane the table shows, and how large."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QTransform

from wedgework.geometry.curve import Floats

NEAREST_PX_PER_MM: Final = 400.0
FARTHEST_PX_PER_MM: Final = 0.005
"""A tenth of a millimetre as large as a thumb; a hall of 200 m in the window."""


@dataclass(frozen=True, slots=True)
class View:
    """The millimetres at the widget's upper left corner, and pixels to the millimetre."""

    left_mm: float = -100.0
    top_mm: float = 100.0
    px_per_mm: float = 1.0

    @property
    def px_mm(self) -> float:
        """Millimetres that one pixel covers."""
        return 1.0 / self.px_per_mm

    @property
    def transform(self) -> QTransform:
        """From millimetres, y up, to pixels, y down."""
        s = self.px_per_mm
        return QTransform(s, 0, 0, -s, -self.left_mm * s, self.top_mm * s)

    def to_mm(self, x_px: float, y_px: float) -> tuple[float, float]:
        """The place in mm under a pixel."""
        return self.left_mm + x_px * self.px_mm, self.top_mm - y_px * self.px_mm

    def to_px(self, at_mm: tuple[float, float] | Floats) -> QPointF:
        """The pixel over a place, (2,) mm."""
        x, y = float(at_mm[0]), float(at_mm[1])
        return QPointF((x - self.left_mm) * self.px_per_mm, (self.top_mm - y) * self.px_per_mm)

    def all_to_px(self, points: Floats) -> Floats:
        """Pixels over places, (n, 2) mm."""
        return (points - (self.left_mm, self.top_mm)) * (self.px_per_mm, -self.px_per_mm)

    def rect_px(self, bounds: Floats) -> QRectF:
        """The box, (4,) mm as least x, least y, greatest x, greatest y, in pixels."""
        corner, other = self.to_px((bounds[0], bounds[3])), self.to_px((bounds[2], bounds[1]))
        return QRectF(corner, other)

    def bounds_mm(self, rect: QRectF) -> Floats:
        """A rectangle of pixels as (4,) mm."""
        x0, y1 = self.to_mm(rect.left(), rect.top())
        x1, y0 = self.to_mm(rect.right(), rect.bottom())
        return np.array([x0, y0, x1, y1])

    def panned(self, x_px: float, y_px: float) -> View:
        """The view after the pieces were pushed by so many pixels."""
        return replace(
            self, left_mm=self.left_mm - x_px * self.px_mm, top_mm=self.top_mm + y_px * self.px_mm
        )

    def zoomed(self, factor: float, x_px: float, y_px: float) -> View:
        """The view `factor` times as large, with the place under a pixel where it was."""
        x, y = self.to_mm(x_px, y_px)
        scale = min(max(self.px_per_mm * factor, FARTHEST_PX_PER_MM), NEAREST_PX_PER_MM)
        return View(x - x_px / scale, y + y_px / scale, scale)


def fitting(bounds: Floats, frame: QRectF) -> View:
    """The view that shows a box, (4,) mm, in the middle of a frame of pixels."""
    x0, y0, x1, y1 = bounds.tolist()
    width, height = max(x1 - x0, 1.0), max(y1 - y0, 1.0)
    scale = min(frame.width() / width, frame.height() / height)
    scale = min(max(scale, FARTHEST_PX_PER_MM), NEAREST_PX_PER_MM)
    middle = (bounds[:2] + bounds[2:]) / 2
    centre = frame.center()
    return View(float(middle[0]) - centre.x() / scale, float(middle[1]) + centre.y() / scale, scale)


def round_step(least: float) -> float:
    """The least of 1, 2, 5, 10, 20, 50 and so on that is not under `least`, which is above 0."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(step * power for step in (1, 2, 5, 10) if step * power >= least * (1 - 1e-9))
