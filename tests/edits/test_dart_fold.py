import numpy as np
import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from tests.edits.measuring import curve
from wedgework.edits import Place
from wedgework.edits.dart_apex import MoveApex
from wedgework.edits.dart_double import AddDoubleDart
from wedgework.edits.dart_fold import FoldDart
from wedgework.edits.darts import AddDart
from wedgework.edits.move import PullEdge
from wedgework.edits.settings import SetAllowance
from wedgework.geometry.curve import reversed_curve
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import moved, reflection, rotation
from wedgework.geometry.nearest import nearest
from wedgework.geometry.turning import angle_between, start_tangent
from wedgework.pattern.cutlines import cut_outline
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.mouths import mouths_of


def cut(project, own="p"):
    """The stretches of the one cut line round a piece."""
    (ring,) = cut_outline(project, project.pieces[own])
    return ring


def folded(to, project=None):
    return check_edit(FoldDart(dart="d1", to=to), project or small.darted_front())


def side_dart():
    """A dart of 26 in the right side of a front, its apex to the left."""
    dart = AddDart(piece="p", at=Place("p.e2", 200.0), apex_mm=(90, 200), intake_mm=26)
    return dart.apply(small.new_project(small.rectangle("p", 200, 300)))


def test_a_folded_dart_keeps_its_wedge():
    project = small.darted_front()
    after = folded("left", project)
    assert ring_area_mm2([one.curve for one in cut(after)]) > 200 * 300
    assert (after.seams["d1"].join, after.seams["d1"].over) == ("superimposed", "a")
    assert after.pieces["p"] is project.pieces["p"]


@pytest.mark.parametrize("to", ["left", "right"])
def test_a_mouth_folded_to_one_side_runs_exactly_to_the_edge(to):
    # The wedge laid on the piece: the half beside the leg mirrored in it, the other half turned
    # about the apex. Both then have to lie on the edge that the fold is laid to.
    after = folded(to)
    found = measure_dart(after, after.seams["d1"])
    stretches = [one for one in cut(after) if one.edge in ("p.e2", "p.e3")]
    edge = curve(after, "p.e1" if to == "left" else "p.e4")
    leg = found.mouth_a if to == "left" else found.mouth_b
    turn = angle_between(found.mouth_a - found.apex_mm, found.mouth_b - found.apex_mm)
    back = rotation(-turn if to == "left" else turn, found.apex_mm)
    mirror = reflection(found.apex_mm, leg)
    laid = (mirror, back) if to == "left" else (back, mirror)
    for stretch, motion in zip(stretches, laid, strict=True):
        for point in moved(stretch.curve, motion).segments[:, (0, 3)].reshape(-1, 2):
            assert nearest(edge, point).distance_mm < 1e-9


def test_the_mouth_is_what_the_cut_line_has_there():
    after = folded("right")
    expected = [one.curve.segments for one in cut(after) if one.edge in ("p.e2", "p.e3")]
    found = [one.segments for one in mouths_of(after, after.pieces["p"])]
    assert all(map(np.array_equal, found, expected))
    assert len(found) == len(expected) == 2
    assert mouths_of(small.darted_front(), small.darted_front().pieces["p"]) == []


def test_the_mouth_peaks_beyond_the_edge_on_the_middle_line():
    stretches = [one for one in cut(folded("right")) if one.edge in ("p.e2", "p.e3")]
    peak = stretches[0].curve.end
    assert peak[0] == pytest.approx(100, abs=1e-9)
    assert peak[1] < -2
    assert np.array_equal(stretches[1].curve.start, peak)


def test_both_ways_of_folding_a_level_mouth_are_mirror_images():
    peaks = []
    for to in ("left", "right"):
        stretches = [one for one in cut(folded(to)) if one.edge == "p.e2"]
        peaks.append(stretches[0].curve.end)
    assert peaks[0] == pytest.approx(peaks[1], abs=1e-9)


def test_up_and_down_differ_where_the_edge_slants():
    project = FoldDart(dart="p.d1", to="down").apply(side_dart())
    other = FoldDart(dart="p.d1", to="up").apply(side_dart())
    assert project.seams["p.d1"].over != other.seams["p.d1"].over
    refused(FoldDart(dart="p.d1", to="left"), small.darted_front())


def test_an_allowance_goes_round_the_peak():
    allowed = SetAllowance(edges=("p.e1", "p.e4"), mm=10.0).apply(small.darted_front())
    after = folded("left", allowed)
    plain = next(one for one in cut(folded("left")) if one.edge == "p.e2").curve
    wide = next(one for one in cut(after) if one.edge == "p.e2").curve
    middle = wide.segments[0, [0, 3]].mean(axis=0)
    assert nearest(plain, middle).distance_mm == pytest.approx(10.0, abs=0.01)


