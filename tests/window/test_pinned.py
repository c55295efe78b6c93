"""Pinned measurements in the window: drawn, chosen, set on the card, taken away."""

from __future__ import annotations

import numpy as np
import pytest

from tests import small
from tests.window.test_table import pixels, shown
from wedgework.bench.pinning import placed_pins
from wedgework.edits import decode_plain
from wedgework.window.panels.card_pages import page_of
from wedgework.window.preferences import Wishes
from wedgework.window.table.pinned import pin_words


def pinned(project=None, **fields):
    edit = {"edit": "pin_measure", "kind": "distance", "anchors": ["p.c1", "p.c3"], **fields}
    return decode_plain(edit).apply(project or small.square())


def words(project):
    (placed,) = placed_pins(project, 0.5)
    return pin_words(placed, Wishes())


def test_a_figure_says_its_name_and_what_it_should_be_only_where_it_misses_that():
    assert words(pinned()) == "141.4"
    assert words(pinned(name="cross", wanted=141.0)) == "cross 141.4"
    assert words(pinned(name="cross", wanted=150.0)) == "cross 141.4 ≠ 150.0"
    assert words(pinned(kind="angle", anchors=["p.c1"])) == "90.0°"


@pytest.mark.parametrize("kind", ["distance", "along"])
def test_a_pin_is_drawn_and_follows_a_drag(qtbot, kind):
    table = shown(qtbot, pinned(kind=kind, anchors=["p.c1", "p.c2"]))
    bare = shown(qtbot, small.square())
    assert np.abs(pixels(table) - pixels(bare)).sum() > 0
    before = pixels(table)
    table.bench.preview(decode_plain({"edit": "move_corner", "corner": "p.c2", "by_mm": [9, 0]}))
    (placed,) = placed_pins(table.bench.shown, table.view.px_mm)
    assert placed.value == pytest.approx(109.0)
    assert np.abs(pixels(table) - before).sum() > 0
    table.bench.drop_preview()
    assert np.array_equal(pixels(table), before)


def test_the_card_of_a_pin_sets_and_clears_what_is_wanted():
    project = pinned()
    page = page_of(project, ["pin1"])
    row = next(row for row in page.rows if row.key == "wanted")
    for value, wanted in ((150.0, 150.0), (None, None)):
        (edit,) = row.edit(value)
        project = decode_plain(edit).apply(project)
        assert project.pins["pin1"].wanted == wanted


@pytest.mark.parametrize("step", ["Measure", "Shape"])
def test_what_is_pinned_is_listed_where_nothing_is_chosen(step):
    project = pinned(pinned(name="cross"), kind="angle", anchors=["p.c1"])
    rows = {row.leads_to: row for row in page_of(project, [], step=step).rows if row.leads_to}
    assert (rows["pin1"].words, rows["pin1"].value) == ("cross", pytest.approx(100 * 2**0.5))
    assert rows["pin2"].value == pytest.approx(90.0)


def test_pinning_by_its_key_pins_what_is_chosen_and_delete_takes_it_away(window):
    window.bench.new(small.two_panels())
    window.bench.choose(["a.c1", "b.c1"])
    window.actions_by_name["pin"].trigger()
    assert list(window.bench.project.pins) == ["pin1"]
    window.bench.choose(["pin1"])
    assert "pinned" in page_of(window.bench.project, ["pin1"]).kind
    window.actions_by_name["delete"].trigger()
    assert not window.bench.project.pins


def test_a_figure_keeps_off_the_name_of_a_piece_and_is_taken_where_it_stands():
    project = pinned(kind="distance", anchors=["p.c1", "p.c3"])
    (bare,) = placed_pins(project, 0.2)
    (placed,) = placed_pins(project, 0.2, [(bare.figure_mm, (6.0, 2.0))])
    apart = [abs(a - b) for a, b in zip(placed.figure_mm, bare.figure_mm, strict=True)]
    assert apart[0] >= 6.0 + placed.reach_mm[0] or apart[1] >= 2.0 + placed.reach_mm[1]
    assert placed_pins(project, 0.2) == (placed,)
