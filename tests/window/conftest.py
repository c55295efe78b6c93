"""A whole window without a screen, with settings and journals of its own."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QElapsedTimer, QObject, QSettings, QTimer
from PySide6.QtWidgets import QApplication

from wedgework.window.app import make_window

SIZE = (1366, 768)
ANSWER_MS, LOOK_MS = 20_000, 250
"""How long a dialog or a menu may wait for an answer, and how often that is looked at."""


class Guard(QObject):
    """Closes what nobody answers: its loop would keep the test, and all after it, for ever."""

    def __init__(self, application):
        super().__init__(application)
        self.closed: list[str] = []
        self._waiting, self._since = None, QElapsedTimer()
        self._timer = QTimer(self, interval=LOOK_MS)
        self._timer.timeout.connect(self._look)
        self._timer.start()

    def stop(self):
        """Look no more."""
        self._timer.stop()
        self.setParent(None)

    def _look(self):
        asking = QApplication.activePopupWidget() or QApplication.activeModalWidget()
        if asking is None or asking is not self._waiting:
            self._waiting = asking
            self._since.start()
        elif self._since.elapsed() > ANSWER_MS:
            self.closed.append(f"{type(asking).__name__} “{asking.windowTitle()}”")
            asking.close()


@pytest.fixture(autouse=True)
def guard(qapp):
    """No test waits for ever for an answer to a dialog; it fails, and says which."""
    guard = Guard(qapp)
    yield guard
    guard.stop()
    assert not guard.closed, f"nobody answered {', '.join(guard.closed)}"


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
