"""The seam line of a drawn cut line."""

from __future__ import annotations

from itertools import groupby

import numpy as np

from wedgework.files.outline_tolerances import INSET_ERROR_MM
from wedgework.geometry.curve import Curve, joined, with_ends
from wedgework.geometry.offset import offset_ring


def inset_curves(curves: list[Curve], inset_mm: float) -> list[Curve] | None:
    """Edges of a counter-clockwise ring moved inwards; an edge that shrinks to nothing is lost.

    None where the ring falls apart or nothing is left of it.
    """
    rings = offset_ring(curves, [-inset_mm] * len(curves), INSET_ERROR_MM)
    if len(rings) != 1:
        return None
    runs = [(edge, [one.curve for one in run]) for edge, run in groupby(rings[0], lambda s: s.edge)]
    if len(runs) > 1 and runs[0][0] == runs[-1][0]:
        runs[0] = (runs[0][0], [*runs.pop()[1], *runs[0][1]])
    edges = [edge for edge, _ in runs]
    if len(set(edges)) < len(edges):
        return None
    first = edges.index(min(edges))
    return _closing([joined(*parts) for _, parts in runs[first:] + runs[:first]])


def _closing(curves: list[Curve]) -> list[Curve]:
    """Each curve starting bit for bit where the one before it ends."""
    return [
        with_ends(curve, before.end, curve.end)
        if not np.array_equal(curve.start, before.end)
        else curve
        for before, curve in zip([curves[-1], *curves[:-1]], curves, strict=True)
    ]
