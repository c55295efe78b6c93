"""A whole window without a screen, with settings and journals of its own."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from wedgework.window.app import make_window

SIZE = (1366, 768)


@pytest.fixture
def make(qtbot, tmp_path):
    """Make a window that is shown; a later one of the same test finds what the first left."""
    made = []

    def one(colours="light"):
        settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
        settings.setValue("wishes/colours", colours)
        window = make_window(QApplication.instance(), settings, tmp_path / "journals")
        window.resize(*SIZE)
        window.show()
        window.filing.start(None)
        window.activateWindow()
        qtbot.waitUntil(lambda: QApplication.activeWindow() is window)
        made.append(window)
        return window

    yield one
    for window in made:
        window.bench.close()
        window.hide()
        window.deleteLater()


@pytest.fixture
def window(make):
    """One window on its first page."""
    return make()
