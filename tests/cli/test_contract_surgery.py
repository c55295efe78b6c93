"""Cutting, slashing, darts and the like by command alone, against plain geometry."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from shapely.geometry import Point, Polygon
from shapely.ops import unary_union

from tests.cli.making import Maker, box, ring
from wedgework.files.wedge import read_wedge
from wedgework.geometry.flatten import flattened_ring

LENS = '<path id="a" d="M0,0 L200,0 C230,-60 230,-110 200,-170 L0,-170 C30,-110 -20,-60 0,0 Z"/>'
CUT = {"edit": "cut_piece", "piece": "a", "from": {"edge": "a.e1", "at_mm": 80},
       "to": {"edge": "a.e3", "at_mm": 90}}  # fmt: skip
SLASH = {"edit": "slash_spread", "piece": "a", "from": {"edge": "a.e1", "at_mm": 80},
         "to": {"edge": "a.e3", "at_mm": 120}}  # fmt: skip
DART = {"edit": "add_dart", "piece": "a", "at": {"edge": "a.e1", "at_mm": 100},
        "apex_mm": [100, 90], "intake_mm": 24}  # fmt: skip


@pytest.fixture
def maker(tmp_path, capsys):
    return Maker(tmp_path, capsys)


@pytest.fixture
def panel(maker):
    return maker.new(box("a", 0, 0, 200, 170))


def region(maker, name: str) -> Polygon:
    piece = read_wedge(maker.file.read_bytes()).pieces[name]
    return Polygon(flattened_ring([edge.curve for edge in piece.edges], 1e-3))


def corners(maker, name: str) -> list[tuple[float, float]]:
    return [tuple(row["at_mm"]) for row in maker.piece(name)["corners"]]


def far(first: Polygon, second: Polygon) -> float:
    return first.exterior.hausdorff_distance(second.exterior)


# Cutting and splitting


@pytest.mark.parametrize("via", [[], [[70, 60], [130, 110]]])
def test_a_cut_keeps_area_and_outline_and_joins_flat(maker, via):
    maker.new(LENS)
    before, whole = maker.piece("a"), region(maker, "a")
    ids = maker.edit({**CUT, "via_mm": via})
    pieces = maker.pieces()
    assert len(pieces) == 2
    assert set(pieces) <= set(ids["made"][0])
    assert "a" in ids["removed"][0]
    assert sum(p["area_mm2"] for p in pieces.values()) == pytest.approx(
        before["area_mm2"], abs=1e-6
    )
    seam = maker.seam()
    assert seam["difference_mm"] == pytest.approx(0, abs=1e-9)
    assert [seam[k] for k in ("shaping_deg", "dome_deg", "hollow_deg")] == pytest.approx(
        [0] * 3, abs=1e-6
    )
    total = sum(p["perimeter_mm"] for p in pieces.values()) - 2 * seam["length_a_mm"]
    assert total == pytest.approx(before["perimeter_mm"], abs=1e-6)
    both = unary_union([region(maker, name).buffer(1e-6) for name in pieces])
    assert far(both, whole) < 0.02
    assert "seam_twisted" not in maker.found()
    assert "flat_seam" in maker.found()
    middle = maker.edges()[seam["a"][0].lstrip("-")]
    if not via:
        assert middle["turning_deg"] == pytest.approx(0, abs=1e-9)
    for x, y in via:
        assert min(region(maker, name).exterior.distance(Point(x, y)) for name in pieces) < 0.01


def test_cutting_twice_the_same_way_gives_the_same_file(maker):
    files = []
    for _ in range(2):
        maker.new(LENS)
        maker.edit(CUT)
        files.append(maker.file.read_bytes())
    assert files[0] == files[1]


def test_the_part_to_each_side_keeps_the_edges_of_that_side(panel):
    panel.edit(CUT)
    edges = {name: {e["id"] for e in piece["edges"]} for name, piece in panel.pieces().items()}
    (left,) = [name for name, ids in edges.items() if "a.e4" in ids]
    (right,) = [name for name, ids in edges.items() if "a.e2" in ids]
    assert left != right


def test_a_split_edge_keeps_outline_and_seam(maker):
    maker.new(LENS, box("b", 300, 0, 80, 180))
    maker.join(["a.e2"], ["-b.e4"])
    before, seam = maker.piece("a"), maker.seam()
    (made,) = maker.made({"edit": "split_edge", "edge": "a.e2", "at_mm": 61.5})
    after = maker.piece("a")
    assert after["area_mm2"] == pytest.approx(before["area_mm2"], abs=1e-9)
    assert after["perimeter_mm"] == pytest.approx(before["perimeter_mm"], abs=1e-9)
    first, second = maker.seam()["a"]
    assert {first, second} <= set(made)
    assert maker.length(first) == pytest.approx(61.5, abs=1e-9)
    now = maker.seam()
    assert now["length_a_mm"] == pytest.approx(seam["length_a_mm"], abs=1e-9)
    assert now["shaping_deg"] == pytest.approx(seam["shaping_deg"], abs=1e-6)
    angles = {c["id"]: c["angle_deg"] for c in after["corners"]}
    assert angles[maker.edges()[first]["end_corner"]] == pytest.approx(180, abs=1e-6)
    maker.edit({"edit": "merge_edges", "first": first, "second": second})
    assert maker.seam()["a"] == [first]
    assert maker.length(first) == pytest.approx(seam["length_a_mm"], abs=1e-9)


@pytest.mark.parametrize("at", [0, -1, 200, 201])
def test_a_split_outside_the_edge_is_refused(panel, at):
    panel.refused({"edit": "split_edge", "edge": "a.e1", "at_mm": at})


def test_edges_of_different_seams_do_not_merge(maker):
    maker.new(box("a", 0, 0, 100, 170), box("b", 300, 0, 80, 170), box("c", 500, 0, 100, 50))
    maker.join(["a.e2"], ["-b.e4"])
    maker.join(["a.e3"], ["-c.e1"])
    maker.refused({"edit": "merge_edges", "first": "a.e2", "second": "a.e3"})
    maker.refused({"edit": "merge_edges", "first": "a.e1", "second": "a.e3"})


# Slashing: from (80, 0) to (80, 170); the left of the way up stays


def test_a_hinge_turns_the_right_side_about_its_far_end(panel):
    panel.edit({**SLASH, "open_mm": 30})
    edges = panel.edges()
    assert edges["a.e4"]["start_mm"] == pytest.approx([0, 170])
    turn = 2 * math.asin(15 / 170)
    assert edges["a.e2"]["length_mm"] == pytest.approx(170, abs=1e-6)
    run = np.subtract(edges["a.e2"]["end_mm"], edges["a.e2"]["start_mm"])
    assert math.atan2(run[1], run[0]) == pytest.approx(math.pi / 2 + turn, abs=1e-9)
    arm = np.array([120, -170])
    c, s = math.cos(turn), math.sin(turn)
    wanted = np.array([[c, -s], [s, c]]) @ arm + [80, 170]
    assert edges["a.e2"]["start_mm"] == pytest.approx(wanted, abs=1e-6)
    opened = 0.5 * 170 * 170 * math.sin(turn)
    assert panel.piece("a")["area_mm2"] == pytest.approx(200 * 170 + opened, abs=1e-6)


def test_equal_gaps_move_square_to_the_slash(panel):
    panel.edit({**SLASH, "open_mm": 30, "open_to_mm": 30})
    assert panel.piece("a")["bounds_mm"] == pytest.approx([0, 0, 230, 170], abs=1e-6)
    assert panel.piece("a")["area_mm2"] == pytest.approx(230 * 170, abs=1e-6)
    assert Polygon(corners(panel, "a")).area == pytest.approx(230 * 170, abs=1e-6)


def test_two_gaps_turn_about_where_the_gap_would_be_nothing(panel):
    panel.edit({**SLASH, "open_mm": 30, "open_to_mm": 10})
    moved = panel.edges()["a.e2"]
    run = np.subtract(moved["end_mm"], moved["start_mm"])
    turn = math.atan2(run[1], run[0]) - math.pi / 2
    pivot = 170 * 30 / 20
    assert 2 * pivot * math.sin(turn / 2) == pytest.approx(30, abs=1e-6)
    arm = np.array([120, -pivot])
    c, s = math.cos(turn), math.sin(turn)
    wanted = np.array([[c, -s], [s, c]]) @ arm + [80, pivot]
    assert moved["start_mm"] == pytest.approx(wanted, abs=1e-6)


def test_a_gap_at_the_far_end_alone_hinges_at_the_near_one(panel):
    panel.edit({**SLASH, "open_mm": 0, "open_to_mm": 20})
    assert panel.length("a.e2") == pytest.approx(170, abs=1e-6)
    opened = 0.5 * 170 * 170 * math.sin(2 * math.asin(10 / 170))
    assert panel.piece("a")["area_mm2"] == pytest.approx(200 * 170 + opened, abs=1e-6)


@pytest.mark.parametrize(("near", "far_gap"), [(-30, 0), (-30, -30), (-30, -10)])
def test_closing_takes_out_what_lies_beside_the_slash(panel, near, far_gap):
    panel.edit({**SLASH, "open_mm": near, "open_to_mm": far_gap})
    moved = panel.edges()["a.e2"]
    assert moved["length_mm"] == pytest.approx(170, abs=1e-6)
    area = panel.piece("a")["area_mm2"]
    if far_gap == near:
        assert area == pytest.approx(170 * 170, abs=1e-6)
        assert panel.piece("a")["bounds_mm"] == pytest.approx([0, 0, 170, 170], abs=1e-6)
    if far_gap == 0:
        half = math.asin(15 / 170)
        cut = Polygon([(80, 0), (80, 170), (80 + 170 * math.tan(2 * half), 0)]).area
        assert area == pytest.approx(200 * 170 - cut, abs=1e-6)
    assert region(panel, "a").is_valid


def test_gaps_of_opposite_sign_are_refused(panel):
    panel.refused({**SLASH, "open_mm": 30, "open_to_mm": -10})
    panel.refused({**SLASH, "open_mm": -3, "open_to_mm": 10})


def test_fills_join_the_run_of_the_edge_that_they_opened(maker):
    maker.new(box("a", 0, 0, 200, 170), box("b", 0, 300, 200, 100), box("c", 0, -300, 230, 100))
    maker.join(["a.e3"], ["-b.e1"])
    maker.join(["a.e1"], ["-c.e3"])
    top, bottom = list(maker.seams())
    maker.edit({**SLASH, "open_mm": 30})
    seams = maker.seams()
    assert seams[bottom]["length_a_mm"] == pytest.approx(230, abs=1e-6)
    assert seams[bottom]["difference_mm"] == pytest.approx(0, abs=1e-6)
    assert len(seams[bottom]["a"]) == 3
    assert seams[top]["length_a_mm"] == pytest.approx(200, abs=1e-6)
    assert len(seams[top]["a"]) == 2
    assert "seam_twisted" not in maker.found()


@pytest.mark.parametrize("cutting", ["pair", "fold"])
def test_pairs_and_folds_are_slashed_as_drawn(panel, cutting):
    about = {"about": "a.e4"} if cutting == "fold" else {}
    panel.edit({"edit": "set_cutting", "piece": "a", "cutting": cutting, **about})
    panel.edit({**SLASH, "open_mm": 30, "open_to_mm": 30})
    assert panel.piece("a")["cutting"] == cutting
    assert panel.piece("a")["area_mm2"] == pytest.approx(230 * 170, abs=1e-6)
    if cutting == "fold":
        assert panel.edges()["a.e4"]["finish"] == "fold"


@pytest.mark.parametrize("mm", [20, -20])
def test_a_piece_on_the_fold_is_made_longer_or_shorter_across_its_fold(panel, mm):
    panel.edit(
        {"edit": "set_cutting", "piece": "a", "cutting": "fold", "about": "a.e4"},
        {"edit": "add_notches", "edge": "a.e4", "at_mm": [30, 140]},
        {"edit": "slash_spread", "piece": "a", "from": {"edge": "a.e2", "at_mm": 90},
         "to": {"edge": "a.e4", "at_mm": 80}, "open_mm": mm, "open_to_mm": mm},
    )  # fmt: skip
    piece = panel.piece("a")
    assert piece["cutting"] == "fold"
    (fold,) = [edge for edge in piece["edges"] if edge["finish"] == "fold"]
    assert (fold["id"], fold["length_mm"]) == ("a.e4", pytest.approx(170 + mm, abs=1e-9))
    assert piece["area_mm2"] == pytest.approx(200 * (170 + mm), abs=1e-6)
    assert [notch["at_mm"] for notch in piece["notches"]] == pytest.approx([30, 140 + mm])


def test_a_slash_that_bends_the_fold_is_refused(panel):
    panel.edit({"edit": "set_cutting", "piece": "a", "cutting": "fold", "about": "a.e4"})
    across = {**SLASH, "from": {"edge": "a.e2", "at_mm": 90}, "to": {"edge": "a.e4", "at_mm": 80}}
    panel.refused({**across, "open_mm": 20})
    panel.refused({**across, "open_mm": 20, "open_to_mm": 10})


# Darts


def test_a_dart_takes_its_wedge_out(panel):
    made = panel.made(DART)
    (dart,) = panel.info()["darts"]
    assert dart["id"] in made[0]
    assert dart["apex_mm"] == pytest.approx([100, 90])
    assert dart["intake_mm"] == pytest.approx(24, abs=1e-9)
    assert dart["leg_a_mm"] == pytest.approx(math.hypot(12, 90), abs=1e-9)
    assert dart["angle_deg"] == pytest.approx(2 * math.degrees(math.atan(12 / 90)), abs=1e-9)
    assert panel.piece("a")["area_mm2"] == pytest.approx(200 * 170 - 12 * 90, abs=1e-6)
    panel.edit({"edit": "remove_dart", "dart": dart["id"]})
    assert panel.info()["darts"] == []
    assert panel.piece("a")["area_mm2"] == pytest.approx(200 * 170, abs=1e-6)


def test_a_dart_on_a_curve_lies_equally_far_along_it(maker):
    maker.new(LENS)
    length = maker.length("a.e2")
    maker.edit({**DART, "at": {"edge": "a.e2", "at_mm": 80}, "apex_mm": [90, 85]})
    (dart,) = maker.info()["darts"]
    assert dart["intake_mm"] == pytest.approx(24, abs=1e-6)
    edges = [
        e for e in maker.piece("a")["edges"] if abs(e["turning_deg"]) > 1 and e["start_mm"][0] > 150
    ]
    low, high = sorted(edges, key=lambda e: e["start_mm"][1])
    assert low["length_mm"] + (length - high["length_mm"]) == pytest.approx(160, abs=1e-6)


@pytest.mark.parametrize("apex", [[100, -10], [300, 90], [100, 0]])
def test_an_apex_outside_the_piece_is_refused(panel, apex):
    panel.refused({**DART, "apex_mm": apex})


@pytest.mark.parametrize("share", [1.0, 0.4])
def test_a_pivot_keeps_area_and_angle(panel, share):
    panel.edit(DART)
    (dart,) = panel.info()["darts"]
    area = panel.piece("a")["area_mm2"]
    to = {"edge": "a.e2", "at_mm": 100}
    panel.edit({"edit": "pivot_dart", "dart": dart["id"], "to": to, "share": share})
    darts = panel.info()["darts"]
    assert len(darts) == (1 if share == 1.0 else 2)
    assert sum(d["angle_deg"] for d in darts) == pytest.approx(dart["angle_deg"], abs=1e-6)
    assert panel.piece("a")["area_mm2"] == pytest.approx(area, abs=1e-6)
    assert dart["id"] in [d["id"] for d in darts]


def test_a_dart_is_divided_about_one_apex(panel):
    panel.edit(DART)
    (dart,) = panel.info()["darts"]
    area = panel.piece("a")["area_mm2"]
    panel.edit({"edit": "divide_dart", "dart": dart["id"], "into": 3})
    darts = panel.info()["darts"]
    assert [d["angle_deg"] for d in darts] == pytest.approx([dart["angle_deg"] / 3] * 3, abs=1e-6)
    for first, second in itertools.combinations(darts, 2):
        assert first["apex_mm"] == pytest.approx(second["apex_mm"], abs=1e-9)
    assert panel.piece("a")["area_mm2"] == pytest.approx(area, abs=1e-6)
    assert "darts_meet" in panel.found()


# Mirror, fold, insets


def test_a_half_is_unfolded_and_keeps_its_id(panel):
    panel.edit({"edit": "mirror_piece", "piece": "a", "about": "a.e4"})
    piece = panel.piece("a")
    assert piece["bounds_mm"] == pytest.approx([-200, 0, 200, 170], abs=1e-9)
    assert piece["area_mm2"] == pytest.approx(2 * 200 * 170)
    assert "a.e2" in [e["id"] for e in piece["edges"]]


@pytest.mark.parametrize("cutting", ["single", "fold"])
def test_an_unfolded_half_has_one_level_and_as_many_notches(maker, cutting):
    maker.new(box("a", 0, 0, 200, 170), box("b", 300, 0, 80, 170))
    seam = maker.join(["a.e2"], ["-b.e4"])
    about = {"about": "a.e4"} if cutting == "fold" else {}
    points = [{"piece": "a", "y_mm": 80}]
    maker.edit(
        {"edit": "set_cutting", "piece": "a", "cutting": cutting, **about},
        {"edit": "add_level", "name": "bust", "points": points},
        {"edit": "add_notches", "seam": seam, "at_mm": [60]},
        {"edit": "mirror_piece", "piece": "a", "about": "a.e4"},
    )
    assert maker.info()["levels"][0]["flat_girth_mm"] == pytest.approx(400, abs=1e-9)
    assert len(maker.piece("a")["notches"]) == 2
    assert [notch["at_mm"] for notch in maker.piece("b")["notches"]] == [110]


def test_a_fold_needs_to_know_its_edge(maker):
    maker.new(LENS, ring("b", (300, 0), (400, 0), (400, 100)))
    maker.refused({"edit": "set_cutting", "piece": "b", "cutting": "fold"})
    maker.refused({"edit": "set_cutting", "piece": "a", "cutting": "fold", "about": "a.e2"})
    half = '<path id="h" d="M0,0 C50,-10 80,-40 80,-100 C40,-110 20,-105 0,-120 L0,0 Z"/>'
    maker.new(half)
    maker.edit({"edit": "set_cutting", "piece": "h", "cutting": "fold"})
    (fold,) = [e for e in maker.piece("h")["edges"] if e["finish"] == "fold"]
    assert fold["length_mm"] == pytest.approx(120)
    maker.edit({"edit": "set_cutting", "piece": "h", "cutting": "single"})
    maker.edit({"edit": "set_cutting", "piece": "h", "cutting": "fold"})


def test_insets_take_a_drawn_allowance_off(panel):
    panel.edit({"edit": "inset_edges", "edges": ["a.e2", "a.e3"], "mm": 10})
    piece = panel.piece("a")
    assert piece["bounds_mm"] == pytest.approx([0, 0, 190, 160], abs=1e-9)
    assert list(panel.edges()) == ["a.e1", "a.e2", "a.e3", "a.e4"]


def test_a_moved_corner_leaves_straight_edges_straight(maker):
    maker.new(LENS)
    handles = read_wedge(maker.file.read_bytes()).pieces["a"].edges[1].curve.segments
    maker.edit({"edit": "move_corner", "corner": "a.c2", "by_mm": [7, -5]})
    assert maker.at("a.c2") == pytest.approx((207, -5), abs=1e-9)
    assert maker.length("a.e1") == pytest.approx(math.hypot(207, 5), abs=1e-9)
    now = read_wedge(maker.file.read_bytes()).pieces["a"].edges[1].curve.segments
    assert now[0, :2] - handles[0, :2] == pytest.approx(np.array([[7, -5], [7, -5]]), abs=1e-9)
    assert now[-1, 2:] == pytest.approx(handles[-1, 2:], abs=1e-9)
