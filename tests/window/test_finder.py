"""Every command is found: by its word, by another word for it, in the strip, by its keys."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu, QToolButton

from tests.window import hand
from wedgework.bench import STEPS
from wedgework.drafting import KINDS
from wedgework.edits import EDITS
from wedgework.resources import demo_path
from wedgework.subjects import shown_edits, subjects
from wedgework.window.finder import commands_of
from wedgework.window.finding import found
from wedgework.window.table_menu import edits_for, table_menu

WISHES = Path(__file__).with_name("wishes.txt")
"""What a maker would type, and which commands answer it."""

BELOW = QPoint(0, 1)
"""From the last row of a button to the first below it."""


@pytest.fixture
def at_demo(window):
    """The window with the flat suit."""
    window.filing.open(demo_path("kingfisher_flat.wedge"))
    QTest.qWait(100)
    return window


def words(commands):
    return [command.words for command in commands]


WANTED = {
    "pivot": "Pivot dart", "swing": "Pivot dart", "true": "True seam",
    "unfold": "Mirror and unfold",
    "eyelet": "Add holes", "hem": "Hem by hand", "pivto": "Pivot dart", "save as": "Save as",
    "grid": "Grid", "finish": "Set finish", "raw edge": "Set finish", "edge finish": "Set finish",
    "name": "Rename", "title": "Rename", "ignore": "Accept a finding",
    "dismiss finding": "Accept a finding",
    "grain": "Grain by hand", "grainline": "Grain by hand", "stretch direction": "Set line",
}  # fmt: skip


def test_a_command_is_among_the_first_for_a_word_that_a_maker_would_type(at_demo):
    commands = commands_of(at_demo)
    first = {typed: words(found(commands, typed))[:4] for typed in WANTED}
    assert {typed: first[typed] for typed, one in WANTED.items() if one not in first[typed]} == {}
    assert "Set finish" in words(found(commands, "hem"))[:5]


def test_a_wish_in_a_makers_own_words_is_among_the_first_three(at_demo):
    commands = commands_of(at_demo)
    rows = [row.split(" => ") for row in WISHES.read_text(encoding="utf-8").splitlines()]
    known = {command.words for command in commands}
    wanted = {wish: set(one.split(" | ")) for wish, one in rows}
    assert {one for some in wanted.values() for one in some} <= known
    first = {wish: words(found(commands, wish))[:3] for wish in wanted}
    assert {wish: first[wish] for wish in wanted if not wanted[wish] & {*first[wish]}} == {}


def test_a_word_that_nothing_answers_does_not_hide_what_answers_the_others(at_demo):
    commands = commands_of(at_demo)
    assert words(found(commands, "qqqq pivot dart"))[0] == "Pivot dart"
    assert found(commands, "qqqq") == []
    assert found(commands, "?") == []
    assert found(commands, " ") == commands


def test_each_edit_comes_first_for_its_own_name(at_demo):
    commands = commands_of(at_demo)
    names = [command for command in commands if command.action.objectName().startswith("edit_")]
    lost = [one.words for one in names if one not in found(commands, one.words)[:3]]
    assert lost == []


def test_what_fits_nothing_says_so(at_demo):
    at_demo.finder.open()
    hand.type_text("qqqq")
    assert at_demo.finder.current is None
    assert at_demo.finder.isVisible()


def test_a_found_command_is_done_by_enter(at_demo):
    hand.key(Qt.Key.Key_F, held=Qt.KeyboardModifier.ControlModifier)
    hand.type_text("pivot dart")
    hand.key(Qt.Key.Key_Return)
    assert at_demo.form.isVisible()
    assert not at_demo.finder.isVisible()
    assert at_demo.strip.search.text() == ""


def test_on_the_first_page_what_is_typed_is_seen_over_the_list(window):
    window.finder.open()
    hand.type_text("pivot")
    field = QApplication.focusWidget()
    assert field.text() == "pivot"
    assert field.isVisible()
    assert window.finder.current.words == "Pivot dart"
    hand.key(Qt.Key.Key_Return)
    assert window.form.isVisible()
    assert window.form.isAncestorOf(QApplication.focusWidget())


def test_the_keys_come_from_a_panel_that_was_pulled_out(at_demo, qtbot):
    card = at_demo.panels["Card"]
    card.setFloating(True)
    card.activateWindow()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is card)
    at_demo.finder.open()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is at_demo.strip.search)


def test_the_list_stays_under_its_field_when_the_window_gets_another_size(at_demo, qtbot):
    at_demo.finder.open()
    at_demo.resize(1000, 700)

    def is_under():
        field = at_demo.strip.search
        low = field.mapTo(at_demo, field.rect().bottomLeft()).y()
        assert 0 < at_demo.finder.y() - low < 8
        assert at_demo.finder.geometry().right() < at_demo.width()

    qtbot.waitUntil(is_under)


def test_escape_leaves_the_search_for_the_table(at_demo):
    at_demo.finder.open()
    hand.type_text("dart")
    hand.key(Qt.Key.Key_Down, Qt.Key.Key_Escape)
    assert QApplication.focusWidget() is at_demo.table
    assert not at_demo.form.isVisible()


def test_a_letter_opens_the_list_of_a_subject_and_another_chooses_in_it(at_demo):
    at_demo.table.setFocus()
    hand.key(Qt.Key.Key_D, held=Qt.KeyboardModifier.ShiftModifier)
    opened = QApplication.activePopupWidget()
    assert opened is at_demo.offered.list_named("Darts")
    QTest.keyClick(opened, Qt.Key.Key_P)
    assert at_demo.form.isVisible()
    assert at_demo.form.title == "Pivot dart"
    at_demo.form.setFocus()
    at_demo.form.cancel()
    assert QApplication.focusWidget() is at_demo.table


def test_the_letter_of_every_edit_is_marked_in_its_list(at_demo):
    texts = {name: at_demo.offered.edits[name].text() for name in shown_edits()}
    keys = {name: shown.key for name, shown in shown_edits().items()}
    unmarked = [
        name for name, key in keys.items() if f"&{key[-1]}".lower() not in texts[name].lower()
    ]
    assert unmarked == []
    assert [name for name, key in keys.items() if not texts[name].endswith(f"\t{key}")] == []


@pytest.mark.parametrize("width", [1366, 1280, 1100])
def test_the_strip_shows_as_many_subjects_as_fit_and_the_rest_under_one_word(at_demo, width):
    at_demo.resize(width, 768)
    for step in STEPS:
        at_demo.bench.go_to_step(step)
        QTest.qWait(10)
        buttons = [one for one in at_demo.strip.findChildren(QToolButton) if one.isVisible()]
        named = [one for one in buttons if one.objectName().startswith("subject_")]
        under = [one.menu().title() for one in named[:-1]]
        last = named[-1].menu() if named else None
        under += [last.title()] if last and last.title() else [a.text() for a in last.actions()]
        under = [one.replace("&", "") for one in under]
        assert under == [one.name for one in at_demo.offered.of_step(step)]
        assert max(one.geometry().right() for one in buttons) < at_demo.strip.width()


def test_a_narrow_strip_keeps_what_fits_and_opens_the_rest_where_their_word_stands(at_demo):
    at_demo.bench.go_to_step("Shape")
    at_demo.resize(1000, 768)
    QTest.qWait(10)
    more = at_demo.strip.findChild(QToolButton, "subject_More")
    assert at_demo.strip.findChild(QToolButton, "subject_Darts").isVisible()
    assert more.isVisible()
    assert at_demo.strip.place_of("Seams") == more.mapToGlobal(more.rect().bottomLeft()) + BELOW


def test_every_edit_stands_in_the_menu_of_its_subject(at_demo):
    menus = {action.text().replace("&", ""): action.menu()
             for action in at_demo.menuBar().actions()}  # fmt: skip
    for subject in subjects().values():
        listed = [one.menu() for one in menus[subject.menu].actions()]
        lists = {one.title().replace("&", ""): one for one in listed if isinstance(one, QMenu)}
        assert {one.objectName() for one in lists[subject.name].actions()} == {
            *(f"edit_{name}" for name in subject.edits),
            *(("", *(f"draft_{kind.name}" for kind in KINDS)) if subject.name == "Drafts" else ()),
        }
    assert {name for one in subjects().values() for name in one.edits} >= {r.name for r in EDITS}


def test_the_right_button_offers_what_fits_the_thing_under_it(at_demo):
    table = at_demo.table
    piece = at_demo.bench.project.pieces["front.1"]
    corner = table.view.to_px(piece.edges[0].curve.start).toPoint()
    QTest.mouseClick(table, Qt.MouseButton.RightButton, Qt.KeyboardModifier.NoModifier, corner)
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    assert at_demo.bench.chosen == (piece.edges[0].corner,)
    assert "edit_move_corner" in {one.objectName() for one in menu.actions()}
    menu.close()


def test_the_right_button_beside_all_pieces_offers_no_edit(at_demo):
    at_demo.bench.choose(())
    names = {one.objectName() for one in table_menu(at_demo).actions()}
    assert names == {"choose_all", "fit", "find"}


def test_what_needs_a_dart_is_offered_for_a_dart_and_for_no_edge():
    assert {"pivot_dart", "divide_dart"} <= set(edits_for({"dart"}))
    assert "pivot_dart" not in edits_for({"corner"})
    assert "move_corner" in edits_for({"corner"})


def test_tips_of_tools_and_entries_carry_a_picture(at_demo):
    at_demo.bench.go_to_step("Shape")
    tool = at_demo.strip.findChild(QToolButton, "tool_add_dart")
    assert "<img" in at_demo.offered.tips.html_of(tool)
    entry = at_demo.offered.edits["pivot_dart"]
    html = at_demo.offered.tips.html_of(entry)
    assert "<img" in html
    assert "Shift+D, P" in html
    assert at_demo.offered.tips.html_of(at_demo.offered.list_named("Darts")) != ""
