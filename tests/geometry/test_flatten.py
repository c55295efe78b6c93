import numpy as np
import pytest

from wedgework.geometry.curve import Curve, line, polyline
from wedgework.geometry.flatten import chord_starts, flattened, flattened_all, flattened_ring
from wedgework.geometry.length import points_at_parameters

BOWL = Curve([[[0, 0], [0, 100], [100, 100], [100, 0]]])


def greatest_gap_mm(curve, error_mm):
    """Chords sampled between their own parameters: never less than the true gap, hardly more."""
    points, parameters = chord_starts(curve.segments, error_mm)
    points = np.concatenate([points, curve.end[None]])
    parameters = np.append(parameters, len(curve))
    share = np.linspace(0, 1, 33)[:, None]
    gaps = []
    for i in range(len(points) - 1):
        at = parameters[i] + share[:, 0] * (parameters[i + 1] - parameters[i])
        on_chord = points[i] + share * (points[i + 1] - points[i])
        gaps.append(np.hypot(*(points_at_parameters(curve, at) - on_chord).T).max())
    return max(gaps)


@pytest.mark.parametrize("error_mm", [1.0, 0.05, 0.001])
def test_chords_stay_within_the_error_asked_for(error_mm):
    assert 0.5 * error_mm < greatest_gap_mm(BOWL, error_mm) <= error_mm


def test_both_ends_are_the_curves_own_bit_for_bit():
    points = flattened(BOWL, 0.1)
    assert (points[0] == BOWL.start).all()
    assert (points[-1] == BOWL.end).all()


def test_a_straight_line_is_one_chord():
    assert flattened(line((0, 0), (300, 40)), 0.001).tolist() == [[0, 0], [300, 40]]


def test_a_cubic_of_no_length_repeats_no_point():
    assert len(flattened(polyline([(0, 0), (0, 0), (10, 0), (10, 0)]), 0.1)) == 2


def test_a_ring_does_not_say_its_first_point_again():
    square = [line(a, b) for a, b in [((0, 0), (9, 0)), ((9, 0), (9, 9)), ((9, 9), (0, 0))]]
    assert flattened_ring(square, 0.1).tolist() == [[0, 0], [9, 0], [9, 9]]


def test_many_curves_at_once_give_what_each_gives_alone():
    curves = [BOWL, line((0, 0), (5, 5)), BOWL]
    for one, curve in zip(flattened_all(curves, 0.02), curves, strict=True):
        assert np.array_equal(one, flattened(curve, 0.02))


@pytest.mark.parametrize("error_mm", [0.0, -1.0, float("nan")])
def test_an_error_of_nothing_is_refused(error_mm):
    with pytest.raises(ValueError, match="above nothing"):
        flattened(BOWL, error_mm)
