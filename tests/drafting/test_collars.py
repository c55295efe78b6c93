"""Collars of every kind: rolled, standing, drawn by the maker's own line, with a facing."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely import LineString

from tests.drafting.making import block, draft, placed
from tests.published.test_drafts import chord_length
from wedgework.checks import check
from wedgework.edits.drawn import AddLine
from wedgework.edits.move import MoveCorner
from wedgework.edits.redraft import DraftAgain
from wedgework.geometry.length import point_at
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.errors import DraftRefused
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.runs import walked
from wedgework.pattern.seams import measure_seam

NECK = ["-front.neck", "-back.neck"]
WIDE_MM = 70.0


def sampled_length(curve):
    """Length by many chords, another way than the program's own."""
    return chord_length(curve)


@pytest.mark.parametrize(
    "more",
    [{"stand_mm": 0}, {"stand_mm": 18}, {"overlap_mm": 25}, {"lean_deg": 0}, {"lean_deg": 30},
     {"lean_deg": -15}, {"wider_at_fold_mm": 30, "shape": "square"}, {"wider_at_end_mm": 30}],
)  # fmt: skip
def test_the_neck_edge_is_as_long_as_the_neckline_sampled_by_chords(more):
    project = placed("collar", block(), neckline=NECK, width_mm=60, **more)
    line = sum(sampled_length(the_edge(project, own).curve) for own in ("front.neck", "back.neck"))
    assert sampled_length(the_edge(project, "collar.neck").curve) == pytest.approx(line, abs=1e-6)


@pytest.mark.parametrize("lean_deg", [-20.0, 0.0, 20.0, 45.0])
def test_a_standing_collar_is_the_net_of_a_cone(lean_deg):
    # A cone on a round neck of the same girth: its rim is 2 pi (R + w sin lean) round, plane
    # geometry; half of it is drafted.
    numbers = draft("collar", block(), neckline=NECK, width_mm=50, lean_deg=lean_deg).numbers
    radius = 2 * numbers["neck_edge_mm"] / (2 * math.pi)
    rim = 2 * math.pi * (radius + 50 * math.sin(math.radians(lean_deg)))
    assert numbers["outer_edge_mm"] == pytest.approx(rim / 2, abs=0.01)
    assert numbers["stand_mm"] == pytest.approx(50 * math.cos(math.radians(lean_deg)))


def test_a_standing_collar_has_a_lap_that_lies_on_the_garment_or_none():
    # 0.06 of the neckline by what both edges turn, to half a millimetre; TRADE's limit of a lap
    # that is stretched, common practice.
    upright = placed("collar", block(), neckline=NECK, width_mm=50, lean_deg=0).seams["collar.seam"]
    numbers = draft("collar", block(), neckline=NECK, width_mm=50, lean_deg=0).numbers
    most = 0.06 * numbers["neck_edge_mm"] / math.radians(numbers["neckline_turning_deg"])
    assert (upright.join, upright.lap_mm) == ("lapped", math.floor(2 * most) / 2)
    leaning = placed("collar", block(), neckline=NECK, width_mm=50, lean_deg=30)
    assert leaning.seams["collar.seam"].join == "butted"
    rolled = placed("collar", block(), neckline=NECK, width_mm=50, stand_mm=10)
    assert rolled.seams["collar.seam"].join == "superimposed"


def test_an_upright_collar_is_a_straight_strip_and_no_shoulder_is_too_short_for_it():
    project = placed("collar", block(), neckline=NECK, width_mm=130, lean_deg=0)
    neck = the_edge(project, "collar.neck").curve
    assert math.dist(neck.start, neck.end) == pytest.approx(chord_length(neck), abs=1e-2)
    with pytest.raises(DraftRefused, match="wider than the shoulder"):
        draft("collar", block(), neckline=NECK, width_mm=130)


@pytest.mark.parametrize(
    ("numbers", "why"),
    [
        ({"width_mm": 50, "lean_deg": 80}, "more would ripple"),
        ({"width_mm": 50, "lean_deg": 5, "stand_mm": 5}, "either"),
        ({}, "Give the width"),
        ({"width_mm": 50, "facing_smaller_mm": 50}, "stay back"),
    ],
)
def test_collars_that_cannot_be_are_refused(numbers, why):
    with pytest.raises(DraftRefused, match=why):
        draft("collar", block(), neckline=NECK, **numbers)


