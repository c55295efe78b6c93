import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refs_of, refused
from tests.edits.measuring import area_mm2, curve, edge_ids, edge_mm
from wedgework.edits import Place
from wedgework.edits.body import AddLevel, LevelPoint
from wedgework.edits.mirror import MirrorPiece
from wedgework.edits.slash import SlashSpread
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Spot
from wedgework.pattern.levels import flat_girth_mm


def slash(piece, start, start_mm, end, end_mm, *gaps):
    return SlashSpread(
        piece=piece,
        from_=Place(start, start_mm),
        to=Place(end, end_mm),
        open_mm=gaps[0],
        open_to_mm=gaps[1] if len(gaps) > 1 else 0.0,
    )


def corner(project, edge):
    return curve(project, edge).start


def test_a_parallel_slash_adds_the_same_everywhere():
    after = check_edit(slash("p", "p.e1", 40, "p.e3", 60, 25, 25), small.square())
    assert area_mm2(after.pieces["p"]) == pytest.approx(12500, abs=1e-6)
    assert edge_mm(after, "p.e2") == pytest.approx(100, abs=1e-9)
    assert edge_ids(after.pieces["p"]) == [
        "p.e1.1", "p.e1.fill", "p.e1.2", "p.e2", "p.e3.1", "p.e3.fill", "p.e3.2", "p.e4"
    ]  # fmt: skip


def test_a_hinged_slash_turns_the_right_side_about_its_end():
    # TRADE 4: 60 at 300 in one slash is 2 asin(60/600) = 11.478 degrees.
    project = new_project(small.rectangle("p", 200, 300))
    after = check_edit(slash("p", "p.e1", 100, "p.e3", 100, 60), project)
    angle = corner_angle(after.pieces["p"], "p.e3.c")
    assert math.degrees(angle - math.pi) == pytest.approx(11.478, abs=1e-3)
    assert edge_mm(after, "p.e1.fill") == pytest.approx(60, abs=1e-9)
    assert np.array_equal(corner(after, "p.e4"), corner(project, "p.e4"))


def test_a_slash_hinged_at_its_start_opens_at_its_end():
    after = check_edit(slash("p", "p.e1", 50, "p.e3", 50, 0, 20), small.square())
    assert "p.e3.fill" in edge_ids(after.pieces["p"])
    assert edge_mm(after, "p.e3.fill") == pytest.approx(20, abs=1e-9)
    assert "p.e1.fill" not in edge_ids(after.pieces["p"])


def test_unequal_gaps_turn_about_the_point_where_there_would_be_none():
    after = check_edit(slash("p", "p.e1", 50, "p.e3", 50, 30, 10), small.square())
    assert edge_mm(after, "p.e1.fill") == pytest.approx(30, abs=1e-9)
    assert edge_mm(after, "p.e3.fill") == pytest.approx(10, abs=1e-9)


def test_the_fill_joins_the_run_of_the_edge_that_it_opened():
    after = check_edit(slash("b", "b.e4", 40, "b.e2", 60, 20), small.two_panels())
    assert refs_of(after, "s") == (["a.e2"], ["-b.e4.2", "-b.e4.fill", "-b.e4.1"])


def test_a_slash_from_a_corner_fills_beside_the_edge_that_is_named():
    after = check_edit(slash("b", "b.e4", 0, "b.e2", 0, 20), small.two_panels())
    assert refs_of(after, "s") == (["a.e2"], ["-b.e4", "-b.e4.fill"])


def test_opposite_gaps_are_refused():
    refused(slash("p", "p.e1", 50, "p.e3", 50, 10, -10), small.square())


def test_gaps_of_nothing_change_nothing():
    project = small.square()
    assert slash("p", "p.e1", 50, "p.e3", 50, 0).apply(project) is project


def test_a_gap_wider_than_the_slash_can_open_is_refused():
    refused(slash("p", "p.e1", 50, "p.e3", 50, 250), small.square())


def test_a_slash_that_would_leave_the_piece_is_refused():
    refused(slash("p", "p.e1", 50, "p.e1", 90, 10), small.square())


def test_a_spread_that_would_run_into_itself_is_refused():
    hook = small.piece_of_points(
        "u", (0, 0), (100, 0), (100, 100), (60, 100), (60, 40), (50, 40), (50, 100), (0, 100)
    )
    refused(slash("u", "u.e1", 55, "u.e5", 0, -5, -60), new_project(hook))
    refused(slash("u", "u.e1", 55, "u.e5", 5, 60, 0), new_project(hook))


def test_a_parallel_closing_takes_a_strip_out():
    after = check_edit(slash("p", "p.e1", 40, "p.e3", 60, -10, -10), small.square())
    assert area_mm2(after.pieces["p"]) == pytest.approx(9000, abs=1e-6)
    assert edge_mm(after, "p.e1.2") == pytest.approx(50, abs=1e-6)
    assert edge_ids(after.pieces["p"]) == ["p.e1.1", "p.e1.2", "p.e2", "p.e3.1", "p.e3.2", "p.e4"]


