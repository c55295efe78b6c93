"""Seams by command alone, against numbers that plain geometry and other libraries give."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.interpolate import CubicSpline

from tests.cli.making import Maker, box, ring
from wedgework.files.wedge import read_wedge
from wedgework.geometry.flatten import flattened
from wedgework.pattern.document import Project


@pytest.fixture
def maker(tmp_path, capsys):
    return Maker(tmp_path, capsys)


@pytest.fixture
def panels(maker):
    """Two panels, 100 and 80 wide, 170 high, joined flat along A's right and B's left."""
    maker.new(box("a", 0, 0, 100, 170), box("b", 120, 0, 80, 170))
    maker.join(["a.e2"], ["-b.e4"])
    return maker


def project(maker) -> Project:
    return read_wedge(maker.file.read_bytes())


def points(maker, edge: str) -> np.ndarray:
    found = next(e for p in project(maker).pieces.values() for e in p.edges if e.id == edge)
    return flattened(found.curve, 1e-4)


def shape(maker, *intake: tuple[float, float], **more) -> None:
    (seam,) = maker.seams()
    rows = [{"at_mm": at, "width_mm": width} for at, width in intake]
    maker.edit({"edit": "shape_seam", "seam": seam, "intake": rows, **more})


# Stations


def test_a_seam_cut_from_one_line_has_no_shaping(panels):
    seam = panels.seam()
    numbers = [seam[key] for key in ("difference_mm", "shaping_deg", "dome_deg", "hollow_deg")]
    assert numbers == pytest.approx([0, 0, 0, 0], abs=1e-9)
    assert (seam["join"], seam["lap_mm"], seam["over"], seam["state"]) == (
        "lapped",
        8,
        "a",
        "agrees",
    )


@pytest.mark.parametrize(
    ("corner", "run_a", "run_b"),
    [(10, ["a.e2", "a.e3"], ["-b.e5", "-b.e4"]), (15, ["a.e2"], ["-b.e4"])],
)
def test_straight_sides_shape_at_the_bend_as_published(maker, corner, run_a, run_b):
    a = ring("a", (0, 0), (100, 0), (80, 70), (78, 170), (0, 170))
    b = ring("b", (120, 0), (200, 0), (200, 170), (142, 170), (140, 70))
    maker.new(a, b, more=["--corner", corner])
    maker.join(run_a, run_b)
    seam = maker.seam()
    assert seam["shaping_deg"] == pytest.approx(-29.599266, abs=1e-5)
    assert (seam["dome_deg"], seam["hollow_deg"]) == pytest.approx((0, 29.599266), abs=1e-5)
    assert seam["length_a_mm"] == pytest.approx(math.hypot(20, 70) + math.hypot(2, 100), abs=1e-9)


def test_two_stations_from_end_to_end_are_a_straight_slice(panels):
    shape(panels, (0, 0), (170, 40), then_true=False)
    assert panels.at("a.c3") == pytest.approx((80, 170), abs=1e-6)
    assert panels.at("b.c4") == pytest.approx((140, 170), abs=1e-6)
    assert panels.seam()["length_a_mm"] == pytest.approx(math.hypot(20, 170), abs=1e-6)
    assert panels.edges()["a.e2"]["turning_deg"] == pytest.approx(0, abs=1e-6)
    assert panels.seam()["shaping_deg"] == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("share", [0.0, 0.3, 0.5, 1.0])
def test_stations_are_joined_by_the_natural_spline(panels, share):
    shape(panels, (0, 0), (70, 40), (170, 44), share_a=share, then_true=False)
    spline = CubicSpline([0, 70, 170], [0, 40, 44], bc_type="natural")
    for edge, part, line in (("a.e2", -share, 100), ("b.e4", 1 - share, 120)):
        x, y = points(panels, edge).T
        assert x == pytest.approx(line + part * spline(y), abs=0.02)
        assert quad(lambda t, f=part: math.hypot(1, f * spline(t, 1)), 0, 170)[0] == pytest.approx(
            panels.length(edge), abs=0.02
        )


def test_the_shaping_of_a_slice_is_that_of_its_slopes(panels):
    shape(panels, (0, 0), (70, 40), (170, 44), then_true=False)
    spline = CubicSpline([0, 70, 170], [0, 40, 44], bc_type="natural")
    start, end = (2 * math.degrees(math.atan(spline(at, 1) / 2)) for at in (0, 170))
    assert panels.seam()["shaping_deg"] == pytest.approx(end - start, abs=0.05)


def test_a_slice_inside_the_seam_leaves_its_ends(panels):
    shape(panels, (20, 0), (85, 30), (150, 0), then_true=False)
    assert panels.at("a.c2") == pytest.approx((100, 0), abs=1e-9)
    assert panels.at("a.c3") == pytest.approx((100, 170), abs=1e-9)
    x, y = points(panels, "a.e2").T
    outside = (y < 19.9) | (y > 150.1)
    assert x[outside] == pytest.approx(100, abs=1e-6)
    spline = CubicSpline([20, 85, 150], [0, 30, 0], bc_type="natural")
    assert x[~outside & (y > 20) & (y < 150)] == pytest.approx(
        100 - spline(y[~outside & (y > 20) & (y < 150)]) / 2, abs=0.02
    )


def test_an_outer_station_inside_the_seam_has_no_width(panels):
    (seam,) = panels.seams()
    rows = [{"at_mm": 20, "width_mm": 4}, {"at_mm": 150, "width_mm": 0}]
    panels.refused({"edit": "shape_seam", "seam": seam, "intake": rows})


def test_a_width_below_nothing_puts_in(panels):
    before = panels.piece("a")["area_mm2"] + panels.piece("b")["area_mm2"]
    shape(panels, (0, 0), (85, -20), (170, 0), then_true=False)
    spline = CubicSpline([0, 85, 170], [0, -20, 0], bc_type="natural")
    after = panels.piece("a")["area_mm2"] + panels.piece("b")["area_mm2"]
    assert after - before == pytest.approx(-spline.integrate(0, 170), abs=0.5)
    assert panels.seam()["dome_deg"] == pytest.approx(
        4 * math.degrees(math.atan(-spline(0, 1) / 2)), abs=0.05
    )


def test_both_sides_are_trued_unless_told_otherwise(panels):
    shape(panels, (0, 0), (85, 20), (170, 30), share_a=0.2)
    assert panels.seam()["difference_mm"] == pytest.approx(0, abs=1e-6)
    assert list(panels.edges()) == [f"{p}.e{n}" for p in "ab" for n in (1, 2, 3, 4)]


def test_at_an_end_the_corner_slides_along_the_leaning_neighbour(maker):
    a = ring("a", (0, 0), (100, 0), (100, 170), (0, 130))
    maker.new(a, ring("b", (120, 0), (200, 0), (200, 130), (120, 170)))
    maker.join(["a.e2"], ["-b.e4"])
    shape(maker, (0, 0), (170, 40), then_true=False)
    x, y = maker.at("a.c3")
    assert y == pytest.approx(130 + 0.4 * x, abs=1e-6)
    assert x == pytest.approx(100 - 20 * y / 170, abs=1e-6)
    assert maker.edges()["a.e3"]["turning_deg"] == pytest.approx(0, abs=1e-6)


def test_a_piece_is_shaped_against_its_own_mirror_image(maker):
    maker.new(box("f", 0, 0, 100, 170))
    maker.edit({"edit": "set_cutting", "piece": "f", "cutting": "pair"})
    maker.join(["f.e2"], ["~f.e2"])
    shape(maker, (0, 0), (85, 20), (170, 0))
    spline = CubicSpline([0, 85, 170], [0, 10, 0], bc_type="natural")
    x, y = points(maker, "f.e2").T
    assert x == pytest.approx(100 - spline(y), abs=0.02)
    assert maker.seam()["difference_mm"] == pytest.approx(0, abs=1e-9)
    assert maker.seam()["shaping_deg"] == pytest.approx(
        4 * math.degrees(math.atan(spline(170, 1))), abs=0.05
    )


def test_a_run_over_several_edges_is_shaped_as_one(panels):
    panels.edit({"edit": "split_edge", "edge": "a.e2", "at_mm": 60})
    run = panels.seam()["a"]
    assert len(run) == 2
    shape(panels, (0, 0), (85, 20), (170, 0), then_true=False)
    spline = CubicSpline([0, 85, 170], [0, 10, 0], bc_type="natural")
    for edge in run:
        x, y = points(panels, edge).T
        assert x == pytest.approx(100 - spline(y), abs=0.02)
    assert panels.seam()["a"] == run
    joint = panels.edges()[run[0]]["end_mm"]
    assert joint[1] == pytest.approx(60, abs=1e-6)


def test_a_rounded_tip_has_no_break(panels):
    shape(panels, (20, 0), (85, 30), (150, 0), then_true=False, round_mm=10)
    xy = points(panels, "a.e2")
    steps = np.diff(xy, axis=0)
    steps = steps[np.hypot(*steps.T) > 1e-3]
    turns = np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0])))
    assert np.abs(turns).max() < math.radians(5)
    x, y = xy.T
    assert x[(y < 9.9) | (y > 160.1)] == pytest.approx(100, abs=1e-6)


# Truing


def test_truing_ends_with_no_difference_on_the_side_that_was_asked(maker):
    for change in ("a", "b", "both"):
        maker.new(box("a", 0, 0, 100, 170), box("b", 120, 0, 80, 166))
        seam = maker.join(["a.e2"], ["-b.e4"])
        assert maker.seam()["difference_mm"] == pytest.approx(4, abs=1e-9)
        assert maker.seam()["state"] == "a_longer"
        maker.edit({"edit": "true_seam", "seam": seam, "change": change})
        now = maker.seam()
        assert now["difference_mm"] == pytest.approx(0, abs=1e-6)
        wanted = {"a": 166, "b": 170, "both": 168}[change]
        assert now["length_a_mm"] == pytest.approx(wanted, abs=1e-6)


def test_truing_leaves_the_difference_that_is_wanted(maker):
    maker.new(box("a", 0, 0, 100, 170), box("b", 120, 0, 80, 166))
    seam = maker.join(["a.e2"], ["-b.e4"], wanted_mm=1.5)
    assert maker.seam()["difference_mm"] == pytest.approx(2.5, abs=1e-9)
    maker.edit(
        {"edit": "set_seam", "seam": seam, "wanted_mm": -2, "allowed_mm": 1, "join": "butted"}
    )
    now = maker.seam()
    assert (now["difference_mm"], now["join"]) == (pytest.approx(6, abs=1e-9), "butted")
    maker.edit({"edit": "true_seam", "seam": seam, "change": "b"})
    now = maker.seam()
    assert now["difference_mm"] == pytest.approx(0, abs=1e-6)
    assert now["length_b_mm"] == pytest.approx(172, abs=1e-6)


def test_truing_a_curved_edge_keeps_it_curved(maker):
    a = '<path id="a" d="M0,0 L100,0 C130,-60 130,-110 100,-170 L0,-170 Z"/>'
    b = '<path id="b" d="M200,0 L280,0 L280,-170 L200,-170 C180,-120 180,-50 200,0 Z"/>'
    maker.new(a, b)
    seam = maker.join(["a.e2"], ["-b.e4"])
    before = maker.seam()
    maker.edit({"edit": "true_seam", "seam": seam, "change": "a"})
    now = maker.seam()
    assert now["difference_mm"] == pytest.approx(0, abs=1e-6)
    assert now["length_b_mm"] == pytest.approx(before["length_b_mm"], abs=1e-9)
    assert maker.edges()["a.e2"]["turning_deg"] > 40


def test_a_run_over_two_pieces_is_trued_to_one_edge(maker):
    maker.new(box("a", 0, 0, 100, 60), box("b", 0, 100, 100, 50), box("c", 200, 0, 80, 113))
    seam = maker.join(["a.e2", "b.e2"], ["-c.e4"])
    assert maker.seam()["difference_mm"] == pytest.approx(-3, abs=1e-9)
    maker.edit({"edit": "true_seam", "seam": seam, "change": "a"})
    assert maker.seam()["difference_mm"] == pytest.approx(0, abs=1e-6)
    assert maker.length("c.e4") == pytest.approx(113, abs=1e-9)


def test_a_dart_is_trued_as_a_seam(panels):
    dart = {"edit": "add_dart", "piece": "a", "at": {"edge": "a.e1", "at_mm": 50},
            "apex_mm": [60, 80], "intake_mm": 20}  # fmt: skip
    panels.edit(dart)
    (row,) = panels.info()["darts"]
    legs = sorted((row["leg_a_mm"], row["leg_b_mm"]))
    assert legs == pytest.approx([80, math.hypot(20, 80)], abs=1e-6)
    assert row["intake_mm"] == pytest.approx(20, abs=1e-9)
    panels.edit({"edit": "true_seam", "seam": row["id"], "change": "both"})
    (row,) = panels.info()["darts"]
    assert row["leg_a_mm"] == pytest.approx(row["leg_b_mm"], abs=1e-6)


# Notches


def test_notches_of_a_seam_stand_at_matching_stations(panels):
    (seam,) = panels.seams()
    panels.edit({"edit": "add_notches", "seam": seam, "at_mm": [40, 130]})
    notches = {(n["edge"], round(n["at_mm"], 6)) for p in "ab" for n in panels.piece(p)["notches"]}
    assert notches == {("a.e2", 40), ("a.e2", 130), ("b.e4", 130), ("b.e4", 40)}
    assert "seam_notches" not in panels.found()


def test_a_notch_of_an_edge_stands_alone(panels):
    panels.edit({"edit": "add_notches", "edge": "b.e4", "at_mm": [30]})
    (notch,) = panels.piece("b")["notches"]
    assert (notch["edge"], notch["at_mm"]) == ("b.e4", 30)
    assert panels.piece("a")["notches"] == []
    finding = panels.found()["seam_notches"]
    assert finding["grave"] == "look_again"


def test_notches_match_at_fractions_of_unequal_sides(maker):
    maker.new(box("a", 0, 0, 100, 170), box("b", 120, 0, 80, 85))
    seam = maker.join(["a.e2"], ["-b.e4"])
    maker.edit({"edit": "add_notches", "seam": seam, "at_mm": [40]})
    (mate,) = maker.piece("b")["notches"]
    assert mate["at_mm"] == pytest.approx(85 - 20, abs=1e-9)
