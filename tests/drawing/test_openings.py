"""Strokes along the edges that an opening passes."""

import numpy as np

from tests import small
from wedgework.drawing.openings import opening_marks
from wedgework.edits.openings import MarkOpening


def test_strokes_stand_inside_the_edges_of_an_opening_and_of_no_other():
    project = MarkOpening(name="top", edges=("p1.e3",), measure="head_girth_mm").apply(
        small.ring_of_panels(4)
    )
    marks = list(opening_marks(project, project.pieces["p1"]))
    assert len(marks) == 5
    assert np.allclose([mark.start[1] for mark in marks], 98.0)
    assert np.allclose([mark.end[1] for mark in marks], 92.0)
    assert np.allclose(sorted(mark.start[0] for mark in marks), [6, 18, 30, 42, 54])
    assert not list(opening_marks(project, project.pieces["p2"]))
