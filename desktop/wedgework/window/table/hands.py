"""The table with a hand: Qt's events become gestures, and what the hand shows is drawn.

It decides nothing. A mutable event of Qt is copied into a frozen gesture here at the border.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final, cast

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPen, QPolygonF, QRegion

from wedgework.bench import (
    Back,
    Bench,
    Cancel,
    Change,
    Enter,
    Hand,
    Move,
    Nudge,
    Press,
    Release,
    Snapping,
    Swap,
)
from wedgework.bench.gestures import NUDGE_MM, PICK_PX
from wedgework.bench.pinning import PlacedPin, placed_pins
from wedgework.bench.readouts import Number, numbers_of_drag
from wedgework.geometry.curve import Floats
from wedgework.pattern.document import Edge, Picture, Piece, PieceId, SeamId
from wedgework.pattern.lookup import seams_of
from wedgework.window.palette import Scheme
from wedgework.window.preferences import Wishes
from wedgework.window.table.bends import PlacedBends, bent_edges, draw_bends, placed_bends
from wedgework.window.table.hot import Chosen, boxes_of, draw_hovered, sorted_out
from wedgework.window.table.laid import LaidPieces, draw_laid, laid_box, laid_pieces_of
from wedgework.window.table.look import Look
from wedgework.window.table.overlay import draw_overlay, figure_row, overlay_boxes
from wedgework.window.table.photographs import (
    draw_chosen_outline,
    draw_loupe,
    draw_marks,
    loupe_box,
    needs_loupe,
    picture_outline,
)
from wedgework.window.table.pinned import draw_pins, named_places, pin_boxes
from wedgework.window.table.readout import Readout, draw_readout, readout, readout_box
from wedgework.window.table.rulers import frame_px
from wedgework.window.table.seamwork import (
    PlacedComb,
    Tails,
    draw_comb,
    draw_handles,
    draw_tail,
    handle_box,
    placed_comb,
)
from wedgework.window.table.still import grown
from wedgework.window.table.typing import TypedNumbers
from wedgework.window.table.widget import Table

POINT_KEYS: Final[dict[int, Back | Swap]] = {Qt.Key.Key_Backspace: Back(), Qt.Key.Key_C: Swap()}
"""Keys of tools that set points, while they are at work."""
KEYPAD, SHIFT = Qt.KeyboardModifier.KeypadModifier, Qt.KeyboardModifier.ShiftModifier

SETTLE_AFTER_MS = 700
"""Arrow keys that come faster than this one after the other make one step."""

ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


class HandTable(Table):
    """The drawing area that follows the hand."""

    def __init__(self, bench: Bench, hand: Hand, wishes: Wishes, scheme: Scheme) -> None:
        self.hand = hand
        self._tails = Tails()
        self._combs: list[PlacedComb] = []
        self._bends: list[PlacedBends] = []
        self._laid: LaidPieces | None = None
        self._hovered = Chosen()
        self._numbers: tuple[Number, ...] = ()
        self._typed = TypedNumbers()
        self._pins: tuple[PlacedPin, ...] = ()
        self.give_up: Callable[[], bool] = lambda: False
        """What Escape gives up before the choice, and whether there was anything."""
        super().__init__(bench, wishes, scheme)
        self._settle = QTimer(self, singleShot=True, interval=SETTLE_AFTER_MS)
        self._settle.timeout.connect(hand.settle)
        self._tails.renew(bench.shown)
        self.dress(wishes, scheme)

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other colours, unit or wishes; snapping is one of them."""
        self.hand.snapping = Snapping() if wishes.snapping else None
        self.hand.unit = wishes.length_unit
        super().dress(wishes, scheme)

    # What is shown

    def follow(self, change: Change) -> None:
        """Show what has changed on the bench, and what hangs on it."""
        if change.kind == "opened":
            self._tails.renew(self.bench.shown)
        old = self._tails.boxes_of(self.look, change.seams)
        if change.kind in {"edited", "previewed"}:
            self._tails.renew(self.bench.shown, change.seams)
            self._take_numbers(change)
            self._take_hovered()
        for box in (*old, *self._tails.boxes_of(self.look, change.seams)):
            self.update(grown(box))
        super().follow(change)
        if change.kind in {"hint", "tool"}:
            self._follow_hint()

    def _take_numbers(self, change: Change) -> None:
        is_trying = self.bench.is_previewing
        self._numbers = (
            numbers_of_drag(self.bench.project, self.bench.shown, change) if is_trying else ()
        )

    def _follow_hint(self) -> None:
        self._take_hovered()
        if self.hand.is_idle:
            self._typed.clear()
        self.refresh_hot()

    def _take_hovered(self) -> None:
        hovered = () if self.hand.hovered is None else (self.hand.hovered,)
        self._hovered = sorted_out(self.bench.shown, hovered)

    def extra_boxes(self) -> list[QRectF]:
        """Pixels of combs, handles, the tool's trace and the numbers beside the pointer."""
        look = self.look
        self._combs = [
            comb for own in self._combed() if (comb := placed_comb(look, self.bench.shown, own))
        ]
        bent = bent_edges(self.bench, self.hand, wished=self._wishes.bends)
        self._bends = placed_bends(look, self.bench, bent)
        boxes = [comb.box for comb in self._combs]
        boxes += [comb.box for comb in self._bends]
        boxes += [handle_box(look, edge) for edge in self._handled()]
        boxes += self._laid_boxes(look)
        boxes += boxes_of(look, self._hovered)
        boxes += [trace.boundingRect() for trace in self._traces()]
        boxes += overlay_boxes(look, self.hand.overlay)
        self._pins = placed_pins(
            self.bench.shown, look.view.px_mm, named_places(look, self.bench.shown)
        )
        boxes += pin_boxes(look, self._pins)
        boxes += [QRectF(at.x() - 6, at.y() - 6, 12, 12) for at, _ in self._marks()]
        if self._has_loupe and self._pointer is not None:
            boxes.append(loupe_box(self._pointer, self.width()))
        for picture in self._chosen_pictures():
            boxes.append(picture_outline(look.view, picture).boundingRect())
        if shown := self._readout():
            boxes.append(readout_box(self, shown))
        return boxes

    def _laid_boxes(self, look: Look) -> list[QRectF]:
        self._laid = laid_pieces_of(self.bench, self.hand, wished=self._wishes.laid)
        # Pieces that are dimmed are no longer, or again, part of the still picture.
        self.update(self._still.set_hot(self._still_hot()))
        return [laid_box(look, self._laid)] if self._laid else []

    @property
    def laid_bounds(self) -> Floats | None:
        """The box of pieces that are laid together, (4,) mm; None where none are."""
        return None if self._laid is None else self._laid.bounds

    def _away(self) -> frozenset[PieceId]:
        return frozenset(() if self._laid is None else (piece.id for piece in self._laid.away))

    def _still_hot(self) -> frozenset[PieceId]:
        return super()._still_hot() | self._away()

    def _hot_pieces(self) -> list[Piece]:
        away = self._away()
        return [piece for piece in super()._hot_pieces() if piece.id not in away]

    def _combed(self) -> Iterable[SeamId]:
        """Seams whose comb is shown: chosen ones, and those of chosen edges."""
        if not self._wishes.combs or self.hand.overlay.ghosts:
            return ()
        shown = self.bench.shown
        found: dict[SeamId, None] = {}
        for own in self.bench.chosen:
            if own in shown.seams:
                found[own] = None
            elif own in shown.owners:
                found |= dict.fromkeys(seam.id for seam in seams_of(shown, own))
        return found

    def _handled(self) -> list[Edge]:
        chosen = set(self.bench.chosen)
        return [edge for edge in self._chosen.edges if edge.id in chosen]

    def _traces(self) -> list[QPolygonF]:
        """The lines of the tool's own."""
        trace = self.hand.trace
        points = (*trace.points_mm, *trace.points_mm[: int(trace.closed)])
        chains = [points, *trace.lines_mm] if points else trace.lines_mm
        return [QPolygonF([self.view.to_px(point) for point in chain]) for chain in chains]

    def _marks(self) -> list[tuple[QPointF, bool]]:
        """Places that carry a mark, and whether each is a corner."""
        trace = self.hand.trace
        marks = trace.marks
        if marks is None:
            ends = (*trace.points_mm, *(point for line in trace.lines_mm for point in line))
            marks = tuple((point, False) for point in ends)
        return [(self.view.to_px(point), is_corner) for point, is_corner in marks]

    @property
    def _has_loupe(self) -> bool:
        return needs_loupe(self.hand, self.bench.shown)

    def _chosen_pictures(self) -> list[Picture]:
        pictures = self.bench.shown.pictures
        return [pictures[own] for own in self.bench.chosen if own in pictures]

    def _readout(self) -> Readout | None:
        at = self._readout_place()
        figures = (*self.hand.trace.says, *self.hand.overlay.figures)
        said = [figure_row(self.look, one) for one in figures]
        if at is None or not (self._numbers or self._typed.text or said):
            return None
        return readout(at, self._numbers, (self.hand.tool.asks, self._typed.text), self.look, said)

    def _readout_place(self) -> QPointF | None:
        if self._pointer is not None:
            return self._pointer
        at_mm = self.hand.typed_at()
        return None if at_mm is None else self.view.to_px(at_mm)

    def draw_hot_extras(self, painter: QPainter, region: QRegion) -> None:
        """Tails, combs, handles, what the pointer would take, and the numbers beside it."""
        look = self.look
        if self._laid:
            draw_laid(painter, look, self.bench.shown, self._laid)
        for box, tail in self._tails.boxes(look):
            if region.intersects(grown(box)):
                draw_tail(painter, look, tail)
        draw_hovered(painter, look, self._hovered)
        for comb in self._combs:
            draw_comb(painter, look, comb)
        draw_bends(painter, look, self._bends)
        for edge in self._handled():
            draw_handles(painter, look, edge)
        draw_pins(painter, look, self._pins, self.bench.chosen)
        self._draw_tool(painter, look)
        if shown := self._readout():
            draw_readout(painter, self, shown)

    def _draw_tool(self, painter: QPainter, look: Look) -> None:
        """What the tool traces, and the loupe of one that aims at a photograph."""
        draw_overlay(painter, look, self.hand.overlay)
        for picture in self._chosen_pictures():
            draw_chosen_outline(painter, look, picture)
        for trace in self._traces():
            painter.setPen(QPen(self.look.pens.hot))
            painter.drawPolyline(trace)
        draw_marks(painter, look, self._marks())
        if self._has_loupe and self._pointer is not None:
            box = loupe_box(self._pointer, self.width())
            draw_loupe(painter, look, self.bench.shown, self._pointer, box)

    def centre_on(self, at_mm: Iterable[float]) -> None:
        """Bring a place to the middle, as large as things are shown now."""
        x, y = (float(value) for value in at_mm)
        middle = frame_px(self.width(), self.height()).center()
        here = self.view.to_px((x, y))
        self.pan(round(middle.x() - here.x()), round(middle.y() - here.y()))

    # Hand

    def _gesture(self, kind: type[Press | Move | Release], event: QMouseEvent) -> None:
        at, keys = event.position(), event.modifiers()
        self.hand.does(
            kind(
                at_mm=self.view.to_mm(at.x(), at.y()),
                px_mm=self.view.px_mm,
                shift=bool(keys & Qt.KeyboardModifier.ShiftModifier),
                alt=bool(keys & Qt.KeyboardModifier.AltModifier),
            )
        )

    def hand_press(self, event: QMouseEvent) -> None:
        """The left button presses; the right one lets go of what is half done, else asks."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._typed.clear()
            at, px_mm = event.position(), self.view.px_mm
            self.pressed.emit(self.view.to_mm(at.x(), at.y()), PICK_PX * px_mm)
            self._gesture(Press, event)
        elif event.button() == Qt.MouseButton.RightButton:
            if self.hand.is_idle:
                self.menu_wanted.emit(event.position().toPoint())
            else:
                self.hand.does(Cancel())

    def hand_move(self, event: QMouseEvent) -> None:
        """The pointer moves, button down or up."""
        self._gesture(Move, event)
        if self._typed.text or self._has_loupe:
            self.refresh_hot()

    def hand_release(self, event: QMouseEvent) -> None:
        """The left button is let go."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._gesture(Release, event)

    def hand_key(self, event: QKeyEvent) -> bool:
        """Enter keeps, Escape goes one step back, figures are typed for the tool."""
        key = Qt.Key(event.key())
        if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self._typed.clear()
            self.hand.does(Enter())
        elif key == Qt.Key.Key_Escape:
            self._step_back()
        elif key in ARROWS:
            self._nudge(ARROWS[key], event.modifiers())
        elif not self.hand.is_idle and self._typed.takes(event.text(), key):
            # What arrows have moved waits until its number is typed out.
            self._settle.stop()
            gesture = self._typed.gesture(self.hand.tool.types, self._wishes.length_unit)
            if gesture is not None:
                self.hand.does(gesture)
            self.refresh_hot()
        elif not self.hand.is_idle and key in POINT_KEYS:
            self.hand.does(POINT_KEYS[key])
        else:
            return False
        return True

    def event(self, event: QEvent) -> bool:
        """A key that a tool at work waits for is no shortcut of the window's."""
        if event.type() == QEvent.Type.ShortcutOverride and not self.hand.is_idle:
            pressed = cast("QKeyEvent", event)
            bare = not pressed.modifiers() & ~(KEYPAD | SHIFT)
            if bare and (
                pressed.key() in POINT_KEYS or self._typed.wants(pressed.text(), pressed.key())
            ):
                event.accept()
                return True
        return super().event(event)

    def _nudge(self, way: tuple[float, float], keys: Qt.KeyboardModifier) -> None:
        """A step; with Shift ten times, with Alt a tenth of it."""
        size = NUDGE_MM
        if keys & SHIFT:
            size = 10 * NUDGE_MM
        elif keys & Qt.KeyboardModifier.AltModifier:
            size = NUDGE_MM / 10
        self._settle.start()
        self.hand.does(Nudge((way[0] * size, way[1] * size)))

    def _step_back(self) -> None:
        """First what is typed, then the drag, the tool, what the window has open, the choice."""
        if self._typed.text:
            self._typed.clear()
            self.refresh_hot()
        elif not self.hand.is_idle:
            self.hand.does(Cancel())
        elif self.hand.tool.name != "choose":
            self.hand.take("choose")
        elif not self.give_up():
            self.bench.choose(())

    def hand_cancel(self) -> None:
        """Lost focus drops what is in hand, but for a question that the tool has asked itself.

        What arrow keys have moved is kept.
        """
        self.hand.settle()
        if not self.hand.is_idle and self.hand.asked is None:
            self.hand.does(Cancel())
