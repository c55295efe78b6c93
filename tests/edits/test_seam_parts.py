import pytest

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from tests.edits.measuring import edge_mm
from wedgework.edits.marks import AddNotches
from wedgework.edits.mending import TurnSide
from wedgework.edits.seam_parts import MergeSeams, SplitSeam
from wedgework.edits.seams import SetSeam
from wedgework.pattern.seams import measure_seam


def test_a_seam_over_two_panels_is_divided_where_they_meet():
    after = check_edit(SplitSeam(seam="s"), small.yoke_over_two())
    assert refs_of(after, "s.1") == (["yoke.e1.1"], ["-left.e3"])
    assert refs_of(after, "s.2") == (["yoke.e1.2"], ["-right.e3"])
    for own in ("s.1", "s.2"):
        assert measure_seam(after, after.seams[own]).difference_mm == pytest.approx(0, abs=1e-9)


def test_a_seam_is_divided_at_places_and_its_ease_is_shared():
    project = SetSeam(seam="s", wanted_mm=4.0, over="b").apply(small.two_panels())
    after = check_edit(SplitSeam(seam="s", at_mm=(25.0, 60.0)), project)
    assert [edge_mm(after, f"a.e2.{own}") for own in ("1", "2.1", "2.2")] == pytest.approx(
        [25, 35, 40]
    )
    assert [seam.wanted_mm for seam in after.seams.values()] == pytest.approx([1.0, 1.4, 1.6])
    assert {seam.over for seam in after.seams.values()} == {"b"}


def test_marks_stay_where_they_are_when_their_seam_is_divided():
    project = AddNotches(seam="s", at_mm=(20.0, 70.0)).apply(small.two_panels())
    after = check_edit(SplitSeam(seam="s", at_mm=50.0), project)
    assert after.notches["s.n1"].at.edge == "a.e2.1"
    assert after.notches["s.n2"].at.at_mm == pytest.approx(20)
    assert after.notches["s.n2"].mate.edge == "b.e4.1"


def test_places_off_the_seam_darts_and_plain_seams_are_refused():
    refused(SplitSeam(seam="s", at_mm=100.0), small.two_panels())
    refused(SplitSeam(seam="s"), small.two_panels())
    refused(SplitSeam(seam="d1"), small.darted_front())


@pytest.mark.parametrize("order", [("s.1", "s.2"), ("s.2", "s.1")])
def test_dividing_and_merging_gives_the_seam_back(order):
    apart = SplitSeam(seam="s").apply(small.yoke_over_two())
    after = check_edit(MergeSeams(seams=order), apart)
    assert list(after.seams) == ["s"]
    assert refs_of(after, "s") == (["yoke.e1.1", "yoke.e1.2"], ["-left.e3", "-right.e3"])
    assert after.seams["s"].name == "s"


def test_a_part_that_is_walked_the_other_way_round_is_merged_too():
    apart = SplitSeam(seam="s", at_mm=50.0).apply(small.two_panels())
    turned = TurnSide(seam="s.2", side="a").apply(TurnSide(seam="s.2", side="b").apply(apart))
    after = check_edit(MergeSeams(seams=("s.1", "s.2")), turned)
    assert refs_of(after, "s") == (["a.e2.1", "a.e2.2"], ["-b.e4.2", "-b.e4.1"])


def test_seams_that_do_not_follow_each_other_or_are_made_otherwise_are_refused():
    refused(MergeSeams(seams=("s1", "s3")), small.ring_of_panels())
    apart = SplitSeam(seam="s", at_mm=50.0).apply(small.two_panels())
    other = SetSeam(seam="s.2", lap_mm=12.0).apply(apart)
    refused(MergeSeams(seams=("s.1", "s.2")), other)
    refused(MergeSeams(seams=("s", "d1")), small.darted_front())
