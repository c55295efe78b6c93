"""No test waits for ever: what asks and gets no answer is closed and named."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QDialog, QMenu

from tests.window import conftest


@pytest.fixture
def hasty(qapp, monkeypatch):
    """A guard of the test's own that does not wait long."""
    monkeypatch.setattr(conftest, "ANSWER_MS", 30)
    monkeypatch.setattr(conftest, "LOOK_MS", 10)
    guard = conftest.Guard(qapp)
    yield guard
    guard.stop()


def test_a_dialog_that_nobody_answers_is_closed_and_named(hasty):
    dialog = QDialog()
    dialog.setWindowTitle("Fish or fowl")
    assert dialog.exec() == QDialog.DialogCode.Rejected
    assert hasty.closed == ["QDialog “Fish or fowl”"]


def test_one_dialog_over_another_closes_one_after_the_other(hasty):
    lower, upper = QDialog(), QDialog()
    lower.setModal(True)
    lower.show()
    upper.exec()
    assert lower.isVisible()
    lower.exec()
    assert len(hasty.closed) == 2


def test_a_menu_that_nobody_chooses_from_is_closed(hasty):
    menu = QMenu()
    menu.addAction("Pike")
    assert menu.exec() is None
    assert len(hasty.closed) == 1
