"""The table with a hand: Qt's events become gestures, and what the hand shows is drawn.

It decides nothing. A mutable event of Qt is copied into a frozen gesture here at the border.
"""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QLineEdit

from wedgework.bench import (
    Bench,
    Cancel,
    Change,
    Enter,
    Hand,
    Move,
    Press,
    Release,
    Snapping,
    Typed,
)
from wedgework.bench.readouts import Comb, Tail, comb_of, numbers_of_drag, tail_of
from wedgework.pattern.document import SeamId
from wedgework.pattern.errors import WedgeworkError
from wedgework.units import NotUnderstood, parse_length_mm, parse_number
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.table import live
from wedgework.window.table.rulers import frame_px
from wedgework.window.table.widget import Table

TYPED_PX = 170


class HandTable(Table):
    """The drawing area that follows the hand."""

    def __init__(self, bench: Bench, hand: Hand, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__(bench, wishes, scheme)
        self.hand = hand
        self._tails: dict[SeamId, Tail] = {}
        self._comb: Comb | None = None
        self._rows: list[tuple[str, str]] = []
        self._at = QPointF()
        self._typed = QLineEdit(self)
        self._typed.setFixedWidth(TYPED_PX)
        self._typed.hide()
        self._typed.returnPressed.connect(self._take_typed)
        self.dress(wishes, scheme)

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other colours, unit or wishes; snapping is one of them."""
        if hasattr(self, "hand"):
            self.hand.snapping = Snapping() if wishes.snapping else None
        super().dress(wishes, scheme)

    # Following the bench

    def follow(self, change: Change) -> None:
        """Measure again what changed, then show it."""
        if change.kind == "opened":
            self._tails = {}
            self._measure_tails(self.bench.shown.seams)
        elif change.kind in {"edited", "previewed"}:
            self._measure_tails(change.seams)
        self._measure_comb(change)
        self._rows = self._numbers(change)
        super().follow(change)
        if change.kind in {"hint", "tool"}:
            self._redraw_hand()

    def _redraw_hand(self) -> None:
        old = self._hot_region
        self._hot_region = self._region_now()
        self.update(old + self._hot_region)

    def _measure_tails(self, seams: Iterable[SeamId]) -> None:
        shown = self.bench.shown
        for own in seams:
            tail = None
            if own in shown.seams:
                try:
                    tail = tail_of(shown, shown.seams[own])
                except WedgeworkError:
                    tail = None
            if tail is None:
                self._tails.pop(own, None)
            else:
                self._tails[own] = tail

    def _measure_comb(self, change: Change) -> None:
        """The comb of the one seam that is chosen, by itself or by an edge of it."""
        if change.kind in {"hint", "tool", "step", "saved", "findings"}:
            return
        shown = self.bench.shown
        chosen = [own for own in self.bench.chosen if own in shown.seams]
        try:
            self._comb = comb_of(shown, shown.seams[chosen[0]]) if len(chosen) == 1 else None
        except WedgeworkError:
            self._comb = None

    def _numbers(self, change: Change) -> list[tuple[str, str]]:
        if change.kind in {"hint", "tool"}:
            return self._rows
        if change.kind != "previewed" or not self.bench.is_previewing:
            return []
        numbers = numbers_of_drag(self.bench.project, self.bench.shown, change)
        return live.number_lines(self.look, numbers)

    def centre_on(self, at_mm: Iterable[float]) -> None:
        """Bring a place to the middle, as large as things are shown now."""
        x, y = (float(value) for value in at_mm)
        middle = frame_px(self.width(), self.height()).center()
        here = self.view.to_px((x, y))
        self.pan(round(middle.x() - here.x()), round(middle.y() - here.y()))

    # Drawing

    def extra_boxes(self) -> list[QRectF]:
        """Pixels that tails, combs, traces and numbers cover."""
        look = self.look
        boxes = [live.tail_box(look, tail) for tail in self._tails.values()]
        if self._shows_comb() and self._comb is not None:
            boxes.append(live.comb_box(look, self._comb))
        if self.hand.trace.points_mm:
            boxes.append(live.trace_box(look, self.hand.trace.points_mm))
        if self._rows:
            boxes.append(self._numbers_box())
        return boxes

    def draw_hot_extras(self, painter: QPainter) -> None:
        """Tails, the comb, the trace of the tool and the numbers of the drag."""
        look, frame = self.look, QRectF(self.rect())
        for tail in self._tails.values():
            if live.tail_box(look, tail).intersects(frame):
                live.draw_tail(painter, look, tail)
        if self._shows_comb() and self._comb is not None:
            live.draw_comb(painter, look, self._comb)
        trace = self.hand.trace
        live.draw_trace(painter, look, trace.points_mm, closed=trace.closed)
        if self._rows:
            live.draw_numbers(painter, look, self._numbers_box(), self._rows)

    def _shows_comb(self) -> bool:
        return self.look.wishes.combs

    def _numbers_box(self) -> QRectF:
        inside = frame_px(self.width(), self.height())
        return live.numbers_box(self._at, self._rows, inside)

    # The hand

    def hand_press(self, event: QMouseEvent) -> None:
        """The left button presses; the right one lets go of what is half done."""
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        if event.button() == Qt.MouseButton.LeftButton:
            self._at = event.position()
            self.hand.does(Press(**self._pointer_of(event)))
        elif event.button() == Qt.MouseButton.RightButton:
            self.hand.does(Cancel())

    def hand_move(self, event: QMouseEvent) -> None:
        """Every move is told, with the button down or up."""
        self._at = event.position()
        self.hand.does(Move(**self._pointer_of(event)))

    def hand_release(self, event: QMouseEvent) -> None:
        """The left button goes up."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.hand.does(Release(**self._pointer_of(event)))

    def _pointer_of(self, event: QMouseEvent) -> dict[str, object]:
        at, held = event.position(), event.modifiers()
        return {
            "at_mm": self.view.to_mm(at.x(), at.y()),
            "px_mm": self.view.px_mm,
            "shift": bool(held & Qt.KeyboardModifier.ShiftModifier),
            "alt": bool(held & Qt.KeyboardModifier.AltModifier),
        }

    def hand_key(self, event: QKeyEvent) -> bool:
        """Escape goes back, Enter keeps, figures open the field for numbers."""
        key, text = Qt.Key(event.key()), event.text()
        if key == Qt.Key.Key_Escape:
            self.hand.does(Cancel())
            return True
        if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.hand.does(Enter())
            return True
        if text and (text.isdigit() or text in "-.(") and not self.hand.is_idle:
            self._open_typed(text)
            return True
        return False

    def hand_cancel(self) -> None:
        """Focus went elsewhere: to the field for numbers is no reason to let go."""
        if not self._typed.hasFocus():
            self.hand.does(Cancel())

    def _open_typed(self, text: str) -> None:
        self._typed.setPlaceholderText(self.hand.tool.types)
        self._typed.setText(text)
        self._typed.move(int(self._at.x()) + 20, int(self._at.y()) + 14)
        self._typed.show()
        self._typed.setFocus(Qt.FocusReason.OtherFocusReason)
        self._typed.setCursorPosition(len(text))

    def _take_typed(self) -> None:
        """Numbers in place of the pointer; then the edit is kept."""
        try:
            numbers = tuple(self._read(part) for part in self._typed.text().split(";"))
        except NotUnderstood as error:
            self._typed.setToolTip(error.sentence)
            self._typed.selectAll()
            return
        self._close_typed()
        self.hand.does(Typed(numbers))
        self.hand.does(Enter())

    def _read(self, text: str) -> float:
        if self.hand.tool.types == "deg":
            return parse_number(text)
        return parse_length_mm(text, self.look.wishes.length_unit)

    def _close_typed(self) -> None:
        self._typed.hide()
        self.setFocus(Qt.FocusReason.OtherFocusReason)
