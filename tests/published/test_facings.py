"""The other edge of a traced strip: longer or shorter by its width times the turning of the line.

Source: Steiner's formula for a parallel curve, L' = L +- w * turning (do Carmo, Differential
Geometry of Curves and Surfaces, 1-5); a neckline of 355.2 that turns once, a strip 20 wide.
"""

import math

import numpy as np
import pytest

from tests import small
from wedgework.edits.facing import AddFacing
from wedgework.geometry.curve import Curve
from wedgework.geometry.length import length_mm
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Cutout, Edge
from wedgework.pattern.lookup import the_edge

NECKLINE_MM = 355.2


def circle():
    """A round edge that is as long as the neckline to a thousandth of a millimetre."""
    turns = np.linspace(0.0, 2 * math.pi, 17)
    step = turns[1] - turns[0]
    handle = 4 / 3 * math.tan(step / 4)
    at = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    along = np.stack([-at[:, 1], at[:, 0]], axis=1)
    rows = np.stack(
        [at[:-1], at[:-1] + handle * along[:-1], at[1:] - handle * along[1:], at[1:]], axis=1
    )
    rows[-1, 3] = rows[0, 0]
    rows[1:, 0] = rows[:-1, 3]
    return Curve(rows * NECKLINE_MM / (2 * math.pi))


def neckline(*, hole):
    edge = Edge(id="neck", name="neck", curve=circle(), corner="c")
    if not hole:
        return new_project(small.Piece(id="p", name="p", edges=(edge,)))
    body = small.rectangle("p", 400, 400, x=-200, y=-200)
    ring = (Edge(id="neck", name="neck", curve=Curve(circle().segments[::-1, ::-1]), corner="c"),)
    return new_project(small.replace(body, cutouts=(Cutout(id="k", edges=ring),)))


@pytest.mark.parametrize(("hole", "other_mm"), [(False, 229.5), (True, 480.9)])
def test_the_other_edge_of_a_traced_neckline_facing(hole, other_mm):
    after = AddFacing(edges=("neck",), width_mm=20.0).apply(neckline(hole=hole))
    assert length_mm(the_edge(after, "facing.e1").curve) == pytest.approx(NECKLINE_MM, abs=1e-3)
    assert length_mm(the_edge(after, "facing.e2").curve) == pytest.approx(other_mm, abs=0.05)
