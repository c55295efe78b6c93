"""Tool tips with a picture: words and key, what it does, and its example before and after.

A picture is drawn when its tip is first wanted, so that a step with many tools opens at once.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QAction, QHelpEvent
from PySide6.QtWidgets import QMenu, QToolTip, QWidget

from wedgework.window.palette import Scheme
from wedgework.window.pictures.example import example_html

SHOWS = "shows"
"""The property that names the edit whose example belongs into the tip."""


class PictureTips(QObject):
    """Puts the picture into tips of widgets, and of entries of menus, that name an edit."""

    def __init__(self, parent: QObject, scheme: Scheme) -> None:
        super().__init__(parent)
        self.scheme = scheme

    def watch(self, widget: QWidget, shows: str = "") -> None:
        """Look after the tips of a widget; `shows` is the edit of its own picture."""
        if shows:
            widget.setProperty(SHOWS, shows)
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Show the tip in our own way."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            source: QObject | None = watched
            if isinstance(watched, QMenu):
                source = watched.actionAt(event.pos())
            html = self.html_of(source)
            if html and isinstance(watched, QWidget):
                QToolTip.showText(event.globalPos(), html, watched)
                return True
        return super().eventFilter(watched, event)

    def html_of(self, source: QObject | None) -> str:
        """The tip with its picture."""
        if not isinstance(source, QAction | QWidget):
            return ""
        return source.toolTip() + example_html(str(source.property(SHOWS) or ""), self.scheme)
