"""Cut lines: seam line, allowance, and the lap of whatever lies under."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
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


def flared(*, mm: float = 20.0, finish="hem", bulge: float = 0.0) -> Project:
    """A panel that is wider below by 45 degrees on its left, and tapers on its right."""
    panel = small.piece_of_points("p", (0, 0), (200, 0), (230, 100), (100, 100), bulge=bulge)
    project = with_allowance(new_project(panel), "p.e1", mm)
    return with_pieces(project, small.with_finish(project.pieces["p"], "p.e1", finish))


def outline_box(project: Project) -> list[tuple[float, float]]:
    (ring,) = cut_outline(project, project.pieces["p"])
    return [tuple(np.round(one.curve.start, 6).tolist()) for one in ring]


def test_the_ends_of_a_turned_hem_are_its_sides_mirrored():
    """At 20 mm deep a side that leans by 45 degrees comes in by 20, one that leans out by 6."""
    corners = outline_box(flared())
    assert {(20.0, -20.0), (206.0, -20.0)} <= set(corners)


def test_an_open_edge_with_an_allowance_has_its_sides_drawn_on():
    corners = outline_box(flared(finish="open"))
    assert (-20.0, -20.0) in corners


def test_turned_up_the_allowance_lies_on_the_piece_to_its_very_sides():
    """Laps of the sides as well: the mirrored cut line of the allowance is that of the piece."""
    project = with_allowance(flared(), "p.e4", 8.0)
    (ring,) = cut_outline(project, project.pieces["p"])
    left = min((one.curve.start for one in ring), key=lambda point: (round(point[1]), point[0]))
    # The cut line of the left side runs through y = x + 8 sqrt 2.
    assert -left[1] == pytest.approx(left[0] + 8 * math.sqrt(2), abs=0.01)
    assert left[1] == pytest.approx(-20.0, abs=1e-6)


def test_a_square_hem_is_as_deep_and_as_long_as_its_edge():
    project = with_allowance(new_project(small.rectangle("p", 100, 50)), "p.e1", 15.0)
    turned = with_pieces(project, small.with_finish(project.pieces["p"], "p.e1", "hem"))
    assert cut_areas(turned, "p") == pytest.approx([100 * 65])


def test_a_hem_that_bows_is_mirrored_in_its_direction_at_the_corner():
    (area,) = cut_areas(flared(bulge=0.05), "p")
    (drawn_on,) = cut_areas(flared(bulge=0.05, finish="open"), "p")
    assert area < drawn_on


def test_beside_a_fold_a_hem_is_drawn_on():
    half = small.piece_of_points("p", (0, 0), (100, -20), (100, 200), (0, 200))
    half = replace(small.with_finish(half, "p.e1", "hem"), cutting="fold", fold_edge="p.e4")
    project = with_allowance(new_project(half), "p.e1", 10.0)
    (ring,) = cut_outline(project, project.pieces["p"])
    assert min(one.curve.start[0] for one in ring) == pytest.approx(0.0, abs=1e-9)
