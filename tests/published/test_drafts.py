"""Drafted pieces against published figures and bodies (rows A1-A14, A21-A25, D1, D5, F1-F7).

Sources stand beside the values; the tolerance is the source's own. What is marked “plane geometry”
is derived here in a second way, by numerical integration or by scipy.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.special import ellipe

from tests.drafting.making import BODY, block, draft, placed
from tests.drafting.test_block import assert_closes
from tests.published.test_units_and_paper import BUST, NECK, UNDER_BUST, WAIST
from wedgework.drafting.body_block import leg_path_mm
from wedgework.units import Unit, parse_length_mm

# ASTM D5585-11e1, table 1, in inches; sizes 00 0 2 4 6 8 10 12 14 16 18 20.
TABLE_IN = {
    "bust_girth_mm": BUST,
    "under_bust_girth_mm": UNDER_BUST,
    "waist_girth_mm": WAIST,
    "neck_base_girth_mm": NECK,
}

# ANSUR II public databases, women and men, percentiles 5, 50 and 95 (Gordon et al. 2014,
# NATICK/TR-15/007); the waist there is at the navel.
ANSUR = {
    "women": {
        "bust_girth_mm": (824.25, 940.0, 1094.00), "waist_girth_mm": (710.00, 852.0, 1040.00),
        "hip_girth_mm": (901.25, 1018.5, 1155.75), "torso_loop_mm": (1440.00, 1555.0, 1685.00),
        "back_waist_length_mm": (384.00, 424.5, 470.00),
        "neck_base_girth_mm": (340.00, 370.0, 405.00),
        "shoulder_length_mm": (120.00, 135.0, 153.00), "thigh_girth_mm": (527.00, 613.0, 711.00),
    },
    "men": {
        "bust_girth_mm": (922.00, 1056.0, 1207.00), "waist_girth_mm": (768.00, 937.0, 1130.95),
        "hip_girth_mm": (899.00, 1017.0, 1149.00), "torso_loop_mm": (1519.00, 1664.0, 1814.00),
        "back_waist_length_mm": (433.00, 477.0, 524.00),
        "neck_base_girth_mm": (395.00, 433.0, 479.00),
        "shoulder_length_mm": (133.00, 150.0, 167.00), "thigh_girth_mm": (532.00, 624.0, 723.00),
    },
}  # fmt: skip
ANSUR_MEAN = {
    "women": (946.86, 860.91, 1021.25, 1559.41, 425.40, 371.16, 135.41, 616.15),
    "men": (1058.71, 940.58, 1019.52, 1664.80, 477.61, 434.60, 149.78, 625.14),
}
DEMO = BODY | {
    "bust_front_mm": 500, "under_bust_front_mm": 400, "waist_front_mm": 370, "hip_front_mm": 460,
}  # fmt: skip


@pytest.mark.parametrize("size", range(12))
def test_a_block_of_every_size_of_the_table_closes(size):
    body = {name: parse_length_mm(row.split(",")[size], Unit.IN) for name, row in TABLE_IN.items()}
    assert_closes(placed("body_block", **body), draft("body_block", **body).numbers)


@pytest.mark.parametrize("group", ["women", "men"])
@pytest.mark.parametrize("percentile", range(3))
def test_a_block_of_the_measured_bodies_closes(group, percentile):
    body = {name: row[percentile] for name, row in ANSUR[group].items()}
    assert_closes(placed("body_block", **body), draft("body_block", **body).numbers)


@pytest.mark.parametrize("group", ["women", "men"])
def test_a_block_of_the_mean_body_closes(group):
    body = dict(zip(ANSUR[group], ANSUR_MEAN[group], strict=True))
    assert_closes(placed("body_block", **body), draft("body_block", **body).numbers)


def test_half_widths_by_level_are_half_the_cut_arcs():
    # 920 x 0.92 = 846.4 and so on; half front 230.0, 184.0, 170.2, 211.6 (plane geometry).
    front = block(**{k: v for k, v in DEMO.items() if k not in BODY}).pieces["front"]
    widths = {
        line.level: float(line.curve.end[0] - line.curve.start[0])
        for line in front.lines
        if line.level
    }
    wanted = {"bust": 230.0, "under_bust": 184.0, "waist": 170.2, "hip": 211.6}
    assert widths == pytest.approx(wanted, abs=1e-9)


def test_the_torso_loop_is_cut_shorter_by_its_own_reduction():
    # (420 + 320 + 380 + 440) x 0.96 = 403.2 + 307.2 + 364.8 + 422.4 = 1497.6 (plane geometry).
    assert draft("body_block", **BODY).numbers["torso_loop_cut_mm"] == pytest.approx(1497.6)


@pytest.mark.parametrize("rise", [0.0, 80.0, 150.0, 220.0])
def test_the_path_of_a_leg_opening_is_an_ellipse(rise):
    # Perimeter 4 b E(1 - a^2 / b^2) with scipy's complete elliptic integral: 570.0, 596.8, 657.5,
    # 742.0 mm round 570.
    a = 570 / 2 / math.pi
    b = math.hypot(a, rise / 2)
    assert leg_path_mm(570, rise) == pytest.approx(4 * b * ellipe(1 - a * a / b / b), rel=1e-12)


@pytest.mark.parametrize(
    ("overlap", "turn_deg", "shorter_mm", "stand_mm"),
    [
        # Half an inch of lap at the shoulder of a collar that lies flat: Rosenfeld, Practical
        # Designer for Women's and Misses' Underwear, 1918, lesson 432; 2 asin(12.7 / 250).
        (12.7, 2 * 5.823758, 15.246562, 1.2),
        (25.4, 2 * 2 * math.degrees(math.asin(25.4 / 250)), 30.5, 2.4),
        (50.8, 2 * 2 * math.degrees(math.asin(50.8 / 250)), 61.4, 4.9),
    ],
)
def test_a_collar_gets_shorter_outside_by_its_width_times_the_turn(
    overlap, turn_deg, shorter_mm, stand_mm
):
    # On a shoulder of 125 mm, whole neckline; the stand is for a neckline that turns fully.
    project = block(length_reduction=0.0, neck_reduction=0.0)
    half = ["front.neck", "back.neck"]
    flat = draft("collar", project, neckline=half, width_mm=75).numbers
    rolled = draft("collar", project, neckline=half, width_mm=75, overlap_mm=overlap).numbers
    assert rolled["shoulder_mm"] == pytest.approx(125)
    assert 2 * rolled["turn_deg"] == pytest.approx(turn_deg, abs=1e-5)
    shorter = 2 * (flat["outer_edge_mm"] - rolled["outer_edge_mm"])
    assert shorter == pytest.approx(shorter_mm, abs=0.05)
    wanted = 75 * rolled["turn_deg"] / (2 * rolled["neckline_turning_deg"])
    assert rolled["stand_mm"] == pytest.approx(wanted)
    full_turn = 75 * math.radians(2 * rolled["turn_deg"]) / (2 * 2 * math.pi)
    assert full_turn == pytest.approx(stand_mm, abs=0.05)


def test_full_knife_pleats_take_three_times_the_waist():
    # yuzuandpear.com, “Pleats please, part 2”: waist 72 cm, 18 pleats of 4 cm, strip 216 cm.
    numbers = draft("pleated_skirt", waist_mm=720, length_mm=300, pleats=18).numbers
    assert (numbers["visible_mm"], numbers["material_mm"]) == (40.0, 2160.0)


@pytest.mark.parametrize("style", ["knife", "box", "inverted"])
@pytest.mark.parametrize("pleats", [9, 18, 24, 31])
def test_full_pleats_of_any_number_take_three_times_the_waist(style, pleats):
    # Counting layers.
    numbers = draft(
        "pleated_skirt", waist_mm=720, length_mm=300, pleats=pleats, style=style,
        sheet_width_mm=2500,
    ).numbers  # fmt: skip
    assert numbers["material_mm"] == pytest.approx(3 * 720)


@pytest.mark.parametrize(
    ("numbers", "wanted"),
    [
        # Plane geometry; “never round the visible width”: 700 at 30 is 23 pleats of 30.4348.
        ({"waist_mm": 700, "visible_mm": 30}, {"pleats": 23, "visible_mm": 30.4348,
            "material_mm": 2100.0}),
        ({"waist_mm": 700, "pleats": 24}, {"visible_mm": 29.1667, "material_mm": 2100.0}),
        ({"waist_mm": 720, "pleats": 24, "thickness_mm": 0.4}, {"visible_mm": 30.1571,
            "material_mm": 2171.3097, "outside_waist_mm": 727.5398, "finished_waist_mm": 720.0}),
        ({"waist_mm": 720, "pleats": 24, "underlay_mm": 40}, {"pitch_mm": 70.0}),
        ({"waist_mm": 720, "pleats": 24}, {"strips": 3, "pitch_mm": 90.0}),
        ({"waist_mm": 720, "pleats": 24, "waist_drop_mm": 25}, {"front_length_mm": 275.0,
            "side_length_mm": 287.5, "back_length_mm": 300.0}),
        ({"waist_mm": 720, "pleats": 24, "waist_drop_mm": 25, "hem_dip_mm": 40},
            {"front_length_mm": 315.0, "back_length_mm": 300.0}),
    ],
)  # fmt: skip
def test_worked_pleats(numbers, wanted):
    told = draft("pleated_skirt", length_mm=300, lap_mm=8, **numbers).numbers
    assert {name: told[name] for name in wanted} == pytest.approx(wanted, abs=1e-4)


@pytest.mark.parametrize(
    ("share", "radius_in"),
    [
        # prettyquirkypants.com, half circle skirt formulas: 4.13, 8.2, 12.4, 16.56 in for a waist
        # of 26 in, rounded by hand; W / (2 pi f).
        (1.0, 4.138), (0.5, 8.276), (1 / 3, 12.414), (0.25, 16.552),
    ],
)  # fmt: skip
def test_the_waist_radius_of_shares_of_a_circle(share, radius_in):
    numbers = draft("flared_skirt", waist_mm=26 * 25.4, length_mm=600, turn_deg=360 * share).numbers
    assert numbers["waist_radius_mm"] / 25.4 == pytest.approx(radius_in, abs=1e-3)


@pytest.mark.parametrize(("turn", "hem_mm"), [(360, 2604.95559), (180, 1662.47780)])
def test_the_hem_of_a_full_and_of_a_half_circle(turn, hem_mm):
    # W + 2 pi f l (plane geometry).
    made = draft("flared_skirt", waist_mm=720, length_mm=300, turn_deg=turn)
    assert made.numbers["hem_mm"] == pytest.approx(hem_mm, abs=1e-4)
    drawn = sum(chord_length(e.curve) for p in made.pieces for e in p.edges if e.name == "hem")
    assert drawn == pytest.approx(hem_mm, rel=1e-6)


def chord_length(curve):
    """Length by 20,000 chords, not by the program's own quadrature."""
    t = np.linspace(0.0, 1.0, 20_001)[:, None]
    total = 0.0
    for p0, p1, p2, p3 in curve.segments:
        s = 1.0 - t
        points = s**3 * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t**3 * p3
        total += float(np.hypot(*np.diff(points, axis=0).T).sum())
    return total


