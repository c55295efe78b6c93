"""Shaping of seams and darts against published and derived values (check values D17 to D20).

D17 to D19 are plain geometry, derived: (kA + kB) * length, kA = -kB, and 2 * atan of half the
slope. D20: 2 * asin(intake / (2 * leg)); that the angle stays when a dart is moved: Erwin,
Practical Dress Design, revised 1954, p. 31. The lengths of a seam through the bust point are
worked from its stations by Pythagoras.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given

from tests import small
from wedgework.edits import decode_plain
from wedgework.geometry.curve import Curve, reversed_curve
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import moved, rotation
from wedgework.pattern.changes import new_project
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.document import Edge, Piece, Project
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.seams import SeamMeasure, measure_seam


def measured(project: Project, seam: str = "s") -> SeamMeasure:
    return measure_seam(project, the_seam(project, seam))


def do(project: Project, **edit: object) -> Project:
    return decode_plain(edit).apply(project)


def arc(radius_mm: float, angle_rad: float) -> Curve:
    """An arc about (0, 0), counter-clockwise from the x axis, in cubics of up to 15 degrees."""
    count = math.ceil(angle_rad / math.radians(15))
    step = angle_rad / count
    k = 4 / 3 * math.tan(step / 4) * radius_mm
    end = radius_mm * np.array([math.cos(step), math.sin(step)])
    along = k * np.array([-math.sin(step), math.cos(step)])
    first = np.array([[radius_mm, 0], [radius_mm, k], end - along, end])
    chain = [moved(Curve(first[None]), rotation(i * step)).segments[0].copy() for i in range(count)]
    for before, after in pairwise(chain):
        after[0] = before[3]
    return Curve(np.array(chain))


def lens(name: str, curve: Curve) -> Piece:
    """A piece of one curved edge `<name>.e1` and one straight edge that closes it."""
    back = small.bulging(curve.end, curve.start, 0.0)
    edges = (
        Edge(id=f"{name}.e1", name="", curve=curve, corner=f"{name}.c1"),
        Edge(id=f"{name}.e2", name="", curve=back, corner=f"{name}.c2"),
    )
    return Piece(id=name, name=name, edges=edges)


def test_two_bulging_arcs_of_radius_300_and_length_150_d17():
    curve = arc(300.0, 150.0 / 300.0)
    project = new_project(
        lens("a", curve), lens("b", curve), seams=[small.seam("s", "a.e1", "-b.e1")]
    )
    assert length_mm(curve) == pytest.approx(150.0, abs=1e-4)
    assert math.degrees(measured(project).shaping_rad) == pytest.approx(57.29578, abs=1e-5)


@given(curve=small.garment_curves())
def test_both_edges_cut_from_one_line_shape_nowhere_d18(curve):
    project = new_project(
        lens("a", curve),
        lens("b", reversed_curve(curve)),
        seams=[small.seam("s", "a.e1", "-b.e1")],
    )
    found = measured(project)
    passed = np.append(np.diff(found.shaping[:, 0]) > 0, [True])  # all kinks of a station passed
    assert found.shaping[passed, 1] == pytest.approx(0.0, abs=1e-9)
    assert found.shaping_rad == pytest.approx(0.0, abs=1e-12)
    assert (found.dome_rad, found.hollow_rad) == pytest.approx((0.0, 0.0), abs=1e-12)


def sliced(*widths: tuple[float, float]) -> Project:
    """Two panels with a straight-sided slice drawn between them, half from each side."""
    right = [(100 - width / 2, y) for y, width in widths]
    left = [(200 + width / 2, y) for y, width in reversed(widths)]
    low, high, count = widths[0][0], widths[-1][0], len(widths)
    a = small.piece_of_points("a", (0, low), *right, (0, high))
    b = small.piece_of_points("b", (300, low), (300, high), *left)
    run_a = " ".join(f"a.e{i + 2}" for i in range(count - 1))
    run_b = " ".join(f"-b.e{count + 1 - i}" for i in range(count - 1))
    return new_project(a, b, seams=[small.seam("s", run_a, run_b)])


def test_a_slice_to_40_in_70_then_to_44_in_100_d19():
    found = measured(sliced((0, 0), (100, 0), (170, 40), (270, 44)))
    at_start = found.shaping_between(99, 101)
    at_bend = found.shaping_between(102, found.a.length_mm)
    assert math.degrees(at_start) == pytest.approx(31.890792, abs=1e-5)
    assert math.degrees(at_bend) == pytest.approx(-29.599266, abs=1e-5)


def test_a_straight_slice_that_the_edit_takes_out_shapes_as_the_drawn_one_d19():
    project = small.two_panels(left_mm=170, right_mm=170)
    intake = [{"at_mm": 100, "width_mm": 0}, {"at_mm": 170, "width_mm": 40}]
    found = measured(do(project, edit="shape_seam", seam="s", intake=intake))
    assert math.degrees(found.shaping_rad) == pytest.approx(31.890792, abs=1e-5)
    assert found.difference_mm == pytest.approx(0.0, abs=1e-9)


def test_a_slice_all_from_one_side_shapes_by_atan_of_its_whole_slope():
    project = small.two_panels(left_mm=170, right_mm=170)
    intake = [{"at_mm": 100, "width_mm": 0}, {"at_mm": 170, "width_mm": 40}]
    edit = {"edit": "shape_seam", "seam": "s", "intake": intake, "share_a": 1.0}
    found = measured(do(project, **edit, then_true=False))
    assert found.shaping_rad == pytest.approx(math.atan(40 / 70), abs=1e-9)


def darted() -> Project:
    """A dart with legs of 120 and a mouth of 40 below its apex; a side 180 off it, another 90."""
    depth = math.sqrt(120**2 - 20**2)
    p = small.piece_of_points(
        "p", (-90, -depth), (-20, -depth), (0, 0), (20, -depth), (180, -depth), (180, 250),
        (-90, 250),
    )  # fmt: skip
    return new_project(p, seams=[small.seam("d", "p.e2", "-p.e3", apex="p.c3")])


def test_a_dart_with_legs_of_120_and_a_mouth_of_40_d20():
    found = measure_dart(darted(), the_seam(darted(), "d"))
    assert math.degrees(found.angle_rad) == pytest.approx(19.188136, abs=1e-5)
    assert (found.leg_a_mm, found.leg_b_mm) == pytest.approx((120, 120))


@pytest.mark.parametrize(
    ("edge", "from_below", "leg_mm", "mouth_mm"),
    [("p.e5", True, 180.0, 60.0), ("p.e7", False, 90.0, 30.0)],
)
def test_the_dart_moved_keeps_its_angle_and_its_mouth_follows_its_legs_d20(
    edge, from_below, leg_mm, mouth_mm
):
    depth = math.sqrt(120**2 - 20**2)
    place = {"edge": edge, "at_mm": depth if from_below else 250.0}
    project = do(darted(), edit="pivot_dart", dart="d", to=place)
    found = measure_dart(project, the_seam(project, "d"))
    assert math.degrees(found.angle_rad) == pytest.approx(19.188136, abs=1e-5)
    assert found.leg_a_mm == pytest.approx(leg_mm, abs=1e-6)
    assert found.intake_mm == pytest.approx(mouth_mm, abs=1e-5)


def test_a_seam_through_the_bust_point_half_and_half_is_equally_long_on_both_sides():
    found = measured(sliced((0, 0), (70, 40), (170, 44)))
    assert found.a.length_mm == pytest.approx(172.82, abs=0.005)
    assert found.b.length_mm == pytest.approx(172.82, abs=0.005)


def test_the_same_all_on_one_side_differs_by_10_7():
    p = small.piece_of_points("a", (0, 0), (100, 0), (60, 70), (56, 170), (0, 170))
    b = small.rectangle("b", 100, 170, x=200)
    found = measured(new_project(p, b, seams=[small.seam("s", "a.e2 a.e3", "-b.e4")]))
    assert found.a.length_mm == pytest.approx(180.70, abs=0.005)
    assert found.difference_mm == pytest.approx(10.7, abs=0.005)


def test_a_tip_rounded_over_60_mm_spreads_the_same_degrees_over_them():
    project = small.two_panels(left_mm=170, right_mm=170)
    intake = [{"at_mm": 100, "width_mm": 0}, {"at_mm": 170, "width_mm": 40}]
    found = measured(do(project, edit="shape_seam", seam="s", intake=intake, round_mm=60.0))
    assert math.degrees(found.shaping_rad) == pytest.approx(31.890792, abs=1e-5)
    assert found.shaping_between(0, 70) == pytest.approx(0.0, abs=1e-9)
    steps = [math.degrees(found.shaping_between(at, at + 20)) for at in range(60, 130, 5)]
    assert max(steps) < 31.9 * 20 / 60 + 1.0
