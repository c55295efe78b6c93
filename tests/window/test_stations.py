"""Setting a slice by its stations: what is tried, kept and dropped, and what the body asks for."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QPushButton, QToolButton

from tests import small
from wedgework.bench import Bench, read_project
from wedgework.edits.shape import ShapeSeam
from wedgework.pattern.seams import measure_seam
from wedgework.resources import demo_path
from wedgework.window.palette import LIGHT
from wedgework.window.panels.slice import Slice, fresh
from wedgework.window.panels.stations import Stations
from wedgework.window.preferences import Wishes


@pytest.fixture
def start(qtbot):
    """Stations for a seam of a project."""

    def one(project=None, seam="s"):
        bench = Bench(project or small.two_panels())
        stations = Stations(bench, Wishes(), LIGHT)
        qtbot.addWidget(stations)
        stations.show_seam(seam)
        return stations, bench

    return one


def field(stations, name):
    return stations.findChild(QLineEdit, name)


def places(stations):
    return pytest.approx([at for at, _ in stations.stations])


def typed(one, text):
    one.setText(text)
    one.setModified(True)
    assert one.keep()


def test_a_slice_begins_with_nothing_at_both_ends_and_a_station_between(start):
    stations, _ = start()
    stations.begin()
    assert places(stations) == [0.0, 50.0, 100.0]
    assert [width for _, width in stations.stations] == [0.0, 0.0, 0.0]


def test_a_typed_width_is_tried_at_once_and_not_kept(start):
    stations, bench = start()
    stations.begin()
    typed(field(stations, "station_width_1"), "6")
    assert [type(edit) for edit in bench.tried] == [ShapeSeam]
    assert not bench.history


def test_keeping_is_one_step_that_shapes_the_seam(start):
    stations, bench = start()
    stations.begin()
    typed(field(stations, "station_width_1"), "6")
    stations.keep()
    assert len(bench.history) == 1
    assert measure_seam(bench.project, bench.project.seams["s"]).hollow_rad > 0.1
    assert stations.stations == ()


def test_escape_drops_the_slice_and_what_was_tried(start, qtbot):
    stations, bench = start()
    stations.begin()
    typed(field(stations, "station_width_1"), "6")
    qtbot.keyClick(stations, Qt.Key.Key_Escape)
    assert (bench.is_previewing, stations.stations) == (False, ())


def test_another_seam_drops_the_slice_of_the_one_before(start):
    stations, bench = start()
    stations.begin()
    typed(field(stations, "station_width_1"), "6")
    stations.show_seam(None)
    assert (bench.is_previewing, stations.stations) == (False, ())


def test_a_refused_slice_says_why_and_cannot_be_kept(start):
    stations, _ = start()
    stations.begin()
    typed(field(stations, "station_width_1"), "600")
    assert stations.findChild(object, "station_refusal").text().startswith("⊘")
    assert not stations.findChild(QPushButton, "station_keep").isEnabled()


def test_a_station_set_by_hand_begins_a_slice(start):
    stations, _ = start()
    stations.add_station(30.0)
    assert places(stations) == [0.0, 30.0, 100.0]


def test_a_dragged_station_keeps_its_turn(start):
    stations, _ = start()
    stations.begin()
    stations.move_station(1, 500.0)
    assert places(stations) == [0.0, 99.0, 100.0]


def test_a_typed_place_may_pass_other_stations(start):
    stations, _ = start()
    stations.begin()
    typed(field(stations, "station_width_1"), "6")
    stations.add_station(75.0)
    typed(field(stations, "station_at_1"), "80")
    assert places(stations) == [0.0, 75.0, 80.0, 100.0]


def test_a_station_can_be_taken_out(start, qtbot):
    stations, _ = start()
    stations.begin()
    qtbot.mouseClick(stations.findChild(QToolButton, "station_remove_1"), Qt.MouseButton.LeftButton)
    assert places(stations) == [0.0, 100.0]


def test_an_undo_ends_the_slice_since_the_seam_may_be_another(start):
    stations, bench = start()
    stations.begin()
    typed(field(stations, "station_width_1"), "6")
    stations.keep()
    stations.begin()
    bench.undo()
    assert stations.stations == ()


def test_the_body_proposes_stations_and_levels_show_wanted_against_drawn(start):
    project = read_project(demo_path("kingfisher_flat.wedge"))
    stations, bench = start(project, "front.cut")
    stations.begin()
    assert any(width > 5.0 for _, width in stations.stations)
    texts = [label.text() for label in stations.findChildren(object) if hasattr(label, "text")]
    assert {"wanted mm", "drawn mm", "waist"} <= set(texts)
    assert bench.is_previewing


def test_one_more_station_does_not_change_how_wide_the_slice_is():
    before = fresh(200.0).widened(1, 12.0)
    after = before.with_row(60.0)
    assert after.width_at(60.0) == pytest.approx(before.width_at(60.0), abs=0.01)


def test_a_station_where_one_stands_is_the_same_slice():
    before = fresh(200.0)
    assert before.with_row(100.3) is before


def test_the_next_station_goes_into_the_longest_gap():
    assert Slice(whole_mm=100.0, rows=((0.0, 0.0), (20.0, 0.0))).widest_gap_mm() == 60.0