def test_closing_what_was_opened_gives_the_area_back():
    opened = slash("p", "p.e1", 40, "p.e3", 60, 30).apply(small.square())
    closed = check_edit(slash("p", "p.e1.1", 40, "p.e3.1", 60, -30), opened)
    assert area_mm2(closed.pieces["p"]) == pytest.approx(10000, abs=1e-6)
    assert "p.e1.fill" not in edge_ids(closed.pieces["p"])


def test_closing_more_than_there_is_beside_the_slash_is_refused():
    refused(slash("p", "p.e1", 90, "p.e3", 10, -20, -20), small.square())


def test_closing_over_an_edge_that_alone_makes_a_seam_is_refused():
    piece = small.piece_of_points("a", (0, 0), (50, 0), (55, 0), (100, 0), (100, 100), (0, 100))
    other = small.rectangle("b", 5, 50, y=-80)
    project = new_project(piece, other, seams=[small.seam("s", "a.e2", "-b.e3")])
    assert refused(slash("a", "a.e1", 50, "a.e5", 50, -10, -10), project).culprit == "s"


def test_what_is_drawn_on_the_moving_side_moves_with_it():
    project = small.with_everything()
    after = check_edit(slash("a", "a.e1", 50, "a.e3", 50, 10, 10), project)
    piece = after.pieces["a"]
    assert piece.labels[0].at_mm == pytest.approx([80, 50])
    assert piece.cutouts[0] is project.pieces["a"].cutouts[0]
    assert [line.id for line in piece.lines] == ["a.l3", "a.l1.1", "a.l2.1", "a.l1.2", "a.l2.2"]
    level = [line for line in piece.lines if line.level == "waist"]
    assert sum(np.ptp(line.curve.segments[..., 0]) for line in level) == pytest.approx(100)


@pytest.mark.parametrize(("gaps", "most"), [((10, 10), 110.0), ((20, 0), 108.0)])
def test_a_level_that_was_slashed_is_as_wide_as_the_piece_and_counts_once(gaps, most):
    points = (LevelPoint(piece="p", y_mm=60),)
    project = AddLevel(name="waist", points=points).apply(small.square())
    after = check_edit(slash("p", "p.e1", 50, "p.e3", 50, *gaps), project)
    assert flat_girth_mm(after, "waist") == pytest.approx(most, abs=0.2)


def test_marks_keep_their_place_on_what_was_not_cut():
    after = check_edit(slash("a", "a.e1", 50, "a.e3", 50, 10, 10), small.with_everything())
    assert after.notches["n1"].at == Spot("a.e2", 40.0)
    assert after.notches["n2"].at == Spot("a.e1.1", 25.0)


def test_a_fold_is_not_slashed():
    refusal = refused(slash("p", "p.e2", 50, "p.e4", 150, 10), small.fold_front())
    assert refusal.culprit == "p.e4"
    assert "open equally far at both ends, or unfold the piece first" in refusal.sentence


def test_both_ways_out_of_a_slashed_fold_lead_out():
    equal = check_edit(slash("p", "p.e2", 50, "p.e4", 150, 10, 10), small.fold_front())
    assert equal.pieces["p"].fold_edge == "p.e4"
    unfolded = MirrorPiece(piece="p", about="p.e4").apply(small.fold_front())
    opposite = next(edge for edge in unfolded.pieces["p"].edges if edge.curve.start[0] < -50)
    check_edit(slash("p", "p.e2", 50, opposite.id, 50, 10), unfolded)


def test_a_piece_on_the_fold_spreads_beside_its_fold():
    after = check_edit(slash("p", "p.e3", 50, "p.e1", 50, 10), small.fold_front())
    assert after.pieces["p"].fold_edge == "p.e4"


@settings(max_examples=60)
@given(
    small.blobs(),
    st.tuples(st.integers(1, 5), st.integers(1, 5)),
    small.two_ratios(),
    st.tuples(small.millimetres(0, 30), small.millimetres(0, 30), st.sampled_from([1, -1])),
)
def test_edges_that_a_slash_does_not_cut_keep_their_length(project, edges, ratios, gaps):
    ends = [
        (f"p.e{number}", ratio * edge_mm(project, f"p.e{number}"))
        for number, ratio in zip(edges, ratios, strict=True)
    ]
    opens = gaps[0] * gaps[2], gaps[1] * gaps[2]
    after = check_or_refuse(slash("p", *ends[0], *ends[1], *opens), project)
    if after is not None:
        for edge in project.pieces["p"].edges:
            if edge.id in edge_ids(after.pieces["p"]):
                assert edge_mm(after, edge.id) == pytest.approx(edge_mm(project, edge.id), abs=1e-6)
