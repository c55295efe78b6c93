"""The strip of steps: where the job stands, what is left in each step, and the step's tools."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from PySide6.QtCore import QPoint, QPointF, QRectF, QSize, Qt, Signal, SignalInstance
from PySide6.QtGui import QColor, QIcon, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QButtonGroup,
    QHBoxLayout,
    QLineEdit,
    QMenu,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from wedgework.bench import STEPS, StepName
from wedgework.bench.watch import Left
from wedgework.glossary import meaning_of
from wedgework.window.icons import has_icon, icon
from wedgework.window.palette import Scheme
from wedgework.window.tabbing import tab_through
from wedgework.window.theme import SMALL_PX, TEXT_PX, font

STEP_HEIGHT_PX = 34
SIDE_PX = 14
BADGE_PX = 18
FIND_PX = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolWord:
    """A tool as the strip shows it."""

    name: str
    words: str
    tip: str
    shows: str = ""
    is_chosen: bool = False


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class SubjectWord:
    """A subject as the strip shows it: a word that opens a list."""

    name: str
    tip: str
    list: QMenu


Tips: TypeAlias = Callable[[QWidget, str], None]
"""Looks after the tool tip of a button that shows an edit."""


class StepButton(QAbstractButton):
    """One step: its word, and a badge with the number of findings that are left in it."""

    def __init__(self, step: StepName, scheme: Scheme) -> None:
        super().__init__()
        self.step, self.left, self.scheme = step, Left(), scheme
        self.setText(step)
        self.setCheckable(True)
        self.setToolTip(f"<b>{step}</b>&nbsp; Alt+{STEPS.index(step) + 1}<br>"
                        f"{meaning_of('step', step)}")  # fmt: skip
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(step)

    def show_left(self, left: Left) -> None:
        """Show how many findings are left."""
        if left != self.left:
            self.left = left
            self.setAccessibleDescription(f"{left.count} to see" if left.count else "")
            self.updateGeometry()
            self.update()

    def sizeHint(self) -> QSize:
        """The word in its strong weight, so that nothing moves when it is chosen."""
        self.setFont(font(TEXT_PX, strong=True))
        width = self.fontMetrics().horizontalAdvance(self.text())
        badge = BADGE_PX + 6 if self.left.count else 0
        return QSize(width + 2 * SIDE_PX + badge, STEP_HEIGHT_PX)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The word, the badge, and a line under the step that is at hand."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scheme, on = self.scheme, self.isChecked()
        if self.underMouse() and not on:
            painter.fillRect(self.rect(), QColor(scheme.ground))
        painter.setFont(font(TEXT_PX, strong=on))
        painter.setPen(QColor(scheme.ink if on else scheme.quiet))
        word = QRectF(SIDE_PX, 0, self.width(), self.height() - 2)
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(word, flags, self.text())
        if on:
            painter.fillRect(QRectF(SIDE_PX - 4, self.height() - 3, self.width() - 2 * SIDE_PX + 8,
                                    3), QColor(scheme.chosen))  # fmt: skip
        if self.hasFocus():
            painter.setPen(QPen(QColor(scheme.chosen), 1))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(3.5, 4.5, -3.5, -5.5), 3, 3)
        if self.left.count:
            self._draw_badge(painter)
        painter.end()

    def _draw_badge(self, painter: QPainter) -> None:
        """The count; in a ring with a bar under it where something stops cutting."""
        scheme = self.scheme
        colour = QColor(scheme.stop if self.left.stops else scheme.quiet)
        centre = QPointF(self.width() - SIDE_PX - BADGE_PX / 2 + 2, self.height() / 2 - 1)
        painter.setPen(QPen(colour, 1.4 if self.left.stops else 1.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(centre, BADGE_PX / 2, BADGE_PX / 2)
        if self.left.stops:
            y = centre.y() + BADGE_PX / 2 - 4
            painter.drawLine(QPointF(centre.x() - 4, y), QPointF(centre.x() + 4, y))
        painter.setFont(font(SMALL_PX - 1, strong=self.left.stops))
        up = 1.5 if self.left.stops else 0.0
        box = QRectF(centre.x() - 10, centre.y() - 10 - up, 20, 20)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(self.left.count))


class Strip(QWidget):
    """Both rows: the steps with the state of the whole, and the tools of the step at hand."""

    step_chosen = Signal(str)
    tool_chosen = Signal(str)
    state_pressed = Signal()

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self.steps = {step: StepButton(step, scheme) for step in STEPS}
        self.state = QToolButton()
        self.state.setAutoRaise(True)
        self.state.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.state.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.state.clicked.connect(self.state_pressed)
        self._tools = QHBoxLayout()
        self._subjects: list[QToolButton] = []
        self._more: QToolButton | None = None
        self.search = QLineEdit()
        self._lay_out()

    def _lay_out(self) -> None:
        upper = self._upper = QHBoxLayout()
        upper.setContentsMargins(6, 0, 10, 0)
        upper.setSpacing(0)
        group = QButtonGroup(self)
        for step, button in self.steps.items():
            upper.addWidget(button)
            group.addButton(button)
            button.clicked.connect(_telling(self.step_chosen, step))
        upper.addStretch(1)
        self.search.setFixedWidth(FIND_PX)
        upper.addWidget(self.search)
        upper.addSpacing(SIDE_PX)
        upper.addWidget(self.state)
        self._tools.setContentsMargins(12, 3, 10, 4)
        self._tools.setSpacing(2)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addLayout(upper)
        rows.addLayout(self._tools)

    def dress(self, scheme: Scheme) -> None:
        """Other colours."""
        self._scheme = scheme
        for button in self.steps.values():
            button.scheme = scheme
            button.update()

    def show_step(self, step: StepName) -> None:
        """Mark the step that is at hand."""
        self.steps[step].setChecked(True)

    def show_left(self, left: Mapping[StepName, Left], *, has_pieces: bool) -> None:
        """Show what is left in each step, and whether the whole may be cut."""
        for step, button in self.steps.items():
            button.show_left(left.get(step, Left()))
        stops = sum(one.count for one in left.values() if one.stops)
        to_see = sum(one.count for one in left.values())
        is_ready = not stops
        picture = "agrees" if is_ready else "stops_cutting"
        words = "ready to cut" if is_ready else "not ready to cut"
        if not has_pieces:
            words = "no piece to cut yet"
        rest = f": {to_see} to see" if to_see else ""
        self.state.setIcon(icon(picture, self._scheme) if has_pieces else QIcon())
        self.state.setText(f"{words}{rest}")
        self.state.setToolTip("Show the findings")

    def show_tools(
        self, tools: Sequence[ToolWord], subjects: Sequence[SubjectWord], tips: Tips
    ) -> None:
        """Show the tools of the step, and after them the subjects of its further commands."""
        while (item := self._tools.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for tool in tools:
            button = self._tool_button(tool)
            tips(button, tool.shows)
            self._tools.addWidget(button)
        self._subjects = [self._subject_button(one) for one in subjects]
        self._more = self._more_button()
        if subjects:
            self._tools.addSpacing(SIDE_PX)
            self._tools.addWidget(_Line(self._scheme))
        for button in (*self._subjects, self._more):
            self._tools.addWidget(button)
        self._tools.addStretch(1)
        tab_through(self)
        self._fit()

    def _tool_button(self, tool: ToolWord) -> QToolButton:
        button = QToolButton()
        button.setObjectName(f"tool_{tool.name}")
        button.setText(tool.words)
        button.setToolTip(tool.tip)
        button.setCheckable(True)
        button.setChecked(tool.is_chosen)
        button.setAutoRaise(True)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        if has_icon(tool.name):
            button.setIcon(icon(tool.name, self._scheme))
        button.clicked.connect(_telling(self.tool_chosen, tool.name))
        return button

    def _subject_button(self, subject: SubjectWord) -> QToolButton:
        """A word that opens the list of its commands."""
        button = QToolButton()
        button.setObjectName(f"subject_{subject.name}")
        button.setText(f"{subject.name} ▾")
        button.setToolTip(subject.tip)
        button.setAccessibleName(subject.name)
        button.setProperty("quiet", True)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setAutoRaise(True)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.setMenu(subject.list)
        return button

    def _more_button(self) -> QToolButton:
        """One word for the subjects that a row is too narrow for."""
        return self._subject_button(SubjectWord(name="More", tip="Further commands, by subject",
                                                list=QMenu(self)))  # fmt: skip

    def place_of(self, subject: str) -> QPoint | None:
        """Where the list of a subject opens, on the screen; None where no word leads to it."""
        button = next((one for one in self._subjects
                       if one.objectName() == f"subject_{subject}"), None)  # fmt: skip
        if button is not None and button.isHidden():
            button = self._more
        if button is None or not button.isVisible():
            return None
        return button.mapToGlobal(QPoint(0, button.height()))

    def _fit(self) -> None:
        """Show as many subjects as there is room for, and one word for those after them."""
        if self._more is None:
            return
        shown = len(self._subjects)
        while shown and self._wide_px(shown) > self.width():
            shown -= 1
        self._more.menu().clear()
        for place, button in enumerate(self._subjects):
            button.setVisible(place < shown)
            if place >= shown:
                self._more.menu().addMenu(button.menu())
        self._more.setVisible(shown < len(self._subjects))

    def _wide_px(self, shown: int) -> int:
        """How wide the row is with so many subjects in it."""
        is_whole = shown == len(self._subjects)
        left_out = {*self._subjects[shown:], *((self._more,) if is_whole else ())}
        items = (self._tools.itemAt(index) for index in range(self._tools.count()))
        widgets = [item.widget() for item in items if item is not None]
        counted = [one for one in widgets if one is not None and one not in left_out]
        wide = [max(one.sizeHint().width(), one.minimumWidth()) for one in counted]
        rims = self._tools.contentsMargins()
        # One gap more stands before the line between tools and subjects.
        bare = rims.left() + rims.right() + SIDE_PX
        return sum(wide) + self._tools.spacing() * (len(wide) - 1) + bare

    def minimumSizeHint(self) -> QSize:
        """Wide enough for the steps and the tools; subjects make way, so they do not count."""
        upper = self._upper.minimumSize().width()
        return QSize(max(upper, self._wide_px(0)), super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width."""
        super().resizeEvent(event)
        self._fit()


class _Line(QWidget):
    """The hair line between tools and subjects."""

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._scheme = scheme
        self.setFixedWidth(SIDE_PX)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """One line."""
        painter = QPainter(self)
        painter.fillRect(QRectF(0, 5, 1, self.height() - 10), QColor(self._scheme.hair))
        painter.end()


def _telling(signal: SignalInstance, word: str) -> Callable[[], None]:
    def tell() -> None:
        signal.emit(word)

    return tell
