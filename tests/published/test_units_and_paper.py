"""Units, inch fractions and paper against published values (rows A21-A26, B1-B7, B9, B10, B22).

Sources stand beside the values; the tolerance is the source's own.
"""

from __future__ import annotations

import json

import pytest

from wedgework.resources import resource_path
from wedgework.units import (
    PAPER_MM,
    Unit,
    paper_mm,
    parse_length_mm,
    plotter_units,
    points_of_mm,
)

# ASTM D5585-11e1, table 1, in inches; sizes 00 0 2 4 6 8 10 12 14 16 18 20; size 8 in mm.
BUST = "31 1/8, 31 3/4, 33, 34 1/8, 35 1/4, 36 1/4, 37 1/4, 38 3/4, 40 3/8, 42 1/8, 44, 46"
UNDER_BUST = "25 3/4, 26 1/2, 27 1/4, 28, 29, 30, 31, 32 1/2, 34, 35 3/4, 37 5/8, 39 5/8"
WAIST = "23 7/8, 24 5/8, 25 3/8, 26 1/8, 27, 28, 29, 30 3/4, 32 1/2, 34 1/2, 36 3/4, 39"
NECK = "13 1/4, 13 1/2, 13 3/4, 14, 14 1/4, 14 5/8, 14 7/8, 15 1/8, 15 1/2, 15 3/4, 16, 16 3/8"
SHOULDERS = "37 1/8, 37 3/4, 38 3/8, 39, 39 3/4, 40 1/2, 41 1/4, 42, 43, 44 1/4, 45 1/2, 46 7/8"
SIZE_8 = [
    (BUST, 920.750),
    (UNDER_BUST, 762.000),
    (WAIST, 711.200),
    (NECK, 371.475),
    (SHOULDERS, 1028.700),
]
# Whole intake from bust to under-bust in inches: the difference of the two rows above.
INTAKE_IN = [5.375, 5.25, 5.75, 6.125, 6.25, 6.25, 6.25, 6.25, 6.375, 6.375, 6.375, 6.375]


def read_mm(row):
    return [parse_length_mm(cell, Unit.IN) for cell in row.split(",")]


@pytest.mark.parametrize(("row", "size_8_mm"), SIZE_8)
def test_a_row_of_inch_fractions_rises_and_size_8_is_right(row, size_8_mm):
    lengths_mm = read_mm(row)
    assert len(lengths_mm) == 12
    assert lengths_mm == sorted(lengths_mm)
    assert lengths_mm[5] == size_8_mm


def test_differences_of_inch_fractions_are_exact():
    pairs = zip(read_mm(BUST), read_mm(UNDER_BUST), strict=True)
    assert [(bust - under) / 25.4 for bust, under in pairs] == pytest.approx(INTAKE_IN, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "wanted_mm"), [("1 inch", 25.4), ("1/2 in", 12.7), ("1.25 cm", 12.5)]
)
def test_an_inch_is_that_of_1959(text, wanted_mm):
    # B1: international yard and pound agreement, 1959.
    assert parse_length_mm(text) == wanted_mm


def test_css_pixels():
    # B2: W3C CSS Values and Units, absolute lengths.
    assert Unit.IN.mm / Unit.PX.mm == pytest.approx(96, abs=1e-7)
    assert Unit.PX.mm == pytest.approx(0.2645833333, abs=1e-7)
    assert 100 / Unit.PX.mm == pytest.approx(377.9527559, abs=1e-7)


def test_css_points_picas_and_quarters_are_exact():
    # B3: same source.
    assert (Unit.PT.exact_mm * 72, Unit.PC.exact_mm * 6) == (Unit.IN.exact_mm, Unit.IN.exact_mm)
    assert Unit.Q.exact_mm * 4 == 1


def test_the_unit_of_pdf():
    # B4: ISO 32000-1, table 30, UserUnit.
    assert 1 / points_of_mm(1.0) == pytest.approx(0.3527777778, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "points"),
    [("A4", (595.2756, 841.8898)), ("A3", (841.8898, 1190.5512)), ("Letter", (612.0, 792.0))],
)
def test_pages_in_points(name, points):
    # B5: from B4 with B6 and B7.
    assert [points_of_mm(side) for side in paper_mm(name)] == pytest.approx(points, abs=1e-3)


def test_sheets_of_paper():
    # B6: ISO 216. B7: ANSI/ASME Y14.1.
    iso = {"A0": (841, 1189), "A1": (594, 841), "A2": (420, 594), "A3": (297, 420)}
    assert {**iso, "A4": (210, 297), "Letter": (215.9, 279.4)} == PAPER_MM


def test_plotter_units():
    # B9: HP PCL/PJL Reference, Technical Reference Manual Part II, table 17-7.
    assert (plotter_units(1.0), plotter_units(25.4)) == (40, 1016)


@pytest.mark.parametrize(("length_mm", "units"), [(100.0, 4000), (123.456, 4938)])
def test_a_plotter_rounds_to_the_nearest_unit(length_mm, units):
    # B10: from B9; the error is never above half a unit.
    assert plotter_units(length_mm) == units
    assert abs(units / 40 - length_mm) <= 0.0125


def test_the_published_schema_names_its_dialect():
    # B22: the meta-schema of JSON Schema 2020-12, in which `items` takes no list any more.
    schema = json.loads(resource_path("wedge.schema.json").read_text(encoding="utf-8"))
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert '"items": [' not in json.dumps(schema)
