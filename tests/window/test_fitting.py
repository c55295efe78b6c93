"""Fit to the body: the dialog follows the table, shares intake, and leads to a section."""

import pytest
from PySide6.QtWidgets import QPushButton

from tests.checks.test_fit import tube
from tests.drafting.making import block
from tests.published.test_fit import suit
from wedgework.bench import Bench
from wedgework.edits import decode_plain
from wedgework.edits.body import SetBody
from wedgework.edits.closings import CloseSeam
from wedgework.edits.openings import MarkOpening
from wedgework.pattern.levels import level_fit
from wedgework.pattern.openings import edge_fit, measure_opening
from wedgework.window.dialogs.fitting import FitDialog
from wedgework.window.panels.card_pages import page_of
from wedgework.window.preferences import Wishes


@pytest.fixture
def opened(qtbot):
    def open_on(project):
        bench, led = Bench(project), []
        dialog = FitDialog(None, bench, Wishes(), lambda *place: led.append(place), bench_do(bench))
        qtbot.addWidget(dialog)
        return dialog, bench, led

    return open_on


def bench_do(bench):
    return lambda rows: bench.do(*(decode_plain(row) for row in rows))


def texts(table, row):
    return [table.item(row, column).text() for column in range(table.columnCount())]


def test_every_section_of_the_way_in_is_a_row_that_leads_to_its_place(opened):
    dialog, _bench, led = opened(suit(350.0))
    assert dialog.heading.text() == "Getting in through neck, feet first: it does not pass"
    assert texts(dialog.sections, 1) == ["waist", "662.4", "hip girth", "980.0", "+47.9 %",
                                         "40.0 %", "does not pass"]  # fmt: skip
    dialog.sections.cellClicked.emit(1, 0)
    assert led[0][0] == ("waist",)


def test_seams_are_shaped_by_typed_shares_in_one_step(opened):
    dialog, bench, _led = opened(tube(600.0 / 0.92))
    dialog.levels.cellClicked.emit(1, 0)
    for own, share in (("s1", 60.0), ("s2", 0.0), ("s3", 40.0), ("s4", 0.0)):
        dialog._shares[own].show_value(share)
    dialog.shape.click()
    waist = bench.project.levels["waist"]
    assert level_fit(bench.project, waist).difference_mm == pytest.approx(0, abs=0.5)
    assert len(bench.project.seams) == 4
    bench.undo()
    assert level_fit(bench.project, waist).difference_mm == pytest.approx(120)


def test_the_card_tells_the_fit_of_a_level_an_opening_and_a_closing():
    project = suit(350.0)
    level = {row.key: row.value for row in page_of(project, ["waist"]).rows}
    assert level["difference"] == pytest.approx(0)
    assert level["stretch"] == "+8.7 %"
    opening = {row.key: row.value for row in page_of(project, ["neck"]).rows}
    assert opening["opens"] == pytest.approx(1050)
    (own,) = project.closings
    closing = page_of(project, [own])
    rows = {row.key: row for row in closing.rows}
    assert rows["teeth"].value == pytest.approx(350 / 0.96 - 4)
    assert rows["kind"].edit("lacing") == [
        {"edit": "set_closing", "closing": own, "kind": "lacing"}
    ]
    bare = CloseSeam(seam="s1").apply(tube(600.0))
    keys = {row.key: row.value for row in page_of(bare, ["s1.closing"]).rows}
    assert keys["row"] == "15"


def test_where_every_level_has_its_girth_there_is_nothing_to_shape(opened):
    dialog, _bench, _led = opened(tube(720.0 / 0.92))
    assert not dialog.shape.isEnabled()
    assert "has its girth" in dialog.shape.toolTip()


def test_the_window_tells_intake_wanted_and_drawn_of_each_level(opened):
    dialog, _bench, _led = opened(tube(600.0 / 0.92))
    assert texts(dialog.levels, 0)[-3:] == ["", "", "fullest"]
    assert texts(dialog.levels, 1)[-3:] == ["120.0", "0.0", "under-shaped"]
    assert dialog.which.currentData() == "waist"


def offered(dialog):
    return {
        one.text(): one for one in dialog.offers.findChildren(QPushButton) if not one.isHidden()
    }


def test_an_opening_is_marked_and_mended_by_presses(opened):
    body = SetBody(measures={"shoulder_girth_mm": 1030.0, "hip_girth_mm": 980.0})
    dialog, bench, _led = opened(body.apply(block()))
    offered(dialog)["Mark “neck” as the opening that the shoulder girth passes"].click()
    dialog.show_bench()
    (opening,) = bench.project.openings.values()
    assert dialog.heading.text().endswith("it does not pass")
    mend = next(one for words, one in offered(dialog).items() if words.startswith("Close "))
    mend.click()
    dialog.show_bench()
    assert measure_opening(bench.project, opening).stretch < opening.allowed_stretch
    assert dialog.heading.text().endswith("all passes")


def test_what_is_offered_for_an_edge_says_of_which_opening_it_is(opened):
    leg = MarkOpening(
        name="leg", edges=("front.leg", "back.leg"), measure="thigh_girth_mm", rise_mm=150.0
    )
    dialog, bench, _led = opened(leg.apply(block()))
    offered(dialog)["“leg”: draft the leg line so that it rises by 150 mm"].click()
    assert edge_fit(bench.project, bench.project.openings["leg"]).lies_well