def test_a_hem_of_1500_on_a_waist_of_720():
    # W l / (H - W), (H - W) / l and asin((H - W) / (2 pi l)) (plane geometry).
    numbers = draft("flared_skirt", waist_mm=720, length_mm=300, hem_mm=1500).numbers
    told = [numbers[name] for name in ("waist_radius_mm", "turn_deg", "lean_deg")]
    assert told == pytest.approx([276.92308, 148.96903, 24.44395], abs=1e-4)


def test_the_frustum_of_a_net_is_a_flared_skirt():
    # ceemrr.com, “The Net of a Frustum”: diameters 5 and 8, height 4: radii 7.12 and 11.39, sector
    # 126.4 degrees. In cm here.
    slant = math.hypot(40, 15)
    numbers = draft(
        "flared_skirt", waist_mm=50 * math.pi, length_mm=slant, hem_mm=80 * math.pi
    ).numbers
    assert numbers["waist_radius_mm"] / 10 == pytest.approx(7.12, abs=0.005)
    assert numbers["hem_radius_mm"] / 10 == pytest.approx(11.39, abs=0.005)
    assert numbers["turn_deg"] == pytest.approx(126.4, abs=0.05)


@pytest.mark.parametrize(
    ("numbers", "width"),
    [
        # pi (D - t) + lap (plane geometry).
        ({"diameter_mm": 12, "lap_mm": 6}, 42.44),
        ({"diameter_mm": 8, "lap_mm": 0}, 23.88),
        ({"diameter_mm": 10, "lap_mm": 16}, 46.16),
    ],
)
def test_the_strip_of_a_tube(numbers, width):
    told = draft("tube", length_mm=500, thickness_mm=0.4, **numbers).numbers
    assert told["strip_width_mm"] == pytest.approx(width, abs=0.005)


