"""Drawn intake: measured on the edges, it adds up to what the girths differ by."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_projects.build import DEMOS, built
from tests import small
from wedgework.edits import decode_plain
from wedgework.edits.body import AddLevel, LevelPoint, SetBody
from wedgework.pattern.changes import new_project
from wedgework.pattern.drawn import edge_intakes, shared_out
from wedgework.pattern.levels import flat_girth_mm
from wedgework.pattern.wanted import drawn_intake, fullest_level, whole_intake


def with_levels(project, heights, girths=None):
    """Level `l1`.. at heights in every piece, the body as round as the girths say."""
    for index, (y_mm, girth) in enumerate(
        zip(heights, girths or (500.0, 400.0, 450.0), strict=False), start=1
    ):
        measure = ("bust_girth_mm", "waist_girth_mm", "hip_girth_mm")[index - 1]
        points = tuple(LevelPoint(piece=own, y_mm=y_mm) for own in project.pieces)
        project = AddLevel(name=f"l{index}", points=points, measure=measure).apply(project)
        project = SetBody(measures={measure: girth}).apply(project)
    return project


def sums(project, level, fullest):
    """All intake of seams and darts, that of what is in none, and what the girths differ by."""
    levels = project.levels
    seams, open_mm = shared_out(project, edge_intakes(project, levels[level], levels[fullest]))
    girths = flat_girth_mm(project, fullest) - flat_girth_mm(project, level)
    return sum(seams.values()), open_mm, girths


@given(small.blobs(corners=6), st.tuples(*[st.integers(-40, 40)] * 2))
def test_intakes_of_all_edges_sum_to_what_the_girths_differ_by(project, heights):
    whole = with_levels(project, [float(at) for at in heights])
    seams, open_mm, girths = sums(whole, "l2", "l1")
    assert seams + open_mm == pytest.approx(girths, abs=1e-6)


@given(st.lists(small.millimetres(-20, 20), min_size=6, max_size=6))
def test_every_seam_and_fold_counts_as_often_as_it_is_made(shifts):
    a, b, c, d, e, f = shifts
    front = small.piece_of_points(
        "f", (0, 0), (100 + a, 0), (100 + b, 90), (100 + c, 200), (0, 200)
    )
    front = small.with_finish(front, "f.e5", "fold")
    side = small.piece_of_points(
        "g", (150 + d, 0), (210, 0), (210 + f, 200), (150, 200), (150 + e, 90)
    )
    project = new_project(
        replace(front, cutting="fold", fold_edge="f.e5"),
        replace(side, cutting="pair"),
        seams=[small.seam("s", "f.e2 f.e3", "-g.e5 -g.e4"), small.seam("back", "g.e2", "~g.e2")],
    )
    whole = with_levels(project, [150.0, 60.0])
    seams, open_mm, girths = sums(whole, "l2", "l1")
    assert seams + open_mm == pytest.approx(girths, abs=1e-6)
    assert open_mm == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("file", ["heron_costume.wedge", "kingfisher_shaped.wedge"])
def test_a_demo_s_intakes_sum_to_its_girths(file):
    project = built(next(one for one in DEMOS if one.file == file))
    for level in project.levels.values():
        whole = whole_intake(project, level)
        if whole is not None:
            seams, open_mm, girths = sums(project, level.id, whole.fullest)
            assert seams + open_mm == pytest.approx(girths, abs=1e-6)
            assert whole.drawn_mm == pytest.approx(girths)


def test_a_straight_seam_has_drawn_nothing_and_a_shaped_one_what_was_taken_out():
    heron = built(next(one for one in DEMOS if one.file == "heron_costume.wedge"))
    drawn = {
        own: {row.level: row.drawn_mm for row in drawn_intake(heron, heron.seams[own])}
        for own in ("centre_back.2", "front.cut", "back.cut")
    }
    assert drawn["centre_back.2"]["waist"] == pytest.approx(0.0, abs=1e-6)
    # Slices of 43.9 and 23.6 mm at the waist are what the demo's edits took out.
    assert drawn["front.cut"]["waist"] == pytest.approx(43.9, abs=0.2)
    assert drawn["back.cut"]["waist"] == pytest.approx(23.6, abs=0.2)


def test_a_slice_of_one_seam_is_drawn_by_that_seam_alone():
    project = with_levels(small.ring_of_panels(4, width_mm=120, height_mm=300), [250.0, 100.0])
    after = decode_plain(
        {
            "edit": "shape_seam",
            "seam": "s1",
            "intake": [
                {"at_mm": 0, "width_mm": 0},
                {"at_mm": 100, "width_mm": 30},
                {"at_mm": 250, "width_mm": 0},
            ],
        }
    ).apply(project)
    drawn = {
        own: drawn_intake(after, after.seams[own])[0].drawn_mm for own in ("s1", "s2", "s3", "s4")
    }
    assert drawn == {
        "s1": pytest.approx(30.0, abs=0.01), "s2": pytest.approx(0.0, abs=1e-6),
        "s3": pytest.approx(0.0, abs=1e-6), "s4": pytest.approx(0.0, abs=1e-6),
    }  # fmt: skip


def test_a_dart_has_drawn_its_gap():
    project = with_levels(small.darted_front(30.0, 200.0, 90.0), [200.0, 45.0])
    seams, open_mm, girths = sums(project, "l2", "l1")
    assert seams == pytest.approx(15.0)
    assert (open_mm, girths) == (pytest.approx(0.0, abs=1e-9), pytest.approx(15.0))


def test_a_piece_below_is_held_against_what_does_not_come_down():
    """A bodice of two pieces 120 wide over a lower part of two pieces 100 wide: 20 a piece."""
    upper = [small.rectangle(f"u{i}", 120, 100, x=i * 300.0, y=200.0) for i in (1, 2)]
    lower = [small.rectangle(f"w{i}", 100, 100, x=i * 300.0) for i in (1, 2)]
    project = new_project(
        *upper, *lower,
        seams=[
            small.seam("su", "u1.e2", "-u2.e4"), small.seam("tu", "u2.e2", "-u1.e4"),
            small.seam("sw", "w1.e2", "-w2.e4"), small.seam("tw", "w2.e2", "-w1.e4"),
        ],
    )  # fmt: skip
    for name, pieces, y_mm in (("top", "u", 250.0), ("low", "w", 50.0)):
        points = tuple(LevelPoint(piece=f"{pieces}{i}", y_mm=y_mm) for i in (1, 2))
        project = AddLevel(name=name, points=points).apply(project)
    seams, open_mm = shared_out(
        project, edge_intakes(project, project.levels["low"], project.levels["top"])
    )
    assert seams == {"sw": pytest.approx(20.0), "tw": pytest.approx(20.0)}
    assert open_mm == pytest.approx(0.0)


def test_a_sleeve_is_held_against_its_own_fullest_level():
    trunk, sleeve = small.rectangle("t", 400, 100), small.rectangle("a", 120, 100, x=600)
    project = new_project(trunk, sleeve)
    rows = (("bust", "t", 80.0, "bust_girth_mm"), ("arm", "a", 80.0, "upper_arm_girth_mm"),
            ("wrist", "a", 20.0, "wrist_girth_mm"))  # fmt: skip
    for name, piece, y_mm, measure in rows:
        point = LevelPoint(piece=piece, y_mm=y_mm)
        project = AddLevel(name=name, points=(point,), measure=measure).apply(project)
    body = {"bust_girth_mm": 920.0, "upper_arm_girth_mm": 280.0, "wrist_girth_mm": 160.0}
    project = SetBody(measures=body).apply(project)
    fullest = {own: fullest_level(project, one).id for own, one in project.levels.items()}
    assert fullest == {"bust": "bust", "arm": "arm", "wrist": "arm"}
