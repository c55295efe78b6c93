"""Tubes on an opening: strip, both lengths, ring, taper, stuffing, each by another route.

Plane geometry, derived here again with shapely's parallel curves and scipy's root finder.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import brentq
from shapely import Polygon

from tests import small
from tests.drafting.making import block, draft, placed
from tests.published.test_skirts import points_of
from wedgework.checks import check
from wedgework.edits.drafted import DraftPieces
from wedgework.edits.seams import JoinEdges
from wedgework.geometry.curve import Curve
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Cutout, Edge
from wedgework.pattern.errors import DraftRefused
from wedgework.pattern.instances import made_seams
from wedgework.pattern.seams import measure_seam

ARMHOLE = ["front.armhole", "back.armhole"]
NECK = ["-front.neck", "-back.neck"]
NECK_MM = 380.0


def round_edge(own):
    """A whole circle of 380 mm, counter-clockwise."""
    turns = np.linspace(0.0, 2 * math.pi, 17)
    handle = 4 / 3 * math.tan((turns[1] - turns[0]) / 4)
    at = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    on = np.stack([-at[:, 1], at[:, 0]], axis=1)
    rows = np.stack([at[:-1], at[:-1] + handle * on[:-1], at[1:] - handle * on[1:], at[1:]], axis=1)
    rows[-1, 3] = rows[0, 0]
    rows[1:, 0] = rows[:-1, 3]
    return Edge(id=own, name=own, curve=Curve(rows * NECK_MM / 2 / math.pi), corner=f"{own}.c")


def disc():
    return new_project(small.Piece(id="p", name="p", edges=(round_edge("neck"),)))


def hole():
    edge = round_edge("neck")
    edge = small.replace(edge, curve=Curve(edge.curve.segments[::-1, ::-1]))
    body = small.rectangle("p", 400, 400, x=-200, y=-200)
    return new_project(small.replace(body, cutouts=(Cutout(id="k", edges=(edge,)),)))


@pytest.mark.parametrize(
    ("project", "middle", "far"),
    # M -/+ (D/2) 2 pi and M -/+ D 2 pi: inside the hole 342.3 and 304.6, outside 417.7 and 455.4.
    [(hole(), 342.3, 304.6), (disc(), 417.7, 455.4)],
    ids=["hollow", "convex"],
)
def test_both_lengths_of_a_tube_round_a_neck_of_380(project, middle, far):
    told = draft("tube", project, opening=["neck"], diameter_mm=12).numbers
    assert told["middle_length_mm"] == pytest.approx(middle, abs=0.05)
    assert told["outer_length_mm"] == pytest.approx(far, abs=0.05)
    # Between attached and far edge, by the attached one: 19.8 %.
    assert told["strain_percent"] == pytest.approx(19.8, abs=0.05)
    assert told["look_again"]
    way = 1 if far > NECK_MM else -1
    ring = Polygon(points_of(round_edge("neck").curve)).buffer(12.0 * way, quad_segs=256)
    assert told["outer_length_mm"] == pytest.approx(ring.exterior.length, abs=0.01)


def test_a_tube_on_a_closed_opening_is_a_ring():
    for opening in (hole(), disc()):
        after = DraftPieces(kind="tube", numbers={"opening": ["neck"], "diameter_mm": 12}).apply(
            opening
        )
        ring = after.seams["tube.ring"]
        assert abs(measure_seam(after, ring).difference_mm) < 1e-9
        assert not [one for one in check(after) if one.grave == "stops_cutting"]


def about_tube(project):
    return [one for one in check(project) if any(own.startswith("tube") for own in one.where)]


def test_a_rolled_armhole_is_a_ring_on_either_side():
    project = placed("tube", block(), opening=ARMHOLE, diameter_mm=10)
    made = [one.seam.id for one in made_seams(project) if one.seam.id.startswith("tube")]
    assert sorted(made) == ["tube.ring", "tube.ring", "tube.seam", "tube.seam"]
    assert project.pieces["tube"].cutting == "pair"
    assert abs(measure_seam(project, project.seams["tube.seam"]).difference_mm) < 1e-6
    assert not about_tube(project)


def test_a_tube_on_half_a_neckline_lies_on_the_fold_and_closes_in_its_mirror_image():
    project = placed("tube", block(), opening=NECK, diameter_mm=10)
    tube, ring = project.pieces["tube"], project.seams["tube.ring"]
    assert tube.cutting == "fold"
    assert {str(ref) for ref in (*ring.a, *ring.b)} == {"tube.last", "~tube.last"}
    assert not about_tube(project)


def test_a_tube_on_the_whole_neckline_named_with_its_mirror_image_is_one_ring():
    whole = [*NECK, "~back.neck", "~front.neck"]
    project = placed("tube", block(), opening=whole, diameter_mm=10)
    half = draft("tube", block(), opening=NECK, diameter_mm=10).numbers
    told = draft("tube", block(), opening=whole, diameter_mm=10).numbers
    assert project.pieces["tube"].cutting == "single"
    assert {str(ref) for ref in project.seams["tube.ring"].b} == {"-tube.first"}
    for name in ("strip_length_mm", "outer_length_mm", "turning_deg"):
        assert told[name] == pytest.approx(2 * half[name], abs=1e-6)


def test_a_tube_on_one_edge_of_an_armhole_has_two_free_ends():
    project = placed("tube", block(), opening=["front.armhole"], diameter_mm=10)
    assert "tube.ring" not in project.seams


def test_an_opening_that_bends_both_ways_puckers_where_it_bends_most():
    # Two quarter circles of 60 mm against each other turn by nothing in all: 12 / 60 = 20 %.
    third = 60 * 4 / 3 * math.tan(math.pi / 8)
    arc = ((0, 0), (third, 0), (60, 60 - third), (60, 60))
    back = ((60, 60), (60, 60 + third), (120 - third, 120), (120, 120))
    edges = [
        Edge(id="wave", name="", curve=Curve(np.array([arc, back], dtype=float)), corner="c1"),
        *(
            Edge(id=f"e{at}", name="", curve=small.line(*ends), corner=f"c{at}")
            for at, ends in enumerate(pairwise([(120, 120), (0, 120), (0, 0)]), start=2)
        ),
    ]
    project = new_project(small.Piece(id="p", name="p", edges=tuple(edges)))
    told = draft("tube", project, opening=["wave"], diameter_mm=12).numbers
    assert told["strain_percent"] == pytest.approx(0.0, abs=1e-6)
    assert told["most_strain_percent"] == pytest.approx(20.0, abs=0.05)
    assert told["look_again"]


@pytest.mark.parametrize(
    ("x", "diameter"), [(0.001, 3), (30, 7.5), (60, 12), (200, 12), (370, 7.5), (399.999, 3)]
)
def test_a_tube_tapers_at_both_ends_in_straight_lines(x, diameter):
    made = draft("tube", diameter_mm=12, length_mm=400, taper_to_mm=3, lap_mm=0)
    outline = Polygon(np.concatenate([points_of(e.curve) for e in made.pieces[0].edges]))
    wide = outline.intersection(small_box(x)).area / 2e-4
    assert wide == pytest.approx(math.pi * (diameter - 0.4), rel=2e-3)


def test_a_taper_tells_how_far_its_sides_run_in():
    # D 12 to 3 over 60: atan(pi (12 - 3) / 2 / 60) = 13.3 degrees each side (plane geometry).
    made = draft("tube", diameter_mm=12, length_mm=400, taper_to_mm=3, lap_mm=0)
    assert made.numbers["taper_slope_deg"] == pytest.approx(13.3, abs=0.05)
    first = points_of(made.pieces[0].edges[0].curve)
    rise, on = abs(first[-1, 1] - first[0, 1]), first[-1, 0] - first[0, 0]
    assert math.degrees(math.atan(rise / on)) == pytest.approx(made.numbers["taper_slope_deg"])
    assert any("Cap the end" in line for line in made.steps)


def small_box(x):
    return Polygon([(x - 1e-4, -99), (x + 1e-4, -99), (x + 1e-4, 99), (x - 1e-4, 99)])


def test_a_taper_on_the_garment_leaves_the_edge_as_long_as_it_is():
    project = placed("tube", block(), opening=["front.armhole"], diameter_mm=12, taper_to_mm=3,
        taper_over_mm=50)  # fmt: skip
    seam = measure_seam(project, project.seams["tube.seam"])
    assert abs(seam.difference_mm) < 1e-9


def test_a_ring_has_no_end_to_taper():
    with pytest.raises(DraftRefused, match="no end to taper"):
        draft("tube", block(), opening=ARMHOLE, diameter_mm=12, taper_to_mm=3)


def test_stuffing_by_a_root_finder():
    # h = (d + t / sqrt h) / (D - t): 1.238, 10.1 % shorter, cut longer by 1.113 (volume is kept).
    hoop = brentq(lambda h: h * (12 - 0.4) - 14 - 0.4 / math.sqrt(h), 1.0, 2.0)
    told = draft("tube", block(), opening=ARMHOLE, diameter_mm=12, core_mm=14).numbers
    assert told["hoop_stretch"] == pytest.approx(hoop, abs=1e-12)
    assert hoop == pytest.approx(1.238, abs=5e-4)
    assert told["shorter_percent"] == pytest.approx(10.1, abs=0.05)
    assert told["cut_length_mm"] / told["strip_length_mm"] == pytest.approx(1.113, abs=5e-4)


def test_a_tube_cut_longer_for_its_core_is_as_long_as_its_opening_once_it_is_stuffed():
    numbers = {"opening": ARMHOLE, "diameter_mm": 12, "core_mm": 14, "cut_longer": True}
    project, told = placed("tube", block(), **numbers), draft("tube", block(), **numbers).numbers
    measured = measure_seam(project, project.seams["tube.seam"])
    assert measured.b.length_mm == pytest.approx(told["strip_length_mm"])
    worn = measured.b.length_mm * (1 - told["shorter_percent"] / 100)
    assert worn == pytest.approx(measured.a.length_mm, abs=1e-9)
    assert abs(measured.difference_mm) < 1e-9


def test_a_core_that_would_tear_the_tube_is_refused():
    with pytest.raises(DraftRefused, match="thinner core"):
        draft("tube", length_mm=500, diameter_mm=6, core_mm=40)


def test_a_tube_is_notched_every_50_mm_with_its_mates_on_the_garment():
    made = draft("tube", block(), opening=ARMHOLE, diameter_mm=12)
    stations = [notch.at.at_mm for notch in made.notches]
    assert np.diff(stations) == pytest.approx([50.0] * (len(stations) - 1))
    assert all(notch.mate is not None for notch in made.notches)


def test_an_armhole_that_is_not_joined_all_round_is_no_ring():
    project = new_project(small.rectangle("a", 100, 80), small.rectangle("b", 100, 80, x=200))
    project = JoinEdges(name="side", a=("a.e2",), b=("-b.e4",)).apply(project)
    made = draft("tube", project, opening=["b.e3", "a.e3"], diameter_mm=8)
    assert [seam.id for seam in made.seams] == ["tube.seam"]
