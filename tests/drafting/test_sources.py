"""What a draft reads from edges, and when these are no longer what they were."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests import small
from wedgework.drafting.sources import has_changed, measured_sources
from wedgework.geometry.curve import Curve
from wedgework.pattern.changes import with_pieces

REFS = ("p.e1", "p.e2")
LOPSIDED = np.array([[0.0, 0.0], [5.0, -30.0], [60.0, -30.0], [100.0, 0.0]])


def with_curve(points, index=0):
    """A square whose edge is one cubic between its own corners."""
    project = small.square()
    piece = project.pieces["p"]
    edges = list(piece.edges)
    edges[index] = replace(edges[index], curve=Curve(points[None]))
    return with_pieces(project, replace(piece, edges=tuple(edges)))


def test_the_same_edges_have_not_changed():
    project = with_curve(LOPSIDED)
    now = measured_sources(project, REFS)
    assert not has_changed(now, measured_sources(project, REFS))


def test_an_edge_of_one_length_and_turning_and_another_shape_has_changed():
    before = measured_sources(with_curve(LOPSIDED), REFS)
    turned_round = (np.array([100.0, 0.0]) - LOPSIDED * [1.0, -1.0])[::-1]
    now = measured_sources(with_curve(turned_round), REFS)
    assert now["p.e1"][:2] == pytest.approx(before["p.e1"][:2])
    assert has_changed(before, now)


def test_what_one_source_gained_and_another_lost_has_changed():
    before = {"a": (100.0, 0.0, 50.0), "b": (80.0, 0.0, 40.0)}
    assert has_changed(before, {"a": (108.0, 0.0, 54.0), "b": (72.0, 0.0, 36.0)})


def test_a_source_that_was_split_is_the_same_as_before():
    before = {"a": (100.0, 0.5, 50.0)}
    assert not has_changed(before, {"a.1": (30.0, 0.2, 15.0), "a.2": (70.0, 0.3, 35.0)})


def test_a_recipe_of_before_the_third_figure_is_held_against_the_two_that_it_has():
    assert not has_changed({"a": (100.0, 0.5)}, {"a": (100.0, 0.5, 50.0)})
    assert has_changed({"a": (100.0, 0.5)}, {"a": (101.0, 0.5, 50.0)})
