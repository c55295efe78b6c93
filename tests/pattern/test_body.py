import pytest
from hypothesis import given
from hypothesis import strategies as st

from wedgework.pattern.body import ALL_NAMES, MEASURES, SIDED, for_both, measured, settled_mm
from wedgework.pattern.plausible import SMALLER, SUMS, disagreeing, doubts_of, unlikely
from wedgework.pattern.table import Table


def test_a_side_has_its_own_measure_then_the_common_one_then_the_other_sides():
    body = {"calf_girth_mm": 360.0, "calf_girth_left_mm": 366.0, "knee_girth_right_mm": 371.0}
    assert measured(body, "calf_girth_mm", "left") == 366.0
    assert measured(body, "calf_girth_mm", "right") == 360.0
    assert measured(body, "calf_girth_left_mm") == 366.0
    assert measured(body, "knee_girth_mm", "left") == 371.0


def test_without_a_side_the_larger_limb_counts():
    body = {"calf_girth_left_mm": 360.0, "calf_girth_right_mm": 366.0, "bust_girth_mm": 900.0}
    assert measured(body, "calf_girth_mm") == 366.0
    assert for_both(body) == {"bust_girth_mm": 900.0, "calf_girth_mm": 366.0}
    assert measured({}, "calf_girth_mm") is None


def test_every_sided_measure_is_known_plain_left_and_right():
    assert set(SIDED) <= set(MEASURES)
    assert len(ALL_NAMES) == len(set(ALL_NAMES)) == len(MEASURES) + 2 * len(SIDED)


@pytest.mark.parametrize(
    ("readings", "kept"),
    [
        ((920.0,), None),
        ((920.0, 924.0), 922.0),
        ((920.0, 926.0), None),
        ((920.0, 290.0, 922.0), 920.0),
        ((920.0, 960.0, 958.0), 958.0),
    ],
)
def test_two_readings_that_agree_are_kept_and_otherwise_the_middle_of_three(readings, kept):
    assert settled_mm(readings) == kept


@given(st.lists(st.floats(1, 2000), min_size=3, max_size=3), st.permutations(range(3)))
def test_the_middle_of_three_does_not_ask_which_came_first(readings, order):
    assert settled_mm(readings) == settled_mm([readings[index] for index in order])


def test_a_measure_that_hardly_anybody_has_is_doubted_and_an_ordinary_one_is_not():
    assert unlikely({"bust_girth_mm": 920.0}, "bust_girth_mm") is None
    slip = unlikely({"bust_girth_mm": 92.0}, "bust_girth_mm")
    assert slip is not None
    assert slip.wanted_mm == pytest.approx(946.86 - 3 * 82.70)
    assert "less" in slip.sentence


def test_women_and_men_are_both_tried_unless_one_is_said():
    body = {"neck_base_girth_mm": 500.0}
    assert unlikely(body, "neck_base_girth_mm") is None
    assert unlikely(body, "neck_base_girth_mm", "men") is None
    assert unlikely(body, "neck_base_girth_mm", "women") is not None


def test_a_measure_of_one_side_is_held_against_the_same_spread():
    assert unlikely({"thigh_girth_left_mm": 57.0}, "thigh_girth_left_mm") is not None
    assert unlikely({"hand_girth_mm": 20.0}, "hand_girth_mm") is None


def test_arcs_and_parts_of_the_torso_loop_add_up_within_five_millimetres():
    arcs = {"bust_girth_mm": 920.0, "bust_front_mm": 500.0, "bust_back_mm": 424.0}
    assert list(disagreeing(arcs)) == []
    (found,) = disagreeing({**arcs, "bust_back_mm": 430.0})
    assert found.names == ("bust_girth_mm", "bust_front_mm", "bust_back_mm")
    assert (found.measured_mm, found.wanted_mm) == (930.0, 920.0)
    loop = dict(zip(SUMS[4][1], (420.0, 320.0, 380.0, 440.0), strict=True))
    assert list(disagreeing({**loop, "torso_loop_mm": 1560.0})) == []
    assert len(list(disagreeing({**loop, "torso_loop_mm": 1540.0}))) == 1


@pytest.mark.parametrize(("small", "large"), SMALLER)
def test_the_smaller_of_two_measures_may_not_be_the_larger(small, large):
    assert {small, large} <= set(MEASURES)
    assert list(disagreeing({small: 300.0, large: 300.0})) == []
    (found,) = disagreeing({small: 301.0, large: 300.0})
    assert found.names == (small, large)


def test_doubts_tell_what_is_unlikely_first():
    body = Table({"neck_girth_mm": 520.0, "neck_base_girth_mm": 400.0})
    assert [one.names for one in doubts_of(body)] == [
        ("neck_girth_mm",), ("neck_girth_mm", "neck_base_girth_mm")
    ]  # fmt: skip
