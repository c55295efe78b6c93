import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refs_of, refused
from tests.edits.measuring import curve, edge_ids, edge_mm, total_area_mm2
from wedgework.edits import Place
from wedgework.edits.cut import CutPiece
from wedgework.edits.dart_apex import EvenLegs, MoveApex
from wedgework.edits.dart_from_seam import SeamToDart
from wedgework.edits.dart_seam import DartsToSeam, DartToSeam
from wedgework.edits.darts import AddDart
from wedgework.edits.marks import AddNotches
from wedgework.edits.pivot import DivideDart, PivotDart
from wedgework.edits.settings import SetCutting
from wedgework.edits.shape import IntakeStation, ShapeSeam
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.surface import surfaces


def total_rad(project):
    """Angles of all darts, and shaping of all seams and of all legs of darts."""
    angles = [measure_dart(project, one).angle_rad for one in project.seams.values() if one.apex]
    return sum(angles) + sum(measure_seam(project, s).shaping_rad for s in project.seams.values())


def assert_same_outline(after, before):
    """Every edge of `before` is in `after` with its curve, in the same order, in the one piece."""
    assert list(after.pieces) == list(before.pieces)
    for own, piece in before.pieces.items():
        ids = edge_ids(after.pieces[own])
        at = ids.index(piece.edges[0].id)
        assert ids[at:] + ids[:at] == edge_ids(piece)
        assert after.pieces[own].name == piece.name
        for edge in piece.edges:
            assert curve(after, edge.id).segments == pytest.approx(edge.curve.segments, abs=1e-6)


def assert_gauss_bonnet(project):
    for one in surfaces(project):
        total = one.shaping_rad + one.boundary_rad
        assert total == pytest.approx(2 * math.pi * one.euler, abs=1e-9)


def armhole_line(project=None):
    """The front with its dart closed into a line up to the upper edge."""
    project = project or small.darted_front()
    return check_edit(DartToSeam(dart="d1", to=Place("p.e6", 80.0)), project)


def test_a_dart_becomes_part_of_a_shaped_seam_of_two_panels():
    after = armhole_line()
    assert list(after.pieces) == ["p.1", "p.2"]
    assert list(after.seams) == ["d1"]
    assert not after.seams["d1"].is_dart
    assert refs_of(after, "d1") == (["p.e2", "p.cut.a"], ["-p.e3", "-p.cut.b"])
    assert_gauss_bonnet(after)


def test_the_angle_of_the_dart_is_the_shaping_of_the_seam():
    project = small.darted_front(intake_mm=40, depth_mm=math.sqrt(120**2 - 20**2))
    after = armhole_line(project)
    shaping = measure_seam(after, after.seams["d1"]).shaping_rad
    assert math.degrees(shaping) == pytest.approx(19.188136, abs=1e-6)  # TRADE 4: 2 asin(20/120)
    assert shaping == pytest.approx(total_rad(project), abs=1e-12)


def test_a_smooth_line_passes_through_its_points():
    edit = DartToSeam(dart="d1", to=Place("p.e5", 250.0), via_mm=((120.0, 160.0),))
    after = check_edit(edit, small.darted_front())
    joints = curve(after, "p.cut.a").segments[:, 0]
    assert np.hypot(*(joints - [120, 160]).T).min() < 1e-9
    assert total_rad(after) == pytest.approx(total_rad(small.darted_front()), abs=1e-9)


def test_dart_to_seam_to_dart_gives_the_outline_back():
    project = small.darted_front()
    back = check_edit(SeamToDart(seam="d1"), armhole_line(project))
    assert_same_outline(back, project)
    assert refs_of(back, "d1") == refs_of(project, "d1")
    assert back.seams["d1"].apex == "p.c3"


def test_the_names_of_dart_and_seam_come_and_go():
    dart = AddDart(piece="p", at=Place("p.e1", 50.0), apex_mm=(50, 60), intake_mm=12)
    project = dart.apply(small.square())
    seam = DartToSeam(dart="p.d1", to=Place("p.e3", 50.0)).apply(project)
    assert project.seams["p.d1"].name == "dart p.d1"
    assert seam.seams["p.d1"].name == "seam p.d1"
    assert SeamToDart(seam="p.d1").apply(seam).seams["p.d1"].name == "dart p.d1"
    named = DartToSeam(dart="p.d1", to=Place("p.e3", 50.0), name="princess").apply(project)
    assert named.seams["p.d1"].name == "princess"


