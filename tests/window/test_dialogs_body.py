"""The body: measures typed twice, several bodies, lists, and how much smaller to cut."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QDialog, QLabel, QWidget

from tests import small
from wedgework.bench import Bench
from wedgework.checks import check
from wedgework.edits.bodies import AddBody, SetReductions
from wedgework.edits.body import AddSheet, SetBody, SetSheet
from wedgework.pattern.body import MEASURES
from wedgework.window.dialogs.body import BodyDialog
from wedgework.window.dialogs.body_figure import groups, outline, taken_at
from wedgework.window.dialogs.body_new import NewBody
from wedgework.window.palette import DARK, LIGHT
from wedgework.window.preferences import Preferences


@pytest.fixture
def start(qtbot, tmp_path):
    """The dialog of a project's body, without a window around it."""

    parents = []

    def one(*edits, scheme=LIGHT):
        bench = Bench(small.two_panels())
        for edit in edits:
            bench.do(edit)
        parent = QWidget()
        parent.theme = type("Theme", (), {"scheme": scheme})()
        parents.append(parent)
        qtbot.addWidget(parent)
        settings = QSettings(str(tmp_path / "s.ini"), QSettings.Format.IniFormat)
        dialog = BodyDialog(parent, bench, Preferences(settings))
        dialog.show()
        return dialog, bench

    return one


def type_in(qtbot, dialog, index, text):
    field = dialog.entry._fields[index]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def words(dialog, name):
    label = dialog.findChild(QLabel, name)
    return label.text() if label.isVisibleTo(dialog) else ""


@pytest.mark.parametrize("copied", [True, False])
def test_a_new_body_begins_as_a_copy_of_the_worn_one_when_asked(start, copied):
    dialog, bench = start(AddBody(name="Heron"), SetBody(measures={"waist_girth_mm": 720}))
    asked = NewBody(dialog, bench.project)
    assert "1 measure of “Heron”" in asked.copy.text()
    assert not asked.keep.isEnabled()
    asked.name.setText("Kingfisher")
    asked.copy.setChecked(copied)
    bench.do(asked.edit())
    assert dict(bench.project.body) == ({"waist_girth_mm": 720} if copied else {})
    assert [one.name for one in bench.project.bodies.values()] == ["Heron", "Kingfisher"]


def test_where_nothing_was_measured_there_is_nothing_to_copy(start):
    dialog, bench = start()
    assert not NewBody(dialog, bench.project).copy.isEnabled()


def test_a_measure_of_nothing_is_refused_by_its_name(start, qtbot):
    dialog, bench = start()
    dialog.lead_to("waist_girth_mm")
    type_in(qtbot, dialog, 0, "0")
    assert "waist girth is more than 0" in dialog.entry._fields[0].accessibleDescription()
    assert dict(bench.project.body) == {}


def test_a_measure_typed_twice_alike_is_kept_and_the_next_one_is_asked(start, qtbot):
    dialog, bench = start()
    dialog.lead_to("waist_girth_mm")
    type_in(qtbot, dialog, 0, "720")
    assert dict(bench.project.body) == {}
    assert "Not kept yet" in words(dialog, "body_readings")
    type_in(qtbot, dialog, 1, "72.4 cm")
    assert dict(bench.project.body) == {"waist_girth_mm": 722.0}
    assert dialog.list.name == "hip_girth_mm"


def test_two_readings_too_far_apart_ask_for_a_third_and_keep_the_middle(start, qtbot):
    dialog, bench = start()
    dialog.lead_to("bust_girth_mm")
    assert not dialog.entry._fields[2].isVisibleTo(dialog)
    type_in(qtbot, dialog, 0, "920")
    type_in(qtbot, dialog, 1, "290")
    assert dialog.entry._fields[2].isVisibleTo(dialog)
    assert "third" in words(dialog, "body_readings")
    type_in(qtbot, dialog, 2, "918")
    assert dict(bench.project.body) == {"bust_girth_mm": 918.0}


def test_a_measure_typed_once_is_not_kept_when_another_is_chosen_and_that_is_said(start, qtbot):
    dialog, bench = start()
    dialog.lead_to("bust_girth_mm")
    type_in(qtbot, dialog, 0, "920")
    dialog.lead_to("hip_girth_mm")
    assert dict(bench.project.body) == {}
    assert "Bust girth was not settled" in words(dialog, "body_readings")


