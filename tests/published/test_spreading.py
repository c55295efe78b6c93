"""Slash and spread against its formula: a gap s at distance d from the hinge opens 2 asin(s/(2d)).

Source: the chord of a circle of radius d, 2 d sin(angle/2) (Euclid, Elements III; any textbook of
plane trigonometry). The two figures are worked from it by hand.
"""

import math

import pytest

from tests import small
from wedgework.edits.slash import SlashLine, SpreadMany
from wedgework.geometry.turning import angle_between, start_tangent
from wedgework.pattern.changes import new_project
from wedgework.pattern.lookup import the_edge


@pytest.mark.parametrize(("count", "open_mm", "angle_deg"), [(1, 60.0, 11.478), (6, 10.0, 11.460)])
def test_sixty_at_three_hundred_in_one_slash_and_in_six(count, open_mm, angle_deg):
    width = 50.0 * (count + 1)
    slashes = tuple(
        SlashLine(from_edge="p.e1", from_mm=50.0 * n, to_edge="p.e3", to_mm=width - 50.0 * n)
        for n in range(1, count + 1)
    )
    project = new_project(small.rectangle("p", width, 300))
    after = SpreadMany(piece="p", slashes=slashes, open_mm=open_mm).apply(project)
    still, turned = (start_tangent(the_edge(after, own).curve) for own in ("p.e4", "p.e2"))
    assert math.degrees(angle_between(-still, turned)) == pytest.approx(angle_deg, abs=5e-4)