def test_a_line_to_a_corner_leaves_the_corner():
    project = small.darted_front()
    seam = check_edit(DartToSeam(dart="d1", to=Place("p.e6", 0.0)), project)
    assert_same_outline(check_edit(SeamToDart(seam="d1"), seam), project)


def two_darts():
    """A front with a dart from below and one from the right, apexes 60 apart."""
    project = small.darted_front()
    side = AddDart(piece="p", at=Place("p.e5", 200.0), apex_mm=(110, 160), intake_mm=22)
    return side.apply(project)


def from_apex_to_apex():
    project = two_darts()
    other = project.seams["p.d1"]
    return project, DartToSeam(dart="d1", to=Place(other.b[0].edge, 0.0))


def test_a_dart_closed_into_the_apex_of_another_makes_one_seam_of_three_parts():
    project, edit = from_apex_to_apex()
    after = check_edit(edit, project)
    assert list(after.seams) == ["d1"]
    assert refs_of(after, "d1")[0] == ["p.e2", "p.cut.a", "p.d1.b"]
    assert refs_of(after, "d1")[1] == ["-p.e3", "-p.cut.b", "-p.d1.a"]
    assert total_rad(after) == pytest.approx(total_rad(project), abs=1e-9)
    assert_gauss_bonnet(after)


def test_a_seam_between_two_apexes_becomes_both_darts_again():
    project, edit = from_apex_to_apex()
    after = edit.apply(project)
    leg, cut = edge_mm(after, "p.e2"), edge_mm(after, "p.cut.a")
    back = check_edit(SeamToDart(seam="d1", from_mm=leg, to_mm=leg + cut), after)
    assert_same_outline(back, project)
    assert list(back.seams) == ["d1", "d1.2"]
    assert total_rad(back) == pytest.approx(total_rad(project), abs=1e-9)


def bust_darts(*, third=False):
    """A front whose waist dart and side dart end in one bust point; a third one on the left."""
    project = small.darted_front(intake_mm=40)
    darts = [("p.d1", "p.e5", 140.0, 26.0), ("p.d2", "p.e7", 120.0, 12.0)]
    for own, edge, at_mm, intake_mm in darts[: 2 if third else 1]:
        # A dart is added to a point inside; its apex then moves onto the one that is there.
        add = AddDart(piece="p", at=Place(edge, at_mm), apex_mm=(100, 95), intake_mm=intake_mm)
        project = MoveApex(dart=own, by_mm=(0, -5)).apply(add.apply(project))
    return project


def test_darts_are_taken_into_one_seam_through_the_bust_point():
    project = bust_darts()
    after = check_edit(DartsToSeam(darts=("d1", "p.d1"), to=Place("p.e6", 100.0)), project)
    seam = after.seams["d1"]
    assert list(after.pieces) == ["p.1", "p.2"]
    assert list(after.seams) == ["d1"]
    assert measure_seam(after, seam).state == "agrees"
    assert total_rad(after) == pytest.approx(total_rad(project), abs=1e-9)
    assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=1e-6)
    assert_gauss_bonnet(after)


def test_three_darts_are_taken_into_one_seam():
    project = bust_darts(third=True)
    edit = DartsToSeam(darts=("d1", "p.d1", "p.d2"), to=Place("p.e6", 100.0))
    after = check_edit(edit, project)
    assert list(after.seams) == ["d1"]
    assert total_rad(after) == pytest.approx(total_rad(project), abs=1e-9)
    assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=1e-6)


def test_a_seam_from_mouth_to_mouth_moves_nothing():
    project = bust_darts()
    after = check_edit(DartsToSeam(darts=("d1", "p.d1")), project)
    edges = {edge.id: edge for piece in after.pieces.values() for edge in piece.edges}
    assert all(edges[edge.id] is edge for edge in project.pieces["p"].edges)


def test_a_seam_through_the_bust_point_becomes_its_darts_again():
    project = bust_darts()
    after = DartsToSeam(darts=("d1", "p.d1")).apply(project)
    leg = edge_mm(after, "p.e2")
    back = check_edit(SeamToDart(seam="d1", from_mm=leg, to_mm=leg), after)
    assert_same_outline(back, project)
    assert total_rad(back) == pytest.approx(total_rad(project), abs=1e-9)