def test_who_types_once_only_is_taken_at_the_first_word(start, qtbot):
    dialog, bench = start()
    dialog.entry.twice.setChecked(False)
    dialog.lead_to("bust_girth_mm")
    type_in(qtbot, dialog, 0, "36 1/4 in")
    assert dict(bench.project.body) == {"bust_girth_mm": 920.75}
    dialog.lead_to("bust_girth_mm")
    type_in(qtbot, dialog, 0, "0")
    assert dict(bench.project.body) == {"bust_girth_mm": 920.75}
    dialog.entry._fields[0].clear()
    dialog.entry._fields[0].setModified(True)
    qtbot.keyClick(dialog.entry._fields[0], Qt.Key.Key_Return)
    assert dict(bench.project.body) == {}


def test_left_and_right_are_kept_apart_and_shown_beside_each_other(start, qtbot):
    dialog, bench = start(SetBody(measures={"thigh_girth_mm": 566.0}))
    dialog.entry.twice.setChecked(False)
    dialog.lead_to("thigh_girth_left_mm")
    assert dialog.side.isEnabled()
    type_in(qtbot, dialog, 0, "571")
    assert bench.project.body["thigh_girth_left_mm"] == 571.0
    item = dialog.list._items["thigh_girth_mm"]
    assert item.text(1) == "571.0 | 566.0"
    dialog.lead_to("bust_girth_mm")
    assert not dialog.side.isEnabled()


def test_who_chose_a_side_types_its_measure_next(start, qtbot):
    dialog, _ = start(SetBody(measures={"thigh_girth_mm": 566.0}))
    dialog.lead_to("thigh_girth_mm")
    dialog.side.setCurrentIndex(1)
    dialog.side.activated.emit(1)
    first, again = dialog.entry._fields[:2]
    assert dialog.focusWidget() is first
    qtbot.keyClicks(first, "572")
    qtbot.keyClick(first, Qt.Key.Key_Return)
    assert dialog.focusWidget() is again
    assert not first.hasSelectedText()


def test_what_contradicts_and_what_is_unlikely_is_said_beside_the_measure(start):
    body = {"bust_girth_mm": 920.0, "bust_front_mm": 500.0, "bust_back_mm": 430.0,
            "waist_girth_mm": 72.0}  # fmt: skip
    dialog, _ = start(SetBody(measures=body))
    dialog.lead_to("bust_front_mm")
    assert "add up to 930.0 mm" in words(dialog, "body_doubts")
    dialog.lead_to("waist_girth_mm")
    assert "less than almost anybody's" in words(dialog, "body_doubts")
    assert dialog.list._items["waist_girth_mm"].text(1) == "! 72.0"
    dialog.lead_to("hip_girth_mm")
    assert words(dialog, "body_doubts") == ""


def test_another_body_is_worn_from_the_chooser(start):
    dialog, bench = start(SetBody(measures={"bust_girth_mm": 905.0}), AddBody(name="Pike"))
    assert [dialog.bodies.itemText(row) for row in range(2)] == ["Unnamed", "Pike"]
    dialog.bodies.setCurrentIndex(0)
    dialog.bodies.activated.emit(0)
    assert (bench.project.wearer, dict(bench.project.body)) == (
        "Unnamed", {"bust_girth_mm": 905.0}
    )  # fmt: skip
    dialog._buttons["Remove"].click()
    assert bench.project.wearer == "Pike"


def test_the_unit_that_is_chosen_is_that_of_lists_and_fields(start):
    dialog, _ = start(SetBody(measures={"bust_girth_mm": 920.0}))
    dialog.lead_to("bust_girth_mm")
    dialog.unit.setCurrentText("cm")
    assert dialog.list.headerItem().text(1) == "cm"
    assert dialog.list._items["bust_girth_mm"].text(1) == "92.00"
    assert dialog.entry._fields[0].text() == "92.00"


