"""The card of several chosen things: what they share is shown, and set for all in one step."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests import small
from wedgework.bench import Bench
from wedgework.edits import decode_plain
from wedgework.pattern.document import Hole, Spot
from wedgework.window.panels.card_pages import page_of


def rows(project, *ids):
    return {row.key: row for row in page_of(project, ids).rows}


def done(project, ids, key, value):
    """The project after a value was typed on the card of several things, kept as one step."""
    bench = Bench(project)
    bench.do(*(decode_plain(one) for one in rows(project, *ids)[key].edit(value)))
    assert len(bench.history) == 1
    return bench.project


def of(table, key):
    return [getattr(row, key) for row in table.values()]


def with_sheets(project):
    for name in ("blue", "red"):
        sheet = {"edit": "add_sheet", "name": name, "width_mm": 1000, "thickness_mm": 0.4}
        project = decode_plain(sheet).apply(project)
    return project


def test_a_shared_value_is_shown_and_one_that_differs_is_left_blank():
    project = small.ring_of_panels()
    project = decode_plain({"edit": "set_seam", "seam": "s2", "lap_mm": 12}).apply(project)
    shown = rows(project, "s1", "s2", "s3")
    assert shown["lap"].value is None
    assert shown["allowed"].value == 0.5
    assert shown["join"].value == "lapped"


@pytest.mark.parametrize(
    ("key", "field", "value"),
    [("join", "join", "butted"), ("lap", "lap_mm", 10.0), ("over", "over", "b"),
     ("allowed", "allowed_mm", 0.8), ("wanted", "wanted_mm", -2.0)],
)  # fmt: skip
def test_seams_are_set_together(key, field, value):
    project = small.ring_of_panels()
    after = done(project, list(project.seams), key, value)
    assert of(after.seams, field) == [value] * 4


def test_edges_get_one_allowance_and_one_finish():
    project = small.ring_of_panels()
    after = done(project, ["p1.e1", "p2.e3"], "allowance", 7.0)
    assert after.pieces["p1"].edges[0].allowance_mm == 7.0
    assert after.pieces["p2"].edges[2].allowance_mm == 7.0
    after = done(after, ["p1.e1", "p2.e3"], "finish", "hem")
    assert after.pieces["p2"].edges[2].finish == "hem"
    assert "finish" not in rows(project, "p1.e1", "p1.e2")


def test_pieces_get_one_cutting_one_sheet_and_one_quantity():
    project = with_sheets(small.two_panels(joined=False))
    blue, red = project.sheets
    after = done(project, ["a", "b"], "cutting", "pair")
    assert of(after.pieces, "cutting") == ["pair", "pair"]
    after = done(after, ["a", "b"], "sheet", blue)
    assert of(after.pieces, "sheet") == [blue, blue]
    turned = {"edit": "cut_from", "pieces": ["b"], "sheet": red, "turns_deg": [0, 180]}
    after = done(decode_plain(turned).apply(after), ["a", "b"], "quantity", 3)
    assert of(after.pieces, "quantity") == [3, 3]
    assert of(after.pieces, "sheet") == [blue, red]
    assert after.pieces["a"].turns_rad is None
    assert len(after.pieces["b"].turns_rad) == 2


def test_marks_are_set_together():
    project = small.with_everything()
    after = done(project, ["n1", "n2"], "double", "double")
    assert of(after.notches, "double") == [True, True]
    more = Hole(id="o2", at=Spot("a.e1", 10.0), diameter_mm=3.0)
    project = replace(project, holes=project.holes.with_rows({"o2": more}))
    assert rows(project, "o1", "o2")["diameter_mm"].value is None
    assert of(done(project, ["o1", "o2"], "diameter_mm", 4.0).holes, "diameter_mm") == [4.0, 4.0]


def test_things_of_several_kinds_show_the_fields_of_each():
    shown = rows(small.with_everything(), "a", "a.e1", "s", "n1")
    assert {"cutting", "allowance", "join", "double"} <= set(shown)


def test_two_edges_can_be_joined_two_corners_measured_and_all_can_be_removed():
    project = small.two_panels(joined=False)
    assert page_of(project, ["a.e2", "b.e4"]).deeds == ("join_chosen", "fit_chosen", "delete")
    assert page_of(project, ["a.c2", "b.c1"]).deeds == ("pin", "fit_chosen", "delete")


def test_choosing_several_itself_changes_nothing():
    project = small.ring_of_panels()
    project = decode_plain({"edit": "set_seam", "seam": "s2", "join": "bound"}).apply(project)
    assert rows(project, "s1", "s2")["join"].edit("") == []
