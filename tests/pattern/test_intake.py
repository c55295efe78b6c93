"""The width of a slice along a seam."""

from __future__ import annotations

import pytest

from wedgework.pattern.errors import EditRefused
from wedgework.pattern.intake import Station, width_along


def widths(stations, at, whole=270.0, round_mm=0.0):
    values, slopes = width_along([Station(*row) for row in stations], whole, round_mm).at(at)
    return values, slopes


def test_outside_of_its_stations_a_slice_has_no_width():
    values, slopes = widths([(100, 0), (170, 40), (230, 0)], [0, 50, 99, 231, 270])
    assert values == pytest.approx([0] * 5)
    assert slopes == pytest.approx([0] * 5)


def test_the_order_of_stations_does_not_matter():
    one, _ = widths([(0, 0), (170, 40), (270, 44)], [60, 200])
    other, _ = widths([(270, 44), (0, 0), (170, 40)], [60, 200])
    assert one == pytest.approx(other)


def test_a_station_typed_from_a_rounded_length_is_at_the_end():
    values, _ = widths([(0, 0), (269.996, 44)], [270.0])
    assert values == pytest.approx([44.0])


def test_a_rounded_tip_starts_and_ends_with_the_slopes_beside_it():
    values, slopes = widths([(100, 0), (170, 35)], [80, 100, 120], whole=170.0, round_mm=40.0)
    assert values == pytest.approx([0, 2.5, 10])
    assert slopes == pytest.approx([0, 0.25, 0.5])


def test_tips_at_both_ends_are_rounded_alike():
    values, _ = widths(
        [(100, 0), (150, 20), (200, 0)], [85, 100, 115, 185, 200, 215], round_mm=30.0
    )
    assert values[:3] == pytest.approx(values[:2:-1])


@pytest.mark.parametrize(
    "stations",
    [
        [(0, 0)],
        [(50, 5), (270, 0)],
        [(0, 0), (200, 5)],
        [(0, 0), (100, 3), (100, 4)],
        [(-1, 0), (270, 0)],
        [(0, 0), (271, 0)],
    ],
)
def test_what_makes_no_slice_is_refused_in_words(stations):
    with pytest.raises(EditRefused, match="tation"):
        widths(stations, [0])


def test_a_tip_is_not_rounded_over_more_than_there_is():
    with pytest.raises(EditRefused, match="rounded"):
        widths([(10, 0), (270, 40)], [0], round_mm=30.0)
