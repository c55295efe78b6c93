"""Every edit is found by subject and key, and its example shows what it does."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QImage, QPainter

from wedgework.bench import TOOLS
from wedgework.drafting import KINDS
from wedgework.drawing.pieces import draw_project
from wedgework.edits import EDITS
from wedgework.subjects import DRAFT, example_of, shown_drafts, shown_edits, subjects, tool_shows
from wedgework.window.icons import has_icon
from wedgework.window.palette import DARK, LIGHT
from wedgework.window.pictures.example import example_html, example_picture, example_words
from wedgework.window.pictures.pen import KeyPen, PicturePen
from wedgework.window.table.view import View

NAMES = [row.name for row in EDITS]
SHOWN = [*NAMES, *(f"{DRAFT}{name}" for name in shown_drafts())]


def test_every_edit_has_a_subject_a_key_and_an_example():
    assert sorted(shown_edits()) == sorted(NAMES)


def test_no_key_means_two_edits():
    keys = [shown.key for shown in shown_edits().values()]
    assert sorted(keys) == sorted(set(keys))
    letters = [subject.letter for subject in subjects().values()]
    assert sorted(letters) == sorted(set(letters))


@pytest.mark.parametrize("name", NAMES)
def test_the_example_of_an_edit_changes_something(name):
    before, after = example_of(name)
    assert after is not before


def test_every_tool_shows_an_edit_that_there_is():
    shown = {tool.name: tool_shows(tool.name) for tool in TOOLS}
    assert {name: edit for name, edit in shown.items() if edit not in {*NAMES, ""}} == {}


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("name", SHOWN)
def test_before_and_after_look_different(name, scheme):
    image = example_picture(name, scheme).toImage()
    width, height = image.width(), image.height()
    right = image.width() * 150 // 272
    left_half = image.copy(0, 0, width - right, height)
    right_half = image.copy(right, 0, width - right, height)
    assert left_half != right_half


def test_words_of_an_example_are_a_makers():
    assert example_words("mark_opening") == "an opening “neck”"
    assert example_words("set_opening") == "measure: head girth → shoulder girth"
    assert example_words("dart_to_ease").startswith("wanted: −16 → ")


@pytest.mark.usefixtures("qapp")
def test_a_tool_tip_carries_the_picture():
    assert "data:image/png;base64," in example_html("pivot_dart", LIGHT)
    assert example_html("no_such_edit", LIGHT) == ""


KIND_NAMES = [kind.name for kind in KINDS]


def test_every_kind_of_draft_has_a_key_of_its_own_and_an_example():
    assert sorted(shown_drafts()) == sorted(KIND_NAMES)
    keys = [shown.key for shown in (*shown_edits().values(), *shown_drafts().values())]
    assert sorted(keys) == sorted(set(keys))


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("kind", KIND_NAMES)
def test_the_example_of_a_draft_shows_new_pieces(kind):
    before, after = example_of(f"draft {kind}")
    assert len(after.pieces) > len(before.pieces)
    assert "data:image/png;base64," in example_html(f"draft {kind}", LIGHT)
    assert has_icon(f"draft_{kind}")


@pytest.mark.usefixtures("qapp")
def test_what_a_line_pushes_aside_is_not_shown_as_what_the_edit_does():
    before, after = example_of("add_line")
    told = []

    class Telling(PicturePen):
        def _draw(self, path, with_pen, **more):
            told.append(with_pen.color().name())
            super()._draw(path, with_pen, **more)

    image = QImage(200, 200, QImage.Format.Format_RGB32)
    known = KeyPen()
    draw_project(before, known)
    painter = QPainter(image)
    draw_project(after, Telling(painter, View(), LIGHT, known.keys))
    painter.end()
    assert told.count(LIGHT.chosen.lower()) == 1
