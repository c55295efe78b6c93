"""The door of the window: one application, one window, one bench."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QSettings, QStandardPaths
from PySide6.QtWidgets import QApplication

from wedgework.bench import Bench
from wedgework.window.icons import icon
from wedgework.window.main import MainWindow
from wedgework.window.palette import LIGHT
from wedgework.window.preferences import Preferences
from wedgework.window.theme import Theme


def run(path: Path | None = None) -> int:
    """Open the window, with a file if one is given, and stay until it is closed."""
    application = QApplication(sys.argv[:1])
    application.setApplicationName("wedgework")
    application.setApplicationDisplayName("Wedgework")
    application.setDesktopFileName("wedgework")
    application.setWindowIcon(icon("wedgework", LIGHT))
    settings = QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope,
                         "wedgework", "wedgework")  # fmt: skip
    window = make_window(application, settings, state_folder())
    window.show()
    window.filing.start(path)
    return application.exec()


def make_window(application: QApplication, settings: QSettings, state: Path) -> MainWindow:
    """The window with all that it needs; tests make theirs here too."""
    preferences = Preferences(settings)
    theme = Theme(application, preferences.wishes.colours)
    return MainWindow(Bench(state_folder=state), theme, preferences, state)


def state_folder() -> Path:
    """Where journals of unsaved work lie."""
    kind = QStandardPaths.StandardLocation.AppLocalDataLocation
    return Path(QStandardPaths.writableLocation(kind)) / "journals"
