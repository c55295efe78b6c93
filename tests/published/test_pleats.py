"""Pleats folded on paper: every figure again from the drafted outlines and fold lines alone.

The strips are walked along their waist as they are drawn, and at every line that says fold the
direction is reversed; where each layer comes to lie is then counted. Plane geometry throughout.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.special import ellipe
from shapely import LineString, Point
from shapely.geometry import box

from tests.drafting.making import block, draft, placed
from tests.published.test_skirts import edges_of, points_of
from wedgework.drafting import drafted
from wedgework.drafting.draft import APART_MM
from wedgework.drafting.pleats import what_if
from wedgework.edits.bodies import SetReductions
from wedgework.edits.body import AddSheet
from wedgework.edits.pieces import CutFrom
from wedgework.pattern.cutlines import cut_outline
from wedgework.pattern.errors import DraftRefused

SKIRT = {"waist_mm": 720.0, "length_mm": 300.0}


def stations(made, role="waist", end=-1):
    """Each line's name and how far along the whole waist (or hem) it stands, by shapely."""
    before, rows = 0.0, []
    for piece in made.pieces:
        edge = next(e for e in piece.edges if e.name == role)
        way = LineString(points_of(edge.curve)[:: -1 if role == "waist" else 1])
        for one in piece.lines:
            foot = Point(one.curve.segments[end, 3 if end else 0])
            assert way.distance(foot) < 1e-3
            rows.append((one.name, before + way.project(foot)))
        before += way.length
        rows.append(("end", before))
    return rows


def layers(made, style):
    """Where each stretch between two folds comes to lie: (from, to) mm round the waist."""
    folds = {"fold out", "fold in"} | ({"end"} if style == "knife" else set())
    at, came, way = 0.0, 0.0, -1.0 if style == "knife" else 1.0
    laid = []
    for name, station in stations(made):
        if name in folds or name == "end":
            to = at + way * (station - came)
            laid.append((at, to, name))
            at, came = to, station
            way = -way if name in folds else way
    return laid


@pytest.mark.parametrize("style", ["knife", "box", "inverted"])
@pytest.mark.parametrize("pleats", [9, 24])
def test_full_pleats_lie_three_deep_everywhere_and_give_the_waist(style, pleats):
    made = draft("pleated_skirt", **SKIRT, pleats=pleats, style=style)
    laid = layers(made, style)
    assert laid[-1][1] == pytest.approx(720.0, abs=1e-6)
    cover = [box(min(a, b), 0, max(a, b), 1) for a, b, _ in laid]
    assert sum(one.area for one in cover) == pytest.approx(3 * 720, abs=1e-6)
    for place in np.arange(3.7, 720, 16.1):
        # What lies before the closing goes round: the skirt is a ring.
        over = sum(one.covers(Point(place + turn, 0.5)) for one in cover for turn in (-720, 0, 720))
        assert over == 3


@pytest.mark.parametrize("style", ["knife", "box", "inverted"])
@pytest.mark.parametrize("underlay", [20.0, 40.0, 60.0])
@pytest.mark.parametrize("thickness", [0.0, 0.4, 0.8])
def test_every_pleat_shows_the_same_width(style, underlay, thickness):
    made = draft("pleated_skirt", **SKIRT, pleats=24, style=style, underlay_mm=underlay,
        thickness_mm=thickness)  # fmt: skip
    middle = 720 + 3 * math.pi * thickness
    outwards = [b for _, b, name in layers(made, style) if name == "fold out"]
    seen = outwards if style == "knife" else outwards[::2]
    assert len(seen) == 24
    assert np.diff(seen) == pytest.approx([middle / 24] * 23, abs=1e-6)
    assert made.numbers["visible_mm"] == pytest.approx(middle / 24, abs=1e-9)


def test_the_next_fold_of_a_knife_pleat_is_laid_on_the_line_that_says_so():
    made = draft("pleated_skirt", **SKIRT, pleats=24, underlay_mm=44)
    rows = stations(made)
    outwards = [b for _, b, name in layers(made, "knife") if name == "fold out"]
    starts = [station for name, station in rows if name == "fold out"]
    marks = [station for name, station in rows if name == "next fold lies here"]
    # A mark lies in the flat part that begins at its own fold.
    lies = [at + mark - start for at, mark, start in zip(outwards, marks, starts, strict=True)]
    assert lies[:-1] == pytest.approx(outwards[1:], abs=1e-6)
    assert lies[-1] == pytest.approx(outwards[0] + 720, abs=1e-6)


