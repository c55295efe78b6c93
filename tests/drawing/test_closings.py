"""The ends of a closing on both of its sides."""

import numpy as np
import pytest

from tests import small
from wedgework.drawing.closings import closing_marks
from wedgework.drawing.pieces import draw_project
from wedgework.drawing.recorder import Recorder
from wedgework.drawing.words import edge_words
from wedgework.edits.closings import CloseSeam
from wedgework.pattern.cutlines import derived_lines
from wedgework.pattern.lookup import the_edge


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


@pytest.mark.parametrize(
    ("kind", "overlap_mm", "said"),
    [
        ("zip", None, "zip"),
        ("lacing", None, "lacing"),
        ("left_open", None, "left open"),
        ("snaps", None, "snaps, under, lap 22"),
        ("zip", 10.0, "zip, under, lap 10"),
    ],
)
def test_an_edge_that_opens_says_what_closes_it_and_has_no_tape_behind_it(kind, overlap_mm, said):
    closing = CloseSeam(seam="s", kind=kind, overlap_mm=overlap_mm, pitch_mm=20.0)
    project = closing.apply(small.two_panels(400, 400))
    piece = project.pieces["b"]
    words = edge_words(project, piece, the_edge(project, "b.e4"))
    assert words.endswith(f"({said})")
    assert "tape" not in words
    assert not [one for one in derived_lines(project, piece) if one.kind == "tape"]
