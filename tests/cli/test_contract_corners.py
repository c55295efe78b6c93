"""Less trodden corners by command alone: curved slices, limits, seeds, round trips."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys

import numpy as np
import pytest
from scipy.interpolate import CubicSpline
from shapely.geometry import LineString, Point

from tests.cli.making import Maker, box
from wedgework.files.wedge import read_wedge
from wedgework.geometry.flatten import flattened

LENS = '<path id="a" d="M0,0 L200,0 C230,-60 230,-110 200,-170 L0,-170 C30,-110 -20,-60 0,0 Z"/>'
CUT = {"edit": "cut_piece", "piece": "a", "from": {"edge": "a.e1", "at_mm": 80},
       "to": {"edge": "a.e3", "at_mm": 90}, "via_mm": [[60, 60], [130, 110]]}  # fmt: skip
MEASURES = [
    "bust",
    "under_bust",
    "waist",
    "hip",
    "neck_base",
    "thigh",
    "shoulder",
    "head",
    "neck",
    "upper_arm",
    "hand",
    "calf",
    "foot",
]
LENGTHS = ["shoulder_length_mm", "back_waist_length_mm", "torso_loop_mm"]


@pytest.fixture
def maker(tmp_path, capsys):
    return Maker(tmp_path, capsys)


def points(maker: Maker, own: str) -> np.ndarray:
    pieces = read_wedge(maker.file.read_bytes()).pieces.values()
    return flattened(next(e for p in pieces for e in p.edges if e.id == own).curve, 1e-4)


@pytest.mark.parametrize("share", [0.0, 0.3, 0.5])
@pytest.mark.parametrize("middle", [14.0, -14.0])
def test_a_slice_along_a_curved_seam_is_as_wide_as_its_spline(maker, share, middle):
    maker.new(LENS)
    maker.edit(CUT)
    seam = maker.seam()
    length, a, b = seam["length_a_mm"], seam["a"][0], seam["b"][0].lstrip("-")
    base = LineString(points(maker, a))
    places, widths = [0, 80, length], [0, middle, 0]
    rows = [{"at_mm": d, "width_mm": w} for d, w in zip(places, widths, strict=True)]
    maker.edit({"edit": "shape_seam", "seam": seam["id"], "intake": rows, "share_a": share,
                "then_true": False})  # fmt: skip
    spline = CubicSpline(places, widths, bc_type="natural")
    for own, part in ((a, share), (b, 1 - share)):
        drawn = [Point(*point) for point in points(maker, own)]
        along = np.array([base.project(point) for point in drawn])
        inner = (along > 2) & (along < length - 2)
        apart = np.array([base.distance(point) for point in drawn])
        assert apart[inner] == pytest.approx(np.abs(part * spline(along[inner])), abs=0.01)


def test_a_piece_cut_through_the_apex_of_a_dart_is_joined_along_dart_and_cut(maker):
    maker.new(box("a", 0, 0, 200, 170))
    maker.edit(
        {"edit": "add_dart", "piece": "a", "at": {"edge": "a.e1", "at_mm": 100},
         "apex_mm": [100, 90], "intake_mm": 24},
        {**CUT, "from": {"edge": "a.d1.b", "at_mm": 0}, "to": {"edge": "a.e3", "at_mm": 100},
         "via_mm": []},
    )  # fmt: skip
    info = maker.info()
    assert info["darts"] == []
    seams = {seam["id"]: seam for seam in info["seams"]}
    assert sorted(seam["length_a_mm"] for seam in seams.values()) == pytest.approx(
        [80, np.hypot(12, 90)]
    )
    assert all(seam["difference_mm"] == pytest.approx(0, abs=1e-9) for seam in seams.values())
    assert not {"seam_twisted", "seam_length"} & set(maker.found())


@pytest.mark.parametrize(("gap", "closed"), [(0.09, True), (0.12, False)])
def test_gaps_up_to_a_tenth_are_closed_and_told(maker, gap, closed):
    drawing = maker.drawing(f'<path id="g" d="M0,0 H100 V100 H0 V{gap}"/>')
    answer = maker.run("new", maker.file, "--from", drawing)
    assert answer.code == (0 if closed else 2)
    assert not closed or any(told.startswith("g:") for told in maker.info()["problems"])


@pytest.mark.parametrize(("mm", "pair"), [(2, False), (3, True), (20, True), (21, False)])
def test_a_cut_line_stands_3_to_20_mm_outside_its_seam_line(maker, mm, pair):
    side = 100 + 2 * mm
    maker.new(box("cut", -mm, -mm, side, side), box("sew", 0, 0, 100, 100))
    piece = maker.piece("cut")
    assert len(piece["cutouts"]) == (0 if pair else 1)
    assert piece["area_mm2"] == pytest.approx(10_000 if pair else side * side - 10_000)


@pytest.mark.parametrize(("width", "edges"), [(7.9, 4), (8.1, 7)])
def test_cuts_wider_than_8_mm_are_no_notches(maker, width, edges):
    d = f"M0,0 H100 V100 H{50 + width} L54,95 L50,100 H0 Z"
    maker.new(f'<path id="s" d="{d}"/>', more=["--notches"])
    assert len(maker.piece("s")["edges"]) == edges


def test_every_measure_of_the_contract_is_known(maker):
    maker.new(LENS)
    names = [f"{name}_girth_mm" for name in MEASURES] + LENGTHS
    body = {name: 100.0 + number for number, name in enumerate(names)}
    maker.edit({"edit": "set_body", "measures": body})
    assert maker.info()["body"] == body


def test_a_seam_of_one_outline_takes_half_the_lap_on_it(maker):
    maker.new(box("f", 0, 0, 100, 170))
    maker.edit({"edit": "set_cutting", "piece": "f", "cutting": "pair"})
    maker.join(["f.e2"], ["~f.e2"])
    text = maker.export("out.svg").read_text()
    (d,) = re.findall(r'class="cut"[^>]* d="([^"]+)"', text)
    xs = [float(x) for x in re.findall(r"([\d.]+) [\d.]+", d)]
    assert max(xs) - min(xs) == pytest.approx(104)


def test_splitting_and_merging_carries_notches_and_runs(maker):
    maker.new(LENS, box("b", 300, 0, 80, 180))
    seam = maker.join(["a.e2"], ["-b.e4"])
    maker.edit({"edit": "add_notches", "seam": seam, "at_mm": [40, 120]},
               {"edit": "split_edge", "edge": "a.e2", "at_mm": 70})  # fmt: skip
    first, second = maker.seam()["a"]
    found = [(n["edge"], n["at_mm"]) for n in maker.piece("a")["notches"]]
    assert found == [(first, pytest.approx(40)), (second, pytest.approx(50))]
    maker.edit({"edit": "merge_edges", "first": first, "second": second})
    found = [(n["edge"], n["at_mm"]) for n in maker.piece("a")["notches"]]
    assert found == [(first, pytest.approx(40)), (first, pytest.approx(120))]


def test_pairs_folds_darts_and_levels_come_back_from_a_drawing(maker):
    maker.new(LENS, box("b", 300, 0, 80, 180))
    maker.edit(
        {"edit": "set_cutting", "piece": "b", "cutting": "fold", "about": "b.e2"},
        {"edit": "set_cutting", "piece": "a", "cutting": "pair"},
        {"edit": "add_dart", "piece": "a", "at": {"edge": "a.e1", "at_mm": 100},
         "apex_mm": [100, 80], "intake_mm": 20},
        {"edit": "add_level", "name": "bust", "points": [{"piece": "a", "y_mm": 120}]},
    )  # fmt: skip
    back = maker.folder / "back.wedge"
    assert maker.run("new", back, "--from", maker.export("out.svg")).code == 0
    told = maker.run("info", back, "--json").json
    for was, now in zip(maker.info()["pieces"], told["pieces"], strict=True):
        assert (now["id"], now["cutting"]) == (was["id"], was["cutting"])
        assert [e["id"] for e in now["edges"]] == [e["id"] for e in was["edges"]]
        assert now["area_mm2"] == pytest.approx(was["area_mm2"], abs=1e-3)
    assert [level["name"] for level in told["levels"]] == ["bust"]


def test_what_is_made_does_not_hang_on_the_seed_of_hashes(maker):
    maker.new(LENS, box("b", 300, 0, 80, 180))
    seam = maker.join(["a.e2"], ["-b.e4"])
    rows = [{"at_mm": d, "width_mm": w} for d, w in ((0, 0), (80, 20), (150, 0))]
    do = maker.folder / "edits.json"
    edits = [
        {"edit": "add_notches", "seam": seam, "at_mm": [40, 120]},
        CUT,
        {"edit": "shape_seam", "seam": "a.cut", "intake": rows, "round_mm": 10},
    ]
    do.write_text(json.dumps(edits))
    out = maker.folder / "out.wedge"
    words = ["edit", maker.file, "--do", do, "--save", out, "--json"]
    shots = set()
    for seed in ("1", "77"):
        env = {**os.environ, "PYTHONHASHSEED": seed}
        command = [sys.executable, "-m", "wedgework", *map(str, words)]
        done = subprocess.run(command, env=env, capture_output=True, timeout=60, check=True)
        shots.add((done.stdout, out.read_bytes()))
    assert len(shots) == 1
