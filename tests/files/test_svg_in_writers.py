"""The same pieces as thirteen writers of SVG write them, against areas and lengths known apart."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from fontTools.pens.areaPen import AreaPen

from tests.files.samples import make_samples as drawn
from tests.files.svg_text import CORNER_RAD, area_mm2, around_mm
from wedgework.files.problems import UnitUnknown
from wedgework.files.svg_in import read_svg
from wedgework.geometry.extent import ring_area_mm2
from wedgework.units.scale import Unit

SAMPLES = Path(__file__).parent / "samples"
NO_TRUE_SIZE = {"pymupdf": Unit.PT, "reportlab": Unit.PT, "skia": Unit.MM}
"""These say their page in bare numbers; the unit is what the script drew in."""

NAMED = {"drawsvg", "fonttools", "matplotlib", "svgwrite"}
WITHOUT_HOLE = {"fonttools"}
WITHOUT_LINE = {"fonttools"}
WITH_WORD = {"drawsvg", "matplotlib", "pymupdf", "reportlab", "svgwrite"}
ROUND = {"fonttools": 5e-3}
"""How far a disc may be off, relatively: eight quadratics are 0.3 % too large. Others: 5e-4."""

ALL = sorted(path.stem for path in SAMPLES.glob("*.svg"))


def read_sample(name):
    data = (SAMPLES / f"{name}.svg").read_bytes()
    return read_svg(data, corner_rad=CORNER_RAD, unit=NO_TRUE_SIZE.get(name))


def pieces_of(name):
    """L, panel and disc, whatever the writer called them."""
    return list(read_sample(name)[0].pieces.values())


def panel_area_mm2():
    pen = AreaPen()
    pen.moveTo(drawn.PANEL[0])
    pen.curveTo(*drawn.PANEL[1:4])
    pen.lineTo(drawn.PANEL[4])
    pen.lineTo(drawn.PANEL[5])
    pen.closePath()
    return abs(pen.value)


def panel_around_mm():
    nodes, weights = np.polynomial.legendre.leggauss(64)
    t = (nodes + 1)[:, None] / 2
    a, b, c, d = (np.array(one, dtype=float) for one in drawn.PANEL[:4])
    speed = 3 * ((1 - t) ** 2 * (b - a) + 2 * (1 - t) * t * (c - b) + t * t * (d - c))
    bow = float(np.hypot(*speed.T) @ weights / 2)
    return bow + 60 + 80 + 60


def check(pieces, name):
    ell, panel, disc = pieces
    assert area_mm2(ell) == pytest.approx(1750, rel=1e-4)
    assert around_mm(ell) == pytest.approx(200, rel=1e-4)
    assert area_mm2(panel) == pytest.approx(panel_area_mm2(), rel=1e-4)
    assert around_mm(panel) == pytest.approx(panel_around_mm(), rel=2e-4)
    assert area_mm2(disc) == pytest.approx(math.pi * 400, rel=ROUND.get(name, 5e-4))
    assert [len(piece.edges) for piece in pieces] == [6, 4, 1]


def test_there_are_samples_of_more_than_eight_writers():
    told = (SAMPLES / "WRITERS.txt").read_text(encoding="utf-8")
    assert len(ALL) > 8
    assert [name for name in ALL if f"{name}.svg:" not in told] == []


@pytest.mark.parametrize("name", ALL)
def test_areas_lengths_and_edges_are_right(name):
    check(pieces_of(name), name)


@pytest.mark.parametrize("name", sorted(set(ALL) - WITHOUT_HOLE))
def test_the_hole_is_a_cutout(name):
    _, panel, _ = pieces_of(name)
    (hole,) = panel.cutouts
    area = ring_area_mm2(edge.curve for edge in hole.edges)
    assert area == pytest.approx(-math.pi * 64, rel=1e-3)


@pytest.mark.parametrize("name", sorted(set(ALL) - WITHOUT_LINE))
def test_the_line_is_in_its_piece(name):
    ell, _, _ = pieces_of(name)
    (line,) = ell.lines
    span = np.abs(line.curve.end - line.curve.start)
    assert span == pytest.approx([15, 30], abs=1e-2)


@pytest.mark.parametrize("name", sorted(WITH_WORD))
def test_the_word_is_a_label_of_its_piece(name):
    ell, _, _ = pieces_of(name)
    (label,) = ell.labels
    assert label.text == "Ell"
    assert label.height_mm == pytest.approx(5.0, rel=1e-2)
    assert label.angle_rad == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("name", sorted(NAMED))
def test_ids_come_along(name):
    assert [piece.id for piece in pieces_of(name)] == ["ell", "panel", "disc"]


@pytest.mark.parametrize("name", sorted(set(ALL) - NAMED))
def test_pieces_without_an_id_are_numbered(name):
    assert [piece.id for piece in pieces_of(name)] == ["p1", "p2", "p3"]


@pytest.mark.parametrize("name", sorted(NO_TRUE_SIZE))
def test_files_of_no_true_size_ask_for_a_unit(name):
    data = (SAMPLES / f"{name}.svg").read_bytes()
    with pytest.raises(UnitUnknown):
        read_svg(data, corner_rad=CORNER_RAD)


@pytest.mark.parametrize("name", ["ezdxf", "fonttools", "qt", "reportlab", "shapely"])
def test_what_these_writers_write_today_is_read_alike(name, tmp_path, qapp):
    assert qapp is not None
    to = tmp_path / "now.svg"
    drawn.WRITERS[name](to)
    project, _ = read_svg(to.read_bytes(), corner_rad=CORNER_RAD, unit=NO_TRUE_SIZE.get(name))
    check(list(project.pieces.values()), name)
