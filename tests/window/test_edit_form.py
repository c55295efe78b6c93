"""The form of any edit: filled from the table, tried, kept; every edit can be reached by it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QPushButton, QScrollArea

from tests import small
from wedgework.bench import Bench
from wedgework.bench.mating import mate_run
from wedgework.edits import EDITS, edit_docs
from wedgework.edits.marks import AddNotches
from wedgework.edits.seams import JoinEdges
from wedgework.edits.slash import SlashSpread
from wedgework.pattern.changes import new_project
from wedgework.pattern.darts import darts_of
from wedgework.subjects import example_of
from wedgework.window.fields import Field
from wedgework.window.main import CARD_PX
from wedgework.window.palette import DARK, LIGHT
from wedgework.window.panels.edit_form import EditForm, make_argument
from wedgework.window.panels.form_fields import Argument, NumberArgument
from wedgework.window.panels.form_keeping import fields_in
from wedgework.window.panels.form_rows import RowsArgument
from wedgework.window.preferences import Wishes

ROWS = {row.name: row for row in EDITS}


@pytest.fixture
def start(qtbot):
    """Start a form on a project with some of its things chosen."""

    def one(edit, project=None, chosen=(), wishes=None):
        bench = Bench(project or small.two_panels())
        bench.choose(chosen)
        form = EditForm(wishes or Wishes(), LIGHT)
        qtbot.addWidget(form)
        form.show()
        form.start(ROWS[edit], bench)
        return form, bench

    return one


def argument(form, name):
    return form.findChild(Argument, f"argument_{name}")


def typed(field, text):
    field.setText(text)
    field.setModified(True)


@pytest.mark.parametrize("edit", ROWS)
def test_every_edit_has_a_form_with_a_field_for_each_of_its_arguments(start, edit):
    form, _ = start(edit, small.with_everything())
    docs = next(one for one in edit_docs() if one["edit"] == edit)
    for one in docs["arguments"]:
        assert argument(form, one["name"]) is not None


@pytest.mark.parametrize("edit", ROWS)
def test_no_form_of_an_edit_is_wider_than_its_place(start, edit):
    form, _ = start(edit, small.with_everything())
    form.resize(CARD_PX, 500)
    space = form.findChild(QScrollArea)
    QTest.qWait(0)
    assert space.widget().width() <= space.viewport().width()


def fill(one):
    """Something in every field of an argument, two rows where it has rows."""
    if isinstance(one, RowsArgument):
        one.add_row()
    for field in fields_in(one):
        if isinstance(field, Field):
            typed(field, "12")
        elif isinstance(field, QLineEdit):
            field.setText("a b")
        elif isinstance(field, QComboBox):
            field.setCurrentIndex(field.count() - 1)
        else:
            field.setChecked(not field.isChecked())


@pytest.mark.parametrize("edit", [row.name for row in EDITS])
def test_other_colours_and_units_leave_what_is_typed_in_a_form(start, edit):
    form, _ = start(edit, small.with_everything())
    for one in form._arguments.values():
        fill(one)
    before = {name: one.plain_or_none() for name, one in form._arguments.items()}
    form.dress(Wishes(unit="in"), DARK)
    assert {name: one.plain_or_none() for name, one in form._arguments.items()} == before


def test_what_is_no_number_yet_stays_as_it_was_typed(start):
    form, _ = start("add_notches", small.two_panels())
    typed(fields_in(form._arguments["at_mm"])[0], "12 mi")
    form.dress(Wishes(unit="in"), DARK)
    assert fields_in(form._arguments["at_mm"])[0].text() == "12 mi"


def test_what_is_chosen_stands_in_the_form_at_once(start):
    form, _ = start("move_corner", chosen=["a.c1"])
    assert argument(form, "corner").plain() == "a.c1"


def test_a_piece_is_taken_from_an_edge_of_it(start):
    form, _ = start("remove_piece", chosen=["a.e2"])
    assert argument(form, "piece").plain() == "a"


@pytest.mark.parametrize("own", ["p.e2", "p.e3", "p.c3", "d1"])
def test_a_dart_is_taken_from_a_leg_or_the_apex_that_is_pressed(start, own):
    form, bench = start("remove_dart", small.darted_front())
    bench.choose([own])
    assert argument(form, "dart").plain() == "d1"
    form, bench = start("set_back_apexes", small.darted_front())
    bench.choose([own])
    assert argument(form, "darts").plain() == ["d1"]


def test_two_chosen_edges_become_the_two_sides_of_a_seam(start):
    form, _ = start("join", small.square(), chosen=["p.e1", "p.e3"])
    typed(argument(form, "name").field, "closing")
    assert form.edit() == JoinEdges(name="closing", a=("p.e1",), b=("-p.e3",))


def halves():
    """Two pieces on one side of their middles, both of which are cut with their mirror image."""
    pieces = (small.rectangle("a", 100, 200), small.rectangle("b", 100, 200, x=200))
    return new_project(*(replace(piece, cutting="pair") for piece in pieces))


def test_edges_of_halves_that_both_rise_are_joined_in_the_mirror_image_as_by_the_tool(start):
    form, bench = start("join", halves(), chosen=["a.e2", "b.e2"])
    mate = [str(ref) for ref in mate_run(bench.project, ["a.e2"], ["b.e2"])]
    assert mate == ["~b.e2"]
    assert argument(form, "b").plain() == mate


def test_side_b_follows_another_side_a_until_it_is_typed_in(start):
    form, bench = start("join", halves(), chosen=["a.e2", "b.e2"])
    argument(form, "a").take(bench.project, ["a.e4"])
    assert argument(form, "b").plain() == ["-b.e2"]
    argument(form, "b").line.setText("b.e2")
    argument(form, "a").take(bench.project, ["a.e2"])
    assert argument(form, "b").plain() == ["b.e2"]


def test_several_edges_of_side_b_are_walked_from_the_end_that_meets_a(start):
    form, bench = start("join", small.square())
    argument(form, "b").take(bench.project, ["p.e1", "p.e2"])
    assert argument(form, "b").plain() == ["-p.e2", "-p.e1"]


def test_what_is_chosen_later_goes_into_the_next_empty_field(start):
    form, bench = start("merge_edges", small.square())
    bench.choose(["p.e1"])
    bench.choose(["p.e2"])
    assert [argument(form, name).plain() for name in ("first", "second")] == [
        "p.e1",
        "p.e2",
    ]


def test_lengths_are_typed_in_the_makers_unit(start):
    form, _ = start("move_corner", chosen=["a.c1"], wishes=Wishes(unit="in"))
    right, up = argument(form, "by_mm").fields
    typed(right, "1")
    typed(up, "1 cm")
    assert form.edit().by_mm == (25.4, 10.0)


def test_places_are_an_edge_and_a_distance(start):
    form, bench = start("slash_spread", small.square(), chosen=["p.e1"])
    typed(argument(form, "from").field, "40")
    bench.choose(["p.e3"])
    typed(argument(form, "to").field, "60")
    typed(argument(form, "open_mm").field, "12")
    edit = form.edit()
    assert isinstance(edit, SlashSpread)
    assert (edit.from_.edge, edit.from_.at_mm) == ("p.e1", 40.0)
    assert (edit.to.edge, edit.to.at_mm) == ("p.e3", 60.0)


def test_rows_that_are_left_empty_are_left_out(start):
    form, _ = start("add_notches", chosen=["s"])
    rows = argument(form, "at_mm")
    typed(rows.add_row()[0], "25")
    rows.add_row()
    assert form.edit() == AddNotches(seam="s", at_mm=(25.0,))


def test_a_new_piece_is_typed_by_its_corners(start):
    form, bench = start("add_piece")
    typed(argument(form, "name").field, "gusset")
    outline = argument(form, "edges")
    for row, corner in zip([*outline._rows, outline.add_row(), outline.add_row()],
                           [("0", "0"), ("60", "0"), ("0", "80")], strict=True):  # fmt: skip
        for field, text in zip(row, corner, strict=True):
            typed(field, text)
    form.keep()
    assert len(bench.project.pieces["gusset"].edges) == 3


def test_only_measures_that_became_others_are_written_down(start):
    form, bench = start("set_body")
    typed(argument(form, "measures")._fields["waist_girth_mm"], "70 cm")
    form.keep()
    assert dict(bench.project.body) == {"waist_girth_mm": 700.0}


def test_trying_shows_and_keeps_nothing(start):
    form, bench = start("move_corner", chosen=["a.c1"])
    typed(argument(form, "by_mm").fields[0], "-8")
    form.try_it()
    assert bench.is_previewing
    assert not bench.history


def test_each_letter_that_is_typed_is_shown_at_once(start, qtbot):
    form, bench = start("move_corner", chosen=["a.c1"])
    field = argument(form, "by_mm").fields[0]
    qtbot.keyClicks(field, "-8")
    assert bench.shown.pieces["a"].edges[0].curve.start.tolist() == [-8.0, 0.0]
    assert field.text() == "-8"


def test_what_cannot_be_done_is_said_before_anything_is_kept(start, qtbot):
    form, bench = start("split_edge", chosen=["a.e1"])
    qtbot.keyClicks(argument(form, "at_mm").field, "400")
    assert "⊘" in form.findChild(object, "form_refusal").text()
    assert not bench.is_previewing


def test_a_place_is_taken_from_where_the_table_is_pressed(start):
    form, bench = start("cut_piece", chosen=["a"])
    argument(form, "from").entered.emit(argument(form, "from"))
    form.press((40.0, 1.0), 5.0)
    assert argument(form, "from").plain() == {"edge": "a.e1", "at_mm": 40.0}
    argument(form, "via_mm").entered.emit(argument(form, "via_mm"))
    form.press((50.0, 50.0), 5.0)
    form.press((60.0, 70.0), 5.0)
    assert argument(form, "via_mm").plain() == [[50.0, 50.0], [60.0, 70.0]]
    assert not bench.history


def test_a_gusset_is_pressed_on_the_table_and_shown_while_its_width_is_typed(start, qtbot):
    form, bench = start("add_gusset", chosen=["a.e1"])
    width = argument(form, "width_mm")
    width.entered.emit(width)
    form.press((40.0, 1.0), 5.0)
    form.press((45.0, 60.0), 5.0)
    assert argument(form, "slits").plain() == [
        {"edge": "a.e1", "at_mm": 40.0, "x_mm": 45.0, "y_mm": 60.0}
    ]
    qtbot.keyClicks(width.field, "30")
    assert bench.is_previewing


def test_lines_of_a_slash_are_pressed_one_after_the_other(start):
    form, bench = start("spread_many")
    bench.choose(["a"])
    for at in ((40.0, 1.0), (40.0, 99.0), (70.0, 1.0), (70.0, 99.0)):
        field = argument(form, "slashes")
        field.entered.emit(field)
        form.press(at, 5.0)
        bench.choose(["a.e1" if at[1] < 50 else "a.e3"])
    assert [(row["from_edge"], row["to_edge"]) for row in field.plain()] == [("a.e1", "a.e3")] * 2


def test_a_level_is_pressed_in_each_piece_that_is_chosen(start):
    form, _ = start("add_level", chosen=["a", "b"])
    field = argument(form, "points")
    field.entered.emit(field)
    for at in ((250.0, 42.0), (50.0, 40.0)):
        form.press(at, 5.0)
    assert field.plain() == [{"piece": "a", "y_mm": 40.0}, {"piece": "b", "y_mm": 42.0}]


def test_a_press_beside_everything_adds_no_row(start):
    form, _ = start("add_gusset")
    form.press((-500.0, -500.0), 5.0)
    assert argument(form, "slits").is_empty()


def test_a_line_of_a_level_that_is_pressed_stands_for_the_level(start):
    _, cut = example_of("add_level")
    line = next(line for piece in cut.pieces.values() for line in piece.lines if line.level)
    form, bench = start("cut_along_level", cut)
    bench.choose([line.id])
    assert argument(form, "level").plain() == line.level


def test_keeping_is_one_step_and_closes_the_form(start, qtbot):
    form, bench = start("move_corner", chosen=["a.c1"])
    typed(argument(form, "by_mm").fields[0], "-8")
    with qtbot.waitSignal(form.closed):
        form.keep()
    assert len(bench.history) == 1


def test_ctrl_enter_keeps_the_form_from_within_a_field(start, qtbot):
    form, bench = start("divide_dart", small.darted_front(), chosen=["d1"])
    field = argument(form, "into").field
    qtbot.keyClicks(field, "2")
    with qtbot.waitSignal(form.closed):
        qtbot.keyClick(field, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert len(bench.history) == 1


def test_enter_keeps_a_form_that_is_filled_as_it_does_every_other_field(start, qtbot):
    form, bench = start("divide_dart", small.darted_front(), chosen=["d1"])
    field = argument(form, "into").field
    qtbot.keyClicks(field, "2")
    with qtbot.waitSignal(form.closed):
        qtbot.keyClick(field, Qt.Key.Key_Return)
    assert len(bench.history) == 1


def test_enter_in_a_half_filled_form_goes_to_what_is_missing(start, qtbot):
    form, bench = start("add_dart", small.square(), chosen=["p"])
    field = argument(form, "intake_mm").field
    field.setFocus()
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert not bench.history
    assert argument(form, "at").isAncestorOf(form.focusWidget())


def test_enter_on_a_button_of_a_form_presses_that_one(start, qtbot):
    form, bench = start("remove_piece", small.square(), chosen=["p"])
    cancel = form.findChild(QPushButton, "form_cancel")
    cancel.setFocus()
    with qtbot.waitSignal(form.closed):
        qtbot.keyClick(cancel, Qt.Key.Key_Return)
    assert not bench.history


def test_a_form_in_other_colours_leaves_the_keys_where_they_were(start):
    form, _ = start("move_corner", chosen=["a.c1"])
    argument(form, "by_mm").fields[1].setFocus()
    form.dress(Wishes(unit="in"), DARK)
    assert form.focusWidget() is argument(form, "by_mm").fields[1]


def test_a_missing_value_is_named_and_nothing_happens(start):
    form, bench = start("move_corner", chosen=["a.c1"])
    form.keep()
    assert "how far" in form.findChild(object, "form_refusal").text()
    assert not bench.history


def test_escape_drops_what_was_tried_and_closes(start, qtbot):
    form, bench = start("move_corner", chosen=["a.c1"])
    typed(argument(form, "by_mm").fields[0], "-8")
    form.try_it()
    with qtbot.waitSignal(form.closed):
        qtbot.keyClick(form, Qt.Key.Key_Escape)
    assert not bench.is_previewing


def test_a_closed_form_takes_nothing_from_the_table_any_more(start):
    form, bench = start("remove_piece")
    form.cancel()
    bench.choose(["a"])
    assert argument(form, "piece").is_empty()


def test_a_measurement_is_hung_on_what_is_pressed_on_the_table(start):
    form, bench = start("pin_measure")
    field = argument(form, "anchors")
    field.entered.emit(field)
    form.press((0.0, 1.0), 5.0)
    form.press((100.0, 40.0), 5.0)
    assert field.plain() == ["a.c1", {"edge": "a.e2", "at_mm": 40.0}]
    assert bench.is_previewing
    field._take_back()
    assert field.plain() == ["a.c1"]


def test_rows_of_holes_and_measurements_are_listed(start):
    _, after = example_of("add_punch_row")
    form, _ = start("move_row", after)
    box = argument(form, "row").box
    assert box.count() == 2
    _, pinned = example_of("pin_measure")
    form, _ = start("set_pin", pinned)
    assert argument(form, "pin").box.count() == 2


def test_one_more_thing_is_added_from_the_list_beside_the_field(start):
    form, _ = start("remove_marks", small.with_everything())
    field = argument(form, "marks")
    field._list.actions()[0].trigger()
    assert field.plain() == ["n1"]


@pytest.mark.usefixtures("qapp")
def test_no_list_is_asked_for_by_a_field_of_one_number():
    rows = [(docs["edit"], one) for docs in edit_docs() for one in docs["arguments"]]
    lists = [(edit, one) for edit, one in rows if one["type"].startswith(("list", "["))]
    made = {(edit, one["name"]): make_argument(edit, one, Wishes(), LIGHT) for edit, one in lists}
    assert [at for at, field in made.items() if type(field) is NumberArgument] == []


def test_darts_just_made_are_chosen(start):
    form, bench = start("divide_dart", small.darted_front(), chosen=["d1"])
    typed(argument(form, "into").field, "3")
    form.keep()
    made = [dart.id for dart in darts_of(bench.project) if dart.id != "d1"]
    assert len(made) == 2
    assert list(bench.chosen) == made


def test_where_no_dart_is_made_what_was_chosen_stays(start):
    form, bench = start("move_corner", chosen=["a.c1"])
    typed(argument(form, "by_mm").fields[0], "-8")
    form.keep()
    assert list(bench.chosen) == ["a.c1"]


def test_what_cannot_be_read_is_dropped_with_what_was_shown_of_it(start, qtbot):
    form, bench = start("add_rectangle")
    typed(argument(form, "name").findChild(QLineEdit), "strip")
    width, height = (argument(form, name).field for name in ("width_mm", "height_mm"))
    qtbot.keyClicks(width, "120")
    qtbot.keyClicks(height, "1/")
    qtbot.keyClicks(height, "0")
    height.drop()
    assert bench.shown is bench.project
    assert "Still missing" in form.findChild(QLabel, "form_refusal").text()