def test_the_other_half_of_a_seam_may_be_the_dart():
    seam = armhole_line()
    cut_mm, leg_mm = edge_mm(seam, "p.cut.a"), edge_mm(seam, "p.e2")
    after = check_edit(SeamToDart(seam="d1", from_mm=0.0, to_mm=leg_mm), seam)
    dart = measure_dart(after, after.seams["d1"])
    assert (dart.leg_a_mm, dart.leg_b_mm) == pytest.approx((cut_mm, cut_mm))
    assert total_rad(after) == pytest.approx(total_rad(seam), abs=1e-9)


def test_a_slice_that_runs_to_nothing_becomes_a_dart_with_shaped_legs():
    flat = CutPiece(piece="p", from_=Place("p.e1", 50.0), to=Place("p.e3", 50.0)).apply(
        small.square()
    )
    stations = tuple(IntakeStation(at, w) for at, w in ((0.0, 14.0), (25.0, 10.0), (60.0, 0.0)))
    shaped = ShapeSeam(seam="p.cut", intake=stations, round_mm=10.0).apply(flat)
    after = check_edit(SeamToDart(seam="p.cut"), shaped)
    assert list(after.pieces) == ["p"]
    assert after.seams["p.cut"].is_dart
    assert total_rad(after) == pytest.approx(total_rad(shaped), abs=1e-9)
    assert measure_dart(after, after.seams["p.cut"]).intake_mm == pytest.approx(14, abs=0.05)


def test_what_does_not_lie_flat_does_not_become_one_piece():
    stations = tuple(IntakeStation(at, w) for at, w in ((0.0, 14.0), (50.0, 0.0), (100.0, 9.0)))
    flat = CutPiece(piece="p", from_=Place("p.e1", 50.0), to=Place("p.e3", 50.0)).apply(
        small.square()
    )
    shaped = ShapeSeam(seam="p.cut", intake=stations).apply(flat)
    refused(SeamToDart(seam="p.cut", from_mm=30.0), shaped)
    refused(SeamToDart(seam="p.cut"), flat)
    refused(SeamToDart(seam="p.cut", from_mm=0.0), flat)
    refused(SeamToDart(seam="p.cut", from_mm=60.0, to_mm=50.0), flat)


def test_seams_that_hold_no_dart_are_refused():
    refused(SeamToDart(seam="d1"), small.darted_front())
    refused(SeamToDart(seam="s"), small.two_panels())
    assert (
        "one piece already"
        in refused(
            SeamToDart(seam="s", from_mm=1.0),
            CutPiece(piece="p", from_=Place("p.e1", 50.0), to=Place("p.e3", 50.0)).apply(
                small.square()
            )
            if False
            else joined_to_itself(),
        ).sentence
    )


def joined_to_itself():
    piece = small.rectangle("p", 100, 60)
    return small.new_project(piece, seams=[small.seam("s", "p.e2", "-p.e4")])


def darts_apart(*, third=(50.0, 110.0)):
    """A front with a waist dart, a side dart and a third from the left, each with its own apex."""
    left = AddDart(piece="p", at=Place("p.e7", 120.0), apex_mm=third, intake_mm=14)
    project = left.apply(two_darts())
    for own in ("p.d1", "p.d2"):
        project = EvenLegs(dart=own, which="apex").apply(project)
    return project


def test_darts_of_different_apexes_are_taken_into_one_seam_and_moved_as_rigid_parts():
    project = darts_apart()
    after = check_edit(DartsToSeam(darts=("d1", "p.d1", "p.d2")), project)
    assert list(after.seams) == ["d1"]
    assert list(after.pieces) == ["p.1", "p.2"]
    assert total_rad(after) == pytest.approx(total_rad(project), abs=1e-9)
    assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=1e-6)
    assert measure_seam(after, after.seams["d1"]).difference_mm == pytest.approx(0, abs=1e-6)
    assert_gauss_bonnet(after)


def test_a_seam_through_several_apexes_passes_the_bust_point_that_is_said():
    edit = DartsToSeam(darts=("d1", "p.d1"), via_mm=((108.0, 130.0),), name="princess")
    after = check_edit(edit, two_darts())
    assert after.seams["d1"].name == "princess"
    joints = curve(after, "p.cut.a").segments[:, 0]
    assert np.hypot(*(joints - [108, 130]).T).min() < 1e-9
    assert total_rad(after) == pytest.approx(total_rad(two_darts()), abs=1e-9)


