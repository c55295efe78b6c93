"""Lines drawn across pieces: one smooth hem, its seams as equal as before, corners of 180."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refused
from wedgework.edits import laid_walk
from wedgework.edits.across import DrawAcross, TrueAcross
from wedgework.edits.marks import AddNotches
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.nearest import nearest
from wedgework.geometry.turning import curvatures_at, joint_turnings_rad
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.boundary import Side
from wedgework.pattern.changes import new_project, with_edges_replaced, with_pieces
from wedgework.pattern.document import Project, parse_ref
from wedgework.pattern.laying import laid_together, line_through
from wedgework.pattern.lookup import around_corner, the_edge
from wedgework.pattern.round_corner import joint_after
from wedgework.pattern.seams import measure_seam

HEM = ("f.e1", "g.e1", "b.e1")


def joints_deg(project: Project, edges=HEM) -> list[float]:
    laid = laid_together(project, tuple(parse_ref(text) for text in edges))
    return [math.degrees(one.joint.angle_rad) for one in laid if one.joint]


def differences(project: Project) -> list[float]:
    return [measure_seam(project, seam).difference_mm for seam in project.seams.values()]


def assert_true(before: Project, after: Project, edges=HEM) -> None:
    """Corners of 180 degrees at every joint, and every seam as equal as it was."""
    assert joints_deg(after, edges) == pytest.approx([180.0] * (len(edges) - 1), abs=1e-6)
    assert differences(after) == pytest.approx(differences(before), abs=1e-8)


def test_a_hem_over_three_pieces_is_trued():
    project = small.panelled_hem()
    assert_true(project, check_edit(TrueAcross(edges=HEM), project))


def test_curvature_agrees_where_pieces_meet():
    after = check_edit(TrueAcross(edges=HEM), small.panelled_hem())
    f, g = (the_edge(after, name).curve for name in ("f.e1", "g.e1"))
    one, other = curvatures_at(f, [length_mm(f)])[0], curvatures_at(g, [0.0])[0]
    assert one == pytest.approx(other, abs=1e-6)


def test_the_line_meets_both_folds_squarely():
    after = check_edit(TrueAcross(edges=HEM), small.panelled_hem())
    assert corner_angle(after.pieces["f"], "f.c1") == pytest.approx(math.pi / 2, abs=1e-9)
    assert corner_angle(after.pieces["b"], "b.c2") == pytest.approx(math.pi / 2, abs=1e-9)


def test_a_line_that_is_true_is_left_alone():
    project = small.two_panels()
    assert TrueAcross(edges=("a.e1", "b.e1")).apply(project) is project


def test_little_changes_where_a_line_is_trued():
    project = small.panelled_hem()
    after = check_edit(TrueAcross(edges=HEM), project)
    for name in HEM:
        old, new = the_edge(project, name).curve, the_edge(after, name).curve
        assert nearest(old, new.segments[len(new) // 2, 0]).distance_mm < 1.0


def test_a_drawn_line_passes_its_points():
    points = ((0.0, 3.0), (60.0, 0.0), (130.0, -2.0), (200.0, 2.0), (260.0, 5.0))
    project = small.panelled_hem()
    after = check_edit(DrawAcross(edges=HEM, points_mm=points), project)
    assert_true(project, after)
    assert nearest(the_edge(after, "f.e1").curve, points[1]).distance_mm < 1e-9
    assert the_edge(after, "f.e1").curve.start == pytest.approx([0, 3])


def test_a_line_told_from_its_other_end_is_the_same():
    points = ((0.0, 3.0), (60.0, 0.0), (130.0, -2.0), (200.0, 2.0), (260.0, 5.0))
    project = small.panelled_hem()
    # In the place of the first piece named, which is the back here.
    laid = laid_together(project, tuple(parse_ref(text) for text in ("b.e1", "g.e1", "f.e1")))
    there = laid[0].motion.points(np.array(points))[::-1]
    back = DrawAcross(edges=HEM[::-1], points_mm=tuple(map(tuple, there.tolist())))
    one = check_edit(DrawAcross(edges=HEM, points_mm=points), project)
    other = check_edit(back, project)
    for name in HEM:
        ends = [the_edge(found, name).curve.end for found in (one, other)]
        assert ends[0] == pytest.approx(ends[1], abs=1e-2)


def test_a_pull_bends_the_whole_line():
    project = small.panelled_hem()
    after = check_edit(TrueAcross(edges=HEM, at_mm=130.0, by_mm=(0.0, -10.0)), project)
    assert_true(project, after)
    assert the_edge(after, "g.e1").curve.start[1] < the_edge(project, "g.e1").curve.start[1] - 5


def test_notches_of_the_seams_stay_on_the_sheet_where_they_were():
    project = check_edit(AddNotches(seam="s1", at_mm=(120.0,)), small.panelled_hem())
    after = check_edit(DrawAcross(edges=HEM, points_mm=((0, 3), (130, -9), (260, 5))), project)
    (notch,), (moved,) = project.notches.values(), after.notches.values()
    for was, now in ((notch.at, moved.at), (notch.mate, moved.mate)):
        places = [
            point_at(the_edge(found, spot.edge).curve, spot.at_mm)
            for found, spot in ((project, was), (after, now))
        ]
        assert places[0] == pytest.approx(places[1], abs=1e-6)


def test_a_line_over_a_dart_is_drawn_with_the_dart_closed():
    project = small.darted_front()
    after = check_edit(TrueAcross(edges=("p.e1", "p.e4")), project)
    assert_true(project, after, ("p.e1", "p.e4"))
    assert the_edge(after, "p.e2").curve.end.tolist() == [100, 90]


def test_where_three_pieces_meet_the_corner_stays_and_the_line_passes_it():
    project = small.meeting_at_an_opening()
    after = check_edit(TrueAcross(edges=("p.e1", "q.e1")), project)
    assert joints_deg(after, ("p.e1", "q.e1")) == pytest.approx([180.0], abs=1e-6)
    assert after.pieces["w"] is project.pieces["w"]


def test_a_drawn_line_is_led_through_a_corner_that_stays():
    edit = DrawAcross(edges=("p.e1", "q.e1"), points_mm=((0, 0), (50, 2), (150, 8), (190, 40)))
    after = check_edit(edit, small.meeting_at_an_opening())
    assert joints_deg(after, ("p.e1", "q.e1")) == pytest.approx([180.0], abs=1e-6)


def test_a_line_at_the_mirror_image_of_its_piece_is_square_to_the_seam():
    half = small.piece_of_points("p", (0, 0), (100, 10), (100, 200), (0, 200))
    project = new_project(
        replace(half, cutting="pair"), seams=[small.seam("back", "p.e2", "~p.e2")]
    )
    after = check_edit(TrueAcross(edges=("p.e1",)), project)
    assert corner_angle(after.pieces["p"], "p.c2") == pytest.approx(math.pi / 2, abs=1e-9)


def curved_hem() -> Project:
    """As `small.panelled_hem`, with side seams that bow, each side in its own way."""
    project = small.panelled_hem()
    bows = {"f.e2": 0.08, "g.e4": 0.03, "g.e2": -0.05, "b.e4": 0.09}
    for name, bow in bows.items():
        piece = project.pieces[project.owners[name]]
        edge = the_edge(project, name)
        curve = small.bulging(edge.curve.start, edge.curve.end, bow)
        project = with_pieces(
            project, with_edges_replaced(piece, {name: replace(edge, curve=curve)})
        )
    return project


@pytest.mark.parametrize(
    "edit",
    [
        TrueAcross(edges=HEM),
        TrueAcross(edges=HEM, at_mm=130.0, by_mm=(0.0, -25.0)),
        DrawAcross(edges=HEM, points_mm=((0, 8), (60, -12), (150, -14), (230, 30), (260, 40))),
    ],
    ids=["through", "pulled", "drawn"],
)
def test_over_curved_seams_the_line_still_ends_square_and_seams_stay_equal(edit):
    project = curved_hem()
    after = check_edit(edit, project)
    assert_true(project, after)
    assert corner_angle(after.pieces["f"], "f.c1") == pytest.approx(math.pi / 2, abs=1e-8)
    assert corner_angle(after.pieces["b"], "b.c2") == pytest.approx(math.pi / 2, abs=1e-8)


def test_inside_each_piece_the_line_stays_smooth():
    after = check_edit(TrueAcross(edges=HEM, at_mm=130.0, by_mm=(0.0, -25.0)), curved_hem())
    for name in HEM:
        kinks = joint_turnings_rad(the_edge(after, name).curve)
        assert np.abs(kinks).max(initial=0.0) < 1e-7


RING = ("p1.e1", "p2.e1", "p3.e1", "p4.e1")


def bowed_ring() -> Project:
    """Four panels round, one of which has a bowed seam and a hem that bows out."""
    project = small.ring_of_panels()
    bowed = project.pieces["p1"]
    edges = {
        edge.id: replace(edge, curve=small.bulging(edge.curve.start, edge.curve.end, 0.06))
        for edge in bowed.edges
        if edge.id in {"p1.e1", "p1.e2"}
    }
    return with_pieces(project, with_edges_replaced(bowed, edges))


@pytest.mark.parametrize(
    "edit",
    [
        TrueAcross(edges=RING),
        TrueAcross(edges=RING, at_mm=90.0, by_mm=(0.0, -8.0)),
        DrawAcross(edges=RING, points_mm=((0, 0), (50, -6), (140, 4), (240, 0))),
    ],
    ids=["through", "pulled", "drawn"],
)
def test_a_ring_is_drawn_through_and_goes_on_where_it_closes(edit):
    project = bowed_ring()
    after = check_edit(edit, project)
    assert_true(project, after, RING)
    closing = joint_after(after, Side("p4.e1", mirrored=False))
    assert math.degrees(closing.angle_rad) == pytest.approx(180.0, abs=1e-6)
    for piece, corner in (("p1", "p1.c1"), ("p4", "p4.c2")):
        pieces = (found.pieces[piece] for found in (project, after))
        at = [around_corner(one, corner)[1].curve.start for one in pieces]
        assert at[0].tolist() == at[1].tolist()


def about_a_single_back() -> Project:
    """A single back `b` between a front `f`, cut as a pair, and its mirror image."""
    f = small.piece_of_points("f", (0, 0), (100, 4), (96, 200), (0, 200))
    b = small.piece_of_points("b", (200, 0), (300, 0), (306, 200), (194, 200))
    bows = {"f.e2": 0.05, "b.e4": 0.07, "b.e2": 0.07}
    project = new_project(
        replace(f, cutting="pair"),
        b,
        seams=[small.seam("left", "f.e2", "-b.e4"), small.seam("right", "~f.e2", "b.e2")],
    )
    for name, bow in bows.items():
        piece = project.pieces[project.owners[name]]
        edge = the_edge(project, name)
        curve = small.bulging(edge.curve.start, edge.curve.end, bow)
        project = with_pieces(
            project, with_edges_replaced(piece, {name: replace(edge, curve=curve)})
        )
    return project


WHOLE = ("f.e1", "b.e1", "-~f.e1")


def test_a_line_about_a_piece_without_mirror_image_goes_as_far_on_either_side():
    for edge in ("f.e1", "b.e1"):
        run = line_through(about_a_single_back(), edge)
        assert [ref.edge for ref in run] == ["f.e1", "b.e1", "f.e1"]


@pytest.mark.parametrize(
    "edit",
    [
        TrueAcross(edges=WHOLE),
        TrueAcross(edges=("~f.e1", "b.e1", "f.e1")),
        TrueAcross(edges=WHOLE, at_mm=60.0, by_mm=(0.0, -9.0)),
        DrawAcross(edges=WHOLE, points_mm=((0, 0), (60, -6), (150, 3), (290, 5))),
    ],
    ids=["through", "from_the_image", "pulled", "drawn"],
)
def test_a_line_about_a_single_piece_is_its_own_mirror_image(edit):
    project = about_a_single_back()
    after = check_edit(edit, project)
    assert_true(project, after, WHOLE)
    back = the_edge(after, "b.e1").curve
    assert back.start[0] + back.end[0] == pytest.approx(500.0, abs=1e-6)
    assert back.start[1] == pytest.approx(back.end[1], abs=1e-6)


def hood() -> Project:
    """A single `c` between both images of a side `h`, and one band `b` along the back of all three.

    The band ends where the line does, on either side of the face.
    """
    h = small.piece_of_points("h", (0, 0), (100, 4), (96, 200), (-6, 200))
    _, crown_mm, *back = (length_mm(edge.curve) for edge in h.edges)
    c = small.rectangle("c", 100, crown_mm, x=200)
    b = small.rectangle("b", 2 * sum(back) + 100, 40, y=-300)
    return new_project(
        replace(h, cutting="pair"),
        c,
        b,
        seams=[
            small.seam("left", "h.e2", "-c.e4"),
            small.seam("right", "~h.e2", "c.e2"),
            small.seam("neck", "-~h.e4 -~h.e3 c.e3 h.e3 h.e4", "-b.e3"),
        ],
    )


FACE = ("b.e2", "h.e1", "c.e1", "-~h.e1", "b.e4")


@pytest.mark.parametrize(
    "edit",
    [TrueAcross(edges=FACE), TrueAcross(edges=FACE, at_mm=90.0, by_mm=(0.0, -9.0))],
    ids=["through", "pulled"],
)
def test_a_line_ends_on_both_sides_in_one_piece_that_has_no_mirror_image(edit):
    project = check_edit(AddNotches(edge="b.e3", at_mm=(70.0,)), hood())
    assert tuple(map(str, line_through(project, "b.e4"))) == FACE
    after = check_edit(edit, project)
    assert_true(project, after, FACE)
    (was,), (now,) = project.notches.values(), after.notches.values()
    places = [
        point_at(the_edge(found, "b.e3").curve, notch.at.at_mm)
        for found, notch in ((project, was), (after, now))
    ]
    assert places[0] == pytest.approx(places[1], abs=1e-6)
    assert now.at.at_mm != pytest.approx(70.0, abs=1e-3)


def test_a_corner_is_no_line():
    project = small.two_panels()
    steep = small.piece_of_points("b", (200, 0), (210, -100), (300, 100), (200, 100))
    project = new_project(project.pieces["a"], steep, seams=project.seams.values())
    refused(TrueAcross(edges=("a.e1", "b.e1")), project)


def test_a_line_that_misses_a_seam_is_refused():
    refused(DrawAcross(edges=HEM, points_mm=((0, 0), (20, 10), (40, 2000))), small.panelled_hem())


def test_a_line_needs_two_places():
    refused(DrawAcross(edges=("f.e1",), points_mm=((0, 0), (0, 0))), small.square())


@given(st.lists(small.millimetres(-12, 12), min_size=4, max_size=4))
def test_any_line_leaves_seams_as_equal_as_they_were(heights):
    xs = (0.0, 70.0, 140.0, 230.0)
    project = small.panelled_hem()
    points = tuple(zip(xs, heights, strict=True))
    after = check_or_refuse(DrawAcross(edges=HEM, points_mm=(*points, (262.0, 4.0))), project)
    assert after is not None
    assert_true(project, after)


def test_a_line_over_curved_seams_is_walked_a_few_times_alone(monkeypatch):
    """Each frame of a drag walks it so often: what is dear in it is asked once."""
    walks: list[object] = []
    walk = laid_walk.walked_line
    monkeypatch.setattr(
        laid_walk, "walked_line", lambda *given: walks.append(given) or walk(*given)
    )
    project = curved_hem()
    TrueAcross(edges=HEM, at_mm=130.0, by_mm=(0.0, -6.0)).apply(project)
    assert 1 < len(walks) <= 6
