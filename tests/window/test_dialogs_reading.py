"""A long reading leaves the window alive, tells how far it is, and can be stopped."""

from __future__ import annotations

import threading
import time

import pytest
from PySide6.QtWidgets import QPushButton, QWidget

from tests import small
from tests.window import hand
from wedgework.files import ReadOptions, read_file_bytes
from wedgework.pattern.errors import FileRefused
from wedgework.window.dialogs.reading import Stopped, read_beside


@pytest.fixture
def parent(qtbot):
    """A window that asks."""
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.show()
    return widget


def test_what_is_read_at_once_shows_no_bar(parent):
    project = small.square()
    assert read_beside(parent, "Reading", lambda _: project, ReadOptions()) is project


def test_what_goes_wrong_in_the_thread_is_raised_where_it_was_asked_for(parent):
    def read(_):
        raise FileRefused("It holds nothing.")

    with pytest.raises(FileRefused, match="nothing"):
        read_beside(parent, "Reading", read, ReadOptions())


def test_a_long_reading_can_be_stopped_and_tells_how_far_it_is(parent):
    shown = []

    def read(options):
        assert threading.current_thread() is not threading.main_thread()
        for step in range(2000):
            time.sleep(0.01)
            options.progress(min(step / 100, 0.9))
        return small.square()

    def stop(bar):
        if bar.value() <= 0:
            hand.when_asked(stop)
            return
        shown.append(bar.value())
        bar.findChild(QPushButton).click()

    hand.when_asked(stop)
    with pytest.raises(Stopped):
        read_beside(parent, "Reading", read, ReadOptions())
    assert shown
    assert shown[0] > 0


def test_reading_a_drawing_tells_its_progress_in_rising_shares(tmp_path):
    told = []
    rects = "".join(f"<rect x='{20 * i}' y='0' width='15' height='30'/>" for i in range(5))
    text = f"<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='50mm' viewBox='0 0 100 50'>{rects}</svg>"  # noqa: E501
    read_file_bytes(tmp_path / "a.svg", text.encode(), ReadOptions(progress=told.append))
    assert told == sorted(told)
    assert len(told) == 5
