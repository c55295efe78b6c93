"""Mouse and keys at places of the screen: whatever lies there gets them, as for a maker."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QLineEdit,
    QMainWindow,
    QRadioButton,
    QWidget,
)

STEPS = 8


def at_screen(place: QPoint) -> tuple[QWidget, QPoint]:
    """The widget at a place of the screen, and the place in it.

    Qt's own search ends at the border of the screen, and the one without a screen is 800 wide.
    """
    top = front()
    widget = top.childAt(top.mapFromGlobal(place)) or top
    return widget, widget.mapFromGlobal(place)


def front() -> QWidget:
    """The window in front: a menu, a dialog, or the one main window.

    Without a screen nobody makes a window active again when a dialog before it has gone.
    """
    top = QApplication.activePopupWidget() or QApplication.activeModalWidget()
    if top is None:
        mains = (one for one in QApplication.topLevelWidgets() if isinstance(one, QMainWindow))
        top = next(one for one in mains if one.isVisible())
        if not top.isActiveWindow():
            top.activateWindow()
            QTest.qWaitForWindowActive(top)
    return top


def click(place: QPoint, keys=Qt.KeyboardModifier.NoModifier) -> None:
    """Press and let go."""
    widget, at = at_screen(place)
    QTest.mouseMove(widget, at)
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton, keys, at)


def drag(start: QPoint, end: QPoint, on_the_way=None) -> None:
    """Press at one place, move to another, let go there."""
    widget, at = at_screen(start)
    to = widget.mapFromGlobal(end)
    QTest.mouseMove(widget, at)
    QTest.mousePress(widget, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)
    for step in range(1, STEPS + 1):
        QTest.mouseMove(widget, at + (to - at) * step / STEPS)
    if on_the_way is not None:
        on_the_way()
    QTest.mouseRelease(widget, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, to)


def key(*keys, held=Qt.KeyboardModifier.NoModifier) -> None:
    """Keys go to what has the focus."""
    for one in keys:
        top = front()
        widget = QApplication.focusWidget() or top
        QTest.keyClick(widget, one, held)


def type_text(text: str) -> None:
    """Letters go to what has the focus."""
    QTest.keyClicks(QApplication.focusWidget(), text)


def button_place(top: QWidget, words: str) -> QPoint:
    """The middle of the button that carries these words, on the screen.

    A button that draws its words itself tells them as its accessible name.
    """
    found = [
        one
        for one in top.findChildren(QAbstractButton)
        if one.isVisible() and words in f"{one.text().replace('&', '')}\n{one.accessibleName()}"
    ]
    assert found, f"no button says “{words}”"
    return found[0].mapToGlobal(found[0].rect().center())


def when_asked(answer, *, until=lambda: False, rounds=500, wait_ms=20) -> None:
    """Call `answer` with the dialog that comes next, however long it takes to come."""

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        if until():
            return
        if dialog is not None and dialog.isVisible():
            answer(dialog)
        elif rounds > 0:
            when_asked(answer, until=until, rounds=rounds - 1)

    QTimer.singleShot(wait_ms, look)


def name_file(path, until) -> None:
    """When a file is asked for, type its name and press Enter; other dialogs are agreed to.

    A dialog that offers formats gets that of the file. Whoever asks next is answered too: one
    dialog may open another. The list of proposals of Qt's own file dialog is left out, since its
    Enter belongs to the list, now and then for good.
    """

    def answer(dialog: QWidget) -> None:
        when_asked(answer, until=until)
        field = dialog.findChild(QLineEdit, "fileNameEdit")
        if field is None:
            for one in dialog.findChildren(QRadioButton):
                if f"({path.suffix})" in one.text():
                    click(one.mapToGlobal(QPoint(9, one.height() // 2)))
            QTest.keyClick(dialog, Qt.Key.Key_Return)
        else:
            field.setCompleter(None)
            field.selectAll()
            QTest.keyClicks(field, str(path))
            QTest.keyClick(field, Qt.Key.Key_Return)

    when_asked(answer, until=until)


def export(qtbot, path) -> Path:
    """Ask for the export by its key, choose the format, type the file's name; the file."""
    name_file(path, path.exists)
    key(Qt.Key.Key_E, held=Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(path.exists, timeout=5000)
    return path


def open_file(qtbot, window: QMainWindow, path: Path) -> None:
    """Ask for a file by its key, type its name, and wait for its pieces."""
    name_file(path, window.table.isVisible)
    key(Qt.Key.Key_O, held=Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(window.table.isVisible, timeout=5000)
    QTest.qWait(200)


def on_table(window: QMainWindow, x_mm: float, y_mm: float) -> QPoint:
    """The place of the screen over a place of the table."""
    return window.table.mapToGlobal(window.table.view.to_px((x_mm, y_mm)).toPoint())
