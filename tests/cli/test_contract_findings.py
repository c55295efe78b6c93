"""Findings, levels and what is accepted, by command alone: each code at its limit and over it."""

from __future__ import annotations

import math

import pytest

from tests.cli.making import Maker, box, ring

STOPS = {"seam_length", "seam_twisted", "outline_crosses", "dart_legs", "darts_meet"}


@pytest.fixture
def maker(tmp_path, capsys):
    return Maker(tmp_path, capsys)


def holds(maker: Maker, code: str, *, found: bool) -> None:
    """That a finding is there or not, grave as the contract says, with the exit code for it."""
    answer = maker.run("check", maker.file, "--json")
    findings = [one for one in answer.json["findings"] if one["code"] == code]
    assert bool(findings) == found, answer.json["findings"]
    graves = {"flat_seam": "good_to_know", **dict.fromkeys(STOPS, "stops_cutting")}
    assert all(one["grave"] == graves.get(code, "look_again") for one in findings)
    open_ones = {one["code"] for one in answer.json["findings"] if not one["accepted"]} & STOPS
    assert answer.code == (1 if open_ones else 0)
    assert answer.json["ready"] == (not open_ones)


def joined(maker: Maker, height: float, **more) -> str:
    maker.new(box("a", 0, 0, 100, 170), box("b", 120, 0, 80, height))
    return maker.join(["a.e2"], ["-b.e4"], **more)


@pytest.mark.parametrize(("height", "found"), [(169.51, False), (169.49, True), (170.51, True)])
def test_seam_length(maker, height, found):
    joined(maker, height)
    holds(maker, "seam_length", found=found)


def test_seam_length_knows_what_is_wanted_and_allowed(maker):
    joined(maker, 160, wanted_mm=9, allowed_mm=1.01)
    holds(maker, "seam_length", found=False)
    assert maker.seam()["state"] == "agrees"


@pytest.mark.parametrize(
    ("a", "b", "found"),
    [(["a.e2"], ["-b.e4"], False), (["a.e2"], ["b.e4"], True), (["-a.e2"], ["b.e4"], False)],
)
def test_seam_twisted(maker, a, b, found):
    maker.new(box("a", 0, 0, 100, 170), box("b", 120, 0, 80, 170))
    maker.join(a, b)
    holds(maker, "seam_twisted", found=found)


def test_a_pair_joined_to_itself_is_not_twisted(maker):
    maker.new(box("f", 0, 0, 100, 170))
    maker.edit({"edit": "set_cutting", "piece": "f", "cutting": "pair"})
    maker.join(["f.e2"], ["~f.e2"])
    holds(maker, "seam_twisted", found=False)
    seam = maker.seam()
    assert (seam["a"], seam["b"]) == (["f.e2"], ["~f.e2"])


@pytest.mark.parametrize(("reach", "found"), [(0.5, False), (-0.5, True)])
def test_outline_crosses(maker, reach, found):
    notch = [(100, 100), (52, 100), (50, reach), (48, 100), (0, 100)]
    maker.new(ring("a", (0, 0), (100, 0), *notch))
    holds(maker, "outline_crosses", found=found)


@pytest.mark.parametrize(("shift", "found"), [(3.0, False), (5.0, True)])
def test_dart_legs(maker, shift, found):
    maker.new(box("a", 0, 0, 200, 170))
    apex = [100 + shift, 90]
    maker.edit({"edit": "add_dart", "piece": "a", "at": {"edge": "a.e1", "at_mm": 100},
                "apex_mm": apex, "intake_mm": 20})  # fmt: skip
    legs = [math.hypot(10 + shift, 90), math.hypot(10 - shift, 90)]
    assert (legs[0] - legs[1] > 0.5) == (shift > 2.3)
    holds(maker, "dart_legs", found=legs[0] - legs[1] > 0.5)
    assert found or shift == 3.0


def test_darts_meet(maker):
    maker.new(box("a", 0, 0, 200, 170))
    at = {"edge": "a.e1", "at_mm": 100}
    dart = {"edit": "add_dart", "piece": "a", "at": at, "apex_mm": [100, 90], "intake_mm": 20}
    maker.edit(dart)
    holds(maker, "darts_meet", found=False)
    (row,) = maker.info()["darts"]
    maker.edit({"edit": "divide_dart", "dart": row["id"], "into": 2})
    holds(maker, "darts_meet", found=True)
    mend = maker.found()["darts_meet"]["mends"][0]
    maker.edit(*mend["edits"])
    holds(maker, "darts_meet", found=False)


@pytest.mark.parametrize(("lean", "found"), [(2.9, False), (3.1, True)])
def test_seam_corner(maker, lean, found):
    top = 170 - 100 * math.tan(math.radians(lean))
    a = ring("a", (0, 0), (100, 0), (100, 170), (0, top))
    maker.new(a, box("b", 120, 0, 80, 170))
    maker.join(["a.e2"], ["-b.e4"])
    holds(maker, "seam_corner", found=found)


@pytest.mark.parametrize(("off", "found"), [(0.49, False), (0.51, True)])
def test_seam_notches(maker, off, found):
    joined(maker, 170)
    maker.edit({"edit": "add_notches", "edge": "a.e2", "at_mm": [60]},
               {"edit": "add_notches", "edge": "b.e4", "at_mm": [110 - off]})  # fmt: skip
    holds(maker, "seam_notches", found=found)


