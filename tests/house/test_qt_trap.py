"""A fault of one Qt binding that kills the window after some thousand calls."""

from __future__ import annotations

import sys

from PySide6.QtGui import QPainterPath

CALLS = 1000


def test_qt_methods_that_return_nothing_take_no_reference_to_none():
    # PySide6-Essentials 6.12.0 on Python 3.11 lost one a call and died of it. While this holds
    # with a newer one, the pin in pyproject.toml may move.
    path = QPainterPath()
    before = sys.getrefcount(None)
    for _ in range(CALLS):
        path.cubicTo(0, 0, 1, 1, 2, 2)
    assert abs(sys.getrefcount(None) - before) < 50
