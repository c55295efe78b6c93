import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refs_of, refused
from tests.edits.measuring import angles_deg, edge_ids, edge_mm, total_area_mm2
from wedgework.checks import check
from wedgework.edits import Place
from wedgework.edits.darts import AddDart, RemoveDart
from wedgework.edits.edges import SplitEdge
from wedgework.edits.marks import AddNotches
from wedgework.edits.move import MoveCorner
from wedgework.edits.pivot import DivideDart, PivotDart
from wedgework.edits.settings import SetCutting
from wedgework.pattern.changes import new_project
from wedgework.pattern.darts import darts_of, measure_dart
from wedgework.pattern.document import Spot
from wedgework.pattern.seams import measure_seam


def test_a_pivoted_dart_keeps_its_angle_and_its_id():
    # TRADE 4 / Erwin, Practical Dress Design, 1954, p. 31: the angle counts and stays.
    project = small.darted_front(intake_mm=40, depth_mm=math.sqrt(120**2 - 20**2))
    assert angles_deg(project) == pytest.approx([19.188136], abs=1e-5)
    after = check_edit(PivotDart(dart="d1", to=Place("p.e5", 100.0)), project)
    assert list(after.seams) == ["d1"]
    assert angles_deg(after) == pytest.approx([19.188136], abs=1e-5)
    assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=1e-6)


def test_the_mouth_grows_with_the_length_of_the_legs():
    project = small.darted_front(intake_mm=40, width_mm=360, depth_mm=math.sqrt(120**2 - 20**2))
    after = check_edit(PivotDart(dart="d1", to=Place("p.e5", 118.32159566199232)), project)
    dart = measure_dart(after, after.seams["d1"])
    assert (dart.leg_a_mm, dart.leg_b_mm) == pytest.approx((180, 180), abs=1e-6)
    assert dart.intake_mm == pytest.approx(60, abs=1e-6)


def test_the_old_mouth_is_closed():
    after = check_edit(PivotDart(dart="d1", to=Place("p.e5", 100.0)), small.darted_front())
    assert edge_ids(after.pieces["p"])[:2] == ["p.e1", "p.e4"]
    assert refs_of(after, "d1") == (["p.e2"], ["-p.e3"])


def test_a_part_of_a_dart_moves_and_both_share_the_apex():
    project = small.darted_front()
    whole = angles_deg(project)[0]
    after = check_edit(PivotDart(dart="d1", to=Place("p.e5", 100.0), share=0.25), project)
    assert angles_deg(after) == pytest.approx([whole * 0.75, whole * 0.25], abs=1e-9)
    apexes = [measure_dart(after, dart).apex_mm for dart in darts_of(after)]
    assert np.array_equal(*apexes)
    assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=1e-6)


def test_a_dart_swings_into_a_seam_that_then_walks_past_its_mouth():
    panels = AddDart(piece="a", at=Place("a.e1", 50), apex_mm=(50, 60), intake_mm=20).apply(
        small.two_panels()
    )
    after = check_edit(PivotDart(dart="a.d1", to=Place("a.e2", 50.0)), panels)
    assert refs_of(after, "s")[0] == ["a.e2.1", "a.e2.2"]


def test_the_greater_part_of_the_piece_stays():
    project = small.darted_front()
    after = check_edit(PivotDart(dart="d1", to=Place("p.e5", 100.0)), project)
    assert [edge.id for edge in after.pieces["p"].edges if edge in project.pieces["p"].edges] == [
        "p.e1", "p.e6", "p.e7"
    ]  # fmt: skip


def test_the_fold_stays_where_it_is():
    project = SetCutting(piece="p", cutting="fold", about="p.e5").apply(small.darted_front())
    after = check_edit(PivotDart(dart="d1", to=Place("p.e6", 100.0)), project)
    fold = next(edge for edge in after.pieces["p"].edges if edge.id == "p.e5")
    assert fold is project.pieces["p"].edges[4]


def test_notches_on_the_legs_keep_their_fraction():
    project = AddNotches(seam="d1", at_mm=(30.0,)).apply(small.darted_front())
    legs = edge_mm(project, "p.e2")
    after = check_edit(PivotDart(dart="d1", to=Place("p.e5", 200.0)), project)
    expected = 30.0 / legs * edge_mm(after, "p.e2")
    assert after.notches["d1.n1"].at == Spot("p.e2", pytest.approx(expected))