@pytest.mark.parametrize(("angle", "found"), [(10.1, False), (9.9, True)])
def test_outline_spike(maker, angle, found):
    rise = 200 * math.tan(math.radians(angle))
    maker.new(ring("a", (0, 0), (200, 0), (200, rise)))
    holds(maker, "outline_spike", found=found)


def bowed(maker: Maker, radius: float, degrees: float) -> None:
    """Two panels with arcs on both sides of their seam, each of the radius and turn given."""
    half = math.radians(degrees) / 2
    chord = 2 * radius * math.sin(half)
    a = f"M0,0 L100,0 A{radius},{radius} 0 0 0 100,{-chord} L0,{-chord} Z"
    b = f"M300,0 L220,0 A{radius},{radius} 0 0 1 220,{-chord} L300,{-chord} Z"
    maker.new(f'<path id="a" d="{a}"/>', f'<path id="b" d="{b}"/>')
    bent = [edge for edge in maker.edges().values() if abs(edge["turning_deg"]) > 0.5]
    names = [edge["id"] for edge in bent]
    maker.join([names[0]], ["-" + names[1]])


@pytest.mark.parametrize(("degrees", "found"), [(2.4, True), (2.6, False)])
def test_flat_seam(maker, degrees, found):
    bowed(maker, 2000, degrees)
    assert maker.seam()["dome_deg"] == pytest.approx(2 * degrees, abs=1e-3)
    holds(maker, "flat_seam", found=found)


@pytest.mark.parametrize(("radius", "found"), [(540, False), (520, True)])
def test_lap_too_curved(maker, radius, found):
    bowed(maker, radius, 20)
    assert maker.seam()["shaping_deg"] == pytest.approx(40, abs=1e-3)
    holds(maker, "lap_too_curved", found=found)
    (seam,) = maker.seams()
    maker.edit({"edit": "set_seam", "seam": seam, "join": "butted"})
    holds(maker, "lap_too_curved", found=False)


def test_two_arcs_shape_as_published(maker):
    bowed(maker, 300, math.degrees(0.5))
    assert maker.seam()["shaping_deg"] == pytest.approx(57.29578, abs=1e-4)
    assert maker.seam()["length_a_mm"] == pytest.approx(150, abs=0.01)


# What is accepted


def test_a_finding_is_accepted_until_it_grows(maker):
    seam = joined(maker, 168)
    finding = maker.found()["seam_length"]
    assert finding["measured"] == pytest.approx(2)
    assert finding["where"] == [seam]
    accept = {"edit": "accept", "code": "seam_length", "where": [seam], "reason": "eased"}
    maker.edit(accept)
    holds(maker, "seam_length", found=True)
    assert maker.found()["seam_length"]["accepted"] is True
    move = {"edit": "move_corner", "corner": "a.c3"}
    maker.edit({**move, "by_mm": [0, -0.5]})
    assert maker.found()["seam_length"]["accepted"] is True
    maker.edit({**move, "by_mm": [0, 1.5]})
    assert maker.found()["seam_length"]["accepted"] is False
    holds(maker, "seam_length", found=True)


def test_every_mend_of_what_stops_cutting_takes_it_away(maker):
    seam = joined(maker, 168)
    before = maker.file.read_bytes()
    for mend in maker.found()["seam_length"]["mends"]:
        maker.file.write_bytes(before)
        maker.edit(*mend["edits"])
        holds(maker, "seam_length", found=False)
    assert seam in maker.seams()


# Levels and the body


def test_a_flat_girth_counts_instances(maker):
    maker.new(box("s", 0, 0, 100, 170), box("p", 200, 0, 80, 170), box("f", 400, 0, 60, 170))
    maker.edit(
        {"edit": "set_cutting", "piece": "p", "cutting": "pair"},
        {"edit": "set_cutting", "piece": "f", "cutting": "fold", "about": "f.e4"},
        {"edit": "set_body", "measures": {"bust_girth_mm": 900, "waist_girth_mm": 700}},
        {"edit": "add_level", "name": "bust", "measure": "bust_girth_mm",
         "points": [{"piece": name, "y_mm": 100} for name in "spf"]},
    )  # fmt: skip
    info = maker.info()
    (level,) = info["levels"]
    assert level["flat_girth_mm"] == pytest.approx(100 + 2 * 80 + 2 * 60, abs=1e-9)
    assert level["body_girth_mm"] == 900
    assert info["body"] == {"bust_girth_mm": 900, "waist_girth_mm": 700}


def test_a_dart_takes_its_width_from_a_level(maker):
    maker.new(box("a", 0, 0, 200, 170))
    maker.edit(
        {"edit": "add_level", "name": "waist", "points": [{"piece": "a", "y_mm": 45}]},
        {"edit": "add_dart", "piece": "a", "at": {"edge": "a.e1", "at_mm": 100},
         "apex_mm": [100, 90], "intake_mm": 24},
    )  # fmt: skip
    (level,) = maker.info()["levels"]
    assert level["flat_girth_mm"] == pytest.approx(200 - 12, abs=1e-6)
    assert level["body_girth_mm"] is None


def test_a_level_follows_the_outline(maker):
    maker.new(ring("a", (0, 0), (200, 0), (100, 100), (0, 100)))
    level = {"edit": "add_level", "name": "hip", "points": [{"piece": "a", "y_mm": 30}]}
    maker.edit(level, {"edit": "move_corner", "corner": "a.c2", "by_mm": [50, 0]})
    (row,) = maker.info()["levels"]
    assert row["flat_girth_mm"] == pytest.approx(250 - 0.3 * 150, abs=1e-9)
