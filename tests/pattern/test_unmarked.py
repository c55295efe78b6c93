"""Openings that nobody has marked yet are found, with what passes them."""

from __future__ import annotations

import pytest

from tests import small
from tests.drafting.making import BODY, block, draft
from wedgework.edits.body import SetBody
from wedgework.edits.openings import MarkOpening
from wedgework.pattern.unmarked import unmarked_rings


def by_name(project):
    return {ring.name: ring for ring in unmarked_rings(project)}


def marked(project, ring):
    return MarkOpening(
        name=ring.name, edges=ring.edges, measure=ring.measure, rise_mm=ring.rise_mm
    ).apply(project)


def test_neck_armhole_and_leg_of_a_block_are_found_once_each():
    found = by_name(block())
    assert {name: ring.measure for name, ring in found.items()} == {
        "leg": "thigh_girth_mm", "armhole": "armscye_girth_mm", "neck": "shoulder_girth_mm",
    }  # fmt: skip
    assert len(found["neck"].edges) == 4
    assert len(found["leg"].edges) == 2


def test_sleeves_legs_and_a_high_neck_end_in_openings_of_their_own():
    found = by_name(block(legs="ankle", sleeves="long", high_neck_mm=60))
    assert {name: ring.measure for name, ring in found.items()} == {
        "hem": "ankle_girth_mm", "hem of sleeve": "wrist_girth_mm",
        "top of high neck": "shoulder_girth_mm",
    }  # fmt: skip


@pytest.mark.parametrize("rise", [None, 60, 150, 220])
def test_a_leg_opening_is_said_to_rise_as_it_was_drafted(rise):
    more = {} if rise is None else {"leg_rise_mm": rise}
    wanted = draft("body_block", **BODY, **more).numbers["leg_rise_mm"]
    assert by_name(block(**more))["leg"].rise_mm == pytest.approx(wanted, abs=0.06)


def test_the_head_passes_a_neck_where_no_shoulders_were_measured():
    project = SetBody(measures={"head_girth_mm": 560}).apply(block())
    assert by_name(project)["neck"].measure == "head_girth_mm"


def test_what_is_marked_is_not_found_again():
    project = block()
    for ring in unmarked_rings(project):
        project = marked(project, ring)
    assert unmarked_rings(project) == ()


def test_flat_pieces_that_no_level_crosses_have_no_openings():
    assert unmarked_rings(small.two_panels()) == ()
