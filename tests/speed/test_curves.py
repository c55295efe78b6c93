"""How fast curves are, as ratios to one pass over the same bytes or to one small product.

Goals (medians; recorded, never asserted): length of 16,000 cubics 80 passes; one edge 40 small
products, its plain split 3, its 33 equal stations 250; curvature at 9 places a cubic 45 passes,
chords at 0.05 mm 140, offsets within 0.01 mm 450. `extra_info` holds goal and ratio.
"""

import time

import numpy as np
import pytest

from tests.geometry import shapes
from wedgework.geometry.crossing import crosses_itself, self_crossings
from wedgework.geometry.curve import Curve
from wedgework.geometry.fit import fitted
from wedgework.geometry.flatten import chord_starts
from wedgework.geometry.length import cut_cubics, points_at, segment_lengths_mm
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.offset import offset_curve, offset_ring
from wedgework.geometry.offset_cubics import moved_cubics
from wedgework.geometry.regions import inside_spans
from wedgework.geometry.turning import segment_curvatures, turning_to

EDGE = Curve([[[0, 0], [30, 10], [60, 10], [90, 0]], [[90, 0], [120, -10], [150, -10], [180, 0]]])


def many_cubics():
    random = np.random.default_rng(1)
    base = np.array([[0, 0], [30, 10], [60, 10], [90, 0]], dtype=float)
    return base + random.normal(size=(16_000, 4, 2)) * 3


def median_s(work, rounds):
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return float(np.median(times))


def one_pass_s():
    cubics = many_cubics()
    out = np.empty_like(cubics)
    return median_s(lambda: np.multiply(cubics, 2, out=out), 50)


def one_small_product_s():
    small = np.ones((4, 2))
    return median_s(lambda: [small * 2.0 for _ in range(100)], 50) / 100


def record(benchmark, goal, unit_s):
    benchmark.extra_info["goal"] = goal
    benchmark.extra_info["ratio"] = round(benchmark.stats.stats.median / unit_s, 1)


NINE = np.arange(9) / 8
BULK = {
    "length": (80, segment_lengths_mm),
    "curvature at 9 places": (45, lambda cubics: segment_curvatures(cubics, NINE)),
    "offset": (450, lambda cubics: moved_cubics(cubics, 8.0, 0.01)),
    "chords": (140, lambda cubics: chord_starts(cubics, 0.05)),
}


@pytest.mark.parametrize("name", BULK)
def test_bulk(benchmark, name):
    goal, work = BULK[name]
    cubics = many_cubics()
    benchmark(work, cubics)
    record(benchmark, goal, one_pass_s())


ONE = {
    "length": (40, lambda: segment_lengths_mm(EDGE.segments)),
    "split": (3, lambda: cut_cubics(EDGE.segments[:1], np.array([0.4]))),
    "33 stations": (250, lambda: points_at(EDGE, np.linspace(0, 180, 33))),
    "turning at 33 stations": (None, lambda: turning_to(EDGE, np.linspace(0, 180, 33))),
    "nearest point": (None, lambda: nearest_foot(EDGE, (70.0, 30.0))),
    "offset": (None, lambda: offset_curve(EDGE, 8.0, 0.01)),
}


@pytest.mark.parametrize("name", ONE)
def test_one_edge(benchmark, name):
    goal, work = ONE[name]
    benchmark(work)
    record(benchmark, goal, one_small_product_s())


RING = shapes.circle(100)
RINGS = {
    "crosses itself": lambda: crosses_itself(RING),
    "self crossings": lambda: self_crossings(RING),
    "width": lambda: inside_spans((0, 10), (1, 10), RING, endless=True),
    "offset": lambda: offset_ring(RING, [8.0] * 4, 0.01),
}


@pytest.mark.parametrize("name", RINGS)
def test_one_ring(benchmark, name):
    benchmark(RINGS[name])
    record(benchmark, None, one_small_product_s())


def test_fit_of_30000_chords(benchmark):
    x = np.linspace(0, 600, 30_000)
    benchmark.pedantic(fitted, (np.stack([x, 40 * np.sin(x / 50)], axis=1), 0.02), rounds=3)
    record(benchmark, None, one_small_product_s())