def test_a_dart_with_uneven_legs_does_not_close_into_a_seam():
    left = AddDart(piece="p", at=Place("p.e7", 120.0), apex_mm=(50.0, 110.0), intake_mm=14)
    edit = DartsToSeam(darts=("d1", "p.d1", "p.d2"))
    assert "even first" in refused(edit, left.apply(two_darts())).sentence


def test_a_seam_takes_two_darts_or_more_of_one_piece():
    refused(DartsToSeam(darts=("d1", "d1")), two_darts())
    project = small.two_panels()
    for own, edge in (("a", "a.e1"), ("b", "b.e1")):
        x, y = project.pieces[own].edges[0].curve.start.tolist()
        add = AddDart(piece=own, at=Place(edge, 30.0), apex_mm=(x + 30, y + 30), intake_mm=8)
        project = add.apply(project)
    refused(DartsToSeam(darts=("a.d1", "b.d1")), project)


def test_no_dart_is_left_hanging_on_the_seam():
    project = bust_darts(third=True)
    refused(DartsToSeam(darts=("d1", "p.d1")), project)
    refused(DartToSeam(dart="d1", to=Place("p.e6", 80.0)), project)


def test_the_fold_of_a_front_stays_a_fold_through_the_seam_and_back():
    project = SetCutting(piece="p", cutting="fold", about="p.e7").apply(small.darted_front())
    seam = check_edit(DartToSeam(dart="d1", to=Place("p.e5", 100.0)), project)
    assert [piece.cutting for piece in seam.pieces.values()] == ["fold", "pair"]
    back = check_edit(SeamToDart(seam="d1"), seam)
    assert (back.pieces["p"].cutting, back.pieces["p"].fold_edge) == ("fold", "p.e7")
    across = check_edit(DartToSeam(dart="d1", to=Place("p.e7", 100.0)), project)
    again = check_edit(SeamToDart(seam="d1"), across)
    assert again.pieces["p"].fold_edge == "p.e7"
    assert_same_outline(again, project)


def centre_back(*stations, cutting="pair"):
    """A half whose left side, straight but for these stations, is joined to its mirror image."""
    half = small.rectangle("p", 100, 200)
    project = small.new_project(half, seams=[small.seam("s", "p.e4", "~p.e4")])
    project = SetCutting(piece="p", cutting=cutting).apply(project)
    intake = tuple(IntakeStation(at, width) for at, width in stations)
    return ShapeSeam(seam="s", intake=intake).apply(project)


def test_a_seam_of_a_pair_with_its_mirror_image_becomes_a_dart_of_one_whole_piece():
    project = centre_back((0.0, 30.0), (80.0, 0.0))
    after = check_edit(SeamToDart(seam="s"), project)
    assert after.pieces["p"].cutting == "single"
    dart = measure_dart(after, after.seams["s"])
    assert dart.intake_mm == pytest.approx(30)
    assert dart.angle_rad == pytest.approx(2 * math.atan(15 / 80), abs=1e-9)
    assert total_rad(after) == pytest.approx(total_rad(project), abs=1e-9)
    assert total_area_mm2(after) == pytest.approx(2 * total_area_mm2(project), abs=1e-6)
    assert_gauss_bonnet(after)


def test_a_seam_with_a_mirror_image_that_holds_no_dart_is_refused():
    half = small.rectangle("p", 100, 200)
    flat = small.new_project(half, seams=[small.seam("s", "p.e4", "~p.e4")])
    refused(SeamToDart(seam="s"), SetCutting(piece="p", cutting="pair").apply(flat))
    curved = centre_back((0.0, 10.0), (80.0, 0.0), (200.0, 10.0))
    assert "straight" in refused(SeamToDart(seam="s", from_mm=80.0), curved).sentence


def test_notches_on_the_legs_stay_mates():
    project = AddNotches(seam="d1", at_mm=(30.0,)).apply(small.darted_front())
    back = SeamToDart(seam="d1").apply(armhole_line(project))
    assert back.notches["d1.n1"].at == project.notches["d1.n1"].at
    assert back.notches["d1.n1"].mate == project.notches["d1.n1"].mate


