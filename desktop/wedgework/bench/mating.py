"""Which way the second side of a new seam is walked: against its edges, or in the mirror image.

Two pieces that lie side by side meet at edges of which one runs up and the other down, since
outlines run round alike. Two halves that are both drawn on one side of their middles, as front and
back of a block are, have both edges running up; no turning lays them together the right way round,
but the mirror image of one of them does.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Final

import numpy as np

from wedgework.geometry.curve import Point
from wedgework.pattern.document import Project, Ref, Run
from wedgework.pattern.lookup import piece_of, the_edge

LEAST_RISE: Final = 0.1
"""An edge that rises by less than this share of its span lies level and tells nothing."""


def mate_run(project: Project, a: Sequence[str], b: Sequence[str], *, other: bool = False) -> Run:
    """Side B of a seam that A is walked along; edges of each piece come in outline order.

    `other` takes the way that is not offered; a piece without a mirror image has one way alone.
    """
    pieces = [piece_of(project, own) for own in (*a, *b)]
    can_mirror = all(piece.cutting != "single" for piece in pieces)
    if can_mirror and _rise_alike(project, a, b) != other:
        return tuple(Ref(own, mirrored=True) for own in b)
    grouped = (list(group) for _, group in groupby(b, key=lambda own: piece_of(project, own).id))
    return tuple(Ref(own, backward=True) for group in grouped for own in reversed(group))


def _rise_alike(project: Project, a: Sequence[str], b: Sequence[str]) -> bool:
    rise = [_rise_ratio(project, one) for one in (a, b)]
    return min(map(abs, rise)) > LEAST_RISE and rise[0] * rise[1] > 0


def _rise_ratio(project: Project, run: Sequence[str]) -> float:
    way: Point = np.zeros(2)
    for own in run:
        curve = the_edge(project, own).curve
        way = way + curve.end - curve.start
    span = float(np.hypot(*way))
    return float(way[1]) / span if span > 0 else 0.0
