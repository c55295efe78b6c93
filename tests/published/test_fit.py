"""Fit to the body, worked by hand.

Source of all values: plain geometry. A loop round a limb of girth c that rises by h from one side
to the other is an ellipse with half axes a = c / (2 pi) and b = sqrt(a^2 + h^2 / 4); its length is
4 b E(1 - a^2 / b^2), E the complete elliptic integral. A girth G passes a section with a stretch
of G / section - 1, and a slit of length s opens a ring of length E to E + 2 s. The girths are
invented round ones.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.special import ellipe

from tests import small
from wedgework.edits.body import AddLevel, LevelPoint, SetBody
from wedgework.edits.closings import CloseSeam
from wedgework.edits.openings import MarkOpening
from wedgework.pattern.changes import new_project
from wedgework.pattern.getting_in import way_in
from wedgework.pattern.limbs import leg_path_mm
from wedgework.pattern.openings import edge_fit, measure_opening

PATHS = [(0.0, 570.0, 513.0), (80.0, 596.8, 537.1), (150.0, 657.5, 591.8), (220.0, 742.0, 667.8)]


@pytest.mark.parametrize(("rise_mm", "path_mm", "edge_mm"), PATHS)
def test_a_loop_round_a_limb_of_570_by_its_rise(rise_mm, path_mm, edge_mm):
    found = leg_path_mm(570.0, rise_mm)
    assert found == pytest.approx(path_mm, abs=0.05)
    assert found * 0.9 == pytest.approx(edge_mm, abs=0.05)


@pytest.mark.parametrize("rise_mm", [0.0, 80.0, 150.0, 220.0, 400.0])
def test_the_loop_agrees_with_an_elliptic_integral_and_with_many_chords(rise_mm):
    a = 570.0 / math.tau
    b = math.hypot(a, rise_mm / 2)
    assert leg_path_mm(570.0, rise_mm) == pytest.approx(4 * b * ellipe(1 - a * a / b / b))
    at = np.linspace(0.0, math.tau, 20001)
    loop = np.array([a * np.cos(at), a * np.sin(at), rise_mm / 2 * np.cos(at)]).T
    chords = np.linalg.norm(np.diff(loop, axis=0), axis=1).sum()
    assert leg_path_mm(570.0, rise_mm) == pytest.approx(chords, rel=1e-7)


@pytest.mark.parametrize(("rise_mm", "path_mm", "edge_mm"), PATHS)
def test_the_edge_of_an_opening_is_held_against_its_way_on_the_body(rise_mm, path_mm, edge_mm):
    leg = small.ring_of_panels(4, width_mm=edge_mm / 4)
    marked = MarkOpening(
        name="leg",
        edges=("p1.e1", "p2.e1", "p3.e1", "p4.e1"),
        measure="thigh_girth_mm",
        rise_mm=rise_mm,
    ).apply(SetBody(measures={"thigh_girth_mm": 570.0}).apply(leg))
    fit = edge_fit(marked, marked.openings["leg"])
    assert fit.path_mm == pytest.approx(path_mm, abs=0.05)
    assert fit.over_mm == pytest.approx(0.0, abs=0.06)
    assert fit.lies_well


# Getting in: a neck edge of 350, a cut waist of 662.4, hips 980 and shoulders 1030 round


def suit(slit_mm: float | None = None):
    """Front and back alike, 331.2 wide up to 400 and 175 wide above 420, 800 high."""
    points = [(0, 0), (331.2, 0), (331.2, 400), (253.1, 420), (253.1, 800), (78.1, 800),
              (78.1, 420), (0, 400)]  # fmt: skip
    front = small.piece_of_points("front", *points)
    back = small.piece_of_points("back", *((x + 500.0, y) for x, y in points))
    project = new_project(
        front,
        back,
        seams=[
            small.seam("left", "front.e2 front.e3 front.e4", "-back.e8 -back.e7 -back.e6"),
            small.seam("right", "front.e6 front.e7 front.e8", "-back.e4 -back.e3 -back.e2"),
        ],
    )
    body = {"shoulder_girth_mm": 1030.0, "hip_girth_mm": 980.0, "waist_girth_mm": 720.0}
    edits = [
        SetBody(measures=body),
        AddLevel(
            name="waist",
            measure="waist_girth_mm",
            points=tuple(LevelPoint(piece=own, y_mm=300.0) for own in ("front", "back")),
        ),
        MarkOpening(name="neck", edges=("front.e5", "back.e5"), measure="shoulder_girth_mm"),
    ]
    for edit in edits:
        project = edit.apply(project)
    if slit_mm is None:
        return project
    whole = 400 + math.hypot(78.1, 20) + 380
    return CloseSeam(seam="left", kind="zip", from_mm=whole - slit_mm).apply(project)


@pytest.mark.parametrize(
    ("slit_mm", "opens_mm", "needed", "passes"),
    [(None, 350.0, 1.943, False), (150.0, 650.0, 0.585, False), (350.0, 1050.0, -0.019, True)],
)
def test_a_slit_in_a_neck_edge_of_350_for_shoulders_of_1030(slit_mm, opens_mm, needed, passes):
    project = suit(slit_mm)
    neck = measure_opening(project, project.openings["neck"])
    assert neck.length_mm == pytest.approx(opens_mm)
    assert neck.stretch == pytest.approx(needed, abs=0.001)
    row = way_in(project).passages[0]
    assert (row.section_mm, row.passes) == (pytest.approx(opens_mm), passes)


def test_a_waist_of_662_needs_48_per_cent_for_hips_of_980_unless_the_slit_ends_below_it():
    way = way_in(suit(350.0))
    (waist,) = way.fails
    assert (waist.id, waist.section_mm) == ("waist", pytest.approx(662.4))
    assert waist.needed == pytest.approx(0.48, abs=0.001)
    assert way.first == "feet"
    assert not way_in(suit(570.0)).fails
    assert [one.id for one in way_in(suit(555.0)).fails] == ["waist"]
