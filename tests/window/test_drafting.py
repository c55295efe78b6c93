"""Drafting in the window: a form with a live picture, edges from the table, and the card."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QToolButton

from tests.drafting.making import BODY, block, placed
from wedgework.bench import Bench
from wedgework.bench.recipes import remembered
from wedgework.checks import check
from wedgework.drafting import KINDS, arguments_of, kind_named
from wedgework.edits import decode_plain
from wedgework.edits.bodies import SetReductions
from wedgework.edits.body import AddSheet, SetBody
from wedgework.edits.drafted import DraftPieces
from wedgework.edits.drawn import AddLine
from wedgework.edits.move import MoveCorner
from wedgework.edits.openings import MarkOpening
from wedgework.edits.settings import SetAllowance
from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.document import Project
from wedgework.window.dialogs.drafting import DraftForm
from wedgework.window.dialogs.drafting_edges import EdgesArgument, in_order, open_lines
from wedgework.window.dialogs.drafting_result import drawn_project, size_words
from wedgework.window.form_words import in_form_words, number_tip
from wedgework.window.palette import DARK, LIGHT
from wedgework.window.panels.card_drafted import drafted_rows
from wedgework.window.panels.form_fields import Argument
from wedgework.window.preferences import Wishes
from wedgework.window.table.art import art_of

NECK = ("-front.neck", "-back.neck")
LOWER = MoveCorner(corner="front.c7", by_mm=(0.0, -15.0))


def collared():
    collar = DraftPieces(kind="collar", numbers={"neckline": list(NECK), "width_mm": 60})
    return collar.apply(block())


@pytest.fixture
def start(qtbot):
    """Start the form of a kind on a project."""

    def one(kind, project=None, wishes=None):
        bench = Bench(project or Project())
        form = DraftForm(wishes or Wishes(), LIGHT)
        qtbot.addWidget(form)
        form.show()
        form.start(bench, kind)
        return form, bench

    return one


def number(form, name):
    return form.findChild(Argument, f"number_{name}")


def typed(form, **texts):
    for name, text in texts.items():
        field = number(form, name).field
        field.setText(text)
        field.setModified(True)
    form.try_it()


def refusal(form):
    return form.findChild(QLabel, "draft_refusal").text()


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_kind_has_a_field_for_each_of_its_numbers(start, kind):
    form, _ = start(kind.name)
    for docs in arguments_of(kind.numbers):
        assert number(form, docs["name"]) is not None


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_what_is_shown_first_is_a_number_of_the_kind(kind):
    assert set(kind.first) <= {docs["name"] for docs in arguments_of(kind.numbers)}


def test_a_skirt_is_told_and_drawn_while_its_numbers_are_typed(start):
    form, bench = start("pleated_skirt")
    assert refusal(form) == "Still missing: waist."
    before = bench.project
    typed(form, waist_mm="28 in - 11.2", length_mm="30 cm", visible_mm="35")
    assert refusal(form) == ""
    assert number(form, "pleats").field.placeholderText() == "20"
    assert form.findChild(QLabel, "told_material_mm").text() == "2100.00"
    assert form.findChild(QLabel, "step_2").text().startswith("visible = 700.00 / 20")
    assert bench.project is before
    assert not bench.is_previewing


def test_a_skirt_starts_as_wide_as_goes_over_body_and_suit_and_from_the_sheet(start):
    suit = AddSheet(name="teal", width_mm=920, thickness_mm=0.6).apply(block())
    form, _ = start("pleated_skirt", suit)
    # 720 + 2 pi 0.4 x 0.92, rounded up; the suit is not cut from the sheet yet.
    assert number(form, "waist_mm").plain_or_none() == pytest.approx(722.4)
    assert number(form, "thickness_mm").plain_or_none() == 0.6
    assert number(form, "sheet_width_mm").plain_or_none() == 920
    said = {row.name: row.said.text() for row in form._rows}
    assert (said["waist_mm"], said["thickness_mm"]) == ("over suit", "of the sheet")


def test_another_number_of_pleats_is_taken_from_the_table_of_them(start, qtbot):
    form, _ = start("pleated_skirt")
    typed(form, waist_mm="700", length_mm="300", visible_mm="35")
    button = form.findChild(QToolButton, "pleats_22")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    form.try_it()
    assert form.edit().numbers == {"waist_mm": 700.0, "length_mm": 300.0, "pleats": 22}


def test_what_cannot_be_is_said_in_the_form_before_anything_is_drafted(start):
    form, bench = start("pleated_skirt")
    typed(form, waist_mm="700", length_mm="300", pleats="20", underlay_mm="90")
    assert refusal(form).startswith("⊘ A knife pleat hides at most twice")
    assert not form.findChild(QPushButton, "draft_keep").isEnabled()
    assert not form.keep()
    assert not bench.project.pieces


def test_folds_of_pleats_are_dotted_and_where_they_are_laid_is_dashed():
    strip = placed("pleated_skirt", waist_mm=90, length_mm=50, pleats=3).pieces["strip_1"]
    art = art_of(strip)
    # Three pleats: three folds outwards and two inwards, and three lines to lay a fold on.
    assert art.folded.elementCount() * 3 == art.placed.elementCount() * 5
    assert art.lines.isEmpty()


def test_tab_goes_from_the_word_more_into_what_it_unfolds(start, qtbot):
    form, _ = start("flared_skirt")
    form.more.button.click()
    form.more.button.setFocus()
    for name in ("waist_drop_mm", "hem_dip_mm", "slope_deg", "panels"):
        qtbot.keyClick(form.focusWidget(), Qt.Key.Key_Tab)
        assert form.focusWidget() is number(form, name).field


def test_enter_in_a_field_drafts_as_one_step(start, qtbot):
    form, bench = start("strip")
    typed(form, length_mm="500", width_mm="20")
    qtbot.keyClick(number(form, "width_mm").field, Qt.Key.Key_Return)
    assert list(bench.project.pieces) == ["strip"]
    assert not form.is_open
    assert bench.undo()
    assert not bench.project.pieces


def test_the_body_of_the_project_stands_in_the_form_and_the_rest_is_marked_as_filled_in(start):
    project = SetBody(measures={"bust_girth_mm": 900, "waist_girth_mm": 700}).apply(Project())
    form, bench = start("body_block", project)
    said = {row.name: row.said.text() for row in form._rows}
    assert said["bust_girth_mm"] == said["waist_girth_mm"] == "of the body"
    assert said["hip_girth_mm"] == "filled in"
    assert number(form, "hip_girth_mm").field.placeholderText() == f"{900 * 980 / 920:.2f}"
    assert form.keep()
    assert list(bench.project.pieces) == ["front", "back"]
    recipe = remembered(bench.project, bench.project.pieces["front"])
    assert {"bust_girth_mm", "waist_girth_mm"} <= set(recipe.numbers)
    assert "hip_girth_mm" not in recipe.numbers


def test_reductions_of_the_project_and_the_larger_limb_stand_in_the_form(start):
    project = SetReductions(girth=0.1).apply(Project())
    limbs = {"thigh_girth_left_mm": 571.0, "thigh_girth_right_mm": 566.0}
    form, _ = start("body_block", SetBody(measures={**BODY, **limbs}).apply(project))
    assert number(form, "girth_reduction").plain() == pytest.approx(0.1)
    assert number(form, "length_reduction").plain() == pytest.approx(0.04)
    assert number(form, "thigh_girth_mm").plain() == 571.0


def test_edges_pressed_on_the_table_are_put_in_the_order_of_their_line(start):
    form, bench = start("collar", block())
    bench.choose(["back.neck"])
    bench.choose(["front.neck"])
    taken = number(form, "neckline").plain()
    assert sorted(one.lstrip("-~") for one in taken) == ["back.neck", "front.neck"]
    typed(form, width_mm="60")
    assert refusal(form) == ""
    assert form.keep()
    assert bench.project.seams["collar.seam"]


def test_the_whole_line_is_taken_from_one_of_its_edges(start):
    form, bench = start("facing", block())
    bench.choose(["front.armhole"])
    edges = number(form, "along")
    assert isinstance(edges, EdgesArgument)
    edges.findChild(QPushButton, "whole_line").click()
    assert {one.lstrip("-~") for one in edges.plain()} >= {"front.armhole", "back.armhole"}


def test_edges_that_are_no_line_stay_as_they_were_pressed():
    assert in_order(block(), ["front.neck", "back.side"]) == ("front.neck", "back.side")


def test_open_lines_are_offered_by_name_those_over_several_pieces_first():
    words = [said for _, said in open_lines(block(sleeves="long"))]
    assert words == ["leg (Front, Back)", "neck (Back, Front)", "hem (Sleeve)"]
    named = MarkOpening(name="way in", edges=("front.neck", "back.neck"), measure="neck_girth_mm")
    assert "way in (Back, Front)" in [said for _, said in open_lines(named.apply(block()))]


def test_a_line_that_is_taken_by_name_is_in_the_form(start):
    form, bench = start("facing", block())
    run, _ = open_lines(bench.project)[0]
    number(form, "along").show_refs(map(str, run))
    typed(form, width_mm="20")
    assert form.edit().numbers["along"] == [str(ref) for ref in run]


@pytest.mark.parametrize(
    ("sentence", "said"),
    [
        ("collar: width_mm: should be above 0.", "Width should be above 0."),
        ("draft: numbers.width_mm is not a finite number, but NaN.",
         "Numbers is not a finite number, but NaN."),
        ("Edit 1 (set_seam): lap_mm: should be at least 0.", "Lap should be at least 0."),
        ("There is no edge “neck_mm.e1” here.", "There is no edge “neck_mm.e1” here."),
        ("Give lap_mm or none.", "Give lap or none."),
        ("A collar that lies 60 mm wide.", "A collar that lies 60 mm wide."),
    ],
)  # fmt: skip
def test_refusals_are_in_words_of_the_form(sentence, said):
    assert in_form_words(sentence) == said


def test_a_form_does_not_say_how_edges_are_written_in_a_file():
    docs = next(one for one in arguments_of(kind_named("facing").numbers) if one["name"] == "along")
    assert "`" in docs["meaning"]
    assert "in walking order." in number_tip(docs)
    assert "`" not in number_tip(docs)


def test_a_form_says_in_its_own_words_what_is_wrong_with_a_number(start):
    form, _ = start("collar", block())
    number(form, "neckline").show_refs(NECK)
    typed(form, width_mm="0")
    assert refusal(form) == "⊘ Width should be above 0."


@pytest.mark.parametrize("kind", [kind.name for kind in KINDS])
def test_the_table_keeps_most_of_a_small_window_while_something_is_drafted(window, kind):
    window.bench.new(block())
    window.drafting.start(kind)
    QApplication.processEvents()
    assert window.panels["Card"].width() <= 0.4 * window.width()
    form = window.drafting.form
    assert form._left.widget().width() <= form._left.viewport().width()


def test_shares_and_switches_of_a_draft_are_changed_in_the_card(window):
    cuffed = DraftPieces(kind="cuff", numbers={"along": ["sleeve.hem"], "width_mm": 50})
    window.bench.new(cuffed.apply(block(sleeves="long")))
    rows = {one.key: one for one in drafted_rows(window.bench.project, piece_of(window, "cuff"))}
    assert rows["number turned_back"].value == "no"
    window.bench.do(*map(decode_plain, rows["number turned_back"].edit("yes")))
    assert piece_of(window, "cuff").lines
    wider = DraftPieces(kind="body_block", numbers=BODY | {"girth_reduction": 0.1})
    window.bench.new(wider.apply(Project()))
    rows = {one.key: one for one in drafted_rows(window.bench.project, piece_of(window, "front"))}
    assert rows["number girth_reduction"].kind == "plain"
    assert rows["number girth_reduction"].is_typed


def piece_of(window, own):
    return window.bench.project.pieces[own]


def test_lines_drawn_on_pieces_are_taken_for_the_outer_edge_of_a_collar(start):
    rim = ((0.0, 260.0), (110.0, 403.0))
    line = AddLine(piece="front", kind="style", points_mm=rim, name="rim")
    form, bench = start("collar", line.apply(block()))
    bench.choose(["front.neck"])
    bench.choose(["front.l1"])
    assert number(form, "neckline").plain() == ["front.neck"]
    assert number(form, "outer_line").plain() == ["front.l1"]
    assert number(form, "outer_line").isVisible()
    assert [words for _, words in number(form, "outer_line").offered()] == ["rim (Front)"]
    typed(form)
    assert refusal(form) == ""
    assert form.keep()
    rows = {one.key: one for one in drafted_rows(bench.project, bench.project.pieces["collar"])}
    assert rows["source front.l1"].leads_to == "front.l1"


def test_what_is_not_said_yet_is_no_refusal(start):
    form, _ = start("collar", block())
    number(form, "neckline").show_refs(NECK)
    typed(form)
    assert refusal(form) == "Give the width of the collar, or the lines of its outer edge."


def test_the_picture_leaves_out_what_a_piece_is_drafted_for():
    from wedgework.drafting import drafted  # noqa: PLC0415 - beside its one use

    _, draft = drafted(block(), "collar", {"neckline": list(NECK), "width_mm": 60})
    shown = drawn_project(draft)
    assert list(shown.pieces) == ["collar"]
    assert not shown.seams


def test_a_drafted_piece_shows_numbers_sources_and_what_was_done_by_hand():
    project = SetAllowance(edges=("collar.outer",), mm=6).apply(collared())
    rows = {row.key: row for row in drafted_rows(project, project.pieces["collar"])}
    assert rows["drafted"].value == "collar"
    assert rows["number width_mm"].value == 60
    then, now = rows["source -front.neck"].value
    assert then == pytest.approx(now)
    assert rows["by hand"].value == "1: set allowance"
    moved = LOWER.apply(project)
    rows = {row.key: row for row in drafted_rows(moved, moved.pieces["collar"])}
    then, now = rows["source -front.neck"].value
    assert now > then + 5


def test_numbers_of_a_draft_are_changed_in_the_card(window):
    window.bench.new(collared())
    window.bench.choose(["collar"])
    field = window.card.findChild(object, "card_number_width_mm")
    field.setText("50")
    field.setModified(True)
    assert field.keep()
    piece = window.bench.project.pieces["collar"]
    assert remembered(window.bench.project, piece).numbers["width_mm"] == 50
    assert window.bench.undo()


def test_a_neckline_that_moves_is_found_and_mended_in_the_window(window):
    window.bench.new(collared())
    window.bench.do(LOWER)
    found = [one for one in check(window.bench.project) if one.code == "draft_out_of_date"]
    window.deeds.mend(found[0].mends[0])
    codes = {one.code for one in check(window.bench.project)}
    assert "draft_out_of_date" not in codes


def test_draft_it_again_stands_on_the_card(window):
    window.bench.new(LOWER.apply(collared()))
    window.bench.choose(["collar"])
    window.card.findChild(QPushButton, "card_deed_redraft").click()
    recipe = remembered(window.bench.project, window.bench.project.pieces["collar"])
    assert recipe.out_of_date_mm == pytest.approx(0.0, abs=1e-9)


def test_other_numbers_open_the_form_of_the_piece(window):
    window.bench.new(collared())
    window.bench.choose(["collar"])
    window.card.findChild(QPushButton, "card_deed_renumber").click()
    form = window.drafting.form
    assert number(form, "width_mm").plain() == 60
    typed(form, width_mm="45", stand_mm="10")
    assert form.keep()
    numbers = remembered(window.bench.project, window.bench.project.pieces["collar"]).numbers
    assert (numbers["width_mm"], numbers["stand_mm"]) == (45, 10)
    assert len(window.bench.project.pieces) == 3


def test_from_the_first_page_to_a_suit(window, qtbot):
    window.first.findChild(QPushButton, "first_draft").click()
    form = window.drafting.form
    assert window.card_space.currentWidget() is form
    for name, value in BODY.items():
        typed(form, **{name: str(value)})
    qtbot.keyClick(number(form, "bust_girth_mm").field, Qt.Key.Key_Return)
    assert list(window.bench.project.pieces) == ["front", "back"]
    assert window.card_space.currentWidget() is window.card
    assert window.bench.next_undo


def test_what_was_drafted_is_seen_whole_when_the_panels_are_back(window, qtbot):
    window.bench.new(SetBody(measures=BODY).apply(Project()))
    QApplication.processEvents()
    window.drafting.start("body_block")
    QApplication.processEvents()
    qtbot.keyClick(window.drafting.form, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: shows_all(window.table))


def shows_all(table):
    """Whether all pieces lie within what is seen of the table."""
    boxes = [bounds_of_all([edge.curve for edge in piece.edges]) for piece in
             table.bench.project.pieces.values()]  # fmt: skip
    return all(QRectF(table.rect()).contains(table.view.rect_px(box)) for box in boxes)


def test_the_keys_are_the_forms_again_once_an_edge_was_pressed(window, qtbot):
    window.bench.new(block())
    window.drafting.start("facing")
    typed(window.drafting.form, width_mm="20")
    window.table.setFocus()
    window.bench.choose(("front.neck",))
    button = window.drafting.form.keep_button
    assert window.focusWidget() is button
    qtbot.keyClick(button, Qt.Key.Key_Return)
    assert len(window.bench.project.pieces) == 3


def test_escape_drafts_nothing_and_shows_the_card_again(window, qtbot):
    window.bench.new(block())
    window.drafting.start("tube")
    qtbot.keyClick(window.drafting.form, Qt.Key.Key_Escape)
    assert window.card_space.currentWidget() is window.card
    assert list(window.bench.project.pieces) == ["front", "back"]


def test_other_colours_and_units_keep_what_was_typed(start):
    form, _ = start("strip")
    typed(form, length_mm="254", width_mm="20")
    form.dress(Wishes(unit="in"), DARK)
    assert number(form, "length_mm").field.text() == "10.000"
    assert number(form, "length_mm").plain() == 254


def test_what_comes_of_the_numbers_is_as_high_as_its_words_need(start, qtbot):
    form, _ = start("pleated_skirt")
    form.resize(560, 420)
    typed(form, waist_mm="700", length_mm="300", visible_mm="35")
    last = form.findChild(QLabel, "step_10")
    qtbot.waitUntil(lambda: last.height() >= last.heightForWidth(last.width()) > 0)


def test_a_form_begins_without_words_about_a_number_of_the_kind_before(start):
    form, _ = start("flared_skirt")
    form._enter(number(form, "turn_deg"))
    assert form._about.text().startswith("Turn")
    form.show_kind("facing")
    assert not form._about.text().startswith("Turn")


def test_nothing_is_headed_what_comes_of_it_where_nothing_is_told(start):
    form, _ = start("strip")
    typed(form, length_mm="800", width_mm="40")
    heads = [one.text() for one in form._result.findChildren(QLabel)]
    assert "What comes of it" not in heads


def test_the_size_of_a_draft_names_its_unit_once():
    skirt = DraftPieces(kind="strip", numbers={"length_mm": 800, "width_mm": 40})
    assert size_words(skirt.apply(Project()), Wishes()) == "1 piece, 800.0 × 40.0\u00a0mm"
