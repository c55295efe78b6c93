"""A pen that remembers what was drawn, to be looked at in tests and drawn again elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from wedgework.drawing.pen import Ink, Layer, Pen, Setting
from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.geometry.extent import bounds_of_all


@dataclass(frozen=True, eq=False, slots=True)
class Began:
    """A group was started."""

    ink: Ink


@dataclass(frozen=True, eq=False, slots=True)
class Ended:
    """A group was ended."""


@dataclass(frozen=True, eq=False, slots=True)
class Stroked:
    """A line was drawn."""

    curves: tuple[Curve, ...]
    ink: Ink
    closed: bool


@dataclass(frozen=True, eq=False, slots=True)
class Filled:
    """An area was filled."""

    rings: tuple[tuple[Curve, ...], ...]
    ink: Ink


@dataclass(frozen=True, eq=False, slots=True)
class Circled:
    """A circle was drawn."""

    centre: Point
    radius_mm: float
    ink: Ink


@dataclass(frozen=True, eq=False, slots=True)
class Written:
    """A text was drawn."""

    words: str
    setting: Setting
    ink: Ink


Drawn = Began | Ended | Stroked | Filled | Circled | Written


class Recorder:
    """A pen that keeps a list of what it was told."""

    def __init__(self) -> None:
        self.drawn: list[Drawn] = []

    def begin(self, ink: Ink) -> None:
        """Keep the start of a group."""
        self.drawn.append(Began(ink))

    def end(self) -> None:
        """Keep the end of a group."""
        self.drawn.append(Ended())

    def stroke(self, curves: Sequence[Curve], ink: Ink, *, closed: bool = False) -> None:
        """Keep a line."""
        self.drawn.append(Stroked(tuple(curves), ink, closed))

    def fill(self, rings: Sequence[Sequence[Curve]], ink: Ink) -> None:
        """Keep a filled area."""
        self.drawn.append(Filled(tuple(tuple(ring) for ring in rings), ink))

    def circle(self, centre: Point, radius_mm: float, ink: Ink) -> None:
        """Keep a circle."""
        self.drawn.append(Circled(centre, radius_mm, ink))

    def text(self, words: str, setting: Setting, ink: Ink) -> None:
        """Keep a text."""
        self.drawn.append(Written(words, setting, ink))

    def strokes(self, layer: Layer) -> list[Stroked]:
        """Lines on one layer, in the order drawn."""
        return [one for one in self.drawn if isinstance(one, Stroked) and one.ink.layer == layer]

    def bounds_mm(self) -> Floats | None:
        """Bounds, (4,) mm, of all lines and circles, None where there are none; words stand out."""
        boxes = [bounds_of_all(one.curves) for one in self.drawn if isinstance(one, Stroked)]
        boxes += [_around(one) for one in self.drawn if isinstance(one, Circled)]
        if not boxes:
            return None
        low_high = np.stack(boxes)
        return np.concatenate([low_high[:, :2].min(axis=0), low_high[:, 2:].max(axis=0)])

    def replay(self, pen: Pen) -> None:
        """Draw everything again with another pen."""
        for one in self.drawn:
            _draw_again(one, pen)


def _around(one: Circled) -> Floats:
    return np.concatenate([one.centre - one.radius_mm, one.centre + one.radius_mm])


def _draw_again(one: Drawn, pen: Pen) -> None:
    match one:
        case Began(ink):
            pen.begin(ink)
        case Ended():
            pen.end()
        case Stroked(curves, ink, closed):
            pen.stroke(curves, ink, closed=closed)
        case Filled(rings, ink):
            pen.fill(rings, ink)
        case Circled(centre, radius_mm, ink):
            pen.circle(centre, radius_mm, ink)
        case Written(words, setting, ink):
            pen.text(words, setting, ink)