def test_a_dart_does_not_swing_to_where_it_is():
    project = small.darted_front()
    refused(PivotDart(dart="d1", to=Place("p.e4", 0.0)), project)
    refused(PivotDart(dart="d1", to=Place("p.e1", 85.0)), project)
    refused(PivotDart(dart="d1", to=Place("p.e2", 20.0)), project)
    refused(PivotDart(dart="d1", to=Place("p.e5", 20.0), share=0.0), project)
    refused(PivotDart(dart="d1", to=Place("p.e5", 20.0), share=1.5), project)


def test_what_is_no_dart_does_not_swing():
    refused(PivotDart(dart="s", to=Place("a.e1", 20.0)), small.two_panels())


def test_a_divided_dart_is_equal_darts_about_one_apex():
    project = small.darted_front(intake_mm=40, depth_mm=math.sqrt(120**2 - 20**2))
    after = check_edit(DivideDart(dart="d1", into=2), project)
    assert angles_deg(after) == pytest.approx([19.188136 / 2] * 2, abs=1e-5)
    # TRADE 4: two halves at 120 are 20.07 each.
    intakes = [measure_dart(after, dart).intake_mm for dart in darts_of(after)]
    assert intakes[0] == pytest.approx(20.07, abs=0.01)
    assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=1e-6)
    between = [e for e in after.pieces["p"].edges if e.id == "p.e4.1"]
    assert edge_mm(after, between[0].id) == pytest.approx(intakes[0], abs=1e-6)


def test_a_dart_is_divided_in_three():
    after = check_edit(DivideDart(dart="d1", into=3), small.darted_front())
    assert list(after.seams) == ["d1", "d1.2", "d1.3"]
    assert len(angles_deg(after)) == 3
    assert angles_deg(after) == pytest.approx([angles_deg(small.darted_front())[0] / 3] * 3)


def test_a_divided_dart_needs_room_beside_its_mouth():
    refused(DivideDart(dart="d1", into=2), small.darted_front(intake_mm=120, width_mm=130))
    refused(DivideDart(dart="d1", into=1), small.darted_front())


def test_a_swung_dart_can_be_removed():
    swung = PivotDart(dart="d1", to=Place("p.e5", 100.0)).apply(small.darted_front())
    assert not check_edit(RemoveDart(dart="d1"), swung).seams


@settings(max_examples=40)
@given(
    small.blobs(),
    st.tuples(st.integers(1, 5), st.integers(1, 5)),
    small.two_ratios(),
    st.sampled_from([1.0, 0.5, 0.125]),
)
def test_a_pivot_keeps_area_and_total_angle(project, edges, ratios, share):
    places = [
        Place(f"p.e{number}", ratio * edge_mm(project, f"p.e{number}"))
        for number, ratio in zip(edges, ratios, strict=True)
    ]
    add = AddDart(piece="p", at=places[0], apex_mm=(5.0, 3.0), intake_mm=9.0)
    there = check_or_refuse(add, project)
    if there is None or edges[0] == edges[1]:
        return
    after = check_or_refuse(PivotDart(dart="p.d1", to=places[1], share=share), there)
    if after is not None:
        assert total_area_mm2(after) == pytest.approx(total_area_mm2(there), abs=1e-6)
        assert sum(angles_deg(after)) == pytest.approx(sum(angles_deg(there)), abs=1e-6)


def test_a_cut_piece_of_a_dart_is_not_swung():
    piece = small.darted_front().pieces["p"]
    assert refused(PivotDart(dart="d1", to=Place("p.e5", 9.0)), new_project(piece)).culprit == "d1"


def fitted_front():
    """A darted front joined to a side panel along its right edge, and to a yoke above."""
    front = small.darted_front().pieces["p"]
    side = small.rectangle("q", 80, 300, x=300)
    yoke = small.rectangle("y", 200, 60, y=350)
    seams = [
        small.seam("d1", "p.e2", "-p.e3", apex="p.c3"),
        small.seam("side", "p.e5", "-q.e4"),
        small.seam("yoke", "p.e6", "-y.e1"),
    ]
    return new_project(front, side, yoke, seams=seams)


