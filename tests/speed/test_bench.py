"""A frame of a drag without its picture, a press, and a step written to the journal.

Goals: a frame within 1200 times a small numpy product, and no more than 1.6 times as long at 3000
pieces as at 30; a step in the journal within twice a plain write and fsync. Times are recorded and
not asserted: shared machines are noisy.
"""

from __future__ import annotations

import os
from dataclasses import replace
from statistics import median
from time import perf_counter

import numpy as np
import pytest

from tests import small
from wedgework.bench import Bench, Cancel, Hand, Move, Press
from wedgework.bench.readouts import numbers_of_drag, tail_of
from wedgework.edits import decode_plain
from wedgework.geometry.curve import Curve
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Edge, Hold, Piece
from wedgework.pattern.lookup import around_corner, piece_of
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.table import Table

EDGES = 8
PX_MM = 0.5


def panel(number):
    """Eight edges of two cubics each, some 200 mm across, in a grid of panels."""
    angles = np.linspace(0, 2 * np.pi, 6 * EDGES, endpoint=False)
    ring = 100 * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    ring = np.concatenate([ring, ring[:1]])
    ring += np.array([number % 60, number // 60]) * 250.0
    edges = []
    for index in range(EDGES):
        points = ring[6 * index : 6 * index + 7]
        name = f"p{number}.e{index}"
        curve = Curve(np.stack([points[:4], points[3:]]))
        edges.append(Edge(id=name, name="", curve=curve, corner=f"p{number}.c{index}"))
    return Piece(id=f"p{number}", name="", edges=tuple(edges))


def table_of(count):
    """A garment of `count` panels, four seams a panel."""
    seams = [
        small.seam(f"s{n}.{k}", f"p{n}.e{k}", f"-p{(n + 1) % count}.e{k + 4}")
        for n in range(count)
        for k in range(4)
    ]
    return new_project(*map(panel, range(count)), seams=seams)


def product_seconds():
    """The reference: a small numpy product, the same on every machine but for its speed."""
    values = np.ones((4, 2))
    times = []
    for _ in range(2000):
        before = perf_counter()
        values * 2.0
        times.append(perf_counter() - before)
    return median(times)


def hand_in_a_drag(project, corner="p0.c1"):
    """A hand that drags a corner; all that a frame must know of the model is asked for."""
    hand = Hand(Bench(project))

    def look(change):
        for own in change.seams:
            seam = hand.bench.shown.seams[own]
            measure_seam(hand.bench.shown, seam)
            tail_of(hand.bench.shown, seam)
        numbers_of_drag(hand.bench.project, hand.bench.shown, change)

    hand.bench.subscribe(look)
    _, edge = around_corner(piece_of(project, corner), corner)
    start = edge.curve.start
    hand.does(Press((float(start[0]), float(start[1])), PX_MM))
    return hand, start


@pytest.mark.parametrize("count", [30, 300, 3000])
def test_a_frame_of_a_drag(benchmark, count):
    hand, (x, y) = hand_in_a_drag(table_of(count))
    steps = iter(np.linspace(3.0, 9.0, 100_000).tolist())
    benchmark(lambda: hand.does(Move((float(x) + next(steps), float(y) + 2.0), PX_MM)))
    products = benchmark.stats.stats.median / product_seconds()
    benchmark.extra_info["products"] = round(products)


def record_slowest(benchmark):
    """A drag is felt by its slowest frames: their time stands beside the median."""
    times = sorted(benchmark.stats.stats.data)
    benchmark.extra_info["p99_ms"] = round(1e3 * times[int(0.99 * (len(times) - 1))], 2)


@pytest.mark.parametrize("count", [30, 300, 3000])
def test_a_frame_of_a_drag_with_every_seam_held(benchmark, count):
    hand, (x, y) = hand_in_a_drag(held_table_of(count))
    steps = iter(np.linspace(3.0, 9.0, 100_000).tolist())
    benchmark(lambda: hand.does(Move((float(x) + next(steps), float(y) + 2.0), PX_MM)))
    assert not hand.bench.released
    record_slowest(benchmark)


def held_table_of(count):
    """The garment with every seam held; its seams agree to begin with."""
    project = table_of(count)
    holds = {f"h.{key}": Hold(id=f"h.{key}", seam=key) for key in project.seams}
    return replace(project, holds=Table(holds))


@pytest.mark.parametrize("corner", ["front.c3", "front.c5", "side.c3", "back.c4", "collar.c2"])
def test_a_frame_of_a_drag_round_a_ring_of_holds(benchmark, corner):
    hand, (x, y) = hand_in_a_drag(small.held_ring(), corner)
    steps = iter(np.linspace(3.0, 30.0, 100_000).tolist())
    benchmark(lambda: hand.does(Move((float(x) + next(steps), float(y) + 2.0), PX_MM)))
    assert not hand.bench.released
    record_slowest(benchmark)


@pytest.mark.parametrize("count", [300, 3000])
def test_a_press_after_an_edit(benchmark, count):
    hand, (x, y) = hand_in_a_drag(table_of(count))
    by = iter(range(1, 100_000))

    def edited():
        hand.does(Cancel())
        corner = {"edit": "move_corner", "corner": "p9.c1", "by_mm": [next(by) * 1e-3, 0.0]}
        hand.bench.do(decode_plain(corner))
        return (), {}

    press = Press((float(x), float(y)), PX_MM)
    benchmark.pedantic(lambda: hand.does(press), setup=edited, rounds=20)


def test_a_step_in_the_journal(benchmark, tmp_path):
    bench = Bench(small.square(), state_folder=tmp_path / "state")
    by = iter(np.linspace(1.0, 2.0, 100_000).tolist())
    plain = (tmp_path / "plain").open("wb")
    times = []
    for _ in range(50):
        before = perf_counter()
        plain.write(b"x" * 100)
        plain.flush()
        os.fsync(plain.fileno())
        times.append(perf_counter() - before)
    plain.close()

    def step():
        edit = {"edit": "move_corner", "corner": "p.c2", "by_mm": [next(by) * 1e-3, 0.0]}
        bench.do(decode_plain(edit))

    benchmark(step)
    benchmark.extra_info["plain writes"] = round(benchmark.stats.stats.median / median(times), 2)
