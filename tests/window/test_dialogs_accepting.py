from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QWidget

from wedgework.checks import Finding
from wedgework.edits import decode_plain
from wedgework.window.dialogs.accepting import LONGEST_REASON, AcceptDialog


@pytest.fixture
def parent(qtbot):
    made = QWidget()
    qtbot.addWidget(made)
    return made


@pytest.fixture
def dialog(parent):
    finding = Finding(
        code="seam_length",
        grave="stops_cutting",
        message="Side A is 3.0 mm longer than side B.",
        where=("side",),
        measured=3.0,
    )
    made = AcceptDialog(parent, finding)
    made.show()
    return made


def line_of(dialog):
    return dialog.findChild(QLineEdit)


def test_nothing_is_accepted_without_a_reason(dialog, qtbot):
    assert not dialog.keep.isEnabled()
    qtbot.keyClicks(line_of(dialog), "   ")
    assert not dialog.keep.isEnabled()


def test_enter_keeps_the_reason_that_was_typed(dialog, qtbot):
    qtbot.keyClicks(line_of(dialog), " eased in on purpose ")
    qtbot.keyClick(line_of(dialog), Qt.Key.Key_Return)
    assert dialog.result() == AcceptDialog.DialogCode.Accepted
    assert dialog.reason == "eased in on purpose"


def test_escape_drops_it(dialog, qtbot):
    qtbot.keyClicks(line_of(dialog), "eased in")
    qtbot.keyClick(line_of(dialog), Qt.Key.Key_Escape)
    assert dialog.result() == AcceptDialog.DialogCode.Rejected


def test_no_longer_reason_can_be_typed_than_a_project_keeps(dialog):
    row = {"edit": "accept", "code": "seam_length", "where": []}
    line_of(dialog).setText("x" * (LONGEST_REASON + 1))
    kept = decode_plain(row | {"reason": line_of(dialog).text()})
    assert len(kept.reason) == LONGEST_REASON
