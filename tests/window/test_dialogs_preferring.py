from __future__ import annotations

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QComboBox, QWidget

from wedgework.window.dialogs.preferring import PreferenceDialog
from wedgework.window.preferences import Preferences, Wishes


@pytest.fixture
def dialog(qtbot):
    parent = QWidget()
    qtbot.addWidget(parent)
    made = PreferenceDialog(parent, Wishes(unit="cm", lengths=True))
    made.parent_kept = parent
    return made


def test_what_was_wished_stands_in_the_fields(dialog):
    assert dialog.wishes == Wishes(unit="cm", lengths=True)


def test_every_answer_comes_back_the_next_time(dialog, tmp_path):
    path = str(tmp_path / "kept.ini")
    for box in dialog.findChildren(QComboBox):
        for number in range(box.count()):
            box.setCurrentIndex(number)
            settings = QSettings(path, QSettings.Format.IniFormat)
            Preferences(settings).change(dialog.wishes)
            assert Preferences(settings).wishes == dialog.wishes
