from tests import small
from wedgework.checks import check
from wedgework.edits.body import Accept, SetBody

DEMO = {
    "bust_girth_mm": 920.0, "under_bust_girth_mm": 780.0, "waist_girth_mm": 720.0,
    "hip_girth_mm": 980.0, "neck_base_girth_mm": 370.0, "thigh_girth_mm": 570.0,
    "shoulder_girth_mm": 1030.0, "back_waist_length_mm": 405.0, "shoulder_length_mm": 125.0,
    "torso_loop_mm": 1560.0, "bust_front_mm": 500.0, "bust_back_mm": 420.0,
}  # fmt: skip


def of_body(project):
    return [one for one in check(project) if one.code.startswith("measure")]


def test_an_ordinary_body_is_left_in_peace():
    assert of_body(SetBody(measures=DEMO).apply(small.two_panels())) == []
    assert of_body(small.two_panels()) == []


def test_a_slip_of_the_tape_is_looked_at_again_and_never_stops():
    project = SetBody(measures={**DEMO, "hip_girth_mm": 98.0}).apply(small.two_panels())
    found = of_body(project)
    assert {(one.code, one.grave) for one in found} == {
        ("measure_unlikely", "look_again"), ("measures_disagree", "look_again")
    }  # fmt: skip
    assert found[0].where == ("hip_girth_mm",)


def test_an_unlikely_body_that_is_right_is_accepted():
    project = SetBody(measures={"stature_mm": 2150.0}).apply(small.two_panels())
    (found,) = of_body(project)
    accepted = Accept(code=found.code, where=found.where, reason="so tall", measured=found.measured)
    (still,) = of_body(accepted.apply(project))
    assert still.accepted


def test_measures_that_contradict_each_other_are_found():
    project = SetBody(measures={**DEMO, "bust_back_mm": 430.0}).apply(small.two_panels())
    (found,) = of_body(project)
    assert (found.code, found.measured, found.wanted) == ("measures_disagree", 930.0, 920.0)
