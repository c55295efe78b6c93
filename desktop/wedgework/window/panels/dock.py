"""A panel that can be dragged, folded to its title line, and comes back as it was."""

from __future__ import annotations

from PySide6.QtCore import QSettings, QSize, Qt, QTimer
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import (
    QDockWidget,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from wedgework.window.icons import icon
from wedgework.window.palette import Scheme
from wedgework.window.theme import SMALL_PX, TEXT_PX, font

TITLE_PX = 28
LEAST_PX = 120
"""An unfolded panel is at least so high."""

MOST_PX = 16777215
"""Qt's own greatest size of a widget."""


class Title(QWidget):
    """The title line: the panel's word, a summary, and the button that folds it."""

    def __init__(self, word: str, scheme: Scheme) -> None:
        super().__init__()
        self.setFixedHeight(TITLE_PX)
        self.word = QLabel(word)
        self.word.setFont(font(TEXT_PX, strong=True))
        self.summary = QLabel()
        self.summary.setFont(font(SMALL_PX))
        self.button = QToolButton()
        self.button.setAutoRaise(True)
        self.button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 0, 4, 0)
        row.setSpacing(10)
        row.addWidget(self.word)
        row.addWidget(self.summary, 1)
        row.addWidget(self.button)
        self.dress(scheme, folded=False)

    def dress(self, scheme: Scheme, *, folded: bool) -> None:
        """Colours, and which way the button points."""
        self.summary.setStyleSheet(f"color: {scheme.quiet};")
        self.button.setIcon(icon("unfold" if folded else "fold", scheme))
        self.button.setToolTip("Unfold" if folded else "Fold to one line")
        self.button.setAccessibleName(f"{'Unfold' if folded else 'Fold'} {self.word.text()}")


class Panel(QDockWidget):
    """A dock with our title line. Folded, it keeps its place and shows that line alone."""

    def __init__(self, word: str, inside: QWidget, scheme: Scheme) -> None:
        super().__init__(word)
        self.setObjectName(f"panel_{word.lower().replace(' ', '_')}")
        self.setFeatures(
            QDockWidget.DockWidgetFeature.DockWidgetMovable
            | QDockWidget.DockWidgetFeature.DockWidgetFloatable
            | QDockWidget.DockWidgetFeature.DockWidgetClosable
        )
        self._scheme = scheme
        self.size_before = QSize(0, LEAST_PX)
        self.is_folded = False
        self.title = Title(word, scheme)
        self.setTitleBarWidget(self.title)
        self._body = inside
        self.setWidget(_held(inside))
        self.title.button.clicked.connect(self.swap_fold)

    def dress(self, scheme: Scheme) -> None:
        """Other colours."""
        self._scheme = scheme
        self.title.dress(scheme, folded=self.is_folded)

    def say(self, summary: str) -> None:
        """The summary in the title line; all that is seen of a folded panel."""
        self.title.summary.setText(summary)

    def swap_fold(self) -> None:
        """Fold, or unfold."""
        self.fold(not self.is_folded)

    def fold(self, folded: bool) -> None:  # noqa: FBT001 - reads as panel.fold(True) in one place
        """Fold to the title line, or back to the size before.

        Panels that stand beside each other fold together: one alone would leave its row as high
        as the other needs.
        """
        if folded == self.is_folded:
            return
        row = [self, *self._beside()]
        for panel in row:
            panel.fold_alone(folded=folded)
        if not folded:
            # Qt lays out by the sizes that it knows; the new limits reach it a moment later.
            QTimer.singleShot(0, self, lambda: _restore(row))

    def _beside(self) -> list[Panel]:
        """The panels of the same row."""
        window = self.parentWidget()
        if not isinstance(window, QMainWindow) or self.isFloating():
            return []
        area = window.dockWidgetArea(self)
        return [
            one
            for one in window.findChildren(Panel)
            if one is not self
            and one.isVisible()
            and not one.isFloating()
            and one.is_folded == self.is_folded
            and window.dockWidgetArea(one) == area
            and one.y() == self.y()
        ]

    def fold_alone(self, *, folded: bool) -> None:
        """Fold or unfold this panel, whatever stands beside it."""
        self.is_folded = folded
        if folded:
            self.size_before = self.size()
        self._body.setVisible(not folded)
        self.setMaximumHeight(TITLE_PX if folded else MOST_PX)
        self.setMinimumHeight(0)
        self.title.dress(self._scheme, folded=folded)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """A double click on the title folds as well."""
        if event.position().y() <= TITLE_PX:
            self.swap_fold()

    def keep(self, settings: QSettings) -> None:
        """Remember whether it is folded."""
        settings.setValue(f"folded/{self.objectName()}", self.is_folded)

    def come_back(self, settings: QSettings) -> None:
        """Be as it was."""
        self.fold(bool(settings.value(f"folded/{self.objectName()}", False, bool)))


def _held(inside: QWidget) -> QWidget:
    """A body in a frame that stays.

    A panel whose body is hidden would shrink to its title's words, and its button would jump away.
    """
    frame = QWidget()
    column = QVBoxLayout(frame)
    column.setContentsMargins(0, 0, 0, 0)
    column.addWidget(inside)
    return frame


def _restore(row: list[Panel]) -> None:
    """Give a row of panels the sizes back that it had before it was folded."""
    window = row[0].parentWidget()
    if isinstance(window, QMainWindow):
        heights = [max(panel.size_before.height(), LEAST_PX) for panel in row]
        window.resizeDocks(list(row), heights, Qt.Orientation.Vertical)
        if all(panel.size_before.width() for panel in row):
            widths = [panel.size_before.width() for panel in row]
            window.resizeDocks(list(row), widths, Qt.Orientation.Horizontal)
