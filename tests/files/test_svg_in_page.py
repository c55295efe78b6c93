"""True size: units, view boxes and where the page's corner is."""

from __future__ import annotations

import math

import pytest

from tests.files.svg_text import SQUARE, area_mm2, box_mm, only_piece, read
from wedgework.files.problems import UnitUnknown
from wedgework.pattern.errors import FileRefused
from wedgework.units.scale import Unit

PX_MM = 25.4 / 96


@pytest.mark.parametrize(
    ("unit", "unit_mm"),
    [("mm", 1), ("cm", 10), ("in", 25.4), ("pt", 25.4 / 72), ("pc", 25.4 / 6), ("Q", 0.25)],
)
def test_a_root_of_true_size_scales_its_view_box(unit, unit_mm):
    page = f'width="200{unit}" height="100{unit}" viewBox="0 0 200 100"'
    assert area_mm2(only_piece(SQUARE, page)) == pytest.approx(600 * unit_mm**2, rel=1e-14)


@pytest.mark.parametrize("size", ['width="200MM"', 'width=" 20cm "', 'height="100mm"'])
def test_one_side_of_true_size_is_enough(size):
    page = f'{size} viewBox="0 0 200 100"'
    assert box_mm(only_piece(SQUARE, page)) == pytest.approx([10, -40, 30, -10], abs=1e-12)


def test_without_a_view_box_a_true_page_has_96_units_to_the_inch():
    box = box_mm(only_piece(SQUARE, 'width="200mm" height="100mm"'))
    assert box == pytest.approx([10 * PX_MM, -40 * PX_MM, 30 * PX_MM, -10 * PX_MM], abs=1e-12)


def test_the_corner_of_the_page_is_the_origin_wherever_the_view_box_starts():
    box = box_mm(only_piece(SQUARE, 'width="200mm" height="100mm" viewBox="-5 2 200 100"'))
    assert box == pytest.approx([15, -38, 35, -8], abs=1e-12)


@pytest.mark.parametrize(
    ("align", "box"),
    [
        ("", [60, -40, 80, -10]),
        ("xMidYMid", [60, -40, 80, -10]),
        ("xMinYMid meet", [10, -40, 30, -10]),
        ("xMaxYMax", [110, -40, 130, -10]),
        ("none", [20, -40, 60, -10]),
        ("xMidYMid slice", [20, -30, 60, 30]),
        ("xMinYMin slice", [20, -80, 60, -20]),
        ("xMidYMax slice", [20, 20, 60, 80]),
    ],
)
def test_the_view_box_is_laid_into_the_page_as_it_asks(align, box):
    page = f'width="200mm" height="100mm" viewBox="0 0 100 100" preserveAspectRatio="{align}"'
    assert box_mm(only_piece(SQUARE, page)) == pytest.approx(box, abs=1e-12)


@pytest.mark.parametrize(
    "page",
    [
        "",
        'width="200" height="100"',
        'width="200px" height="100px"',
        'width="100%" height="100%" viewBox="0 0 200 100"',
        'viewBox="0 0 200 100"',
        'width="20em" height="abc" viewBox="0 0 200 100"',
    ],
)
def test_without_a_true_size_the_unit_is_asked_for(page):
    with pytest.raises(UnitUnknown, match="how large it is"):
        read(SQUARE, page)


@pytest.mark.parametrize("unit", [Unit.MM, Unit.CM, Unit.IN, Unit.PX])
@pytest.mark.parametrize("page", ["", 'width="77" height="55" viewBox="0 0 200 100"'])
def test_the_unit_says_what_one_user_unit_is(unit, page):
    area = area_mm2(only_piece(SQUARE, page, unit=unit))
    assert area == pytest.approx(600 * unit.mm**2, rel=1e-14)


def test_a_unit_does_not_change_a_page_of_true_size():
    assert area_mm2(only_piece(SQUARE, unit=Unit.IN)) == pytest.approx(600, rel=1e-14)


def test_a_page_in_pixels_keeps_its_corner_when_a_unit_is_said():
    # The view box, 100 wide, stands in the middle of a page of 200: half a page, 50 units.
    page = 'width="400" height="200" viewBox="0 0 100 100"'
    box = box_mm(only_piece(SQUARE, page, unit=Unit.MM))
    assert box == pytest.approx([60, -40, 80, -10], abs=1e-12)


def test_a_view_box_alone_starts_its_page():
    box = box_mm(only_piece(SQUARE, 'viewBox="-5 2 200 100"', unit=Unit.CM))
    assert box == pytest.approx([150, -380, 350, -80], abs=1e-12)


@pytest.mark.parametrize("page", ['width="0mm" height="1mm"', 'width="-3mm" viewBox="0 0 1 1"'])
def test_a_page_of_no_size_is_refused(page):
    with pytest.raises(FileRefused, match="nothing to show"):
        read(SQUARE, page)


def test_an_inch_is_kept_to_the_last_bit():
    page = 'width="8.5in" height="11in" viewBox="0 0 8.5 11"'
    piece = only_piece('<rect width="8" height="10"/>', page)
    assert box_mm(piece)[2] == 8 * 25.4


@pytest.mark.parametrize(
    ("length", "length_px"),
    [
        ("1in", 96.0),
        ("1px", 1.0),
        ("100mm", 377.9527559055118),
        ("1pt", 96 / 72),
        ("1pc", 16.0),
        ("1Q", 96 / 101.6),
        ("50%", 100.0),
        ("2em", 32.0),
    ],
)
def test_lengths_inside_the_drawing_are_in_user_units(length, length_px):
    # Source: W3C CSS Values and Units, absolute lengths.
    piece = only_piece(f'<rect width="{length}" height="1"/>', 'width="53mm" viewBox="0 0 200 90"')
    left, _, right, _ = box_mm(piece)
    assert right - left == pytest.approx(length_px * 53 / 200, rel=1e-9)


def test_a_circle_of_a_metre_is_within_a_hundredth_of_a_millimetre():
    page = 'width="3000mm" height="3000mm" viewBox="0 0 3000 3000"'
    piece = only_piece('<circle cx="1500" cy="1500" r="1000"/>', page)
    assert area_mm2(piece) == pytest.approx(math.pi * 1e6, rel=1e-6)
