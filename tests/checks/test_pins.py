"""Pinned measurements that miss what they should be."""

from __future__ import annotations

import pytest

from tests import small
from wedgework.bench import Bench, Watch
from wedgework.checks import check
from wedgework.edits import decode_plain


def pinned(project, **fields):
    return decode_plain({"edit": "pin_measure", **fields}).apply(project)


def found(project):
    return [one for one in check(project) if one.code == "pin_missed"]


def mended(project, mend):
    for row in mend.edits:
        project = decode_plain(row).apply(project)
    return project


def across(wanted, **more):
    return pinned(small.square(), kind="distance", anchors=["p.c1", "p.c2"], wanted=wanted, **more)


def test_a_pin_that_misses_its_value_is_found_with_both_numbers():
    (one,) = found(across(103.0))
    assert (one.measured, one.wanted, one.where) == (100.0, 103.0, ("pin1",))
    assert one.grave == "look_again"


def test_a_pin_is_still_within_what_it_is_allowed_and_without_a_wanted_value():
    assert found(across(100.5)) == []
    assert found(across(103.0, allowed=3)) == []
    assert found(across(None)) == []


def test_an_angle_is_told_in_degrees():
    (one,) = found(pinned(small.square(), kind="angle", anchors=["p.c1"], wanted=95))
    assert one.measured == pytest.approx(90.0)
    assert one.wanted == pytest.approx(95.0)


@pytest.mark.parametrize("anchors", [["p.c1", "p.c2"], ["p.c2", "p.c1"]])
def test_a_measure_from_end_to_end_of_a_straight_edge_is_mended_exactly(anchors):
    project = pinned(small.square(), kind="along", anchors=anchors, wanted=103)
    (one,) = found(project)
    assert len(one.mends) == 2
    for mend in one.mends:
        assert found(mended(project, mend)) == []
    longer = mended(project, one.mends[0])
    assert longer.pieces["p"].edges[1].curve.start.tolist() == pytest.approx([103.0, 0.0])


def test_a_curved_way_has_no_mend_but_to_take_it_as_it_is():
    project = pinned(small.curved_square(), kind="along", anchors=["p.c1", "p.c2"], wanted=110)
    (one,) = found(project)
    assert len(one.mends) == 1
    assert found(mended(project, one.mends[0])) == []


def test_a_watch_hears_of_a_pin_that_is_missed_and_of_its_mending():
    bench = Bench(across(100.0))
    watch = Watch(bench)
    assert [one.code for one in watch.findings if one.code == "pin_missed"] == []
    bench.do(decode_plain({"edit": "move_corner", "corner": "p.c2", "by_mm": [4, 0]}))
    assert [one.measured for one in watch.findings if one.code == "pin_missed"] == [104.0]
    bench.do(decode_plain({"edit": "move_corner", "corner": "p.c2", "by_mm": [-4, 0]}))
    assert [one.code for one in watch.findings if one.code == "pin_missed"] == []
    assert watch.left["Measure"].count == 0
