"""What goes out as SVG comes in again: ids, seam lines, marks, lines and labels."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests import small
from tests.files.full import full_project
from tests.files.svg_text import area_mm2, read
from wedgework.files.svg_in import read_svg
from wedgework.files.svg_out import write_svg
from wedgework.geometry.length import point_at

CORNER_RAD = math.radians(15)


def back(project):
    return read_svg(write_svg(project), corner_rad=CORNER_RAD)[0]


def shift_between(before, after):
    first = next(iter(before.pieces.values())).edges[0].curve.start
    return next(iter(after.pieces.values())).edges[0].curve.start - first


@pytest.mark.parametrize("make", [small.square, small.curved_square, full_project])
def test_every_seam_line_comes_back_up_to_one_shift(make):
    before = make()
    after = back(before)
    shift = shift_between(before, after)
    for piece in before.pieces.values():
        for edge, found in zip(piece.all_edges(), after.pieces[piece.id].all_edges(), strict=True):
            gap = np.abs(edge.curve.segments + shift - found.curve.segments).max()
            assert gap < 1e-8


def test_ids_of_pieces_edges_corners_lines_cutouts_and_labels_come_back():
    before = full_project()
    after = back(before)
    assert list(after.pieces) == list(before.pieces)
    for piece in before.pieces.values():
        assert list(after.pieces[piece.id].own_ids()) == list(piece.own_ids())


def test_how_a_piece_is_cut_comes_back():
    before, after = full_project(), back(full_project())
    for piece in before.pieces.values():
        found = after.pieces[piece.id]
        assert (found.cutting, found.fold_edge, found.quantity) == (
            piece.cutting,
            piece.fold_edge,
            piece.quantity,
        )


def test_allowances_and_finishes_come_back():
    before, after = full_project(), back(full_project())
    for piece in before.pieces.values():
        told = [(edge.allowance_mm, edge.finish) for edge in piece.all_edges()]
        found = after.pieces[piece.id].all_edges()
        assert [(edge.allowance_mm, edge.finish) for edge in found] == told


def test_notches_come_back_on_both_sides_of_their_seam():
    before, after = full_project(), back(full_project())
    for notch in before.notches.values():
        found = after.notches[notch.id]
        spots = {notch.at, notch.mate} - {None}
        assert {found.at, found.mate} - {None} == spots
        assert found.double == notch.double


def test_holes_come_back_with_their_size():
    before, after = full_project(), back(full_project())
    for hole in before.holes.values():
        found = after.holes[hole.id]
        assert {found.at, found.mate} == {hole.at, hole.mate}
        assert found.diameter_mm == pytest.approx(hole.diameter_mm, abs=1e-6)
        assert found.inset_mm == pytest.approx(hole.inset_mm, abs=1e-3)


def test_a_second_way_round_changes_nothing_more():
    once = write_svg(back(full_project()))
    assert write_svg(read_svg(once, corner_rad=CORNER_RAD)[0]) == once


def test_nothing_is_told_of_a_file_of_our_own():
    assert read_svg(write_svg(full_project()), corner_rad=CORNER_RAD)[1] == ()


CLASSES = (
    '<g id="front"><path class="cut" d="M10 10H110V90H10Z"/>'
    '<path class="seam" d="M20 20H100V80H20Z"/><path class="internal" d="M30 30V70"/>'
    '<path class="mark" d="M50 12V20"/><text class="label" x="40" y="40">Front</text></g>'
)


def test_classes_alone_say_what_each_line_is():
    project, problems = read(CLASSES)
    (piece,) = project.pieces.values()
    assert (piece.id, problems) == ("front", ())
    assert area_mm2(piece) == pytest.approx(80 * 60)
    assert [edge.allowance_mm for edge in piece.edges] == [10, 10, 10, 10]
    assert ([line.id for line in piece.lines], piece.labels[0].text) == (["front.l1"], "Front")


def test_a_mark_without_a_place_stands_on_the_nearest_edge():
    project, _ = read(CLASSES)
    (notch,) = project.notches.values()
    edge = next(e for e in project.pieces["front"].edges if e.id == notch.at.edge)
    assert np.allclose(point_at(edge.curve, notch.at.at_mm), [50, -20])


def test_groups_with_classes_stand_beside_plain_outlines():
    project, _ = read(CLASSES + '<rect id="plain" x="150" y="10" width="20" height="20"/>')
    assert list(project.pieces) == ["front", "plain"]
