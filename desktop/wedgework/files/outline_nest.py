"""What lies inside what: pieces, cut-outs, frames, and cut lines with their seam lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import shapely
from shapely import STRtree
from shapely.geometry.base import BaseGeometry

from wedgework.files.drawn import Chain
from wedgework.files.outline_clean import Drawing
from wedgework.files.outline_notches import Whole
from wedgework.files.outline_tolerances import FRAME_MM, INSIDE_SHARE, REGION_ERROR_MM
from wedgework.geometry.curve import Curve
from wedgework.geometry.regions import regions

Box: TypeAlias = tuple[float, float, float, float]


@dataclass(slots=True, eq=False)
class Ring:
    """A closed drawing and what it encloses; `parent` is the smallest ring around it.

    `whole` is its chain counter-clockwise, without notches.
    """

    drawing: Drawing
    region: BaseGeometry
    whole: Whole
    crosses_itself: bool = False
    parent: Ring | None = None

    @property
    def chain(self) -> Chain:
        """Its chain."""
        return self.drawing.chain

    @property
    def depth(self) -> int:
        """How many rings lie around it."""
        return 0 if self.parent is None else self.parent.depth + 1


def nested(drawings: list[Drawing]) -> list[Ring]:
    """Closed drawings with their parents, in document order."""
    if not drawings:
        return []
    found = regions([[Curve(one.chain.segments)] for one in drawings], REGION_ERROR_MM)
    sound = [bool(one.is_valid) for one in found]
    rows = zip(drawings, found, sound, strict=True)
    rings = [
        Ring(
            one,
            shape if valid else shapely.make_valid(shape),
            Whole(one.chain),
            crosses_itself=not valid,
        )
        for one, shape, valid in rows
    ]
    shapes = [ring.region for ring in rings]
    areas = shapely.area(shapes)
    inner, outer = STRtree(shapes).query(shapes, predicate="intersects")
    # The smallest ring around each comes first, so the first that holds it is its parent.
    order = np.lexsort((areas[outer], inner))
    shapely.prepare(shapes)
    for one, other in zip(inner[order].tolist(), outer[order].tolist(), strict=True):
        larger = (areas[other], -other) > (areas[one], -one)
        if rings[one].parent is None and larger and _holds(shapes[other], shapes[one]):
            rings[one].parent = rings[other]
    return rings


def _holds(outer: BaseGeometry, inner: BaseGeometry) -> bool:
    if shapely.contains_properly(outer, inner):
        return True
    low, high = shapely.bounds([inner, outer]).reshape(2, 2, 2).transpose(1, 0, 2)
    if (low[0] < low[1] - FRAME_MM).any() or (high[0] > high[1] + FRAME_MM).any():
        return False
    shared = shapely.area(shapely.intersection(outer, inner))
    return bool(shared >= INSIDE_SHARE * shapely.area(inner))


def without(rings: list[Ring], gone: set[int]) -> list[Ring]:
    """Rings without those of some ids (of `id`), whose children pass to their parents."""
    left = [ring for ring in rings if id(ring) not in gone]
    for ring in left:
        while ring.parent is not None and id(ring.parent) in gone:
            ring.parent = ring.parent.parent
    return left


def is_frame(chain: Chain, borders: tuple[Box, ...]) -> bool:
    """Whether a ring is a rectangle that stands on a border of the page."""
    if len(chain.segments) < 4 or not chain.straight.all():
        return False
    corners = chain.segments[:, 0]
    return any(_stands_on(corners, border) for border in borders)


def _stands_on(corners: np.ndarray, border: Box) -> bool:
    low, high = np.array(border).reshape(2, 2)
    on_side = (np.abs(corners - low) <= FRAME_MM) | (np.abs(corners - high) <= FRAME_MM)
    spans = np.abs(corners.min(axis=0) - low).max() <= FRAME_MM
    spans = spans and np.abs(corners.max(axis=0) - high).max() <= FRAME_MM
    return bool(spans and on_side.any(axis=1).all())