@pytest.mark.parametrize(
    ("thickness", "visible", "material", "outside"),
    # Middle surfaces t/2, 3t/2, 5t/2 outside of W: 3 W + 9 pi t; outside W + 6 pi t.
    [(0.0, 30.0, 2160.0, 720.0), (0.4, 30.157, 2171.31, 727.54), (0.8, 30.314, 2182.62, 735.08)],
)
def test_three_layers_of_a_thick_sheet_take_more(thickness, visible, material, outside):
    made = draft("pleated_skirt", **SKIRT, pleats=24, thickness_mm=thickness)
    drawn = sum(LineString(points).length for points in edges_of(made, "waist"))
    assert drawn == pytest.approx(material, abs=0.005)
    radii = [720 / 2 / math.pi + layer * thickness / 2 for layer in (1, 3, 5)]
    assert drawn == pytest.approx(2 * math.pi * sum(radii), abs=1e-6)
    assert made.numbers["visible_mm"] == pytest.approx(visible, abs=1e-3)
    assert made.numbers["outside_waist_mm"] == pytest.approx(outside, abs=0.005)


def test_folds_take_what_a_half_circle_takes_more_than_its_width():
    # (pi/2 - 1) t = 0.228 a fold of 0.4, 48 folds 10.96 (plane geometry).
    numbers = draft("pleated_skirt", **SKIRT, pleats=24, thickness_mm=0.4).numbers
    assert numbers["fold_allowance_mm"] == pytest.approx(0.228, abs=5e-4)
    assert numbers["folds"] * numbers["fold_allowance_mm"] == pytest.approx(10.96, abs=5e-3)


def test_pleats_that_are_not_full_take_visible_and_underlay():
    # Box, 30 seen and two folds a side 10 deep: (30 + 40) / 30 = 2.333 (plane geometry).
    made = draft("pleated_skirt", **SKIRT, pleats=24, style="box", underlay_mm=40)
    drawn = sum(LineString(points).length for points in edges_of(made, "waist"))
    assert drawn / 720 == pytest.approx(70 / 30, abs=1e-9)


def test_whole_pleats_fit_on_a_strip():
    # floor((1000 - 8) / 90) = 11, so 24 pleats are 3 strips of 8, each 8 x 90 + 8 = 728.
    made = draft("pleated_skirt", **SKIRT, pleats=24, lap_mm=8)
    assert made.numbers["pleats_in_strips"] == ["8", "8", "8"]
    assert sum(line.endswith("= 728.00 mm") for line in made.steps) == 2
    assert draft("pleated_skirt", waist_mm=330, length_mm=300, pleats=11).numbers["strips"] == 1


