"""The ends of a closing on both of its sides."""

import numpy as np

from tests import small
from wedgework.drawing.closings import closing_marks
from wedgework.drawing.pieces import draw_project
from wedgework.drawing.recorder import Recorder
from wedgework.edits.closings import CloseSeam


def test_a_t_stands_at_each_end_of_both_sides_inside_the_piece():
    project = CloseSeam(seam="s", from_mm=100.0, kind="zip").apply(small.two_panels(400, 400))
    marks = list(closing_marks(project, project.pieces["a"]))
    assert len(marks) == 4
    feet = sorted(mark.start.tolist() for mark in marks[::2])
    assert np.allclose(feet, [[100, 100], [100, 400]])
    assert all(np.allclose(mark.end, mark.start - [8, 0]) for mark in marks[::2])
    pen = Recorder()
    draw_project(project, pen)
    said = [stroke.ink.said for stroke in pen.strokes("internal")]
    assert said.count((("kind", "closing"),)) == 8
    assert not list(closing_marks(small.two_panels(), project.pieces["a"]))