# The outer edge drawn by hand


def neck_point(project, piece):
    """The neck's end of the shoulder, and a place along the shoulder."""
    shoulder, neck = (the_edge(project, f"{piece}.{name}").curve for name in ("shoulder", "neck"))
    at_start = math.dist(shoulder.start, neck.start) < 1e-6 or (
        math.dist(shoulder.start, neck.end) < 1e-6
    )
    whole = chord_length(shoulder)
    return point_at(shoulder, WIDE_MM if at_start else whole - WIDE_MM)


def drawn(*, off_mm=0.0, corner=False, to_fold_mm=0.0):
    """A block with a line round its neck, drawn over front and back as a maker would."""
    project = block()
    front_end = np.array([to_fold_mm, the_edge(project, "front.neck").curve.end[1] - 90.0])
    meet = neck_point(project, "front")
    via = [[80.0, 280.0]] if not corner else [np.add(front_end, (60.0, 0.0)).tolist()]
    points = [front_end.tolist(), *via, np.add(meet, (0.0, off_mm)).tolist()]
    back_neck = the_edge(project, "back.neck").curve
    nape = min(back_neck.start, back_neck.end, key=lambda point: point[1])
    behind = neck_point(project, "back")
    far = [np.add(nape, (-40.0, -62.0)).tolist(), np.add(nape, (0.0, -75.0)).tolist()]
    for piece, way in (("front", points), ("back", [behind.tolist(), *far])):
        edit = AddLine(piece=piece, kind="style", points_mm=tuple(map(tuple, way)), name="collar")
        project = edit.apply(project)
    return project


def of_lines(project):
    return [
        line for piece in project.pieces.values() for line in piece.lines if line.kind == "style"
    ]


def test_a_flat_collar_has_the_outer_edge_that_was_drawn():
    project = drawn()
    lines = of_lines(project)
    made = draft("collar", project, neckline=NECK, outer_line=[one.id for one in lines])
    wanted = sum(chord_length(one.curve) for one in lines)
    assert made.numbers["outer_edge_mm"] == pytest.approx(wanted, abs=1e-6)
    piece = made.pieces[0]
    neck = next(edge.curve for edge in piece.edges if edge.id == "collar.neck")
    ring = LineString(np.concatenate([points(e.curve) for e in piece.edges if "outer" in e.id]))
    # The places on both sides where the line met the shoulder are as far from the neck as drawn.
    assert ring.distance(LineString(points(neck))) > 40.0