@pytest.mark.parametrize(("drop", "dip"), [(25, 0), (25, 40), (-25, 30)])
@pytest.mark.parametrize("azimuth_deg", [0, 60, 90, 180])
def test_the_length_of_a_skirt_that_is_lower_in_front(drop, dip, azimuth_deg):
    # l - d (1 + cos f) / 2 + q (1 + cos f) / 2: 275.0, 281.25, 287.5, 300.0 for d 25, q 0; 315 in
    # front for d 25, q 40 (plane geometry), measured by a plumb line through the drawn strips.
    made = draft("pleated_skirt", **SKIRT, pleats=24, waist_drop_mm=drop, hem_dip_mm=dip)
    share = (180 - azimuth_deg) / 360 * 2160
    strip = min(int(share // 720), 2)
    x = share + APART_MM * strip
    plumb = LineString([(x, -1000), (x, 1000)])
    (waist, hem) = (LineString(edges_of(made, role)[strip]) for role in ("waist", "hem"))
    long = plumb.intersection(waist).y - plumb.intersection(hem).y
    front = (1 + math.cos(math.radians(azimuth_deg))) / 2
    assert long == pytest.approx(300 + (dip - drop) * front, abs=1e-3)


@pytest.mark.parametrize(("lap", "is_seen"), [(30, False), (31, True)])
def test_a_lap_that_is_wider_than_what_is_hidden_is_told(lap, is_seen):
    steps = draft("pleated_skirt", **SKIRT, pleats=24, lap_mm=lap).steps
    assert any("only 30.0 mm are hidden" in line for line in steps) == is_seen


def test_a_tilted_waist_is_an_ellipse():
    # 722.1 for 720 with the front 25 lower, by scipy's complete elliptic integral.
    a = 720 / 2 / math.pi
    b = math.hypot(a, 12.5)
    wanted = 4 * b * ellipe(1 - a * a / b / b)
    told = draft("pleated_skirt", **SKIRT, pleats=24, waist_drop_mm=25).numbers
    assert told["tilted_waist_mm"] == pytest.approx(wanted, abs=1e-9)
    assert wanted == pytest.approx(722.1, abs=0.05)


def widths(made, role):
    """Visible widths square to the folds at one end of them, by shapely."""
    found = []
    for piece in made.pieces:
        lines = [LineString(points_of(one.curve)) for one in piece.lines]
        names = [one.name for one in piece.lines]
        for one, other, name in zip(lines, lines[1:], names, strict=False):
            if name == "fold out":
                foot = Point(other.coords[-1 if role == "waist" else 0])
                across = Point(one.coords[-1 if role == "waist" else 0])
                middle = LineString(
                    [one.interpolate(0.5, normalized=True), other.interpolate(0.5, normalized=True)]
                )
                angle = math.atan2(middle.coords[1][1] - middle.coords[0][1],
                    middle.coords[1][0] - middle.coords[0][0])  # fmt: skip
                found.append(
                    (foot.x - across.x) * math.cos(angle) + (foot.y - across.y) * math.sin(angle)
                )
    return np.array(found)


@pytest.mark.parametrize("lower", [{}, {"hem_dip_mm": 40}, {"waist_drop_mm": 25},
    {"waist_drop_mm": 25, "hem_dip_mm": 40}, {"waist_drop_mm": -30, "hem_dip_mm": 10}])  # fmt: skip
def test_pleats_of_a_spread_hem_stay_equal_at_the_waist_and_make_up_the_hem(lower):
    made = draft("pleated_skirt", **SKIRT, pleats=48, hem_mm=1500, **lower)
    assert widths(made, "waist") == pytest.approx([15.0] * 48, abs=0.02)
    # A dipped hem is a little longer than it is wide.
    assert widths(made, "hem").sum() == pytest.approx(1500, rel=1e-3)


@pytest.mark.parametrize("pleats", [2, 17, 90, 300, 301, 333])
def test_any_number_of_pleats_spreads_evenly_round_a_lowered_front(pleats):
    made = draft("pleated_skirt", **SKIRT, pleats=pleats, hem_mm=1500, waist_drop_mm=25,
        sheet_width_mm=1600)  # fmt: skip
    drawn = sum(LineString(points).length for points in edges_of(made, "waist"))
    assert drawn == pytest.approx(2160, rel=1e-3)


def test_the_spread_strip_is_the_sector_of_a_cone():
    # (2940 - 2160) / 300 = 2.6 rad = 148.97 degrees, inner radius 2160 / 2.6 = 830.8.
    made = draft("pleated_skirt", **SKIRT, pleats=24, hem_mm=1500)
    waist = edges_of(made, "waist")[0]
    a, b, c = waist[0], waist[len(waist) // 2], waist[-1]
    sides = [math.dist(a, b), math.dist(b, c), math.dist(c, a)]
    twice = abs((b - a)[0] * (c - a)[1] - (b - a)[1] * (c - a)[0])
    assert math.prod(sides) / 2 / twice == pytest.approx(830.77, abs=0.01)
    assert made.numbers["sector_deg"] == pytest.approx(148.969, abs=1e-3)


def test_a_spread_skirt_that_is_lower_in_front_is_measured_along_its_lean():
    # sin b = (1500 - 720) / (2 pi 300): 24.44 degrees; 25 / cos b = 27.46 along the cloth.
    made = draft("pleated_skirt", **SKIRT, pleats=24, hem_mm=1500, waist_drop_mm=25)
    assert made.numbers["front_length_mm"] == pytest.approx(300 - 27.461, abs=1e-3)
    other = draft("pleated_skirt", waist_mm=720, length_mm=319.253, pleats=24, waist_drop_mm=25,
        slope_deg=20)  # fmt: skip
    assert other.numbers["front_length_mm"] == pytest.approx(292.649, abs=1e-3)


def test_what_if_tells_the_same_as_each_draft():
    numbers, _ = drafted(block(), "pleated_skirt", {**SKIRT, "pleats": 24, "thickness_mm": 0.4})
    for count, visible, material, strips in what_if(numbers):
        told = draft("pleated_skirt", **SKIRT, pleats=count, thickness_mm=0.4).numbers
        assert (told["visible_mm"], told["material_mm"], told["strips"]) == pytest.approx(
            (visible, material, strips)
        )


def test_a_waist_over_a_suit_is_held_against_what_is_under_it():
    # 720 + 2 pi x 0.368 = 722.3; a waist of 700.6 stretches by 3.1 % (plane geometry).
    suit = AddSheet(name="teal", width_mm=1000, thickness_mm=0.4).apply(block())
    suit = CutFrom(pieces=("front", "back"), sheet="teal").apply(suit)
    made = draft("pleated_skirt", suit, waist_mm=700.6, length_mm=300, pleats=24)
    assert made.numbers["round_under_it_mm"] == pytest.approx(722.3, abs=0.02)
    assert made.numbers["waist_stretch_percent"] == pytest.approx(3.1, abs=0.01)
    assert made.steps[-1].endswith("make the waist larger")
    thicker = SetReductions(girth=0.0).apply(suit)
    told = draft("pleated_skirt", thicker, waist_mm=730, length_mm=300, pleats=24).numbers
    assert told["round_under_it_mm"] == pytest.approx(720 + 2 * math.pi * 0.4)
    assert told["waist_stretch_percent"] == 0.0


def test_the_suits_own_cut_waist_is_told_as_too_small():
    # 720 x 0.92 = 662.4 would stretch by 9 % when it is worn (plane geometry).
    made = draft("pleated_skirt", block(), waist_mm=662.4, length_mm=300, pleats=24)
    assert made.numbers["waist_stretch_percent"] == pytest.approx(9.0, abs=0.1)
    assert made.steps[-1].endswith("make the waist larger")


@pytest.mark.parametrize(
    ("numbers", "why"),
    [
        ({"pleats": 700}, "more than fit"),
        ({"pleats": 24, "visible_mm": 30}, "either"),
        ({"pleats": 24, "hem_mm": 600}, "narrower than the waist"),
        ({"pleats": 24, "waist_drop_mm": 320}, "below the hem"),
        ({"pleats": 24, "overlap_mm": 950}, "with its overlap of 950.0 mm"),
        ({"pleats": 24, "underlay_mm": 1}, "cannot be folded"),
        ({"pleats": 24, "style": "box", "underlay_mm": 8, "thickness_mm": 1.5}, "2.00 mm deep"),
        ({"pleats": 200, "thickness_mm": 2}, "in sheet 2.0 mm thick"),
        ({"waist_mm": 0, "pleats": 24}, "above 0"),
        ({"waist_mm": math.nan, "pleats": 24}, "not a finite number"),
        ({"pleats": 7.5}, "should be a whole number"),
        ({"pleats": -3}, "at least 1"),
    ],
)
def test_pleats_that_cannot_be_are_refused(numbers, why):
    with pytest.raises(DraftRefused, match=why):
        draft("pleated_skirt", **(SKIRT | numbers))


@pytest.mark.parametrize("overlap", [0, 30, 300, 600, 900])
def test_every_strip_is_cut_as_wide_as_it_is_told_and_fits_on_its_sheet(overlap):
    numbers = {**SKIRT, "pleats": 24, "overlap_mm": overlap, "lap_mm": 8}
    project, made = placed("pleated_skirt", **numbers), draft("pleated_skirt", **numbers)
    wide = [
        np.ptp(np.concatenate([points_of(one.curve) for one in ring])[:, 0])
        for piece in project.pieces.values()
        for ring in cut_outline(project, piece)
    ]
    told = [float(line.split()[-2]) for line in made.steps if line.startswith("strip ")]
    assert wide == pytest.approx(told, abs=0.006)
    assert max(wide) <= 1000.0
    assert sum(wide) == pytest.approx(2160 + overlap + 8 * (len(wide) - 1))
