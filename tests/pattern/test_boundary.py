"""The open boundary of what is joined so far."""

from __future__ import annotations

import math

import pytest

from tests import small
from wedgework.pattern.boundary import Boundary, Side
from wedgework.pattern.document import Project
from wedgework.pattern.instances import made_seams


def boundary(project: Project) -> Boundary:
    made = Boundary(project)
    made.join(made_seams(project))
    return made


def following(project: Project, edge: str, *, mirrored: bool = False):
    return boundary(project).after(Side(edge, mirrored))


def test_without_seams_the_next_edge_of_the_piece_follows():
    side, corner = following(small.square(), "p.e1")
    assert side == Side("p.e2", mirrored=False)
    assert corner.angle_rad == pytest.approx(math.pi / 2)
    assert not corner.over_seam


def test_across_a_seam_the_edge_of_the_other_piece_follows():
    side, corner = following(small.two_panels(), "a.e1")
    assert side == Side("b.e1", mirrored=False)
    assert corner.angle_rad == pytest.approx(math.pi)
    assert corner.over_seam


def test_across_a_fold_the_mirror_image_follows():
    side, corner = following(small.fold_front(), "p.e3")
    assert side == Side("p.e3", mirrored=True)
    assert corner.over_fold


def test_the_mirror_image_is_walked_the_other_way_round():
    side, _ = following(small.fold_front(), "p.e3", mirrored=True)
    assert side == Side("p.e2", mirrored=True)


def test_a_tube_has_two_rims_that_close():
    project = small.ring_of_panels(4)
    made = boundary(project)
    side, seen = Side("p1.e1", mirrored=False), []
    for _ in range(4):
        seen.append(side.edge)
        side, _ = made.after(side)
    assert seen == ["p1.e1", "p2.e1", "p3.e1", "p4.e1"]
    assert side == Side("p1.e1", mirrored=False)
    assert not made.is_open(Side("p1.e2", mirrored=False))


def test_round_several_pieces_a_corner_adds_up():
    side, corner = following(small.yoke_over_two(), "left.e2")
    assert side == Side("right.e4", mirrored=False)
    assert corner.angle_rad == pytest.approx(2 * math.pi)