def test_a_tube_in_a_hollow_line_is_shorter_at_its_far_edge():
    # M +/- D a in the plane (plane geometry): an armhole that turns by -220 degrees.
    numbers = draft(
        "tube", block(), opening=["front.armhole", "back.armhole"], diameter_mm=12
    ).numbers
    wanted = numbers["strip_length_mm"] + 12 * math.radians(numbers["turning_deg"])
    assert numbers["outer_length_mm"] == pytest.approx(wanted)
    assert numbers["outer_length_mm"] < numbers["strip_length_mm"]


def test_stuffing_makes_a_tube_shorter():
    # Volume kept: h = (d + t') / (D - t), length h ** -0.5: 1.238 and 10.1 % (plane geometry).
    numbers = draft("tube", length_mm=500, diameter_mm=12, core_mm=14).numbers
    assert numbers["hoop_stretch"] == pytest.approx(1.238, abs=5e-4)
    assert numbers["shorter_percent"] == pytest.approx(10.1, abs=0.05)
    assert numbers["cut_longer_by"] == pytest.approx(1.113, abs=5e-4)


def test_the_strips_of_a_bow():
    # 2 x 160 + 15 = 335; 2 x (25 + 1.6) + 10 = 63.2 (plane geometry).
    loops = draft("bow", width_mm=160, depth_mm=80, knot_mm=25, lap_mm=15, thickness_mm=0.4)
    knot = draft("bow", width_mm=160, depth_mm=80, knot_mm=25, lap_mm=10, thickness_mm=0.4)
    assert loops.numbers["loop_strip_mm"] == pytest.approx(335)
    assert knot.numbers["knot_strip_mm"] == pytest.approx(63.2)


def test_a_binding_covers_both_sides():
    # 2 b + S + pi/2 t: 17.03 (plane geometry).
    numbers = draft("binding", length_mm=900, depth_mm=8, stack_mm=0.4, thickness_mm=0.4).numbers
    assert numbers["strip_width_mm"] == pytest.approx(17.03, abs=0.005)


def test_a_pleated_skirt_with_a_wider_hem_is_a_sector():
    # v_hem = 1500 / 24 = 62.5, 122.5 a pleat, 2940 in all; 148.97 degrees (plane geometry).
    made = draft("pleated_skirt", waist_mm=720, length_mm=300, pleats=24, hem_mm=1500)
    told = made.numbers
    assert told["visible_hem_mm"] == pytest.approx(62.5)
    assert told["hem_material_mm"] == pytest.approx(2940)
    assert told["sector_deg"] == pytest.approx(148.97, abs=0.005)
    for name, wanted in (("waist", 2160.0), ("hem", 2940.0)):
        drawn = sum(chord_length(e.curve) for p in made.pieces for e in p.edges if e.name == name)
        assert drawn == pytest.approx(wanted, abs=0.01)
