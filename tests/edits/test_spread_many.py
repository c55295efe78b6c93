import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refs_of, refused
from tests.edits.measuring import area_mm2, curve, edge_ids, edge_mm
from wedgework.edits.body import AddLevel, LevelPoint
from wedgework.edits.marks import AddNotches
from wedgework.edits.slash import SlashLine, SpreadMany
from wedgework.geometry.turning import (
    angle_between,
    end_tangent,
    joint_turnings_rad,
    start_tangent,
    turning_rad,
)
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Spot
from wedgework.pattern.levels import flat_girth_mm


def panel(width=300.0, height=300.0):
    return new_project(small.rectangle("p", width, height))


def line(start, start_mm, end, end_mm):
    return SlashLine(from_edge=start, from_mm=start_mm, to_edge=end, to_mm=end_mm)


def upright(x, width=300.0):
    """A slash from the lower edge straight up to the upper one."""
    return line("p.e1", x, "p.e3", width - x)


def many(*slashes, **more):
    return SpreadMany(piece="p", slashes=slashes, **more)


def turn_deg(project, first="p.e4", last="p.e2"):
    """How far the last edge has turned against the first, which were antiparallel."""
    one, other = start_tangent(curve(project, last)), -start_tangent(curve(project, first))
    return math.degrees(angle_between(other, one))


def test_slashes_all_alike_turn_the_far_side_by_all_their_angles():
    slashes = [upright(x) for x in (50, 100, 150, 200, 250)]
    after = check_edit(many(*slashes, open_mm=8.0), panel())
    assert turn_deg(after) == pytest.approx(5 * 2 * math.degrees(math.asin(8 / 600)))
    assert [edge_mm(after, own) for own in edge_ids(after.pieces["p"]) if "fill" in own] == (
        pytest.approx([8.0] * 5, abs=1e-9)
    )


def test_slashes_are_spaced_evenly_between_two():
    edit = many(upright(60), upright(240), count=4, open_mm=10.0, open_to_mm=10.0)
    after = check_edit(edit, panel())
    parts = [edge_mm(after, f"p.e1.{n}") for n in (1, 2, 3, 4, 5)]
    assert parts == pytest.approx([60, 60, 60, 60, 60], abs=1e-6)
    assert area_mm2(after.pieces["p"]) == pytest.approx(340 * 300, abs=1e-6)


def test_a_whole_edge_is_divided_evenly_without_its_ends():
    corners = line("p.e1", 0, "p.e3", 300), line("p.e1", 300, "p.e3", 0)
    after = check_edit(many(*corners, count=5, ends=False, open_mm=6.0), panel())
    assert [edge_mm(after, f"p.e1.{n}") for n in range(1, 7)] == pytest.approx([50] * 6, abs=1e-6)
    refused(many(*corners, count=5, open_mm=6.0), panel())


def test_graded_gaps_change_evenly_from_the_first_to_the_last():
    slashes = [upright(x) for x in (60, 120, 180, 240)]
    after = check_edit(many(*slashes, open_mm=(2.0, 8.0)), panel())
    fills = [edge_mm(after, own) for own in edge_ids(after.pieces["p"]) if "fill" in own]
    assert fills == pytest.approx([2, 4, 6, 8], abs=1e-9)


def test_each_gap_can_be_said():
    slashes = [upright(x) for x in (100, 150, 200)]
    after = check_edit(many(*slashes, open_mm=(5.0, 0.0, 9.0)), panel())
    fills = [edge_mm(after, own) for own in edge_ids(after.pieces["p"]) if "fill" in own]
    assert fills == pytest.approx([5, 9], abs=1e-9)
    refused(many(*slashes, upright(250), open_mm=(5.0, 0.0, 9.0)), panel())


def test_the_order_in_which_slashes_are_said_does_not_matter():
    slashes = [upright(x) for x in (200, 100, 150)]
    one = check_edit(many(*slashes, open_mm=(3.0, 1.0, 2.0)), panel())
    other = check_edit(many(*sorted(slashes, key=lambda s: s.from_mm), open_mm=(1.0, 2.0, 3.0)),
                       panel())  # fmt: skip
    assert edge_ids(one.pieces["p"]) == edge_ids(other.pieces["p"])
    assert np.array_equal(curve(one, "p.e2").segments, curve(other, "p.e2").segments)


def test_slashes_that_cross_or_are_drawn_from_other_sides_are_refused():
    crossing = line("p.e1", 100, "p.e3", 100), line("p.e1", 200, "p.e3", 200)
    refused(many(*crossing, open_mm=5.0), panel())
    against = upright(100), line("p.e3", 100, "p.e1", 200)
    refused(many(*against, open_mm=5.0), panel())
    refused(many(upright(100), upright(100), open_mm=5.0), panel())


def test_slashes_may_share_their_hinge_but_not_the_place_where_they_open():
    fan = line("p.e1", 100, "p.e3", 150), line("p.e1", 200, "p.e3", 150)
    after = check_edit(many(*fan, open_mm=10.0), panel())
    assert turn_deg(after) == pytest.approx(
        2 * 2 * math.degrees(math.asin(10 / (2 * math.hypot(50, 300)))), abs=1e-9
    )
    refused(many(*fan, open_mm=10.0, open_to_mm=5.0), panel())


def test_closing_takes_a_wedge_out_beside_each_slash():
    slashes = [upright(x) for x in (60, 120, 180, 240)]
    after = check_edit(many(*slashes, open_mm=-10.0, open_to_mm=-10.0), panel())
    assert area_mm2(after.pieces["p"]) == pytest.approx(260 * 300, abs=1e-6)
    refused(many(*slashes, open_mm=-70.0, open_to_mm=-70.0), panel())


