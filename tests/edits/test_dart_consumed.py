import math

import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from tests.edits.measuring import total_area_mm2
from tests.edits.test_dart_seam import total_rad
from wedgework.edits import Place
from wedgework.edits.dart_double import AddDoubleDart
from wedgework.edits.darts import AddDart
from wedgework.edits.shape import IntakeStation, ShapeSeam
from wedgework.pattern.ends import run_end
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.runs import walked
from wedgework.pattern.seams import measure_seam


def panels(bulge=0.0, piece="a", edge="a.e1", at_mm=45.0):
    """Two joined panels of 100; a waist dart of 16 in the lower edge of one of them."""
    project = small.two_panels(bulge=bulge)
    x = at_mm if piece == "a" else 200 + at_mm
    dart = AddDart(piece=piece, at=Place(edge, at_mm), apex_mm=(x, 60), intake_mm=16)
    return dart.apply(project)


@pytest.mark.parametrize("bulge", [0.0, 0.12])
def test_a_dart_moves_into_the_seam_and_the_total_is_kept(bulge):
    project = panels(bulge)
    after = check_edit(ShapeSeam(seam="s", consume="a.d1"), project)
    assert list(after.seams) == ["s"]
    assert total_rad(after) == pytest.approx(total_rad(project), abs=1e-9)
    assert measure_seam(after, after.seams["s"]).difference_mm == pytest.approx(0, abs=1e-6)


def test_the_slice_opens_towards_the_mouth():
    after = ShapeSeam(seam="s", consume="a.d1").apply(panels())
    ends = [run_end(walked(after, the_seam(after, "s").a), end) for end in ("first", "last")]
    assert ends[0].point[0] < 100 - 7
    assert ends[1].point[0] == pytest.approx(100, abs=1e-9)


def test_a_dart_of_the_other_side_is_consumed_too():
    project = panels(0.12, "b", "b.e1")
    after = check_edit(ShapeSeam(seam="s", consume="b.d1"), project)
    assert total_rad(after) == pytest.approx(total_rad(project), abs=1e-9)


def test_a_mouth_above_opens_the_slice_above():
    dart = AddDart(piece="a", at=Place("a.e3", 50.0), apex_mm=(50, 60), intake_mm=16)
    after = ShapeSeam(seam="s", consume="a.d1").apply(dart.apply(small.two_panels()))
    ends = [run_end(walked(after, the_seam(after, "s").a), end) for end in ("first", "last")]
    assert ends[0].point[0] == pytest.approx(100, abs=1e-9)
    assert ends[1].point[0] < 100 - 4


def test_typed_stations_are_taken_as_they_are():
    stations = (IntakeStation(0.0, 16.0), IntakeStation(60.0, 0.0))
    project = panels()
    after = check_edit(ShapeSeam(seam="s", intake=stations, consume="a.d1"), project)
    shaping = measure_seam(after, after.seams["s"]).shaping_rad
    assert shaping == pytest.approx(2 * math.atan(8 / 60), abs=1e-9)
    assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=25)


def test_a_double_dart_becomes_a_slice_inside_the_seam():
    slit = AddDoubleDart(piece="a", tip_mm=(60, 15), apex_mm=(60, 85), intake_mm=12)
    project = slit.apply(small.two_panels())
    after = check_edit(ShapeSeam(seam="s", consume="a.d1"), project)
    assert not after.pieces["a"].cutouts
    found = measure_seam(after, after.seams["s"])
    assert found.hollow_rad > 0.3
    assert found.shaping_rad == pytest.approx(0, abs=1e-6)


def test_what_is_no_dart_beside_the_seam_is_not_consumed():
    project = panels()
    refused(ShapeSeam(seam="s", consume="s"), project)
    refused(ShapeSeam(seam="s", consume="nothing"), project)
    refused(ShapeSeam(seam="s"), project)
    into = AddDart(piece="a", at=Place("a.e2", 50.0), apex_mm=(40, 50), intake_mm=9)
    assert (
        "very seam"
        in refused(ShapeSeam(seam="s", consume="a.d1"), into.apply(small.two_panels())).sentence
    )
