"""The card: what it shows of each kind of thing, and what typing in it does."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QPushButton

from tests import small
from wedgework.bench import Bench, Change, read_project
from wedgework.edits import decode_plain
from wedgework.edits.closings import CloseSeam
from wedgework.edits.dart_double import AddDoubleDart
from wedgework.edits.move import MoveCorner
from wedgework.geometry.length import length_mm
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.lookup import hold_of, the_edge
from wedgework.pattern.table import Table
from wedgework.resources import demo_names, demo_path
from wedgework.window.fields import Field
from wedgework.window.palette import LIGHT
from wedgework.window.panels.card import Card
from wedgework.window.panels.card_pages import page_of
from wedgework.window.preferences import Wishes
from wedgework.window.things import kind_of


@pytest.fixture
def start(qtbot):
    """A card of a project with some of its things chosen."""

    def one(project, *chosen, wishes=None):
        bench = Bench(project)
        card = Card(bench, wishes or Wishes(), LIGHT)
        qtbot.addWidget(card)
        bench.subscribe(card.follow)
        bench.choose(chosen)
        card.refresh()
        card.resize(300, 600)
        card.show()
        card.activateWindow()
        qtbot.waitUntil(card.isActiveWindow)
        return card, bench

    return one


def field(card, key):
    return card.findChild(Field, f"card_{key}")


def typed(card, key, text, qtbot):
    """Type over what stands in a field and press Enter."""
    one = field(card, key)
    one.setFocus()
    one.selectAll()
    qtbot.keyClicks(one, text)
    qtbot.keyClick(one, Qt.Key.Key_Return)
    return one


def rows_of(page):
    return {row.key: row for row in page.rows}


def all_things(project):
    tables = (project.pieces, project.seams, project.notches, project.holes, project.levels)
    return [own for table in tables for own in table] + [
        own for own in project.owners if kind_of(project, own)
    ]


@pytest.mark.parametrize("project", [small.with_everything(), small.darted_front()])
def test_everything_in_a_project_has_a_page(project):
    for own in all_things(project):
        assert page_of(project, [own]).heading


def test_every_value_of_the_demos_can_be_typed_as_it_is_and_changes_nothing():
    for name in demo_names():
        if not name.endswith(".wedge"):
            continue
        project = read_project(demo_path(name))
        for own in all_things(project):
            for row in page_of(project, [own]).rows:
                if row.edit is None or row.key == "divide":
                    continue
                for edit in map(decode_plain, row.edit(row.value)):
                    assert edit.apply(project) is project, (name, own, row.key)


def test_a_typed_place_moves_the_corner_there(start, qtbot):
    card, bench = start(small.square(), "p.c1")
    typed(card, "x", "-12.5", qtbot)
    assert the_edge(bench.project, "p.e1").curve.start.tolist() == [-12.5, 0.0]
    assert len(bench.history) == 1


def test_each_key_tries_the_value_from_what_is_kept(start, qtbot):
    card, bench = start(small.square(), "p.c1")
    one = field(card, "x")
    one.setFocus()
    one.selectAll()
    qtbot.keyClicks(one, "-12")
    assert bench.tried == (MoveCorner(corner="p.c1", by_mm=(-12.0, 0.0)),)
    assert not bench.history


def test_escape_drops_what_is_typed(start, qtbot):
    card, bench = start(small.square(), "p.c1")
    one = field(card, "x")
    one.setFocus()
    qtbot.keyClicks(one, "7")
    qtbot.keyClick(one, Qt.Key.Key_Escape)
    assert not bench.is_previewing
    assert one.text() == "0.00"


def test_what_cannot_be_done_is_said_at_the_field_and_changes_nothing(start, qtbot):
    card, bench = start(small.with_everything(), "n2")
    with qtbot.waitSignal(card.refused):
        one = typed(card, "at", "900", qtbot)
    assert one.property("wrong")
    assert one.text() == "900.00"
    assert not bench.history


def test_a_refused_value_is_gone_when_the_field_is_left(start, qtbot):
    card, _ = start(small.with_everything(), "n2")
    with qtbot.waitSignal(card.refused):
        one = typed(card, "at", "900", qtbot)
    card.setFocus()
    assert one.text() == "25.00"
    assert not one.property("wrong")


def test_a_straight_edge_gets_the_length_that_is_typed(start, qtbot):
    card, bench = start(small.square(), "p.e1")
    typed(card, "length", "4 in", qtbot)
    assert length_mm(the_edge(bench.project, "p.e1").curve) == pytest.approx(101.6)


def test_a_curved_edge_shows_its_length_and_takes_none():
    page = page_of(small.curved_square(), ["p.e1"])
    assert rows_of(page)["length"].edit is None


def test_several_edges_get_one_allowance(start, qtbot):
    card, bench = start(small.square(), "p.e1", "p.e3")
    typed(card, "allowance", "6", qtbot)
    edges = bench.project.pieces["p"].edges
    assert [edge.allowance_mm for edge in edges] == [6.0, 0.0, 6.0, 0.0]


def test_a_seam_that_is_no_longer_lapped_has_no_lap(start):
    card, bench = start(small.two_panels(), "s")
    box = card.findChild(QComboBox, "card_join")
    box.activated.emit(box.findData("butted"))
    assert bench.project.seams["s"].join == "butted"
    assert "lap" not in rows_of(page_of(bench.project, ["s"]))
    assert field(card, "lap") is None or field(card, "lap").window() is not card


def test_links_lead_to_what_they_name(start, qtbot):
    card, _ = start(small.two_panels(), "a.e2")
    with qtbot.waitSignal(card.led) as told:
        card.findChild(QPushButton, "card_seam_s").click()
    assert told.args == ["s"]


def test_room_is_told_for_the_span_that_is_typed(start, qtbot):
    card, _ = start(small.darted_front(), "d1")
    before = card.findChild(object, "card_room").words
    typed(card, "span", "200", qtbot)
    after = card.findChild(object, "card_room").words
    doubled = [2 * float(part) for part in before.split(" to ")]
    assert [float(part) for part in after.split(" to ")] == pytest.approx(doubled, abs=0.2)


def test_with_nothing_chosen_the_step_of_measuring_shows_the_body(start, qtbot):
    card, bench = start(small.square())
    bench.go_to_step("Measure")
    typed(card, "body_waist_girth_mm", "70 cm", qtbot)
    assert dict(bench.project.body) == {"waist_girth_mm": 700.0}


def test_a_measure_that_is_cleared_is_taken_out(start, qtbot):
    project = replace(small.square(), body=Table({"waist_girth_mm": 700.0}))
    card, bench = start(project)
    bench.go_to_step("Measure")
    one = field(card, "body_waist_girth_mm")
    one.setFocus()
    one.selectAll()
    qtbot.keyClick(one, Qt.Key.Key_Delete)
    qtbot.keyClick(one, Qt.Key.Key_Return)
    assert dict(bench.project.body) == {}


def test_lengths_are_shown_in_the_makers_unit(start):
    card, _ = start(small.square(25.4), "p.e1", wishes=Wishes(unit="in"))
    assert field(card, "length").text() == "1.000"


def test_a_drag_changes_texts_and_builds_no_field(start, qtbot):
    card, bench = start(small.square(), "p.c1")
    before = field(card, "x")
    bench.preview(MoveCorner(corner="p.c1", by_mm=(-3.0, 0.0)))
    qtbot.waitUntil(lambda: before.text() == "\N{MINUS SIGN}3.00")
    assert field(card, "x") is before


def test_long_names_are_cut_and_told_in_full_by_the_tool_tip(start, qtbot):
    name = "the long seam from the nape over the shoulder to the front of the left wing"
    project = small.two_panels()
    seams = project.seams.with_rows({"s": replace(project.seams["s"], name=name)})
    card, _ = start(replace(project, seams=seams), "a.e2")
    link = card.findChild(QPushButton, "card_seam_s")
    qtbot.waitUntil(lambda: link.text().endswith("…"))
    assert link.toolTip() == name


def test_nothing_is_wider_than_the_narrowest_card(start):
    for project in (small.with_everything(), small.darted_front()):
        for own in all_things(project):
            card, bench = start(project, own)
            card.follow(Change(kind="chosen"))
            assert card.widget().minimumSizeHint().width() <= 300, own
            assert bench.chosen == (own,)


def test_a_seam_is_held_and_let_go_on_its_card(start):
    card, bench = start(small.two_panels(), "s")
    box = card.findChild(QComboBox, "card_hold")
    for words, kind in (("in length", "length"), ("in shape", "shape"), ("not held", None)):
        box = card.findChild(QComboBox, "card_hold")
        box.setCurrentText(words)
        box.activated.emit(box.currentIndex())
        hold = hold_of(bench.project, "s")
        assert (hold.kind if hold else None) == kind


def row_keys(project, own):
    return {row.key: row.value for row in page_of(project, [own]).rows}


def with_join(join):
    return decode_plain({"edit": "set_seam", "seam": "s", "join": join}).apply(small.two_panels())


def test_an_edge_that_opens_asks_for_no_tape():
    zipped = CloseSeam(seam="s", kind="zip").apply(small.two_panels(400, 400))
    assert "tape" not in row_keys(zipped, "s")


def test_each_join_asks_for_its_own_widths():
    rows = {join: row_keys(with_join(join), "s").keys() for join in ("lapped", "butted", "bound")}
    assert rows["lapped"] - rows["butted"] == {"lap", "over"}
    assert rows["butted"] - rows["bound"] == {"tape"}
    assert rows["bound"] - rows["lapped"] == {"binding", "strip"}
    assert row_keys(with_join("bound"), "s")["strip"] == pytest.approx(16 + 0.8 + 0.2 * math.pi)


def test_the_allowance_of_a_whole_side_is_typed_on_its_seam(start, qtbot):
    card, bench = start(small.yoke_over_two(), "s")
    typed(card, "allowance_b", "6", qtbot)
    edges = ("left.e3", "right.e3", "yoke.e1")
    assert [the_edge(bench.project, own).allowance_mm for own in edges] == [6, 6, 0]


def punched():
    row = {"edit": "add_punch_row", "seam": "s", "pitch_mm": 30}
    return decode_plain(row).apply(small.two_panels())


def test_a_row_of_holes_is_changed_as_one_on_the_card_of_any_of_its_holes(start, qtbot):
    card, bench = start(punched(), "s.r1.o2")
    typed(card, "diameter", "3", qtbot)
    assert {hole.diameter_mm for hole in bench.project.holes.values()} == {3.0}
    typed(card, "pitch", "20", qtbot)
    assert len(bench.project.holes) == 5


def test_a_seam_leads_to_its_rows_of_holes():
    rows = [row for row in page_of(punched(), ["s"]).rows if row.words == "row of holes"]
    assert [(row.value, row.leads_to) for row in rows] == [("3 at 30.0", "s.r1.o1")]


def test_notches_in_a_sheet_are_set_on_its_card():
    sheet = {"edit": "add_sheet", "name": "cloth", "width_mm": 1400}
    project = decode_plain(sheet).apply(small.square())
    marking = next(r for r in page_of(project, ["cloth"]).rows if r.key == "marking")
    (edit,) = marking.edit("slit")
    assert decode_plain(edit).apply(project).sheets["cloth"].marking == "slit"


@pytest.mark.parametrize(
    ("key", "text", "wanted"),
    [("angle", "10*3", 30.0), ("intake", "4 cm", 40.0), ("a", "100 - 5/2", 97.5),
     ("b", "4 in", 101.6)],
)  # fmt: skip
def test_the_sizes_of_a_dart_are_typed_on_its_card_as_one_step(start, qtbot, key, text, wanted):
    card, bench = start(small.darted_front(), "d1")
    typed(card, key, text, qtbot)
    found = measure_dart(bench.project, bench.project.seams["d1"])
    had = {"angle": math.degrees(found.angle_rad), "intake": found.intake_mm,
           "a": found.leg_a_mm, "b": found.leg_b_mm}  # fmt: skip
    assert had[key] == pytest.approx(wanted, abs=1e-6)
    assert len(bench.history) == 1
    bench.undo()
    assert bench.project.seams["d1"] is not None
    assert not bench.history


def test_the_sizes_of_a_dart_with_two_points_are_read():
    double = AddDoubleDart(piece="p", tip_mm=(50, 20), apex_mm=(50, 80), intake_mm=8)
    project = double.apply(small.square())
    (dart,) = project.seams
    rows = rows_of(page_of(project, [dart]))
    assert [rows[key].edit for key in ("angle", "intake", "a", "b")] == [None] * 4
