"""Truing against worked numbers.

All are plain plane geometry, derived: a corner's angle is that between two lines, two corners in a
line sum to 180 degrees, and the length of a straight side is by Pythagoras.
"""

from __future__ import annotations

import math

import pytest

from tests import small
from wedgework.checks import check
from wedgework.edits import decode_plain
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Piece, Project, parse_ref
from wedgework.pattern.laying import laid_together
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.seams import measure_seam


def panel(name: str, x: float, angle_deg: float, *, seam_on_right: bool) -> Piece:
    """A panel 100 wide and 100 high at its seam, whose hem leaves the seam at an angle."""
    rise = 100.0 / math.tan(math.radians(angle_deg))
    left, right = (rise, 0.0) if seam_on_right else (0.0, rise)
    return small.piece_of_points(name, (x, left), (x + 100, right), (x + 100, 200), (x, 200))


def joined(one_deg: float, other_deg: float) -> Project:
    a = panel("a", 0, one_deg, seam_on_right=True)
    b = panel("b", 200, other_deg, seam_on_right=False)
    return new_project(a, b, seams=[small.seam("s", "a.e2", "-b.e4")])


def hem_findings(project: Project) -> list:
    return [one for one in check(project) if one.code == "seam_corner" and "a.c2" in one.where]


def test_corners_of_84_and_96_degrees_make_a_line():
    assert hem_findings(joined(84.0, 96.0)) == []


def test_corners_of_84_and_90_degrees_leave_a_peak_of_6():
    (found,) = hem_findings(joined(84.0, 90.0))
    assert found.measured == pytest.approx(174.0, abs=1e-9)
    assert "a peak of 6.0 degrees" in found.message


def test_a_line_drawn_over_84_and_90_degrees_takes_the_peak_away():
    edit = decode_plain({"edit": "true_across", "edges": ["a.e1", "b.e1"]})
    after = edit.apply(joined(84.0, 90.0))
    laid = laid_together(after, (parse_ref("a.e1"), parse_ref("b.e1")))
    assert math.degrees(laid[0].joint.angle_rad) == pytest.approx(180.0, abs=1e-6)
    assert hem_findings(after) == []


def side_seams() -> Project:
    """Side seams that go out by 15.8 in 170 on the front and by 15.2 on the back."""
    front = small.piece_of_points("f", (0, 0), (100, 0), (115.8, 170), (0, 170))
    back = small.piece_of_points("b", (200, 0), (300, 0), (300, 170), (184.8, 170))
    return new_project(front, back, seams=[small.seam("side", "f.e2", "-b.e4")])


def test_side_seams_of_one_height_differ_in_length():
    found = measure_seam(side_seams(), the_seam(side_seams(), "side"))
    assert found.a.length_mm == pytest.approx(170.733, abs=5e-4)
    assert found.b.length_mm == pytest.approx(170.678, abs=5e-4)


@pytest.mark.parametrize(
    ("change", "by", "length_mm"),
    [("a", "end", 170.678), ("b", "end", 170.733), ("both", "end", 170.7055),
     ("b", "edge", 170.733)],
)  # fmt: skip
def test_side_seams_are_trued_to_one_length(change, by, length_mm):
    edit = {"edit": "true_seam", "seam": "side", "change": change, "by": by}
    after = decode_plain(edit).apply(side_seams())
    found = measure_seam(after, the_seam(after, "side"))
    assert found.difference_mm == pytest.approx(0.0, abs=1e-6)
    assert found.a.length_mm == pytest.approx(length_mm, abs=6e-4)
