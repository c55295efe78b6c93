"""Gauss-Bonnet over made-up garments, from curves and seam table alone."""

from __future__ import annotations

import math

import pytest
from hypothesis import given

from tests import small
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Project
from wedgework.pattern.surface import Surface, surfaces


def the_surface(project: Project) -> Surface:
    (surface,) = surfaces(project)
    return surface


def assert_gauss_bonnet(project: Project) -> None:
    for surface in surfaces(project):
        whole = surface.shaping_rad + surface.boundary_rad
        assert whole == pytest.approx(2 * math.pi * surface.euler, abs=1e-9)


@given(small.blobs())
def test_a_flat_piece_is_a_disc_whose_edge_turns_once(project):
    surface = the_surface(project)
    assert (surface.euler, surface.shaping_rad) == (1, 0.0)
    assert surface.boundary_rad == pytest.approx(2 * math.pi, abs=1e-9)


def test_a_round_piece_of_one_edge_is_a_disc():
    assert the_surface(small.disc()).euler == 1
    assert_gauss_bonnet(small.disc())


def test_a_cut_out_makes_a_ring():
    with_hole = small.with_everything()
    assert surfaces(with_hole)[0].euler == 0
    assert_gauss_bonnet(with_hole)


def test_a_tube_of_panels_has_no_euler_number_and_turns_nowhere():
    surface = the_surface(small.ring_of_panels(5))
    assert surface.euler == 0
    assert surface.shaping_rad == pytest.approx(0.0, abs=1e-12)
    assert surface.boundary_rad == pytest.approx(0.0, abs=1e-12)


def test_a_dart_puts_in_its_angle_and_takes_it_off_the_boundary():
    surface = the_surface(small.darted_front(intake_mm=30, depth_mm=90))
    angle = 2 * math.atan2(15, 90)
    assert surface.shaping_rad == pytest.approx(angle, abs=1e-12)
    assert surface.boundary_rad == pytest.approx(2 * math.pi - angle, abs=1e-12)


def test_a_seam_between_a_fold_and_a_pair_is_made_on_both_sides():
    surface = the_surface(small.pair_and_fold())
    assert surface.euler == 1
    assert_gauss_bonnet(small.pair_and_fold())


def test_a_run_over_two_pieces_closes_with_the_seam_between_them():
    joined = small.yoke_over_two()
    seams = [*joined.seams.values(), small.seam("m", "left.e2", "-right.e4")]
    project = new_project(*joined.pieces.values(), seams=seams)
    assert the_surface(project).euler == 1
    assert_gauss_bonnet(project)


def test_a_laid_on_seam_joins_no_surfaces():
    project = small.two_panels(joined=False)
    laid = small.seam("s", "a.e2", "-b.e4", laid_on=True)
    apart = new_project(*project.pieces.values(), seams=[laid])
    assert len(surfaces(apart)) == 2
    assert_gauss_bonnet(apart)


def test_a_cube_of_six_squares_holds_four_pi():
    assert the_surface(cube()).shaping_rad == pytest.approx(4 * math.pi, abs=1e-12)
    assert the_surface(cube()).euler == 2


def cube() -> Project:
    """Four sides in a ring, a top and a bottom. Source of 4 pi: Descartes' total angular defect."""
    sides = [small.rectangle(f"p{i + 1}", 60, 60, x=i * 100.0) for i in range(4)]
    top, bottom = small.rectangle("top", 60, 60, y=200), small.rectangle("bottom", 60, 60, y=400)
    ring = [small.seam(f"s{i + 1}", f"p{i + 1}.e2", f"-p{(i + 1) % 4 + 1}.e4") for i in range(4)]
    lids = [small.seam(f"t{i + 1}", f"top.e{i + 1}", f"-p{i + 1}.e3") for i in range(4)]
    turned = [1, 4, 3, 2]
    floor = [small.seam(f"u{i + 1}", f"bottom.e{turned[i]}", f"-p{i + 1}.e1") for i in range(4)]
    return new_project(*sides, top, bottom, seams=[*ring, *lids, *floor])