def test_a_list_is_read_in_one_step_and_what_is_none_is_refused_in_words(start, tmp_path):
    dialog, bench = start(SetBody(measures={"hip_girth_mm": 980.0}))
    path, out = tmp_path / "a.csv", tmp_path / "b.csv"
    path.write_text("measure,value,unit\nbust girth,92,cm\nwaist girth,720,mm\n")
    dialog.read_list(path)
    assert len(bench.project.body) == 3
    dialog.write_list(out)
    assert out.read_text().splitlines()[1] == "bust_girth,920,mm"
    path.write_text("nothing")
    dialog.read_list(path)
    assert "first line" in words(dialog, "body_says")
    bench.undo()
    assert dict(bench.project.body) == {"hip_girth_mm": 980.0}


def test_reduction_and_stretch_are_two_fields_of_one_share(start, qtbot):
    dialog, bench = start()
    table = dialog.reductions
    table._stretches["girth"].setText("11.11111111")
    table._stretches["girth"].setModified(True)
    qtbot.keyClick(table._stretches["girth"], Qt.Key.Key_Return)
    assert bench.project.reductions["girth"] == pytest.approx(0.10, abs=1e-9)
    assert table._reductions["girth"].text() == "10.0"
    assert table._told["girth"][2].text() == "snug"
    table._reductions["girth"].setText("60")
    table._reductions["girth"].setModified(True)
    qtbot.keyClick(table._reductions["girth"], Qt.Key.Key_Return)
    assert bench.project.reductions["girth"] == pytest.approx(0.10, abs=1e-9)


def test_the_chosen_sheet_says_its_thickness_and_the_warning_comes_above_forty_per_cent(start):
    sheet = AddSheet(name="black", width_mm=1000, thickness_mm=0.8)
    dialog, bench = start(sheet)
    table = dialog.reductions
    assert table._told["girth"][0].text() == "0.736 mm"
    assert words(dialog, "body_too_stiff") == ""
    bench.do(SetReductions(edge=0.3))
    assert not table._warning.isHidden()


def test_no_pull_is_told_of_leather(start):
    dialog, bench = start(AddSheet(name="hide", width_mm=1000, material="leather"))
    table = dialog.reductions
    assert [label.text() for label in table._told["girth"]] == ["not known"] * 3
    assert table._law.text().startswith("Pull when worn: not known of leather")
    assert table._usual["girth"].text() == "0 or ease"
    bench.do(SetSheet(sheet="hide", material="rubber"))
    assert table._usual["girth"].text() == "5 to 12"
    assert table._told["girth"][2].text() == "snug"


def test_the_drawing_knows_where_every_measure_is_taken():
    assert set(taken_at()) == set(MEASURES)
    assert sum(map(len, groups().values())) == len(MEASURES)
    for name, taken in taken_at().items():
        assert taken.view in {"front", "back", "both"}, name
        assert len([one for one in (taken.ring, taken.arc, taken.line) if one]) == 1, name
    box = outline().boundingRect()
    assert box.height() == pytest.approx(1000, abs=5)
    assert box.left() == pytest.approx(-box.right(), abs=1e-6)


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
def test_the_drawing_shows_another_place_for_another_measure_and_side(start, scheme):
    dialog, _ = start(scheme=scheme)
    seen = set()
    for name in ("waist_girth_mm", "torso_loop_mm", "thigh_girth_left_mm", "thigh_girth_right_mm"):
        dialog.lead_to(name)
        seen.add(bytes(dialog.figure.grab().toImage().constBits()))
    assert len(seen) == 4


def test_it_fits_a_small_screen_and_the_keyboard_goes_through_it(start):
    dialog, _ = start()
    least = dialog.minimumSizeHint()
    assert least.width() <= 1100
    assert least.height() <= 680


def test_a_finding_about_a_measure_leads_to_it(window):
    window.bench.new(small.two_panels())
    window.bench.do(SetBody(measures={"waist_girth_mm": 72.0}))
    (finding,) = [one for one in check(window.bench.project) if one.code == "measure_unlikely"]
    window.deeds.lead_to(finding)
    (dialog,) = window.findChildren(BodyDialog)
    assert dialog.list.name == "waist_girth_mm"
    dialog.close()


def test_beginning_from_measures_asks_for_the_body(window):
    window.filing.start_with_measures()
    (dialog,) = window.findChildren(QDialog, "body")
    assert dialog.list.name == "head_girth_mm"
    dialog.close()


def test_a_dialog_that_is_closed_hears_nothing_more(start):
    dialog, bench = start()
    before = len(bench._listeners)
    dialog.close()
    assert len(bench._listeners) == before - 1
