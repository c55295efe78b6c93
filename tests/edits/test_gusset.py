import math

import pytest
from hypothesis import given, settings

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refs_of, refused
from tests.edits.measuring import area_mm2, edge_ids, edge_mm
from wedgework.checks import check
from wedgework.edits.gusset import AddGusset, GussetAtCorner, Slit
from wedgework.edits.marks import AddNotches
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.changes import new_project
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.surface import surfaces


def slit(edge, at, x, y):
    return Slit(edge=edge, at_mm=at, x_mm=x, y_mm=y)


def test_a_triangle_is_set_into_a_slit_with_two_seams():
    edit = AddGusset(slits=(slit("p.e1", 50, 50, 60),), width_mm=40.0)
    after = check_edit(edit, small.square())
    gusset = after.pieces["gusset"]
    assert len(gusset.edges) == 3
    assert area_mm2(gusset) == pytest.approx(20 * math.sqrt(60**2 - 20**2), abs=1e-2)
    assert len(after.seams) == 2
    for seam in after.seams.values():
        measured = measure_seam(after, seam)
        assert measured.a.length_mm == pytest.approx(60, abs=1e-3)
        assert measured.difference_mm == pytest.approx(0, abs=1e-9)


def test_the_sides_of_the_slit_and_the_gusset_meet_the_right_way_round():
    edit = AddGusset(slits=(slit("p.e1", 40, 55, 60),), width_mm=30.0)
    after = check_edit(edit, small.square())
    codes = {found.code for found in check(after)}
    assert not codes & {"seam_twisted", "outline_crosses", "seam_length", "outline_spike"}
    to, back = (refs_of(after, own) for own in after.seams)
    tips = [corner_angle(after.pieces["gusset"], "gusset.c3")]
    slit_tip = next(e.corner for e in after.pieces["p"].edges if e.id == back[0][0].lstrip("-"))
    # All round the tip of the slit: the gusset fills what the slit has opened.
    assert corner_angle(after.pieces["p"], slit_tip) + tips[0] > 2 * math.pi
    assert (to[1], back[1]) == (["-gusset.e3"], ["-gusset.e2"])


def test_a_diamond_is_set_into_two_slits_of_two_pieces():
    slits = slit("a.e2", 0, 60, 40), slit("b.e4", 100, 250, 30)
    after = check_edit(AddGusset(slits=slits, width_mm=30.0), small.two_panels())
    gusset = after.pieces["gusset"]
    assert len(gusset.edges) == 4
    assert len(after.seams) == 5
    for own in after.seams:
        assert measure_seam(after, after.seams[own]).difference_mm == pytest.approx(0, abs=0.05)


def test_a_gusset_is_set_between_the_edges_of_a_corner():
    corner = small.piece_of_points("p", (0, 0), (50, 0), (50, 60), (100, 60), (100, 120), (0, 120))
    after = check_edit(
        GussetAtCorner(corner="p.c3", side_mm=30.0, width_mm=25.0), new_project(corner)
    )
    assert edge_mm(after, "p.e2.2") == pytest.approx(30)
    assert edge_mm(after, "p.e3.1") == pytest.approx(30)
    assert [refs_of(after, own) for own in after.seams] == [
        (["p.e2.2"], ["-gusset.e3"]),
        (["p.e3.1"], ["-gusset.e2"]),
    ]
    angle = corner_angle(after.pieces["gusset"], "gusset.c3")
    assert math.degrees(angle) == pytest.approx(math.degrees(2 * math.asin(25 / 60)))


def test_a_gusset_of_a_pair_is_a_pair():
    after = check_edit(
        AddGusset(slits=(slit("g.e1", 30, 180, 80),), width_mm=20.0), small.pair_and_fold()
    )
    assert after.pieces["gusset"].cutting == "pair"


def test_marks_and_seams_go_on_past_the_slit():
    project = AddNotches(seam="s", at_mm=(20.0, 80.0)).apply(small.two_panels())
    after = check_edit(AddGusset(slits=(slit("a.e2", 50, 40, 50),), width_mm=20.0), project)
    assert len(refs_of(after, "s")[0]) == 2
    assert len(after.notches) == 2


def test_slits_that_leave_the_piece_and_gussets_too_wide_are_refused():
    refused(AddGusset(slits=(slit("p.e1", 50, 150, 60),), width_mm=20.0), small.square())
    refused(AddGusset(slits=(slit("p.e1", 50, 50, 30),), width_mm=80.0), small.square())
    refused(AddGusset(slits=(slit("p.e4", 50, 50, 80),), width_mm=20.0), small.fold_front())
    refused(GussetAtCorner(corner="p.c1", side_mm=150.0, width_mm=20.0), small.square())
    refused(GussetAtCorner(corner="a.c3", side_mm=20.0, width_mm=20.0), small.two_panels())
    refused(GussetAtCorner(corner="p.c1", side_mm=20.0, width_mm=20.0), small.curved_square())


@settings(max_examples=20)
@given(small.blobs(), small.two_ratios())
def test_every_gusset_agrees_with_its_slit(project, ratios):
    at = ratios[0] * edge_mm(project, "p.e1")
    edit = AddGusset(slits=(slit("p.e1", at, 20 * ratios[1], 5.0),), width_mm=15.0)
    after = check_or_refuse(edit, project)
    if after is not None:
        assert len(edge_ids(after.pieces["p"])) >= 8
        for seam in after.seams.values():
            assert measure_seam(after, seam).difference_mm == pytest.approx(0, abs=1e-6)


def test_total_shaping_and_turning_of_the_edge_stay_in_balance_round_a_gusset():
    edit = AddGusset(slits=(slit("p.e1", 40, 55, 60),), width_mm=30.0)
    (surface,) = surfaces(check_edit(edit, small.square()))
    assert surface.shaping_rad + surface.boundary_rad == pytest.approx(2 * math.pi, abs=1e-9)


def test_a_slit_at_the_apex_of_a_dart_makes_the_dart_a_seam():
    edit = AddGusset(slits=(slit("p.e3", 0.0, 100, 200),), width_mm=20.0)
    after = check_edit(edit, small.darted_front())
    assert not after.seams["d1"].is_dart
    assert refs_of(after, "d1") == (["p.e2"], ["-p.e3.1"])
