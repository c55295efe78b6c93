"""What the dialogs share: a heading, a form, a row of buttons, a small picture of pieces."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QVBoxLayout, QWidget

from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.document import Project
from wedgework.window.palette import LIGHT, Scheme
from wedgework.window.table.art import art_of
from wedgework.window.table.pens import pen
from wedgework.window.table.view import fitting
from wedgework.window.theme import HEADING_PX, font


class Form(QDialog):
    """A dialog with a heading on top and Keep and Cancel below."""

    def __init__(self, parent: QWidget, title: str, heading: str, keep: str = "OK") -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setModal(True)
        self.rows = QVBoxLayout(self)
        self.rows.setContentsMargins(22, 18, 22, 16)
        self.rows.setSpacing(12)
        head = QLabel(heading)
        head.setFont(font(HEADING_PX, strong=True))
        head.setWordWrap(True)
        self.rows.addWidget(head)
        self.buttons = QDialogButtonBox()
        self.keep = self.buttons.addButton(keep, QDialogButtonBox.ButtonRole.AcceptRole)
        self.buttons.addButton("Cancel", QDialogButtonBox.ButtonRole.RejectRole)
        self.keep.setDefault(True)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)

    def close_form(self) -> None:
        """Put the buttons at the end."""
        self.rows.addWidget(self.buttons)


FRAME_PX: Final = QSize(8, 40)
"""Borders and title line of a window: they lie outside of what is asked for."""


def open_at(dialog: QWidget, wide_px: int, high_px: int) -> None:
    """As large as this, and never larger than the screen: with large type it is a small one."""
    room = dialog.screen().availableSize() - FRAME_PX
    dialog.resize(QSize(wide_px, high_px).boundedTo(room))


def scheme_of(widget: QWidget) -> Scheme:
    """The scheme that the window of a widget wears."""
    theme = getattr(widget.window(), "theme", None)
    return theme.scheme if theme is not None else LIGHT


class Picture(QWidget):
    """A small picture of all pieces of a project."""

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self._project = Project()
        self.setMinimumSize(320, 240)
        self.setAccessibleName("Picture of the pieces")

    def sizeHint(self) -> QSize:
        """Room for a picture."""
        return QSize(400, 320)

    def show_project(self, project: Project) -> None:
        """Show another project."""
        self._project = project
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Every piece, as large as all of them go, with its corners."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._scheme.ground))
        pieces = list(self._project.pieces.values())
        if pieces:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            box = bounds_of_all([edge.curve for piece in pieces for edge in piece.edges])
            view = fitting(box, QRectF(self.rect()).adjusted(16, 16, -16, -16))
            painter.setTransform(view.transform)
            painter.setPen(pen(self._scheme.edge))
            painter.setBrush(QColor(self._scheme.piece))
            for piece in pieces:
                painter.drawPath(art_of(piece).outline)
            painter.resetTransform()
            painter.setBrush(QColor(self._scheme.chosen))
            painter.setPen(pen(self._scheme.panel))
            for piece in pieces:
                for edge in piece.edges:
                    painter.drawEllipse(view.to_px(edge.curve.start), 3, 3)
        painter.end()
