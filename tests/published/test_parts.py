"""Facings, bindings, gussets, cuffs, flaps and bows against plain geometry, by shapely and chords.

Sources stand beside the values: Steiner's formula for a parallel curve, L' = L +- w * turning, and
its area A = w L +- w^2 turning / 2 (do Carmo, Differential Geometry of Curves and Surfaces, 1-5);
all else is plane geometry, worked a second way from points of the outlines alone.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from shapely import Polygon

from tests import small
from tests.drafting.making import block, draft, placed
from tests.published.test_drafts import chord_length
from tests.published.test_facings import NECKLINE_MM, neckline
from wedgework.geometry.curve import Curve, line
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Edge
from wedgework.pattern.lookup import the_edge


def polygon(piece):
    """The outline of a piece, by many points of its own cubics."""
    t = np.linspace(0.0, 1.0, 400, endpoint=False)[:, None]
    rows = [
        (1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t * t * c + t**3 * d
        for edge in piece.edges
        for a, b, c, d in edge.curve.segments
    ]
    return Polygon(np.concatenate(rows))


def arc_piece(radius_mm, turn_rad=0.8, *, hollow=True):
    """A piece one edge of which is an arc, seen from the piece hollow or round."""
    handle = 4 / 3 * math.tan(turn_rad / 4) * radius_mm
    start, end = (
        np.array([radius_mm, 0.0]),
        radius_mm * np.array([math.cos(turn_rad), math.sin(turn_rad)]),
    )
    one = np.add(start, (0.0, handle))
    other = end - handle * np.array([-math.sin(turn_rad), math.cos(turn_rad)])
    arc = Curve(np.array([[start, one, other, end]]))
    far = 60.0 if hollow else -60.0
    near_start, near_end = ((1 + far / radius_mm) * at for at in (start, end))
    if hollow:
        arc = Curve(arc.segments[::-1, ::-1])
        corners = [start, near_start, near_end, end]
    else:
        corners = [end, near_end, near_start, start]
    ring = [arc, *(line(*pair) for pair in pairwise(corners))]
    edges = tuple(
        Edge(id=f"p.e{n}", name=str(n), curve=curve, corner=f"p.c{n}")
        for n, curve in enumerate(ring, start=1)
    )
    return new_project(small.Piece(id="p", name="p", edges=edges))


@pytest.mark.parametrize(("hole", "other_mm"), [(False, 229.5), (True, 480.9)])
def test_a_drafted_facing_of_a_neckline_that_turns_once(hole, other_mm):
    # 355.2 -/+ 2 pi 20; it is a ring, whose ends are joined.
    made = draft("facing", neckline(hole=hole), along=["neck"], width_mm=20)
    assert made.numbers["length_mm"] == pytest.approx(NECKLINE_MM, abs=1e-3)
    assert made.numbers["outer_edge_mm"] == pytest.approx(other_mm, abs=0.05)
    assert [seam.id for seam in made.seams] == ["facing.seam", "facing.ring"]


@pytest.mark.parametrize("hollow", [True, False])
@pytest.mark.parametrize("width_mm", [10.0, 25.0])
def test_a_facing_and_a_band_are_as_large_as_steiner_says(hollow, width_mm):
    project = arc_piece(150.0, hollow=hollow)
    long_mm = chord_length(the_edge(project, "p.e1").curve)
    for kind, way in (("facing", 1 if hollow else -1), ("band", -1 if hollow else 1)):
        made = draft(kind, project, along=["p.e1"], width_mm=width_mm)
        wanted = width_mm * long_mm + way * width_mm**2 * 0.8 / 2
        assert polygon(made.pieces[0]).area == pytest.approx(wanted, rel=1e-4)
        outer = long_mm + way * width_mm * 0.8
        assert made.numbers["outer_edge_mm"] == pytest.approx(outer, abs=0.02)


@pytest.mark.parametrize(("radius_mm", "percent"), [(667.0, 3.0), (150.0, 13.3)])
def test_a_straight_strip_20_deep_on_a_round_edge_is_strained(radius_mm, percent):
    # 20 / R: 3.0 % on 667, 13.3 % on 150.
    made = draft("binding", arc_piece(radius_mm), along=["p.e1"], depth_mm=20)
    assert made.numbers["strain_percent"] == pytest.approx(percent, abs=0.05)
    if percent > 6.0:
        assert "pucker" in made.steps[-1]


def test_a_binding_is_a_rectangle_as_wide_as_goes_round_the_edge():
    # 2 x 8 + 0.4 + pi / 2 x 0.4 = 17.03; 10 of lap at its free end.
    project = arc_piece(300.0)
    long_mm = chord_length(the_edge(project, "p.e1").curve)
    piece = draft("binding", project, along=["p.e1"], lap_mm=10).pieces[0]
    assert polygon(piece).area == pytest.approx(17.0283185 * (long_mm + 10), rel=1e-6)


def test_a_gusset_fills_the_slit_whose_sides_it_has():
    # Sides 90, width 60: half of it 30, so 2 sqrt(90^2 - 30^2) = 169.7 high and 2 asin(30 / 90) at
    # its points; an area of 60 x 169.7 / 2.
    made = draft("gusset", length_mm=90, width_mm=60)
    outline = polygon(made.pieces[0])
    assert outline.area == pytest.approx(60 * 169.705627 / 2, abs=1e-3)
    assert outline.bounds[3] - outline.bounds[1] == pytest.approx(made.numbers["height_mm"])
    assert made.numbers["angle_deg"] == pytest.approx(38.942441, abs=1e-6)


@pytest.mark.parametrize(("turned_back", "wide_mm"), [(False, 50), (True, 100)])
def test_a_cuff_is_as_long_as_its_hem_and_twice_as_wide_where_it_is_turned_back(
    turned_back, wide_mm
):
    project = block(sleeves="long")
    hem = chord_length(the_edge(project, "sleeve.hem").curve)
    made = draft("cuff", project, along=["sleeve.hem"], width_mm=50, turned_back=turned_back)
    x0, y0, x1, y1 = polygon(made.pieces[0]).bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((hem, wide_mm), abs=1e-6)


def test_a_flap_goes_on_from_a_straight_edge_as_a_rectangle():
    after = placed("flap", block(), along=["back.centre"], width_mm=50)
    long_mm = chord_length(the_edge(after, "back.centre").curve)
    assert polygon(after.pieces["flap"]).area == pytest.approx(50 * long_mm, rel=1e-6)


def test_the_strips_of_a_bow_lie_apart_and_are_as_large_as_was_worked():
    # 2 x 160 + 10 = 330 by 80; 2 x (25 + 4 x 0.4) + 10 = 63.2 by 30; two tails of 120 by 40.
    made = draft("bow", width_mm=160, depth_mm=80, knot_mm=25, knot_width_mm=30, tail_mm=120)
    areas = {piece.id: polygon(piece).area for piece in made.pieces}
    assert areas == pytest.approx({"loops": 330 * 80, "knot": 63.2 * 30, "tail": 120 * 40})
    assert {piece.id: piece.cutting for piece in made.pieces}["tail"] == "pair"
    shapes = [polygon(piece) for piece in made.pieces]
    assert min(a.distance(b) for a in shapes for b in shapes if a is not b) >= 10
