import math

import numpy as np
import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits.drawn import (
    AddLabel,
    AddLine,
    MoveLabel,
    RemoveLabel,
    RemoveLevel,
    RemoveLine,
    SetLabel,
    SetLine,
)
from wedgework.edits.seams import JoinEdges


def test_a_line_is_drawn_straight_or_smooth():
    points = ((10, 10), (50, 40), (90, 10))
    straight = check_edit(AddLine(piece="p", kind="style", points_mm=points), small.square())
    assert straight.pieces["p"].lines[0].id == "p.l1"
    assert len(straight.pieces["p"].lines[0].curve) == 2
    smooth = check_edit(AddLine(piece="p", kind="fold", points_mm=points, smooth=True), straight)
    curve = smooth.pieces["p"].lines[1].curve
    assert np.abs(curve.segments[:, 0] - [50, 40]).max(axis=1).min() < 1e-9


def test_a_line_of_one_point_is_refused():
    refused(AddLine(piece="p", kind="style", points_mm=((1, 1),)), small.square())
    refused(AddLine(piece="p", kind="style", points_mm=((1, 1), (1, 1))), small.square())


def test_a_removed_line_is_gone():
    after = check_edit(RemoveLine(line="a.l1"), small.with_everything())
    assert [line.id for line in after.pieces["a"].lines] == ["a.l2", "a.l3"]


def test_a_line_that_something_hangs_on_stays():
    project = JoinEdges(name="skirt", a=("a.l1",), b=("b.e1",), laid_on=True).apply(
        small.with_everything()
    )
    assert refused(RemoveLine(line="a.l1"), project).culprit == "skirt"
    refused(RemoveLine(line="a.e1"), project)


def test_a_removed_level_takes_its_lines_along():
    after = check_edit(RemoveLevel(level="waist"), small.with_everything())
    assert not after.levels
    assert [line.id for line in after.pieces["a"].lines] == ["a.l1", "a.l3"]
    refused(RemoveLevel(level="hip"), small.with_everything())


def test_labels_are_written_moved_and_removed():
    label = AddLabel(piece="p", text="front", at_mm=(10, 20), angle_deg=90)
    written = check_edit(label, small.square())
    assert written.pieces["p"].labels[0].angle_rad == pytest.approx(math.pi / 2)
    moved = check_edit(MoveLabel(label="p.t1", by_mm=(5, -5)), written)
    assert moved.pieces["p"].labels[0].at_mm == pytest.approx([15, 15])
    assert not check_edit(RemoveLabel(label="p.t1"), moved).pieces["p"].labels


def test_a_line_is_no_label():
    refused(MoveLabel(label="a.l1", by_mm=(1, 1)), small.with_everything())


def test_a_grain_line_takes_a_typed_length_and_turn_about_its_middle():
    after = check_edit(SetLine(line="a.l3", length_mm=50, angle_deg=45), small.with_everything())
    curve = next(one for one in after.pieces["a"].lines if one.id == "a.l3").curve
    half = 25 / math.sqrt(2)
    assert np.stack([curve.start, curve.end]) == pytest.approx(
        np.array([[80 - half, 25 - half], [80 + half, 25 + half]])
    )


def test_a_line_moves_and_becomes_another_kind():
    edit = SetLine(line="a.l1", kind="fold", by_mm=(0, 5))
    line = check_edit(edit, small.with_everything()).pieces["a"].lines[0]
    assert (line.kind, line.curve.start.tolist()) == ("fold", [0, 65])


def test_setting_what_a_line_is_changes_nothing():
    project = small.with_everything()
    assert SetLine(line="a.l3", kind="grain", length_mm=30).apply(project) is project


def test_neither_a_level_nor_a_curve_is_set_by_length():
    refused(SetLine(line="a.l2", length_mm=50), small.with_everything())
    bent = AddLine(piece="p", kind="style", points_mm=((10, 10), (50, 40), (90, 10)), smooth=True)
    refused(SetLine(line="p.l1", angle_deg=10), bent.apply(small.square()))


def test_the_letters_of_a_label_are_set():
    after = check_edit(SetLabel(label="a.t1", height_mm=8, angle_deg=90), small.with_everything())
    label = after.pieces["a"].labels[0]
    assert (label.height_mm, label.angle_rad) == (8.0, math.pi / 2)
    refused(SetLabel(label="a.l1", height_mm=8), small.with_everything())
