"""From a mouse event to the painted frame, and how the table pans and zooms.

Goals (ratios to filling the view once, in the same run): a frame of a drag within 12 fills at 300
pieces and 15 at 3000; a step of panning or zooming within 10. In the whole window, with a seam
chosen and every panel open, what a move costs, panels counted in: 99 of 100 within 8.3 ms of the
processor at 300 pieces and 16.7 at 3000. Seen on a shared machine: 8.2 and 9.2; 19.7
at 300 with every seam held. Recorded, not asserted.
"""

from __future__ import annotations

from statistics import median
from time import perf_counter, thread_time

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPointF, QSettings, Qt
from PySide6.QtGui import QImage, QMouseEvent
from PySide6.QtWidgets import QApplication

from tests.speed.test_bench import held_table_of, table_of
from wedgework.bench import Bench, Hand
from wedgework.window.app import make_window
from wedgework.window.palette import LIGHT
from wedgework.window.preferences import Wishes
from wedgework.window.table.hands import HandTable

WIDTH, HEIGHT = 1600, 1000


def fill_seconds():
    """The reference: the view filled once."""
    image = QImage(WIDTH, HEIGHT, QImage.Format.Format_ARGB32_Premultiplied)
    times = []
    for _ in range(100):
        before = perf_counter()
        image.fill(Qt.GlobalColor.white)
        times.append(perf_counter() - before)
    return median(times)


def shown(qtbot, count):
    """A table of `count` joined pieces, in view and painted."""
    bench = Bench(table_of(count))
    table = HandTable(bench, Hand(bench), Wishes(), LIGHT)
    bench.subscribe(table.follow)
    qtbot.addWidget(table)
    table.resize(WIDTH, HEIGHT)
    table.show()
    table.fit()
    QApplication.processEvents()
    return table


def send(table, kind, at, held):
    button = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else held
    event = QMouseEvent(kind, at, table.mapToGlobal(at), button, held, Qt.KeyboardModifier(0))
    QApplication.sendEvent(table, event)
    QApplication.processEvents()


def note(benchmark):
    fill = fill_seconds()
    benchmark.extra_info["fills"] = round(benchmark.stats.stats.median / fill, 1)
    benchmark.extra_info["p99_ms"] = round(
        1000 * float(np.percentile(benchmark.stats.stats.sorted_data, 99)), 2
    )


@pytest.mark.parametrize("count", [300, 3000])
def test_a_frame_of_a_drag_from_event_to_picture(benchmark, qtbot, count):
    table = shown(qtbot, count)
    corner = table.bench.project.pieces["p0"].edges[1].curve.start
    start = table.view.to_px(corner)
    left = Qt.MouseButton.LeftButton
    send(table, QEvent.Type.MouseButtonPress, start, left)
    send(table, QEvent.Type.MouseMove, start + QPointF(8, 3), left)
    assert table.bench.is_previewing
    steps = iter(range(10**6))

    def frame():
        turn = next(steps) * 0.1
        at = start + QPointF(8 + 4 * np.cos(turn), 3 + 4 * np.sin(turn))
        send(table, QEvent.Type.MouseMove, at, left)

    benchmark.pedantic(frame, rounds=300, iterations=1, warmup_rounds=10)
    note(benchmark)


@pytest.fixture
def window(qtbot, tmp_path):
    """The whole window, its settings and journals its own."""
    settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    made = make_window(QApplication.instance(), settings, tmp_path / "journals")
    qtbot.addWidget(made)
    made.resize(WIDTH, HEIGHT)
    made.show()
    yield made
    made.bench.close()


@pytest.mark.parametrize(
    ("garment", "count"), [(table_of, 300), (table_of, 3000), (held_table_of, 300)]
)
def test_a_frame_of_a_drag_with_all_panels_open(benchmark, window, garment, count):
    window.bench.new(garment(count), is_work=False)
    QApplication.processEvents()
    table, left = window.table, Qt.MouseButton.LeftButton
    corner = window.bench.project.pieces["p0"].edges[1].curve.start
    table.zoom(1.5 / table.view.px_per_mm)
    table.centre_on(corner)
    window.bench.choose(["s0.1"])
    start, times = table.view.to_px(corner), []
    send(table, QEvent.Type.MouseButtonPress, start, left)
    steps = iter(range(10**6))

    def frame():
        turn = next(steps) * 0.1
        before = thread_time()
        at = start + QPointF(30 + 12 * np.cos(turn), -25 + 12 * np.sin(turn))
        send(table, QEvent.Type.MouseMove, at, left)
        times.append(thread_time() - before)

    benchmark.pedantic(frame, rounds=600, iterations=1, warmup_rounds=20)
    assert window.bench.is_previewing
    mean, p99 = np.mean(times[20:]), np.percentile(times[20:], 99)
    benchmark.extra_info["processor, mean ms"] = round(1e3 * float(mean), 2)
    benchmark.extra_info["processor, p99 ms"] = round(1e3 * float(p99), 2)


def test_a_step_of_panning(benchmark, qtbot):
    table = shown(qtbot, 3000)
    way = iter([5, -5] * 10**5)

    def step():
        table.pan(next(way), 3)
        QApplication.processEvents()

    benchmark.pedantic(step, rounds=100, iterations=1)
    note(benchmark)


def test_a_step_of_zooming(benchmark, qtbot):
    table = shown(qtbot, 3000)
    way = iter([1.05, 1 / 1.05] * 10**5)

    def step():
        table.zoom(next(way), QPointF(800, 500))
        QApplication.processEvents()

    benchmark.pedantic(step, rounds=100, iterations=1)
    note(benchmark)
