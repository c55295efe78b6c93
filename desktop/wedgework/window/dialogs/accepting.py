"""Accepting a finding: the maker says why it is all right, and the project keeps the reason."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QWidget

from wedgework.checks import Finding
from wedgework.window.dialogs.forms import Form, scheme_of
from wedgework.window.icons import picture
from wedgework.window.palette import Scheme
from wedgework.window.theme import SMALL_PX, font

SIGN_PX = 16
WIDTH_PX = 460
LONGEST_REASON = 1000
"""As long as a reason may be in a project."""


def ask_reason(parent: QWidget, finding: Finding) -> str | None:
    """Why a finding is all right, in the maker's words; None where the maker drops it."""
    dialog = AcceptDialog(parent, finding)
    return dialog.reason if dialog.exec() else None


class AcceptDialog(Form):
    """The finding as it was told, and a line for the reason. Nothing is accepted without one."""

    def __init__(self, parent: QWidget, finding: Finding) -> None:
        super().__init__(parent, "Accept a finding", "Why is this all right?", "Accept")
        self.setObjectName("accepting")
        self.setMinimumWidth(WIDTH_PX)
        self.rows.addLayout(_told(finding, scheme_of(parent)))
        self._line = QLineEdit()
        self._line.setMaxLength(LONGEST_REASON)
        self._line.setPlaceholderText("The reason is kept with the project")
        self._line.setAccessibleName("Reason")
        self._line.textChanged.connect(self._follow)
        self.rows.addWidget(self._line)
        self.rows.addWidget(_quiet(_lasts(finding)))
        self.close_form()
        self._follow()
        self._line.setFocus()

    @property
    def reason(self) -> str:
        """What was typed, without blanks around it."""
        return self._line.text().strip()

    def _follow(self) -> None:
        self.keep.setEnabled(bool(self.reason))


def _told(finding: Finding, scheme: Scheme) -> QHBoxLayout:
    sign, words = QLabel(), QLabel(finding.message)
    sign.setPixmap(picture(finding.grave, scheme, SIGN_PX))
    words.setWordWrap(True)
    words.setTextFormat(Qt.TextFormat.PlainText)
    row = QHBoxLayout()
    row.setSpacing(9)
    row.addWidget(sign, 0, Qt.AlignmentFlag.AlignTop)
    row.addWidget(words, 1)
    return row


def _lasts(finding: Finding) -> str:
    if finding.measured is None:
        return "It is not counted any more. Undo takes this back."
    return "It is not counted any more, until what was measured grows. Undo takes this back."


def _quiet(text: str) -> QLabel:
    label = QLabel(text)
    label.setFont(font(SMALL_PX))
    label.setWordWrap(True)
    label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
    return label
