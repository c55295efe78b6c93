"""Many things moved at once."""

from __future__ import annotations

import numpy as np
import pytest

from tests import small
from tests.edits.checking import check_edit, described, refused
from wedgework.edits import decode_plain
from wedgework.edits.move import MoveCorner, MovePiece
from wedgework.geometry.tolerances import SAME_POINT_MM


def move(*things, by=(7.0, -3.0)):
    return decode_plain({"edit": "move_things", "things": list(things), "by_mm": list(by)})


def corners(project, piece="p"):
    return np.array([edge.curve.start for edge in project.pieces[piece].edges])


@pytest.mark.parametrize("start", [small.square, small.curved_square, small.disc])
def test_one_corner_moves_as_it_does_alone(start):
    alone = MoveCorner(corner="p.c1", by_mm=(7.0, 3.0)).apply(start())
    assert described(check_edit(move("p.c1", by=(7.0, 3.0)), start())) == described(alone)


def test_an_edge_whose_ends_both_move_goes_as_it_is():
    project = small.curved_square()
    after = check_edit(move("p.c2", "p.c3"), project)
    by = after.pieces["p"].edges[1].curve.segments - project.pieces["p"].edges[1].curve.segments
    assert np.abs(by - [7.0, -3.0]).max() < SAME_POINT_MM
    assert check_edit(move("p.e2"), project).pieces["p"].edges[1].curve.segments.tolist() == (
        after.pieces["p"].edges[1].curve.segments.tolist()
    )


def test_all_corners_together_move_the_outline_and_nothing_else():
    project = small.with_everything()
    ring = [edge.corner for edge in project.pieces["a"].edges]
    after = check_edit(move(*ring, by=(4.0, 2.0)), project)
    assert (corners(after, "a") - corners(project, "a")).tolist() == [[4.0, 2.0]] * 4
    assert after.pieces["a"].labels == project.pieces["a"].labels


def test_what_a_moved_piece_holds_goes_along_once():
    project = small.two_panels()
    after = check_edit(move("a", "a.c1", "a.e2", "b"), project)
    alone = MovePiece(piece="b", by_mm=(7.0, -3.0)).apply(
        MovePiece(piece="a", by_mm=(7.0, -3.0)).apply(project)
    )
    assert described(after) == described(alone)


def test_corners_of_several_pieces_labels_and_lines_move_in_one_edit():
    project = small.with_everything()
    after = check_edit(move("a.c3", "b.c4", "a.t1", "a.l1"), project)
    assert after.pieces["a"].labels[0].at_mm.tolist() == [77.0, 47.0]
    assert after.pieces["a"].lines[0].curve.start.tolist() == [7.0, 57.0]
    assert corners(after, "b")[3].tolist() == [207.0, 97.0]


def test_an_edge_of_a_cut_out_moves_with_its_corners():
    after = check_edit(move("a.k1", by=(5.0, 5.0)), small.with_everything())
    moved = after.pieces["a"].cutouts[0].edges[0].curve.start
    assert moved.tolist() == [25.0, 25.0]


@pytest.mark.parametrize("own", ["s", "n1", "waist", "a.l2", "nowhere"])
def test_what_hangs_elsewhere_is_refused_in_words(own):
    refused(move("a", own), small.with_everything())


def test_a_move_that_would_fold_the_outline_over_is_refused():
    refused(move("p.c1", "p.c2", by=(0.0, 150.0)), small.square())


def test_moving_by_nothing_changes_nothing():
    project = small.square()
    assert move("p.c1", "p", by=(0.0, 0.0)).apply(project) is project
