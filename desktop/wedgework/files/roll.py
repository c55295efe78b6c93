"""Pieces placed along a roll of paper: as they lie if that fits, else in rows across it."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from wedgework.files.sketches import Sketch, bounds_of_sketches, moved_sketch
from wedgework.geometry.motion import rotation, translation
from wedgework.pattern.errors import FileRefused

GAP_MM: Final = 10.0
"""Between pieces that are placed anew."""


def placed_on_roll(sketches: list[Sketch], width_mm: float) -> list[Sketch]:
    """The pieces moved to lie within 0 and `width_mm` across and below 0 along the roll.

    FileRefused where a piece is wider than the roll both ways.
    """
    left, _, right, top = bounds_of_sketches(sketches).tolist()
    if right - left <= width_mm:
        return [moved_sketch(one, translation((-left, -top))) for one in sketches]
    turned = [_turned_to_fit(one, width_mm) for one in sketches]
    return _in_rows(sorted(turned, key=lambda one: -one.size_mm[1]), width_mm)


def _turned_to_fit(sketch: Sketch, width_mm: float) -> Sketch:
    across, along = sketch.size_mm
    if across <= width_mm:
        return sketch
    if along > width_mm:
        raise FileRefused(
            f"Piece “{sketch.name}” is {min(across, along):.0f} mm wide and does not fit on the "
            f"{width_mm:.0f} mm that the roll leaves for it."
        )
    return moved_sketch(sketch, rotation(math.pi / 2))


def _in_rows(sketches: list[Sketch], width_mm: float) -> list[Sketch]:
    """Side by side from the left, and a new row below where the width is used up."""
    placed: list[Sketch] = []
    x = y = row_mm = 0.0
    for sketch in sketches:
        across, along = sketch.size_mm
        if x > 0 and x + across > width_mm:
            x, y, row_mm = 0.0, y - row_mm - GAP_MM, 0.0
        corner = np.array([sketch.bounds_mm[0], sketch.bounds_mm[3]])
        placed.append(moved_sketch(sketch, translation(np.array([x, y]) - corner)))
        x, row_mm = x + across + GAP_MM, max(row_mm, along)
    return placed
