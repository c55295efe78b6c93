"""From paper: a photographed page becomes pieces within half a millimetre of what was drawn."""

from __future__ import annotations

import numpy as np
import pytest

from tests.bench import photographed as page
from tests.bench.hands import hand_on
from wedgework.bench import Enter, Press, Release, Typed
from wedgework.edits.pictures import AddPicture
from wedgework.geometry.length import points_at_parameters
from wedgework.geometry.motion import moved, translation
from wedgework.geometry.projective import mapped
from wedgework.geometry.turning import tangents_at_parameters
from wedgework.pattern.document import Project
from wedgework.pattern.pictures import placing_of

ZOOM_PX_MM = 0.15
SHAKE_PX = 0.5
# Where on each edge a maker presses between its corners, as shares of the edge.
PRESSES = {0: (0.22, 0.5, 0.78), 1: (), 2: (0.2, 0.42, 0.7), 3: (0.18, 0.4, 0.62, 0.83)}


class Maker:
    """Someone who presses on what they see, off by half a pixel of the photograph at the most."""

    def __init__(self, seed):
        self.camera = page.camera()
        self.grey = page.photograph(self.camera)
        self.shake = np.random.default_rng(seed)
        project = AddPicture(name="Heron hood", data=page.png(self.grey)).apply(Project())
        self.hand = hand_on(project, "photograph")

    @property
    def placing(self):
        return placing_of(self.hand.bench.project.pictures["Heron_hood"])

    def press_px(self, pixel, *, shift=False):
        seen = np.array(pixel) + self.shake.uniform(-SHAKE_PX, SHAKE_PX, 2)
        at = tuple(mapped(self.placing, seen).tolist())
        self.hand.does(Press(at, ZOOM_PX_MM, shift=shift))
        self.hand.does(Release(at, ZOOM_PX_MM, shift=shift))

    def square_up(self):
        for corner in page.sheet_corners(self.grey, self.camera)[[2, 0, 3, 1]]:
            self.press_px(corner)
        self.hand.does(Typed(page.A4_MM))
        self.hand.does(Enter())

    def trace(self):
        self.hand.take("trace")
        for index, edge in enumerate(page.EDGES):
            self.press_px(mapped(self.camera, edge.start))
            for share in PRESSES[index]:
                at = np.array([share * len(edge)])
                (place,), (way,) = points_at_parameters(edge, at), tangents_at_parameters(edge, at)
                here, there = mapped(self.camera, [place, place + np.array([-way[1], way[0]])])
                self.press_px(page.line_near(self.grey, here, there - here), shift=True)
        self.hand.does(Enter())


@pytest.mark.parametrize("seed", range(4))
def test_a_photographed_page_is_traced_to_half_a_millimetre(seed):
    maker = Maker(seed)
    maker.square_up()
    maker.trace()
    (piece,) = maker.hand.bench.project.pieces.values()
    assert len(piece.edges) == 4
    # The page's middle lies where its picture lay: a shift is all that may differ.
    corners = mapped(maker.camera, [[0, 0], [page.A4_MM[0], 0], page.A4_MM, [0, page.A4_MM[1]]])
    shift = mapped(maker.placing, corners).mean(axis=0) - np.array(page.A4_MM) / 2
    true = [moved(edge, translation(shift)) for edge in page.EDGES]
    assert page.farthest_mm([edge.curve for edge in piece.edges], true) < 0.5
    assert len(maker.hand.bench.history) == 2
    clicks = 4 + len(page.EDGES) + sum(map(len, PRESSES.values()))
    assert clicks <= 18


def test_untrue_before_it_is_squared_up():
    maker = Maker(0)
    sheet = mapped(maker.camera, [[0, 0], [page.A4_MM[0], 0], page.A4_MM, [0, page.A4_MM[1]]])
    sides = np.hypot(*np.diff(mapped(maker.placing, sheet), axis=0).T)
    assert abs(sides[0] / sides[2] - 1) > 0.1
