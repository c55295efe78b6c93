"""Pens that pass on to another pen what they have changed or let through."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import replace

from wedgework.drawing.pen import Ink, Layer, Pen, Setting
from wedgework.geometry.curve import Curve, Point, line, polyline
from wedgework.geometry.flatten import flattened_all
from wedgework.geometry.motion import Affine, moved


class MovedPen:
    """Draws under a motion that keeps shapes: shifts, turns, mirror images, one scale for all.

    Texts are turned and scaled along, but stay readable in a mirror image: it turns their
    baseline, not their letters.
    """

    def __init__(self, pen: Pen, motion: Affine) -> None:
        self._pen = pen
        self._motion = motion
        self._scale = math.sqrt(abs(motion.determinant))
        (along_x, _), (along_y, _) = motion.linear
        self._turn_rad = math.atan2(along_y, along_x)

    def begin(self, ink: Ink) -> None:
        """Pass the start of a group on."""
        self._pen.begin(ink)

    def end(self) -> None:
        """Pass the end of a group on."""
        self._pen.end()

    def stroke(self, curves: Sequence[Curve], ink: Ink, *, closed: bool = False) -> None:
        """Draw the moved line."""
        self._pen.stroke([moved(curve, self._motion) for curve in curves], ink, closed=closed)

    def fill(self, rings: Sequence[Sequence[Curve]], ink: Ink) -> None:
        """Fill the moved area."""
        self._pen.fill([[moved(curve, self._motion) for curve in ring] for ring in rings], ink)

    def circle(self, centre: Point, radius_mm: float, ink: Ink) -> None:
        """Draw the moved circle."""
        self._pen.circle(self._motion.points(centre), radius_mm * self._scale, ink)

    def text(self, words: str, setting: Setting, ink: Ink) -> None:
        """Draw the moved text."""
        angle_rad = -setting.angle_rad if self._motion.determinant < 0 else setting.angle_rad
        changed = replace(
            setting,
            at_mm=self._motion.points(setting.at_mm),
            height_mm=setting.height_mm * self._scale,
            angle_rad=angle_rad + self._turn_rad,
        )
        self._pen.text(words, changed, ink)


class LayersPen:
    """Draws what lies on some layers, and every group."""

    def __init__(self, pen: Pen, layers: Collection[Layer]) -> None:
        self._pen = pen
        self._layers = frozenset(layers)

    def begin(self, ink: Ink) -> None:
        """Pass the start of a group on."""
        self._pen.begin(ink)

    def end(self) -> None:
        """Pass the end of a group on."""
        self._pen.end()

    def stroke(self, curves: Sequence[Curve], ink: Ink, *, closed: bool = False) -> None:
        """Draw the line if its layer is wanted."""
        if ink.layer in self._layers:
            self._pen.stroke(curves, ink, closed=closed)

    def fill(self, rings: Sequence[Sequence[Curve]], ink: Ink) -> None:
        """Fill the area if its layer is wanted."""
        if ink.layer in self._layers:
            self._pen.fill(rings, ink)

    def circle(self, centre: Point, radius_mm: float, ink: Ink) -> None:
        """Draw the circle if its layer is wanted."""
        if ink.layer in self._layers:
            self._pen.circle(centre, radius_mm, ink)

    def text(self, words: str, setting: Setting, ink: Ink) -> None:
        """Draw the text if its layer is wanted."""
        if ink.layer in self._layers:
            self._pen.text(words, setting, ink)


class ChordsPen:
    """Draws straight chords in place of curves, for outputs that know no cubics."""

    def __init__(self, pen: Pen, error_mm: float) -> None:
        self._pen = pen
        self._error_mm = error_mm

    def begin(self, ink: Ink) -> None:
        """Pass the start of a group on."""
        self._pen.begin(ink)

    def end(self) -> None:
        """Pass the end of a group on."""
        self._pen.end()

    def stroke(self, curves: Sequence[Curve], ink: Ink, *, closed: bool = False) -> None:
        """Draw the chords of a line."""
        self._pen.stroke(self._chords(curves), ink, closed=closed)

    def fill(self, rings: Sequence[Sequence[Curve]], ink: Ink) -> None:
        """Fill the area inside the chords."""
        self._pen.fill([self._chords(ring) for ring in rings], ink)

    def circle(self, centre: Point, radius_mm: float, ink: Ink) -> None:
        """Pass a circle on: what knows no cubics still knows circles."""
        self._pen.circle(centre, radius_mm, ink)

    def text(self, words: str, setting: Setting, ink: Ink) -> None:
        """Pass a text on."""
        self._pen.text(words, setting, ink)

    def _chords(self, curves: Sequence[Curve]) -> list[Curve]:
        # A curve of no length flattens to one point, which makes no chord.
        return [
            polyline(points) if len(points) > 1 else line(curve.start, curve.end)
            for curve, points in zip(curves, flattened_all(curves, self._error_mm), strict=True)
        ]
