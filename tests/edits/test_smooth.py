import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, refused
from tests.edits.measuring import curve
from wedgework.edits.smooth import SharpenCorner, SmoothCorner
from wedgework.geometry.curve import is_straight
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.changes import new_project


def angle_deg(project, corner):
    return math.degrees(corner_angle(project.pieces["p"], corner))


def test_a_smooth_corner_is_one_of_180_degrees():
    after = check_edit(SmoothCorner(corner="p.c2"), small.square())
    assert angle_deg(after, "p.c2") == pytest.approx(180)
    assert angle_deg(after, "p.c3") == pytest.approx(90)


def test_a_straight_edge_beside_a_curved_one_stays_straight():
    piece = small.curved_square().pieces["p"]
    edges = list(piece.edges)
    edges[0] = small.replace(edges[0], curve=small.line((0, 0), (100, 0)))
    project = new_project(small.replace(piece, edges=tuple(edges)))
    after = check_edit(SmoothCorner(corner="p.c2"), project)
    assert is_straight(curve(after, "p.e1"), 1e-9)
    assert angle_deg(after, "p.c2") == pytest.approx(180)


def test_a_corner_that_is_smooth_already_stays_as_it_is():
    project = small.disc()
    assert SmoothCorner(corner="p.c1").apply(project) is project


def test_a_corner_beside_a_fold_stays_a_corner():
    refused(SmoothCorner(corner="p.c1"), small.fold_front())


def test_a_smooth_corner_is_made_sharp_again():
    smooth = SmoothCorner(corner="p.c2").apply(small.square())
    after = check_edit(SharpenCorner(corner="p.c2"), smooth)
    assert angle_deg(after, "p.c2") == pytest.approx(90, abs=1e-6)
    assert np.array_equal(curve(after, "p.e1").end, [100, 0])


def test_a_round_piece_gets_a_corner_where_it_starts():
    after = check_edit(SharpenCorner(corner="p.c1"), small.disc())
    assert angle_deg(after, "p.c1") < 170


@given(small.blobs(), st.integers(1, 5))
def test_any_corner_becomes_smooth(project, number):
    after = check_edit(SmoothCorner(corner=f"p.c{number}"), project)
    assert angle_deg(after, f"p.c{number}") == pytest.approx(180, abs=1e-6)
