"""Drafted parts fit what they are made for, and say what cannot be."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from tests.drafting.making import block, draft, placed
from wedgework.checks import check
from wedgework.edits.pieces import AddPiece, EdgeData
from wedgework.edits.seams import JoinEdges
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Project
from wedgework.pattern.errors import DraftRefused
from wedgework.pattern.seams import measure_seam

NECK = ["-front.neck", "-back.neck"]
ARM = ["front.armhole", "back.armhole"]


def edge_of(project, own):
    piece = project.pieces[project.owners[own]]
    return next(edge for edge in piece.edges if edge.id == own)


@pytest.mark.parametrize("more", [{}, {"stand_mm": 12.0}, {"overlap_mm": 25.4}])
def test_a_collar_is_as_long_as_its_neckline(more):
    project = placed("collar", block(), neckline=NECK, width_mm=75, **more)
    assert abs(measure_seam(project, project.seams["collar.seam"]).difference_mm) < 1e-6


@pytest.mark.parametrize("stand", [0.0, 5.0, 20.0, 37.5])
def test_the_outer_edge_is_the_neckline_and_the_width_times_what_it_turns(stand):
    numbers = draft("collar", block(), neckline=NECK, width_mm=75, stand_mm=stand).numbers
    turn = math.radians(numbers["neckline_turning_deg"] - numbers["turn_deg"])
    assert numbers["outer_edge_mm"] == pytest.approx(numbers["neck_edge_mm"] + 75 * turn, abs=1e-3)


def test_a_collar_finds_the_order_of_its_neckline_on_the_garment():
    numbers = {"width_mm": 75, "overlap_mm": 10}
    one = draft("collar", block(), neckline=NECK, **numbers)
    other = draft("collar", block(), neckline=["front.neck", "back.neck"], **numbers)
    assert one.numbers == other.numbers


def test_a_collar_lies_on_the_fold_where_its_neckline_does():
    collar = placed("collar", block(), neckline=NECK, width_mm=75).pieces["collar"]
    assert collar.cutting == "fold"


def test_the_notch_of_a_collar_meets_the_shoulder():
    project = placed("collar", block(), neckline=NECK, width_mm=75)
    assert not [finding for finding in check(project) if finding.code == "seam_notches"]


def test_a_band_goes_on_flat_from_the_edge():
    project = placed("band", block(), along=NECK, width_mm=20)
    assert abs(measure_seam(project, project.seams["band.seam"]).shaping_rad) < 1e-9


@pytest.mark.parametrize("count", [1, 7, 24, 53])
@pytest.mark.parametrize("style", ["knife", "box", "inverted"])
def test_pleats_are_equal_and_give_the_waist_that_was_asked_for(count, style):
    made = draft("pleated_skirt", waist_mm=720, length_mm=300, pleats=count, style=style,
        thickness_mm=0.4, sheet_width_mm=3000)  # fmt: skip
    assert made.numbers["finished_waist_mm"] == pytest.approx(720, abs=1e-9)
    waists = [length_mm(e.curve) for p in made.pieces for e in p.edges if e.id.endswith("waist")]
    assert sum(waists) == pytest.approx(made.numbers["material_mm"], abs=1e-6)


def test_strips_of_a_pleated_skirt_join_in_hidden_folds():
    made = draft("pleated_skirt", waist_mm=720, length_mm=300, pleats=24, lap_mm=8)
    for piece in made.pieces:
        folds = sorted(line.curve.start[0] for line in piece.lines)
        left, right = (piece.edges[3].curve.start[0], piece.edges[1].curve.start[0])
        assert folds[0] - left == pytest.approx(30.0)
        assert right - folds[-1] == pytest.approx(30.0)


def test_strips_with_a_dip_join_without_a_step():
    project = placed("pleated_skirt", waist_mm=720, length_mm=300, pleats=24, waist_drop_mm=25,
        hem_dip_mm=40)  # fmt: skip
    assert {finding.code for finding in check(project)} <= {"flat_seam"}


@pytest.mark.parametrize(
    ("kind", "numbers", "why"),
    [
        ("pleated_skirt", {"waist_mm": 0, "length_mm": 300, "pleats": 24}, "above 0"),
        ("pleated_skirt", {"waist_mm": 720, "length_mm": 300, "pleats": 700}, "more than fit"),
        ("pleated_skirt", {"waist_mm": 720, "length_mm": 300}, "either"),
        ("pleated_skirt", {"waist_mm": 720, "length_mm": 300, "pleats": 24, "underlay_mm": 90},
         "next pleat"),
        ("pleated_skirt", {"waist_mm": 720, "length_mm": 300, "pleats": 2}, "does not fit"),
        ("pleated_skirt", {"waist_mm": 720, "length_mm": 20, "pleats": 24, "waist_drop_mm": 30},
         "below the hem"),
        ("flared_skirt", {"waist_mm": 720, "length_mm": 300, "hem_mm": 700}, "wider"),
        ("flared_skirt", {"waist_mm": 720, "length_mm": 300}, "either"),
        ("tube", {"diameter_mm": 0.3, "length_mm": 300}, "thick"),
        ("tube", {"diameter_mm": 12, "length_mm": 100, "taper_to_mm": 3}, "do not fit"),
        ("tube", {"diameter_mm": 12}, "either"),
        ("bow", {"width_mm": 160, "depth_mm": 20, "knot_mm": 25}, "gathered"),
        ("collar", {"neckline": NECK, "width_mm": 160}, "wider than the shoulder"),
        ("collar", {"neckline": NECK, "width_mm": 75, "stand_mm": 5, "overlap_mm": 5}, "either"),
        ("collar", {"neckline": NECK, "width_mm": 75, "stand_mm": 60}, "at most"),
        ("collar", {"neckline": ["nothing"], "width_mm": 75}, "nothing"),
        ("facing", {"along": NECK, "width_mm": 20, "smaller_mm": 20}, "stay back"),
        ("ruff", {}, "Nothing called"),
    ],
)  # fmt: skip
def test_numbers_that_cannot_be_are_refused_in_words(kind, numbers, why):
    with pytest.raises(DraftRefused, match=why):
        draft(kind, block(), **numbers)


def test_a_tapered_tube_runs_straight_to_its_ends():
    # 12 to 3 over 60: each side slopes 13.3 degrees (plane geometry).
    made = draft("tube", diameter_mm=12, length_mm=400, taper_to_mm=3, lap_mm=0)
    first = made.pieces[0].edges[0].curve
    rise = math.degrees(math.atan2(*(first.end - first.start)[::-1]))
    assert abs(rise) == pytest.approx(13.26, abs=0.01)


def test_the_facing_of_an_armhole_lies_on_the_garment():
    project = placed("facing", block(), along=ARM, width_mm=20)
    seam = project.seams["facing.seam"]
    assert seam.laid_on
    assert abs(measure_seam(project, seam).difference_mm) < 1e-9


@pytest.mark.parametrize("shape", ["pointed", "rounded", "square"])
@pytest.mark.parametrize("more", [{"wider_at_fold_mm": 40}, {"wider_at_end_mm": 25},
    {"wider_at_fold_mm": 30, "wider_at_end_mm": 20}])  # fmt: skip
def test_a_collar_may_be_wider_at_its_ends(shape, more):
    project = placed("collar", block(), neckline=NECK, width_mm=60, shape=shape, **more)
    collar = project.pieces["collar"]
    assert not crosses_itself([edge.curve for edge in collar.edges])
    ends = {edge.name: length_mm(edge.curve) for edge in collar.edges}
    fold = collar.fold_edge.split(".")[1]
    other = "last" if fold == "first" else "first"
    assert ends[fold] == pytest.approx(60 + more.get("wider_at_fold_mm", 0), abs=1e-6)
    assert ends[other] == pytest.approx(60 + more.get("wider_at_end_mm", 0), abs=1e-6)


def test_folds_of_a_wider_hem_keep_the_underlay_and_widen_what_is_seen():
    made = draft("pleated_skirt", waist_mm=720, length_mm=300, pleats=24, hem_mm=1500)
    first, second = made.pieces[0].lines[:2]
    assert math.dist(first.curve.end, second.curve.end) == pytest.approx(30.0, abs=0.01)
    assert math.dist(first.curve.start, second.curve.start) == pytest.approx(62.5, abs=0.05)


@pytest.mark.parametrize("turned_back", [True, False])
def test_a_cuff_is_as_long_as_the_hem_that_it_is_set_on(turned_back):
    sleeved = block(sleeves="long")
    project = placed("cuff", sleeved, along=["sleeve.hem"], width_mm=50, turned_back=turned_back)
    assert abs(measure_seam(project, project.seams["cuff.seam"]).difference_mm) < 1e-9
    assert project.pieces["cuff"].cutting == "pair"
    assert not [one for one in check(project) if one.grave == "stops_cutting"]


def test_a_gusset_has_four_sides_as_long_as_its_slit():
    made = draft("gusset", length_mm=90, width_mm=60)
    assert [length_mm(edge.curve) for edge in made.pieces[0].edges] == pytest.approx([90] * 4)


def test_a_gusset_wider_than_its_sides_reach_is_refused():
    with pytest.raises(DraftRefused, match="do not reach"):
        draft("gusset", length_mm=90, width_mm=200)


@pytest.mark.parametrize("kink_deg", [-12.0, 0.0, 12.0])
def test_a_collar_gets_shorter_outside_by_width_times_turn_whatever_kinks_its_neckline_has(
    kink_deg,
):
    lean = math.tan(math.radians(kink_deg))
    front = AddPiece(name="front", edges=(
        ring((80, 160), (80, 120), (50, 90), (20, 90)), *straight((20, 90), (20, -120), (205, -120),
        (205, 160), (80, 160)),
    ))  # fmt: skip
    back = AddPiece(name="back", edges=(
        ring((580, 120), (550, 120), (520 + 30 * lean, 130), (520, 160)), *straight((520, 160),
        (395, 160), (395, -120), (580, -120), (580, 120)),
    ))  # fmt: skip
    project = back.apply(front.apply(Project()))
    project = JoinEdges(name="shoulder", a=("front.e5",), b=("-back.e2",)).apply(project)
    refs = {"neckline": ["front.e1", "back.e1"], "width_mm": 75}
    flat, rolled = (
        draft("collar", project, **refs, **more).numbers for more in ({}, {"overlap_mm": 12.7})
    )
    # 2 asin(12.7 / 250) at one shoulder of 125 mm, times the width (plane geometry).
    assert rolled["turn_deg"] == pytest.approx(5.823758, abs=1e-5)
    shorter = flat["outer_edge_mm"] - rolled["outer_edge_mm"]
    assert shorter == pytest.approx(15.246562 / 2, abs=1e-3)


def ring(*points):
    return EdgeData(cubics_mm=(tuple((float(x), float(y)) for x, y in points),))


def straight(*corners):
    for (x0, y0), (x1, y1) in pairwise(corners):
        thirds = [(x0 + (x1 - x0) * k / 3, y0 + (y1 - y0) * k / 3) for k in range(4)]
        yield ring(*thirds[:3], (x1, y1))
