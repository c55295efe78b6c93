"""What a drawing file holds, in mm and without its format: chains of cubics, texts, groups.

Readers of files make these; `outlines` makes pieces of them.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from wedgework.geometry.curve import Floats, Point, Points

Flags: TypeAlias = NDArray[np.bool_]
"""Any array of bool; the docstring gives its shape."""


@dataclass(frozen=True, slots=True, eq=False)
class Chain:
    """One drawn line: cubics, (n, 4, 2) mm, each starting bit for bit where the last ended.

    `straight`, (n,): which of them were drawn as straight lines. `closed`: the last ends bit for
    bit where the first starts. `rounding_mm`: half a step of the last decimal written, 0 where
    none is.
    """

    segments: Floats
    straight: Flags
    closed: bool
    rounding_mm: float = 0.0

    @property
    def ends(self) -> Points:
        """(2, 2) mm: where it starts and where it ends."""
        return np.stack([self.segments[0, 0], self.segments[-1, 3]])


@dataclass(frozen=True, slots=True, eq=False)
class Group:
    """A group or layer of the file; `attributes` as written, `id` "" where it has none."""

    id: str
    name: str = ""
    attributes: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """One element that draws lines; `groups` are those around it, outermost first.

    `classes` and `said` are its classes and data attributes, for files of our own.
    """

    id: str
    chains: tuple[Chain, ...]
    groups: tuple[Group, ...] = ()
    name: str = ""
    classes: frozenset[str] = frozenset()
    said: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, eq=False)
class Words:
    """A text, its baseline starting at `at_mm`, (2,); turned by `angle_rad` counter-clockwise."""

    id: str
    text: str
    at_mm: Point
    height_mm: float
    angle_rad: float
    groups: tuple[Group, ...] = ()
    classes: frozenset[str] = frozenset()
    said: dict[str, str] = field(default_factory=dict)


def straight_segments(points: Points) -> Floats:
    """Straight cubics at even speed through `points`, (n, 2): (n - 1, 4, 2)."""
    first, last = points[:-1], points[1:]
    step = (last - first) / 3.0
    return np.stack([first, first + step, last - step, last], axis=1)


def evened(segments: Floats, straight: Flags) -> Floats:
    """The same cubics, handles of the straight ones put at their thirds (a copy)."""
    out = segments.copy()
    step = (out[straight, 3] - out[straight, 0]) / 3.0
    out[straight, 1] = out[straight, 0] + step
    out[straight, 2] = out[straight, 3] - step
    return out
