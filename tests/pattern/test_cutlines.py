"""Cut lines: seam line, allowance, and the lap of whatever lies under."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests import small
from wedgework.geometry.extent import ring_area_mm2
from wedgework.pattern.changes import new_project, with_edges_replaced, with_pieces, with_seams
from wedgework.pattern.cutlines import cut_outline, outset_mm, placement_lines
from wedgework.pattern.document import Project
from wedgework.pattern.lookup import the_edge, the_seam


def cut_areas(project: Project, piece: str) -> list[float]:
    rings = cut_outline(project, project.pieces[piece])
    return [ring_area_mm2([stretch.curve for stretch in ring]) for ring in rings]


def with_allowance(project: Project, edge: str, mm: float) -> Project:
    old = the_edge(project, edge)
    piece = project.pieces[project.owners[edge]]
    return with_pieces(project, with_edges_replaced(piece, {edge: replace(old, allowance_mm=mm)}))


def test_the_over_side_is_cut_on_its_seam_line_and_the_under_side_a_lap_outside():
    project = small.two_panels()
    assert cut_areas(project, "a") == pytest.approx([100 * 100])
    assert cut_areas(project, "b") == pytest.approx([100 * 108])


def test_the_under_side_changes_with_the_seam():
    project = small.two_panels()
    other = with_seams(project, replace(the_seam(project, "s"), over="b"))
    assert cut_areas(other, "a") == pytest.approx([100 * 108])


@pytest.mark.parametrize("join", ["butted", "superimposed", "bound"])
def test_only_a_lapped_seam_has_a_lap(join):
    project = small.two_panels()
    other = with_seams(project, replace(the_seam(project, "s"), join=join))
    assert cut_areas(other, "b") == pytest.approx([100 * 100])


def test_an_allowance_comes_on_top_of_the_lap():
    project = with_allowance(small.two_panels(), "b.e4", 2.0)
    assert outset_mm(project, the_edge(project, "b.e4")) == pytest.approx(10.0)


def test_a_piece_lapped_to_its_own_mirror_image_takes_half_the_lap():
    front = replace(small.rectangle("f", 100, 200), cutting="pair")
    project = new_project(front, seams=[small.seam("s", "f.e2", "~f.e2")])
    assert cut_areas(project, "f") == pytest.approx([104 * 200])
    (line,) = placement_lines(project, project.pieces["f"])
    assert line.curve.start == pytest.approx([96, 0])


def test_an_allowance_of_a_cut_out_makes_the_hole_smaller():
    project = with_allowance(small.with_everything(), "h.e1", 2.0)
    outline, hole = cut_areas(project, "a")
    assert outline == pytest.approx(100 * 100)
    assert hole == pytest.approx(-10 * 8)


def test_the_placement_line_of_an_under_side_is_its_seam_line():
    project = small.two_panels()
    (line,) = placement_lines(project, project.pieces["b"])
    assert line.curve is the_edge(project, "b.e4").curve
    assert placement_lines(project, project.pieces["a"]) == ()


def test_each_stretch_of_a_cut_line_knows_its_edge():
    project = small.two_panels()
    (ring,) = cut_outline(project, project.pieces["b"])
    assert {stretch.edge for stretch in ring} == {"b.e1", "b.e2", "b.e3", "b.e4"}
