"""Rows of punched holes: one datum, two sides that meet, also round a curve and through a lap."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.drawing.pieces import draw_project
from wedgework.drawing.recorder import Circled, Recorder
from wedgework.edits.marks import MoveMark, RemoveMarks, StopTear
from wedgework.edits.rows import AddPunchRow, MoveRow, SetRow
from wedgework.edits.seams import SetSeam, Unjoin
from wedgework.geometry.curve import reversed_curve
from wedgework.geometry.motion import moved, translation
from wedgework.pattern.changes import new_project, with_edges_replaced
from wedgework.pattern.document import Project, Spot
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.rows import punch_row


def two_of_one_curve(bulge: float = 0.2) -> Project:
    """Panels `a` and `b` cut from one curved line, so that their seam joins flat."""
    project = small.two_panels(bulge=bulge)
    a, b = project.pieces["a"], project.pieces["b"]
    line = moved(the_edge(project, "a.e2").curve, translation((100.0, 0.0)))
    left = replace(the_edge(project, "b.e4"), curve=reversed_curve(line))
    return new_project(
        a, with_edges_replaced(b, {left.id: left}), seams=[small.seam("s", "a.e2", "-b.e4")]
    )


def circles(project: Project) -> dict[str, list[np.ndarray]]:
    """Centres of the punched holes of each piece."""
    found: dict[str, list[np.ndarray]] = {piece: [] for piece in project.pieces}
    recorder = Recorder()
    draw_project(project, recorder)
    for one in recorder.drawn:
        if isinstance(one, Circled):
            edge = dict(one.ink.said)["edge"]
            found[project.owners[edge]].append(np.round(one.centre, 6))
    return found


def stations(project: Project, row: str = "s.r1") -> tuple[float, ...]:
    return punch_row(project, row).stations_mm


def test_as_many_holes_as_fit_with_what_is_left_shared_between_both_ends():
    row = AddPunchRow(seam="s", pitch_mm=30.0)
    after = check_edit(row, small.two_panels())
    assert stations(after) == pytest.approx((20.0, 50.0, 80.0))
    assert list(after.holes) == ["s.r1.o1", "s.r1.o2", "s.r1.o3"]


def test_a_number_alone_is_spread_evenly_between_the_ends():
    after = check_edit(AddPunchRow(seam="s", number=5), small.two_panels())
    assert stations(after) == pytest.approx((10, 30, 50, 70, 90))


def test_a_pitch_between_two_margins_is_made_exact():
    row = AddPunchRow(edge="p.e1", pitch_mm=22.0, first_mm=8.0, last_mm=12.0)
    after = check_edit(row, small.square(100))
    assert stations(after, "p.e1.r1") == pytest.approx((8.0, 28.0, 48.0, 68.0, 88.0))


def test_a_first_hole_that_is_said_stays_there():
    after = check_edit(AddPunchRow(seam="s", pitch_mm=30.0, first_mm=5.0), small.two_panels())
    assert stations(after) == pytest.approx((5.0, 35.0, 65.0))


def test_a_row_on_a_lapped_seam_goes_through_the_middle_of_the_lap():
    after = check_edit(AddPunchRow(seam="s", pitch_mm=20.0), small.two_panels())
    found = circles(after)
    assert {float(at[0]) for at in found["a"]} == {96.0}
    assert {float(at[0]) for at in found["b"]} == {196.0}


@given(bulge=st.floats(-0.25, 0.25), pitch=st.floats(7.0, 30.0), over=st.sampled_from("ab"))
def test_both_rows_fall_on_each_other_round_a_curve_and_through_two_layers(bulge, pitch, over):
    project = SetSeam(seam="s", over=over).apply(two_of_one_curve(bulge))
    after = AddPunchRow(seam="s", pitch_mm=pitch).apply(project)
    found = circles(after)
    assert np.array(found["b"]) - (100.0, 0.0) == pytest.approx(np.array(found["a"]), abs=1e-5)


def test_a_row_of_lacing_lies_inside_both_edges():
    row = AddPunchRow(seam="s", number=3, inset_mm=12.0, through=False)
    found = circles(check_edit(row, small.two_panels()))
    assert {float(at[0]) for at in found["a"]} == {88.0}
    assert {float(at[0]) for at in found["b"]} == {212.0}


def test_a_piece_lapped_to_its_own_mirror_image_is_punched_on_its_seam_line():
    front = replace(small.rectangle("f", 100, 200), cutting="pair")
    project = new_project(front, seams=[small.seam("s", "f.e2", "~f.e2")])
    after = check_edit(AddPunchRow(seam="s", number=2), project)
    assert [at.tolist() for at in circles(after)["f"]] == [[100.0, 10.0], [100.0, 190.0]]


def test_moving_a_row_moves_both_sides_alike():
    project = AddPunchRow(seam="s", pitch_mm=30.0).apply(small.two_panels())
    after = check_edit(MoveRow(row="s.r1", by_mm=-7.5), project)
    assert stations(after) == pytest.approx((12.5, 42.5, 72.5))
    assert after.holes["s.r1.o1"].mate == Spot("b.e4", pytest.approx(87.5))


def test_a_row_does_not_leave_its_seam():
    project = AddPunchRow(seam="s", pitch_mm=30.0).apply(small.two_panels())
    assert "−20.0 to +20.0" in refused(MoveRow(row="s.r1", by_mm=21.0), project).sentence
    refused(MoveRow(row="s.r9", by_mm=1.0), project)


def test_a_row_is_changed_as_one_and_its_holes_keep_their_names():
    project = AddPunchRow(seam="s", pitch_mm=30.0).apply(small.two_panels())
    wide = check_edit(SetRow(row="s.r1", diameter_mm=3.0, inset_mm=2.0), project)
    assert {(hole.diameter_mm, hole.inset_mm) for hole in wide.holes.values()} == {(3.0, 2.0)}
    dense = check_edit(SetRow(row="s.r1", pitch_mm=20.0), wide)
    assert stations(dense) == pytest.approx((10, 30, 50, 70, 90))
    assert list(dense.holes)[:3] == list(wide.holes)
    assert list(check_edit(SetRow(row="s.r1", number=2), dense).holes) == list(wide.holes)[:2]


def test_the_first_hole_of_a_row_can_be_set_and_the_pitch_stays():
    project = AddPunchRow(seam="s", pitch_mm=30.0).apply(small.two_panels())
    after = check_edit(SetRow(row="s.r1", first_mm=4.0), project)
    assert stations(after) == pytest.approx((4.0, 34.0, 64.0))
    both = check_edit(SetRow(row="s.r1", first_mm=4.0, last_mm=6.0), project)
    assert stations(both) == pytest.approx((4.0, 49.0, 94.0))


def test_setting_what_a_row_has_changes_nothing():
    project = AddPunchRow(seam="s", pitch_mm=30.0).apply(small.two_panels())
    assert SetRow(row="s.r1", diameter_mm=2.0).apply(project) is project


def test_a_row_stays_in_the_middle_of_a_lap_that_gets_another_width():
    project = AddPunchRow(seam="s", pitch_mm=30.0).apply(small.two_panels())
    after = check_edit(SetSeam(seam="s", lap_mm=20.0), project)
    assert {hole.inset_mm for hole in after.holes.values()} == {10.0}
    inner = SetRow(row="s.r1", inset_mm=3.0).apply(project)
    assert SetSeam(seam="s", lap_mm=20.0).apply(inner).holes["s.r1.o1"].inset_mm == 3.0


def test_a_row_taken_apart_stays_where_it_was_punched():
    project = AddPunchRow(seam="s", pitch_mm=30.0).apply(small.two_panels())
    before, after = circles(project), circles(check_edit(Unjoin(seam="s"), project))
    for piece in ("a", "b"):
        was, now = (np.array(sorted(map(tuple, one[piece]))) for one in (before, after))
        assert now == pytest.approx(was, abs=1e-5)


def test_a_hole_of_a_row_that_is_moved_by_hand_takes_its_mate_along():
    project = AddPunchRow(seam="s", pitch_mm=30.0).apply(small.two_panels())
    after = check_edit(MoveMark(mark="s.r1.o2", at_mm=55.0), project)
    assert stations(after) == pytest.approx((20.0, 55.0, 80.0))


@pytest.mark.parametrize(
    "row",
    [
        AddPunchRow(pitch_mm=20.0),
        AddPunchRow(seam="s", edge="a.e1", pitch_mm=20.0),
        AddPunchRow(seam="s"),
        AddPunchRow(seam="s", pitch_mm=20.0, first_mm=60.0, last_mm=60.0),
        AddPunchRow(seam="s", pitch_mm=30.0, number=4),
        AddPunchRow(seam="s", pitch_mm=20.0, inset_mm=9.0),
        AddPunchRow(seam="s", pitch_mm=0.01),
        AddPunchRow(seam="none", pitch_mm=20.0),
    ],
)
def test_a_row_that_finds_no_place_is_refused(row):
    refused(row, small.two_panels())


def test_nothing_goes_through_both_sides_of_a_butted_seam():
    project = SetSeam(seam="s", join="butted").apply(small.two_panels())
    refused(AddPunchRow(seam="s", pitch_mm=20.0, through=True), project)
    after = check_edit(AddPunchRow(seam="s", pitch_mm=20.0), project)
    assert {hole.inset_mm for hole in after.holes.values()} == {6.0}


def test_the_apex_of_a_dart_is_punched_against_tearing():
    after = check_edit(StopTear(dart="d1", diameter_mm=3.0), small.darted_front())
    (hole,) = after.holes.values()
    assert hole.at == Spot("p.e2", pytest.approx(math.hypot(15.0, 90.0)))
    refused(StopTear(dart="d1"), after)
    refused(StopTear(dart="s"), small.two_panels())


def test_a_whole_row_is_removed_by_its_name():
    project = AddPunchRow(seam="s", pitch_mm=30.0).apply(small.two_panels())
    assert not check_edit(RemoveMarks(marks=("s.r1",)), project).holes