def test_an_allowance_along_the_legs_cuts_the_wedge_out_again():
    after = folded("left")
    cut_out = SetAllowance(edges=("p.e2", "p.e3"), mm=6.0).apply(after)
    lowest = min(one.curve.segments[..., 1].min() for one in cut(cut_out))
    assert lowest > -1
    again = check_edit(FoldDart(dart="d1", to="left"), cut_out)
    assert min(one.curve.segments[..., 1].min() for one in cut(again)) < -2


def test_a_curved_edge_is_copied_into_the_mouth():
    project = side_dart()
    bent = PullEdge(edge="p.e2.1", at_mm=100.0, by_mm=(12, 0)).apply(project)
    found = measure_dart(bent, bent.seams["p.d1"])
    after = FoldDart(dart="p.d1", to="down").apply(bent)
    stretch = next(one for one in cut(after) if one.edge == "p.d1.a")
    image = moved(reversed_curve(stretch.curve), reflection(found.apex_mm, found.mouth_a))
    edge = curve(bent, "p.e2.1")
    for point in image.segments[:, (0, 3)].reshape(-1, 2):
        assert nearest(edge, point).distance_mm < 1e-8


def shaped_legs():
    """A dart whose legs are bent alike, each the mirror image of the other."""
    project = small.darted_front()
    whole_mm = length_mm(curve(project, "p.e2"))
    left = PullEdge(edge="p.e2", at_mm=40.0, by_mm=(-5, 2)).apply(project)
    return PullEdge(edge="p.e3", at_mm=whole_mm - 40.0, by_mm=(5, 2)).apply(left)


@pytest.mark.parametrize("to", ["left", "right"])
def test_a_dart_with_shaped_legs_folds_along_the_way_that_they_take_at_the_mouth(to):
    project = shaped_legs()
    after = folded(to, project)
    leg, own, edge = (
        (curve(after, "p.e2"), "p.e2", "p.e1")
        if to == "left"
        else (reversed_curve(curve(after, "p.e3")), "p.e3", "p.e4")
    )
    mirror = reflection(leg.start, leg.start + start_tangent(leg))
    stretch = next(one for one in cut(after) if one.edge == own)
    for point in mirror.points(stretch.curve.segments[:, (0, 3)].reshape(-1, 2)):
        assert nearest(curve(after, edge), point).distance_mm < 1e-8
    both = [one.curve for one in cut(after) if one.edge in ("p.e2", "p.e3")]
    assert len(both) == 2
    assert np.array_equal(both[0].end, both[1].start)
    assert both[0].end[0] == pytest.approx(100.0, abs=1e-8)


def test_a_dart_is_cut_out_once_its_legs_no_longer_fold_onto_each_other():
    after = folded("left", shaped_legs())
    bent = PullEdge(edge="p.e2", at_mm=40.0, by_mm=(-5, 2)).apply(after)
    assert ring_area_mm2([one.curve for one in cut(bent)]) < 200 * 300


def test_what_does_not_fold_flat_is_refused():
    bent = PullEdge(edge="p.e2", at_mm=40.0, by_mm=(-5, 2)).apply(small.darted_front())
    refused(FoldDart(dart="d1", to="left"), bent)
    refused(FoldDart(dart="d1", to="up"), small.darted_front())
    uneven = MoveApex(dart="d1", by_mm=(9, 0)).apply(small.darted_front())
    refused(FoldDart(dart="d1", to="left"), uneven)
    slit = AddDoubleDart(piece="p", tip_mm=(50, 20), apex_mm=(50, 80), intake_mm=9)
    refused(FoldDart(dart="p.d1", to="a"), slit.apply(small.square()))


def test_a_dart_folded_as_it_is_changes_nothing():
    after = folded("left")
    assert FoldDart(dart="d1", to="a").apply(after) is after


def test_a_dart_without_intake_lies_no_way_to_fold_it():
    assert "other way" in refused(FoldDart(dart="d1", to="left"), small.darted_front(0.0)).sentence


def test_a_wedge_that_another_dart_opens_in_is_cut_out():
    inner = AddDart(piece="p", at=Place("p.e3", 40.0), apex_mm=(150, 60), intake_mm=8)
    after = inner.apply(folded("left"))
    assert {"p.e2", "p.e3.1", "p.e3.2"} <= {one.edge for one in cut(after)}
    assert min(one.curve.segments[..., 1].min() for one in cut(after)) > -1
