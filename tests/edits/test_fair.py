"""Fair: waves go, corners stay, and what is to be kept is kept."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refused
from wedgework.edits.fair import FairEdge
from wedgework.edits.marks import AddNotches
from wedgework.geometry.curve import Curve
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.turning import (
    angle_between,
    curvatures_at,
    end_tangent,
    joint_turnings_rad,
    start_tangent,
)
from wedgework.pattern.changes import new_project, with_edges_replaced, with_pieces
from wedgework.pattern.document import Project
from wedgework.pattern.lookup import the_edge


def wavering(wave_mm: float = 30.0, height_mm: float = 1.5) -> Project:
    """A piece whose right edge, 300 long, is an even bow with waves upon it."""
    y = np.linspace(0.0, 300.0, 61)
    x = 200 + 20 * np.sin(math.pi * y / 300) + height_mm * np.sin(math.tau * y / wave_mm)
    x[[0, -1]] = 200.0
    piece = small.piece_of_points("p", (0, 0), (200, 0), (200, 300), (0, 300))
    edge = replace(piece.edges[1], curve=smooth_through(np.stack([x, y], axis=1)))
    return new_project(with_edges_replaced(piece, {edge.id: edge}))


def waver(curve: Curve) -> float:
    """The variation of curvature: the integral of the square of its change, in 1/mm**3."""
    at = np.linspace(0.0, length_mm(curve), 2001)
    return float((np.diff(curvatures_at(curve, at)) ** 2).sum() / at[1])


def right(project: Project) -> Curve:
    return the_edge(project, "p.e2").curve


def fair(over_mm: float, keep: str = "ends") -> FairEdge:
    return FairEdge(edge="p.e2", over_mm=over_mm, keep=keep)  # type: ignore[arg-type]


@pytest.mark.parametrize("keep", ["ends", "length", "both"])
def test_waves_go_and_corners_stay_bit_for_bit(keep):
    project = wavering()
    after = check_edit(fair(90.0, keep), project)
    assert waver(right(after)) < waver(right(project)) / 50
    assert right(after).start.tolist() == right(project).start.tolist()
    assert right(after).end.tolist() == right(project).end.tolist()


@pytest.mark.parametrize("keep", ["ends", "both"])
def test_directions_at_the_ends_stay(keep):
    project = wavering()
    after = check_edit(fair(90.0, keep), project)
    for tangent in (start_tangent, end_tangent):
        assert angle_between(tangent(right(project)), tangent(right(after))) == pytest.approx(
            0.0, abs=1e-9
        )


@pytest.mark.parametrize("keep", ["length", "both"])
def test_the_length_stays(keep):
    project = wavering()
    after = check_edit(fair(90.0, keep), project)
    assert length_mm(right(after)) == pytest.approx(length_mm(right(project)), abs=1e-9)


def test_the_shape_under_the_waves_stays():
    after = check_edit(fair(90.0), wavering())
    for at in (75.0, 150.0, 225.0):
        x, y = point_at(right(after), at)
        assert x == pytest.approx(200 + 20 * math.sin(math.pi * y / 300), abs=0.5)


def test_a_wave_of_the_named_length_is_halved():
    project = wavering(wave_mm=30.0, height_mm=0.2)
    after = check_edit(fair(30.0), project)
    y = np.linspace(90.0, 210.0, 481)
    at = np.array([point_at(right(after), d) for d in np.linspace(80, 230, 1501)])
    x = np.interp(y, at[:, 1], at[:, 0]) - 200 - 20 * np.sin(math.pi * y / 300)
    height = 2 * float((x * np.sin(math.tau * y / 30)).mean())
    assert height == pytest.approx(0.1, abs=0.01)


def test_a_kink_inside_an_edge_is_rounded():
    piece = small.piece_of_points("p", (0, 0), (200, 0), (200, 300), (0, 300))
    bent = (
        smooth_through([(200, 0), (220, 150)]).segments,
        smooth_through([(220, 150), (200, 300)]).segments,
    )
    edge = replace(piece.edges[1], curve=Curve(np.concatenate(bent)))
    project = new_project(with_edges_replaced(piece, {edge.id: edge}))
    after = check_edit(fair(60.0), project)
    assert np.abs(joint_turnings_rad(right(after))).max() < 1e-6


def test_longer_waves_are_smoothed_the_more():
    wavers = [waver(right(check_edit(fair(over), wavering()))) for over in (20.0, 40.0, 80.0)]
    assert wavers == sorted(wavers, reverse=True)


def test_a_straight_edge_is_left_alone():
    project = small.square()
    assert FairEdge(edge="p.e2", over_mm=50).apply(project) is project


def test_a_fold_is_straight():
    refused(FairEdge(edge="p.e4", over_mm=50), small.fold_front())


def test_notches_keep_their_fraction():
    project = check_edit(AddNotches(edge="p.e2", at_mm=(100.0,)), wavering())
    share = 100.0 / length_mm(right(project))
    after = check_edit(fair(90.0), project)
    (notch,) = after.notches.values()
    assert notch.at.at_mm / length_mm(right(after)) == pytest.approx(share)


@given(small.garment_curves(), st.floats(5.0, 400.0), st.sampled_from(["ends", "length", "both"]))
def test_any_edge_keeps_what_is_to_be_kept(curve, over_mm, keep):
    up = np.array([0.0, 900.0])
    points = [curve.start, curve.end, curve.end + up, curve.start + up]
    piece = small.piece_of_points("p", *(tuple(point.tolist()) for point in points))
    edge = replace(piece.edges[0], curve=curve)
    project = with_pieces(new_project(piece), with_edges_replaced(piece, {edge.id: edge}))
    after = check_or_refuse(FairEdge(edge="p.e1", over_mm=over_mm, keep=keep), project)
    if after is not None and keep != "ends":
        assert length_mm(the_edge(after, "p.e1").curve) == pytest.approx(length_mm(curve), abs=2e-9)
