import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits.bodies import AddBody, RemoveBody, SetReductions, WearBody
from wedgework.edits.body import Accept, AddLevel, LevelPoint, SetBody
from wedgework.edits.names import Rename
from wedgework.files.wedge import read_wedge, write_wedge
from wedgework.pattern.levels import body_girth_mm
from wedgework.pattern.reductions import reduction_of, reductions_said

HERON = {"bust_girth_mm": 905.0, "waist_girth_mm": 700.0}


def two_bodies():
    first = SetBody(measures=HERON).apply(AddBody(name="Heron").apply(small.two_panels()))
    return SetBody(measures={"bust_girth_mm": 1010.0}).apply(AddBody(name="Pike").apply(first))


def measures(project):
    return {own: dict(one.measures) for own, one in project.bodies.items()}


def test_a_body_that_is_added_is_worn_and_begins_with_nothing():
    after = check_edit(AddBody(name="Pike"), two_bodies_of_one())
    assert after.wearer == "Pike"
    assert dict(after.body) == {}
    assert measures(after)["Heron"] == HERON


def two_bodies_of_one():
    return SetBody(measures=HERON).apply(AddBody(name="Heron").apply(small.two_panels()))


def test_measures_of_nobody_named_are_kept_when_another_body_comes():
    unnamed = SetBody(measures=HERON).apply(small.two_panels())
    after = check_edit(AddBody(name="Pike"), unnamed)
    assert measures(after) == {"Unnamed": HERON, "Pike": {}}
    back = check_edit(WearBody(body="Unnamed"), after)
    assert dict(back.body) == HERON


def test_a_body_may_begin_like_the_one_that_is_worn():
    after = check_edit(AddBody(name="Pike", like_worn=True), two_bodies_of_one())
    assert dict(after.body) == HERON


def test_measures_that_are_written_stay_with_the_body_that_is_worn():
    after = check_edit(WearBody(body="Heron"), two_bodies())
    assert dict(after.body) == HERON
    changed = check_edit(SetBody(measures={"waist_girth_mm": 690.0}), after)
    assert measures(changed) == {
        "Heron": {**HERON, "waist_girth_mm": 690.0}, "Pike": {"bust_girth_mm": 1010.0}
    }  # fmt: skip


def test_a_level_is_held_against_the_body_that_is_worn():
    level = AddLevel(name="bust", points=(LevelPoint("a", 40),), measure="bust_girth_mm")
    pike = level.apply(two_bodies())
    assert body_girth_mm(pike, pike.levels["bust"]) == 1010.0
    heron = check_edit(WearBody(body="Heron"), pike)
    assert body_girth_mm(heron, heron.levels["bust"]) == 905.0


def test_the_first_of_the_others_is_worn_when_the_worn_body_goes():
    after = check_edit(RemoveBody(body="Pike"), two_bodies())
    assert (after.wearer, dict(after.body)) == ("Heron", HERON)
    alone = check_edit(RemoveBody(body="Heron"), after)
    assert (alone.wearer, dict(alone.body), dict(alone.bodies)) == ("", {}, {})
    other = check_edit(RemoveBody(body="Heron"), two_bodies())
    assert dict(other.body) == {"bust_girth_mm": 1010.0}


def test_bodies_are_renamed_and_two_of_one_name_are_refused():
    after = check_edit(Rename(id="Pike", name="Old pike"), two_bodies())
    assert after.bodies["Pike"].name == "Old pike"
    refused(AddBody(name="Heron"), two_bodies())
    assert refused(WearBody(body="zz"), two_bodies()).culprit == "zz"
    refused(RemoveBody(body="zz"), two_bodies())


def test_wearing_the_worn_body_changes_nothing():
    project = two_bodies()
    assert WearBody(body="Pike").apply(project) is project


def test_bodies_and_reductions_come_back_from_a_file():
    project = SetReductions(girth=0.1, limb=0.06).apply(two_bodies())
    back = read_wedge(write_wedge(project))
    assert (measures(back), back.wearer) == (measures(project), "Pike")
    assert dict(back.reductions) == {"girth": 0.1, "limb": 0.06}


def test_left_and_right_are_written_down_apart_only_where_there_are_two():
    after = check_edit(SetBody(measures={"thigh_girth_left_mm": 571.0}), small.square())
    assert dict(after.body) == {"thigh_girth_left_mm": 571.0}
    assert "left and right" in refused(SetBody(measures={"bust_girth_left_mm": 9.0}),
                                       small.square()).sentence  # fmt: skip


def test_a_reduction_that_is_not_said_is_the_usual_one():
    project = small.square()
    assert reduction_of(project, "girth") == 0.08
    after = check_edit(SetReductions(girth=0.1), project)
    assert reduction_of(after, "girth") == 0.1
    assert reductions_said(after) == {"girth_reduction": 0.1}
    assert reduction_of(check_edit(SetReductions(girth=None), after), "girth") == 0.08
    assert SetReductions(girth=0.1).apply(after) is after


@pytest.mark.parametrize("share", [0.51, -0.01, float("nan")])
def test_a_reduction_beyond_half_is_refused(share):
    refused(SetReductions(girth=share), small.square())


def test_a_finding_about_measures_can_be_accepted():
    edit = Accept(code="measure_unlikely", where=("bust_girth_mm",), reason="it is so")
    assert check_edit(edit, small.square()).accepted[0].where == ("bust_girth_mm",)
