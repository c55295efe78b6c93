from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QListWidget, QRadioButton, QWidget

from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.errors import FileRefused
from wedgework.units import Unit
from wedgework.window.dialogs.importing import ImportDialog, ask_import

BODY = '<path id="front" d="M0,0 L200,0 L200,150 L0,150 Z"/>'
WITH_UNIT = f'<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">{BODY}</svg>'  # noqa: E501
WITHOUT = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 300">{BODY}</svg>'


@pytest.fixture
def parent(qtbot):
    made = QWidget()
    qtbot.addWidget(made)
    return made


def dialog_for(parent, text):
    made = ImportDialog(parent, Path("front.svg"), text.encode())
    made.show()
    return made


def size_mm(project):
    (piece,) = project.pieces.values()
    box = bounds_of_all([edge.curve for edge in piece.edges])
    return (box[2:] - box[:2]).tolist()


def test_the_unit_is_asked_for_only_where_the_file_has_none(parent):
    assert not dialog_for(parent, WITH_UNIT).unit.isVisible()
    assert dialog_for(parent, WITHOUT).unit.isVisible()


def test_each_unit_says_how_large_the_largest_piece_would_be(parent):
    said = {label.text() for label in dialog_for(parent, WITHOUT).unit.findChildren(QLabel)}
    assert {"200 × 150 mm", "2000 × 1500 mm", "5080 × 3810 mm", "53 × 40 mm"} <= said


def test_another_unit_brings_the_pieces_in_as_large(parent):
    dialog = dialog_for(parent, WITHOUT)
    dialog.unit.findChildren(QRadioButton)[2].setChecked(True)
    assert dialog.unit.unit is Unit.IN
    assert size_mm(dialog.project) == pytest.approx([5080, 3810])


def test_a_cut_line_comes_in_as_the_seam_line_within_its_lap(parent, qtbot):
    dialog = dialog_for(parent, WITH_UNIT)
    dialog.cut_drawn.setChecked(True)
    dialog.lap.selectAll()
    qtbot.keyClicks(dialog.lap, "1 cm")
    qtbot.keyClick(dialog.lap, Qt.Key.Key_Return)
    assert size_mm(dialog.project) == pytest.approx([180, 130])


def test_what_is_still_being_typed_counts_when_the_drawing_is_brought_in(parent, qtbot):
    dialog = dialog_for(parent, WITH_UNIT)
    dialog.cut_drawn.setChecked(True)
    dialog.lap.selectAll()
    qtbot.keyClicks(dialog.lap, "5")
    dialog.keep.click()
    assert size_mm(dialog.project) == pytest.approx([190, 140])


def test_a_lap_that_leaves_nothing_of_a_piece_is_told(parent):
    dialog = dialog_for(parent, WITH_UNIT)
    dialog.lap.show_value(200.0)
    dialog.cut_drawn.setChecked(True)
    assert "kept as drawn" in dialog.findChild(QListWidget).item(0).text()


def test_everything_that_was_repaired_is_listed(parent):
    text = WITH_UNIT.replace("</svg>", '<path d="M300,10 L320,40"/></svg>')
    dialog = dialog_for(parent, text)
    told = dialog.findChild(QListWidget)
    assert [told.item(row).text() for row in range(told.count())] == list(dialog.project.problems)
    assert len(dialog.project.problems) == 1


def test_a_file_that_holds_no_pieces_is_refused_before_anything_is_asked(parent):
    with pytest.raises(FileRefused):
        ask_import(parent, Path("x.svg"), b"<svg xmlns='http://www.w3.org/2000/svg'/>")