def test_closing_what_was_opened_gives_the_turn_back():
    opened = many(upright(100), upright(200), open_mm=12.0).apply(panel())
    again = line("p.e1.1", 100, "p.e3.2", 100), line("p.e1.2", 100, "p.e3.1", 100)
    closed = check_edit(many(*again, open_mm=-12.0), opened)
    assert area_mm2(closed.pieces["p"]) == pytest.approx(300 * 300, abs=1e-6)
    assert turn_deg(closed) == pytest.approx(0.0, abs=1e-9)


def test_parts_move_as_rigid_bodies_with_what_is_drawn_and_marked():
    project = AddNotches(edge="p.e1", at_mm=(130.0,)).apply(panel())
    points = (LevelPoint(piece="p", y_mm=150),)
    project = AddLevel(name="waist", points=points).apply(project)
    after = check_edit(many(upright(100), upright(200), open_mm=10.0, open_to_mm=10.0), project)
    (notch,) = after.notches.values()
    assert notch.at == Spot("p.e1.2", pytest.approx(30.0))
    assert flat_girth_mm(after, "waist") == pytest.approx(320, abs=1e-6)


def test_faired_ends_are_one_smooth_edge_through_the_ends_of_every_gap():
    slashes = [upright(x) for x in (50, 100, 150, 200, 250)]
    plain = many(*slashes, open_mm=20.0).apply(panel())
    after = check_edit(many(*slashes, open_mm=20.0, fair_ends=True), panel())
    assert edge_ids(after.pieces["p"]) == ["p.e1", "p.e2", "p.e3", "p.e4"]
    hem = curve(after, "p.e1")
    assert np.abs(joint_turnings_rad(hem)).max() < 1e-9
    gaps = [curve(plain, own) for own in edge_ids(plain.pieces["p"]) if "e1.fill" in own]
    corners = hem.segments[:, 0].round(6).tolist()
    assert all(gap.start.round(6).tolist() in corners for gap in gaps)
    assert all(gap.end.round(6).tolist() in corners for gap in gaps)


def test_a_faired_edge_keeps_its_end_tangents_and_its_place_in_a_seam():
    project = new_project(
        small.rectangle("p", 300, 300),
        small.rectangle("q", 300, 50, y=-100),
        seams=[small.seam("s", "p.e1", "-q.e3")],
    )
    after = check_edit(many(upright(100), upright(200), open_mm=15.0, fair_ends=True), project)
    assert refs_of(after, "s") == (["p.e1"], ["-q.e3"])
    assert start_tangent(curve(after, "p.e1")) == pytest.approx([1, 0], abs=1e-12)
    last = end_tangent(curve(after, "p.e1"))
    assert math.degrees(math.atan2(last[1], last[0])) == pytest.approx(turn_deg(after), abs=1e-9)


def test_chords_of_a_circle_are_faired_to_its_arc():
    # Strips of 40 with gaps of 10 between, all hinged alike, are chords of one circle.
    slashes = [upright(40.0 * n, 240.0) for n in range(1, 6)]
    project = new_project(small.rectangle("p", 240, 300))
    after = check_edit(many(*slashes, open_mm=10.0, fair_ends=True), project)
    hem = curve(after, "p.e1")
    assert turning_rad(hem) == pytest.approx(5 * 2 * math.asin(10 / 600), abs=1e-9)
    steps = np.hypot(*np.diff(hem.segments[1:, 0], axis=0).T)
    assert steps == pytest.approx([10, 40] * 4 + [10], abs=1e-6)


def test_a_step_to_the_side_is_taken_where_it_is_and_does_not_swell_the_edge():
    # A slash that runs steeply out of the left edge lets its parts slide apart across that edge.
    project = new_project(small.rectangle("p", 300, 600))
    steep = line("p.e1", 100.0, "p.e4", 200.0)
    plain = many(steep, open_mm=10.0, open_to_mm=6.0).apply(project)
    after = check_edit(many(steep, open_mm=10.0, open_to_mm=6.0, fair_ends=True), project)
    stepped_mm = sum(edge_mm(plain, own) for own in edge_ids(plain.pieces["p"]) if "e4" in own)
    assert edge_mm(after, "p.e4") == pytest.approx(stepped_mm, abs=6.0)
    assert np.abs(joint_turnings_rad(curve(after, "p.e4"))).max() < 1e-9


def test_gaps_of_nothing_change_nothing():
    project = panel()
    assert many(upright(100), upright(200), open_mm=0.0).apply(project) is project


def test_even_spacing_needs_just_two_slashes():
    refused(many(upright(100), count=3, open_mm=5.0), panel())


@settings(max_examples=40)
@given(
    small.blobs(),
    st.lists(small.inner_ratios(), min_size=2, max_size=4, unique=True),
    st.tuples(small.millimetres(0, 20), small.millimetres(0, 20), st.sampled_from([1, -1])),
)
def test_edges_that_no_slash_cuts_keep_their_length(project, ratios, gaps):
    wide = [edge_mm(project, own) for own in ("p.e1", "p.e3")]
    slashes = [line("p.e1", ratio * wide[0], "p.e3", (1 - ratio) * wide[1]) for ratio in ratios]
    edit = many(*slashes, open_mm=gaps[0] * gaps[2], open_to_mm=gaps[1] * gaps[2])
    after = check_or_refuse(edit, project)
    if after is not None:
        for own in edge_ids(project.pieces["p"]):
            if own in edge_ids(after.pieces["p"]):
                assert edge_mm(after, own) == pytest.approx(edge_mm(project, own), abs=1e-6)
