"""The suit block: girths, torso loop, seams and corners come out as asked, for any body."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point

from tests.drafting.making import BODY, block, draft, placed
from wedgework.checks import check
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.curve import Curve
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.regions import region
from wedgework.geometry.turning import curvatures_at, joint_turnings_rad
from wedgework.pattern.errors import DraftRefused, EditRefused
from wedgework.pattern.levels import flat_girth_mm
from wedgework.pattern.seams import measure_seam

LEVELS = ("bust", "under_bust", "waist", "hip")
FOUND = {"seam_length", "seam_corner", "outline_crosses", "seam_twisted", "outline_spike"}


def loop_mm(project):
    lines = [line for piece in project.pieces.values() for line in piece.lines]
    return sum(length_mm(line.curve) for line in lines if line.name == "torso loop")


def assert_closes(project, numbers):
    for level in LEVELS:
        assert flat_girth_mm(project, level) == pytest.approx(numbers[f"{level}_cut_mm"], abs=0.01)
    assert loop_mm(project) == pytest.approx(numbers["torso_loop_cut_mm"], abs=0.01)
    for seam in project.seams.values():
        assert abs(measure_seam(project, seam).difference_mm) < 1e-6
    assert {finding.code for finding in check(project)} & FOUND == set()
    for piece in project.pieces.values():
        assert not crosses_itself([edge.curve for edge in piece.edges])


@pytest.mark.parametrize("closing", ["back", "front", "side", "none"])
def test_the_block_closes_wherever_it_opens(closing):
    numbers = draft("body_block", **BODY, closing=closing).numbers
    assert_closes(block(closing=closing), numbers)


@settings(max_examples=40)
@given(
    st.floats(760, 1400), st.floats(0.75, 1.05), st.floats(0.65, 1.05), st.floats(0.9, 1.2),
    st.floats(0.9, 1.12),
)  # fmt: skip
def test_bodies_of_any_shape_give_simple_pieces_that_agree(bust, under, waist, hip, lengths):
    body = {
        "bust_girth_mm": bust, "under_bust_girth_mm": bust * under, "waist_girth_mm": bust * waist,
        "hip_girth_mm": bust * hip, "torso_loop_mm": 1560 * lengths,
        "back_waist_length_mm": 405 * lengths,
    }  # fmt: skip
    assert_closes(placed("body_block", **body), draft("body_block", **body).numbers)


def edge_curves(project):
    return {e.id: e.curve for piece in project.pieces.values() for e in piece.edges}


@pytest.mark.parametrize("legs", ["none", "mid_thigh", "ankle"])
def test_a_side_that_takes_all_the_intake_is_one_fair_line(legs):
    project = block(legs=legs)
    for half in ("front", "back"):
        side = edge_curves(project)[f"{half}.side"]
        assert max_bend(side) < 1 / 80
        assert np.abs(joint_turnings_rad(side)).max() < 1e-9


def max_bend(curve):
    return float(np.abs(curvatures_at(curve, np.linspace(0, length_mm(curve), 2000))).max())


def test_the_side_of_the_block_bends_as_the_numbers_say():
    numbers = draft("body_block", **BODY).numbers
    sides = [edge_curves(block())[f"{half}.side"] for half in ("front", "back")]
    assert numbers["side_radius_mm"] == pytest.approx(1 / max(map(max_bend, sides)), rel=0.02)
    assert numbers["side_radius_mm"] > 100


def test_a_side_that_takes_less_of_the_intake_bends_less():
    radii = [
        draft("body_block", **BODY, side_share=share).numbers["side_radius_mm"]
        for share in (1.0, 0.5, 0.25)
    ]
    assert radii == sorted(radii)


def test_a_deep_open_back_is_round_at_the_centre():
    neck = edge_curves(block(back_lower_mm=250, neck_wider_mm=20))["back.neck"]
    assert max_bend(neck) < 1 / 25


@pytest.mark.parametrize("rise", [1, 60, 100, 150, 220])
def test_a_leg_opening_rises_as_far_as_was_asked(rise):
    project, numbers = (
        block(leg_rise_mm=rise),
        draft("body_block", **BODY, leg_rise_mm=rise).numbers,
    )
    leg = edge_curves(project)["front.leg"]
    drawn_mm = abs(leg.end[1] - leg.start[1]) / (1 - numbers["length_reduction"])
    assert drawn_mm == pytest.approx(rise, abs=1e-6)
    assert numbers["leg_rise_mm"] == pytest.approx(rise)
    assert {finding.code for finding in check(project)} & FOUND == set()
    assert abs(measure_seam(project, project.seams["side"]).difference_mm) < 1e-6


def test_a_leg_opening_above_the_hips_leaves_no_level_there():
    assert list(block(leg_rise_mm=60).levels) == list(LEVELS)
    assert list(block(leg_rise_mm=220).levels) == ["bust", "under_bust", "waist"]


@pytest.mark.parametrize("closing", ["back", "front"])
@pytest.mark.parametrize("long", [40, 120])
def test_a_strip_in_the_crotch_is_part_of_the_loop_and_of_the_leg_opening(closing, long):
    more = {"crotch_strip_mm": long, "closing": closing}
    project, numbers = block(**more), draft("body_block", **BODY, **more).numbers
    assert_closes(project, numbers)
    assert set(project.seams) >= {"crotch_front", "crotch_back"}
    ring = [edge_curves(project)[name] for name in ("front.leg", "strip.leg", "back.leg")]
    assert sum(map(length_mm, ring)) == pytest.approx(numbers["leg_edge_mm"])


def test_a_suit_that_closes_at_the_side_is_folded_along_both_centres():
    project = block(closing="side")
    assert {piece.cutting for piece in project.pieces.values()} == {"fold"}
    assert draft("body_block", **BODY, closing="side").numbers["closing_seam"] == "side"


def test_an_under_bust_that_was_not_measured_is_no_narrower_than_the_waist():
    numbers = draft("body_block", bust_girth_mm=1056, waist_girth_mm=937).numbers
    assert numbers["under_bust_girth_mm"] == pytest.approx(937)


def test_the_neckline_is_as_long_as_asked():
    numbers = draft("body_block", **BODY).numbers
    project = block()
    edges = {e.id: e for piece in project.pieces.values() for e in piece.edges}
    half = length_mm(edges["front.neck"].curve) + length_mm(edges["back.neck"].curve)
    assert 2 * half == pytest.approx(numbers["neck_edge_mm"], abs=1e-6)


def test_an_armhole_is_as_long_as_its_girth_asks():
    numbers = draft("body_block", **BODY, armscye_girth_mm=480).numbers
    assert numbers["armhole_mm"] == pytest.approx(480 * 0.9, abs=1e-6)


def test_an_armhole_that_no_curve_gives_is_refused_with_the_girths_that_would_do():
    with pytest.raises(DraftRefused, match="lies between"):
        draft("body_block", **BODY, armscye_girth_mm=900)


def test_what_was_not_measured_is_said_to_be_filled_in():
    numbers = draft("body_block", bust_girth_mm=920).numbers
    assert "waist_girth_mm" in numbers["filled_in"]
    assert "bust_girth_mm" not in numbers["filled_in"]


def test_measures_that_were_filled_in_are_not_written_down_as_the_body():
    project = placed("body_block", bust_girth_mm=920, waist_girth_mm=720)
    assert dict(project.body) == {"bust_girth_mm": 920.0, "waist_girth_mm": 720.0}


def test_intake_that_the_side_leaves_is_told_for_seams_through_the_bust_point():
    numbers = draft("body_block", **BODY, side_share=0.25).numbers
    project = block(side_share=0.25)
    wanted = numbers["waist_cut_mm"] + numbers["left_to_shape_waist_mm"]
    assert flat_girth_mm(project, "waist") == pytest.approx(wanted, abs=0.01)


@pytest.mark.parametrize(
    ("numbers", "why"),
    [
        ({"shoulder_to_waist_front_mm": 420, "waist_to_crotch_front_mm": 320,
          "waist_to_crotch_back_mm": 380, "shoulder_to_waist_back_mm": 500}, "add up"),
        ({"bust_front_mm": 500, "bust_back_mm": 500}, "add up"),
        ({"waist_girth_mm": 0}, "above 0"),
        ({"waist_girth_mm": math.inf}, "finite"),
        ({"girth_reduction": 1.2}, "at most"),
        ({"waist_girth_mm": -5}, "waist_girth_mm: should be above 0"),
        ({"sleeves": "middle"}, "one of long, none, short"),
        ({"torso_loop_mm": 400}, "Look first at the torso loop of 400 mm.* 1560 mm"),
        ({"torso_loop_mm": 3000}, "Look first at the torso loop of 3000 mm"),
        ({"shoulder_length_mm": 500}, "Look first at the shoulder length"),
        ({"neck_base_girth_mm": 900}, "Look first at the neck base girth"),
        ({"back_waist_length_mm": 200}, "Look first at the back waist length"),
        ({"under_bust_height_mm": 200}, "not below a bust height"),
        ({"waist_to_hip_mm": 350}, "as low as the crotch.* Look first at the waist to hip"),
        ({"bust_back_mm": 50}, "A bust back of 50 mm"),
        ({"bust_point_distance_mm": 600}, "beyond the side"),
        ({"crotch_strip_mm": 60, "legs": "ankle"}, "set a gusset in"),
        ({"crotch_strip_mm": 400}, "shorter than"),
        ({"crotch_width_mm": 500}, "less than 296 mm"),
        ({"legs": "ankle", "inside_leg_mm": 60}, "no leg below the thigh"),
        ({"leg_rise_mm": 300}, "less than 261 mm"),
        ({"bust_height_mm": 390}, "too near"),
        ({"neck_wider_mm": 100}, "less than half"),
        ({"wrist": 1}, "no number of"),
    ],
)  # fmt: skip
def test_numbers_that_cannot_be_are_refused_in_words(numbers, why):
    with pytest.raises(EditRefused, match=why):
        draft("body_block", **(BODY | numbers))


@pytest.mark.parametrize("legs", ["none", "mid_thigh", "ankle"])
@pytest.mark.parametrize("sleeves", ["none", "short", "long"])
@pytest.mark.parametrize("high_neck", [0, 60])
def test_legs_sleeves_and_a_high_neck_agree_with_the_rest(legs, sleeves, high_neck):
    more = {"legs": legs, "sleeves": sleeves, "high_neck_mm": high_neck}
    assert_closes(block(**more), draft("body_block", **BODY, **more).numbers)


@pytest.mark.parametrize("neckline", ["round", "v"])
def test_a_lower_and_wider_neckline_leaves_all_else_in_place(neckline):
    more = {"neckline": neckline, "neck_lower_mm": 60, "neck_wider_mm": 20, "back_lower_mm": 120}
    assert_closes(block(**more), draft("body_block", **BODY, **more).numbers)


def test_the_torso_loop_of_a_suit_with_legs_lies_in_the_pieces():
    for piece in block(legs="ankle").pieces.values():
        outline = region([edge.curve for edge in piece.edges], 0.01).buffer(0.05)
        for line in piece.lines:
            if line.name == "torso loop":
                points = points_at(line.curve, np.linspace(0.0, length_mm(line.curve), 50))
                assert all(outline.contains(Point(*at)) for at in points)


def test_crotch_curves_are_as_long_as_the_torso_loop_asks():
    project = block(legs="ankle")
    numbers = draft("body_block", **BODY, legs="ankle").numbers
    edges = {e.id: e for piece in project.pieces.values() for e in piece.edges}
    below = sum(
        length_mm(Curve(edges[f"{half}.centre"].curve.segments[at]))
        for half, at in (("front", slice(1, None)), ("back", slice(None, -1)))
    )
    assert below == pytest.approx(numbers["crotch_curve_mm"])


def test_a_sleeve_head_is_as_long_as_its_armhole_on_both_sides_of_the_shoulder():
    project = block(sleeves="long")
    assert not [one for one in check(project) if one.code == "seam_notches"]


def test_an_arm_thicker_than_the_armhole_is_refused():
    with pytest.raises(DraftRefused, match="does not go through"):
        draft("body_block", **BODY, sleeves="long", upper_arm_girth_mm=600)


@pytest.mark.parametrize(("thigh", "hip"), [(500, 980), (570, 980), (527, 901), (575, 980)])
def test_the_leg_opening_lies_where_its_edge_is_as_long_as_it_should_be(thigh, hip):
    numbers = draft("body_block", **(BODY | {"thigh_girth_mm": thigh, "hip_girth_mm": hip})).numbers
    assert numbers["leg_edge_mm"] == pytest.approx(0.9 * numbers["leg_path_mm"], abs=1e-3)