def test_a_dart_swings_into_another_of_the_same_apex():
    project = bust_darts()
    after = check_edit(PivotDart(dart="p.d1", to=Place("p.e2", 5.0)), project)
    assert list(after.seams) == ["d1"]
    assert total_rad(after) == pytest.approx(total_rad(project), abs=1e-9)
    assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=1e-6)


def test_a_part_of_a_dart_swings_into_another_of_the_same_apex():
    project = bust_darts()
    angles = [measure_dart(project, one).angle_rad for one in project.seams.values()]
    after = check_edit(PivotDart(dart="p.d1", to=Place("p.e1", 80.0), share=0.25), project)
    now = [measure_dart(after, one).angle_rad for one in after.seams.values()]
    expected = [angles[0] + angles[1] / 4, angles[1] * 3 / 4]
    assert now == pytest.approx(expected, abs=1e-9)


def test_a_divided_dart_swings_together_again():
    project = small.darted_front()
    parted = DivideDart(dart="d1", into=2).apply(project)
    second = next(key for key in parted.seams if key != "d1")
    after = check_edit(PivotDart(dart=second, to=Place("p.e2", 0.0)), parted)
    assert list(after.seams) == ["d1"]
    assert total_rad(after) == pytest.approx(total_rad(project), abs=1e-9)


def test_no_mouth_opens_at_the_apex_of_another_dart():
    project = two_darts()
    apex = Place(project.seams["p.d1"].b[0].edge, 0.0)
    assert "shaped seam" in refused(PivotDart(dart="d1", to=apex), project).sentence


@settings(max_examples=30)
@given(
    small.blobs(),
    st.tuples(st.integers(1, 5), st.integers(1, 5)),
    small.two_ratios(),
    small.millimetres(2, 20),
    st.booleans(),
)
def test_dart_to_seam_to_dart_keeps_outline_and_shaping(project, edges, ratios, intake_mm, bent):
    places = [
        Place(f"p.e{number}", ratio * edge_mm(project, f"p.e{number}"))
        for number, ratio in zip(edges, ratios, strict=True)
    ]
    add = AddDart(piece="p", at=places[0], apex_mm=(5.0, 3.0), intake_mm=intake_mm)
    there = check_or_refuse(add, project)
    if there is None or edges[0] == edges[1]:
        return
    via = ((8.0, -6.0),) if bent else ()
    seam = check_or_refuse(DartToSeam(dart="p.d1", to=places[1], via_mm=via), there)
    if seam is None:
        return
    assert total_rad(seam) == pytest.approx(total_rad(there), abs=1e-9)
    back = check_edit(SeamToDart(seam="p.d1"), seam)
    assert total_rad(back) == pytest.approx(total_rad(there), abs=1e-9)
    assert_same_outline(back, there)


def test_a_flat_seam_holds_no_dart_wherever_it_is_said_to_be_flat():
    assert "no dart" in refused(SeamToDart(seam="s", from_mm=40.0), small.two_panels()).sentence


def test_a_flat_seam_with_sides_of_two_lengths_holds_no_dart():
    edit = SeamToDart(seam="s", from_mm=0.0, to_mm=30.0)
    assert "no dart" in refused(edit, small.two_panels(100, 96)).sentence


XY = (st.floats(20.0, 180.0), st.floats(60.0, 260.0))
WIDTHS = st.floats(2.0, 30.0)


@given(
    st.lists(
        st.tuples(st.sampled_from(["p.e5", "p.e6", "p.e7"]), st.floats(0.1, 0.9), *XY, WIDTHS),
        min_size=1,
        max_size=3,
        unique_by=lambda row: row[0],
    )
)
def test_darts_anywhere_are_taken_into_one_seam_with_all_their_angles(rows):
    project, names = small.darted_front(), ["d1"]
    for edge, share, x, y, intake_mm in rows:
        at = Place(edge, share * edge_mm(project, edge))
        try:
            more = AddDart(piece="p", at=at, apex_mm=(x, y), intake_mm=intake_mm).apply(project)
            own = next(key for key in more.seams if key not in project.seams)
            project = EvenLegs(dart=own, which="apex").apply(more)
        except EditRefused:
            continue
        names.append(own)
    if len(names) < 2:
        return
    after = check_or_refuse(DartsToSeam(darts=tuple(names)), project)
    if after is not None:
        assert list(after.seams) == ["d1"]
        assert total_rad(after) == pytest.approx(total_rad(project), abs=1e-9)
        assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=1e-6)
        assert_gauss_bonnet(after)
