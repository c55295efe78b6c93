"""Reading a drawing beside the window: it stays alive, shows how far the reading is, and can stop.

What is read within a moment is there at once, and nothing is shown.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Final, TypeAlias

from PySide6.QtCore import QEventLoop, Qt, QThread, Signal
from PySide6.QtWidgets import QProgressDialog, QWidget

from wedgework.files import ReadOptions
from wedgework.pattern.document import Project
from wedgework.pattern.errors import WedgeworkError

Read: TypeAlias = Callable[[ReadOptions], Project]

AT_ONCE_MS: Final = 250
"""Reading that is done in so short a time needs no bar."""

WHOLE: Final = 1000


class Stopped(Exception):
    """The maker stopped it; nothing was read."""


def read_beside(parent: QWidget, words: str, read: Read, options: ReadOptions) -> Project:
    """What `read` answers; raises what it raises, and Stopped."""
    reading = _Reading(read, options)
    reading.start()
    if not reading.wait(AT_ONCE_MS):
        _wait_with_bar(parent, words, reading)
    reading.wait()
    if isinstance(reading.answer, Project):
        return reading.answer
    raise reading.answer


class _Reading(QThread):
    """One reading; `answer` is what came of it."""

    told = Signal(int)

    def __init__(self, read: Read, options: ReadOptions) -> None:
        super().__init__()
        self._read, self._options = read, options
        self.answer: Project | Exception = Stopped()

    def run(self) -> None:
        """Read; whatever goes wrong is an answer too, and raised where it was asked for."""
        try:
            self.answer = self._read(replace(self._options, progress=self._tell))
        except (WedgeworkError, Stopped) as error:
            self.answer = error
        except Exception as error:
            self.answer = error

    def _tell(self, share: float) -> None:
        if self.isInterruptionRequested():
            raise Stopped
        self.told.emit(round(share * WHOLE))


def _wait_with_bar(parent: QWidget, words: str, reading: _Reading) -> None:
    bar = QProgressDialog(words, "Stop", 0, 0, parent)
    bar.setObjectName("reading_bar")
    bar.setWindowTitle("Reading")
    bar.setWindowModality(Qt.WindowModality.WindowModal)
    bar.setMinimumWidth(360)
    bar.setMinimumDuration(0)
    bar.setAutoReset(False)
    bar.canceled.connect(reading.requestInterruption)
    reading.told.connect(lambda share: _show(bar, share))
    loop = QEventLoop()
    reading.finished.connect(loop.quit)
    bar.show()
    if reading.isRunning():
        loop.exec()
    bar.canceled.disconnect()
    bar.close()
    bar.deleteLater()


def _show(bar: QProgressDialog, share: int) -> None:
    bar.setMaximum(WHOLE)
    bar.setValue(share)
