"""What a lap does on a curve, and what a binding takes, against numbers worked by hand.

Plain geometry: the outer line of a strip of width w along an edge that turns by an angle differs
from the edge by w x angle (concentric arcs). On a seam the lap lies on a sheet that bends the other
way, so its free edge is too long by w x shaping. The limits of 3 % for a surplus and 6 % for a
shortage are common practice, no source: (kA + kB) w <= 3 % gives the least radii. A strip that
covers an edge stack S to a depth b on both sides, folded round it by half a turn on the middle of
its own thickness t, is 2 b + S + pi t / 2 wide.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests import small
from tests.published.test_shaping import arc, lens
from wedgework.checks import check
from wedgework.checks.laps import least_radius_mm, surplus_mm
from wedgework.geometry.curve import reversed_curve
from wedgework.geometry.length import length_mm
from wedgework.geometry.offset import offset_curve
from wedgework.pattern.changes import new_project, with_seams
from wedgework.pattern.cutlines import binding_strip_mm
from wedgework.pattern.document import Project
from wedgework.pattern.lap_limits import SHORTAGE, SURPLUS
from wedgework.pattern.lookup import the_seam


def test_a_quarter_circle_of_200_is_12_57_longer_at_the_outside_of_a_lap_of_8():
    edge = arc(200.0, math.pi / 2)
    outer = offset_curve(edge, -8.0, 1e-4)
    assert length_mm(edge) == pytest.approx(314.16, abs=0.01)
    assert length_mm(outer) == pytest.approx(326.73, abs=0.01)
    assert surplus_mm(8.0, math.pi / 2) == pytest.approx(12.57, abs=0.005)


def test_31_9_degrees_make_a_lap_of_8_4_45_too_long():
    off_mm = surplus_mm(8.0, math.radians(31.890792))
    assert off_mm == pytest.approx(4.45, abs=0.005)
    assert off_mm / 60.0 == pytest.approx(0.074, abs=0.0005)
    assert surplus_mm(5.0, math.radians(31.890792)) / 60.0 == pytest.approx(0.046, abs=0.0005)


@pytest.mark.parametrize(("lap_mm", "one_mm", "both_mm"), [(8.0, 267, 533), (5.0, 167, 333)])
def test_the_least_radius_of_one_curved_edge_and_of_two(lap_mm, one_mm, both_mm):
    assert least_radius_mm(lap_mm, SURPLUS) == pytest.approx(one_mm, abs=0.5)
    assert 2 * least_radius_mm(lap_mm, SURPLUS) == pytest.approx(both_mm, abs=0.5)
    assert least_radius_mm(lap_mm, -SHORTAGE) == pytest.approx(one_mm / 2, abs=0.5)


def domed(radius_mm: float, lap_mm: float, *, both: bool) -> Project:
    """A seam of 100 mm between two edges of this radius, or one of them and a straight one."""
    edge = arc(radius_mm, 100.0 / radius_mm)
    straight = lens("b", reversed_curve(small.bulging(edge.start, edge.end, 0.0)))
    other = lens("b", edge) if both else _closed_by_an_arc(straight)
    pieces = lens("a", edge), other
    project = new_project(*pieces, seams=[small.seam("s", "a.e1", "-b.e1", allowed_mm=5.0)])
    return with_seams(project, replace(the_seam(project, "s"), lap_mm=lap_mm))


def _closed_by_an_arc(piece):
    """A straight edge needs something of a piece behind it."""
    first, second = piece.edges
    return replace(piece, edges=(first, replace(second, curve=_bulged(second.curve))))


def _bulged(curve):
    return small.bulging(curve.start, curve.end, 0.3)


@pytest.mark.parametrize(
    ("lap_mm", "least_mm", "both"),
    [(8.0, 267, False), (8.0, 533, True), (5.0, 167, False), (5.0, 333, True)],
)
def test_the_check_finds_what_bends_tighter_than_the_least_radius(lap_mm, least_mm, both):
    for radius_mm, found in ((least_mm * 1.01, False), (least_mm * 0.99, True)):
        codes = [one.code for one in check(domed(radius_mm, lap_mm, both=both))]
        assert ("lap_too_curved" in codes) is found


def test_a_binding_8_deep_over_0_4_takes_a_strip_of_17_03():
    assert binding_strip_mm(8.0, stack_mm=0.4, thickness_mm=0.4) == pytest.approx(17.03, abs=0.005)
