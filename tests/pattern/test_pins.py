"""What pinned measurements say."""

from __future__ import annotations

import math

import pytest

from tests import small
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Pin, Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.levels import flat_girth_mm
from wedgework.pattern.pins import pin_value, way_along


def value(project, kind, *anchors):
    return pin_value(project, Pin(id="m", name="", kind=kind, anchors=anchors))


def test_a_distance_is_straight_between_its_places():
    assert value(small.square(), "distance", "p.c1", "p.c3") == pytest.approx(100 * math.sqrt(2))


def test_along_goes_round_the_corner_the_short_way():
    project = small.square()
    assert value(project, "along", Spot("p.e1", 20.0), Spot("p.e2", 30.0)) == pytest.approx(110.0)
    assert value(project, "along", Spot("p.e1", 20.0), Spot("p.e4", 90.0)) == pytest.approx(30.0)


def test_the_stretches_along_are_as_long_as_the_measure():
    way = way_along(small.curved_square(), ("p.c2", Spot("p.e4", 40.0)))
    assert sum(length_mm(curve) for curve in way.curves) == pytest.approx(way.length_mm)


def test_the_angle_at_a_corner_is_that_inside_the_piece():
    assert value(small.square(), "angle", "p.c2") == pytest.approx(math.pi / 2)
    assert value(small.darted_front(), "angle", "p.c3") > math.pi


def test_an_angle_of_three_places_is_that_at_the_middle_one():
    anchors = ("p.c2", "p.c1", Spot("p.e3", 0.0))
    assert value(small.square(), "angle", *anchors) == pytest.approx(math.pi / 4)


def test_a_girth_is_the_flat_girth_of_the_level():
    project = small.with_everything()
    assert value(project, "girth", "waist") == flat_girth_mm(project, "waist")


def test_a_notch_is_met_on_the_piece_that_the_other_end_hangs_on():
    project = small.with_everything()
    assert value(project, "distance", "a.c2", "n1") == pytest.approx(40.0)
    assert value(project, "distance", "b.c1", "n1") == pytest.approx(40.0)


@pytest.mark.parametrize(
    ("kind", "anchors"),
    [
        ("distance", ("a.c1",)),
        ("along", ("a.c1", "b.c1")),
        ("angle", ("a.e1",)),
        ("angle", ("a.c1", "a.c1", "a.c2")),
        ("girth", ("a.c1",)),
        ("distance", ("a.c1", "nowhere")),
        ("distance", ("a.c1", "a.e2")),
        ("distance", ("a.c1", Spot("nowhere", 0.0))),
    ],
)
def test_what_cannot_be_measured_is_refused_with_a_sentence(kind, anchors):
    with pytest.raises(EditRefused) as caught:
        value(small.with_everything(), kind, *anchors)
    assert len(caught.value.sentence) > 10
