"""The recorder and the pens that wrap another."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests import small
from wedgework.drawing.adapters import ChordsPen, LayersPen, MovedPen
from wedgework.drawing.pen import Ink, Setting
from wedgework.drawing.pieces import draw_project
from wedgework.drawing.recorder import Circled, Filled, Recorder, Written
from wedgework.geometry.curve import line
from wedgework.geometry.motion import Affine, reflection, rotation


def everything(wrap=lambda pen: pen):
    recorder = Recorder()
    pen = wrap(recorder)
    draw_project(small.with_everything(), pen)
    pen.fill([[edge.curve for edge in small.square().pieces["p"].edges]], Ink("mark"))
    return recorder


def test_a_replay_draws_the_same_again():
    first, second = everything(), Recorder()
    first.replay(second)
    assert [repr(one) for one in second.drawn] == [repr(one) for one in first.drawn]


def test_bounds_hold_lines_and_circles():
    recorder = Recorder()
    assert recorder.bounds_mm() is None
    recorder.stroke([line((0, 0), (10, 5))], Ink("cut"))
    recorder.circle(np.array([0.0, 0.0]), 2.0, Ink("mark"))
    assert recorder.bounds_mm().tolist() == [-2.0, -2.0, 10.0, 5.0]


def test_a_moved_pen_moves_all_that_is_drawn():
    there = everything()
    turned = everything(lambda pen: MovedPen(pen, rotation(math.pi / 2, (10, 0))))
    x0, y0, x1, y1 = there.bounds_mm()
    assert turned.bounds_mm() == pytest.approx([10 - y1, x0 - 10, 10 - y0, x1 - 10])
    assert len(turned.drawn) == len(there.drawn)


def test_a_moved_pen_turns_and_scales_words_and_circles():
    recorder = Recorder()
    pen = MovedPen(recorder, Affine(2 * rotation(0.5).linear, np.zeros(2)))
    pen.text("a", Setting(np.array([1.0, 0.0]), 5.0, 0.25), Ink("label"))
    pen.circle(np.zeros(2), 3.0, Ink("mark"))
    text, circle = recorder.drawn
    assert isinstance(text, Written)
    assert isinstance(circle, Circled)
    assert (text.setting.height_mm, text.setting.angle_rad) == pytest.approx((10.0, 0.75))
    assert circle.radius_mm == pytest.approx(6.0)


def test_words_in_a_mirror_image_follow_their_baseline():
    recorder = Recorder()
    pen = MovedPen(recorder, reflection((0, 0), (1, 0)))
    pen.text("a", Setting(np.zeros(2), 5.0, 0.25), Ink("label"))
    assert recorder.drawn[0].setting.angle_rad == pytest.approx(-0.25)


def test_a_layers_pen_lets_some_layers_through_and_every_group():
    recorder = everything(lambda pen: LayersPen(pen, {"seam"}))
    layers = {one.ink.layer for one in recorder.drawn if hasattr(one, "ink")}
    assert layers == {"piece", "seam"}
    assert not any(isinstance(one, Written | Circled | Filled) for one in recorder.drawn)


def test_a_chords_pen_draws_straight_lines_near_the_curve():
    recorder = Recorder()
    draw_project(small.disc(50.0), ChordsPen(recorder, 0.01))
    (stroke,) = recorder.strokes("seam")
    ends = np.concatenate([curve.segments[:, [0, 3]] for curve in stroke.curves])
    middles = np.hypot(*ends.mean(axis=1).T)
    assert (np.abs(middles - 50.0) < 0.02).all()
    assert all(len(curve) > 4 for curve in stroke.curves)


def test_a_chords_pen_passes_all_else_on():
    assert len(everything(lambda pen: ChordsPen(pen, 0.1)).drawn) == len(everything().drawn)


def test_a_curve_of_no_length_is_one_chord():
    recorder = Recorder()
    ChordsPen(recorder, 0.1).stroke([line((1, 1), (1, 1))], Ink("cut"))
    assert len(recorder.drawn[0].curves[0]) == 1