def points(curve):
    """Points of a curve, by its own control points."""
    t = np.linspace(0.0, 1.0, 200)[:, None]
    return np.concatenate([
        (1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t * t * c + t**3 * d
        for a, b, c, d in curve.segments
    ])  # fmt: skip


def test_a_drawn_collar_rolls_with_its_neck_edge_and_stays_as_wide():
    project = drawn()
    refs = [one.id for one in of_lines(project)]
    flat = draft("collar", project, neckline=NECK, outer_line=refs)
    rolled = draft("collar", project, neckline=NECK, outer_line=refs, stand_mm=15)
    assert rolled.numbers["neck_edge_mm"] == pytest.approx(flat.numbers["neck_edge_mm"], abs=1e-6)
    shorter = flat.numbers["outer_edge_mm"] - rolled.numbers["outer_edge_mm"]
    wide, turn = flat.numbers["width_mm"], math.radians(rolled.numbers["turn_deg"])
    # Steiner: width times turn, whatever the line, as far as its width is the same all along.
    assert shorter == pytest.approx(wide * turn, rel=0.1)


def test_a_corner_of_the_drawn_line_is_one_of_the_collar():
    project = drawn(corner=True)
    refs = [one.id for one in of_lines(project)]
    project = placed("collar", project, neckline=NECK, outer_line=refs)
    assert not [one for one in check(project) if one.grave == "stops_cutting"]


def test_a_collar_follows_the_line_that_was_drawn_for_it():
    project = drawn()
    refs = [one.id for one in of_lines(project)]
    made = placed("collar", project, neckline=NECK, outer_line=refs)
    moved = MoveCorner(corner="front.c7", by_mm=(0.0, -12.0)).apply(made)
    assert "draft_out_of_date" in {one.code for one in check(moved)}
    again = DraftAgain(piece="collar").apply(moved)
    assert "draft_out_of_date" not in {one.code for one in check(again)}
    assert abs(measure_seam(again, again.seams["collar.seam"]).difference_mm) < 1e-6


@pytest.mark.parametrize(
    ("kind", "why"),
    [({"off_mm": 12.0}, "do not meet"), ({"to_fold_mm": 15.0}, "beside the fold")],
)
def test_lines_that_make_no_outer_edge_are_refused(kind, why):
    project = drawn(**kind)
    with pytest.raises(DraftRefused, match=why):
        draft("collar", project, neckline=NECK, outer_line=[one.id for one in of_lines(project)])


def test_a_width_beside_a_drawn_line_is_refused():
    project = drawn()
    refs = [one.id for one in of_lines(project)]
    for more in ({"width_mm": 60}, {"wider_at_end_mm": 20}):
        with pytest.raises(DraftRefused, match="drawn already"):
            draft("collar", project, neckline=NECK, outer_line=refs, **more)


def test_edges_of_a_collar_are_few_cubics_that_a_hand_can_bend():
    for more in ({}, {"stand_mm": 12}, {"wider_at_end_mm": 30}, {"facing_smaller_mm": 2}):
        made = draft("collar", block(), neckline=NECK, width_mm=60, **more)
        assert max(len(edge.curve) for piece in made.pieces for edge in piece.edges) <= 12


# Facing and fold


@pytest.mark.parametrize("more", [{"width_mm": 60}, {"width_mm": 60, "stand_mm": 10},
    {"width_mm": 60, "wider_at_end_mm": 30, "shape": "square"}])  # fmt: skip
def test_the_facing_of_a_collar_stays_back_outside_and_fits_at_the_neck(more):
    project = placed("collar", block(), neckline=NECK, facing_smaller_mm=1.5, **more)
    ends = [the_edge(project, f"{own}.first").curve for own in ("collar", "collar_facing")]
    assert chord_length(ends[0]) - chord_length(ends[1]) == pytest.approx(1.5, abs=1e-6)
    for own in ("collar_facing.seam", "collar_facing.neck_seam"):
        assert abs(measure_seam(project, project.seams[own]).difference_mm) < 1e-6
    assert not [one for one in check(project) if one.grave == "stops_cutting"]


def test_an_edge_strip_is_a_facing_along_the_outer_edge_and_follows_the_collar():
    project = placed("collar", block(), neckline=NECK, width_mm=60)
    project = placed("facing", project, along=["collar.outer"], width_mm=15)
    strip = walked(project, project.seams["facing.seam"].b).length_mm
    assert strip == pytest.approx(chord_length(the_edge(project, "collar.outer").curve), abs=1e-6)
    wider = DraftAgain(piece="collar", numbers={"width_mm": 50}).apply(project)
    assert "draft_out_of_date" in {one.code for one in check(wider)}


@pytest.mark.parametrize("kind", ["facing", "band"])
def test_at_a_v_neckline_a_strip_on_the_fold_is_mitred(kind):
    project = block(neckline="v", neck_lower_mm=80)
    made = placed(kind, project, along=NECK, width_mm=20)
    corner = the_edge(project, "front.centre").corner
    wanted = corner_angle(project.pieces["front"], corner)
    fold = made.pieces[kind].fold_edge
    piece = made.pieces[kind]
    at = [one.id for one in piece.edges].index(fold)
    neck_first = kind == "facing"
    corner = piece.edges[at if neck_first else (at + 1) % len(piece.edges)].corner
    own = corner_angle(piece, corner)
    assert own == pytest.approx(wanted if neck_first else math.pi - wanted, abs=1e-6)
    assert not [one for one in check(made) if one.grave == "stops_cutting"]
