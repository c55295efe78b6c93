"""A seam that joined flat gets a slice, and joins shaped."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits.marks import AddNotches
from wedgework.edits.shape import IntakeStation, ShapeSeam
from wedgework.geometry.curve import is_straight, polyline, with_ends
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.nearest import nearest
from wedgework.geometry.turning import joint_turnings_rad
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Project
from wedgework.pattern.lookup import the_edge, the_seam
from wedgework.pattern.seams import SeamMeasure, measure_seam


def measured(project: Project, seam: str = "s") -> SeamMeasure:
    return measure_seam(project, the_seam(project, seam))


def curve(project: Project, edge: str):
    return the_edge(project, edge).curve


def shape(*stations: tuple[float, float], **more: object) -> ShapeSeam:
    rows = tuple(IntakeStation(at_mm=at, width_mm=width) for at, width in stations)
    return ShapeSeam(seam="s", intake=rows, **more)  # type: ignore[arg-type]


def panels(height_mm: float = 270.0) -> Project:
    return small.two_panels(left_mm=height_mm, right_mm=height_mm)


def test_a_straight_slice_shapes_at_its_tip_by_twice_the_half_angle():
    after = check_edit(shape((100, 0), (270, 40)), panels())
    found = measured(after)
    tip = 2 * math.atan(20 / 170)
    assert found.shaping_rad == pytest.approx(tip, abs=1e-12)
    assert found.shaping_between(99.0, 101.0) == pytest.approx(tip, abs=1e-12)


def test_a_straight_slice_leaves_straight_pieces():
    after = check_edit(shape((100, 0), (270, 40)), panels())
    assert len(curve(after, "a.e2")) == 2
    assert joint_turnings_rad(curve(after, "a.e2")) == pytest.approx([math.atan(20 / 170)])
    for edge in ("a.e1", "a.e3", "b.e1", "b.e3"):
        assert is_straight(curve(after, edge), 1e-9)


def test_the_width_asked_for_is_taken_out_half_from_each_side():
    after = check_edit(shape((0, 0), (270, 40)), panels())
    assert curve(after, "a.e2").end == pytest.approx([80, 270])
    assert curve(after, "b.e4").start == pytest.approx([220, 270])


def test_all_of_the_width_may_come_from_one_side():
    after = check_edit(shape((0, 0), (270, 40), share_a=1.0, then_true=False), panels())
    assert curve(after, "a.e2").end == pytest.approx([60, 270])
    assert after.pieces["b"] is panels().pieces["b"] or len(curve(after, "b.e4")) == 1


def test_the_slice_follows_the_natural_spline_exactly_where_the_seam_was_straight():
    stations = [(0.0, 0.0), (70.0, 20.0), (170.0, 44.0), (270.0, 10.0)]
    after = check_edit(shape(*stations), panels())
    wanted = CubicSpline(*zip(*stations, strict=True), bc_type="natural")
    for y in np.linspace(1, 269, 41):
        point = np.array([100 - wanted(y) / 2, y])
        assert nearest(curve(after, "a.e2"), point).distance_mm < 1e-9


def test_shaping_between_stations_is_that_of_the_slopes():
    stations = [(0.0, 0.0), (90.0, 30.0), (180.0, 44.0), (270.0, 44.0)]
    after = check_edit(shape(*stations), panels())
    slope = CubicSpline(*zip(*stations, strict=True), bc_type="natural").derivative()
    wanted = 2 * (math.atan(slope(270) / 2) - math.atan(slope(0) / 2))
    assert measured(after).shaping_rad == pytest.approx(wanted, abs=1e-9)


def test_more_than_two_stations_give_smooth_edges():
    after = check_edit(shape((0, 0), (70, 20), (170, 44), (270, 44)), panels())
    assert joint_turnings_rad(curve(after, "a.e2")) == pytest.approx(np.zeros(2), abs=1e-9)


def test_a_tip_inside_the_seam_is_sharp_unless_it_is_rounded():
    stations = (100, 0), (180, 30), (270, 40)
    sharp = curve(check_edit(shape(*stations), panels()), "a.e2")
    rounded = curve(check_edit(shape(*stations, round_mm=20.0), panels()), "a.e2")
    assert np.abs(joint_turnings_rad(sharp)).max() > 0.05
    assert np.abs(joint_turnings_rad(rounded)).max() < 1e-9


def test_negative_widths_put_material_in():
    after = check_edit(shape((0, 0), (135, -30), (270, 0)), panels())
    assert point_at(curve(after, "a.e2"), length_mm(curve(after, "a.e2")) / 2)[0] > 110


def test_both_sides_are_equally_long_afterwards():
    after = check_edit(shape((0, 0), (70, 40), (170, 44), (270, 0), share_a=0.8), panels())
    assert measured(after).difference_mm == pytest.approx(0.0, abs=1e-6)


def test_without_truing_a_lopsided_slice_leaves_its_difference():
    edit = shape((0, 0), (70, 20), (170, 44), (270, 44), share_a=1.0, then_true=False)
    assert measured(check_edit(edit, panels())).difference_mm > 1.0


def test_a_wanted_difference_is_kept():
    project = panels()
    seam = replace(the_seam(project, "s"), wanted_mm=3.0)
    project = new_project(*project.pieces.values(), seams=[seam])
    after = check_edit(shape((0, 0), (135, 20), (270, 0)), project)
    assert measured(after).difference_mm == pytest.approx(0.0, abs=1e-9)


def slanted() -> Project:
    """Panels whose upper and lower edges are not square to the seam."""
    a = small.piece_of_points("a", (0, 0), (100, 20), (100, 290), (0, 250))
    b = small.piece_of_points("b", (200, 20), (300, 0), (300, 250), (200, 290))
    return new_project(a, b, seams=[small.seam("s", "a.e2", "-b.e4")])


def test_the_corner_at_an_end_slides_along_the_neighbouring_edge():
    project = slanted()
    after = check_edit(shape((0, 10), (270, 30), then_true=False), project)
    for edge in ("a.e1", "a.e3", "b.e1", "b.e3"):
        assert is_straight(curve(after, edge), 1e-9)
        old, new = curve(project, edge), curve(after, edge)
        across = np.cross(
            [*(old.end - old.start), 0], [*(new.segments[0, 3] - new.segments[0, 0]), 0]
        )
        assert across == pytest.approx([0, 0, 0], abs=1e-8)
    # The moved edge keeps its distance from the old seam line: 100 - w/2 at every height.
    for point in (curve(after, "a.e2").start, curve(after, "a.e2").end):
        width = 10 + 20 * (point[1] - 20) / 270
        assert point[0] == pytest.approx(100 - width / 2, abs=1e-9)


def test_a_curved_neighbour_is_cut_off_where_the_moved_edge_meets_it():
    project = small.two_panels(bulge=0.15)
    whole = measured(project).a.length_mm
    after = check_edit(shape((0, 0), (50, 10), (whole, 12), then_true=False), project)
    corner = curve(after, "a.e2").end
    assert nearest(curve(project, "a.e3"), corner).distance_mm < 1e-8
    assert curve(after, "a.e3").start.tolist() == corner.tolist()


def test_a_curved_seam_loses_the_width_square_to_its_line():
    project = small.two_panels(bulge=0.15)
    whole = length_mm(curve(project, "a.e2"))
    after = check_edit(shape((20, 0), (52, 8), (whole - 20, 0), then_true=False), project)
    middle = point_at(curve(project, "a.e2"), 52.0)
    gap = nearest(curve(after, "a.e2"), middle).distance_mm
    assert gap == pytest.approx(4.0, abs=0.05)
    joints = joint_turnings_rad(curve(after, "a.e2"))
    assert np.sort(np.abs(joints))[:-2].max(initial=0.0) < 1e-9  # the two tips alone are kinks


def test_what_lies_outside_the_slice_stays_bit_for_bit():
    project = small.two_panels(bulge=0.15)
    whole = length_mm(curve(project, "a.e2"))
    after = check_edit(shape((30, 0), (52, 8), (whole - 30, 0), then_true=False), project)
    assert curve(after, "a.e2").start.tolist() == curve(project, "a.e2").start.tolist()
    assert curve(after, "a.e2").end.tolist() == curve(project, "a.e2").end.tolist()
    for at in (5.0, 15.0, 29.0):
        new = point_at(curve(after, "a.e2"), at)
        assert new == pytest.approx(point_at(curve(project, "a.e2"), at), abs=1e-9)
    for edge in ("a.e1", "a.e3", "a.e4"):
        assert the_edge(after, edge) is the_edge(project, edge)


def parted(corner_x: float = 100.0) -> Project:
    """Panels whose seam runs over two edges of `a` and one of `b`."""
    a = small.piece_of_points("a", (0, 0), (100, 0), (corner_x, 120), (100, 270), (0, 270))
    b = small.piece_of_points("b", (200, 0), (300, 0), (300, 270), (200, 270))
    return new_project(a, b, seams=[small.seam("s", "a.e2 a.e3", "-b.e4")])


def test_a_run_over_two_edges_keeps_both_and_their_corner():
    after = check_edit(shape((0, 0), (120, 30), (270, 0)), parted())
    assert [edge.id for edge in after.pieces["a"].edges] == [f"a.e{i}" for i in range(1, 6)]
    assert curve(after, "a.e2").end == pytest.approx([85, 120])
    assert measured(after).shaping_rad == pytest.approx(
        measured(check_edit(shape((0, 0), (120, 30), (270, 0)), panels())).shaping_rad, abs=1e-9
    )


def test_edges_that_meet_at_a_corner_meet_again():
    project = parted(corner_x=110.0)
    whole = measured(project).a.length_mm
    after = check_edit(shape((0, 20), (whole, 20), then_true=False), project)
    before, behind = curve(project, "a.e2"), curve(project, "a.e3")
    corner = curve(after, "a.e2").end
    for old in (before, behind):
        along = (old.end - old.start) / length_mm(old)
        across = corner - old.start
        assert along[0] * across[1] - along[1] * across[0] == pytest.approx(10.0, abs=1e-9)
    # Moved sideways by one width everywhere, a seam turns as it did.
    assert measured(after).shaping_rad == pytest.approx(measured(project).shaping_rad, abs=1e-12)


def test_a_run_over_two_pieces_takes_from_each():
    project = small.yoke_over_two()
    after = check_edit(shape((0, 0), (100, 16), (200, 0)), project)
    assert curve(after, "left.e2").end == pytest.approx([100, 92], abs=0.2)
    assert curve(after, "right.e4").start == pytest.approx([150, 92], abs=0.2)
    assert curve(after, "yoke.e1").end == pytest.approx([200, 200], abs=0.2)


def test_marks_stay_at_their_height_and_their_mates_with_them():
    project = check_edit(AddNotches(seam="s", at_mm=(50.0, 135.0, 200.0)), panels())
    after = check_edit(shape((0, 0), (70, 20), (170, 44), (270, 44)), project)
    for notch in after.notches.values():
        assert notch.mate is not None
        a = point_at(curve(after, notch.at.edge), notch.at.at_mm)
        b = point_at(curve(after, notch.mate.edge), notch.mate.at_mm)
        before = project.notches[notch.id].at.at_mm
        assert a[1] == pytest.approx(before, abs=0.6)
        assert a[1] == pytest.approx(b[1], abs=1e-6)


def test_mates_stay_matched_when_one_side_gives_all():
    project = check_edit(AddNotches(seam="s", at_mm=(50.0, 135.0, 200.0)), panels())
    after = check_edit(shape((0, 0), (70, 20), (170, 44), (270, 0), share_a=1.0), project)
    found = measured(after)
    assert found.matches[:, 0] == pytest.approx(found.matches[:, 1], abs=1e-6)


def test_a_centre_seam_takes_half_from_each_copy_of_its_one_outline():
    project = small.fold_front(100, 270)
    front = replace(project.pieces["p"], cutting="pair", fold_edge=None)
    project = new_project(front, seams=[small.seam("s", "p.e2", "~p.e2")])
    after = check_edit(shape((0, 0), (270, 40)), project)
    assert curve(after, "p.e2").end == pytest.approx([80, 270])


def test_a_dart_may_be_curved_but_not_opened_at_its_apex():
    project = small.darted_front()
    leg = length_mm(curve(project, "p.e2"))
    rows = (IntakeStation(0, 0), IntakeStation(leg / 2, 4), IntakeStation(leg, 0))
    after = check_edit(ShapeSeam(seam="d1", intake=rows), project)
    assert curve(after, "p.e2").end.tolist() == curve(project, "p.e2").end.tolist()
    assert measured(after, "d1").shaping_rad < -0.1
    open_ = (IntakeStation(0, 0), IntakeStation(leg, 4))
    refused(ShapeSeam(seam="d1", intake=open_), project)


def test_what_makes_no_slice_is_refused():
    refused(shape((50, 10), (270, 0)), panels())
    refused(shape((0, 0), (300, 10)), panels())
    refused(shape((0, 0), (100, 5), (100, 7), (270, 0)), panels())
    refused(shape((10, 0), (100, 5), (270, 0), round_mm=40.0), panels())
    refused(ShapeSeam(seam="nothing", intake=(IntakeStation(0, 0), IntakeStation(9, 0))), panels())


def test_a_slice_wider_than_the_piece_is_refused():
    refused(shape((0, 0), (135, 230), (270, 0)), panels())
    refused(shape((0, 0), (270, 230)), panels())


def test_no_width_at_an_end_where_the_line_runs_straight_on():
    project = parted()
    seam = small.seam("s", "a.e2", "-b.e4")
    project = new_project(*project.pieces.values(), seams=[seam])
    refused(shape((0, 0), (120, 10)), project)
    check_edit(shape((0, 0), (60, 10), (120, 0), then_true=False), project)


def test_a_slice_of_nothing_changes_nothing():
    project = panels()
    assert shape((0, 0), (100, 0), (270, 0)).apply(project) is project


@given(
    st.lists(small.millimetres(-12, 12), min_size=2, max_size=5),
    small.ratios(),
    small.bulges(0.12),
)
def test_any_slice_ends_with_both_sides_equally_long(widths, share, bulge):
    project = small.two_panels(left_mm=200, right_mm=200, bulge=bulge)
    whole = measured(project).a.length_mm
    at = np.linspace(0, whole, len(widths))
    rows = [(float(x), round(w, 3)) for x, w in zip(at, widths, strict=True)]
    after = check_edit(shape(*rows, share_a=share), project)
    assert measured(after).difference_mm == pytest.approx(0.0, abs=1e-6)


def test_a_seam_drawn_in_chords_is_shaped_chord_by_chord():
    x = np.linspace(0, 270, 25)
    bow = [(100 + 6 * math.sin(math.pi * y / 270), y) for y in x]
    chords = polyline(bow)
    panel = small.piece_of_points("a", (0, 0), (100, 0), bow[-1], (0, 270))
    edges = tuple(replace(e, curve=shared(chords, e)) if e.id == "a.e2" else e for e in panel.edges)
    b = small.rectangle("b", 100, 270, x=200)
    project = new_project(replace(panel, edges=edges), b, seams=[small.seam("s", "a.e2", "-b.e4")])
    whole = measured(project).a.length_mm
    after = check_edit(shape((0, 0), (whole / 2, 24), (whole, 0)), project)
    assert measured(after).difference_mm == pytest.approx(0.0, abs=1e-6)
    assert point_at(curve(after, "a.e2"), whole / 2)[0] == pytest.approx(94.0, abs=0.3)


def shared(chords, edge):
    return with_ends(chords, edge.curve.start, edge.curve.end)


def test_a_slice_of_nothing_still_trues_if_that_is_asked():
    project = small.two_panels(left_mm=104, right_mm=100)
    after = check_edit(shape((0, 0), (104, 0)), project)
    assert measured(after).difference_mm == pytest.approx(0.0, abs=1e-9)
    assert shape((0, 0), (104, 0), then_true=False).apply(project) is project
