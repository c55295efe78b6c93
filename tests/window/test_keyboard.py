"""Everything is reached by keys: Tab in the order of reading, a letter for each entry of a menu."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QAction, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu, QPushButton, QScrollArea

from wedgework.bench import STEPS
from wedgework.edits import EDITS
from wedgework.resources import demo_path
from wedgework.window.dialogs.body import BodyDialog
from wedgework.window.dialogs.fitting import FitDialog
from wedgework.window.mnemonics import give_letters, letter_of
from wedgework.window.panels.findings import FindingBox
from wedgework.window.table_menu import table_menu


@pytest.fixture
def at_demo(window):
    """The window with the shaped suit."""
    window.filing.open(demo_path("kingfisher_shaped.wedge"))
    QTest.qWait(100)
    return window


def test_escape_on_the_table_closes_a_form_before_it_drops_the_choice(at_demo):
    at_demo.bench.choose(("front.1",))
    for name in ("turn_piece", "draft"):
        at_demo.start_form(next(row for row in EDITS if row.name == name))
        at_demo.table.setFocus()
        QTest.keyClick(at_demo.table, Qt.Key.Key_Escape)
        assert at_demo.card_space.currentWidget() is at_demo.card
        assert at_demo.bench.chosen == ("front.1",)
        assert QApplication.focusWidget() is at_demo.table
    QTest.keyClick(at_demo.table, Qt.Key.Key_Escape)
    assert at_demo.bench.chosen == ()


def test_enter_presses_the_button_that_has_the_keys_in_the_window_as_in_a_dialog(at_demo):
    at_demo.bench.choose(())
    button = next(one for one in at_demo.findChildren(QPushButton)
                  if one.text() == "Choose the first seam")  # fmt: skip
    button.setFocus()
    QTest.keyClick(button, Qt.Key.Key_Return)
    assert at_demo.bench.chosen == (next(iter(at_demo.bench.project.seams)),)


@pytest.mark.parametrize("key", [Qt.Key.Key_A, Qt.Key.Key_M])
def test_the_letters_of_the_findings_take_no_tool_while_a_finding_has_the_keys(at_demo, key):
    box = at_demo.findings.findChildren(FindingBox)[0]
    override = QKeyEvent(QEvent.Type.ShortcutOverride, key, Qt.KeyboardModifier.NoModifier)
    override.ignore()
    QApplication.sendEvent(box, override)
    assert override.isAccepted()


def stops(part):
    """Where Tab stops in a part of the window, in its order."""
    found, at = [], part.nextInFocusChain()
    while at is not part:
        is_inside = part.isAncestorOf(at) and at.isVisibleTo(part) and at.focusProxy() is None
        if is_inside and at.isEnabled() and at.focusPolicy() & Qt.FocusPolicy.TabFocus:
            found.append(at)
        at = at.nextInFocusChain()
    return found


def backwards(part):
    """Where Tab goes up, or back along a row."""
    places = [(one.mapTo(part, QPoint(0, 0)), one) for one in stops(part)]
    return [
        (a.objectName() or type(a).__name__, b.objectName() or type(b).__name__)
        for (at, a), (then, b) in pairwise(places)
        if then.y() + b.height() <= at.y() or (abs(then.y() - at.y()) < 8 and then.x() < at.x())
    ]


FORMS = [row for row in EDITS if row.name not in {"accept", "draft"}]
"""Those of the others are a list of findings, and a form of numbers."""


@pytest.mark.parametrize("row", FORMS, ids=lambda row: row.name)
def test_tab_goes_through_each_form_as_it_is_read_and_ends_at_keep(at_demo, row):
    at_demo.start_form(row)
    QTest.qWait(5)
    page = at_demo.form.findChild(QScrollArea).widget()
    assert backwards(page) == []
    assert [one.objectName() for one in stops(at_demo.form)[-2:]] == ["form_cancel", "form_keep"]


def test_every_form_begins_with_the_keys_in_it(at_demo):
    at_demo.bench.choose(("front.1",))
    lost = []
    for row in EDITS:
        if row.name != "accept":
            at_demo.table.setFocus()
            at_demo.start_form(row)
            if not at_demo.card_space.currentWidget().isAncestorOf(QApplication.focusWidget()):
                lost.append(row.name)
    assert lost == []


def test_a_form_that_lacks_nothing_begins_at_keep(at_demo):
    at_demo.bench.choose(("front.1",))
    at_demo.start_form(next(row for row in EDITS if row.name == "remove_piece"))
    assert QApplication.focusWidget().objectName() == "form_keep"


def test_what_a_form_takes_from_the_table_sends_the_keys_back_to_it(at_demo):
    at_demo.start_form(next(row for row in EDITS if row.name == "turn_piece"))
    at_demo.table.setFocus()
    at_demo.bench.choose(("front.1",))
    assert at_demo.form.isAncestorOf(QApplication.focusWidget())


def test_a_row_that_is_added_stands_before_the_button_that_adds_it(at_demo):
    row = next(row for row in EDITS if row.name == "shape_seam")
    at_demo.start_form(row)
    page = at_demo.form.findChild(QScrollArea).widget()
    add = next(one for one in stops(page) if one.objectName() == "rows_add")
    add.click()
    add.click()
    QTest.qWait(5)
    assert backwards(page) == []


def test_tab_goes_from_the_steps_to_the_tools_to_the_table_and_on_to_card_and_ledger(at_demo):
    for step in STEPS:
        at_demo.bench.go_to_step(step)
        QTest.qWait(10)
        assert backwards(at_demo.strip) == []
        around = [one for one in stops(at_demo) if not at_demo.strip.isAncestorOf(one)]
        names = [one.objectName() for one in stops(at_demo)]
        assert around[0] is at_demo.table
        assert names.index("tool_choose") < names.index("table") < names.index("ledger")
        assert backwards(at_demo.card.widget()) == []
        assert backwards(at_demo.findings.widget()) == []


def menus(actions):
    for action in actions:
        if isinstance(action.menu(), QMenu):
            yield action.menu()
            yield from menus(action.menu().actions())


def test_every_entry_of_every_menu_has_a_letter_of_its_own(at_demo):
    bar = at_demo.menuBar().actions()
    for entries in (bar, *(menu.actions() for menu in menus(bar))):
        texts = [one.text() for one in entries if not one.isSeparator()]
        letters = [letter_of(text) for text in texts]
        if all(texts) and "Choose" not in texts:
            assert sorted(set(letters)) == sorted(letters), texts
            assert "" not in letters, texts


@pytest.mark.usefixtures("qapp")
def test_an_entry_makes_room_where_another_has_no_other_letter():
    rows = [QAction(words) for words in ("&Tool", "Oo", "To")]
    give_letters(rows)
    assert [row.text() for row in rows] == ["Too&l", "&Oo", "&To"]


def test_no_key_does_two_things(at_demo):
    keys = [key.toString() for one in at_demo.findChildren(QAction) for key in one.shortcuts()]
    assert sorted(set(keys)) == sorted(keys)


@pytest.fixture
def body(at_demo, qtbot):
    """The dialog of the body."""
    at_demo.deeds.measure()
    qtbot.waitUntil(lambda: QApplication.activeModalWidget() is not None)
    dialog = QApplication.activeModalWidget()
    yield dialog
    for one in at_demo.findChildren(BodyDialog):
        one.close()


def test_a_figure_typed_at_the_list_of_measures_goes_into_the_field_of_that_measure(body, qtbot):
    qtbot.keyClicks(QApplication.focusWidget(), "9")
    qtbot.keyClicks(QApplication.focusWidget(), "20")
    assert QApplication.focusWidget() is body.entry._fields[0]
    assert body.entry._fields[0].text() == "920"


def test_tab_goes_through_the_body_as_it_is_read(body):
    around = stops(body)
    wanted = [body.list, body.compare, *body.entry._fields[:2], body.entry.twice, body.keep]
    assert [one for one in around if one in wanted] == wanted


def test_enter_on_a_button_of_the_body_presses_it(body, qtbot):
    body.keep.setFocus()
    qtbot.keyClick(body.keep, Qt.Key.Key_Return)
    assert not body.isVisible()


def test_tab_leaves_the_tables_of_the_fit_and_enter_cuts_nothing(at_demo, qtbot):
    at_demo.deeds.fit_body()
    dialog = at_demo.findChild(FitDialog)
    qtbot.waitUntil(dialog.isActiveWindow)
    dialog.levels.setFocus()
    qtbot.keyClick(dialog.levels, Qt.Key.Key_Return)
    assert not at_demo.bench.history
    assert not any(one.isDefault() for one in dialog.findChildren(QPushButton))
    qtbot.keyClick(dialog.levels, Qt.Key.Key_Tab)
    assert dialog.focusWidget() is dialog.which
    dialog.close()


def test_enter_in_a_draft_that_lacks_something_goes_there(at_demo, qtbot):
    at_demo.drafting.start("tube")
    form = at_demo.drafting.form
    rows = {row.name: row for row in form._rows}
    missing = [row for row in form._rows if row.docs["needed"] and row.argument.is_empty()]
    other = next(row for row in rows.values() if row.field and row is not missing[0])
    other.field.setFocus()
    qtbot.keyClick(other.field, Qt.Key.Key_Return)
    assert missing[0].argument.isAncestorOf(QApplication.focusWidget())
    assert form.is_open


@pytest.mark.parametrize("own", ["front.1", "front.e2", "front.c2", "waist", "side_seam"])
def test_no_two_entries_of_the_right_buttons_menu_answer_to_one_letter(at_demo, own):
    bench = at_demo.bench
    there = [*bench.project.owners, *bench.project.seams, *bench.project.pieces]
    bench.choose([next(one for one in (own, *there) if bench.has(one))])
    for menu in (table_menu(at_demo), *menus(table_menu(at_demo).actions())):
        letters = [letter_of(one.text()) for one in menu.actions() if not one.isSeparator()]
        assert "" not in letters
        assert sorted(set(letters)) == sorted(letters)


def test_an_entry_of_the_right_buttons_menu_shows_its_keys_and_does_its_edit(at_demo):
    at_demo.bench.choose(("front.1",))
    entries = {one.objectName(): one for one in table_menu(at_demo).actions()}
    entry = entries["fit_chosen"]
    assert entry.text().endswith(f"\t{at_demo.actions_by_name['fit_chosen'].shortcut().toString()}")
    lists = {one.objectName(): one for menu in menus(table_menu(at_demo).actions())
             for one in menu.actions()}  # fmt: skip
    (entries | lists)["edit_turn_piece"].trigger()
    assert at_demo.form.title == "Turn piece"