@pytest.mark.parametrize(("edge", "at_mm"), [("p.e6", 0.0), ("p.e5", 300.0)])
def test_a_dart_swings_into_the_corner_where_two_seams_meet(edge, at_mm):
    project = fitted_front()
    after = check_edit(PivotDart(dart="d1", to=Place(edge, at_mm)), project)
    assert angles_deg(after) == pytest.approx(angles_deg(project), abs=1e-9)
    assert refs_of(after, "side") == refs_of(project, "side")
    assert refs_of(after, "yoke") == refs_of(project, "yoke")
    for own in ("p.e5", "p.e6"):
        assert edge_mm(after, own) == pytest.approx(edge_mm(project, own), abs=1e-9)
    ids = edge_ids(after.pieces["p"])
    assert ids[ids.index("p.e5") : ids.index("p.e6") + 1] == ["p.e5", "p.e2", "p.e3", "p.e6"]


def test_a_dart_swings_into_a_seam_whose_sides_stay_as_long():
    project = fitted_front()
    after = check_edit(PivotDart(dart="d1", to=Place("p.e5", 120.0)), project)
    assert refs_of(after, "side")[0] == ["p.e5.1", "p.e5.2"]
    before, now = (measure_seam(one, one.seams["side"]) for one in (project, after))
    assert now.difference_mm == pytest.approx(before.difference_mm, abs=1e-9)
    # With the dart closed the seam runs straight past its mouth: the dart alone has the angle.
    assert now.shaping_rad == pytest.approx(before.shaping_rad, abs=1e-9)
    assert angles_deg(after) == pytest.approx(angles_deg(project), abs=1e-9)


def test_a_part_of_a_dart_swings_into_a_corner():
    project = fitted_front()
    after = check_edit(PivotDart(dart="d1", to=Place("p.e7", 0.0), share=0.5), project)
    assert sum(angles_deg(after)) == pytest.approx(sum(angles_deg(project)), abs=1e-9)
    assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=1e-6)


@pytest.mark.parametrize(("edge", "at_mm"), [("p.e7", 0.0), ("p.e7", 300.0)])
def test_a_dart_swings_to_either_end_of_a_fold(edge, at_mm):
    project = SetCutting(piece="p", cutting="fold", about="p.e7").apply(fitted_front())
    after = check_edit(PivotDart(dart="d1", to=Place(edge, at_mm)), project)
    assert angles_deg(after) == pytest.approx(angles_deg(project), abs=1e-9)
    assert next(e for e in after.pieces["p"].edges if e.id == "p.e7") is not None


def test_a_dart_does_not_open_inside_a_fold():
    project = SetCutting(piece="p", cutting="fold", about="p.e7").apply(fitted_front())
    refused(PivotDart(dart="d1", to=Place("p.e7", 100.0)), project)


def test_a_dart_opens_beside_the_mouth_of_another():
    project = AddDart(piece="p", at=Place("p.e5", 200.0), apex_mm=(110, 200), intake_mm=20).apply(
        fitted_front()
    )
    after = check_edit(PivotDart(dart="d1", to=Place("p.e5.1", 190.0)), project)
    assert sum(angles_deg(after)) == pytest.approx(sum(angles_deg(project)), abs=1e-9)
    assert not [one for one in check(after) if one.code == "outline_crosses"]


def test_a_dart_swings_to_an_edge_that_is_not_in_sight_only_with_a_sentence():
    hook = small.piece_of_points(
        "p", (0, 0), (85, 0), (100, 90), (115, 0), (200, 0), (200, 300), (120, 300), (120, 200),
        (80, 200), (80, 300), (0, 300),
    )  # fmt: skip
    project = new_project(hook, seams=[small.seam("d1", "p.e2", "-p.e3", apex="p.c3")])
    assert "stay inside" in refused(PivotDart(dart="d1", to=Place("p.e7", 30.0)), project).sentence


def test_a_dart_whose_split_leg_was_bent_does_not_swing():
    split = SplitEdge(edge="p.e2", at_mm=30.0).apply(small.darted_front())
    bent = MoveCorner(corner="p.e2.c", by_mm=(0.0, 1.0)).apply(split)
    refused(PivotDart(dart="d1", to=Place("p.e1", 0.0)), bent)
    check_edit(PivotDart(dart="d1", to=Place("p.e1", 0.0)), split)
